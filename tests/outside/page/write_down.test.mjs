// What a coach writes down in a few taps: of a set that is watched, and of what is different today.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { noticeLines } from "../../../server/src/web/assets/notices.js";
import { techniquePoints, watched } from "../../../server/src/web/assets/technique.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";
import { toAsk } from "../../../server/src/web/assets/today.js";
import { NOTE, writtenDown } from "../../../server/src/web/assets/write_down.js";

const raw = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(raw(tag), tag));
const turn = { group: 1, client: 104, block: 0, round: 0, leg: 1 };
const dara = { client: 104, name: "Dara", attendance: "here" };
const edda = { client: 105, name: "Edda", attendance: "expected" };
const group = { group: 1, coach: 1, stage: "warm_up", clients: [dara, edda] };
const note = (id, about, text = "sore") => ({ note: id, about, by: { is: "coach", coach: 1 }, at: 0, text: { is: "whole", text } });
const view = (notes) => ({ me: 1, notes, coaches: [{ coach: 1, name: "Ayla" }], stations: [], groups: [group] });

test("what is kept is the line without its ends, and nothing is no note", () => {
  assert.equal(writtenDown("  elbows in "), "elbows in");
  assert.equal(writtenDown("  "), null);
  assert.equal(writtenDown("q".repeat(900)).length, NOTE);
});

test("a set is watched while done or technique passed is what is expected of it", () => {
  const tap = (act) => ({ act: { do: act, turn } });
  assert.deepEqual(watched(group, tap("pass_technique")), { client: dara, turn });
  assert.deepEqual(watched(group, tap("done")), { client: dara, turn });
  assert.equal(watched(group, tap("go")), null);
  assert.equal(watched(group, { act: { do: "brief", group: 1, clients: [104] } }), null);
  assert.equal(watched(group, null), null);
});

test("the points are those of that exercise, in the language of the page", () => {
  const point = (en, de) => ({ en, de });
  const briefing = { blocks: [{ exercises: [{ set_up: [point("eyes under the bar", "Augen unter der Stange")] }, { set_up: [point("knees a little bent.", "Knie leicht gebeugt.")] }] }] };
  const of = (words, client, sheet) => techniquePoints(words, { client, turn }, sheet);
  assert.deepEqual(of(en, dara, briefing).slice(-2), ["breathe with the effort", "knees a little bent"]);
  assert.equal(of(de, dara, briefing).at(-1), "Knie leicht gebeugt");
  // Another exercise in its place has other points, which the group's sheet does not know.
  assert.equal(of(en, { ...dara, in_place_of: point("Cable row", "Rudern") }, briefing).at(-1), "breathe with the effort");
  assert.equal(of(en, dara, null).length, 5);
});

test("whoever has come and has not begun is asked, until something is written down", () => {
  assert.deepEqual(toAsk(group, view([])), [dara]);
  assert.deepEqual(toAsk({ ...group, stage: "rounds" }, view([])), []);
  assert.deepEqual(toAsk({ ...group, coach: 2 }, view([])), []);
  assert.deepEqual(toAsk({ ...group, clients: [{ ...dara, last: {} }] }, view([])), []);
  assert.deepEqual(toAsk(group, view([note(1, { about: "client", group: 1, client: 104 })])), []);
  assert.deepEqual(toAsk(group, view([note(1, { about: "group", group: 1 })])), [dara]);
});

test("a card says what was last written down about its clients", () => {
  const notes = [note(4, { about: "set", turn }, "clean"), note(3, { about: "client", group: 2, client: 9 }), note(2, { about: "client", group: 1, client: 105 }), note(1, { about: "group", group: 1 })];
  const lines = (stage) => noticeLines(en, { ...group, stage }, view(notes), 0).map(({ text }) => text);
  assert.deepEqual(lines("rounds"), ["Dara: clean", "Edda: sore"]);
  assert.deepEqual(lines("finished"), []);
  const erased = { ...notes[0], text: { is: "erased" } };
  assert.deepEqual(noticeLines(en, { ...group, stage: "rounds" }, view([erased]), 0), []);
});
