// What the server says of a programme: at the fields, and all of it in a list above them.

import { button, el, show } from "./dom.js";
import { ownerOf } from "./programme_doc.js";
import { placeText } from "./programme_place.js";
import { toldText } from "./programme_words.js";

/** `page` has the `fields` that are drawn, and what sentences need: `words`, `floor`, `document`; `goTo(field)` puts the keyboard there. */
export function toldPart(page, goTo) {
  const { words } = page;
  const node = el("section", "entry-summary");
  node.tabIndex = -1;
  show(node, false);
  let mistakes = [];

  function drawn() {
    const at = new Map();
    for (const mistake of mistakes) {
      const owner = ownerOf(mistake.field, page.fields);
      if (owner !== null) at.set(owner, [...(at.get(owner) ?? []), toldText(page, mistake)]);
    }
    for (const [path, field] of page.fields) field.say(at.get(path) ?? []);
  }

  function listOf(title, lines, left) {
    const part = el("div");
    const list = el("ul");
    for (const line of lines) {
      const item = el("li");
      const link = button("entry-link", () => goTo(line.field));
      const text = toldText(page, line);
      link.textContent = line.field ? `${placeText(page, line.field)}: ${text}` : text;
      item.append(link);
      list.append(item);
    }
    if (left > 0) list.append(el("li", "", words.message("label.entry_left_out", { n: String(left) })));
    part.append(el("h2", "", title), list);
    return part;
  }

  return {
    node,
    /** Marks the fields that are drawn by now. */
    drawn,
    /** `{ mistakes, left, hints, title }`; nothing is marked without any. */
    mark(told) {
      mistakes = told?.mistakes ?? [];
      const { hints = [], left = 0, title = "label.entry_mistakes" } = told ?? {};
      drawn();
      const lists = [];
      if (mistakes.length > 0) lists.push(listOf(words.message(title, { n: String(mistakes.length + left) }), mistakes, left));
      if (hints.length > 0) lists.push(listOf(words.message("label.entry_hints"), hints, 0));
      node.replaceChildren(...lists);
      show(node, lists.length > 0);
    },
    /** Says one thing with one button beside it. */
    offer(text, label, act) {
      const go = button("act", act);
      go.textContent = words.message(label);
      node.replaceChildren(el("p", "", text), go);
      show(node, true);
    },
  };
}
