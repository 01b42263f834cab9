// Where the keyboard is, kept over whatever a new view or the time redraws: a control that goes away hands on to the one
// that stands in its place.

/** What a keyboard can come to. */
const CONTROLS = "button, a[href], summary, select, input, textarea";

const isThere = (node) => node.isConnected && node.checkVisibility();

/** Watches `root`. The function that it gives is called after everything that redraws. */
export function keepFocus(root) {
  let last = null;
  let around = [];
  root.addEventListener("focusin", ({ target }) => {
    last = target;
    around = [];
    for (let node = target.parentElement; node !== null && node !== root.parentElement; node = node.parentElement) {
      const controls = [...node.querySelectorAll(CONTROLS)];
      around.push({ node, before: controls.slice(0, controls.indexOf(target)), after: controls.slice(controls.indexOf(target) + 1) });
    }
  });
  // Who goes elsewhere, or taps beside everything, has left of their own will.
  root.addEventListener("pointerdown", () => (last = null));
  root.addEventListener("focusout", ({ relatedTarget }) => relatedTarget !== null && (last = null));
  return () => {
    const { activeElement } = document;
    if (last === null || (activeElement !== document.body && activeElement !== last)) return;
    if (isThere(last)) {
      // Moved to another place, it has lost the keyboard on the way.
      if (activeElement !== last) last.focus({ preventScroll: true });
      return;
    }
    successor(around)?.focus({ preventScroll: true });
  };
}

/** The nearest control that is still there: the next one or else the one before, in the smallest part that has any. */
function successor(around) {
  for (const { node, before, after } of around) {
    if (!isThere(node)) continue;
    const found = after.find(isThere) ?? before.findLast(isThere) ?? [...node.querySelectorAll(CONTROLS)].find(isThere);
    if (found) return found;
  }
  return null;
}
