// Half a minute of the floor without a link, on a clock that runs: the page goes on counting and says how old its knowledge
// is, keeps what may be late and refuses the rest, over a closed page too; with the link back it sends what it kept under the
// ids it had, and says what has become pointless. Then the device sleeps and wakes.
//
//   node offline.mjs URL FOLDER
//
// URL is a server's whose clock runs several times as fast as a wall's, FOLDER where pictures go. Ends with 0 when all was as
// it should be. `{ kept, sent, answers, apart }` is printed as one JSON line: the ids of the taps that were kept and that
// were sent, what the page answered, and by how many seconds two pages differ after one of them has slept.

import { join } from "node:path";

import { CoachPage } from "./coach.mjs";
import { PHONE, READ_FIRST, TABLET, Found, launch } from "./pages.mjs";

const [url, folder] = process.argv.slice(2);
if (!url || !folder) throw new Error("usage: offline.mjs URL FOLDER");

/** So long is the link away at least, by a wall's clock: half a minute of a floor that runs six times as fast. */
const AWAY = 5;
/** A device that sleeps for so long has missed more than a living link is silent, in milliseconds. */
const SLEEP = 5_000;
/** Once awake a page asks for the time so often within a second. */
const ASKS = 8;

const browser = await launch();
const found = new Found({ refused: true });
const floor = { browser, found, url };
const first = new CoachPage(floor, "coach-1", TABLET);
const second = new CoachPage(floor, "coach-2", PHONE);
const main = (coach) => coach.card("group-2").locator(".card-main .act.main");
const wrong = (what) => found.errors.push(what);

/** Taps what the second coach's group asks for, until a set of it is under way. */
async function toASet() {
  for (;;) {
    const [ask] = (await second.asked()).filter(({ card }) => card === "group-2");
    if (ask?.title === "Done") return;
    if (ask) {
      await second.press(main(second));
    }
    await second.page.waitForTimeout(READ_FIRST);
  }
}

const count = (coach) => coach.card("group-2").locator(".line .count").first().innerText();
const kept = () => second.page.evaluate(() => Object.keys(localStorage).filter((key) => key.startsWith("turnabout.unsent/")).map((key) => key.split("/").at(-1)));
const answered = (pattern) => second.until((source) => new RegExp(source).test(document.querySelector(".answer").textContent), pattern.source);

/** Without a link: what is counted, what is kept, what is not. */
async function away() {
  await second.cut();
  await second.page.locator(".top[data-link=lost]").waitFor();
  const before = await count(second);
  await second.until(([text]) => document.querySelector("#group-2 .line .count").textContent !== text, [before]);
  await second.card("group-2").locator(".hold button").first().click();
  await answered(/^Pause.*: not sent\. /);
  if ((await kept()).length > 0) wrong("a pause is kept");
  await main(second).click();
  await answered(/^Done, Chidi.*: Kept\./);
  await second.page.locator(".foot > .section > summary").first().click();
  const form = second.page.locator(".foot .form", { hasText: "Call" }).first();
  await form.locator("summary").click();
  await form.locator(".form-go").click();
  await answered(/^Call.*: Kept\./);
  await second.until((secs) => {
    const text = document.querySelector(".link-state").textContent;
    const [, ago] = text.match(/last heard 0:(\d\d) ago/) ?? [];
    return Number(ago) >= secs && /not sent yet: 2/.test(text);
  }, AWAY);
  await found.look(second.shown);
  await found.axe(second.shown, "the link is lost");
  await second.page.screenshot({ path: join(folder, "offline.png") });
  return kept();
}

/** Another coach says meanwhile that the set is done, and the page is closed and opened again. */
async function back() {
  await main(first).click();
  await first.until(() => /^Done, Chidi.*: Saved\.$/.test(document.querySelector(".answer").textContent));
  await second.page.close();
  second.sent.length = 0;
  second.mend();
  // Every answer is read, however short a time it stands there.
  await second.context.addInitScript(() => {
    globalThis.answers = [];
    new MutationObserver(() => {
      const text = document.querySelector(".answer")?.textContent;
      if (text && globalThis.answers.at(-1) !== text) globalThis.answers.push(text);
    }).observe(document, { childList: true, characterData: true, subtree: true });
  });
  await second.open();
  await second.until(() => globalThis.answers.filter((text) => !/: Kept\./.test(text)).length >= 2);
  await second.page.locator(".run-row[data-call]").waitFor();
  await first.page.locator(".run-row[data-call]").waitFor();
  return second.page.evaluate(() => globalThis.answers);
}

/** Seconds as a count reads: `+1:05`. */
const secondsOf = (text) => text.replace(/[^\d:]/g, "").split(":").reduce((all, part) => all * 60 + Number(part), 0);

/** The device sleeps: no timer and no frame reaches the page. Awake it asks for the time and shows what others show. */
async function sleepAndWake() {
  const devtools = await second.context.newCDPSession(second.page);
  await devtools.send("Page.setWebLifecycleState", { state: "frozen" });
  await new Promise((done) => setTimeout(done, SLEEP));
  second.sent.length = 0;
  await devtools.send("Page.setWebLifecycleState", { state: "active" });
  await second.page.evaluate(() => document.dispatchEvent(new Event("visibilitychange")));
  await second.page.waitForTimeout(1000);
  const asks = second.sent.filter(({ frame }) => frame === "time").length;
  if (asks < ASKS) wrong(`awake, the page asks for the time ${asks} times`);
  const [here, there] = await Promise.all([count(second), count(first)]);
  return Math.abs(secondsOf(here) - secondsOf(there));
}

try {
  await Promise.all([first.open(), second.open()]);
  await toASet();
  const waits = await away();
  const answers = await back();
  const sent = second.sent.filter(({ frame }) => frame === "command").map(({ id }) => id);
  const left = await kept();
  if (left.length > 0) wrong(`still kept: ${left}`);
  const apart = await sleepAndWake();
  console.log(JSON.stringify({ kept: waits, sent, answers, apart, errors: found.errors }));
} catch (error) {
  for (const coach of [first, second]) {
    console.error(`${coach.key}: ${await coach.answer().catch(String)}`);
    await coach.page?.screenshot({ path: join(folder, `trouble-${coach.key}.png`), fullPage: true }).catch(String);
  }
  throw error;
} finally {
  await browser.close();
}
if (found.errors.length > 0) {
  console.error(found.errors.join("\n"));
  process.exitCode = 1;
}
