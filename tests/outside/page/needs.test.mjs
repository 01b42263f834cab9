// Who needs a coach next: order, words, what is only planned, and two needs at once.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { actWords } from "../../../server/src/web/assets/acts.js";
import { callRows, waitingText } from "../../../server/src/web/assets/call_row.js";
import { SET_LASTS, WHOLE, clash, clashText, eyeText, inOrder, meanwhileText, nextText, rowKey, rowTap, rowWords, underMyEye } from "../../../server/src/web/assets/needs.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const read = (path) => JSON.parse(readFileSync(new URL(`../../../protocol/${path}`, import.meta.url), "utf8"));
const [en, de] = ["en", "de"].map((tag) => new Catalogue(read(`text/${tag}.json`), tag));
const view = { stations: [{ station: 1, name: "Bench 1" }, { station: 2, name: "Rack 2" }], coaches: [], groups: [] };
const time = { now: 0, rate: 0, zoneOffset: 0, wall: 0 };
const kg = (mass) => mass * 1_000_000_000_000;
const plain = (text) => text.replaceAll("\u00a0", " ");

const row = (client, station, start, more = {}) => ({
  turn: { group: 1, client, block: 0, round: 1, leg: 0 },
  client: `N${client}`,
  station,
  exercise: { en: "Bench press", de: "Bankdr\u00fccken" },
  set: { set: "working", n: 2, of: 3 },
  task: "spot",
  start,
  reason: { because: "spotter_busy" },
  told: true,
  ...more,
});

test("rows are drawn in order of time, the first ones whole", () => {
  const rows = [5, 1, 4, 2, 3].map((n) => row(n, 1, n * 60_000));
  const { first, later } = inOrder(rows);
  assert.deepEqual([...first, ...later].map((one) => one.turn.client), [1, 2, 3, 4, 5]);
  assert.equal(first.length, WHOLE);
  assert.equal(rows[0].turn.client, 5, "the view is left as it is");
  assert.deepEqual(inOrder([]), { first: [], later: [] });
});

const tap = (act) => ({ act, from: 0 });

test("what is first can be done by the tap that the floor expects for it", () => {
  const about = (client, round = 1) => ({ group: 1, client, block: 0, round, leg: 0 });
  const taps = [tap({ do: "go", turn: about(2) }), tap({ do: "confirm_load", turn: about(1) }), tap({ do: "pass_technique", turn: about(1, 0) }), tap({ do: "brief", group: 1, clients: [3] })];
  const shown = { ...view, groups: [{ group: 1, clients: [], taps }] };
  const does = (one) => rowTap(shown, one)?.tap.act.do;
  assert.equal(does(row(1, 1, 0)), "confirm_load");
  assert.equal(does(row(2, 1, 0)), "go");
  assert.equal(does(row(3, 1, 0)), "brief", "nobody goes to a bar for what was not explained");
  assert.equal(does(row(4, 1, 0)), undefined, "nothing is expected of that set");
  assert.equal(does(row(1, 1, 0, { task: "need_pass", turn: about(1, 0) })), "pass_technique");
  assert.equal(does(row(3, 1, 0, { task: "need_brief" })), "brief");
  assert.equal(does(row(1, 1, 0, { task: "need_decide" })), undefined, "the card has the choice");
  // Where the plates do not make a load there is nothing to confirm, but a step to take.
  taps.splice(1, 1, tap({ do: "set_load", turn: about(1), load: kg(70) }));
  for (const task of ["need_decide", "spot", "watch"]) assert.equal(does(row(1, 1, 0, { task })), "set_load", task);
  assert.equal(rowTap(shown, { call: { call: 1 }, start: 0 }), null);
});

