// A coach's page for somebody who does not see it, cannot use a mouse, or wants nothing to move: through a set, with what comes
// on the way.
//
//   node access.mjs URL
//
// URL is a server's whose clock is driven. Ends with 0 when nothing ran by itself, the tree that a screen reader is given had
// everything in its order, what is read out did not count, the keyboard was never lost, and every target was large enough.
// `{ looks, order, minute, all, kept, targets }` is printed as one JSON line: how often running motion was looked for, the page
// in reading order, what was read out in a minute of counting and in all, and which controls had the keyboard before and after
// what happened.

import { CoachPage, moveClock, sayAtStation } from "./coach.mjs";
import { PHONE, READ_FIRST, TABLET, Found, launch } from "./pages.mjs";

const [url] = process.argv.slice(2);
if (!url) throw new Error("usage: access.mjs URL");

/** The clock is moved on by so much when nobody has anything to tap, in milliseconds, and so often at most. */
const STEP = 5_000;
const MOST_STEPS = 60;
/** A page draws four times a second; after so many milliseconds it has. */
const DRAWN = 300;
const MINUTE = 60;
/** So many views come while the keyboard stays where it is. */
const VIEWS = 10;

const browser = await launch();
const found = new Found();
const floor = { browser, found, url };
const first = new CoachPage(floor, "coach-1", PHONE, { reducedMotion: "reduce" });
const second = new CoachPage(floor, "coach-2", TABLET, { reducedMotion: "reduce" });
const { errors } = found;
let looks = 0;

/** Nothing moves by itself. */
async function still(when) {
  const running = await first.page.evaluate(() => document.getAnimations().map((one) => `${one.animationName ?? one.transitionProperty} of ${one.effect.target.className}`));
  looks += 1;
  if (running.length > 0) errors.push(`${when}: ${running.join()}`);
}

/** What a screen reader is given, as `role: name`, from the page's top on. */
async function reading(coach) {
  const devtools = await coach.context.newCDPSession(coach.page);
  const { nodes } = await devtools.send("Accessibility.getFullAXTree");
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const read = (node) => [
    ...(node.ignored || ["InlineTextBox", "none", "generic"].includes(node.role?.value) ? [] : [`${node.role.value}: ${node.name?.value ?? ""}`]),
    ...(node.childIds ?? []).flatMap((id) => read(byId.get(id))),
  ];
  await devtools.detach();
  return read(nodes[0]);
}

/** The places of what is looked for are there, each after the one before. */
function inOrder(lines, wanted, what) {
  let at = -1;
  for (const one of wanted) {
    const next = lines.findIndex((line, n) => n > at && one.test(line));
    if (next < 0) return errors.push(`${what}: ${one} does not come after the ${at + 1} lines before: ${lines.join(" | ")}`);
    at = next;
  }
  return undefined;
}

const main = (coach, card) => coach.card(card).locator(".card-main .act.main");

/** Taps what a group's card asks for until it asks for this; by the keyboard, which stays on the card. */
async function until(coach, id, wanted) {
  for (let step = 0; step < MOST_STEPS; step += 1) {
    const [ask] = (await coach.asked()).filter(({ card }) => card === id);
    if (ask?.title === wanted) return;
    if (ask) {
      await main(coach, id).press("Enter");
      await coach.page.waitForTimeout(READ_FIRST);
    } else await moveClock(url, STEP);
    await coach.page.waitForTimeout(DRAWN);
    if (coach === first) await still(`on the way to ${wanted}`);
  }
  throw new Error(`${id} never asks for ${wanted}`);
}

/** The control that has the keyboard, as its words. */
const focused = (coach) => coach.page.evaluate(() => (document.activeElement === document.body ? null : document.activeElement.textContent.trim() || document.activeElement.tagName));

const kept = {};
async function stays(name, coach, happens) {
  const before = await focused(coach);
  await happens();
  await coach.page.waitForTimeout(DRAWN);
  kept[name] = [before, await focused(coach)];
  if (kept[name][1] === null) errors.push(`${name}: ${before} had the keyboard, and now nothing has`);
}

/** Ten views of other things come while a button has the keyboard. */
async function viewsCome() {
  const button = first.card("group-3").locator(".card-main .act.main");
  await button.focus();
  await stays("ten views", first, async () => {
    for (let n = 0; n < VIEWS; n += 1) {
      const said = n % 2 ? { do: "end_other_use", station: 4 } : { do: "other_use", station: 4, minutes: 10 };
      const outcome = await sayAtStation(second, await stationKey(4), said);
      if (outcome !== "accepted") errors.push(`${said.do}: ${outcome}`);
    }
  });
  if (kept["ten views"][0] !== kept["ten views"][1]) errors.push(`the keyboard moved: ${kept["ten views"]}`);
}

