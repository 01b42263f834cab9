// What a session's sheet says, in words. Pure.

import { howTexts, ownLoadText } from "./load.js";
import { lengthText } from "./phase.js";
import { clockText } from "./summary_words.js";
import { workText } from "./turn_line.js";

/** `3 rounds; rest 1:00 to 2:00 after a round; at most 0:30 to go over`. */
export function blockText(words, block) {
  const say = (id, places) => words.message(`label.sheet_${id}`, places);
  const window = { least: lengthText(block.rest_min), most: lengthText(block.rest_max) };
  const over = block.exercises.length > 1 ? say("changeover", { at: lengthText(block.changeover) }) : "";
  return [say("rounds", { n: String(block.rounds) }), say("rest_window", window), over].filter(Boolean).join("; ");
}

/** An exercise of a block with its stations: the reserved one, or those that suit. */
export function exerciseText(words, { exercise, stations, reserved, per_side: perSide, spotted }) {
  const say = (id, places) => words.message(`label.sheet_${id}`, places);
  const place = () => {
    if (stations.length === 0) return say("no_station");
    return reserved ? say("reserved_at", { station: stations[0] }) : say("suits", { stations: stations.join(", ") });
  };
  const more = [perSide && words.message("label.per_side"), spotted && words.message("label.spotter_wanted")];
  return [words.own(exercise), ...more, place()].filter(Boolean).join(" \u00b7 ");
}

/** `Bench 1: uprights 4, safety arms 3`. */
export const settingsText = ({ station, values }) => `${station}: ${values.map(({ name, value }) => `${name} ${value}`).join(", ")}`;

/** A load and how it is set, on a bar that is empty before; nothing where none is known. */
export function paperLoad(words, load) {
  if (!load) return "";
  // What to strip is for whoever stands there, and that both sides are loaded in turn is said once for all.
  const bar = load.bar && { ...load.bar, known: true, strip: [], add: [], alone: 0 };
  const how = howTexts(words, { ...load, ...(bar ? { bar } : {}), confirmed: true });
  return [ownLoadText(words, load), ...how].join(", ");
}

/** The cells of one set: set, load, target, then what is written by hand, or was done: reps, effort, rest from. */
export function paperCells(words, set) {
  const target = [workText(words, { work: set.work, reps: set.work.most }), set.per_side && words.message("label.per_side")];
  const tempo = set.work.work === "hold" ? "" : `${words.message("label.tempo")} ${set.tempo}`;
  return [
    [words.own(set.exercise), words.say("set", set.set)].join(" \u00b7 "),
    paperLoad(words, set.load),
    [...target, tempo].filter(Boolean).join(", "),
    ...overCells(words, set.over),
  ];
}

function overCells(words, over) {
  if (over === undefined) return ["", "", ""];
  if (over.is === "left_out") return [words.message("label.sheet_left_out"), "", ""];
  const ending = over.ending.end === "complete" ? "" : words.say("ending", over.ending);
  const felt = over.effort ? words.say("effort", over.effort) : "";
  return [String(over.reps), [felt, ending].filter(Boolean).join(", "), clockText(over.ended)];
}

/** The titles of these cells. */
export const paperTitles = (words) =>
  ["set", "load", "target", "reps_done", "effort", "rest_from"].map((name) => words.message(`label.sheet_${name}`));
