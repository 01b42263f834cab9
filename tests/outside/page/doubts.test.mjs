// A set that is said to be done before it can be is asked about once.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Doubts } from "../../../server/src/web/assets/doubts.js";

const turn = { group: 1, client: 4, block: 0, round: 1, leg: 0 };
const view = (tempo, phase = "under_way") => ({ groups: [{ clients: [{ client: 4, turn: { turn, tempo, phase: { phase, count_in: 7_000, starts: 10_000, ends: 50_000 } } }, { client: 5 }] }] });
const done = { do: "done", turn, reps: 8 };

test("a set is asked about until one repetition of it can be over by its tempo", () => {
  for (const [tempo, until] of [["3-1-2-0", 16_000], ["1-0-1-0", 13_000], ["2-0-X-0", 13_000], [undefined, 13_000]]) {
    assert.equal(new Doubts().about(done, view(tempo), until - 1), Math.floor((until - 1 - 10_000) / 1000), tempo);
    assert.equal(new Doubts().about(done, view(tempo), until), null, tempo);
  }
  assert.equal(new Doubts().about(done, view("3-1-2-0"), 8_000), 0, "while it is counted in");
});

test("the same tap once more is meant, while the question stands", () => {
  const doubts = new Doubts();
  assert.equal(doubts.about(done, view("9-9-9-9"), 11_000), 1);
  assert.equal(doubts.about({ ...done, effort: { felt: "right" } }, view("9-9-9-9"), 12_000), null);
  assert.equal(doubts.about(done, view("9-9-9-9"), 13_000), 3, "an answer holds for one tap");
  assert.equal(doubts.about(done, view("9-9-9-9"), 19_000), 9, "it was long ago");
  assert.equal(doubts.about({ ...done, turn: { ...turn, leg: 1 } }, view("9-9-9-9"), 19_500), null, "of another set nothing is known");
});

test("nothing else is asked about", () => {
  assert.equal(new Doubts().about({ do: "pass_technique", turn }, view("3-1-2-0"), 10_000), null);
  assert.equal(new Doubts().about(done, view("3-1-2-0", "coming"), 10_000), null);
  assert.equal(new Doubts().about(done, null, 10_000), null);
});
