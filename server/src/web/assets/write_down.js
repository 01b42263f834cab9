// Something to write down in a few taps: points to choose from, a line of one's own, and one button that keeps it.

import { button, el, keyed, setAttribute, setText } from "./dom.js";

/** Characters of a note, as the floor takes them. */
export const NOTE = 500;

/** The chosen points and the line of one's own as one text, in that order; null where there is neither. Pure. */
export function writtenDown(points, own) {
  const text = [...points, own.trim()].filter(Boolean).join("; ").slice(0, NOTE);
  return text || null;
}

/**
 * A closed section, updated with `{ key, title, points }` and, once it is open, with nothing else until it is closed:
 * what is being written must not come to be about somebody else. `keep(key, text)` hears what was written.
 */
export function writePart(words, keep) {
  const node = el("details", "form-open write");
  const summary = el("summary", "act");
  const list = el("div", "write-points");
  const own = el("label", "form-row");
  const text = el("textarea");
  text.rows = 2;
  text.maxLength = NOTE;
  own.append(el("span", "", words.message("label.page_note_text")), text);
  const go = button("act form-go", send);
  go.textContent = words.message("act.note");
  node.append(summary, list, own, go);
  let shown = null;
  let next = null;
  let parts = [];

  function send() {
    const said = writtenDown(parts.filter((part) => part.chosen()).map((part) => part.text()), text.value);
    if (said === null) return;
    keep(shown.key, said);
    text.value = "";
    parts.forEach((part) => part.clear());
    node.open = false;
    draw();
  }

  function draw() {
    if (shown?.key !== next.key) parts.forEach((part) => part.clear());
    shown = next;
    setText(summary, shown.title);
    parts = keyed(list, shown.points, (point) => point, pointPart);
  }

  node.addEventListener("toggle", () => node.open || draw());
  return {
    node,
    /** Whether somebody is writing. */
    isOpen: () => node.open,
    update(item) {
      next = item;
      if (!node.open || shown?.key === next.key) draw();
    },
  };
}

/** A point that is chosen by one tap and left by another. */
function pointPart() {
  const node = button("act point", () => say(!on));
  let on = false;
  const say = (chosen) => {
    on = chosen;
    setAttribute(node, "aria-pressed", String(on));
  };
  say(false);
  return {
    node,
    chosen: () => on,
    clear: () => say(false),
    text: () => node.textContent,
    update: (point) => setText(node, point),
  };
}
