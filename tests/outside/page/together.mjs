// Two coaches, one of them with two devices, tap the same thing at the same instant: who is on the way to a call and who is
// there, that clients have come, that a set is done, and that a group changes hands.
//
//   node together.mjs URL FOLDER
//
// URL is a server's whose clock is driven, FOLDER where pictures go. Ends with 0 when every page showed what came of it and
// nothing went wrong on one. What each page answered is printed as one JSON line, `{ told: { call: [text, text], ... } }`.

import { join } from "node:path";

import { CoachPage, moveClock, sayAtStation } from "./coach.mjs";
import { PHONE, TABLET, Found, launch } from "./pages.mjs";

const [url, folder] = process.argv.slice(2);
if (!url || !folder) throw new Error("usage: together.mjs URL FOLDER");

/** Long enough ahead that both pages know of it when the instant comes, in milliseconds. */
const AHEAD = 250;
/** A row with its two buttons takes no more pixels than this on a phone. */
const LINES = 180;
/** The clock is moved on by so much when nobody has anything to tap, in milliseconds, and so often at most. */
const STEP = 5_000;
const MOST_STEPS = 60;

const browser = await launch();
const found = new Found();
const floor = { browser, found, url };
const first = new CoachPage(floor, "coach-1", PHONE);
const second = new CoachPage(floor, "coach-2", TABLET);
const secondsPhone = new CoachPage(floor, "coach-2", PHONE, { colorScheme: "light" });
const told = {};

/** Both tap at one instant, without waiting for each other; what each page then says. */
async function both(name, taps) {
  for (const [coach] of taps) await coach.page.locator(".answer").evaluate((node) => (node.textContent = ""));
  const nodes = await Promise.all(taps.map(([, button]) => button.elementHandle()));
  const at = Date.now() + AHEAD;
  await Promise.all(nodes.map((node) => node.evaluate((button, then) => new Promise((done) => setTimeout(() => done(button.click()), then - Date.now())), at)));
  for (const [coach] of taps) await coach.until(() => document.querySelector(".answer").textContent !== "");
  told[name] = await Promise.all(taps.map(([coach]) => coach.answer()));
}

const main = (coach, card) => coach.card(card).locator(".card-main .act.main");

/** Somebody calls; both are on the way, and both are there. */
async function call() {
  const outcome = await sayAtStation(first, "row-1", { do: "call", station: 4, call: "coach_please" });
  if (outcome !== "accepted") throw new Error(`the call is ${outcome}`);
  const row = (coach) => coach.page.locator(".run-row[data-call=coach_please]");
  for (const coach of [first, second]) await row(coach).waitFor();
  // Read in one glance, and not over half of a phone.
  const { height } = await row(first).boundingBox();
  if (height > LINES) found.errors.push(`the row of a call is ${height} pixels high`);
  await found.look(first.shown);
  await found.axe(first.shown, "somebody calls");
  await first.page.screenshot({ path: join(folder, "call.png") });
  const answer = (coach) => row(coach).locator(".call-answer button");
  await both("on the way", [first, second].map((coach) => [coach, answer(coach)]));
  for (const coach of [first, second]) await coach.until(() => /is on the way/.test(document.querySelector(".run-row[data-call] .call-answer")?.textContent ?? ""));
  const attend = (coach) => row(coach).locator(".run-acts > .act");
  await both("there", [first, second].map((coach) => [coach, attend(coach)]));
  for (const coach of [first, second]) await row(coach).waitFor({ state: "detached" });
}

/** The second coach's group up to its first set under way; then both coaches say that it is done. */
async function done() {
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const [ask] = (await second.asked()).filter(({ card }) => card === "group-2");
    if (ask?.title === "Done") {
      await main(first, "group-2").filter({ hasText: "Done" }).waitFor();
      return both("done", [first, second].map((coach) => [coach, main(coach, "group-2")]));
    }
    if (ask) await tap(second, ask);
    else await moveClock(url, STEP);
  }
  throw new Error("no set was ever under way");
}

async function tap(coach, { card, title, detail }) {
  await coach.press(main(coach, card));
  await coach.until(
    ([id, ...said]) => said.join() !== [".act-title", ".act-detail"].map((name) => document.querySelector(`#${id} .card-main ${name}`)?.textContent).join(),
    [card, title, detail],
  );
}

/** Opens what can be said of a group, and sends one of its forms. */
async function handOver(coach, id) {
  const card = coach.card(id);
  for (const details of [card.locator("details.more"), card.locator(".sections > .section").last()]) {
    if (!(await details.evaluate((node) => node.open))) await details.locator("> summary").click();
  }
  const form = card.locator(".sections > .section").last().locator(".form", { hasText: "Hand over" }).first();
  await form.locator("summary").click();
  await form.locator(".form-go").click();
}

const isOf = (coach, id, mine) => coach.until(([card, wanted]) => document.getElementById(card).dataset.mine === wanted, [id, mine ? "yes" : "no"]);

try {
  await Promise.all([first.open(), second.open(), secondsPhone.open()]);
  await both("here", [first, second].map((coach) => [coach, main(coach, "group-1")]));
  await call();
  await done();
  // Offered, and taken by both devices of the coach who was asked.
  await handOver(first, "group-1");
  const accept = (coach) => main(coach, "group-1").filter({ hasText: /Take the group|Give the group/ });
  for (const coach of [second, secondsPhone]) await accept(coach).waitFor();
  await both("taken over", [second, secondsPhone].map((coach) => [coach, accept(coach)]));
  for (const coach of [second, secondsPhone]) await isOf(coach, "group-1", true);
  await isOf(first, "group-1", false);
  // Asked for, and given by the coach who has it.
  await handOver(first, "group-1");
  await second.press(accept(second));
  await isOf(first, "group-1", true);
  for (const coach of [second, secondsPhone]) await isOf(coach, "group-1", false);
  console.log(JSON.stringify({ told, errors: found.errors }));
} catch (error) {
  for (const coach of [first, second, secondsPhone]) {
    console.error(`${coach.key}: ${await coach.answer().catch(String)}`);
    await coach.page?.screenshot({ path: join(folder, `trouble-${coach.key}.png`), fullPage: true });
  }
  console.error(JSON.stringify(told));
  throw error;
} finally {
  await browser.close();
}
if (found.errors.length > 0) {
  console.error(found.errors.join("\n"));
  process.exitCode = 1;
}
