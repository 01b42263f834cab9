// A load that was typed far above the last one there: the same tap once more, meant.

import { button, setText, show } from "./dom.js";
import { massText } from "./text.js";

/** How long the question stands, in floor milliseconds: whoever has walked on has not meant it. */
const ASKED_FOR = 15_000;

/** The tap that says that a refused one was meant; nothing for any other answer. Pure. */
export function meant(act, news) {
  const far = news.is === "answer" && news.outcome.outcome === "refused" && news.outcome.refusal?.because === "far_above_last";
  return far && act.do === "set_load" ? { ...act, sure: true } : null;
}

/** The button; there only while the question stands. */
export function sureButton(words, tap, now) {
  let asked = null;
  const node = button("act undo", () => {
    tap(asked.act);
    asked = null;
    show(node, false);
  });
  show(node, false);
  return {
    node,
    hear(act, news, view) {
      if (news.is !== "answer") return;
      const again = meant(act, news);
      asked = again ? { act: again, until: now() + ASKED_FOR } : null;
      if (asked) setText(node, words.message("label.page_meant", { load: massText(act.load, unitOf(act, view)) }));
    },
    tick: (at) => show(node, asked !== null && at < asked.until),
  };
}

const unitOf = (act, view) =>
  view.groups.flatMap((group) => group.clients).find((client) => client.client === act.turn.client)?.turn?.load?.unit ?? "kg";
