// What this phone does to be noticed, chosen at the foot of the page.

import { button, el, setAttribute, setText } from "./dom.js";
import { SENSES } from "./senses.js";

/** Between the signals that are tried, in milliseconds. */
const APART = 1600;

export function devicePart(words, senses) {
  const node = el("details", "section");
  const summary = el("summary", "", words.message("label.page_device"));
  const list = el("div", "more-list");
  node.append(summary, list);
  for (const sense of SENSES) list.append(switchOf(words, senses, sense));
  const tried = button("act", () => {
    ["spot", "call", "help"].forEach((kind, n) => {
      const name = words.message(`label.page_signal_${kind}`);
      setTimeout(() => {
        setText(said, name);
        senses.give(kind, name);
      }, n * APART);
    });
  });
  tried.textContent = words.message("label.page_signals_try");
  const said = el("p", "card-stage");
  said.setAttribute("role", "status");
  list.append(tried, said);
  return { node };
}

/** On or off; what the browser has not says so. */
function switchOf(words, senses, sense) {
  const name = words.message(`label.page_sense_${sense}`);
  if (!senses.has(sense)) {
    const lacks = words.message(sense === "awake" ? "label.page_awake_lacks" : "label.page_sense_lacks");
    return el("p", "card-stage", `${name}: ${lacks}`);
  }
  const part = button("act", () => {
    senses.set(sense, !senses.wants(sense));
    draw();
  });
  const draw = () => {
    const on = senses.wants(sense);
    setAttribute(part, "aria-pressed", String(on));
    setText(part, `${name}: ${words.message(on ? "label.page_on" : "label.page_off")}`);
  };
  draw();
  return part;
}
