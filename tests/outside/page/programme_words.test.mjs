// What is wrong with an entry, as the page says it: `server/tests/golden/on_page.jsonl` has every kind that there is.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { placeText } from "../../../server/src/web/assets/programme_place.js";
import { rowWords } from "../../../server/src/web/assets/programme_table.js";
import { toldText } from "../../../server/src/web/assets/programme_words.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const read = (path) => readFileSync(new URL(`../../../${path}`, import.meta.url), "utf8");
const golden = read("server/tests/golden/on_page.jsonl").trim().split("\n").map((line) => JSON.parse(line));

const floor = {
  coaches: [{ key: "coach-1", name: "Ayla" }],
  stations: [{ key: "bench-1", name: "Bank 1" }, { key: "row-1", name: "Zug 1" }],
  exercises: [
    { key: "bench-press", name: { en: "Bench press", de: "Bankdr\u00fccken" } }, { key: "cable-row", name: { en: "Cable row", de: "Kabelrudern" } },
    { key: "push-up", name: { en: "Push-up", de: "Liegest\u00fctz" } },
  ],
};
const exercise = (use, more = {}) => ({ use, ...more });
const document = {
  client: [{ number: 104, name: "Dara" }, { number: 105, name: "Edda" }, { number: 106, name: "" }],
  group: [{ number: 4, clients: [105, 104], block: [{ exercise: [exercise("bench-press", { own: [{ client: 105 }] }), exercise("")] }] }],
};
const pageOf = (tag) => ({ words: new Catalogue(JSON.parse(read(`protocol/text/${tag}.json`)), tag), floor, document });
const [en, de] = ["en", "de"].map(pageOf);

/** A sentence on the page, whether it is a mistake of the form or of a table. */
const say = (page, told) => toldText(page, told, told.column !== undefined);
const id = (told) => `${told.about}.${told.wrong.because}`;

