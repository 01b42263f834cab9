// What is told of a coming start: the countdown, the instant itself, the wait after it, and the reason.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { figure, figureText, phaseOf } from "../../../server/src/web/assets/phase.js";
import { ownReasonText, promiseText, reasonText, startText, toldPhase } from "../../../server/src/web/assets/promise.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const raw = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(raw(tag), tag));
const view = { stations: [], coaches: [], groups: [] };
const wall = Date.UTC(2026, 0, 5, 17, 0, 0);
const time = { now: 10_000, rate: 1, zoneOffset: 3600, wall };

test("a start is counted down to its instant, and up from it", () => {
  for (const [now, lead, shown] of [
    [42_000, "in", "0:18"],
    [59_001, "in", "0:01"],
    [59_999, "in", "0:01"],
    [60_000, "now", "+0:00"],
    [60_999, "now", "+0:00"],
    [65_000, "now", "+0:05"],
    [125_000, "now", "+1:05"],
    [-15_000, "in", "1:15"],
  ]) {
    assert.deepEqual(startText(en, 60_000, now), { lead, figure: shown }, String(now));
  }
  assert.deepEqual(startText(de, 60_000, 42_000), { lead: "in", figure: "0:18" });
  assert.deepEqual(startText(de, 60_000, 60_000), { lead: "jetzt", figure: "+0:00" });
});

test("what is not told to the second is said about, in steps of five seconds", () => {
  for (const [now, lead, shown] of [
    [0, "in about", "1:00"],
    [4999, "in about", "1:00"],
    [5000, "in about", "0:55"],
    [44_999, "in about", "0:20"],
    [45_000, "in about", "0:15"],
    [59_999, "in about", "0:05"],
    [60_000, "now", "+0:00"],
  ]) {
    assert.deepEqual(startText(en, 60_000, now, true), { lead, figure: shown }, String(now));
  }
  assert.deepEqual(startText(de, 60_000, 15_001, true), { lead: "in etwa", figure: "0:45" });
});

test("every reason is a sentence with its arguments in both languages", () => {
  const reasons = Object.keys(raw("en")).filter((id) => id.startsWith("start."));
  assert.equal(reasons.length, 11);
  for (const id of reasons) {
    for (const words of [en, de]) {
      const said = reasonText(words, { because: id.slice(6), takes: 16, until: 70_000 }, view, time);
      assert.ok(!/[{}]|undefined|null|start\./.test(said), said);
    }
  }
  assert.equal(reasonText(en, { because: "load_change", takes: 16 }, view, time), "Changing the load takes 16 s.");
  const away = { because: "spotter_away", until: 70_000 };
  assert.equal(reasonText(en, away, view, time), "The spotter is away until 18:01:00.");
  assert.equal(reasonText(de, away, view, time), "Die Hilfestellung ist bis 18:01:00 weg.");
});

const rest = { after: "rest", since: 0, latest: 200_000 };
const reason = { because: "spotter_busy" };
/** Rest until 60 s, GO from 52 s, told to start at `start`. */
const turn = (start, needs = []) => ({
  set: { set: "working", n: 2, of: 3 },
  phase: { phase: "coming", after: rest, ready: 60_000, go_from: 52_000, needs },
  ...(start === null ? {} : { promise: { start, reason } }),
});

function expect(told, now, [kind, shown, says], halt = null) {
  const at = toldPhase(phaseOf(told, now, halt), told, now);
  assert.deepEqual([at.kind, figureText(figure(at, now)), at.told], [kind, shown, says], `${JSON.stringify(told)} at ${now}`);
}

test("without a promise a set stands where it stood", () => {
  expect(turn(null), 30_000, ["rest", "30", null]);
  expect(turn(null), 61_000, ["ready", "+1", null]);
});

test("what is told is counted to, and what was told is counted from", () => {
  expect(turn(52_000), 30_000, ["rest", "22", "ahead"]);
  expect(turn(52_000), 51_999, ["rest", "1", "ahead"]);
  expect(turn(52_000), 52_000, ["ready", "+0", "over"]);
  expect(turn(52_000), 60_500, ["ready", "+8", "over"]);
});

