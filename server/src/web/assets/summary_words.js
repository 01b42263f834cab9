// What a summary says, in words. Pure.

import { loadText } from "./load.js";
import { lengthText } from "./phase.js";
import { argumentsFor, sentence } from "./text.js";
import { whole, workText } from "./turn_line.js";

/** The clock of an RFC 3339 time, as it was where it was written: `18:52`. */
export const clockText = (written) => written.slice(11, 16);

/** Each side does as many repetitions as are said. */
function reps(words, { reps: done, per_side: perSide }) {
  if (done === undefined) return words.message("label.page_reps_unknown");
  return [String(done), perSide ? words.message("label.per_side") : ""].filter(Boolean).join(" ");
}

const loadOf = (words, { gear, load, unit }) => (load === undefined ? "" : loadText(words, { gear, total: load, unit }));

/** `1:32, as planned`, `1:45, too long by 0:15`, `2:42, lengthened to 2:30 on purpose, too long by 0:12`; nothing where none was due. */
export function restText(words, rest) {
  if (!rest) return "";
  const { is, by } = rest.kept;
  const lengthened = rest.put_off === undefined ? "" : words.message("label.sheet_put_off", { at: lengthText(rest.put_off) });
  const kept = [words.message(`rest_kept.${is}`), by === undefined ? "" : lengthText(by)].filter(Boolean).join(" ");
  return [lengthText(rest.length), lengthened, lengthened && is === "kept" ? "" : kept].filter(Boolean).join(", ");
}

/** How a set felt. `plain`: in words for whoever trains, not for a coach. */
function feltText(words, effort, plain) {
  if (!effort) return "";
  return plain && effort.felt === "rir" ? words.message("label.sheet_rir_plain", { reps: String(effort.reps) }) : words.say("effort", effort);
}

/** The cells of one set: time, set, load, reps, how it ended, how it felt, the rest before. `plain`: for whoever trains. */
export function setCells(words, set, plain) {
  const name = [words.own(set.exercise), set.station, whole(words.say("set", set.set))].filter(Boolean).join(" \u00b7 ");
  // Of a light set its name says enough.
  const counts = set.not_counted === undefined || set.not_counted === "light";
  const why = counts ? "" : words.message("label.sheet_set_not_counted", { why: words.message(`not_counted.${set.not_counted}`) });
  return [
    clockText(set.ended),
    name,
    [whole(loadOf(words, set)), why].filter(Boolean).join(", "),
    reps(words, set),
    words.say("ending", set.ending),
    feltText(words, set.effort, plain),
    restText(words, set.rest),
  ];
}

/** The titles of these cells. */
export const setTitles = (words) =>
  ["time", "set", "load", "reps", "ended", "felt", "rest"].map((name) => words.message(`label.sheet_${name}`));

/** Rows of `[name, text]` of how much was moved, and how fast. `plain`: for whoever trains. */
export function volumeRows(words, { load, per_minute: perMinute, unit, elapsed, counted, left_out: leftOut }, plain) {
  const left = leftOut > 0 ? words.message("label.sheet_not_counted", { n: String(leftOut) }) : "";
  const total = load === undefined ? "" : words.message("label.sheet_counted", { load: `${words.number(load)} ${unit}`, n: String(counted) });
  const places = { load: `${words.number(perMinute)} ${unit}`, at: lengthText(elapsed ?? 0) };
  return [
    [words.message("label.sheet_volume"), [total, left].filter(Boolean).join("; ")],
    [words.message(plain ? "label.sheet_density_plain" : "label.sheet_density"), perMinute === undefined ? "" : words.message("label.sheet_per_minute", places)],
  ];
}

/** What is proposed for an exercise the next time: `{ name, text }`. `plain`: without the name of the rule, for whoever trains. */
export function nextWords(words, { exercise, station, gear, unit, proposal }, plain) {
  const { set, work, change, reason, rule } = proposal;
  const load = set.by === "pin" ? { pin: set.pin } : set.load;
  const amount = loadOf(words, { gear, load, unit });
  const why = sentence(words.say("next", reason, argumentsFor(words, undefined, undefined, unit)));
  const text = `${amount}, ${workText(words, { work, reps: work.most })} (${words.message(`change.${change}`)}). ${why}${plain ? "" : ` ${sentence(words.say("rule", rule))}.`}`;
  return { name: `${words.own(exercise)} \u00b7 ${station}`, text };
}