test("every kind of mistake is a whole sentence in every language", () => {
  assert.ok(golden.length > 100, `only ${golden.length} mistakes`);
  for (const told of golden) {
    for (const page of [en, de]) {
      const text = say(page, told);
      assert.match(text, /^[^a-z\u00e4\u00f6\u00fc{}]/, `${id(told)} begins small: ${text}`);
      assert.doesNotMatch(text, /[{}]|undefined|null|NaN|\[object|wrong_|(?:fits|found|help|nearest|split|gear)\.\w/, `${id(told)}: ${text}`);
      assert.match(text, /[.?]$/, `${id(told)}: ${text}`);
    }
  }
});

test("nothing is said in the words of files, and nothing in English on a German page", () => {
  const english = /\b(the|and|of|with|at|allowed|found|needs?|such|there|here|or|is|to|at most|enter)\b/i;
  for (const told of golden) {
    const [inEnglish, inGerman] = [say(en, told), say(de, told)];
    for (const text of [inEnglish, inGerman]) assert.doesNotMatch(text, /quotation|\[\[|floor file|Anf\u00fchrungszeichen|"/, text);
    assert.notEqual(inEnglish, inGerman, id(told));
    // What somebody has to enter, or did enter, is the same in every language.
    const entered = JSON.stringify([told.wrong, told.help ?? null]).match(/[\w-]+( [\w-]+)*/g) ?? [];
    const own = [...entered, "as-last-time", "find-it"].sort((a, b) => b.length - a.length);
    const bare = own.reduce((text, word) => text.replaceAll(word, ""), inGerman);
    assert.doesNotMatch(bare, english, `${id(told)}: ${inGerman}`);
  }
});

test("names stand where keys and numbers were", () => {
  const noMax = { about: "load", wrong: { because: "no_max", load: "70 %", client: 105, exercise: "bench-press" } };
  assert.equal(say(en, noMax), "For 70 % the maximum must be known, and that of Edda for Bench press is not. Enter it with the client, or find-it here.");
  assert.equal(say(de, noMax), "F\u00fcr 70 % muss das Maximum bekannt sein. F\u00fcr Bankdr\u00fccken fehlt es bei Edda: dort eintragen oder hier find-it eingeben.");
  const nobody = { about: "value", wrong: { because: "not_in_group", client: 106 } };
  assert.equal(say(de, nobody), "Person 106 ist nicht in dieser Gruppe.");
  const split = { is: "kept", one: [104, 105], other: [106] };
  const rests = { about: "block", wrong: { because: "rests_too_long", over: 20, most: 90, split } };
  assert.match(say(en, rests), /On two pairs, Dara and Edda on one and client 106 on the other, every rest can be kept\.$/);
  const again = { about: "value", wrong: { because: "again", again: "Dara", first: "client[1].name" } };
  assert.equal(say(de, again), "\u201eDara\u201c gibt es schon: Dara \u00b7 Name auf Anzeigen. Etwas anderes nehmen oder eines von beiden entfernen.");
});

test("days read as people of this language write them, and what is to be entered stays as it is", () => {
  const ahead = { about: "times", wrong: { because: "screening_ahead", on: "2026-11-26", day: "2026-11-25" } };
  assert.equal(say(de, ahead), "26.11.2026 liegt nach dem Tag dieses Programms, 25.11.2026.");
  const closed = { about: "times", wrong: { because: "closed", time: "18:00", weekday: 7, open: ["08:00-12:00", "14:00-16:00"] } };
  assert.equal(say(de, closed), "Um 18:00 ist geschlossen. Ge\u00f6ffnet am Sonntag: 08:00-12:00 und 14:00-16:00.");
  const point = { about: "value", wrong: { because: "value", found: { is: "text", text: "82,5 kg" }, allowed: { is: "mass" } }, help: { is: "point", word: "82.5 kg" } };
  assert.equal(say(de, point), "\u201e82,5 kg\u201c geht hier nicht. Mit Punkt: 82.5 kg.");
  assert.match(say(de, { ...point, help: undefined }), /^\u201e82,5 kg\u201c geht hier nicht\. M\u00f6glich: ein Gewicht mit Einheit wie 82\.5 kg oder 45 lb \(mit Punkt, /);
});

test("a form names its choices, and a table the words that stand in it", () => {
  const result = { about: "value", wrong: { because: "missing", allowed: { is: "one_of", choices: ["cleared", "follow-up-needed"] } } };
  assert.equal(toldText(de, result), "Noch leer. N\u00f6tig: unbedenklich oder R\u00fcckfrage n\u00f6tig.");
  assert.equal(toldText(de, result, true), "Noch leer. N\u00f6tig: cleared oder follow-up-needed.");
  const row = { line: 5, fate: "refused", reasons: [{ column: "screening", ...result }, { column: "", about: "row", wrong: { because: "half", line: 2 } }] };
  assert.equal(rowWords(de, row).what, "screening: Noch leer. N\u00f6tig: cleared oder follow-up-needed. \u00b7 Zeile 2 derselben Gruppe ist abgelehnt, und ein halbes Training ist keines.");
});

test("a place is told by the labels of the page", () => {
  for (const [path, inEnglish, inGerman] of [
    ["date", "Day", "Tag"],
    ["client[2].name", "Edda \u00b7 name on displays", "Edda \u00b7 Name auf Anzeigen"],
    ["client[3].earlier[2].on", "client 106 \u00b7 Done before this floor's journal, set 2 \u00b7 day", null],
    ["client[1].max.bench-press", "Dara \u00b7 Goes once, as known or estimated \u00b7 Bench press", "Dara \u00b7 Geht einmal, bekannt oder gesch\u00e4tzt \u00b7 Bankdr\u00fccken"],
    ["client[1].max.\"x y\"", "Dara \u00b7 Goes once, as known or estimated \u00b7 x y", null],
    ["group[1].clients[1]", "group 4 \u00b7 Edda", "Gruppe 4 \u00b7 Edda"],
    ["group[1].block", "group 4 \u00b7 blocks", "Gruppe 4 \u00b7 Bl\u00f6cke"],
    ["group[1].block[1].rest[2]", "group 4 \u00b7 Block 1 \u00b7 longest rest", "Gruppe 4 \u00b7 Block 1 \u00b7 l\u00e4ngste Pause"],
    ["group[1].block[1].exercise[1].load[2]", "group 4 \u00b7 Block 1 \u00b7 Exercise 1: Bench press \u00b7 load, round 2", "Gruppe 4 \u00b7 Block 1 \u00b7 \u00dcbung 1: Bankdr\u00fccken \u00b7 Last, Runde 2"],
    ["group[1].block[1].exercise[1].own[1].reps", "group 4 \u00b7 Block 1 \u00b7 Exercise 1: Bench press \u00b7 What one client does differently, Edda \u00b7 repetitions", null],
    ["group[1].block[1].exercise[2]", "group 4 \u00b7 Block 1 \u00b7 exercise 2", "Gruppe 4 \u00b7 Block 1 \u00b7 \u00dcbung 2"],
    ["client[9].number", "client 9 \u00b7 number", "Person 9 \u00b7 Nummer"],
    ["nowhere[1].at", "nowhere \u00b7 at", null],
    ["", "", ""],
  ]) {
    assert.equal(placeText(en, path), inEnglish, path);
    if (inGerman !== null) assert.equal(placeText(de, path), inGerman, path);
  }
});
