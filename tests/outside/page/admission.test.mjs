// A group without stations on a coach's page: too large for one pair, and what stations it could have.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { admissionLines, tooLargeText } from "../../../server/src/web/assets/admission.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const words = (tag) => new Catalogue(JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url))), tag);
const [en, de] = [words("en"), words("de")];
const client = (id, name) => ({ client: id, name });
const other = { group: 2, clients: [client(6, "Farid")] };
const own = (over) => ({ group: 1, clients: [client(4, "Dara"), client(5, "Edda"), client(7, "Greta")], ...over });
const stations = [{ station: 2, name: "Bench 2" }, { station: 4, name: "Row 1" }];
const time = { now: 0, rate: 0, zoneOffset: 0, wall: 0 };
const lines = (language, parts) => {
  const group = own({ admissions: parts });
  return admissionLines(language, group, { groups: [group, other], stations }, time);
};

test("a group that is too large is told by how much, and who could go together", () => {
  const group = own({ too_large: { overrun: 83, split: [[4, 7], [5]] } });
  assert.equal(tooLargeText(en, group), "Too many for one pair of stations: somebody rests at least 1:23 too long. Better on two pairs: Dara + Greta; Edda.");
  assert.match(tooLargeText(de, group), /1:23 zu lang\. Besser auf zwei Paaren: Dara \+ Greta; Edda\.$/);
  assert.equal(tooLargeText(en, own({ too_large: { overrun: 83 } })).includes("Better"), false);
  assert.equal(tooLargeText(en, own({})), "");
});

test("stations are offered with their time, their price and what takes them", () => {
  const act = { do: "take_stations", group: 1, block: 0, stations: [2, 4], revision: 3 };
  const [line] = lines(en, [{ stations: [2, 4], from: 42_000, works_in: 2, longer: [{ group: 2, by: 80 }], others: 2, overrun: 12, act }]);
  assert.equal(line.what, "Bench 2 + Row 1, in about 1 min \u00b7 taking turns with Farid");
  assert.equal(line.price, "others would then wait longer: Farid by 1:20, 2 more groups \u00b7 own rests up to 0:12 too long");
  assert.deepEqual([line.title, line.act], ["Take both stations", act]);
});

test("where nobody waits longer that is said, and what cannot be taken has no button", () => {
  const [line] = lines(en, [{ stations: [4], from: 42_000, overrun: 0 }]);
  assert.deepEqual([line.what, line.price, line.act], ["Row 1, in about 1 min", "nobody else waits longer", undefined]);
  assert.deepEqual(lines(en, undefined), []);
});
