// A set that is said to be done long before it should be is asked about once.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Doubts } from "../../../server/src/web/assets/doubts.js";

const turn = { group: 1, client: 4, block: 0, round: 1, leg: 0 };
const view = (secs, phase = "under_way") => ({ groups: [{ clients: [{ client: 4, turn: { turn, phase: { phase, count_in: 7_000, starts: 10_000, ends: 10_000 + secs * 1000 } } }, { client: 5 }] }] });
const done = { do: "done", turn, reps: 8 };

test("a set is asked about until a third of what it should take has gone by, and three seconds", () => {
  for (const [secs, until] of [[45, 25_000], [30, 20_000], [9, 13_000], [4, 13_000]]) {
    assert.equal(new Doubts().about(done, view(secs), until - 1), Math.floor((until - 1 - 10_000) / 1000), secs);
    assert.equal(new Doubts().about(done, view(secs), until), null, secs);
  }
  assert.equal(new Doubts().about(done, view(45), 8_000), 0, "while it is counted in");
});

test("the same tap once more is meant, while the question stands", () => {
  const doubts = new Doubts();
  assert.equal(doubts.about(done, view(90), 11_000), 1);
  assert.equal(doubts.about({ ...done, effort: { felt: "right" } }, view(90), 12_000), null);
  assert.equal(doubts.about(done, view(90), 13_000), 3, "an answer holds for one tap");
  assert.equal(doubts.about(done, view(90), 19_000), 9, "it was long ago");
  assert.equal(doubts.about({ ...done, turn: { ...turn, leg: 1 } }, view(90), 19_500), null, "of another set nothing is known");
});

test("nothing else is asked about", () => {
  assert.equal(new Doubts().about({ do: "pass_technique", turn }, view(45), 10_000), null);
  assert.equal(new Doubts().about(done, view(45, "coming"), 10_000), null);
  assert.equal(new Doubts().about(done, null, 10_000), null);
});
