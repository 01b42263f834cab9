// A set that is said to be done before one repetition of it can be over: the same tap once more, meant. Pure.

import { sameTurn } from "./phase.js";

/** How long the question stands, in floor milliseconds. */
const ASKED_FOR = 6_000;

/** The shortest that a set is, in floor milliseconds, where there is no tempo to go by: nobody ends sooner what they began; common practice, no source. */
const SHORTEST = 3_000;

/** The floor milliseconds that one repetition takes by its tempo, four counts as `3-1-2-0`; a count that is no number takes none. */
function repetition({ tempo }) {
  const counts = (tempo ?? "").split("-").map((count) => Number(count) || 0);
  return counts.reduce((sum, count) => sum + count, 0) * 1000;
}

/** The doubts that a page has asked about. */
export class Doubts {
  #asked = null;

  /**
   * The whole seconds since GO where `act` says at floor time `now` that a set is done which can hardly be; null for every
   * other tap, and for the same one again while the question stands.
   */
  about(act, view, now) {
    const turn = act.do === "done" ? turnOf(view, act.turn) : undefined;
    const starts = turn?.phase.starts;
    if (starts === undefined || now >= starts + Math.max(repetition(turn), SHORTEST)) return null;
    const again = this.#asked !== null && sameTurn(this.#asked.turn, act.turn) && now - this.#asked.at < ASKED_FOR;
    this.#asked = again ? null : { turn: act.turn, at: now };
    return again ? null : Math.max(Math.floor((now - starts) / 1000), 0);
  }
}

/** The set under way of whose that is; undefined where it is none. */
const turnOf = (view, id) =>
  view?.groups.flatMap(({ clients }) => clients).map(({ turn }) => turn).find((turn) => turn?.phase.phase === "under_way" && sameTurn(turn.turn, id));
