// Two coaches take three groups through a whole evening, each in a browser of their own, by the large button of the
// cards and nothing else; and on the way what an evening brings: a tap taken back, a set put right, a stop, a call for
// help, a lost link and a page that is closed meanwhile. Before anybody has come and when all is over the sheets of paper
// of one group are opened from its card.
//
//   node evening.mjs URL FOLDER
//
// URL is a server's whose clock is driven, FOLDER where pictures go. Ends with 0 when every group has finished and
// nothing went wrong on a page. What was tapped is printed as one JSON line: `taps` are `[coach, title, seconds of the
// evening]`, `papers` how many sheets of paper each page takes, `csv` the file of sets.

import { readFileSync } from "node:fs";
import { join } from "node:path";

import { CoachPage, moveClock, sayAtStation } from "./coach.mjs";
import { PHONE, READ_FIRST, TABLET, Found, launch } from "./pages.mjs";

const [url, folder] = process.argv.slice(2);
if (!url || !folder) throw new Error("usage: evening.mjs URL FOLDER");

/** The clock is moved on by so much when nobody has anything to tap, in milliseconds. */
const STEP = 5_000;
/** An evening that takes more steps than this does not end. */
const MOST_STEPS = 400;
/** So often, and so many milliseconds apart, is looked whether a card asks for something else after a tap. */
const LOOKS = 20;
const LOOK = 50;

const browser = await launch();
const found = new Found();
const taps = [];
const seen = {};
const papers = {};
let seconds = 0;

/** Moves the floor's clock. */
async function advance(by) {
  await moveClock(url, by);
  seconds += by / 1000;
}

/** One coach who takes groups through the evening. */
class Coach extends CoachPage {
  /** Taps what a card asks for; the effort is the done tap where it is asked. Whether the floor took it. */
  async tap({ card, title, detail, felt }) {
    await this.page.waitForTimeout(READ_FIRST);
    if (!(await this.asks(card, title, detail))) return false;
    const button = felt ? this.card(card).locator(".card-main .felt-act").nth(1) : this.card(card).locator(".card-main .act.main");
    await this.page.locator(".answer").evaluate((node) => (node.textContent = ""));
    await button.click();
    await this.page.waitForFunction(() => document.querySelector(".answer").textContent !== "");
    // Nobody is done so soon after GO: the page asks, and the coach looks again later.
    if (/^Only \d+ s after GO/.test(await this.answer())) return false;
    const bad = (await this.page.locator(".answer").getAttribute("data-bad")) === "yes";
    taps.push([this.key, `${title}: ${detail}`, seconds, bad ? await this.answer() : ""]);
    // An answer may be there a moment before the view that it led to.
    for (let looks = 0; !bad && looks < LOOKS && (await this.asks(card, title, detail)); looks += 1) await this.page.waitForTimeout(LOOK);
    return !bad;
  }

  finished = () => this.page.evaluate(() => [...document.querySelectorAll(".groups .card")].every((card) => card.dataset.stage === "finished"));
  look = (when) => found.axe(this.shown, when).then(() => found.look(this.shown));

  /** The page from its top, as it is on this screen. */
  async picture(name) {
    await this.page.evaluate(() => window.scrollTo(0, 0));
    await this.page.screenshot({ path: join(folder, `${name}.png`) });
  }
}

const floor = { browser, found, url };
const first = new Coach(floor, "coach-1", PHONE, { colorScheme: "dark" });
const second = new Coach(floor, "coach-2", TABLET, { colorScheme: "light" });

/** Whether what a coach tapped last begins so. */
const tappedLast = (coach, title) => {
  const last = taps.findLast(([key]) => key === coach.key);
  return last !== undefined && last[3] === "" && last[1].startsWith(title);
};
const wrong = (what) => found.errors.push(what);
const until = (coach, check, argument) => coach.page.waitForFunction(check, argument);

/** Whether a card says it. */
const noticed = (text) => [...document.querySelectorAll(".notices")].some((notices) => notices.textContent.includes(text));

/** Says something as a station's display would. */
async function atStation(station, act) {
  const outcome = await sayAtStation(first, station, act);
  if (outcome !== "accepted") wrong(`${station}: ${act.do} is ${outcome}`);
}