async function stationKey(number) {
  const answer = await fetch(`${url}/floor.json`);
  return (await answer.json()).stations[number - 1].key;
}

/** A call is answered and attended to by the keyboard alone, and each button goes when it has been pressed. */
async function callByKeys() {
  const outcome = await sayAtStation(second, "bench-1", { do: "call", station: 1, call: "coach_please" });
  if (outcome !== "accepted") errors.push(`the call: ${outcome}`);
  const row = first.page.locator(".run-row[data-call]");
  await row.waitFor();
  await found.look(first.shown);
  await row.locator(".call-answer button").focus();
  await stays("on the way", first, async () => {
    await first.page.keyboard.press("Enter");
    await row.locator(".call-answer button").waitFor({ state: "hidden" });
  });
  await row.locator(".run-acts > .act").focus();
  await stays("there", first, async () => {
    await first.page.keyboard.press("Enter");
    await row.waitFor({ state: "detached" });
  });
}

/** Notes everything that is read out from now on. */
const listen = () =>
  first.page.evaluate(() => {
    globalThis.said = [];
    const live = "[aria-live]:not([aria-live=off]), [role=status], [role=alert], output";
    const text = (node) => (node.nodeType === Node.ELEMENT_NODE ? node : node.parentElement)?.closest(live);
    new MutationObserver((changes) => {
      for (const node of new Set(changes.map(({ target }) => text(target)).filter(Boolean))) globalThis.said.push(node.textContent);
    }).observe(document.body, { childList: true, characterData: true, subtree: true });
  });

const heard = () => first.page.evaluate(() => globalThis.said.filter(Boolean));

/** What is read out while a minute goes by. */
async function aMinute() {
  const already = (await heard()).length;
  const count = () => first.card("group-1").locator(".line .count").first().innerText();
  const before = await count();
  for (let second = 0; second < MINUTE; second += 1) {
    await moveClock(url, 1000);
    if (second % 10 === 0) await still("a minute goes by");
    await first.page.waitForTimeout(DRAWN / 3);
  }
  await first.page.waitForTimeout(DRAWN);
  if ((await count()) === before) errors.push(`nothing counted: ${before}`);
  const said = (await heard()).slice(already);
  // The same words with another figure are a clock that is read out.
  const words = said.map((text) => text.replace(/[\d:+]+/g, "#"));
  if (new Set(words).size !== words.length) errors.push(`read out again and again: ${said.join(" | ")}`);
  return said;
}

try {
  await Promise.all([first.open(), second.open()]);
  await first.page.locator(".foot").waitFor();
  await listen();
  await viewsCome();
  await main(first, "group-1").focus();
  await until(first, "group-1", "Go");
  await callByKeys();
  const order = await reading(first);
  inOrder(order, [/^heading: Who needs me next/, /^(link|button).*Bram/, /^main/], "the page");
  const card = order.slice(order.findIndex((line) => line.startsWith("main")));
  inOrder(card, [/^heading: Bram/, /^StaticText: Bram$/, /^timer/, /^button: Go/, /More/, /^button: Pause, Bram/, /^heading: Dara, Edda/], "a card");
  await stays("go", first, () => main(first, "group-1").press("Enter"));
  await until(first, "group-1", "Done");
  const said = await aMinute();
  await stays("done", first, () => main(first, "group-1").press("Enter"));
  const all = await heard();
  for (const wanted of [/^Arrived, Bram: Saved\.$/, /^Next: Bram, Bench 1/, /Coach, please, Bench 1$/, /^On my way: Saved\.$/]) {
    if (!all.some((text) => wanted.test(text))) errors.push(`${wanted} is not read out: ${all.join(" | ")}`);
  }
  await found.openAll(first.shown);
  await found.look(first.shown);
  await still("the set is over");
  console.log(JSON.stringify({ looks, order, minute: said, all, kept, targets: found.targets, errors }));
} catch (error) {
  for (const coach of [first, second]) console.error(`${coach.key}: ${await coach.answer().catch(String)}`);
  console.error(errors.join("\n"));
  throw error;
} finally {
  await browser.close();
}
if (errors.length > 0) {
  console.error(errors.join("\n"));
  process.exitCode = 1;
}
