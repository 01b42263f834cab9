// What a coach enters of clients and sessions: numbers, fields as files write them, places of mistakes, the cost of a rest.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { moveUp, newClient, newGroup, nextNumber, numberOf, durationOf, ownerOf, removeClient, roundsOf, roundsText, saysSame, tidy, toSend } from "../../../server/src/web/assets/programme_doc.js";
import { BLOCK, CLIENT, EARLIER, EXERCISE, GROUP, OWN, SCREENING, TECHNIQUE } from "../../../server/src/web/assets/programme_fields.js";
import { offerOf, rowWords } from "../../../server/src/web/assets/programme_table.js";
import { blockCost, restCost, secondsOf, workSeconds } from "../../../server/src/web/assets/rest_cost.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const read = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(read(tag), tag));

const SPECS = { CLIENT, SCREENING, EARLIER, GROUP, BLOCK, EXERCISE, TECHNIQUE, OWN };

test("somebody new gets the next number, and the lowest free one where there is none above", () => {
  assert.equal(nextNumber([], 9), 1);
  assert.equal(nextNumber([{ number: 4 }, { number: 7 }], 9), 8);
  assert.equal(nextNumber([{ number: 1 }, { number: 9 }, { number: 2 }], 9), 3);
  // What is no number yet takes none away.
  assert.equal(nextNumber([{ number: "x" }, { number: "" }, { number: 2 }], 9), 3);
  assert.deepEqual(newClient({ client: [{ number: 104 }] }, 999_999), { number: 105, name: "" });
  const group = newGroup({ group: [] }, { coach: "coach-1", keys: ["bench-press", "cable-row", "mat"], most: 9 });
  assert.deepEqual(group.block[0].exercise.map((exercise) => exercise.use), ["bench-press", "cable-row"]);
});

test("fields are sent as files write them", () => {
  for (const [text, value] of [["90", "90 s"], [" 2 min ", "2 min"], ["", ""], ["1 min 30 s", "1 min 30 s"]]) assert.equal(durationOf(text), value);
  for (const [text, value] of [["10", 10], ["8-12", "8-12"], ["30 s", "30 s"], ["12 / 10/8", [12, 10, 8]], ["ten", "ten"], ["", ""]]) {
    assert.deepEqual(roundsOf(text), value, text);
  }
  for (const value of [10, "8-12", [12, 10, "4-6"]]) assert.deepEqual(roundsOf(roundsText(value)), value);
  assert.equal(roundsText(undefined), "");
  assert.equal(numberOf("1e3"), "1e3");
});

test("what says nothing is left out, and entries of lists keep their places", () => {
  const document = {
    date: "", client: [{ number: 1, name: "", screening: {}, max: { row: "" }, earlier: [] }],
    group: [{ number: 1, clients: [], block: [{ rest: ["", "90 s"], exercise: [{ use: "row", technique: { reps: "" }, own: [{}, { client: 1 }] }] }] }],
  };
  assert.deepEqual(toSend(document), {
    client: [{ number: 1 }],
    group: [{ number: 1, block: [{ rest: ["", "90 s"], exercise: [{ use: "row", own: ["", { client: 1 }] }] }] }],
  });
  assert.deepEqual(toSend({ client: [], group: [] }), { client: [], group: [] });
  assert.equal(tidy({ show_load: false }).show_load, false);
  assert.ok(saysSame(document, { group: document.group, client: [{ name: undefined, number: 1 }] }));
  assert.ok(!saysSame(document, { ...document, date: "2026-11-25" }));
});

test("whoever is taken out is gone from the groups that may change, with what was for them alone", () => {
  const group = (number) => ({ number, clients: [1, 2], block: [{ exercise: [{ own: [{ client: 2 }, { client: 1 }] }, {}] }] });
  const document = { client: [{ number: 1 }, { number: 2 }], group: [group(1), group(2)] };
  removeClient(document, document.client[1], [2]);
  assert.deepEqual(document.client, [{ number: 1 }]);
  assert.deepEqual(document.group[0].clients, [1]);
  assert.deepEqual(document.group[0].block[0].exercise[0].own, [{ client: 1 }]);
  assert.deepEqual(document.group[1].clients, [1, 2], "a group that has begun stays as it is");
  const list = ["a", "b", "c"];
  moveUp(list, 2);
  moveUp(list, 0);
  assert.deepEqual(list, ["a", "c", "b"]);
});

test("a mistake belongs to its field, or to the nearest thing above it that is there", () => {
  const paths = new Map([["client[2]", 0], ["client[2].name", 0], ["group[1].block[1].rest[2]", 0], ["client[1].max", 0], ["client[1].max.bench-press", 0]]);
  for (const [field, owner] of [
    ["client[2].name", "client[2].name"], ["client[2].nmae", "client[2]"], ["group[1].block[1].rest[2]", "group[1].block[1].rest[2]"],
    ["client[1].max.bench-press", "client[1].max.bench-press"], ["client[1].max.\"a b\"", "client[1].max"],
    ["group[9].coach", null], ["date", null], ["", null],
  ]) assert.equal(ownerOf(field, paths), owner, field);
});

