// The load proposed for a next set on a coach's page: what it says, and what its buttons ask for.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { proposalLines } from "../../../server/src/web/assets/proposals.js";
import { meant } from "../../../server/src/web/assets/sure.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const words = (tag) => new Catalogue(JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url))), tag);
const [en, de] = [words("en"), words("de")];
const kg = (n) => n * 1_000_000_000_000;
const turn = { group: 7, client: 4, block: 0, round: 2, leg: 0 };
const proposal = {
  set: { by: "mass", load: kg(62.5) },
  work: { work: "reps", least: 10, most: 10 },
  change: "harder",
  reason: { because: "felt_light" },
  rule: "three_words",
};
const part = { turn, exercise: { en: "Bench press", de: "Bankdr\u00fccken" }, unit: "kg", proposal, load: kg(60), work: proposal.work, easier: kg(60), harder: kg(65) };
const lines = (language, over = {}, time = {}) => {
  const group = { group: 7, clients: [{ client: 4, name: "Dara", proposals: [{ ...part, ...over }] }, { client: 5, name: "Edda" }] };
  return proposalLines(language, group, { groups: [group], stations: [], coaches: [] }, time);
};

test("a proposal says what, why and by which rule, in both languages", () => {
  const [line] = lines(en);
  assert.deepEqual([line.title, line.what, line.why], ["Dara \u00b7 Bench press", "heavier: 62.5 kg, now 60 kg", "It felt light."]);
  assert.equal(line.by, "our own rule for light, right and heavy");
  const [german] = lines(de);
  assert.deepEqual([german.title, german.why], ["Dara \u00b7 Bankdr\u00fccken", de.message("next.felt_light")]);
});

test("its buttons name the loads, and each asks for what it says", () => {
  const [line] = lines(en);
  assert.deepEqual(line.taps.map((tap) => tap.title), ["rather 60 kg", "Take 62.5 kg", "rather 65 kg"]);
  assert.deepEqual(line.taps.map((tap) => tap.act), [
    { do: "settle_load", turn, proposed: proposal, said: { said: "easier", steps: 1 } },
    { do: "settle_load", turn, proposed: proposal, said: { said: "accept" } },
    { do: "settle_load", turn, proposed: proposal, said: { said: "harder", steps: 1 } },
  ]);
  const [lightest] = lines(en, { easier: undefined });
  assert.deepEqual(lightest.taps.map((tap) => tap.how), ["accept", "harder"]);
});

test("one repetition more is offered as that", () => {
  const more = { ...proposal, set: { by: "mass", load: kg(60) }, work: { work: "reps", least: 11, most: 11 }, change: "more_reps", reason: { because: "step_too_big", above: kg(70), share: 100 } };
  const [line] = lines(en, { proposal: more });
  assert.deepEqual([line.what, line.why], ["same load, one repetition more: 60 kg, 11 reps", "The next step, 70 kg, is more than 10 % at once."]);
  assert.equal(line.taps[1].title, "Take 11 reps");
});

test("a first load holds as it is; where all is as it should be there is nothing to read", () => {
  const first = { ...proposal, change: "first", reason: { because: "as_last_time" }, rule: "two_for_two" };
  assert.deepEqual(lines(en, { proposal: first, load: kg(62.5) })[0].taps.map((tap) => tap.how), ["easier", "harder"]);
  const same = { ...proposal, change: "same", reason: { because: "as_it_should" } };
  assert.deepEqual(lines(en, { proposal: same }), []);
});

test("what the coach made of it is said, and can be said again otherwise", () => {
  const [line] = lines(en, { said: { said: "easier", steps: 1 }, load: kg(60) });
  assert.equal(line.settled, "set: 60 kg");
  // What is set is not offered once more.
  assert.deepEqual(line.taps.map((tap) => tap.how), ["accept", "harder"]);
  const [taken] = lines(en, { said: { said: "accept" }, load: kg(62.5) });
  assert.deepEqual(taken.taps.map((tap) => tap.how), ["easier", "harder"]);
});

test("a load far above the last one is said once more, and nothing else is", () => {
  const act = { do: "set_load", turn, load: kg(90), revision: 3 };
  const swap = { do: "swap_exercise", group: 7, client: 4, leg: 0, exercise: 3, load: kg(90), revision: 3 };
  const answer = (outcome) => ({ is: "answer", outcome });
  const far = answer({ outcome: "refused", refusal: { because: "far_above_last", last: kg(60) } });
  assert.deepEqual(meant(act, far), { ...act, sure: true });
  assert.deepEqual(meant(swap, far), { ...swap, sure: true });
  assert.equal(meant(act, answer({ outcome: "refused", refusal: { because: "over" } })), null);
  assert.equal(meant(act, answer({ outcome: "accepted", recorded: 1 })), null);
  assert.equal(meant(act, { is: "lost" }), null);
});

test("a pin is proposed and taken as a pin", () => {
  const pins = { ...proposal, set: { by: "pin", pin: 8 } };
  const [line] = lines(en, { proposal: pins, load: { pin: 7 }, easier: { pin: 7 }, harder: { pin: 9 } });
  assert.equal(line.what, "heavier: pin 8, now pin 7");
  assert.deepEqual(line.taps.map((tap) => tap.title), ["rather pin 7", "Take pin 8", "rather pin 9"]);
  assert.deepEqual(line.taps[1].act.proposed.set, { by: "pin", pin: 8 });
  const gone = { ...pins, change: "easier", reason: { because: "not_on_gear", load: { pin: 20 } } };
  assert.equal(lines(de, { proposal: gone, load: { pin: 8 } })[0].why, "Pin 20 geht hier nicht: die n\u00e4chstleichtere Last.");
  assert.equal(lines(en, { proposal: pins, load: { pin: 8 }, said: { said: "accept" } })[0].settled, "set: pin 8");
});