test("what is told about only says so until it has come", () => {
  const about = turn(80_000);
  about.promise.about = true;
  expect(about, 30_000, ["rest", "50", "about"]);
  expect(about, 65_000, ["coming", "15", "about"]);
  expect(about, 80_000, ["ready", "+0", "over"]);
});

test("whoever could go and is told to go later is not called ready", () => {
  expect(turn(80_000), 65_000, ["coming", "15", "ahead"]);
  expect(turn(80_000), 80_000, ["ready", "+0", "over"]);
});

test("what is still missing holds a client whose start has come", () => {
  const needs = [{ need: "confirm_load" }];
  expect(turn(80_000, needs), 65_000, ["held", "15", "ahead"]);
  expect(turn(80_000, needs), 82_000, ["held", "+2", "over"]);
});

test("nobody is called before GO would be taken", () => {
  expect(turn(51_300), 51_600, ["rest", "1", "ahead"]);
  expect(turn(51_300), 52_000, ["ready", "+0", "over"]);
});

test("what is held by a coach or under way is told nothing", () => {
  expect(turn(80_000), 30_000, ["stopped", "", null], { halt: "stop", since: 0 });
  expect(turn(80_000), 30_000, ["paused", "30", null], { halt: "pause", since: 0 });
  const lifts = { promise: { start: 80_000, reason }, phase: { phase: "under_way", went: 0, count_in: 9000, starts: 12_000, ends: 52_000 } };
  expect(lifts, 30_000, ["working", "22", null]);
});

test("who is to watch or spot is named until somebody says that they do", () => {
  const told = { ...turn(80_000), promise: { start: 80_000, reason: { because: "rest" }, spotter: "Ayla" } };
  assert.equal(promiseText(en, told, view, time), "The rest ends then. Ayla will spot.");
  assert.equal(promiseText(de, told, view, time), "Dann ist die Pause um. Ayla sichert.");
  const light = { ...told, set: { set: "technique" } };
  assert.equal(promiseText(en, light, view, time), "The rest ends then. Ayla will watch.");
  assert.equal(promiseText(de, light, view, time), "Dann ist die Pause um. Ayla sieht zu.");
  assert.equal(promiseText(en, { ...told, spotter: "Ayla" }, view, time), "The rest ends then.");
  assert.equal(promiseText(en, { ...told, arms: true }, view, time), "The rest ends then.");
});

test("on the page of whoever spots the spotter is you, at a bar that is named where the view has it", () => {
  const busy = { because: "spotter_busy" };
  const stations = [{ station: 1, name: "Bench 1" }, { station: 2, name: "Rack 2" }];
  const spotted = { group: 1, client: 4, block: 0, round: 1, leg: 0 };
  const clients = [{ client: 4, turn: { turn: spotted, station: 2, phase: { phase: "under_way" } } }];
  const mine = { ...view, me: 1, stations, coaches: [{ coach: 1, name: "Orla" }, { coach: 2, name: "Pavo" }], groups: [{ clients }] };
  const spotting = { ...mine, coaches: [{ coach: 1, name: "Orla", spotting: spotted }] };
  const say = (words, one, start = 90_000) => ownReasonText(words, busy, one, time, start);
  assert.equal(say(en, mine), "You are at another station until then.");
  assert.equal(say(en, spotting), "You are at Rack 2 until then.");
  assert.equal(say(de, spotting), "So lange bist du an Rack 2.");
  // By then the plan has another bar in between.
  const then = { ...spotting, run_sheet: [{ start: 60_000, station: 1 }, { start: 90_000, station: 2 }] };
  assert.equal(say(en, then), "You are at Bench 1 until then.");
  const away = { because: "spotter_away", until: 70_000 };
  assert.equal(ownReasonText(en, away, mine, time, 0), "You are away until 18:01:00.");
  assert.equal(ownReasonText(en, { because: "rest" }, mine, time, 0), "The rest ends then.");
  // And so does the card; of another spotter, and on the wall, it is the spotter.
  const told = (spotter, one) => promiseText(en, { set: { set: "working" }, spotter, promise: { spotter, reason: busy, start: 90_000 } }, one, time);
  assert.equal(told("Orla", spotting), "You are at Rack 2 until then.");
  assert.equal(told("Pavo", spotting), "The spotter is at another bar until then.");
  assert.equal(told("Orla", { stations, groups: [] }), "The spotter is at another bar until then.");
});
