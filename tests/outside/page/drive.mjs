// Drives the pages in Chromium against a running server: a phone held upright, one card, one tap; an incident written
// down, printed and erased; and the board and the first page looked at.
//
//   node drive.mjs URL PICTURE [COACH]
//
// URL is the server's (`http://127.0.0.1:8080`), PICTURE the PNG to write, COACH a key (`coach-1`). Ends with 0
// when a card was there, its large button could be tapped, the page changed because of it, nothing on any page
// ran off sideways or was too small for a finger, and nothing broke the pages' policy or was logged as an error.
// What went on is printed as one JSON line.

import { createRequire } from "node:module";
import { join } from "node:path";

const [url, picture, coach = "coach-1"] = process.argv.slice(2);
if (!url || !picture) throw new Error("usage: drive.mjs URL PICTURE [COACH]");

/** Long enough for a loaded build machine, short enough that a hang is seen. */
const PATIENCE = 30_000;
/** A button that has just changed takes no tap, so that nobody hits what was not read. */
const READ_FIRST = 400;
/** WCAG 2.2, 2.5.5: a target is at least 44 by 44 CSS pixels. */
const TARGET = 44;
const PHONE = { width: 360, height: 740 };
const WALL = { width: 1920, height: 1080 };

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
let targets = 0;

/** Opens a page of the server on a screen of its own and notes whatever goes wrong on it. */
async function open(path, viewport) {
  const context = await browser.newContext({ viewport, locale: "en-GB" });
  const page = await context.newPage();
  const at = `${path} at ${viewport.width}x${viewport.height}`;
  page.setDefaultTimeout(PATIENCE);
  // A breach of the policy is logged as an error too.
  page.on("console", (message) => message.type() === "error" && errors.push(`${at}: ${message.text()}`));
  page.on("pageerror", (error) => errors.push(`${at}: ${error}`));
  const answer = await page.goto(url + path);
  const policy = answer.headers()["content-security-policy"] ?? "";
  if (!policy.includes("default-src") || policy.includes("unsafe")) errors.push(`${at}: the policy is "${policy}"`);
  return { page, at };
}

/** Nothing runs off sideways, and whatever can be tapped is large enough. */
async function look({ page, at }) {
  const found = await page.evaluate(() => ({
    wide: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    targets: [...document.querySelectorAll("button, a, select, summary, input, textarea")]
      .map((node) => ({ name: node.textContent.trim().slice(0, 40), box: node.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && box.height > 0)
      .map(({ name, box }) => ({ name, width: box.width, height: box.height })),
  }));
  if (found.wide > 0) errors.push(`${at}: ${found.wide} pixels run off`);
  targets += found.targets.length;
  for (const { name, width, height } of found.targets) {
    if (Math.min(width, height) < TARGET) errors.push(`${at}: ${name} is ${width} by ${height}`);
  }
}

/** Taps the large button of the first card, and sees that it counted and that the card asks for something else. */
async function tapOnce(phone) {
  const { page, at } = phone;
  const button = page.locator(".card[data-mine=yes] .card-main .act.main:not([aria-disabled])").first();
  await button.waitFor();
  await page.waitForTimeout(READ_FIRST);
  await look(phone);
  const tapped = await button.innerText();
  await button.click();
  await page.waitForFunction(() => document.querySelector(".answer")?.textContent.includes(":") ?? false);
  const answer = await page.locator(".answer").innerText();
  if ((await page.locator(".answer").getAttribute("data-bad")) === "yes") errors.push(`${at}: refused: ${answer}`);
  await page.waitForFunction(
    (text) => ![...document.querySelectorAll(".card-main .act.main")].some((node) => node.innerText === text),
    tapped,
  );
  await look(phone);
  // A chooser of stations and the other taps are one level down.
  await page.evaluate(() => document.querySelectorAll("details").forEach((node) => (node.open = true)));
  await look(phone);
  return { tapped, answer };
}

const INCIDENT = "A collar slipped at the third repetition.";

/** Writes an incident down, looks at its sheet, and erases it: the first tap only asks. Every section is open. */
async function writeAndErase(phone) {
  const { page, at } = phone;
  const form = page.locator(".foot > .section .form").last();
  await form.locator("select").last().selectOption("page_about_incident");
  await form.locator("textarea").fill(INCIDENT);
  await form.locator(".form-go").click();
  const text = page.locator(".note .note-text").first();
  await text.waitFor();
  if ((await text.innerText()) !== INCIDENT) errors.push(`${at}: the note says ${await text.innerText()}`);
  const sheet = await open(await page.locator(".note a").first().getAttribute("href"), PHONE);
  await sheet.page.locator(".sheet-signs").waitFor();
  if ((await sheet.page.locator(".sheet-text").innerText()) !== INCIDENT) errors.push(`${sheet.at}: not all of it`);
  await look(sheet);
  const pdf = await sheet.page.pdf({ preferCSSPageSize: true });
  const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length;
  if (pages !== 1) errors.push(`${sheet.at}: ${pages} sheets of paper`);
  const erase = page.locator(".note .note-acts button").first();
  await erase.click();
  if ((await text.innerText()) !== INCIDENT) errors.push(`${at}: one tap erases`);
  await erase.click();
  await page.locator(".note[data-erased=yes]").waitFor();
  await look(phone);
}

try {
  const phone = await open(`/coach?me=${coach}`, PHONE);
  const { tapped, answer } = await tapOnce(phone);
  await writeAndErase(phone);
  await phone.page.evaluate(() => window.scrollTo(0, 0));
  await phone.page.screenshot({ path: picture });
  for (const viewport of [PHONE, WALL]) {
    const board = await open("/board", viewport);
    await board.page.locator(".line .name").first().waitFor();
    await look(board);
    const first = await open("/", viewport);
    await first.page.locator("#kiosks li").first().waitFor();
    await look(first);
  }
  console.log(JSON.stringify({ tapped, answer, targets, errors }));
} finally {
  await browser.close();
}
if (errors.length > 0) {
  console.error(errors.join("\n"));
  process.exitCode = 1;
}