test("every field has its words in both languages, and every field of a file is there", () => {
  const ids = Object.values(SPECS).flat().flatMap(({ label, labels = [], how, add, title, options = [] }) => [
    ...(labels.length > 0 ? labels : [label]), how, add, title, ...options.map(([, text]) => text),
  ]);
  for (const id of new Set(ids.filter(Boolean))) {
    for (const words of [en, de]) assert.notEqual(words.message(id), id, `${id} has no words`);
  }
  const names = Object.fromEntries(Object.entries(SPECS).map(([name, specs]) => [name, specs.map((spec) => spec.name).sort()]));
  // The fields that the reader of files knows, as README.md and server/examples/ have them.
  assert.deepEqual(names, {
    CLIENT: ["earlier", "max", "name", "number", "regular", "screening", "show_load", "unit"],
    SCREENING: ["on", "result"],
    EARLIER: ["ending", "exercise", "goal", "helped", "load", "on", "reps", "station"],
    GROUP: ["clients", "coach", "ends", "number", "starts"],
    BLOCK: ["changeover", "rest", "rounds"],
    EXERCISE: ["in_place", "load", "own", "per_side", "reps", "reserve", "technique", "tempo", "use"],
    TECHNIQUE: ["load", "ramp", "reps"],
    OWN: ["client", "load", "reps", "reserve", "technique_load", "technique_ramp", "technique_reps", "tempo"],
  });
});

test("the label ids that modules name are in both catalogues", () => {
  for (const name of ["programme", "programme_form", "programme_parts", "programme_place", "programme_table", "programme_told"]) {
    const source = readFileSync(new URL(`../../../server/src/web/assets/${name}.js`, import.meta.url), "utf8");
    const ids = [...source.matchAll(/"(label\.[a-z_]+)"/g)].map(([, id]) => id);
    assert.ok(ids.length > 1, name);
    for (const id of ids) for (const words of [en, de]) assert.notEqual(words.message(id), id, `${name} says ${id}`);
  }
});

test("a paired set saves what the model of its time says", () => {
  // S sets of w seconds each, rest r, t to walk: 2Sw + (2S - 1)r one after the other, S(2w + t) + (S - 1)r paired, from the
  // first repetition to the last; computed by hand from these formulas.
  for (const [rounds, w, rest, walk, apart, together, saved] of [
    [3, 40, 120, 0, 840, 480, 42.9], [3, 40, 120, 15, 840, 525, 37.5], [4, 40, 120, 0, 1160, 680, 41.4],
    [3, 30, 60, 0, 480, 300, 37.5], [4, 45, 90, 20, 990, 710, 28.3],
  ]) {
    const cost = restCost({ rounds, work: [w, w], rest, walk });
    assert.deepEqual([cost.apart, cost.together], [apart, together]);
    assert.equal(Math.round(cost.saved * 1000) / 10, saved);
  }
});

test("work and rest are read as files write them", () => {
  for (const [text, secs] of [["90 s", 90], ["2 min", 120], ["1 min 30 s", 90], ["90", null], ["", null], [undefined, null], ["x s", null]]) assert.equal(secondsOf(text), secs, text);
  for (const [exercise, secs] of [
    [{ reps: 10, tempo: "2-0-2-0" }, 40], [{ reps: "8-12", tempo: "2-0-X-1" }, 48], [{ reps: [10, 8], tempo: "2-0-2-0", per_side: true }, 80],
    [{ reps: "30 s" }, 30], [{ reps: 10, tempo: "fast" }, null], [{ tempo: "2-0-2-0" }, null], [{ reps: 10, tempo: "2-0-2" }, null],
  ]) assert.equal(workSeconds(exercise), secs, JSON.stringify(exercise));
  const row = { use: "row", reps: 10, tempo: "2-0-2-0" };
  const block = { rounds: 3, rest: ["120 s", "150 s"], changeover: "15 s", exercise: [row, row] };
  assert.deepEqual([blockCost(block).apart, blockCost(block).together], [840, 525]);
  for (const without of [{ exercise: [row] }, { rest: ["", ""] }, { rounds: "" }, { exercise: [row, { ...row, in_place: true }] }, { exercise: [row, {}] }]) {
    assert.equal(blockCost({ ...block, ...without }), null, JSON.stringify(without));
  }
});

test("every row of a table is told, and what can be done with it", () => {
  const rows = [
    { line: 2, fate: "new" }, { line: 3, fate: "same" }, { line: 4, fate: "changed", columns: ["name", "unit"] },
    { line: 5, fate: "refused", reasons: [{ column: "name", about: "row", wrong: { because: "nothing" } }, { column: "", about: "row", wrong: { because: "not_read" } }] },
  ];
  const told = rows.map((row) => rowWords({ words: en, floor: {}, document: {} }, row));
  assert.deepEqual(told.map(({ word }) => word), ["new", "as it was", "changed", "refused"]);
  assert.deepEqual(told[3], { line: "line 5", word: "refused", what: "name: This cell must not be empty. \u00b7 Not looked at: too many rows are refused." });
  assert.equal(told[2].what, "name \u00b7 unit");
  assert.deepEqual(offerOf({ rows, good: 3 }), { take: "good", label: "label.entry_table_take_good", n: 3 });
  assert.deepEqual(offerOf({ rows: rows.slice(0, 3), good: 3 }), { take: "all", label: "label.entry_table_take", n: 3 });
  assert.equal(offerOf({ rows, good: 0 }), null);
  assert.equal(offerOf({ rows, good: 3, mistakes: [{ field: "client[1].name", about: "value", wrong: { because: "unknown_field" } }] }), null);
});
