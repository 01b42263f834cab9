// Everything that a coach can say has a place on the page, and what a form says is what the floor reads.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { otherTaps } from "../../../server/src/web/assets/acts.js";
import { clientForms, floorForms, groupForms } from "../../../server/src/web/assets/forms.js";
import { noticeLines } from "../../../server/src/web/assets/notices.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";
import { canUndo, secondsLeft, takesBack } from "../../../server/src/web/assets/undo.js";

const read = (path) => JSON.parse(readFileSync(new URL(`../../../protocol/${path}`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(read(`text/${tag}.json`), tag));
const schema = read("schema/to-server.json");

const press = { en: "Bench press", de: "Bankdrücken" };
const turn = { group: 1, client: 4, block: 0, round: 2, leg: 0 };
const coming = (after) => ({ phase: "coming", after: { after, since: 0, limit: 9, latest: 9 }, ready: 0, go_from: 0, needs: [] });
const part = (more) => ({ turn, revision: 6, station: 1, exercise: press, reps: 10, spotted: true, load: { total: 60_000_000_000_000, unit: "kg" }, phase: coming("rest"), settings: [], ...more });
const last = { turn: { ...turn, round: 1 }, exercise: press, load: 60_000_000_000_000, ended: 0, reps: 9, ending: { end: "complete" } };
const dara = { client: 4, name: "Dara", attendance: "here", screening_open: true, owed: 2, exercise: 1, turn: part(), last };
const bram = { client: 5, name: "Bram", attendance: "here", briefed: true, warmed_up: true, spots: [1], turn: part({ phase: coming("changeover"), spotter: "Ayla" }) };
const chidi = { client: 6, name: "Chidi", attendance: "late", halt: { halt: "stop", since: 0 } };
const edda = { client: 7, name: "Edda", attendance: "here", spots: [], turn: part({ phase: { phase: "under_way", went: 0, count_in: 1, starts: 2, ends: 3 } }) };
const pulldown = { exercise: 3, places: [3] };
const group = {
  group: 1, revision: 6, coach: 1, stage: "rounds", block: { n: 1, of: 2, exercises: [press, { en: "Row", de: "Rudern" }], rounds: 3, rest_min: 60, rest_max: 90 },
  stations: [1, 2], clients: [dara, bram, chidi, edda], choices: [{ leg: 1, stations: [3], exercises: [pulldown] }],
  waits: { place: 2, block: 1 }, lapses: 250_000, offer: { to: 1, asks: 1 }, taps: [],
  fit: { by: 600_000, closing: true, left: 1_200, offers: [{ act: { do: "set_rounds", group: 1, block: 0, rounds: 2, revision: 6 }, left: 500 }] },
};
const waiting = { ...group, group: 2, stage: "waiting", waits: undefined, clients: [{ ...dara, client: 8, turn: undefined, last: undefined }] };
const wiping = { ...group, group: 3, stage: "wipe_down" };
const view = {
  me: 1, groups: [group, waiting, wiping], coaches: [{ coach: 1, name: "Ayla" }, { coach: 2, name: "Zeno" }],
  stations: [{ station: 1, name: "Bench 1", state: "reserved" }, { station: 2, name: "Row 1", state: "out_of_service", out: { defect: "cable", since: 0 } }, { station: 3, name: "Row 2", state: "other_use", other_use: { until: 900_000 } }],
  exercises: [{ exercise: 3, name: { en: "Pulldown", de: "Latzug" } }], places: [{ station: 3, lightest: 5_000_000_000_000, unit: "kg" }],
  plates: [{ station: 1, unit: "kg", kinds: [
    { plate: { mass: 20_000_000_000_000, full: true }, count: 4, on: 1 },
    { plate: { mass: 2_500_000_000_000, full: false }, count: 2, missing: 1 },
  ] }],
  settings: [{ station: 1, settings: [{ name: "hooks", values: ["6", "7"] }] }],
};
const away = { ...view, coaches: [{ coach: 1, name: "Ayla", away: 900_000 }, { coach: 2, name: "Zeno" }] };

/** What a form holds as it opens. */
const opened = (form) =>
  Object.fromEntries(form.fields.map((f) => [f.name, f.kind === "choice" ? f.options[0].value : f.kind === "number" ? String(f.value) : "text"]));

function everyForm() {
  const groups = [group, waiting, wiping];
  const clients = groups.flatMap((g) => g.clients.flatMap((client) => clientForms(en, client, g, view)));
  return [...clients, ...groups.flatMap((g) => groupForms(en, g, view)), ...floorForms(en, view), ...floorForms(en, away)];
}

/** The fields that the schema of an act asks for and knows. */
function fieldsOf(verb) {
  const act = schema.$defs.Act.oneOf.find((one) => one.properties.do.const === verb);
  assert.ok(act, `the floor knows no ${verb}`);
  return { known: Object.keys(act.properties), wanted: act.required };
}

test("what a form says has every field that the floor asks for, and no other", () => {
  for (const form of everyForm()) {
    const act = form.act(opened(form));
    const { known, wanted } = fieldsOf(act.do);
    for (const field of wanted) assert.ok(act[field] !== undefined, `${form.key} lacks ${field}: ${JSON.stringify(act)}`);
    for (const field of Object.keys(act)) assert.ok(known.includes(field), `${form.key} has a ${field}`);
    assert.ok(!JSON.stringify(act).includes("null"), `${form.key}: ${JSON.stringify(act)}`);
    assert.ok(form.title && !form.title.includes("."), `${form.key} has no words: ${form.title}`);
  }
});

test("every act there is can be said on the page", () => {
  const forms = everyForm().map((form) => form.act(opened(form)).do);
  const rights = otherTaps({ ...group, clients: [bram, { ...edda, last: { ...last, effort: undefined } }] }, null).map((tap) => tap.act.do);
  // What the floor proposes with its target, next loads among it, the buttons that are always there, the calls, the notes, and the last tap.
  const listed = ["take_stations", "give_leave", "pass_technique", "confirm_load", "go", "reps", "done"];
  const fixed = ["settle_load", "pause", "stop", "resume", "answer", "attend", "undo", "erase_note"];
  const said = new Set([...forms, ...rights, ...listed, ...fixed]);
  const all = schema.$defs.Act.oneOf.map((one) => one.properties.do.const);
  assert.deepEqual(all.filter((verb) => !said.has(verb)), []);
});

test("another exercise is offered by its name in the page's language, with what it asks for there", () => {
  for (const [words, title, option, corrected] of [
    [en, "Row", "Pulldown, Row 2", "Bench press"],
    [de, "Rudern", "Latzug, Row 2", "Bankdrücken"],
  ]) {
    const forms = clientForms(words, dara, group, view);
    const swap = forms.find((form) => form.key === "swap_exercise/1");
    assert.equal(swap.title, `${words.message("act.swap_exercise")}: ${title}`);
    assert.deepEqual(swap.fields[0].options.map((one) => one.label), [option]);
    const act = swap.act({ what: "0", load: "7.5" });
    assert.deepEqual([act.exercise, act.station, act.load], [3, 3, 7_500_000_000_000]);
    assert.ok(forms.find((form) => form.key === "correct").title.endsWith(`: ${corrected}`));
  }
});

test("a helped set says with how many, and a note without words says nothing", () => {
  const forms = clientForms(en, edda, group, view);
  const ending = forms.find((form) => form.key === "ending");
  assert.deepEqual(ending.act({ end: "helped", reps: "8", helped: "2" }), { do: "done", turn, reps: 8, ending: { end: "helped", reps: 2 } });
  assert.deepEqual(ending.act({ end: "failed", reps: "8", helped: "1" }).ending, { end: "failed" });
  assert.equal(forms.find((form) => form.key === "note").act({ text: "" }), null);
});

test("a correction keeps the load to the nanogram unless it was changed", () => {
  const correct = clientForms(en, dara, group, view).find((form) => form.key === "correct");
  const said = { end: "short", reps: "8", helped: "1" };
  assert.equal(correct.act({ ...said, load: "60" }).load, last.load);
  assert.equal(correct.act({ ...said, load: "57.5" }).load, 57_500_000_000_000);
});

test("a notice says what is pressing, and offers what helps", () => {
  const lines = noticeLines(en, group, view, 0);
  const of = (key) => lines.find((line) => line.key === key);
  assert.equal(of("lapses").text, "Nothing heard. Stations are given away in 4:10.");
  assert.equal(of("offer").text, "Ayla asks for this group");
  assert.equal(of("waits").text, "on the wait list, place 2");
  assert.equal(of("fit").text, "Will not fit: takes about 20 min, must end in 10 min. the floor closes then");
  assert.deepEqual(of("fit").acts.map((one) => one.title), ["Rounds: 2, then about 9 min"]);
  const fits = noticeLines(en, { ...group, fit: { ...group.fit, left: 300 } }, view, 0).find((line) => line.key === "fit");
  assert.deepEqual([fits.text, fits.acts], ["takes about 5 min, ends in 10 min", []]);
});

test("a tap can be taken back for ten seconds, where the floor takes it back", () => {
  const accepted = { is: "answer", outcome: { outcome: "accepted", recorded: 1_000 } };
  assert.ok(canUndo({ do: "arrive" }, accepted));
  assert.ok(!canUndo({ do: "end_session" }, accepted));
  assert.ok(!canUndo({ do: "arrive" }, { is: "answer", outcome: { outcome: "refused" } }));
  // The window of the floor, as the protocol's `TAKE_BACK_WINDOW` says.
  for (const [now, left] of [[1_000, 10], [10_999, 1], [11_000, 0], [60_000, 0]]) assert.equal(secondsLeft(1_000, now), left, `at ${now}`);
});

test("a text that was erased is taken back by writing it down once more", () => {
  const accepted = { is: "answer", outcome: { outcome: "accepted", recorded: 1_000 } };
  const erased = { note: 3, about: { about: "station", station: 1 }, text: "elbows tucked" };
  const erase = { do: "erase_note", note: 3 };
  assert.deepEqual(takesBack(erase, accepted, "id", erased), { do: "note", note: erased.about, text: "elbows tucked" });
  assert.equal(takesBack(erase, accepted, "id", null), null, "nobody knows the text");
  assert.equal(takesBack({ ...erase, note: 4 }, accepted, "id", erased), null, "another note");
  assert.equal(takesBack(erase, { is: "answer", outcome: { outcome: "refused" } }, "id", erased), null);
  assert.deepEqual(takesBack({ do: "go", turn }, accepted, "id", erased), { do: "undo", command: "id" });
});

test("repetitions that nobody knows are typed, and no number is offered for them", () => {
  const { reps: _, ...unknown } = { ...last, ending: { end: "stopped" } };
  const correct = clientForms(en, { ...dara, last: unknown }, group, view).find((form) => form.key === "correct");
  const field = (name) => correct.fields.find((one) => one.name === name);
  assert.equal(field("reps").value, undefined);
  assert.deepEqual(field("end").options.filter((option) => option.now).map((option) => option.value), ["stopped"]);
  assert.deepEqual(correct.act({ end: "stopped", reps: "4", helped: "1", load: "60" }).ending, { end: "stopped" });
});

test("what another did is told in one line for ten seconds, with who and where", () => {
  const deed = (deed, by, client) => ({ deed, by, at: 5_000, client });
  const [bench, zeno] = [{ is: "station", station: 1 }, { is: "coach", coach: 2 }];
  const told = (words, done, now) => noticeLines(words, { ...group, done }, view, now).filter((line) => line.key.startsWith("deed")).map((line) => line.text);
  const done = [deed("went", bench, 5), deed("passed", zeno, 4), deed("handed_over", zeno)];
  assert.deepEqual(told(en, done, 5_000), ["Bram: GO, tapped at Bench 1", "Dara: technique passed, by Zeno", "taken over, by Zeno"]);
  assert.equal(told(de, done, 14_999)[0], "Bram: LOS, getippt an Bench 1");
  assert.deepEqual(told(en, done, 15_000), [], "ten seconds later");
  // The line stands still while it is there: nothing in it counts.
  assert.deepEqual(told(en, done, 5_000), told(en, done, 9_000));
  for (const name of read("schema/to-display.json").$defs.Deed.oneOf.flatMap((one) => one.const ?? one.enum)) {
    for (const words of [en, de]) assert.notEqual(words.message(`deed.${name}`), `deed.${name}`);
  }
});

test("a pin is typed and put right as a pin", () => {
  const coming = { turn, phase: { phase: "coming", after: { after: "first" } }, station: 3, revision: 4, load: { total: { pin: 7 }, unit: "kg" } };
  const forms = clientForms(en, { ...dara, turn: { ...dara.turn, ...coming }, last: { ...last, load: { pin: 6 } } }, group, view);
  const of = (key) => forms.find((form) => form.key === key);
  const field = of("set_load").fields[0];
  assert.deepEqual([field.name, field.label, field.least, field.value, field.step], ["pin", "pin", 1, 7, 1]);
  assert.deepEqual(of("set_load").act({ pin: "8" }).load, { pin: 8 });
  const correct = of("correct");
  assert.deepEqual(correct.fields.at(-1).value, 6);
  assert.deepEqual(correct.act({ end: "complete", reps: "8", helped: "1", pin: "5" }).load, { pin: 5 });
});

test("another exercise takes a pin at a stack of numbers, and a mass elsewhere", () => {
  const swap = (places) => clientForms(en, dara, group, { ...view, places }).find((form) => form.key === "swap_exercise/1");
  const numbers = swap([{ station: 3, lightest: { pin: 1 }, unit: "kg" }]);
  assert.deepEqual(numbers.fields.map((field) => field.name), ["what", "pin"]);
  assert.deepEqual(numbers.act({ what: "0", pin: "4" }).load, { pin: 4 });
  const masses = swap([{ station: 3, lightest: 5_000_000_000_000, unit: "kg" }]);
  assert.deepEqual(masses.fields.map((field) => [field.name, field.only]), [["what", undefined], ["load", undefined]]);
});
