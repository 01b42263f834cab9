// What is written down: the latest notes of the view, the older ones asked for, and erasing them.

import { ask, askedSection } from "./ask.js";
import { actorName } from "./acts.js";
import { el, keyed, setText, show } from "./dom.js";
import { noteText } from "./notices.js";
import { twiceButton } from "./tap_button.js";
import { instantText } from "./text.js";

/** Erasing takes a second tap within this: time to read the question. */
const SECOND_TAP = 6000;

/** `hooks` are `tap(act)`, `tell(text)`, `erases(note)`, `time()` and `coach`, the coach's key. */
export function notesPanel(words, hooks) {
  const node = el("section", "notes-panel card");
  const title = el("h2", "", words.message("label.page_notes"));
  const list = el("ul", "notes");
  list.setAttribute("aria-label", words.message("label.page_notes"));
  let view = null;
  const line = () => noteLine(words, hooks, () => view);
  const older = askedSection(words, {
    path: () => allNotes(hooks),
    // What is in the view is not said twice.
    draw: (body, { notes }) => keyed(body, notes.slice(view.notes?.length ?? 0), (note) => note.note, line),
  });
  node.append(title, list, older.node);
  let key = "";
  return {
    node,
    update(next) {
      view = next;
      const notes = view.notes ?? [];
      const count = view.older_notes ?? 0;
      keyed(list, notes, (note) => note.note, line);
      older.title(words.message("label.page_older_notes", { n: String(count) }));
      show(older.node, count > 0);
      show(node, notes.length > 0);
      // An older note that is erased leaves the view as it is, but not the answer to that tap.
      const now = JSON.stringify([notes, count]);
      if (now !== key) older.refresh();
      key = now;
    },
    refresh: older.refresh,
  };
}

const allNotes = ({ coach }) => `/coaches/${encodeURIComponent(coach)}/notes`;

/** Erases a note and lets the page know what it said, so that it can be taken back: all of it, where a view has no more than its beginning. */
async function erase(hooks, { note, about, text }) {
  const told = text.is === "begins" ? await ask(allNotes(hooks)) : null;
  const whole = text.is === "begins" ? told?.notes.find((other) => other.note === note)?.text : text;
  if (whole?.is === "whole") hooks.erases({ note, about, text: whole.text });
  hooks.tap({ do: "erase_note", note });
}

/** `{ head, text, erased, link }` of a note: `link` is the message of the link to its sheet, or null. Pure. */
export function noteWords(words, note, view, time) {
  const author = actorWords(words, note.by, view);
  const head = [noteText(words, note, view, time), author && words.message("label.page_note_by", { name: author })];
  const { is, text, erased } = note.text;
  const said = { head: head.filter(Boolean).join(" \u00b7 "), text: text ?? "", erased: is === "erased", link: null };
  if (is === "begins") return { ...said, text: `${text}\u2026`, link: "label.page_note_whole" };
  if (is === "whole") return { ...said, link: note.about.about === "incident" ? "label.page_note_sheet" : null };
  const places = erased && { name: actorWords(words, erased.by, view), at: instantText(erased.at, time) };
  return { ...said, text: places ? words.message("label.page_note_erased_by", places) : words.message("label.page_note_erased") };
}

function actorWords(words, by, view) {
  const name = actorName(by, view) ?? "";
  return by.is === "assistant" ? words.message("label.page_assistant_of", { name }) : name;
}

function noteLine(words, hooks, view) {
  const node = el("li", "note");
  const head = el("p", "note-head");
  const text = el("p", "note-text");
  const acts = el("div", "note-acts");
  const link = el("a", "act");
  let note = null;
  const eraser = twiceButton("act", {
    first: words.message("label.page_erase"),
    second: words.message("label.page_erase_again"),
    within: SECOND_TAP,
    act: () => erase(hooks, note),
    tell: hooks.tell,
  });
  acts.append(link, eraser);
  node.append(head, text, acts);
  return {
    node,
    update(next) {
      note = next;
      const said = noteWords(words, note, view(), hooks.time());
      setText(head, said.head);
      setText(text, said.text);
      node.dataset.erased = said.erased ? "yes" : "no";
      show(link, said.link !== null);
      if (said.link) {
        setText(link, words.message(said.link));
        link.href = `/incident?note=${note.note}&me=${encodeURIComponent(hooks.coach)}`;
      }
      show(eraser, !said.erased);
      show(acts, !said.erased);
    },
  };
}
