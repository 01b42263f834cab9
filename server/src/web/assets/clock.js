// One clock on every display: how a page learns floor time over the network.
//
// The same estimator as `protocol/src/clock.rs`, figure for figure. The formulas are those of RFC 5905,
// section 8; of the last WINDOW samples the one that can be wrong by the least is believed, by half its delay and
// by what the own clock may have drifted since; how fast it drifts is a straight line through ten minutes. What is
// shown follows slowly, so that a countdown never jumps back. All figures are milliseconds at floor rate.

/** Samples kept: with one question every two seconds the last minute. */
export const WINDOW = 32;
/** How fast what is shown may be moved toward what is believed: 50 ms in a second. */
export const SLEW_PER_MILLE = 50;
/** A belief this far from what is shown is taken at once. */
export const STEP = 1000;
/** A sample farther off than can be, by this much more, says that a clock stood still or was moved. */
export const MOVED = 100;
/** The sample with the smallest delay of each so many milliseconds says what the drift is; so many are kept. */
export const MARK_EVERY = 20000;
export const MARKS = 30;
/** The most that is believed of a drift. */
export const MOST_DRIFT = 200e-6;

/** What a quartz may be off before anything is known of it, and how well its drift can be known at best. */
const UNKNOWN = 100e-6;
const TOLERANCE = 15e-6;
/** How far off the offset of the quickest samples is. */
const NOISE = 2;

/** RFC 5905, section 8: asked (own clock), arrived and answered (floor time), received (own clock). */
export function sampleFromStamps(t1, t2, t3, t4) {
  return { offset: (t2 - t1 + (t3 - t4)) / 2, delay: t4 - t1 - (t3 - t2) };
}

/** The slope of the straight line through what was sampled, each counting by how far off it can be. */
function driftOf(marks) {
  const quickest = marks.reduce((least, mark) => Math.min(least, mark.delay), Infinity);
  const weight = (mark) => 1 / (NOISE * NOISE + ((mark.delay - quickest) / 2) ** 2);
  const all = marks.reduce((sum, mark) => sum + weight(mark), 0);
  const at = marks.reduce((sum, mark) => sum + weight(mark) * mark.own, 0) / all;
  const offset = marks.reduce((sum, mark) => sum + weight(mark) * mark.offset, 0) / all;
  let [spread, together] = [1 / (UNKNOWN * UNKNOWN), 0];
  for (const mark of marks) {
    spread += weight(mark) * (mark.own - at) ** 2;
    together += weight(mark) * (mark.own - at) * (mark.offset - offset);
  }
  const rate = Math.min(Math.max(together / spread, -MOST_DRIFT), MOST_DRIFT);
  return { rate, doubt: Math.max(1 / Math.sqrt(spread), TOLERANCE) };
}

/** What a page believes floor time to be. */
export class Estimator {
  #samples = [];
  #marks = [];
  #drift = { rate: 0, doubt: UNKNOWN };
  #shown = null;
  #given = null;

  /** Forgets every sample, as after a new epoch. What is shown goes on from where it is. */
  forget() {
    this.#samples = [];
    this.#marks = [];
  }

  /** Takes a sample received when the own clock said `own`; an impossible one is dropped. */
  take(sample, own) {
    if (!(sample.delay >= 0 && Number.isFinite(sample.offset))) return;
    const shown = this.#shownOffset(own);
    const before = this.#believed(own);
    if (before && Math.abs(sample.offset - before.offset) > sample.delay / 2 + before.doubt + MOVED) this.forget();
    if (this.#samples.length === WINDOW) this.#samples.shift();
    const kept = { ...sample, own };
    this.#samples.push(kept);
    this.#mark(kept);
    const believed = this.#believed(own).offset;
    if (shown !== null && Math.abs(shown - believed) < STEP) {
      this.#shown = { offset: shown, own };
    } else {
      this.#shown = { offset: believed, own };
      this.#given = null;
    }
  }

  /** Takes floor time as told, at once: for a clock that a test drives by hand. */
  set(now, own) {
    this.forget();
    this.#drift = { rate: 0, doubt: UNKNOWN };
    this.#shown = { offset: now - own, own };
    this.#given = null;
  }

  /** Floor time when the own clock says `own`; null before the first sample. Never goes back but by a step. */
  now(own) {
    const offset = this.#shownOffset(own);
    if (offset === null) return null;
    this.#shown = { offset, own };
    const now = this.#given === null ? own + offset : Math.max(this.#given, own + offset);
    this.#given = now;
    return Math.floor(now);
  }

  /** How fast the own clock is thought to drift, and by how much that may be off. */
  get drift() {
    return this.#drift;
  }

  #mark(kept) {
    const whileOf = (mark) => Math.floor(mark.own / MARK_EVERY);
    const last = this.#marks.at(-1);
    if (last && whileOf(last) >= whileOf(kept)) {
      if (kept.delay < last.delay) this.#marks[this.#marks.length - 1] = kept;
    } else {
      if (this.#marks.length === MARKS) this.#marks.shift();
      this.#marks.push(kept);
    }
    // Of a single one nothing follows: after a restart of the server what was known of the drift stands.
    if (this.#marks.length > 1) this.#drift = driftOf(this.#marks);
  }

  #believed(own) {
    if (this.#samples.length === 0) return null;
    const doubt = (s) => s.delay / 2 + this.#drift.doubt * Math.abs(own - s.own);
    const best = this.#samples.reduce((least, s) => (doubt(s) < doubt(least) ? s : least));
    return { offset: best.offset + this.#drift.rate * (own - best.own), doubt: doubt(best) };
  }

  #shownOffset(own) {
    if (this.#shown === null) return null;
    const { offset, own: at } = this.#shown;
    const gone = Math.max(own - at, 0);
    const believed = this.#believed(own);
    if (believed === null) return offset + this.#drift.rate * gone;
    const most = (gone * SLEW_PER_MILLE) / 1000;
    return offset + Math.min(Math.max(believed.offset - offset, -most), most);
  }
}
