// What the buttons of the coach page say, which are offered, and what the answer line says afterwards.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { actKey, actWords, asksEffort, expectedTap, newsWords, otherTaps } from "../../../server/src/web/assets/acts.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";
import { whatText } from "../../../server/src/web/assets/turn_line.js";

const catalogue = (tag) => new Catalogue(JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8")), tag);
const [en, de] = [catalogue("en"), catalogue("de")];
const turn = { group: 1, client: 4, block: 0, round: 2, leg: 0 };
const part = {
  turn,
  revision: 6,
  station: 1,
  exercise: { en: "Bench press", de: "Bankdrücken" },
  set: { set: "working", n: 2, of: 3 },
  load: { total: 60_000_000_000_000, unit: "kg" },
  phase: { phase: "coming", after: { after: "nothing" }, ready: 0, go_from: 0, needs: [] },
};
const go = { act: { do: "go", turn }, from: 100, client: 4 };
const pause = { act: { do: "pause", group: 1 }, from: 0 };
const group = {
  group: 1,
  stations: [1, 2],
  block: { n: 1, of: 1, exercises: [{ en: "Bench press", de: "Bankdrücken" }, { en: "Seated row", de: "Rudern sitzend" }] },
  clients: [{ client: 4, name: "Dara", turn: part }, { client: 5, name: "Bram" }],
  taps: [pause, go],
};
const view = {
  groups: [group],
  stations: [{ station: 1, name: "Bench 1" }, { station: 2, name: "Row 1" }],
  coaches: [{ coach: 2, name: "Farid" }],
};
const time = { now: 0, rate: 0, zoneOffset: 0, wall: 0 };
const plain = (text) => text.replaceAll("\u00a0", " ");

test("a button names act, client, exercise, set and load", () => {
  const said = actWords(en, go.act, view);
  assert.deepEqual([said.title, said.who, plain(said.detail)], ["Go", "Dara", "Dara, Bench press, set 2 of 3, 60 kg"]);
  const take = { do: "take_stations", group: 1, block: 0, stations: [1, 2], revision: 6 };
  assert.deepEqual(actWords(en, take, view), { title: "Take both stations", detail: "Bench 1 + Row 1", who: "" });
  const other = { do: "pass_technique", turn: { ...turn, round: 0, leg: 1 } };
  assert.deepEqual(actWords(en, other, view), { title: "Technique passed", detail: "Dara, Seated row", who: "Dara" });
  const step = { do: "set_load", turn, load: 50_000_000_000_000, revision: 6 };
  const taken = actWords(en, step, view);
  assert.deepEqual([plain(taken.title), plain(taken.detail)], ["Take 50 kg", "Dara, Bench press, set 2 of 3"]);
});

test("what is taken back is named, and a lighter load is not called by the one before", () => {
  const accepted = { is: "answer", outcome: { outcome: "accepted" } };
  assert.equal(newsWords(en, { do: "undo", command: "id" }, accepted, view, time, "Done, Dara").text, "Take back: Done, Dara: Saved.");
  const lighter = newsWords(en, { do: "lighter", turn, revision: 6 }, accepted, view, time);
  assert.equal(plain(lighter.text), "Lighter, Dara, Bench press, set 2 of 3: Saved.");
});

test("a German page names exercises in German", () => {
  assert.equal(plain(actWords(de, go.act, view).detail), "Dara, Bankdrücken, Satz 2 von 3, 60 kg");
  const other = { do: "pass_technique", turn: { ...turn, round: 0, leg: 1 } };
  assert.equal(actWords(de, other, view).detail, "Dara, Rudern sitzend");
  const swapped = { name: "Dara", in_place_of: { en: "Push-up", de: "Liegestütz" } };
  const line = (words) => plain(whatText(words, part, view, true, swapped));
  assert.equal(line(de), "Bankdrücken an Bench 1 · statt Liegestütz · Satz 2 von 3 · 60 kg");
  assert.equal(line(en), "Bench press at Bench 1 · instead of Push-up · set 2 of 3 · 60 kg");
});

test("the expected tap is the first whose time has come, or else the soonest", () => {
  const done = { act: { do: "done", turn }, from: 300 };
  const taps = [done, go];
  for (const [now, tap] of [[0, go], [99, go], [100, go], [299, go], [300, done]]) {
    assert.equal(expectedTap({ ...group, taps }, now), tap, `at ${now}`);
  }
  assert.equal(expectedTap({ ...group, taps: [pause] }, 0), null);
});

test("pause and stop have their own place, and a client's rights are always there", () => {
  assert.equal(expectedTap(group, 0), go);
  assert.deepEqual(otherTaps(group, go).map((tap) => tap.act), [
    { do: "not_yet", turn },
    { do: "lighter", turn, revision: 6 },
  ]);
  const open = { ...group, clients: [{ client: 5, name: "Bram", last: { turn, exercise: { en: "Row", de: "Rudern" }, ended: 0, reps: 9 } }] };
  assert.deepEqual(otherTaps(open, go).map((tap) => tap.act), [{ do: "effort", turn }]);
  open.clients[0].last.effort = { felt: "right" };
  assert.deepEqual(otherTaps(open, go), []);
  const listed = { act: { do: "lighter", turn, revision: 5 }, from: 7 };
  assert.equal(otherTaps({ ...group, taps: [go, listed] }, go).filter((tap) => tap.act.do === "lighter").length, 1);
  assert.deepEqual(otherTaps({ ...group, taps: [], halt: { halt: "pause" } }, null), []);
});

test("a technique set asks for no effort", () => {
  assert.ok(asksEffort({ do: "done", turn }));
  assert.ok(!asksEffort({ do: "done", turn: { ...turn, round: 0 } }));
  assert.ok(!asksEffort(go.act));
});

test("another revision is the same button, another set is not", () => {
  assert.equal(actKey({ do: "lighter", turn, revision: 1 }), actKey({ do: "lighter", turn, revision: 2 }));
  assert.notEqual(actKey(go.act), actKey({ do: "go", turn: { ...turn, round: 3 } }));
});

test("the answer line says what became of the tap", () => {
  const head = "Go, Dara, Bench press, set 2 of 3, 60 kg: ";
  const refused = (refusal) => ({ is: "answer", outcome: { outcome: "refused", refusal } });
  const already = { outcome: "already", by: { is: "coach", coach: 2 }, when: 4000 };
  for (const [news, text, bad] of [
    [{ is: "saving" }, "saving", false],
    [{ is: "unsent" }, "not sent. Tap again once the link is back.", true],
    [{ is: "early", until: 9000 }, "Rest until 9 s.", true],
    [{ is: "answer", outcome: { outcome: "accepted", recorded: 1 } }, "Saved.", false],
    [{ is: "answer", outcome: already }, "Already done. (Farid, 4 s)", false],
    [refused({ because: "station_busy", station: 1, turn }), "Somebody is still on Bench 1.", true],
  ]) {
    const said = newsWords(en, go.act, news, view, time);
    assert.deepEqual([plain(said.text), said.bad], [head + text, bad]);
  }
});

test("a note that was written down is read back in one line", () => {
  const accepted = { is: "answer", outcome: { outcome: "accepted", recorded: 0 } };
  const said = (text, words = en) => newsWords(words, { do: "note", note: { about: "group", group: 1 }, text }, accepted, view, time);
  assert.deepEqual(said("elbows tucked"), { text: "Saved: “elbows tucked”", bad: false });
  assert.equal(said(" elbows\n tucked ", de).text, "Gespeichert: „elbows tucked“");
  assert.equal(said("elbow ".repeat(20)).text, `Saved: “${"elbow ".repeat(6)}elbo…”`);
  // One that is refused is not.
  const refused = { is: "answer", outcome: { outcome: "refused", refusal: { because: "text_length", most: 500 } } };
  assert.ok(newsWords(en, { do: "note", note: { about: "group", group: 1 }, text: "x" }, refused, view, time).bad);
});

test("who agrees to a hand-over twice is told how it stands, and nothing is wrong", () => {
  const already = { is: "answer", outcome: { outcome: "already", by: { is: "coach", coach: 2 }, when: 0 } };
  const said = (me) => newsWords(en, { do: "accept_group", group: 1, from: 1 }, already, { ...view, me }, time);
  assert.deepEqual([said(2).text.split(": ").at(-1), said(2).bad], ["It is yours already.", false]);
  assert.equal(said(1).text.split(": ").at(-1), "You have given it away already.");
});
