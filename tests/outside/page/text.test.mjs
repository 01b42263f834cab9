// The page says what `protocol/src/text.rs` says, from the same catalogues.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { Catalogue, argumentNames, argumentsFor, instantText, massText, sentence, stampedText } from "../../../server/src/web/assets/text.js";

const raw = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const catalogue = (tag) => new Catalogue(raw(tag), tag);
const [en, de] = [catalogue("en"), catalogue("de")];

test("an argument is put where it belongs", () => {
  const refusal = { because: "rest_not_over", until: 5000 };
  assert.equal(en.say("refusal", refusal, (name, value) => `<${name} ${value}>`), "Rest until <until 5000>.");
  assert.equal(de.say("set", { set: "working", n: 2, of: 3 }), "Satz 2 von 3");
  assert.equal(en.say("stage", "wipe_down"), "wipe down");
  assert.equal(en.say("effort", { felt: "rir", reps: 2 }), "2 in reserve");
});

test("an argument that nobody asks for is not worked out, and a gap is seen", () => {
  const never = () => assert.fail("asked for");
  assert.equal(en.say("refusal", { because: "not_next", turn: {} }, never), "Another set comes first.");
  assert.equal(en.say("refusal", { because: "toString" }), "refusal.toString");
  assert.equal(en.message("label.no_such"), "label.no_such");
});

test("a name that looks like a place or a pattern stays a name", () => {
  assert.equal(en.message("label.spots", { name: "{name} $& $1" }), "{name} $& $1 spots");
});

test("a mass is written in the language, and on a plate as it is stamped", () => {
  // The rows of `protocol/src/units.rs`; a pound is 453,592,370,000 ng by the agreement of 1959.
  const kg = 1_000_000_000_000;
  const lb = 453_592_370_000;
  for (const [nanograms, unit, shown] of [
    [82.5 * kg, "kg", "82.5 kg"],
    [1.25 * kg, "kg", "1.25 kg"],
    [20 * kg, "kg", "20 kg"],
    [225 * lb, "kg", "102.06 kg"],
    [20 * kg, "lb", "44.09 lb"],
    [185 * lb, "lb", "185 lb"],
    [9000 * kg, "kg", "9000 kg"],
  ]) {
    assert.equal(massText(en, nanograms, unit), shown);
    // CLDR: German has a comma for decimals. Thousands are not set apart in either, as on no plate.
    assert.equal(massText(de, nanograms, unit), shown.replace(".", ","));
    assert.equal(`${stampedText(nanograms, unit)} ${unit}`, shown);
  }
});

test("an instant is said by the gym's own clock, or in seconds where a test drives it", () => {
  const wall = Date.UTC(2026, 0, 5, 17, 0, 0);
  const time = { now: 10_000, rate: 1, zoneOffset: 3600, wall };
  assert.equal(instantText(70_000, time), "18:01:00");
  assert.equal(instantText(70_000, { ...time, rate: 10 }), "18:00:06");
  assert.equal(instantText(70_001, { ...time, rate: 0 }), "61 s");
});

test("a share is written in the language too", () => {
  const share = (words) => argumentsFor(words)("share", 25);
  assert.deepEqual([share(en), share(de)], ["2.5 %", "2,5 %"]);
});

test("ids become the names that the view knows", () => {
  const view = {
    stations: [{ station: 3, name: "Bench 2" }],
    groups: [{ group: 7, clients: [{ name: "Dara" }, { name: "Bram" }] }],
  };
  const argument = argumentsFor(en, view, { now: 0, rate: 0, zoneOffset: 0, wall: 0 }, "lb");
  const say = (refusal) => en.say("refusal", refusal, argument);
  assert.equal(say({ because: "station_taken", station: 3, group: 7 }), "Bench 2 is reserved by Dara, Bram.");
  assert.equal(say({ because: "station_busy", station: 9, turn: {} }), "Somebody is still on another station.");
  assert.equal(say({ because: "at_lightest", load: 453_592_370_000 * 45 }), "45 lb is the lightest here.");
  assert.equal(say({ because: "reps_range", most: 100 }), "At most 100 repetitions.");
  const disk = { because: "not_saving", writing: "disk_full" };
  assert.equal(say(disk), "The server cannot save at the moment (disk full). It tries again by itself.");
});

test("every argument of every refusal, reason for a load or a start and question has words", () => {
  const named = new Set(argumentNames());
  for (const tag of ["en", "de"]) {
    const refusals = Object.entries(raw(tag)).filter(([id]) => /^(refusal|next|question|start)\./.test(id));
    const places = refusals.flatMap(([id, text]) => [...text.matchAll(/\{(\w+)\}/g)].map(([, name]) => [id, name]));
    assert.ok(places.length > 10);
    for (const [id, name] of places) assert.ok(named.has(name), `${id}: ${name}`);
  }
});

test("who is in this view has a name, of everybody else a neutral word is said", () => {
  const view = {
    coaches: [{ coach: 1, name: "Ayla" }],
    stations: [],
    groups: [{ group: 7, clients: [{ client: 4, name: "Dara" }] }],
  };
  const time = { now: 0, rate: 0, zoneOffset: 0, wall: 0 };
  const say = (words, refusal) => sentence(words.say("refusal", refusal, argumentsFor(words, view, time)));
  const kg = 1_000_000_000_000;
  for (const [refusal, inEnglish, inGerman] of [
    [{ because: "coached_by", coach: 1 }, "Ayla coaches this group.", "Ayla betreut diese Gruppe."],
    [{ because: "coached_by", coach: 2 }, "Another coach coaches this group.", "Ein anderer Coach betreut diese Gruppe."],
    [{ because: "client_absent", client: 4 }, "Dara is not here. Say first when they have come.", "Dara ist nicht da. Erst die Ankunft melden."],
    [{ because: "client_absent", client: 5 }, "Somebody is not here. Say first when they have come.", "Jemand ist nicht da. Erst die Ankunft melden."],
    [{ because: "not_in_service", station: 1, defect: "cable" }, "Another station is out of service: cable.", null],
    [{ because: "load_unfit", below: 20 * kg }, "That load cannot be put on there. Nearest: 20 kg or none.", null],
    [{ because: "in_line", first: 7 }, "Dara waits for these stations and comes first. Give a reason to go before them.", null],
  ]) {
    assert.equal(say(en, refusal), inEnglish);
    if (inGerman !== null) assert.equal(say(de, refusal), inGerman);
  }
});
