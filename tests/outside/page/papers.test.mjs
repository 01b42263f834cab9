// Sheets of paper in words: what was done, what is left of a session, what there is to say before it.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { blockLines, exerciseTitle, insteadTitle, muscleRows } from "../../../server/src/web/assets/briefing_words.js";
import { papersNow } from "../../../server/src/web/assets/papers.js";
import { blockText, exerciseText, paperCells, paperLoad, paperLoads, paperTitles, settingsText } from "../../../server/src/web/assets/session_words.js";
import { nextWords, restText, setCells, setTitles, volumeRows } from "../../../server/src/web/assets/summary_words.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const read = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const [en, de] = [new Catalogue(read("en"), "en"), new Catalogue(read("de"), "de")];
const kg = (mass) => mass * 1_000_000_000_000;
const same = (text) => ({ en: text, de: text });
const press = { en: "Bench press", de: "Bankdr\u00fccken" };
const row = { en: "Cable row", de: "Rudern am Kabelzug" };
const plain = (text) => text.replaceAll("\u00a0", " ");

const set = {
  set: { set: "working", n: 1, of: 2 },
  exercise: press,
  station: "Bench 1",
  gear: "bar",
  unit: "kg",
  work: { work: "reps", least: 8, most: 8 },
  started: "2026-03-02T18:51:25+01:00",
  ended: "2026-03-02T18:52:05+01:00",
  reps: 8,
  load: kg(60),
  effort: { felt: "rir", reps: 2 },
  ending: { end: "complete" },
};

test("a set that was done is a row with as many cells as there are titles", () => {
  const cells = setCells(en, set).map(plain);
  assert.deepEqual(cells, ["18:52", "Bench press \u00b7 Bench 1 \u00b7 set 1 of 2", "60 kg", "8", "complete", "2 in reserve", ""]);
  assert.equal(cells.length, setTitles(en).length);
  const other = { ...set, gear: "dumbbells", load: kg(14), per_side: true, effort: undefined, rest: { length: 92, kept: { is: "kept" } } };
  assert.deepEqual(setCells(de, other).slice(2).map(plain), ["2 \u00d7 14 kg", "8 je Seite", "vollst\u00e4ndig", "", "1:32, wie geplant"]);
});

test("what is left out of the volume says why, but a light set need not", () => {
  const left = (why, load) => plain(setCells(en, { ...set, load, not_counted: why })[2]);
  assert.equal(left("pin", { pin: 7 }), "pin 7, not counted: weight of the pin not known");
  assert.equal(left("no_load", undefined), "not counted: no load set");
  assert.equal(left("light", kg(20)), "20 kg");
});

test("a rest is kept, too long or too short by so much", () => {
  assert.equal(restText(en, undefined), "");
  assert.equal(restText(en, { length: 165, kept: { is: "over", by: 45 } }), "2:45, too long by 0:45");
  assert.equal(restText(en, { length: 150, put_off: 150, kept: { is: "kept" } }), "2:30, lengthened to 2:30 on purpose");
  assert.equal(restText(en, { length: 162, put_off: 150, kept: { is: "over", by: 12 } }), "2:42, lengthened to 2:30 on purpose, too long by 0:12");
  assert.equal(restText(de, { length: 40, kept: { is: "short", by: 20 } }), "0:40, zu kurz um 0:20");
});

test("volume and density are said with what was left out", () => {
  const whole = { load: "4200", per_minute: "300", unit: "kg", elapsed: 840, counted: 6, left_out: 0 };
  assert.deepEqual(volumeRows(en, whole), [
    ["Volume load", "4200 kg in 6 sets"],
    ["Density", "300 kg a minute, over 14:00 from the first repetition to the last"],
  ]);
  const german = volumeRows(de, { ...whole, load: "1322.77", per_minute: "94.48", unit: "lb" }).map(([, text]) => text.split(" lb")[0]);
  assert.deepEqual(german, ["1322,77", "94,48"]);
  assert.equal(volumeRows(en, { ...whole, left_out: 2 })[0][1], "4200 kg in 6 sets; 2 working sets not counted");
  assert.deepEqual(volumeRows(en, { unit: "kg", counted: 0, left_out: 2 }).map(([, text]) => text), ["2 working sets not counted", ""]);
});