test("nobody is called away from a set under their eye by the button of the first row", () => {
  const go = tap({ do: "go", turn: { group: 1, client: 2, block: 0, round: 1, leg: 0 } });
  const light = { ...under(1, "Dara", { set: { set: "technique" } }), last: undefined };
  const pass = tap({ do: "pass_technique", turn: light.turn.turn });
  const shown = (spotting, taps = [go]) => ({ ...view, me: 1, coaches: [{ coach: 1, name: "Ayla", spotting }], groups: [{ group: 1, coach: 1, clients: [under(1, "Dara")], taps }] });
  const next = row(2, 2, 60_000);
  assert.equal(rowTap(shown(undefined), next).tap, go);
  assert.equal(rowTap(shown(under(1, "Dara").turn.turn), next), null, "I spot Dara at bench 1");
  assert.equal(rowTap(shown(under(1, "Dara").turn.turn), row(2, 1, 60_000)).tap, go, "at that station it is mine to begin");
  // A light set that I watch holds me as well, and says where.
  const watching = { ...shown(undefined, [go, pass]) };
  watching.groups[0].clients = [light];
  assert.equal(rowTap(watching, next), null);
  assert.equal(rowWords(en, { ...next, reason: { because: "spotter_busy" } }, watching, time).why, "You are at Bench 1 until then.");
});

test("a load that is open is taken as it is proposed from the first row, and a step off it on the card", () => {
  const turn = { group: 1, client: 4, block: 0, round: 1, leg: 0 };
  const proposal = { set: { by: "mass", load: kg(62.5) }, work: { work: "reps", least: 10, most: 10 }, change: "harder", reason: { because: "felt_light" }, rule: "three_words" };
  const shown = (more) => ({ ...view, groups: [{ group: 1, taps: [], clients: [{ client: 4, name: "Dara", proposals: [{ turn, proposal, unit: "kg", ...more }] }] }] });
  const open = row(4, 1, 0, { task: "need_decide" });
  const { tap } = rowTap(shown({}), open);
  assert.deepEqual(tap.act, { do: "settle_load", turn, proposed: proposal, said: { said: "accept" } });
  assert.equal(actWords(en, tap.act, shown({})).title, "Take 62.5 kg");
  // What a coach has said already, what is as it would be anyway, and another client's is none.
  assert.equal(rowTap(shown({ said: { said: "accept" } }), open), null);
  assert.equal(rowTap(shown({ proposal: { ...proposal, change: "first" } }), open), null);
  assert.equal(rowTap(shown({}), row(5, 1, 0, { task: "need_decide" })), null);
  assert.equal(rowTap(shown({}), row(4, 1, 0)), null);
});

test("a row says who, where, which load with its plates, what for and why then", () => {
  const plate = (mass) => ({ mass: kg(mass), full: true });
  const bar = { bar: kg(20), collar: 0, side: [plate(20), plate(1.25)], known: true, strip: [], add: [plate(1.25)], alone: 9, together: 5 };
  const load = { total: kg(62.5), unit: "kg", gear: "bar", confirmed: false, bar };
  const said = Object.fromEntries(Object.entries(rowWords(en, row(1, 1, 0, { load }), view, time)).map(([name, text]) => [name, plain(text)]));
  assert.deepEqual(said, {
    client: "N1",
    place: "Bench 1",
    load: "62.5 kg",
    what: "spot \u00b7 Bench press \u00b7 set 2 of 3",
    how: "each side 20 + 1.25; on 1.25",
    why: "You are at another station until then.",
    mark: "",
  });
  const watched = row(1, 2, 0, { task: "watch", set: { set: "technique" }, told: undefined, reason: { because: "load_change", takes: 16 } });
  const german = rowWords(de, watched, view, time);
  assert.deepEqual(
    [german.what, german.load, german.how, german.why, german.mark].map(plain),
    ["zusehen \u00b7 Bankdr\u00fccken \u00b7 Techniksatz", "", "", "Umladen dauert 16 s.", "geplant"],
  );
});

test("what is only planned says so in words, what has been told does not", () => {
  assert.equal(rowWords(en, row(1, 1, 0, { told: false }), view, time).mark, "planned");
  assert.equal(rowWords(en, row(1, 1, 0), view, time).mark, "");
});

test("the rows of the protocol's own frames have words in both languages", () => {
  const frames = read("tests/golden/view-coach.json").filter(({ view: one }) => one.run_sheet);
  const rows = frames.flatMap(({ view: one }) => one.run_sheet.map((line) => [line, one]));
  assert.ok(rows.length >= 11);
  for (const [line, one] of rows) {
    for (const words of [en, de]) {
      const said = Object.values(rowWords(words, line, one, time)).join("|");
      assert.ok(!/[{}]|undefined|null|label\.|start\.|set\./.test(said), said);
    }
  }
});

