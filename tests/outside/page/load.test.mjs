// A load reads as at the station: how heavy, how it is set, what to change, and what else to know.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { howTexts, loadText, ownLoadText } from "../../../server/src/web/assets/load.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const read = (path) => JSON.parse(readFileSync(new URL(`../../../protocol/${path}`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(read(`text/${tag}.json`), tag));
const kg = (mass) => mass * 1_000_000_000_000;
const small = (mass, count) => ({ mass: kg(mass), count });
const stack = (pin, now) => ({ total: kg(58.25), on_now: now ? kg(50.75) : undefined, unit: "kg", gear: "stack", confirmed: false, stack: { pin, now } });

test("a stack says where the pin goes, what lies on top, and what to change", () => {
  const wanted = { label: kg(55), on_top: [small(1.25, 2), small(0.75, 1)] };
  assert.deepEqual(howTexts(en, stack(wanted)), ["pin at 55, + 2 \u00d7 1.25 + 0.75 kg on top"]);
  const moved = stack(wanted, { label: kg(50), on_top: [small(0.75, 1)] });
  assert.deepEqual(howTexts(en, moved)[1], "pin from 50 to 55, on top 2 \u00d7 1.25 kg");
  assert.deepEqual(howTexts(de, stack({ label: kg(40) }, { label: kg(40), on_top: [small(1.25, 1)] })), ["Stift bei 40", "oben ab 1.25 kg"]);
  assert.equal(howTexts(en, { ...moved, confirmed: true }).length, 1);
});

test("what reaches the hand is said as about", () => {
  const load = { ...stack({ label: kg(50) }), total: kg(50) };
  load.stack.at_hand = kg(25);
  assert.equal(loadText(en, load), "50 kg");
  assert.deepEqual(howTexts(en, load), ["pin at 50", "about 25 kg at the hand"]);
});

test("where a stack carries part of the body, more is easier", () => {
  const load = { ...stack({ label: kg(30) }), total: kg(30) };
  load.stack.assists = true;
  assert.deepEqual(howTexts(en, load), ["pin at 30", "assisting 30 kg: more is easier"]);
  assert.equal(howTexts(de, load)[1], "hilft mit 30 kg: mehr ist leichter");
});

test("what is read as a number has a comma in German, what is stamped stays as it is", () => {
  const plate = (mass) => ({ mass: kg(mass), full: true });
  const bar = { bar: kg(17.5), other_bar: true, collar: 0, side: [plate(20), plate(2.5)], known: true, strip: [], add: [plate(2.5)], alone: 0, together: 0 };
  const load = { total: kg(62.5), unit: "kg", gear: "bar", confirmed: false, bar };
  assert.equal(loadText(de, load), "62,5 kg");
  assert.ok(howTexts(de, load)[0].includes("17,5 kg"), howTexts(de, load)[0]);
  assert.ok(howTexts(de, load)[0].endsWith("je Seite 20 + 2.5; drauf 2.5"), howTexts(de, load)[0]);
  const at = { ...stack({ label: kg(52.5) }), total: kg(52.5) };
  at.stack.at_hand = kg(26.25);
  assert.deepEqual(howTexts(de, at), ["Stift bei 52.5", "etwa 26,25 kg an der Hand"]);
});

test("of a pair of dumbbells the load is that of one, twice", () => {
  const load = { total: kg(14), on_now: kg(12), unit: "kg", gear: "dumbbells", confirmed: false };
  assert.equal(loadText(en, load), "2 \u00d7 14 kg");
  assert.deepEqual(howTexts(en, load), ["one in each hand"]);
});

test("where plates change it says how long that takes and that sides are loaded in turn", () => {
  const plate = (mass) => ({ mass: kg(mass), full: mass >= 10 });
  const bar = { bar: kg(20), collar: 0, side: [plate(20)], known: true, strip: [plate(5)], add: [plate(20)], alone: 40, together: 25 };
  const load = { total: kg(60), unit: "kg", gear: "bar", confirmed: false, bar };
  const notes = ["about 40 s alone, 25 s with two", "load and strip both sides in turn"];
  assert.deepEqual(howTexts(en, load), ["each side 20; off 5, on 20", ...notes]);
  assert.equal(howTexts(de, load)[2], "beide Seiten im Wechsel be- und entladen");
  assert.deepEqual(howTexts(en, { ...load, confirmed: true }), ["each side 20"]);
  const unknown = { ...load, bar: { ...bar, known: false, strip: [] } };
  assert.deepEqual(howTexts(en, unknown), ["each side 20; take all off, then on 20", notes[1]]);
  const there = { ...load, bar: { ...bar, strip: [], add: [], alone: 0, together: 0 } };
  assert.deepEqual(howTexts(en, there), ["each side 20"]);
});

test("who counts in another unit reads about how much it is", () => {
  const pounds = (mass) => ({ mass: mass * 453_592_370_000, unit: "lb" });
  const load = { ...stack({ label: kg(60) }), total: kg(60), about: pounds(132) };
  assert.equal(ownLoadText(en, load), "60 kg (about 132 lb)");
  assert.deepEqual(howTexts(en, load), ["pin at 60"], "labels stay as stamped");
  const pair = { total: kg(14), unit: "kg", gear: "dumbbells", confirmed: false, about: pounds(31) };
  assert.equal(ownLoadText(de, pair), "2 \u00d7 14 kg (etwa 2 \u00d7 31 lb)");
  assert.deepEqual([ownLoadText(en, { ...load, about: undefined }), ownLoadText(en, undefined)], ["60 kg", ""]);
});

test("a pair of a shared rack is said with its rack", () => {
  const pair = { total: kg(20), unit: "kg", gear: "dumbbells", confirmed: false, rack: "Rack A" };
  assert.deepEqual(howTexts(en, pair), ["from Rack A", "one in each hand"]);
});

test("of a stack whose labels are mere numbers the pin is all there is to say", () => {
  const at = (pin) => ({ label: { pin } });
  const load = { total: { pin: 7 }, on_now: { pin: 5 }, unit: "kg", gear: "stack", confirmed: false, stack: { pin: at(7), now: at(5) } };
  assert.equal(loadText(en, load), "pin 7");
  assert.equal(ownLoadText(de, load), "Pin 7");
  assert.deepEqual(howTexts(en, load), ["pin from 5 to 7"]);
  assert.deepEqual(howTexts(en, { ...load, on_now: { pin: 7 }, stack: { pin: at(7), now: at(7) } }), []);
  assert.deepEqual(howTexts(en, { ...load, confirmed: true }), []);
  load.stack.assists = true;
  assert.deepEqual(howTexts(de, { ...load, confirmed: true }), ["hilft: ein h\u00f6herer Pin ist leichter"]);
});
