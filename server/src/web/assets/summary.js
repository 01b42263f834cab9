// What the clients of a group have done this evening: one sheet of paper each, for the client or for the coach.

import { el } from "./dom.js";
import { barLink, facts, head, lines, openSheet, part, table } from "./sheet.js";
import { nextWords, setCells, setTitles, volumeRows } from "./summary_words.js";
import { writtenText } from "./text.js";

const forCoach = (asked) => asked.get("copy") === "coach";
const groupOf = (asked) => encodeURIComponent(asked.get("group") ?? "");

/** This page with one of what was asked for changed; without it where it is null. */
function here(asked, name, value) {
  const other = new URLSearchParams(asked);
  if (value === null) other.delete(name);
  else other.set(name, value);
  return `${location.pathname}?${other}`;
}

function links(words, me, asked, { group, clients }) {
  const say = (id) => words.message(`label.sheet_${id}`);
  const csv = barLink(say("csv"), `/coaches/${encodeURIComponent(me)}/groups/${group}/sets.csv`);
  csv.download = "";
  const coach = forCoach(asked);
  const copies = [
    barLink(say("for_clients"), here(asked, "copy", null), !coach),
    barLink(say("for_coach"), here(asked, "copy", "coach"), coach),
  ];
  if (clients.length < 2) return [...copies, csv];
  const one = ({ client, name }) => barLink(name, here(asked, "client", client), asked.get("client") === String(client));
  return [...copies, barLink(say("everybody"), here(asked, "client", null), !asked.has("client")), ...clients.map(one), csv];
}

function draw(words, sheet, asked) {
  const title = words.message("label.sheet_summary");
  document.title = `${title} ${sheet.group}`;
  const wanted = sheet.clients.filter(({ client }) => !asked.has("client") || asked.get("client") === String(client));
  const node = el("main", "sheets");
  node.append(...wanted.map((client) => clientSheet(words, sheet, client, forCoach(asked))));
  return [node];
}

function clientSheet(words, sheet, client, coach) {
  const say = (id, places) => words.message(`label.sheet_${id}`, places);
  const node = el("article", "sheet");
  const first = client.sets[0]?.started;
  const rows = [
    [say("when"), first ? writtenText(document.documentElement.lang, first) : ""],
    [say("coach"), sheet.coach],
  ];
  node.append(head(client.name, `${sheet.floor} \u00b7 ${say("summary")}`), facts(rows));
  if (coach) node.append(el("p", "sheet-only", say("coach_only")));
  if (client.sets.length === 0) {
    node.append(el("p", "", say("nothing_done")));
  } else {
    node.append(table(setTitles(words), client.sets.map((set) => setCells(words, set, !coach)), "sheet-table sheet-done"));
    node.append(part(say("volume"), facts(volumeRows(words, client.volume, !coach), true), el("p", "sheet-small", say("volume_note"))));
  }
  if (client.next.length > 0) {
    const next = client.next.map((part) => nextWords(words, part, !coach)).map(({ name, text }) => [name, text]);
    node.append(part(say("next"), facts(next, true), el("p", "sheet-small", [say("next_note"), coach ? "" : say("reserve_note")].filter(Boolean).join(" "))));
  }
  const notes = (client.notes ?? []).map(({ note, written }) => `${writtenText(document.documentElement.lang, written)}: ${note.text.text}`);
  if (notes.length > 0) node.append(part(say("notes"), lines(notes)));
  return node;
}

await openSheet({
  path: (asked) => `groups/${groupOf(asked)}/summary${forCoach(asked) ? "/coach" : ""}`,
  none: "label.sheet_no_group",
  draw,
  links,
});