/** What comes once in the evening: `when` it may, and what is `done`. */
const HAPPENS = {
  undone: {
    when: () => tappedLast(first, "Arrived"),
    async done() {
      const before = await first.asked();
      await first.press(first.page.locator(".undo:not([hidden])"));
      await until(first, (n) => document.querySelectorAll(".groups .card[data-stage=expected]").length > n, 0);
      const after = await first.asked();
      if (after.length < before.length) wrong("what was taken back is not asked for again");
    },
  },
  listed: {
    when: async () => (await first.asked()).some(({ title }) => title === "Load and collars are right"),
    done: () => until(first, () => /confirm load and collars/.test(document.querySelector(".run").textContent)),
  },
  noted: {
    when: async () => (await first.page.locator(".today:not([hidden]) .write").count()) > 0,
    async done() {
      const write = first.page.locator(".today:not([hidden]) .write").first();
      await write.locator("summary").click();
      await write.getByText("sore from last time").click();
      await until(first, noticed, "sore from last time");
      await first.look("something is different today");
    },
  },
  watched: {
    when: async () => (await first.page.locator(".card[data-mine=yes] .write", { hasText: "Technique:" }).count()) > 0,
    async done() {
      const write = first.page.locator(".card[data-mine=yes] .write", { hasText: "Technique:" }).first();
      await write.locator("summary").click();
      // The exercise's own points come from its sheet.
      await write.locator(".point").nth(5).waitFor();
      await first.look("a technique set is watched");
      await write.locator(".point").first().click();
      await until(first, noticed, ": clean");
      await write.locator("summary").click();
    },
  },
  on_top: {
    when: async () => (await first.page.locator(".run-first .run-do:not([hidden]) .act.main[data-act=go]:not([aria-disabled])").count()) > 0,
    async done() {
      const top = first.page.locator(".run-first .run-do .act.main");
      const [title, detail] = [await top.locator(".act-title").textContent(), await top.locator(".act-detail").textContent()];
      await first.page.locator(".answer").evaluate((node) => (node.textContent = ""));
      await first.press(top);
      await until(first, () => document.querySelector(".answer").textContent !== "");
      if (!(await first.answer()).endsWith("Saved.")) wrong(`what is first: ${await first.answer()}`);
      taps.push([first.key, `${title}: ${detail}`, seconds, ""]);
    },
  },
  opened: {
    when: () => tappedLast(first, "Done"),
    async done() {
      await first.look("in the middle of the evening");
      await first.picture("phone");
      await second.look("in the middle of the evening");
      await second.picture("tablet");
    },
  },
  corrected: {
    when: () => tappedLast(second, "Done") && second.card("group-2").locator(".card-stage").innerText().then((text) => text.startsWith("sets")),
    async done() {
      const card = second.card("group-2");
      await card.locator("details.more > summary").click();
      await card.locator(".section > summary", { hasText: "Chidi" }).first().click();
      await card.locator(".section .section > summary", { hasText: "Chidi" }).click();
      const line = card.locator(".set-line").last();
      await line.locator("summary").click();
      const reps = line.locator("input[type=number]").first();
      await reps.fill("5");
      await line.locator(".form-go").click();
      await line.locator(".set-first").waitFor();
      if (!(await line.locator(".set-now").innerText()).replaceAll("\u00a0", " ").includes("5 reps")) wrong("the set was not put right");
      await second.look("with a set put right");
      await card.locator("details.more > summary").click();
    },
  },
  stopped: {
    when: () => tappedLast(first, "Go: Bram"),
    async done() {
      const card = first.card("group-1");
      // Counted in, and past the first repetition: what is over sooner is asked about.
      await advance(20_000);
      await first.press(card.locator(".hold .stop"));
      await card.locator(".card-halt").waitFor();
      if (!/rack the bar/i.test(await card.innerText())) wrong(`a stop says ${await card.innerText()}`);
      await first.look("stopped");
      await until(second, () => document.querySelector("#group-1 .card-halt")?.hidden === false);
    },
  },
  helped: {
    // Whoever spots does not leave the bar.
    when: () => seen.stopped !== undefined && tappedLast(second, "Done"),
    async done() {
      await atStation("bench-1", { do: "call", station: 1, call: "help_now" });
      for (const coach of [first, second]) await coach.page.locator(".help:not([hidden])").waitFor();
      await first.look("help is needed");
      await first.picture("help");
      await second.press(second.page.locator(".help .call-answer button"));
      await until(first, () => document.querySelector(".help .call-answer span").textContent !== "");
      await second.press(second.page.locator(".help > .act:visible"));
      await first.page.locator(".help").waitFor({ state: "hidden" });
      // Whoever is there needs the address and where things are from now on, until they have read them.
      const close = second.page.locator(".help > .act", { hasText: "Close the notes" });
      await close.waitFor();
      if (!(await second.page.locator(".help-notes").isVisible())) wrong("the emergency notes went with the tap");
      await close.click();
      await second.page.locator(".help").waitFor({ state: "hidden" });
    },
  },
  cut: {
    when: async () => seen.corrected !== undefined && (await second.asked()).some(({ title }) => title === "Done"),
    async done() {
      // The set has gone on for long enough to be over.
      await advance(20_000);
      await second.cut();
      await second.page.locator(".top[data-link=lost]").waitFor();
      const [ask] = (await second.asked()).filter(({ title }) => title === "Done");
      const tapped = taps.length;
      await second.tap(ask);
      taps[tapped].push("no link");
      await until(second, () => /not sent yet: 1/.test(document.querySelector(".link-state").textContent));
      await second.look("the link is lost");
      await second.picture("lost");
      // Thirty seconds later somebody closes the page and opens another; what was tapped is still to be sent.
      await advance(30_000);
      await second.page.close();
      second.mend();
      await second.open();
      await until(second, () => document.querySelector(".top").dataset.link === "there");
      await until(second, () => /^Done, Chidi.*: Saved\.$/.test(document.querySelector(".answer").textContent));
    },
  },
};

