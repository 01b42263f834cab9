// Taking back the last tap, for ten seconds, where the floor takes such a tap back.

import { comingButton } from "./act_button.js";
import { actWords } from "./acts.js";
import { setText } from "./dom.js";

/** How long, in floor milliseconds, as `TAKE_BACK_WINDOW` of the protocol. */
export const WINDOW = 10_000;

/** Taps that the floor takes back, as `Act::taken_back` of the protocol: a test keeps the two the same. */
const TAKEN_BACK = new Set([
  "take_stations", "ask_stations", "other_use", "end_other_use", "out_of_service", "back_in_service",
  "set_setting", "arrive", "leave", "pass_technique", "confirm_load", "spot", "spot_by", "use_arms", "away",
  "back", "hand_over", "go", "not_yet", "more_rest", "done", "effort", "reps", "correct", "set_rounds", "make_up",
  "pause", "call",
]);

const isAccepted = (news) => news.is === "answer" && news.outcome.outcome === "accepted";

/** Whether the floor takes a tap with this answer back. */
export const canUndo = (act, news) => isAccepted(news) && TAKEN_BACK.has(act.do);

/**
 * The tap that takes a tap with this answer back; null where nothing does. A text that was erased is in no file of the floor
 * any more, and stays out of them unless it is written down once more: `erased` is the note as the page last knew it.
 */
export function takesBack(act, news, id, erased) {
  if (canUndo(act, news)) return { do: "undo", command: id };
  const known = isAccepted(news) && act.do === "erase_note" && erased?.note === act.note;
  return known ? { do: "note", note: erased.about, text: erased.text } : null;
}

/** The seconds left to take back what was recorded then; 0 when it is too late. */
export const secondsLeft = (recorded, now) => Math.max(Math.ceil((recorded + WINDOW - now) / 1000), 0);

/** The button; there only while it does something. */
export function undoButton(words, tap) {
  let last = null;
  let erased = null;
  const named = new Map();
  const offer = comingButton("act undo", () => {
    if (last.back.do === "undo") named.set(last.back.command, last.what);
    tap(last.back);
    last = null;
    offer.show(false);
  });
  return {
    node: offer.node,
    /** `{ note, about, text }` is going to be erased. */
    erases(note) {
      erased = note;
    },
    /** What a tap of this button takes back, in words; empty for any other tap. */
    names: (act) => (act.do === "undo" && named.get(act.command)) || "",
    /** A tap was answered; only the last can be taken back here. */
    hear(act, news, id, view) {
      if (news.is !== "answer") return;
      const back = takesBack(act, news, id, erased);
      if (act.do === "erase_note") erased = null;
      const { title, detail, who } = actWords(words, act, view);
      last = back && { back, recorded: news.outcome.recorded, what: [title, who || detail].filter(Boolean).join(", ") };
    },
    tick(now) {
      const left = last === null ? 0 : secondsLeft(last.recorded, now);
      offer.show(left > 0);
      // What nobody can take back any more is kept nowhere.
      if (left === 0) last = null;
      if (left > 0) setText(offer.node, words.message("label.page_undo", { what: last.what, n: String(left) }));
    },
  };
}
