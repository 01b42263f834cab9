// One note on a sheet of paper, with room for what people write and sign by hand.

import { ask } from "./ask.js";
import { chooseCoach, whoAmI } from "./choose.js";
import { button, el } from "./dom.js";
import { loadCatalogue, writtenText } from "./text.js";

/** Empty lines to write on. */
const FEW = 2;
const SOME = 4;

async function showNote(app, words, me) {
  const number = new URLSearchParams(location.search).get("note") ?? "";
  const sheet = await ask(`/coaches/${encodeURIComponent(me)}/notes/${encodeURIComponent(number)}`);
  const back = el("a", "act", words.message("label.sheet_back"));
  back.href = `/coach?me=${encodeURIComponent(me)}`;
  const bar = el("nav", "sheet-bar");
  bar.append(back);
  if (sheet === null) {
    app.replaceChildren(bar, el("p", "trouble", words.message("label.sheet_none")));
    return;
  }
  const print = button("act", () => window.print());
  print.textContent = words.message("label.sheet_print");
  bar.append(print);
  app.replaceChildren(bar, draw(words, sheet));
}

function draw(words, sheet) {
  const { about } = sheet.note.about;
  const incident = about === "incident";
  const title = words.message(incident ? "label.sheet_incident" : "label.sheet_note");
  document.title = `${title} ${sheet.note.note}`;
  const node = el("main", "sheet");
  const head = el("header", "sheet-head");
  head.append(el("h1", "", title), el("p", "", `${sheet.floor} \u00b7 ${words.message("label.sheet_number", { n: String(sheet.note.note) })}`));
  node.append(head, facts(words, sheet), part(words, "label.sheet_text", noteSays(words, sheet.note.text)));
  if (!incident) return node;
  for (const [label, lines] of [["label.sheet_people", FEW], ["label.sheet_witnesses", FEW], ["label.sheet_done", SOME]]) {
    node.append(part(words, label, emptyLines(lines)));
  }
  const signs = el("div", "sheet-signs");
  for (const label of ["label.sheet_sign_author", "label.sheet_sign_other"]) {
    signs.append(el("p", "sheet-sign", words.message(label)));
  }
  node.append(signs);
  return node;
}

function facts(words, sheet) {
  const list = el("dl", "sheet-facts");
  const { emergency } = sheet;
  const add = (label, text) => text && list.append(el("dt", "", words.message(label)), el("dd", "", text));
  add("label.sheet_when", writtenText(document.documentElement.lang, sheet.written));
  add("label.sheet_where", sheet.station);
  add("label.sheet_who", [...(sheet.clients ?? []), sheet.exercise && words.own(sheet.exercise)].filter(Boolean).join(", "));
  add("label.sheet_author", sheet.note.by.is === "assistant" ? words.message("label.page_assistant_of", { name: sheet.author }) : sheet.author);
  if (sheet.note.about.call !== undefined) add("label.sheet_call", words.message("label.sheet_number", { n: String(sheet.note.about.call) }));
  if (sheet.note.about.about === "incident") {
    add("label.emergency", [emergency.number, emergency.address].filter(Boolean).join(" \u00b7 "));
    add("label.defibrillator", emergency.defibrillator);
    add("label.first_aid", emergency.first_aid);
  }
  return list;
}

function part(words, label, content) {
  const node = el("section", "sheet-part");
  node.append(el("h2", "", words.message(label)), content);
  return node;
}

const noteSays = (words, { is, text }) => el("p", "sheet-text", is === "erased" ? words.message("label.page_note_erased") : text);

function emptyLines(count) {
  const node = el("div", "sheet-lines");
  for (let n = 0; n < count; n += 1) node.append(el("div", "sheet-line"));
  return node;
}

const app = document.getElementById("app");
const words = await loadCatalogue(document.documentElement.lang);
const me = whoAmI();
if (me === null) await chooseCoach(app, words);
else await showNote(app, words, me);