test("two needs within one set are told before they meet, and a plan that keeps them apart is not talked about", () => {
  const two = (apart) => [row(1, 1, 60_000), row(2, 2, 60_000 + apart)];
  assert.equal(clash(two(SET_LASTS), 0), null);
  assert.equal(clash(two(45_000), 0), null);
  const found = clash(two(SET_LASTS - 1), 0);
  assert.deepEqual([found.row.turn.client, found.next.turn.client, found.apart], [1, 2, 20]);
  // The order in the view does not matter.
  assert.equal(clash(two(7000).reverse(), 0).apart, 7);
  assert.equal(clash([row(1, 1, 0)], 0), null);
  assert.equal(clash([], 0), null);
});

test("at one station one set follows the other", () => {
  assert.equal(clash([row(1, 1, 60_000), row(2, 1, 65_000)], 0), null);
  // Whoever comes third may still meet the first.
  assert.equal(clash([row(1, 1, 60_000), row(2, 1, 65_000), row(3, 2, 70_000)], 0).next.turn.client, 3);
});

test("who was to start before now starts now", () => {
  const rows = [row(1, 1, 60_000), row(2, 2, 100_000)];
  assert.equal(clash(rows, 60_000), null);
  assert.equal(clash(rows, 80_000), null);
  assert.equal(clash(rows, 90_000).apart, 10);
  assert.equal(clash(rows, 101_000).apart, 0);
});

test("the line names both stations and the reason of the later row", () => {
  const rows = [row(1, 1, 60_000, { reason: { because: "rest" } }), row(2, 2, 67_000)];
  const say = (words, now) => clashText(words, clash(rows, now), { ...view, run_sheet: rows }, time);
  assert.equal(say(en, 0), "Bench 1 and Rack 2: only 7 s apart. You are at Bench 1 until then.");
  assert.equal(say(en, 68_000), "Bench 1 and Rack 2: both at once. You are at Bench 1 until then.");
  assert.match(say(de, 0), /^Bench 1 und Rack 2: nur 7 s Abstand\. So lange/);
  assert.equal(clashText(en, null, view, time), "");
});

test("another first row is read out once, the first look and the same row are not", () => {
  const [one, two] = [row(1, 1, 60_000, { load: { total: kg(60), unit: "kg", gear: "bar", confirmed: true } }), row(2, 2, 90_000)];
  const said = (before, now = 42_000) => plain(nextText(en, before, one, view, now));
  assert.equal(said(undefined), "");
  assert.equal(said(rowKey(one)), "");
  assert.equal(said(rowKey(two)), "Next: N1, Bench 1, in 0:18, spot, 60 kg");
  // Nobody was on the sheet before.
  assert.match(said(null), /^Next: N1/);
  assert.equal(nextText(en, rowKey(one), undefined, view, 0), "");
  assert.match(nextText(de, null, one, view, 61_000), /^Als N\u00e4chstes: N1, Bench 1, jetzt \+0:01, sichern/);
});

test("a call stands in the sheet by how long somebody has waited, and takes no row from the sets", () => {
  const call = (id, since, more = {}) => ({ call: id, kind: "coach_please", station: 1, place: "Bench 1", since, ...more });
  const shown = { me: 1, coaches: [{ coach: 1, name: "Orla" }, { coach: 2, name: "Pavo" }], help: null };
  const sets = [1, 2, 3, 4].map((n) => row(n, 1, 40_000 + n * 10_000));
  const order = (calls, help = null) => {
    const { first, later } = inOrder([...sets, ...callRows({ ...shown, calls, help })], 50_000);
    return [first, later].map((rows) => rows.map((one) => one.call?.call ?? `set ${one.turn.client}`));
  };
  assert.deepEqual(order([call(7, 45_000), call(8, 55_000)]), [[7, "set 1", 8, "set 2", "set 3"], ["set 4"]]);
  // Who is on the way oneself still has to go there; where another goes it only is not forgotten.
  assert.deepEqual(order([call(7, 45_000, { answered: "Orla" })])[0][0], 7);
  assert.deepEqual(order([call(7, 45_000, { answered: "Pavo" })])[0].at(-1), 7);
  // What the panel for help says is not said twice.
  const help = call(9, 1_000, { kind: "help_now" });
  assert.deepEqual(order([help, call(7, 45_000)], { call: help })[0][0], 7);
  const [waiting] = callRows({ ...shown, calls: [call(7, 45_000)] });
  assert.equal(nextText(en, null, waiting, view, 50_000), "Next: Coach, please, Bench 1");
});

