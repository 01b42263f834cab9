// One note on a sheet of paper, with room for what people write and sign by hand.

import { el } from "./dom.js";
import { facts, head, openSheet, part } from "./sheet.js";
import { writtenText } from "./text.js";

/** Empty lines to write on. */
const FEW = 2;
const SOME = 4;

function draw(words, sheet) {
  const { about } = sheet.note.about;
  const incident = about === "incident";
  const title = words.message(incident ? "label.sheet_incident" : "label.sheet_note");
  document.title = `${title} ${sheet.note.note}`;
  const node = el("main", "sheet");
  const number = words.message("label.sheet_number", { n: String(sheet.note.note) });
  const text = part(words.message("label.sheet_text"), noteSays(words, sheet.note.text));
  node.append(head(title, `${sheet.floor} \u00b7 ${number}`), noteFacts(words, sheet), text);
  if (!incident) return [node];
  for (const [label, lines] of [["label.sheet_people", FEW], ["label.sheet_witnesses", FEW], ["label.sheet_done", SOME]]) {
    node.append(part(words.message(label), emptyLines(lines)));
  }
  const signs = el("div", "sheet-signs");
  for (const label of ["label.sheet_sign_author", "label.sheet_sign_other"]) {
    signs.append(el("p", "sheet-sign", words.message(label)));
  }
  node.append(signs);
  return [node];
}

function noteFacts(words, sheet) {
  const { emergency, note } = sheet;
  const { about, call } = note.about;
  const author = note.by.is === "assistant" ? words.message("label.page_assistant_of", { name: sheet.author }) : sheet.author;
  const rows = [
    ["label.sheet_when", writtenText(document.documentElement.lang, sheet.written)],
    ["label.sheet_where", sheet.station],
    ["label.sheet_who", [...(sheet.clients ?? []), sheet.exercise && words.own(sheet.exercise)].filter(Boolean).join(", ")],
    ["label.sheet_author", author],
    ["label.sheet_call", call === undefined ? "" : words.message("label.sheet_number", { n: String(call) })],
  ];
  if (about === "incident") {
    rows.push(
      ["label.emergency", [emergency.number, emergency.address].filter(Boolean).join(" \u00b7 ")],
      ["label.defibrillator", emergency.defibrillator],
      ["label.first_aid", emergency.first_aid],
    );
  }
  return facts(rows.map(([label, text]) => [words.message(label), text]));
}

const noteSays = (words, { is, text }) => el("p", "sheet-text", is === "erased" ? words.message("label.page_note_erased") : text);

function emptyLines(count) {
  const node = el("div", "sheet-lines");
  for (let n = 0; n < count; n += 1) node.append(el("div", "sheet-line"));
  return node;
}

await openSheet({
  path: (asked) => `notes/${encodeURIComponent(asked.get("note") ?? "")}`,
  none: "label.sheet_none",
  draw,
});
