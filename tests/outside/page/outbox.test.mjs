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
  verbs.forEach((verb) => outbox.tap(command(verb, verb), 0));
  assert.deepEqual(heard, verbs.map((verb, n) => [verb, n < 4 ? "kept" : "unsent"]));
  assert.deepEqual(outbox.toSend(1), []);
  outbox.linkUp();
  assert.deepEqual(outbox.toSend(2), verbs.slice(0, 4).map((verb) => command(verb, verb)));
  assert.deepEqual(outbox.toSend(3), []);
});

test("what was sent and not answered goes again with the same id, or nobody knows of it", () => {
  const { outbox, heard } = box();
  outbox.linkUp();
  outbox.tap(command("a", "go"), 0);
  outbox.tap(command("b", "done"), 0);
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
  for (let n = 0; n <= KEPT; n += 1) outbox.tap(command(`c${n}`, "done"), 0);
  assert.deepEqual(heard.at(-1), [`c${KEPT}`, "unsent"]);
  outbox.linkUp();
  assert.equal(outbox.toSend(0).length, UNANSWERED);
  outbox.tap(command("more", "done"), 0);
  assert.deepEqual(heard.at(-1), ["more", "unsent"]);
  outbox.answer("c0", { outcome: "accepted" });
  assert.deepEqual(ids(outbox.toSend(0)), [`c${UNANSWERED}`]);
});

test("a slow answer is said once, and one that does not come is given up", () => {
  const { outbox, heard } = box();
  outbox.linkUp();
  outbox.tap(command("a", "go"), 0);
  outbox.toSend(0);
  for (const own of [SAVING_AFTER - 1, SAVING_AFTER, SAVING_AFTER + 1, GIVE_UP_AFTER - 1, GIVE_UP_AFTER]) {
    outbox.tick(own);
  }
  assert.deepEqual(heard, [["a", "saving"], ["a", "unknown"]]);
});

test("the same act on its way is known", () => {
  const { outbox } = box();
  outbox.linkUp();
  outbox.tap(command("a", "go"), 0);
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
