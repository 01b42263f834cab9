// What there is to say to a group before its first set, in print that is read at arm's length.

import { blockLines, exerciseTitle, insteadTitle, muscleRows } from "./briefing_words.js";
import { el } from "./dom.js";
import { facts, head, lines, openSheet, part } from "./sheet.js";

function draw(words, sheet) {
  const say = (id, places) => words.message(`label.sheet_${id}`, places);
  document.title = `${say("briefing")} ${sheet.group}`;
  const node = el("main", "sheet sheet-large");
  node.append(head(sheet.clients.join(", "), `${sheet.floor} \u00b7 ${say("briefing")}`));
  if (sheet.blocks.length === 0) node.append(el("p", "sheet-only", say("session_over")));
  for (const block of sheet.blocks) {
    const said = blockLines(words, block).map((text) => el("p", "", text));
    node.append(part(say("block", { n: String(block.n), of: String(block.of) }), ...said));
    node.append(...block.exercises.map((exercise) => exercisePart(words, exercise, exerciseTitle(words, exercise))));
    node.append(...(block.instead ?? []).map((other) => exercisePart(words, other.exercise, insteadTitle(words, other))));
  }
  node.append(el("p", "sheet-only", words.message("label.caution")), el("p", "", say("care_rules")));
  return [node];
}

function exercisePart(words, exercise, title) {
  const say = (id) => words.message(`label.sheet_${id}`);
  const node = el("section", "sheet-exercise");
  node.append(el("h3", "", title));
  const add = (id, content) => node.append(el("h4", "", say(id)), content);
  const own = (texts) => texts.map((text) => words.own(text));
  const muscles = muscleRows(words, exercise);
  if (muscles.length > 0) add("muscles", facts(muscles, true));
  if (exercise.set_up.length > 0) add("set_up", lines(own(exercise.set_up), true));
  add("breathing", el("p", "", words.own(exercise.breathing)));
  if (exercise.cautions.length > 0) add("cautions", lines(own(exercise.cautions)));
  return node;
}

await openSheet({
  path: (asked) => `groups/${encodeURIComponent(asked.get("group") ?? "")}/briefing`,
  none: "label.sheet_no_group",
  draw,
});
