// Where a set stands at the very instants at which that changes.

import assert from "node:assert/strict";
import { test } from "node:test";

import { figure, figureText, lengthText, phaseOf, sameTurn } from "../../../server/src/web/assets/phase.js";

const underWay = { phase: { phase: "under_way", went: 1000, count_in: 9000, starts: 12_000, ends: 52_000 } };
const coming = (after, ready, needs = []) => ({ phase: { phase: "coming", after, ready, go_from: ready - 8000, needs } });
const rest = { after: "rest", since: 0, latest: 90_000 };
const changeover = { after: "changeover", since: 0, limit: 20_000 };
const nothing = { after: "nothing" };
const load = [{ need: "confirm_load" }];
const pause = { halt: "pause", since: 500 };
const stop = { halt: "stop", since: 500 };

function expect(turn, now, halt, kind, shown) {
  const phase = phaseOf(turn, now, halt);
  assert.deepEqual([phase.kind, figureText(figure(phase, now))], [kind, shown], `${JSON.stringify(turn)} at ${now}`);
}

test("a set under way goes through get set, count in, work and done", () => {
  for (const [now, kind, shown] of [
    [1000, "get_set", "11"],
    [8999, "get_set", "4"],
    [9000, "count_in", "3"],
    [11_001, "count_in", "1"],
    [11_999, "count_in", "1"],
    [12_000, "working", "40"],
    [51_999, "working", "1"],
    [52_000, "assumed", "+0"],
    [117_000, "assumed", "+1:05"],
  ]) {
    expect(underWay, now, null, kind, shown);
  }
});

test("rest ends at ready and then counts up without an end", () => {
  const turn = coming(rest, 60_000);
  for (const [now, kind, shown] of [
    [0, "rest", "1:00"],
    [59_999, "rest", "1"],
    [60_000, "ready", "+0"],
    [95_000, "ready", "+35"],
  ]) {
    expect(turn, now, null, kind, shown);
  }
  expect(coming(rest, 60_000, load), 59_999, null, "rest", "1");
  expect(coming(rest, 60_000, load), 60_000, null, "held", "+0");
});

test("a changeover counts down to its limit, or to what not yet made of it", () => {
  expect(coming(changeover, 5000), 4999, null, "changeover", "16");
  expect(coming(changeover, 5000), 5000, null, "changeover", "15");
  expect(coming(changeover, 0), 19_999, null, "changeover", "1");
  expect(coming(changeover, 5000, load), 5000, null, "held", "15");
  expect(coming(changeover, 5000), 20_000, null, "ready", "+0");
  expect(coming(changeover, 31_000), 20_000, null, "changeover", "11");
  expect(coming(changeover, 31_000), 31_000, null, "ready", "+0");
});

test("who is still at the exercise before is announced and neither goes over nor rests", () => {
  const over = coming({ after: "changeover", since: 20_000, limit: 40_000 }, 20_000);
  expect(over, 0, null, "coming", "20");
  expect(over, 19_999, null, "coming", "1");
  expect(over, 20_000, null, "changeover", "20");
  expect(over, 40_000, null, "ready", "+0");
  const resting = coming({ after: "rest", since: 10_000, latest: 90_000 }, 70_000);
  expect(resting, 9999, null, "coming", "1:01");
  expect(resting, 10_000, null, "rest", "1:00");
});

test("nobody is told to be ready before GO would be taken", () => {
  const turn = coming(rest, 60_000);
  turn.phase.go_from = 61_000;
  expect(turn, 60_999, null, "rest", "+0");
  expect(turn, 61_000, null, "ready", "+1");
});

test("a first set has nothing to count up from", () => {
  expect(coming(nothing, 5000), 4000, null, "coming", "1");
  expect(coming(nothing, 5000), 5000, null, "ready", "");
  expect(coming(nothing, 5000, load), 5000, null, "held", "");
});

test("a stop racks what is under way, a pause lets it and every rest go on", () => {
  expect(underWay, 20_000, pause, "working", "32");
  expect(underWay, 20_000, stop, "stopped", "");
  for (const [gear, word] of [["bar", "rack_the_bar"], ["stack", "let_the_stack_down"], ["dumbbells", "put_them_down"], ["belt", "set_it_down"], ["plain", "set_it_down"]]) {
    assert.equal(phaseOf({ ...underWay, load: { gear } }, 20_000, stop).word, `label.${word}`);
  }
  // A load may be hidden: what is spotted is a bar.
  assert.equal(phaseOf({ ...underWay, spotted: true }, 20_000, stop).word, "label.rack_the_bar");
  assert.equal(phaseOf(underWay, 20_000, stop).word, "label.set_it_down");
  expect(coming(rest, 60_000), 1000, pause, "paused", "59");
  expect(coming(rest, 60_000), 61_000, pause, "paused", "+1");
  expect(coming(rest, 60_000), 1000, stop, "stopped", "");
  assert.equal(phaseOf(coming(rest, 60_000), 1000, stop).word, "label.do_not_start");
});

test("a countdown reaches zero only at zero, and lengths read as on a watch", () => {
  assert.deepEqual(figure({ until: 1000, since: null }, 999), { up: false, seconds: 1 });
  assert.deepEqual(figure({ until: 1000, since: null }, 1000), { up: false, seconds: 0 });
  assert.deepEqual(figure({ until: null, since: 1000 }, 900), { up: true, seconds: 0 });
  assert.deepEqual([9, 65, 3723].map(lengthText), ["0:09", "1:05", "1:02:03"]);
});

test("a set is the same when all five parts are", () => {
  const turn = { group: 1, client: 2, block: 0, round: 1, leg: 0 };
  assert.ok(sameTurn(turn, { ...turn }));
  for (const part of Object.keys(turn)) assert.ok(!sameTurn(turn, { ...turn, [part]: 9 }), part);
});
