// The strip of a group's time: where its blocks stand, and how it is said.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { AHEAD, BEHIND, laneParts, laneText } from "../../../server/src/web/assets/ribbon.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const raw = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(raw(tag), tag));
const set = (is, from, more = {}) => ({ leg: 0, round: 1, is, from, until: from + 36_000, ...more });

test("a block is as long as its set, in shares of what is to be seen", () => {
  const { blocks } = laneParts([set("to_come", 100_000, { spotted: true })], 64_000, 90_000);
  assert.deepEqual(blocks, [{ key: "1-0-0", left: 10, width: 10, leg: 0, light: false, is: "to_come", spotted: true }]);
  assert.equal(BEHIND + AHEAD, 360_000);
});

test("what is far behind or far ahead is not drawn", () => {
  const now = 1_000_000;
  const at = (from) => laneParts([set("to_come", from)], 0, now).blocks.length;
  assert.deepEqual([now - BEHIND - 36_001, now - BEHIND - 35_999, now + AHEAD - 1, now + AHEAD].map(at), [0, 1, 1, 0]);
});

test("a set that nobody has ended reaches to now, and is told apart", () => {
  const under = (now) => laneParts([set("under_way", 0)], 0, now).blocks[0];
  assert.deepEqual([under(35_999).is, under(36_000).is], ["under_way", "over"]);
  assert.deepEqual([under(18_000).width, under(72_000).width], [10, 20]);
  // One that is done stays as long as it was.
  assert.equal(laneParts([set("done", 0)], 0, 50_000).blocks[0].width, 10);
});

test("a rest has its two ticks until the set after it begins", () => {
  const window = { from: 90_000, until: 126_000 };
  const windows = (is, now) => laneParts([set(is, 100_000, { window })], 0, now).windows;
  assert.deepEqual(windows("to_come", 80_000), [{ key: "1-0-0", left: 25, width: 10 }]);
  assert.deepEqual(windows("under_way", 110_000), []);
  assert.deepEqual(windows("to_come", 126_000 + BEHIND), []);
});

test("light sets are told from working ones, and a fourth exercise looks like the third", () => {
  const { blocks } = laneParts([set("done", 0, { round: 0 }), set("to_come", 40_000, { leg: 3 })], 0, 20_000);
  assert.deepEqual(blocks.map(({ light, leg }) => [light, leg]), [[true, 0], [false, 2]]);
});

test("whoever hears the page hears which set is to come when", () => {
  const time = { now: 0, rate: 1, zoneOffset: 3_600, wall: Date.UTC(2026, 0, 5, 17, 0, 0) };
  const exercises = [{ en: "Bench press", de: "Bankdrücken" }];
  const dara = { name: "Dara", ribbon: [set("done", 0), set("to_come", 60_000), set("to_come", 120_000, { leg: 1 })] };
  assert.equal(laneText(en, dara, exercises, time), "Dara: Bench press at 18:01:00, exercise 2 at 18:02:00");
  assert.equal(laneText(de, dara, exercises, time), "Dara: Bankdrücken um 18:01:00, Übung 2 um 18:02:00");
  assert.equal(laneText(en, { name: "Edda", ribbon: [set("done", 0)] }, exercises, time), "Edda: no set planned");
});
