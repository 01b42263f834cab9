// A button whose act may change under the finger.

import { actKey } from "./acts.js";
import { button, setAttribute } from "./dom.js";

/**
 * A button that got another meaning less than this before the finger came down was not read: two choice reactions, from
 * memory, for one must see that it changed and read who it is about.
 */
export const UNREAD = 800;

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
      key = actKey(nextAct);
      changedAt = performance.now();
    },
    tick: (time) => setAttribute(node, "aria-disabled", time < from ? "true" : null),
  };
}
