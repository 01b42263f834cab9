// The few things this page does to its document: make a node once, change it in place.

/** A new element with a class and text. */
export function el(tag, className = "", text = "") {
  const node = document.createElement(tag);
  if (className) node.className = className;
  if (text) node.textContent = text;
  return node;
}

/** A new button; it is never a form's. */
export function button(className, onClick) {
  const node = el("button", className);
  node.type = "button";
  if (onClick) node.addEventListener("click", onClick);
  return node;
}

/** Sets a text only where it differs, so that nothing is drawn or read out again for nothing. */
export function setText(node, text) {
  if (node.textContent !== text) node.textContent = text;
}

/** Shows or hides. */
export function show(node, visible) {
  if (node.hidden === visible) node.hidden = !visible;
}

/** Sets or clears an attribute only where it differs. */
export function setAttribute(node, name, value) {
  if (value === null) node.removeAttribute(name);
  else if (node.getAttribute(name) !== value) node.setAttribute(name, value);
}

/**
 * Keeps `parent`'s children in step with `items`: one part an item, found again by its key, so that a focused
 * or open node stays as it is. `make()` gives a part `{ node, update(item) }`.
 */
export function keyed(parent, items, key, make) {
  const kept = (parent.turnaboutParts ??= new Map());
  const wanted = new Set(items.map(key));
  for (const [old, part] of kept) {
    if (wanted.has(old)) continue;
    part.node.remove();
    kept.delete(old);
  }
  let before = null;
  for (const item of items) {
    let part = kept.get(key(item));
    if (!part) kept.set(key(item), (part = make(item)));
    part.update(item);
    const place = before === null ? parent.firstChild : before.nextSibling;
    if (place !== part.node) parent.insertBefore(part.node, place);
    before = part.node;
  }
  return [...kept.values()];
}

/**
 * Draws what is in `details` when somebody opens it, and from then on while it stays open: most of what can be said is
 * never looked for. The function that it gives takes what is to be drawn next.
 */
export function whenOpen(details, draw) {
  let next = null;
  details.addEventListener("toggle", () => details.open && next !== null && draw(next));
  return (item) => {
    next = item;
    if (details.open) draw(item);
  };
}
