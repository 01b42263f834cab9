// One clock on every display: how a page learns floor time over the network.
//
// The same estimator as `protocol/src/clock.rs`, figure for figure. The formulas are those of RFC 5905,
// section 8; of the last WINDOW samples the one with the smallest delay is believed; what is shown follows
// slowly, so that a countdown never jumps back. All figures are milliseconds at floor rate.

/** Samples kept: with one question every two seconds the last minute. */
export const WINDOW = 32;
/** How fast what is shown may drift toward what is believed: 50 ms in a second. */
export const SLEW_PER_MILLE = 50;
/** A belief this far from what is shown is taken at once. */
export const STEP = 1000;

/** RFC 5905, section 8: asked (own clock), arrived and answered (floor time), received (own clock). */
export function sampleFromStamps(t1, t2, t3, t4) {
  return { offset: (t2 - t1 + (t3 - t4)) / 2, delay: t4 - t1 - (t3 - t2) };
}

/** What a page believes floor time to be. */
export class Estimator {
  #samples = [];
  #shown = null;
  #given = null;

  /** Forgets every sample, as after a new epoch. What is shown goes on from where it is. */
  forget() {
    this.#samples = [];
  }

  /** Takes a sample received when the own clock said `own`; an impossible one is dropped. */
  take(sample, own) {
    if (!(sample.delay >= 0 && Number.isFinite(sample.offset))) return;
    if (this.#samples.length === WINDOW) this.#samples.shift();
    this.#samples.push(sample);
    const believed = this.#believed();
    const shown = this.#shownOffset(own);
    if (shown !== null && Math.abs(shown - believed) < STEP) {
      this.#shown = { offset: shown, own };
    } else {
      this.#shown = { offset: believed, own };
      this.#given = null;
    }
  }

  /** Takes floor time as told, at once: for a clock that a test drives by hand. */
  set(now, own) {
    this.#samples = [];
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

  #believed() {
    if (this.#samples.length === 0) return null;
    return this.#samples.reduce((best, s) => (s.delay < best.delay ? s : best)).offset;
  }

  #shownOffset(own) {
    if (this.#shown === null) return null;
    const { offset, own: at } = this.#shown;
    const believed = this.#believed();
    if (believed === null) return offset;
    const most = (Math.max(own - at, 0) * SLEW_PER_MILLE) / 1000;
    return offset + Math.min(Math.max(believed - offset, -most), most);
  }
}
