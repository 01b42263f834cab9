// Drives the coach page in Chromium against a running server: a phone held upright, one card, one tap.
//
//   node drive.mjs URL PICTURE [COACH]
//
// URL is the server's (`http://127.0.0.1:8080`), PICTURE the PNG to write, COACH a key (`coach-1`). Ends with 0
// when a card was there, its large button could be tapped, the page changed because of it, and nothing broke the
// page's policy or was logged as an error. What went on is printed as one JSON line.

import { createRequire } from "node:module";
import { join } from "node:path";

const [url, picture, coach = "coach-1"] = process.argv.slice(2);
if (!url || !picture) throw new Error("usage: drive.mjs URL PICTURE [COACH]");

/** Long enough for a loaded build machine, short enough that a hang is seen. */
const PATIENCE = 30_000;
/** A button that has just changed takes no tap, so that nobody hits what was not read. */
const READ_FIRST = 400;

// `NODE_PATH` does not hold for modules, so the packages are found by their folder.
const modules = process.env.TURNABOUT_OUTSIDE_NODE_MODULES ?? join(process.cwd(), "node_modules");
const { chromium } = createRequire(join(modules, "drive.cjs"))("playwright-core");

const browser = await chromium.launch({
  executablePath: process.env.TURNABOUT_CHROMIUM ?? "/usr/bin/chromium",
  args: [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
});

const errors = [];
try {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 }, locale: "en-GB" });
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE);
  // A breach of the policy is logged as an error too.
  page.on("console", (message) => message.type() === "error" && errors.push(message.text()));
  page.on("pageerror", (error) => errors.push(String(error)));
  await page.goto(`${url}/coach?me=${coach}`);
  const button = page.locator(".card[data-mine=yes] .card-main .act.main:not([aria-disabled])").first();
  await button.waitFor();
  await page.waitForTimeout(READ_FIRST);
  const tapped = await button.innerText();
  await button.click();
  await page.waitForFunction(
    () => document.querySelector(".answer")?.textContent.includes(":") ?? false,
    undefined,
    { timeout: PATIENCE },
  );
  const answer = await page.locator(".answer").innerText();
  const refused = (await page.locator(".answer").getAttribute("data-bad")) === "yes";
  await page.waitForFunction(
    (text) => ![...document.querySelectorAll(".card-main .act.main")].some((node) => node.innerText === text),
    tapped,
    { timeout: PATIENCE },
  );
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  await page.screenshot({ path: picture });
  console.log(JSON.stringify({ tapped, answer, refused, wide, errors }));
  if (refused) errors.push(`refused: ${answer}`);
  if (wide > 360) errors.push(`the page is ${wide} pixels wide`);
} finally {
  await browser.close();
}
if (errors.length > 0) {
  console.error(errors.join("\n"));
  process.exitCode = 1;
}
