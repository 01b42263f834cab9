// Drives the pages in Chromium against a running server: a phone held upright, one card, one tap; an incident written
// down, printed and erased; and the board and the first page looked at.
//
//   node drive.mjs URL PICTURE [COACH]
//
// URL is the server's (`http://127.0.0.1:8080`), PICTURE the PNG to write, COACH a key (`coach-1`). Ends with 0
// when a card was there, its large button could be tapped, the page changed because of it, nothing on any page
// ran off sideways or was too small for a finger, axe-core found nothing, and nothing broke the pages' policy or was logged as an error.
// What went on is printed as one JSON line.

import { PHONE, READ_FIRST, WALL, Found, launch } from "./pages.mjs";

const [url, picture, coach = "coach-1"] = process.argv.slice(2);
if (!url || !picture) throw new Error("usage: drive.mjs URL PICTURE [COACH]");

const browser = await launch();
const found = new Found();
const { errors } = found;
const open = (path, viewport) => found.open(browser, url, path, viewport);
const look = (shown) => found.look(shown);

/** Taps the large button of the first card, and sees that it counted and that the card asks for something else. */
async function tapOnce(phone) {
  const { page, at } = phone;
  const button = page.locator(".card[data-mine=yes] .card-main .act.main:not([aria-disabled])").first();
  await button.waitFor();
  await page.waitForTimeout(READ_FIRST);
  await look(phone);
  await found.axe(phone, "before the first tap");
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
  await found.openAll(phone);
  await look(phone);
  await found.axe(phone, "all opened");
  return { tapped, answer };
}

/** What a page is preloaded with it takes from there, and the socket that is opened early is the one it keeps. */
function askedOnce({ at, asked }) {
  for (const path of [/^\/text\//, /^\/socket$/, /early\.js$/, /below\.js$/]) {
    const times = asked.filter((one) => path.test(one)).length;
    if (times !== 1) errors.push(`${at}: ${path} is asked for ${times} times`);
  }
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
  await found.axe(sheet, "an incident");
  const pages = await found.sheets(sheet);
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
  askedOnce(phone);
  await writeAndErase(phone);
  await phone.page.evaluate(() => window.scrollTo(0, 0));
  await phone.page.screenshot({ path: picture });
  for (const viewport of [PHONE, WALL]) {
    const board = await open("/board", viewport);
    await board.page.locator(".line .name").first().waitFor();
    await look(board);
    await found.axe(board, "as it opens");
    const first = await open("/", viewport);
    await first.page.locator("#kiosks li").first().waitFor();
    await look(first);
    await found.axe(first, "as it opens");
  }
  console.log(JSON.stringify({ tapped, answer, targets: found.targets, rules: found.rules, errors }));
} finally {
  await browser.close();
}
if (errors.length > 0) {
  console.error(errors.join("\n"));
  process.exitCode = 1;
}
