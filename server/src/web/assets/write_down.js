// Something to write down in a few taps: a point is kept by the tap on it, a line of one's own by a button.

import { button, el, keyed, setAttribute, setText } from "./dom.js";
import { UNREAD } from "./act_button.js";

/** Characters of a note, as the floor takes them. */
export const NOTE = 500;

/** A line of one's own as it is kept; null where there is nothing to keep. Pure. */
export const writtenDown = (own) => own.trim().slice(0, NOTE) || null;

/**
 * A closed section, updated with `{ key, title, points }`. While a line of one's own is being written nothing changes: it
 * must not come to be about somebody else. `keep(key, text)` hears what was written.
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
  let changedAt = Number.NEGATIVE_INFINITY;

  const isWriting = () => node.open && text.value.trim() !== "";

  function send() {
    const said = writtenDown(text.value);
    if (said === null) return;
    keep(shown.key, said);
    text.value = "";
    node.open = false;
    draw();
  }

  function draw() {
    if (shown?.key !== next.key) {
      parts.forEach((part) => part.clear());
      if (node.open) changedAt = performance.now();
    }
    shown = next;
    setText(summary, shown.title);
    parts = keyed(list, shown.points, (point) => point, () => pointPart(point));
  }

  /** Keeps a point, unless the section has just come to be about somebody else; whether it was kept. */
  function point(text) {
    if (performance.now() - changedAt < UNREAD) return false;
    keep(shown.key, text);
    return true;
  }

  node.addEventListener("toggle", () => node.open || draw());
  return {
    node,
    /** Whether somebody is writing. */
    isWriting,
    update(item) {
      next = item;
      if (!isWriting() || shown?.key === next.key) draw();
    },
  };
}

/** A point that one tap keeps. It says so, and is not kept twice. */
function pointPart(keep) {
  const node = button("act point", () => {
    if (!kept && keep(node.textContent)) say(true);
  });
  let kept = false;
  const say = (now) => {
    kept = now;
    setAttribute(node, "aria-pressed", String(kept));
  };
  say(false);
  return { node, clear: () => say(false), update: (point) => setText(node, point) };
}
