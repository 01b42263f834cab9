// A coach's page in a browser of its own, whose link can be cut, and what else a floor hears: its clock and its stations.

import { READ_FIRST } from "./pages.mjs";

/** Moves a driven clock by so many milliseconds. */
export async function moveClock(url, by) {
  const answer = await fetch(`${url}/clock/advance`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ by_ms: by }),
  });
  if (!answer.ok) throw new Error(`the clock: ${answer.status} ${await answer.text()}`);
}

/** One coach with a page. `floor` is `{ browser, found, url }`. */
export class CoachPage {
  #floor;
  #sockets = [];
  #cut = false;
  /** The frames that the page has sent. */
  sent = [];

  constructor(floor, key, viewport, more = {}) {
    this.#floor = floor;
    Object.assign(this, { key, viewport, more });
  }

  /** Opens the page; once more in the same browser, where it was open before. */
  async open() {
    const { browser, found, url } = this.#floor;
    if (!this.context) {
      this.context = await browser.newContext({ viewport: this.viewport, locale: "en-GB", ...this.more });
      // Sockets go through here, because a browser that is told to be offline keeps those it has.
      await this.context.routeWebSocket(/\/socket$/, (socket) => {
        if (this.#cut) return socket.close();
        const server = socket.connectToServer();
        socket.onMessage((message) => {
          if (this.#cut) return;
          this.sent.push(JSON.parse(message));
          server.send(message);
        });
        this.#sockets.push(socket, server);
        return undefined;
      });
    }
    this.shown = await found.openIn(this.context, url, `/coach?me=${this.key}`, this.viewport);
    this.page = this.shown.page;
    await this.page.locator(".groups .card").first().waitFor();
  }

  async cut() {
    this.#cut = true;
    await Promise.all(this.#sockets.splice(0).map((socket) => socket.close()));
  }

  mend() {
    this.#cut = false;
  }

  /** What the large buttons of the own cards ask for now: `{ card, title, detail, felt }`. */
  asked() {
    return this.page.evaluate(() => {
      // What is scrolled out of sight may not be laid out yet.
      const there = (node) => node.closest("[hidden]") === null;
      const free = (node) => there(node) && node.getAttribute("aria-disabled") !== "true";
      return [...document.querySelectorAll(".groups .card[data-mine=yes]")].flatMap((card) => {
        const felt = [...card.querySelectorAll(".card-main .felt-act")].filter(free).length > 0;
        const main = [...card.querySelectorAll(".card-main .act.main")].find(free);
        if (!felt && !main) return [];
        const title = main?.querySelector(".act-title").textContent ?? card.querySelector(".felt-label").textContent;
        const detail = main?.querySelector(".act-detail").textContent ?? "";
        return [{ card: card.id, title, detail, felt }];
      });
    });
  }

  /** Taps a button once it has been there for as long as it takes to read it: one that has just changed takes no tap. */
  async press(button) {
    await button.waitFor();
    await this.page.waitForTimeout(READ_FIRST);
    await button.click();
  }

  /** Whether a card asks for this and nothing else. */
  asks = async (card, title, detail) => (await this.asked()).some((one) => one.card === card && one.title === title && one.detail === detail);
  card = (id) => this.page.locator(`#${id}`);
  answer = () => this.page.locator(".answer").innerText();
  until = (check, argument) => this.page.waitForFunction(check, argument);
}

/** Says something as a station's display would, from another page in the browser of a coach; how the floor answers. */
export async function sayAtStation(coach, station, act) {
  const page = await coach.context.newPage();
  await page.goto(new URL("/", coach.page.url()).href);
  const outcome = await page.evaluate(
    ([key, said]) =>
      new Promise((done, failed) => {
        const socket = new WebSocket(`ws://${location.host}/socket`);
        const send = (frame) => socket.send(JSON.stringify(frame));
        socket.onerror = failed;
        socket.onopen = () =>
          send({ frame: "hello", protocol: 2, device: crypto.randomUUID(), role: { is: "station", stations: [key] }, topic: `station/${key}` });
        socket.onmessage = ({ data }) => {
          const frame = JSON.parse(data);
          if (frame.frame === "welcome") send({ frame: "command", id: crypto.randomUUID(), at: frame.now, act: said });
          if (frame.frame === "answer") done(frame.answer.outcome);
          if (frame.frame === "fault") failed(new Error(JSON.stringify(frame)));
        };
      }),
    [station, act],
  );
  await page.close();
  return outcome;
}
