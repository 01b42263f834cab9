// What is signalled, when, and only once.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { AGAIN, AHEAD, Signals, isSoon, spoken } from "../../../server/src/web/assets/signals.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const read = (tag) => JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(read(tag), tag));
const kg = (mass) => mass * 1_000_000_000_000;
const load = { total: kg(62.5), unit: "kg", gear: "bar", confirmed: true };
const row = (client, start, more = {}) => ({
  turn: { group: 1, client, block: 0, round: 1, leg: 0 },
  client: `N${client}`,
  station: 1,
  task: "spot",
  start,
  told: true,
  load,
  ...more,
});
const call = (number, more = {}) => ({ call: number, kind: "coach_please", place: "Row 1", since: 0, ...more });
const view = (more) => ({ stations: [{ station: 1, name: "Bench 1" }], calls: [], run_sheet: [], ...more });
const kinds = (due) => due.map(({ kind, soon }) => (kind === "spot" ? `${kind} ${soon ? "soon" : "now"}` : kind));

test("a start is signalled twenty seconds ahead, once, and once more when it has come", () => {
  const signals = new Signals();
  const shown = view({ run_sheet: [row(1, 60_000)] });
  const at = (now) => kinds(signals.due(shown, now, now));
  assert.deepEqual(at(60_000 - AHEAD - 1), []);
  assert.deepEqual(at(60_000 - AHEAD), ["spot soon"]);
  assert.deepEqual(at(59_999), []);
  assert.deepEqual(at(60_000), ["spot now"]);
  assert.deepEqual(at(90_000), [], "who has been told twice knows");
});

test("a start that is put off beyond the twenty seconds is signalled anew", () => {
  const signals = new Signals();
  const at = (start, now) => kinds(signals.due(view({ run_sheet: [row(1, start)] }), now, now));
  assert.deepEqual(at(60_000, 45_000), ["spot soon"]);
  assert.deepEqual(at(66_000, 50_000), [], "a little later is the same need");
  assert.deepEqual(at(120_000, 50_000), []);
  assert.deepEqual(at(120_000, 100_000), ["spot soon"]);
});

test("what is only planned is not signalled", () => {
  assert.equal(isSoon(row(1, 0, { told: false }), 0), false);
  assert.deepEqual(new Signals().due(view({ run_sheet: [row(1, 0, { told: undefined })] }), 0, 0), []);
});

test("help comes before a call, a call before a set, and those of one kind in order of time", () => {
  const help = { call: call(7, { kind: "help_now" }) };
  const shown = view({ help, calls: [help.call, call(8)], run_sheet: [row(2, 9_000), row(1, 4_000)] });
  const due = new Signals().due(shown, 0, 0);
  assert.deepEqual(kinds(due), ["help", "call", "spot soon", "spot soon"]);
  assert.deepEqual(due.slice(2).map((one) => one.row.turn.client), [1, 2]);
});

test("help is signalled again until somebody is on the way, a call is not", () => {
  const signals = new Signals();
  const help = (answered) => ({ call: call(7, { kind: "help_now", answered }) });
  const at = (own, answered) => kinds(signals.due(view({ help: help(answered), calls: [call(8)] }), 0, own));
  assert.deepEqual(at(0), ["help", "call"]);
  assert.deepEqual(at(AGAIN - 1), []);
  assert.deepEqual(at(AGAIN), ["help"]);
  assert.deepEqual(at(3 * AGAIN, "Orla"), []);
});

test("a signal is spoken with task, person, place, load and the seconds that are left, in both languages", () => {
  const shown = view({});
  const plain = (text) => text.replaceAll("\u00a0", " ");
  const say = (words, signal, now) => plain(spoken(words, signal, shown, now));
  const soon = { kind: "spot", row: row(1, 60_000), soon: true };
  assert.equal(say(en, soon, 41_500), "spot: N1, Bench 1, 62.5 kg, in 19 seconds");
  assert.equal(say(de, { ...soon, soon: false }, 61_000), "jetzt sichern: N1, Bench 1, 62,5 kg");
  assert.equal(say(en, { kind: "call", call: call(8) }, 0), "Coach, please: Row 1");
});
