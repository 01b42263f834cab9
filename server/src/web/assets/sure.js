// A load that was typed far above the last one there: the same tap once more, meant.

import { comingButton } from "./act_button.js";
import { setText } from "./dom.js";
import { amountText } from "./text.js";

/** How long the question stands, in floor milliseconds: whoever has walked on has not meant it. */
const ASKED_FOR = 15_000;

/** Taps that carry a typed load. */
const ASKED = new Set(["set_load", "swap_exercise"]);

/** The tap that says that a refused one was meant; nothing for any other answer. Pure. */
export function meant(act, news) {
  const far = news.is === "answer" && news.outcome.outcome === "refused" && news.outcome.refusal?.because === "far_above_last";
  return far && ASKED.has(act.do) ? { ...act, sure: true } : null;
}

/** The button; there only while the question stands. */
export function sureButton(words, tap, now) {
  let asked = null;
  const offer = comingButton("act undo", () => {
    tap(asked.act);
    asked = null;
    offer.show(false);
  });
  return {
    node: offer.node,
    hear(act, news, view) {
      if (news.is !== "answer") return;
      const again = meant(act, news);
      asked = again ? { act: again, until: now() + ASKED_FOR } : null;
      if (asked) setText(offer.node, words.message("label.page_meant", { load: amountText(words, act.load, unitOf(act, view)) }));
    },
    tick: (at) => offer.show(asked !== null && at < asked.until),
  };
}

function unitOf(act, view) {
  const there = view.places?.find((place) => place.station === act.station);
  const client = view.groups.flatMap((group) => group.clients).find((one) => one.client === (act.turn?.client ?? act.client));
  return there?.unit ?? client?.turn?.load?.unit ?? "kg";
}
