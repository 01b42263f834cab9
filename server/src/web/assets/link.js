// The socket: says hello, learns the time, takes views, carries taps, and comes back by itself.

import { Estimator, sampleFromStamps } from "./clock.js";
import { takeEarly } from "./early.js";
import { helloFrame, openSocket, uuid } from "./hello.js";
import { Outbox, givesWayTo } from "./outbox.js";
import { unsentStore } from "./unsent.js";

/** Time questions after connecting, and their distance: a second's worth, then one every two seconds. */
const BURST = 16;
const BURST_EVERY = 60;
const TIME_EVERY = 2000;
/** Two time questions without any frame: the link is gone, whatever the browser believes. As at a kiosk. */
const SILENT_AFTER = 4000;
/**
 * A connection that takes longer to open is given up and tried anew. Chromium holds new sockets back for up to five seconds
 * once many have failed: whoever gives up before that is held back for ever.
 */
const OPEN_WITHIN = 6000;
/** Waits between attempts grow from the first to the last: few enough fail in a minute that no browser holds the next back. */
const FIRST_DELAY = 100;
const LAST_DELAY = 2000;
/** Without any network the browser says when there is one again; a server on this very machine is there all the same. */
const OFFLINE_DELAY = 5000;
/** Taps are looked after this often. */
const TICK = 250;

/** One display's link. `on` has `view(view)`, `news(act, news, id)` and `fault(fault)`. */
export class Link {
  #hello;
  #on;
  #clock = new Estimator();
  #outbox;
  #socket = null;
  #rate = 1;
  #epoch = null;
  #revision = null;
  #heard = 0;
  #asked = 0;
  #delay = FIRST_DELAY;
  #retry = null;
  #ask = null;
  #lostSince = performance.now();

  constructor({ role, topic, on }) {
    this.#hello = helloFrame({ role, topic });
    this.#on = on;
    const report = (entry, news) => on.news(entry.command.act, news, entry.command.id);
    this.#outbox = new Outbox(report, unsentStore(localStorage, topic));
  }

  /** Opens the socket and keeps it open. */
  start() {
    this.#outbox.restore();
    const early = takeEarly(this.#hello.topic);
    if (early) this.#use(early.socket, early.frames);
    else this.#connect();
    setInterval(() => this.#tick(), TICK);
    addEventListener("online", () => this.#hurry());
    document.addEventListener("visibilitychange", () => this.#wake());
  }

  /** Floor time, or null while nobody has said. */
  now() {
    return this.#clock.now(this.#own());
  }

  /** Floor milliseconds a real millisecond. */
  get rate() {
    return this.#rate;
  }

  /** Milliseconds since the link was lost; null while it is there. */
  lostFor() {
    return this.#lostSince === null ? null : performance.now() - this.#lostSince;
  }

  /** How many taps wait for the link. */
  get waiting() {
    return this.#outbox.waiting;
  }

  /** Whether a tap for the same thing waits for the link; of no tap it is false. */
  keeps(act) {
    return act !== undefined && this.#outbox.keeps(act);
  }

  /** Sends a tap, or keeps it. The same act already on its way is left alone. */
  tap(act) {
    if (this.#outbox.holds(act)) return;
    const at = this.now();
    if (at === null) return;
    this.#outbox.tap({ id: uuid(), at, act });
    this.#flush();
  }

  #own() {
    return performance.now() * this.#rate;
  }

  #connect() {
    this.#retry = null;
    this.#use(openSocket());
  }

  /** Speaks through a socket; one that was opened early has brought `frames`, and its hello is sent once it is open. */
  #use(socket, frames = []) {
    this.#socket = socket;
    this.#heard = performance.now();
    socket.onopen = () => {
      this.#heard = performance.now();
      this.#send(this.#hello);
    };
    socket.onmessage = ({ data }) => {
      this.#heard = performance.now();
      this.#take(JSON.parse(data));
    };
    socket.onclose = () => this.#lost();
    for (const data of frames) this.#take(JSON.parse(data));
  }

  #send(frame) {
    if (this.#socket?.readyState === WebSocket.OPEN) this.#socket.send(JSON.stringify(frame));
  }

  #lost() {
    if (this.#socket === null) return;
    this.#socket.onopen = this.#socket.onmessage = this.#socket.onclose = null;
    // A socket that hangs may take minutes to say that it is closed.
    this.#socket.close();
    this.#socket = null;
    clearTimeout(this.#ask);
    this.#lostSince ??= performance.now();
    this.#outbox.linkDown();
    const delay = navigator.onLine ? this.#delay : OFFLINE_DELAY;
    this.#retry = setTimeout(() => this.#connect(), delay * (0.75 + Math.random() / 4));
    this.#delay = Math.min(this.#delay * 2, LAST_DELAY);
  }

  #hurry() {
    if (this.#retry === null) return;
    clearTimeout(this.#retry);
    this.#connect();
  }

  /** Some devices stop the page's clock while they sleep: what it knew of the time is worth nothing then. */
  #wake() {
    if (document.visibilityState !== "visible") return;
    if (this.#rate > 0) this.#clock.forget();
    this.#hurry();
    if (this.#lostSince === null) this.#burst();
  }

  #burst() {
    clearTimeout(this.#ask);
    this.#asked = 0;
    this.#question();
  }

  #question() {
    this.#asked += 1;
    this.#send({ frame: "time", t1: Math.floor(this.#own()) });
    this.#ask = setTimeout(() => this.#question(), this.#asked < BURST ? BURST_EVERY : TIME_EVERY);
  }

  #take(frame) {
    switch (frame.frame) {
      case "welcome":
        return this.#welcome(frame);
      case "view":
        return this.#view(frame);
      case "answer":
        this.#outbox.answer(frame.id, frame.answer);
        return this.#flush();
      case "time":
        if (this.#rate > 0) {
          const own = this.#own();
          this.#clock.take(sampleFromStamps(frame.t1, frame.t2, frame.t3, own), own);
        }
        return undefined;
      case "clock":
        if (this.#rate === 0) this.#clock.set(frame.now, this.#own());
        return undefined;
      case "fault":
        return this.#on.fault(frame.fault);
      default:
        return undefined;
    }
  }

  #welcome({ epoch, rate, now }) {
    // At another rate the own clock stands elsewhere, so what was learned about it is void.
    if (rate !== this.#rate) this.#clock = new Estimator();
    if (epoch !== this.#epoch) this.#clock.forget();
    this.#rate = rate;
    this.#epoch = epoch;
    if (rate === 0) this.#clock.set(now, this.#own());
    this.#delay = FIRST_DELAY;
    this.#lostSince = null;
    this.#outbox.linkUp();
    this.#burst();
    this.#flush();
  }

  #view({ revision, view }) {
    if (!givesWayTo(this.#revision, revision)) return;
    this.#revision = revision;
    this.#on.view(view);
  }

  #flush() {
    for (const command of this.#outbox.toSend(performance.now())) this.#send({ frame: "command", ...command });
  }

  #tick() {
    this.#outbox.tick(performance.now());
    if (this.#socket === null) return;
    const limit = this.#socket.readyState === WebSocket.CONNECTING ? OPEN_WITHIN : SILENT_AFTER;
    if (performance.now() - this.#heard > limit) this.#lost();
  }
}
