// A button whose act may change under the finger.

import { actKey } from "./acts.js";
import { button, setAttribute, show } from "./dom.js";

/**
 * A button that got another meaning less than this before the finger came down was not read: two choice reactions, from
 * memory, for one must see that it changed and read who it is about.
 */
export const UNREAD = 800;

/** So long a button shows that it means something else than before: whoever looked away for a moment sees it. Common practice, no source. */
const FRESH = 4_000;

/**
 * A button whose act may change under the finger: then the tap is not taken and `hear` is told `changed`. One
 * that comes too early tells `early`. Else `tap(act)`.
 */
export function actButton(className, { now, tap, hear }) {
  const node = button(className);
  let act = null;
  let from = 0;
  let key = "";
  let changedAt = 0;
  let pressed = null;
  let read = true;
  node.addEventListener("pointerdown", () => {
    pressed = performance.now() - changedAt < UNREAD ? null : key;
  });
  node.addEventListener("click", (event) => {
    // A click by keyboard or a reader has no pointer that could have been too late.
    if (event.detail > 0 && pressed !== key) return hear(act, { is: "changed" });
    if (now() < from) return hear(act, { is: "early", until: from });
    return tap(act);
  });
  return {
    node,
    set(nextAct, nextFrom) {
      act = nextAct;
      from = nextFrom;
      if (actKey(nextAct) === key) return;
      read = key === "";
      key = actKey(nextAct);
      changedAt = performance.now();
    },
    tick(time) {
      setAttribute(node, "aria-disabled", time < from ? "true" : null);
      read ||= performance.now() - changedAt >= FRESH;
      setAttribute(node, "data-fresh", read ? null : "yes");
    },
  };
}

/** A button that comes and goes over what is there: what has only just come was not what the finger meant. */
export function comingButton(className, onClick) {
  let since = 0;
  let meant = false;
  const node = button(className, (event) => (meant || event.detail === 0) && onClick());
  node.addEventListener("pointerdown", () => {
    meant = performance.now() - since >= UNREAD;
  });
  show(node, false);
  return {
    node,
    show(visible) {
      if (visible && node.hidden) since = performance.now();
      show(node, visible);
    },
  };
}