test("the copy for whoever trains names no rule, and says reserve and density in plain words", () => {
  assert.equal(setCells(en, set, true)[5], "could have done 2 more");
  assert.equal(setCells(de, { ...set, effort: { felt: "heavy" } }, true)[5], "schwer");
  assert.equal(volumeRows(en, { load: "4200", per_minute: "300", unit: "kg", elapsed: 840, counted: 6, left_out: 0 }, true)[1][0], "Moved a minute");
  const work = { work: "reps", least: 8, most: 8 };
  const proposal = { set: { by: "mass", load: kg(62.5) }, work, change: "harder", reason: { because: "over_the_goal", reps: 2 }, rule: "two_for_two" };
  const { text } = nextWords(en, { exercise: press, station: "Bench 1", gear: "bar", unit: "kg", proposal }, true);
  assert.equal(text, "62.5 kg, 8 reps (heavier). Twice running 2 or more repetitions over the goal.");
});

test("what comes next time is said with its reason and its rule", () => {
  const proposal = {
    set: { by: "mass", load: kg(62.5) },
    work: { work: "reps", least: 8, most: 8 },
    change: "harder",
    reason: { because: "over_the_goal", reps: 2 },
    rule: "two_for_two",
  };
  const { name, text } = nextWords(en, { exercise: press, station: "Bench 1", gear: "bar", unit: "kg", proposal });
  assert.equal(name, "Bench press \u00b7 Bench 1");
  assert.equal(text, "62.5 kg, 8 reps (heavier). Twice running 2 or more repetitions over the goal. 2-for-2 (NSCA), step of 2 to 10 % (ACSM 2009).");
  assert.ok(nextWords(de, { exercise: press, station: "Bank 1", gear: "bar", unit: "kg", proposal }).text.startsWith("62,5 kg, "));
  const pin = nextWords(en, { exercise: row, station: "Row 1", gear: "stack", unit: "kg", proposal: { ...proposal, set: { by: "pin", pin: 7 } } });
  assert.ok(pin.text.startsWith("pin 7, "), pin.text);
});

const bar = { bar: kg(20), collar: 0, side: [{ mass: kg(15), full: true }, { mass: kg(5), full: true }], known: true, strip: [], add: [], alone: 20, together: 10 };

test("a load on paper says what is on and nothing of what to strip", () => {
  const load = { total: kg(60), unit: "kg", gear: "bar", confirmed: false, bar };
  assert.equal(paperLoad(en, load), "60 kg, each side 15 + 5");
  assert.equal(paperLoad(en, { ...load, bar: { ...bar, side: [] }, total: kg(20) }), "20 kg, bar only");
  assert.equal(paperLoad(en, { total: { pin: 7 }, unit: "kg", gear: "stack", confirmed: false, stack: { pin: { label: { pin: 7 } } } }), "pin 7");
  assert.equal(paperLoad(en, { total: kg(50), unit: "kg", gear: "stack", confirmed: false, stack: { pin: { label: kg(50) } } }), "50 kg, pin at 50");
  assert.equal(paperLoad(en, { total: kg(14), unit: "kg", gear: "dumbbells", confirmed: false, rack: "Rack A" }), "2 \u00d7 14 kg, from Rack A, one in each hand");
  assert.equal(paperLoad(en, undefined), "");
});

test("a load that is set in another way elsewhere says where, and how there", () => {
  const card = (total, ...side) => ({ total: kg(total), unit: "kg", gear: "bar", confirmed: false, bar: { ...bar, side: side.map((mass) => ({ mass: kg(mass), full: true })) } });
  const work = { work: "reps", least: 8, most: 8 };
  const at = (station, load, more = work) => ({ station, work: more, load });
  const loads = (first, ...elsewhere) => paperLoads(en, { ...first, elsewhere });
  const here = at("Bench 1", card(60, 20));
  assert.equal(loads(here), "60 kg, each side 20");
  assert.equal(loads(here, at("Bench 2", card(60, 20))), "60 kg, each side 20", "at all of them the same");
  const both = loads(here, at("Rack 1", card(60, 20, 2.5)), at("Bench 2", card(60, 20)), at("Rack 2", undefined), at("Rack 3", card(60, 20), { ...work, most: 9, least: 9 }), at("Rack 4", card(62.5, 20)));
  assert.deepEqual(both.split("\n"), [
    "Bench 1, Bench 2: 60 kg, each side 20",
    "Rack 1: each side 20 + 2.5",
    "Rack 2: none",
    "Rack 3: 60 kg, each side 20, 9 reps",
    "Rack 4: 62.5 kg, each side 20",
  ]);
});

