// What is written down and what was said of a set, in words.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { correctForm } from "../../../server/src/web/assets/forms.js";
import { noteWords } from "../../../server/src/web/assets/notes.js";
import { setWords } from "../../../server/src/web/assets/sets.js";
import { Catalogue, writtenText } from "../../../server/src/web/assets/text.js";

const read = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const [en, de] = [new Catalogue(read("en")), new Catalogue(read("de"))];
const view = {
  coaches: [{ coach: 1, name: "Ayla" }],
  groups: [{ group: 1, clients: [{ client: 4, name: "Dara" }, { client: 5, name: "Edda" }] }],
  stations: [{ station: 1, name: "Bench 1" }],
};
/** The wall clock says midnight at floor time zero. */
const time = { now: 0, rate: 1, zoneOffset: 0, wall: 0 };
const ayla = { is: "coach", coach: 1 };
const incident = { about: "incident", station: 1 };
const dara = { about: "client", group: 1, client: 4 };
const note = (about, text, by = ayla) => ({ note: 3, about, by, at: 65_000, text });

test("a note says when, about what, by whom, and what", () => {
  const whole = { is: "whole", text: "A collar slipped" };
  const head = "00:01:05 \u00b7 incident at Bench 1 \u00b7 by Ayla";
  assert.deepEqual(noteWords(en, note(incident, whole), view, time), { head, text: "A collar slipped", erased: false, link: "label.page_note_sheet" });
  const heads = [
    [dara, "00:01:05 \u00b7 about Dara \u00b7 by Ayla"],
    [{ about: "group", group: 1 }, "00:01:05 \u00b7 about Dara, Edda \u00b7 by Ayla"],
    [{ about: "set", turn: { group: 1, client: 5, block: 0, round: 1, leg: 0 } }, "00:01:05 \u00b7 about a set of Edda \u00b7 by Ayla"],
    [{ about: "station", station: 1 }, "00:01:05 \u00b7 Bench 1 \u00b7 by Ayla"],
  ];
  for (const [about, expected] of heads) {
    const said = noteWords(en, note(about, whole), view, time);
    assert.deepEqual([said.head, said.link], [expected, null]);
  }
  const helped = noteWords(de, note(dara, whole, { is: "assistant", coach: 1 }), view, time);
  assert.equal(helped.head, "00:01:05 \u00b7 zu Dara \u00b7 von Assistenz von Ayla");
});

test("the beginning of a note leads to all of it, and an erased one says only that", () => {
  const begins = noteWords(en, note(dara, { is: "begins", text: "Felt di" }), view, time);
  assert.deepEqual([begins.text, begins.link], ["Felt di\u2026", "label.page_note_whole"]);
  const erased = noteWords(en, note(incident, { is: "erased", erased: { by: ayla, at: 70_000 } }), view, time);
  assert.deepEqual([erased.text, erased.erased, erased.link], ["erased by Ayla, 00:01:10", true, null]);
  assert.equal(noteWords(de, note(incident, { is: "erased" }), view, time).text, "gelöscht");
});

const turn = { group: 1, client: 4, block: 0, round: 2, leg: 0 };
const said = { reps: 8, load: 57_500_000_000_000, effort: { felt: "heavy" }, ending: { end: "helped", reps: 2 } };
const set = { turn, set: { set: "working", n: 2, of: 3 }, exercise: { en: "Bench press", de: "Bankdrücken" }, station: "Bench 1", unit: "kg", ended: 0, said };

test("a corrected set shows both what is known and what was said first", () => {
  const first = { reps: 10, load: 60_000_000_000_000, ending: { end: "complete" } };
  const plain = (text) => text.replaceAll("\u00a0", " ");
  const both = setWords(en, { ...set, first });
  assert.equal(plain(both.title), "Bench press \u00b7 set 2 of 3 \u00b7 Bench 1");
  assert.equal(plain(both.now), "57.5 kg, 8 reps, spotter helped with 2, heavy");
  assert.equal(plain(both.first), "first: 60 kg, 10 reps, complete");
  assert.equal(setWords(en, set).first, "");
});

test("a correction begins with what is known", () => {
  const form = correctForm(en, { turn, ...said }, "kg");
  const field = (name) => form.fields.find((one) => one.name === name);
  assert.equal(field("end").options.find((option) => option.now).value, "helped");
  assert.deepEqual([field("reps").value, field("helped").value, field("load").value], [8, 2, "57.5"]);
  const act = form.act({ end: "helped", reps: "8", helped: "2", load: "57.5" });
  assert.deepEqual(act, { do: "correct", turn, ...said });
});

test("a sheet says the time by the clock it was written at", () => {
  // RFC 3339, section 5.8, the second example.
  assert.equal(writtenText("en", "1996-12-19T16:39:57-08:00"), "19 December 1996 at 16:39:57");
  assert.equal(writtenText("de", "1996-12-19T16:39:57-08:00"), "19. Dezember 1996 um 16:39:57");
});

test("of a set that was stopped the page says that its repetitions are not known", () => {
  const { reps: _, ...stopped } = { ...said, ending: { end: "stopped" } };
  const told = (words) => setWords(words, { ...set, said: stopped }).now.replaceAll("\u00a0", " ");
  assert.equal(told(en), "57.5 kg, repetitions not known, stopped, felt heavy".replace("felt heavy", en.say("effort", said.effort)));
  assert.match(told(de), /Wiederholungen nicht bekannt, angehalten/);
});
