// Measures a coach's page in Chromium: bytes on the wire, the first picture on a slow phone, and how busy it keeps a core.
//
//   node measure.mjs URL [COACH] [SECONDS]
//
// URL is a running server's whose clock goes by itself. Run by hand, on a quiet machine; prints one JSON line.

import { PHONE, READ_FIRST, launch } from "./pages.mjs";

const [url, coach = "coach-1", seconds = "30"] = process.argv.slice(2);
if (!url) throw new Error("usage: measure.mjs URL [COACH] [SECONDS]");

/** A slow phone, as the page is throttled. */
const SLOWER = 4;
/** So many taps bring a dozen groups into their sets. */
const TAPS = 90;

const browser = await launch();

/** Opens the page with nothing kept from before; `{ page, wire, raw, drawn }` in bytes and milliseconds. */
async function opened(slower) {
  const context = await browser.newContext({ viewport: PHONE, locale: "en-GB" });
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  await devtools.send("Network.enable");
  await devtools.send("Performance.enable");
  await devtools.send("Emulation.setCPUThrottlingRate", { rate: slower });
  let [wire, raw] = [0, 0];
  devtools.on("Network.loadingFinished", (event) => (wire += event.encodedDataLength));
  devtools.on("Network.dataReceived", (event) => (raw += event.dataLength));
  const since = performance.now();
  await page.goto(`${url}/coach?me=${coach}`, { waitUntil: "commit" });
  await page.locator(".groups .card .line").first().waitFor();
  const drawn = performance.now() - since;
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
  const slow = await opened(SLOWER);
  await slow.page.close();
  const { page, devtools, wire, raw } = await opened(1);
  await begin(page);
  const before = await metrics(devtools);
  await page.waitForTimeout(Number(seconds) * 1000);
  const after = await metrics(devtools);
  const share = (name) => (100 * (after[name] - before[name])) / (after.Timestamp - before.Timestamp);
  const groups = await page.locator(".groups .card").count();
  const [round, tenth] = [(n) => Math.round(n), (n) => Math.round(n * 100) / 100];
  console.log(
    JSON.stringify({
      groups,
      wire,
      raw,
      firstPaintMs: round(slow.contentful),
      cardsDrawnMs: round(slow.drawn),
      scriptPercent: tenth(share("ScriptDuration")),
      taskPercent: tenth(share("TaskDuration")),
    }),
  );
} finally {
  await browser.close();
}
