// Taps on their way: which wait for the link, which are sent again, which are not. Pure; instants are
// milliseconds of the page's own real clock.

import { sameTurn } from "./phase.js";

/** Commands of one socket without an answer, as `frame::limits::UNANSWERED`. */
export const UNANSWERED = 8;
/** Taps kept while the link is lost: more than a coach makes in an outage that anybody works through. */
export const KEPT = 32;
/** A tap that is not durable after this long is shown as being saved. */
export const SAVING_AFTER = 1000;
/** After this long without an answer on a living link none will come. */
export const GIVE_UP_AFTER = 30_000;

/** What may happen late without harm: it tells of something past, or asks for somebody. */
const LATE = new Set(["done", "reps", "effort", "call"]);

/** Whether a tap may be kept for later and sent again with the same id. */
export const mayBeLate = (act) => LATE.has(act.do);

/** Whether two taps are for the same thing: what else they say of a set may differ. */
const isSame = (one, other) => one.do === other.do && (one.turn ? other.turn !== undefined && sameTurn(one.turn, other.turn) : JSON.stringify(one) === JSON.stringify(other));

/** Whether a page that shows revision `shown` must take `other` instead. */
export function givesWayTo(shown, other) {
  if (shown === null || shown.epoch !== other.epoch) return true;
  if (shown.sequence !== other.sequence) return other.sequence > shown.sequence;
  return other.plan > shown.plan;
}

/** Everything tapped and not yet answered, in the order of the taps. */
export class Outbox {
  #entries = new Map();
  #linked = false;
  #report;
  #store;

  /**
   * `report(entry, news)` hears `kept`, `unsent`, `unknown`, `saving`, and `answer` with its outcome. `store` keeps what may
   * be late while the page is closed: `all()`, `put(command)` and `drop(id)`.
   */
  constructor(report, store = { all: () => [], put() {}, drop() {} }) {
    this.#report = report;
    this.#store = store;
  }

  /** Takes up what an earlier page kept, before the link is there. */
  restore() {
    for (const command of this.#store.all().slice(0, KEPT)) {
      const entry = { command, sentAt: null, slow: false };
      this.#entries.set(command.id, entry);
      this.#report(entry, { is: "kept" });
    }
  }

  /** How many taps wait for the link. */
  get waiting() {
    return [...this.#entries.values()].filter((entry) => entry.sentAt === null).length;
  }

  /** Takes a tap. What cannot be sent now and may not be late is refused here, and said. */
  tap(command) {
    const entry = { command, sentAt: null, slow: false };
    const full = this.#linked ? this.#sent() >= UNANSWERED : this.#entries.size >= KEPT;
    if (full || !(this.#linked || mayBeLate(command.act))) {
      this.#report(entry, { is: "unsent" });
      return;
    }
    this.#entries.set(command.id, entry);
    if (mayBeLate(command.act)) this.#store.put(command);
    if (!this.#linked) this.#report(entry, { is: "kept" });
  }

  /** The link is there: kept taps can go. */
  linkUp() {
    this.#linked = true;
  }

  /** The link is lost: what may be late goes back in the queue; of the rest nobody knows. */
  linkDown() {
    this.#linked = false;
    for (const [id, entry] of this.#entries) {
      if (mayBeLate(entry.command.act)) {
        entry.sentAt = null;
      } else {
        this.#entries.delete(id);
        this.#report(entry, { is: "unknown" });
      }
    }
  }

  /** The commands to send now; they count as sent. */
  toSend(own) {
    if (!this.#linked) return [];
    const room = UNANSWERED - this.#sent();
    const next = [...this.#entries.values()].filter((e) => e.sentAt === null).slice(0, Math.max(room, 0));
    for (const entry of next) entry.sentAt = own;
    return next.map((entry) => entry.command);
  }

  /** An answer came; one that nobody waits for is dropped. */
  answer(id, outcome) {
    const entry = this.#entries.get(id);
    if (!entry) return;
    this.#forget(id);
    this.#report(entry, { is: "answer", outcome });
  }

  /** Says what is slow, gives up what is hopeless. */
  tick(own) {
    for (const [id, entry] of this.#entries) {
      if (entry.sentAt === null) continue;
      if (own - entry.sentAt >= GIVE_UP_AFTER) {
        this.#forget(id);
        this.#report(entry, { is: "unknown" });
      } else if (!entry.slow && own - entry.sentAt >= SAVING_AFTER) {
        entry.slow = true;
        this.#report(entry, { is: "saving" });
      }
    }
  }

  /** Whether the same act is on its way already: a second tap then adds nothing. */
  holds(act) {
    const text = JSON.stringify(act);
    return [...this.#entries.values()].some((entry) => JSON.stringify(entry.command.act) === text);
  }

  /** Whether a tap for the same thing waits for the link, however it was meant in detail. */
  keeps(act) {
    return [...this.#entries.values()].some(({ command, sentAt }) => sentAt === null && isSame(command.act, act));
  }

  #forget(id) {
    this.#entries.delete(id);
    this.#store.drop(id);
  }

  #sent() {
    return [...this.#entries.values()].filter((entry) => entry.sentAt !== null).length;
  }
}
