// Measures a coach's page in Chromium: bytes on the wire, the first picture on a slow phone, how soon a tap is answered, and
// how busy the page keeps a core.
//
//   node measure.mjs URL [COACH] [SECONDS] [FOLDER]
//
// URL is a running server's whose clock goes by itself, FOLDER lies on the disk of its journal. Run by hand, on a quiet
// machine; prints one JSON line.

import { closeSync, fdatasyncSync, openSync, unlinkSync, writeSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { PHONE, READ_FIRST, launch } from "./pages.mjs";

const [url, coach = "coach-1", seconds = "30", folder = tmpdir()] = process.argv.slice(2);
if (!url) throw new Error("usage: measure.mjs URL [COACH] [SECONDS]");

/** A slow phone, as the page is throttled. */
const SLOWER = 4;
/** How often the page is opened on it, with nothing kept from before. */
const LOOKS = 9;
/** Bare commits that are timed: as many as there are taps, and no more than a second or two of them. */
const COMMITS = 100;
/** Bytes of one: a page of SQLite's log with its header. */
const PAGE = 4096 + 24;
/** So many taps bring a dozen groups into their sets. */
const TAPS = 90;

const browser = await launch();

/** In the page: when it was tapped, when a command and a question of the time went, and when each was answered. */
function timed() {
  const open = new Map();
  let tapped = 0;
  globalThis.times = { tap: [], ask: [] };
  addEventListener("click", ({ timeStamp }) => (tapped = timeStamp), true);
  const done = (key, list) => {
    if (open.has(key)) list.push(performance.now() - open.get(key));
    open.delete(key);
  };
  globalThis.WebSocket = class extends WebSocket {
    constructor(...where) {
      super(...where);
      this.addEventListener("message", ({ data }) => {
        const frame = JSON.parse(data);
        if (frame.frame === "answer") done(frame.id, globalThis.times.tap);
        if (frame.frame === "time") done(frame.t1, globalThis.times.ask);
      });
    }
    send(data) {
      const frame = JSON.parse(data);
      if (frame.frame === "command") open.set(frame.id, tapped);
      if (frame.frame === "time") open.set(frame.t1, performance.now());
      super.send(data);
    }
  };
}

/** In the page: when the first line of a card was drawn, counted as the browser counts its first paint. */
function watched() {
  const drawn = new MutationObserver(() => {
    if (document.querySelector(".groups .card .line") === null) return;
    globalThis.drawn = performance.now();
    drawn.disconnect();
  });
  drawn.observe(document, { childList: true, subtree: true });
}

const sorted = (list) => [...list].sort((a, b) => a - b);
const share = (list, part) => sorted(list)[Math.min(Math.floor(list.length * part), list.length - 1)];

/** How long a bare append takes until it is durable, in milliseconds. */
function commits() {
  const path = join(folder, `measure-${process.pid}`);
  const file = openSync(path, "w");
  const page = Buffer.alloc(PAGE);
  const took = Array.from({ length: COMMITS }, () => {
    const since = performance.now();
    writeSync(file, page);
    fdatasyncSync(file);
    return performance.now() - since;
  });
  closeSync(file);
  unlinkSync(path);
  return took;
}

/** Opens the page with nothing kept from before; `{ page, wire, raw, drawn }` in bytes and milliseconds. */
async function opened(slower) {
  const context = await browser.newContext({ viewport: PHONE, locale: "en-GB" });
  const page = await context.newPage();
  await page.addInitScript(timed);
  await page.addInitScript(watched);
  const devtools = await context.newCDPSession(page);
  await devtools.send("Network.enable");
  await devtools.send("Performance.enable");
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: slower });
  let [wire, raw] = [0, 0];
  devtools.on("Network.loadingFinished", (event) => (wire += event.encodedDataLength));
  devtools.on("Network.dataReceived", (event) => (raw += event.dataLength));
  await page.goto(`${url}/coach?me=${coach}`, { waitUntil: "commit" });
  await page.locator(".groups .card .line").first().waitFor();
  const drawn = await page.evaluate(() => globalThis.drawn);
  const contentful = await page.evaluate(
    () => new Promise((done) => new PerformanceObserver((list) => done(list.getEntries()[0].startTime)).observe({ type: "paint", buffered: true })),
  );
  return { page, devtools, wire, raw, drawn, contentful };
}

/** Taps what the cards ask for, so that sets are under way and clients rest. */
async function begin(page) {
  const button = page.locator(".groups .card-main .act.main:not([aria-disabled]):visible");
  for (let n = 0; n < TAPS && (await button.count()) > 0; n += 1) {
    await page.waitForTimeout(READ_FIRST);
    await button.nth(n % (await button.count())).click({ timeout: 2000 }).catch(() => {});
  }
}

async function metrics(devtools) {
  const { metrics: all } = await devtools.send("Performance.getMetrics");
  return Object.fromEntries(all.map(({ name, value }) => [name, value]));
}

try {
  const slow = [];
  for (let n = 0; n < LOOKS; n += 1) {
    slow.push(await opened(SLOWER));
    await slow[n].page.close();
  }
  const { page, devtools, wire, raw } = await opened(1);
  await begin(page);
  const { tap, ask } = await page.evaluate(() => globalThis.times);
  const commit = commits();
  const before = await metrics(devtools);
  await page.waitForTimeout(Number(seconds) * 1000);
  const after = await metrics(devtools);
  const busy = (name) => (100 * (after[name] - before[name])) / (after.Timestamp - before.Timestamp);
  const groups = await page.locator(".groups .card").count();
  const tenth = (n) => Math.round(n * 100) / 100;
  // The lowest, the middle one and the highest.
  const middle = (list) => [0, 0.5, 1].map((part) => Math.round(share(list, part)));
  console.log(
    JSON.stringify({
      groups,
      wire,
      raw,
      firstPaintMs: middle(slow.map(({ contentful }) => contentful)),
      cardsDrawnMs: middle(slow.map(({ drawn }) => drawn)),
      taps: tap.length,
      tapMs: [tenth(share(tap, 0.5)), tenth(share(tap, 0.95))],
      roundTripMs: [tenth(share(ask, 0.5)), tenth(share(ask, 0.95))],
      commitMs: [tenth(share(commit, 0.5)), tenth(share(commit, 0.95))],
      scriptPercent: tenth(busy("ScriptDuration")),
      taskPercent: tenth(busy("TaskDuration")),
    }),
  );
} finally {
  await browser.close();
}