test("boxes are empty until a set is over", () => {
  const coming = { set: set.set, exercise: press, work: set.work, tempo: "2-0-2-0", load: { total: kg(60), unit: "kg", gear: "bar", confirmed: false, bar } };
  const cells = (more, usual = [{ exercise: press }]) => paperCells(en, { ...coming, ...more }, usual).map(plain);
  assert.deepEqual(cells(), ["Bench press \u00b7 set 1 of 2", "60 kg, each side 15 + 5", "8 reps, tempo 2-0-2-0", "", "", ""]);
  assert.equal(cells().length, paperTitles(en).length);
  const done = { is: "done", reps: 7, effort: { felt: "heavy" }, ending: { end: "short" }, ended: "2026-03-02T18:52:05+01:00" };
  assert.deepEqual(cells({ over: done }).slice(3), ["7", "heavy, fewer than planned", "18:52"]);
  assert.deepEqual(cells({ over: { is: "left_out" } }).slice(3), ["left out", "", ""]);
  const instead = cells({ station: "Row 1", spotted: true }, [{ exercise: row }]);
  assert.equal(instead[0], "Bench press \u00b7 Row 1 \u00b7 needs a spotter \u00b7 set 1 of 2", "what one client does instead says where");
  assert.equal(cells({ work: { work: "hold", secs: 30 }, per_side: true })[2], "hold 30 s, each side");
});

test("a block and its exercises are told in a line each", () => {
  const block = { n: 1, of: 1, rounds: 3, rest_min: 60, rest_max: 120, changeover: 30, exercises: [{}, {}] };
  assert.equal(blockText(en, block), "3 rounds; rest 1:00 to 2:00 after a round; at most 0:30 to go over");
  assert.equal(blockText(en, { ...block, exercises: [{}] }), "3 rounds; rest 1:00 to 2:00 after a round");
  const exercise = { exercise: press, stations: ["Bench 1", "Bench 2"], reserved: false, spotted: true };
  assert.equal(exerciseText(en, exercise), "Bench press \u00b7 needs a spotter \u00b7 suited: Bench 1, Bench 2");
  assert.equal(exerciseText(en, { ...exercise, stations: ["Bench 1"], reserved: true, spotted: false }), "Bench press \u00b7 at Bench 1, reserved");
  assert.ok(exerciseText(de, { ...exercise, stations: [] }).endsWith("keine Station geeignet"));
  assert.equal(settingsText({ station: "Bench 1", values: [{ name: "Uprights", value: "4" }, { name: "Arms", value: "3" }] }), "Bench 1: Uprights 4, Arms 3");
});

test("a briefing says a pair in two lines, and in a third that one undoes the other", () => {
  const pair = { rounds: 3, rest_min: 60, rest_max: 120, opposing: true, exercises: [{ exercise: press }, { exercise: row }] };
  assert.deepEqual(blockLines(en, pair), [
    "Bench press, then Cable row, with no rest between.",
    "3 rounds; after each, rest 1:00 to 2:00.",
    "The muscles that work in one give way in the other.",
  ]);
  const of = (exercises) => blockLines(de, { ...pair, opposing: false, exercises });
  assert.equal(of([{ exercise: press }])[0], "Bankdr\u00fccken allein.");
  assert.equal(of([{ exercise: press }, { exercise: row }, { exercise: press }]).length, 2);
});

test("a briefing says what somebody does instead, and who", () => {
  const other = { clients: ["Dara", "Edda"], of: press, exercise: { exercise: row, spotted: true } };
  assert.equal(insteadTitle(en, other), "For Dara, Edda, instead of Bench press: Cable row \u00b7 needs a spotter");
  assert.equal(insteadTitle(de, other), "F\u00fcr Dara, Edda statt Bankdr\u00fccken: Rudern am Kabelzug \u00b7 braucht Hilfestellung");
});

test("muscles are told by the part they play, and parts that none plays are not", () => {
  const exercise = { exercise: press, spotted: true, per_side: true, prime_movers: [same("chest"), same("triceps")], synergists: [], stabilisers: [same("grip")], antagonists: [] };
  assert.deepEqual(muscleRows(en, exercise), [["do most of it", "chest, triceps"], ["hold still", "grip"]]);
  assert.equal(exerciseTitle(en, exercise), "Bench press \u00b7 each side \u00b7 needs a spotter");
});

test("which sheets are of use follows the evening", () => {
  const group = (stage, last, n = 1) => ({ stage, block: { n, of: 2 }, clients: [{ last }] });
  assert.deepEqual(papersNow(group("expected")), ["briefing", "session"]);
  assert.deepEqual(papersNow(group("rounds", {})), ["briefing", "session", "summary"]);
  assert.deepEqual(papersNow(group("waiting", undefined, 2)), ["briefing", "session", "summary"]);
  assert.deepEqual(papersNow(group("finished")), ["summary"]);
});
