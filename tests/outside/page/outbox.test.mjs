// Which taps wait for the link and which do not, and which view replaces which.

import assert from "node:assert/strict";
import { test } from "node:test";

import {
  GIVE_UP_AFTER,
  KEPT,
  Outbox,
  SAVING_AFTER,
  UNANSWERED,
  givesWayTo,
} from "../../../server/src/web/assets/outbox.js";
import { unsentStore } from "../../../server/src/web/assets/unsent.js";

const command = (id, verb) => ({ id, at: 5, act: { do: verb, turn: id } });
const ids = (commands) => commands.map(({ id }) => id);

function box() {
  const heard = [];
  const outbox = new Outbox((entry, news) => heard.push([entry.command.id, news.is]));
  return { outbox, heard };
}

test("without a link only done, reps, effort and call are kept, and go out as they were tapped", () => {
  const { outbox, heard } = box();
  const verbs = ["done", "reps", "effort", "call", "go", "stop", "lighter", "take_stations", "resume", "attend"];
  verbs.forEach((verb) => outbox.tap(command(verb, verb)));
  assert.deepEqual(heard, verbs.map((verb, n) => [verb, n < 4 ? "kept" : "unsent"]));
  assert.deepEqual(outbox.toSend(1), []);
  outbox.linkUp();
  assert.deepEqual(outbox.toSend(2), verbs.slice(0, 4).map((verb) => command(verb, verb)));
  assert.deepEqual(outbox.toSend(3), []);
});

test("of what waits for the link it is known, however it is said once more", () => {
  const { outbox } = box();
  const turn = { group: 1, client: 4, block: 0, round: 1, leg: 0 };
  outbox.tap({ id: "a", at: 5, act: { do: "done", turn, reps: 8 } });
  assert.equal(outbox.keeps({ do: "done", turn, effort: { felt: "heavy" } }), true);
  assert.equal(outbox.keeps({ do: "done", turn: { ...turn, leg: 1 } }), false);
  assert.equal(outbox.keeps({ do: "effort", turn }), false);
  outbox.linkUp();
  outbox.toSend(1);
  assert.equal(outbox.keeps({ do: "done", turn }), false, "it is on its way");
});

test("what was sent and not answered goes again with the same id, or nobody knows of it", () => {
  const { outbox, heard } = box();
  outbox.linkUp();
  outbox.tap(command("a", "go"));
  outbox.tap(command("b", "done"));
  assert.deepEqual(ids(outbox.toSend(0)), ["a", "b"]);
  outbox.linkDown();
  assert.deepEqual(heard, [["a", "unknown"]]);
  outbox.linkUp();
  assert.deepEqual(outbox.toSend(9), [command("b", "done")]);
  outbox.answer("b", { outcome: "accepted" });
  outbox.answer("b", { outcome: "accepted" });
  assert.deepEqual(heard.slice(1), [["b", "answer"]]);
});

test("no more go out than may be unanswered, and no more are kept than fit", () => {
  const { outbox, heard } = box();
  for (let n = 0; n <= KEPT; n += 1) outbox.tap(command(`c${n}`, "done"));
  assert.deepEqual(heard.at(-1), [`c${KEPT}`, "unsent"]);
  outbox.linkUp();
  assert.equal(outbox.toSend(0).length, UNANSWERED);
  outbox.tap(command("more", "done"));
  assert.deepEqual(heard.at(-1), ["more", "unsent"]);
  outbox.answer("c0", { outcome: "accepted" });
  assert.deepEqual(ids(outbox.toSend(0)), [`c${UNANSWERED}`]);
});

test("a slow answer is said once, and one that does not come is given up", () => {
  const { outbox, heard } = box();
  outbox.linkUp();
  outbox.tap(command("a", "go"));
  outbox.toSend(0);
  for (const own of [SAVING_AFTER - 1, SAVING_AFTER, SAVING_AFTER + 1, GIVE_UP_AFTER - 1, GIVE_UP_AFTER]) {
    outbox.tick(own);
  }
  assert.deepEqual(heard, [["a", "saving"], ["a", "unknown"]]);
});

test("the same act on its way is known", () => {
  const { outbox } = box();
  outbox.linkUp();
  outbox.tap(command("a", "go"));
  assert.ok(outbox.holds(command("a", "go").act));
  assert.ok(!outbox.holds(command("b", "go").act));
});

test("newer replaces, older does not, a new epoch always does", () => {
  const shown = { epoch: "e1", sequence: 5, plan: 2 };
  assert.ok(givesWayTo(null, shown));
  for (const [other, taken] of [
    [{ epoch: "e1", sequence: 5, plan: 2 }, false],
    [{ epoch: "e1", sequence: 5, plan: 3 }, true],
    [{ epoch: "e1", sequence: 6, plan: 0 }, true],
    [{ epoch: "e1", sequence: 4, plan: 9 }, false],
    [{ epoch: "e2", sequence: 1, plan: 0 }, true],
  ]) {
    assert.equal(givesWayTo(shown, other), taken, JSON.stringify(other));
  }
});

/** A browser's storage, as the HTML standard has it; `full` takes nothing more. */
class Storage {
  #entries = new Map();
  full = false;
  get length() {
    return this.#entries.size;
  }
  key = (n) => [...this.#entries.keys()][n] ?? null;
  getItem = (key) => this.#entries.get(key) ?? null;
  removeItem = (key) => this.#entries.delete(key);
  setItem(key, value) {
    if (this.full) throw new Error("QuotaExceededError");
    this.#entries.set(key, value);
  }
}

const boxOf = (storage, topic = "coach/coach-1") => {
  const heard = [];
  const outbox = new Outbox((entry, news) => heard.push([entry.command.id, news.is]), unsentStore(storage, topic));
  outbox.restore();
  return { outbox, heard };
};

test("what waits for the link outlives the page, goes out with its ids in the order of the taps, and is gone once answered", () => {
  const storage = new Storage();
  const before = boxOf(storage);
  [["z", 7], ["a", 9]].forEach(([id, at]) => before.outbox.tap({ ...command(id, "done"), at }));
  before.outbox.tap(command("never", "go"));
  const { outbox, heard } = boxOf(storage);
  assert.deepEqual(heard, [["z", "kept"], ["a", "kept"]]);
  assert.equal(outbox.waiting, 2);
  outbox.linkUp();
  assert.deepEqual(ids(outbox.toSend(0)), ["z", "a"]);
  assert.equal(outbox.waiting, 0);
  outbox.answer("z", { outcome: "refused" });
  assert.deepEqual(boxOf(storage).heard, [["a", "kept"]], "what nobody answered is still there");
  assert.deepEqual(boxOf(storage, "coach/coach-2").heard, [], "another coach's taps are not mine");
});

test("a tap on a living link is kept too until it is answered", () => {
  const storage = new Storage();
  const { outbox } = boxOf(storage);
  outbox.linkUp();
  outbox.tap(command("b", "effort"));
  outbox.tap(command("g", "go"));
  assert.deepEqual(boxOf(storage).heard, [["b", "kept"]]);
});

test("storage that is full or holds something else does no harm", () => {
  const storage = new Storage();
  storage.setItem("turnabout.unsent/coach/coach-1/x", "{broken");
  storage.setItem("turnabout.unsent/coach/coach-1/y", JSON.stringify({ id: "y", at: "soon", act: {} }));
  storage.full = true;
  const { outbox, heard } = boxOf(storage);
  assert.deepEqual(heard, []);
  assert.equal(storage.length, 0);
  outbox.tap(command("c", "call"));
  outbox.linkUp();
  assert.deepEqual(ids(outbox.toSend(0)), ["c"]);
});
