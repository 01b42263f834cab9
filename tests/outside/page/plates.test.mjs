// The plates of a bar read as at the station, and the forms say what the floor takes.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { platesForms, platesText } from "../../../server/src/web/assets/plates.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const read = (path) => JSON.parse(readFileSync(new URL(`../../../protocol/${path}`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(read(`text/${tag}.json`), tag));
const plate = (kg) => ({ mass: kg * 1_000_000_000_000, full: kg >= 10 });
const bar = { bar: 20_000_000_000_000, collar: 0, side: [plate(20), plate(1.25)], known: true, strip: [plate(5)], add: [plate(20), plate(1.25)], alone: 40, together: 15 };
const load = { total: 62_500_000_000_000, unit: "kg", gear: "bar", confirmed: false, bar };

test("plates are named from the inside out, with what hands do", () => {
  assert.equal(platesText(en, load), "each side 20 + 1.25; off 5, on 20 + 1.25");
  assert.equal(platesText(en, { ...load, confirmed: true }), "each side 20 + 1.25");
  assert.equal(platesText(de, { ...load, bar: { ...bar, strip: [], known: false } }), "je Seite 20 + 1.25; alles ab, dann drauf 20 + 1.25");
  assert.equal(platesText(en, { ...load, bar: { ...bar, side: [], strip: [], add: [], known: false } }), "bar only; take all off");
  assert.equal(platesText(en, { ...load, bar: { ...bar, other_bar: true, bar: 15_000_000_000_000, strip: [], add: [] } }), "bar of 15 kg: each side 20 + 1.25");
});

test("what the plates do not make is said with what they do", () => {
  const without = { ...load, bar: undefined };
  assert.equal(platesText(en, { ...without, unbuilt: { below: 60_000_000_000_000, above: 65_000_000_000_000 } }), "The plates do not make it: 60 kg or 65 kg");
  assert.equal(platesText(en, { ...without, unbuilt: { below: 60_000_000_000_000 } }), "The plates do not make it: 60 kg");
  assert.equal(platesText(en, { ...without, unbuilt: {} }), "The plates do not make it");
  assert.equal(platesText(en, { ...without, unbuilt: { below: 60_000_000_000_000, at: ["Bench 1", "Rack"] } }), "The plates do not make it: 60 kg; taken at Bench 1, Rack");
  assert.equal(platesText(en, { ...without, gear: "stack" }), "");
  assert.equal(platesText(en, undefined), "");
});

test("what hangs on a belt is named, and body mass alone is said", () => {
  const hung = { total: 25_000_000_000_000, unit: "kg", gear: "belt", confirmed: true, belt: [20_000_000_000_000, 5_000_000_000_000] };
  assert.equal(platesText(en, hung), "on the belt 20 + 5");
  assert.equal(platesText(de, { ...hung, total: 0, belt: [] }), "nur Körpergewicht");
});

test("a pair of a shared rack is said with where it is", () => {
  const pair = { total: 20_000_000_000_000, unit: "kg", gear: "dumbbells", confirmed: false, rack: "Rack A" };
  assert.equal(platesText(en, pair), "from Rack A");
  assert.equal(platesText(en, { ...pair, unbuilt: { below: 17_500_000_000_000, above: 22_500_000_000_000, at: ["Row 1"] } }), "The pair is out; taken at Row 1; free: 17.5 kg, 22.5 kg");
  assert.equal(platesText(de, { ...pair, unbuilt: { at: ["Row 1"] } }), "Das Paar ist nicht frei; vergeben an: Row 1");
});

test("what is on the bar goes on it with the heaviest inside", () => {
  const view = { plates: [{ station: 1, unit: "kg", kinds: [{ plate: plate(20), count: 4, on: 1 }, { plate: plate(1.25), count: 3, missing: 1 }] }] };
  const [on, missing] = platesForms(en, { turn: { station: 1 } }, view);
  assert.deepEqual(on.fields.map(({ label, most, value }) => [label, most, value]), [["20 kg, each side", 2, 1], ["1.25 kg, each side", 1, 0]]);
  assert.deepEqual(on.act({ "kind-0": "2", "kind-1": "1" }), { do: "plates_on", station: 1, side: [plate(20), plate(20), plate(1.25)] });
  assert.deepEqual(missing.act({ plate: "1", count: "2" }), { do: "plates_missing", station: 1, plate: plate(1.25), count: 2 });
  assert.deepEqual(platesForms(en, { turn: { station: 2 } }, view), []);
});

test("which bar is there is asked where there is a choice", () => {
  const bars = [{ mass: 20_000_000_000_000 }, { mass: 25_000_000_000_000, name: { en: "Trap bar", de: "Hexstange" } }];
  const view = { plates: [{ station: 1, unit: "kg", bars, bar: 1, kinds: [{ plate: plate(20), count: 4 }] }] };
  const [on] = platesForms(en, { turn: { station: 1 } }, view);
  assert.deepEqual(on.fields[0].options, [{ value: "0", label: "20 kg", now: false }, { value: "1", label: "Trap bar, 25 kg", now: true }]);
  assert.deepEqual(on.act({ bar: "1", "kind-0": "1" }), { do: "plates_on", station: 1, side: [plate(20)], bar: 1 });
  assert.deepEqual(on.act({ bar: "0", "kind-0": "0" }), { do: "plates_on", station: 1, side: [] });
});
