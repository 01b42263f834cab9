// What a session's sheet says, in words. Pure.

import { howTexts, ownLoadText } from "./load.js";
import { lengthText } from "./phase.js";
import { clockText } from "./summary_words.js";
import { whole as unbroken, workText } from "./turn_line.js";

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
export const paperLoad = (words, load) => (load ? [ownLoadText(words, load), ...paperHow(words, load)].join(", ") : "");

function paperHow(words, load) {
  // What to strip is for whoever stands there, and that both sides are loaded in turn is said once for all.
  const bar = load.bar && { ...load.bar, known: true, strip: [], add: [], alone: 0 };
  return howTexts(words, { ...load, ...(bar ? { bar } : {}), confirmed: true });
}

/**
 * The load of a set at each station that suits, a line for all where it is set in the same way:
 * `Bench 1, Bench 2: 60 kg, each side 20`, and the amount not again where only the way is another. Where all are the
 * same, or one is reserved, no station is named.
 */
export function paperLoads(words, { station, work, load, elsewhere = [] }) {
  const first = paperLoad(words, load);
  const lines = new Map([[first, [station]]]);
  for (const there of elsewhere) {
    const other = JSON.stringify(there.work) === JSON.stringify(work) ? "" : workText(words, { work: there.work, reps: there.work.most });
    const [whole, how] = [paperLoad(words, there.load), there.load ? paperHow(words, there.load).join(", ") : ""];
    const short = whole !== first && ownLoadText(words, there.load) === ownLoadText(words, load);
    const text = [short && how ? how : whole, other].filter(Boolean).join(", ");
    lines.set(text, [...(lines.get(text) ?? []), there.station]);
  }
  if (lines.size === 1) return first;
  return [...lines].map(([text, stations]) => `${stations.join(", ")}: ${text || words.message("label.none_there")}`).join("\n");
}

/**
 * The cells of one set: set, load, target, then what is written by hand, or was done: reps, effort, rest from. `usual`
 * are the exercises of the block, which say for all sets where they are done and whether somebody stands by.
 */
export function paperCells(words, set, usual) {
  const target = [workText(words, { work: set.work, reps: set.work.most }), set.per_side && words.message("label.per_side")];
  const tempo = set.work.work === "hold" ? "" : `${words.message("label.tempo")} ${set.tempo}`;
  const told = usual.some(({ exercise }) => words.own(exercise) === words.own(set.exercise));
  const spotter = !told && set.spotted && words.message("label.spotter_wanted");
  return [
    [words.own(set.exercise), !told && set.station, spotter, unbroken(words.say("set", set.set))].filter(Boolean).join(" \u00b7 "),
    paperLoads(words, set),
    [...target, tempo].filter(Boolean).join(", "),
    ...overCells(words, set.over),
  ];
}

function overCells(words, over) {
  if (over === undefined) return ["", "", ""];
  if (over.is === "left_out") return [words.message("label.sheet_left_out"), "", ""];
  const ending = over.ending.end === "complete" ? "" : words.say("ending", over.ending);
  const felt = over.effort ? words.say("effort", over.effort) : "";
  const reps = over.reps === undefined ? words.message("label.page_reps_unknown") : String(over.reps);
  return [reps, [felt, ending].filter(Boolean).join(", "), clockText(over.ended)];
}

/** The titles of these cells. */
export const paperTitles = (words) =>
  ["set", "load", "target", "reps_done", "effort", "rest_from"].map((name) => words.message(`label.sheet_${name}`));
