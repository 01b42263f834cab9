// What a briefing says, in words. Pure.

import { lengthText } from "./phase.js";

/** The parts that muscles play, the largest first. */
const ROLES = ["prime_movers", "synergists", "stabilisers", "antagonists"];

/** A block in two lines, and a third where its exercises undo each other. */
export function blockLines(words, block) {
  const say = (id, places) => words.message(`label.sheet_${id}`, places);
  const names = block.exercises.map(({ exercise }) => words.own(exercise));
  const [first, second] = names;
  const order = {
    1: () => say("alone", { exercise: first }),
    2: () => say("pair", { first, second }),
  }[names.length] ?? (() => say("chain", { exercises: names.join(", ") }));
  const rest = { n: String(block.rounds), least: lengthText(block.rest_min), most: lengthText(block.rest_max) };
  return [order(), say("then_rest", rest), block.opposing ? say("opposing") : ""].filter(Boolean);
}

/** Rows of `[part, muscles]`, one for each part that any muscle plays. */
export function muscleRows(words, exercise) {
  const named = ROLES.map((role) => [words.message(`label.sheet_${role}`), exercise[role].map((name) => words.own(name)).join(", ")]);
  return named.filter(([, muscles]) => muscles !== "");
}

/** An exercise with what must be known at once. */
export function exerciseTitle(words, { exercise, per_side: perSide, spotted }) {
  const more = [perSide && words.message("label.per_side"), spotted && words.message("label.spotter_wanted")];
  return [words.own(exercise), ...more].filter(Boolean).join(" \u00b7 ");
}

/** What some clients do instead of an exercise of the block, and who they are. */
export function insteadTitle(words, { clients, of, exercise }) {
  const places = { clients: clients.join(", "), exercise: words.own(of), other: exerciseTitle(words, exercise) };
  return words.message("label.sheet_instead", places);
}
