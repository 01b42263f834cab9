// Taking back the last tap, for ten seconds, where the floor takes such a tap back.

import { actWords } from "./acts.js";
import { button, setText, show } from "./dom.js";

/** How long, in floor milliseconds, as `TAKE_BACK_WINDOW` of the protocol. */
export const WINDOW = 10_000;

/** Taps that the floor takes back, as `Act::taken_back` of the protocol: a test keeps the two the same. */
const TAKEN_BACK = new Set([
  "take_stations", "ask_stations", "other_use", "end_other_use", "out_of_service", "back_in_service",
  "set_setting", "arrive", "leave", "pass_technique", "confirm_load", "spot", "spot_by", "use_arms", "away",
  "back", "hand_over", "go", "not_yet", "more_rest", "done", "effort", "reps", "correct", "set_rounds", "make_up",
  "pause", "call",
]);

/** Whether a tap with this answer can be taken back. */
export const canUndo = (act, news) =>
  news.is === "answer" && news.outcome.outcome === "accepted" && TAKEN_BACK.has(act.do);

/** The seconds left to take back what was recorded then; 0 when it is too late. */
export const secondsLeft = (recorded, now) => Math.max(Math.ceil((recorded + WINDOW - now) / 1000), 0);

/** The button; there only while it does something. */
export function undoButton(words, tap) {
  let last = null;
  const node = button("act undo", () => {
    tap({ do: "undo", command: last.id });
    last = null;
    show(node, false);
  });
  show(node, false);
  return {
    node,
    /** A tap was answered; only the last can be taken back here. */
    hear(act, news, id, view) {
      if (news.is !== "answer") return;
      last = canUndo(act, news) ? { id, recorded: news.outcome.recorded, what: actWords(words, act, view).title } : null;
    },
    tick(now) {
      const left = last === null ? 0 : secondsLeft(last.recorded, now);
      show(node, left > 0);
      if (left > 0) setText(node, words.message("label.page_undo", { what: last.what, n: String(left) }));
    },
  };
}
