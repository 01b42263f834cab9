// What is worth a signal: somebody needs me soon, calls, or needs help. Pure.

import { inOrder, placeText, rowKey } from "./needs.js";
import { loadText } from "./load.js";
import { whole } from "./turn_line.js";

/** A start is signalled so long ahead, in floor milliseconds, and again once it has come. */
export const AHEAD = 20_000;
/** While somebody needs help and nobody is on the way, that is signalled again so often, in milliseconds of the page. */
export const AGAIN = 10_000;

/** Whether a row has been told and begins within `AHEAD`, or should have begun. */
export const isSoon = (row, now) => Boolean(row.told) && row.start - now <= AHEAD;

/** The signals that a page has given, so that none is given twice. */
export class Signals {
  #given = new Map();

  /**
   * The signals due at floor time `now`, the most urgent first: `{ kind, call }` with `help` or `call`, and `{ kind, row,
   * soon }` with `spot`. `own` is the page's clock in milliseconds.
   */
  due(view, now, own) {
    const found = [...helps(view), ...calls(view), ...starts(view, now)];
    const given = this.#given;
    // What is over may come again.
    this.#given = new Map(found.filter(({ key }) => given.has(key)).map(({ key }) => [key, given.get(key)]));
    const due = found.filter(({ key, again }) => !given.has(key) || (again && own - given.get(key) >= AGAIN));
    for (const { key } of due) this.#given.set(key, own);
    return due;
  }
}

function helps({ help }) {
  if (!help) return [];
  const { call } = help;
  return [{ kind: "help", call, key: `help/${call.call}`, again: call.answered === undefined }];
}

function calls({ calls: open, help }) {
  const others = open.filter((call) => call.call !== help?.call.call);
  return others.map((call) => ({ kind: "call", call, key: `call/${call.call}`, again: false }));
}

function starts({ run_sheet: rows }, now) {
  const { first, later } = inOrder((rows ?? []).filter((row) => isSoon(row, now)));
  return [...first, ...later].map((row) => {
    const soon = now < row.start;
    return { kind: "spot", row, soon, key: `${soon ? "soon" : "now"}/${rowKey(row)}`, again: false };
  });
}

/** A signal as it is spoken. */
export function spoken(words, signal, view, now) {
  if (signal.kind !== "spot") return `${words.say("call", signal.call.kind)}: ${signal.call.place}`;
  const { row, soon } = signal;
  const who = [row.client, placeText(view, row), loadText(words, row.load)].filter(Boolean).join(", ");
  const places = { task: whole(words.message(`label.page_${row.task}`)), who };
  if (!soon) return words.message("label.page_voice_now", places);
  return words.message("label.page_voice_soon", { ...places, n: String(Math.ceil((row.start - now) / 1000)) });
}
