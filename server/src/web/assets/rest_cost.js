// What the rest of a block costs in time. Pure.
//
// Elapsed from the first repetition to the last, without the rest after it: S rounds, w seconds of work a set, r of rest,
// t to walk over. Two exercises with no rest between them take S * (2w + t) + (S - 1) * r, one after the other with a
// rest after every set 2 * S * w + (2S - 1) * r; with more exercises, or sets of unlike length, each is counted by itself.

/** An explosive part of a tempo has no length; a second is counted for it, as the server does. */
const EXPLOSIVE = 1;

/** `{ together, apart, saved }`: seconds with rest after the last exercise alone, and after every set; and the share. */
export function restCost({ rounds, work, rest, walk }) {
  const lifting = work.reduce((sum, seconds) => sum + seconds, 0);
  const together = rounds * (lifting + (work.length - 1) * walk) + (rounds - 1) * rest;
  const apart = rounds * lifting + (rounds * work.length - 1) * rest;
  return { together, apart, saved: apart > 0 ? 1 - together / apart : 0 };
}

/** Seconds of a duration as files write it (`90 s`, `2 min`, `1 min 30 s`), or null. */
export function secondsOf(text) {
  const found = /^\s*(?:(\d+)\s*min)?\s*(?:(\d+)\s*s)?\s*$/.exec(text ?? "");
  if (!found || (found[1] === undefined && found[2] === undefined)) return null;
  return Number(found[1] ?? 0) * 60 + Number(found[2] ?? 0);
}

/** Seconds of one set of an exercise of the programme, or null where it does not say. Of a list the first round counts. */
export function workSeconds({ reps, tempo, per_side: perSide }) {
  const first = Array.isArray(reps) ? reps[0] : reps;
  const sides = perSide === true ? 2 : 1;
  const held = secondsOf(String(first ?? ""));
  if (held !== null) return held * sides;
  const most = Number(String(first ?? "").split("-").at(-1));
  const parts = String(tempo ?? "").trim().split("-").map((part) => (/^x$/i.test(part) ? EXPLOSIVE : Number(part)));
  if (!(most > 0) || parts.length !== 4 || parts.some((part) => !Number.isFinite(part))) return null;
  return most * parts.reduce((sum, part) => sum + part, 0) * sides;
}

/** The cost of a block as a page has it, or null where it is no block of several exercises or does not say enough. */
export function blockCost(block) {
  const exercises = block.exercise ?? [];
  const work = exercises.map(workSeconds);
  const rest = secondsOf(block.rest?.[0]);
  const rounds = Number(block.rounds);
  if (exercises.length < 2 || work.includes(null) || rest === null || !(rounds >= 1)) return null;
  if (exercises.some((exercise) => exercise.in_place === true)) return null;
  return restCost({ rounds, work, rest, walk: secondsOf(block.changeover) ?? 0 });
}