test("a call that waits for me is said in one line wherever the page is scrolled to", () => {
  const call = (id, place, more = {}) => ({ call: id, kind: "coach", place, since: 0, ...more });
  const shown = (calls) => ({ ...view, me: 1, coaches: [{ coach: 1, name: "Ayla" }, { coach: 2, name: "Bram" }], calls });
  assert.equal(waitingText(en, shown([])), "");
  assert.equal(waitingText(en, shown([call(1, "Rack")])), `Rack: ${en.say("call", "coach")}`);
  assert.match(waitingText(de, shown([call(1, "Rack"), call(2, "Bench 1")])), /^Rack: .* \+1$/);
  assert.equal(waitingText(en, shown([call(1, "Rack", { answered: "Bram" })])), "", "somebody else is on the way");
});

const under = (client, name, more = {}) => ({
  client, name,
  turn: { turn: { group: 1, client, block: 0, round: 1, leg: 0 }, station: client, set: { set: "working", n: 2, of: 3 }, phase: { phase: "under_way", starts: 10_000, ends: 50_000 }, ...more },
});

test("who lifts under my eye is said in one line with how long, spotted or watched, and nobody else", () => {
  const light = under(2, "Edda", { set: { set: "technique" } });
  const group = (more) => ({ group: 1, coach: 2, clients: [under(1, "Dara"), light], taps: [{ act: { do: "pass_technique", turn: light.turn.turn } }], ...more });
  const shown = (spotting, more) => ({ ...view, me: 1, coaches: [{ coach: 1, name: "Ayla", spotting }], groups: [group(more)] });
  const said = (words, one, now) => underMyEye(one).map((set) => eyeText(words, set, one, now)).map(({ text, figure }) => plain(`${text} ${figure}`));
  const dara = under(1, "Dara").turn.turn;
  assert.deepEqual(said(en, shown(dara), 33_900), ["You spot: Dara \u00b7 Bench 1 \u00b7 set 2 of 3 0:23"], "another coach's group too");
  assert.deepEqual(said(de, shown(dara), 4_100), ["Du sicherst: Dara \u00b7 Bench 1 \u00b7 Satz 2 von 3 in 0:06"]);
  assert.deepEqual(said(en, shown(undefined), 33_900), []);
  assert.deepEqual(underMyEye(shown(dara), { turn: dara, task: "need_done" }), [], "what is first in the sheet is not said twice");
  assert.deepEqual(said(en, shown(undefined, { coach: 1 }), 61_000), ["You watch: Edda \u00b7 Rack 2 \u00b7 technique set 0:51"], "until somebody says done");
  assert.deepEqual(said(en, shown(undefined, { coach: 1, taps: [] }), 33_900), [], "it has been passed");
  assert.deepEqual(said(en, shown(dara, { coach: 1 }), 33_900), ["You spot: Dara \u00b7 Bench 1 \u00b7 set 2 of 3 0:23"], "nobody watches from another bar");
  const by = (spotter) => ({ coach: 1, clients: [{ ...light, turn: { ...light.turn, spotter } }] });
  assert.deepEqual(said(en, shown(undefined, by("Bram")), 33_900), [], "another coach is there");
  assert.equal(said(en, shown(undefined, by("Ayla")), 33_900).length, 1);
});

test("whoever takes a group over is told which of the own is due within half a minute", () => {
  const shown = (start) => ({ ...view, run_sheet: [row(2, 2, start + 5_000), row(1, 1, start)] });
  assert.equal(meanwhileText(en, shown(30_001), 0), "");
  assert.equal(meanwhileText(en, shown(12_000), 0), "N1 at Bench 1 needs you in 0:12.");
  assert.equal(meanwhileText(de, shown(12_000), 0), "N1 an Bench 1 braucht dich in 0:12.");
  assert.equal(meanwhileText(en, shown(12_000), 15_000), "N1 at Bench 1 needs you now +0:03.");
  assert.equal(meanwhileText(en, view, 0), "");
});
