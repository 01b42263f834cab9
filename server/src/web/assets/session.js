// What is left of a group's session on paper, to go on with where no display works.

import { el } from "./dom.js";
import { blockText, exerciseText, paperCells, paperTitles, settingsText } from "./session_words.js";
import { facts, head, lines, openSheet, part, table } from "./sheet.js";
import { writtenText } from "./text.js";

/** What holds on paper as it does on every display. */
const CARE = ["sheet_care_collars", "sheet_care_sides", "sheet_care_spotter", "sheet_care_rest", "caution", "sheet_care_rules"];

function draw(words, sheet) {
  const say = (id, places) => words.message(`label.sheet_${id}`, places);
  const title = say("session");
  document.title = `${title} ${sheet.group}`;
  const node = el("main", "sheet sheet-session");
  node.append(head(sheet.clients.join(", "), `${sheet.floor} \u00b7 ${title}`), sessionFacts(words, sheet));
  node.append(part(say("care"), lines(CARE.map((id) => words.message(`label.${id}`)))));
  if (sheet.blocks.length === 0) node.append(el("p", "sheet-only", say("session_over")));
  for (const block of sheet.blocks) {
    const content = [el("p", "", blockText(words, block)), lines(block.exercises.map((one) => exerciseText(words, one)), true)];
    node.append(part(say("block", { n: String(block.n), of: String(block.of) }), ...content));
    node.append(...block.clients.map((client) => clientPart(words, client, block.exercises)));
  }
  return [node];
}

function sessionFacts(words, { coach, starts, as_of: asOf, emergency }) {
  const written = (at) => (at ? writtenText(document.documentElement.lang, at) : "");
  return facts([
    [words.message("label.sheet_coach"), coach],
    [words.message("label.sheet_starts"), written(starts)],
    [words.message("label.sheet_as_of"), written(asOf)],
    [words.message("label.emergency"), [emergency.number, emergency.address].filter(Boolean).join(" \u00b7 ")],
    [words.message("label.defibrillator"), emergency.defibrillator],
    [words.message("label.first_aid"), emergency.first_aid],
  ]);
}

function clientPart(words, { name, settings, sets }, usual) {
  const node = el("section", "sheet-client");
  node.append(el("h3", "", name));
  if (settings.length > 0) {
    const set = settings.map(settingsText).join("; ");
    node.append(el("p", "", `${words.message("label.sheet_settings")}: ${set}`));
  }
  node.append(table(paperTitles(words), sets.map((set) => paperCells(words, set, usual)), "sheet-table sheet-boxes"));
  return node;
}

await openSheet({
  path: (asked) => `groups/${encodeURIComponent(asked.get("group") ?? "")}/session`,
  none: "label.sheet_no_group",
  draw,
});
