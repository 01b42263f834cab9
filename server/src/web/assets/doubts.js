// A set that is said to be done long before it should be: the same tap once more, meant. Pure.

import { sameTurn } from "./phase.js";

/** How long the question stands, in floor milliseconds. */
export const ASKED_FOR = 6_000;

/** Nobody is done, in floor milliseconds, so soon after a set began, nor before this share of what it should take; common practice, no source. */
const SHORTEST = 3_000;
const SHARE = 1 / 3;

/** The doubts that a page has asked about. */
export class Doubts {
  #asked = null;

  /**
   * The whole seconds since GO where `act` says at floor time `now` that a set is done which can hardly be; null for every
   * other tap, and for the same one again while the question stands.
   */
  about(act, view, now) {
    const turn = act.do === "done" ? turnOf(view, act.turn) : undefined;
    if (turn === undefined) return null;
    const { starts, ends } = turn.phase;
    if (now >= starts + Math.max((ends - starts) * SHARE, SHORTEST)) return null;
    const again = this.#asked !== null && sameTurn(this.#asked.turn, act.turn) && now - this.#asked.at < ASKED_FOR;
    this.#asked = again ? null : { turn: act.turn, at: now };
    return again ? null : Math.max(Math.floor((now - starts) / 1000), 0);
  }
}

/** The set under way of whose that is; undefined where it is none. */
const turnOf = (view, id) =>
  view?.groups.flatMap(({ clients }) => clients).map(({ turn }) => turn).find((turn) => turn?.phase.phase === "under_way" && sameTurn(turn.turn, id));