async function happen() {
  for (const [name, { when, done }] of Object.entries(HAPPENS)) {
    if (seen[name] === undefined && (await when())) {
      seen[name] = seconds;
      await done();
    }
  }
}

/** Opens a sheet of the third group from its card, looks at it on a phone, and prints it. */
async function paper(name) {
  await first.card("group-3").locator(`.papers a[href^="/${name}?"]`).first().click();
  await first.page.locator(".sheet").first().waitFor();
  const title = `${name}, ${seconds > 0 ? "all over" : "nobody has come"}`;
  await first.look(title);
  await first.page.screenshot({ path: join(folder, `${name}-phone.png`), fullPage: true });
  papers[name] = await found.sheets(first.shown, join(folder, `${name}.pdf`));
}

const back = async () => {
  await first.page.locator(".sheet-bar a").first().click();
  await first.page.locator(".groups .card").first().waitFor();
};

async function papersBefore() {
  for (const name of ["session", "briefing"]) {
    await paper(name);
    await back();
  }
}

/** What was done, for the clients, for the coach, for one client, and as a file. */
async function papersAfter() {
  const { page } = first;
  await paper("summary");
  const rows = await page.locator(".sheet-table tbody tr").count();
  // Two clients, a light set and two rounds of two exercises each.
  if (rows !== 12) wrong(`the summary has ${rows} sets`);
  const bar = (title) => page.locator(".sheet-bar a", { hasText: title });
  const [file] = await Promise.all([page.waitForEvent("download"), bar("CSV").click()]);
  if (file.suggestedFilename() !== "sets-group-3.csv") wrong(`the file is called ${file.suggestedFilename()}`);
  const csv = readFileSync(await file.path(), "utf8");
  await bar("For the coach").click();
  await page.locator(".sheet-only").first().waitFor();
  await first.look("the coach's copy");
  await bar("Edda").click();
  await until(first, () => document.querySelectorAll(".sheet").length === 1);
  await first.look("one client's copy");
  papers.one = await found.sheets(first.shown);
  await back();
  return csv;
}

async function evening() {
  await Promise.all([first.open(), second.open()]);
  await papersBefore();
  for (let step = 0; step < MOST_STEPS; step += 1) {
    let tapped = false;
    for (const coach of [first, second]) {
      await happen();
      for (const ask of await coach.asked()) {
        tapped = (await coach.tap(ask)) || tapped;
        await happen();
      }
    }
    if (await first.finished()) return papersAfter();
    if (!tapped) await advance(STEP);
  }
  throw new Error(`no end after ${MOST_STEPS} steps: ${JSON.stringify(taps.slice(-10))}`);
}

try {
  const csv = await evening();
  console.log(JSON.stringify({ taps, seen, seconds, papers, csv, targets: found.targets, rules: found.rules, errors: found.errors }));
} catch (error) {
  // What was on the pages says more than where the script was.
  for (const coach of [first, second]) {
    console.error(`${coach.key}: ${await coach.answer()}`);
    await coach.picture(`trouble-${coach.key}`);
  }
  throw error;
} finally {
  await browser.close();
}
if (found.errors.length > 0) {
  console.error(found.errors.join("\n"));
  process.exitCode = 1;
}
