// Which stations the coach page offers to a group that waits.

import assert from "node:assert/strict";
import { test } from "node:test";

import { offers } from "../../../server/src/web/assets/stations.js";

const line = (station, name, state = "free") => ({ station, key: name.toLowerCase(), name, state });
const group = (...suited) => ({
  group: 1,
  revision: 3,
  block: { n: 1, of: 1, exercises: ["Cable row", "Pulldown"] },
  suited,
});
const plain = (items) => items.map(({ exercise, lines, first }) => [exercise, lines.map((l) => l.station), first]);

test("only stations that suit are listed, free ones first", () => {
  const stations = [line(1, "Row-1", "in_use"), line(2, "Row-2"), line(3, "Pulldown"), line(4, "Rack")];
  assert.deepEqual(plain(offers(group([1, 2], [3]), stations, [2, 3])), [
    ["Cable row", [2, 1], 2],
    ["Pulldown", [3], 3],
  ]);
});

test("the first choice is what the floor proposes", () => {
  const stations = [line(1, "Row-1"), line(2, "Row-2"), line(3, "Pulldown")];
  assert.deepEqual(plain(offers(group([1, 2, 3], [1]), stations, [2, 1])).map(([, , first]) => first), [2, 1]);
});

test("without a proposal a station is chosen once where there are enough", () => {
  const stations = [line(1, "Row-1"), line(2, "Row-2")];
  assert.deepEqual(offers(group([1, 2], [1, 2]), stations, undefined).map((item) => item.first), [1, 2]);
  assert.deepEqual(offers(group([1], [1]), stations, undefined).map((item) => item.first), [1, 1]);
});

test("where none that suits is free there is no choice, and no unfit one instead", () => {
  const stations = [line(1, "Row-1", "reserved"), line(2, "Row-2", "wipe_down"), line(3, "Pulldown"), line(4, "Rack")];
  assert.deepEqual(plain(offers(group([1, 2], [3]), stations, undefined)), [
    ["Cable row", [1, 2], null],
    ["Pulldown", [3], 3],
  ]);
  assert.deepEqual(plain(offers(group(), stations, undefined)).map(([, lines, first]) => [lines, first]), [
    [[], null],
    [[], null],
  ]);
});
