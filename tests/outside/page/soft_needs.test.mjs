// What a coach is needed for beside standing at a bar: which rows there are, by when, and where they come in the sheet.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { actWords } from "../../../server/src/web/assets/acts.js";
import { hintText } from "../../../server/src/web/assets/need_hint.js";
import { inOrder, rowKey, rowRefusal, rowTap, rowWords } from "../../../server/src/web/assets/needs.js";
import { softNeeds } from "../../../server/src/web/assets/soft_needs.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const words = (tag) => new Catalogue(JSON.parse(readFileSync(new URL(`../../../protocol/text/${tag}.json`, import.meta.url))), tag);
const [en, de] = [words("en"), words("de")];
const kg = (n) => n * 1_000_000_000_000;
const time = { now: 0, rate: 0, zoneOffset: 0, wall: 0 };
const turn = { group: 7, client: 4, block: 0, round: 2, leg: 0 };
const exercise = { en: "Bench press", de: "Bankdr\u00fccken" };
const bar = { bar: kg(20), collar: 0, side: [{ mass: kg(20), full: true }], known: true, strip: [], add: [{ mass: kg(20), full: true }], alone: 14, together: 9 };
const load = { total: kg(60), unit: "kg", gear: "bar", confirmed: false, bar };
const coming = (needs, more = {}) => ({
  turn, station: 1, exercise, set: { set: "working", n: 2, of: 3 }, load,
  phase: { phase: "coming", after: { after: "nothing" }, ready: 90_000, go_from: 90_000, needs: needs.map((need) => ({ need })) },
  ...more,
});
const client = (more = {}) => ({ client: 4, name: "Dara", attendance: "here", briefed: true, turn: coming([]), ...more });
const view = (clients, group = {}) => ({
  me: 1, coaches: [], stations: [{ station: 1, name: "Bench 1" }],
  // The floor expects loads to be confirmed of everybody, where a test says nothing else.
  groups: [{ group: 7, coach: 1, stage: "rounds", clients, taps: clients.map(({ turn }) => ({ act: { do: "confirm_load", turn: turn?.turn ?? {} } })), ...group }],
});
const orla = (more = {}) => ({ coaches: [{ coach: 1, name: "Orla", ...more }, { coach: 2, name: "Pavo" }] });
const needs = (shown) => softNeeds(en, shown, time);
const tasks = (shown) => needs(shown).map(({ task, client: who }) => `${task}: ${who}`);

test("a load is to be confirmed so long before the start as it takes to change, once nothing else is in the way", () => {
  const [row] = needs(view([client({ turn: coming(["confirm_load", "spotter"]) })]));
  assert.equal(row.task, "need_confirm");
  assert.equal(row.start, 90_000 - 14_000);
  assert.equal(row.about, true, "nothing has been told of the start");
  const promised = coming(["confirm_load"], { promise: { start: 80_000, reason: { because: "rest" } } });
  const [told] = needs(view([client({ turn: promised })]));
  assert.deepEqual([told.start, told.about], [66_000, false]);
  for (const other of ["station_free", "briefing", "resume", "pair"]) {
    assert.deepEqual(needs(view([client({ turn: coming(["confirm_load", other]) })])), [], other);
  }
});

test("a load that is proposed for the coming set is to be decided on, with what and why, until somebody has", () => {
  const proposal = {
    set: { by: "mass", load: kg(62.5) }, work: { work: "reps", least: 10, most: 10 },
    change: "harder", reason: { because: "felt_light" }, rule: "three_words",
  };
  const part = { turn, exercise, unit: "kg", proposal, load: kg(60), work: proposal.work };
  const rows = (over) => needs(view([client({ proposals: [{ ...part, ...over }] })]));
  const [row] = rows({});
  assert.deepEqual([row.task, row.start, row.why], ["need_decide", 90_000, "It felt light."]);
  const said = rowWords(en, row, view([]), time);
  assert.equal(said.what.replaceAll("\u00a0", " "), "decide the load \u00b7 heavier: 62.5 kg, now 60 kg \u00b7 Bench press \u00b7 set 2 of 3");
  assert.equal(said.mark, "");
  assert.deepEqual(rows({ said: "accept" }), []);
  assert.deepEqual(rows({ turn: { ...turn, round: 3 } }), [], "of a later round there is time");
  assert.deepEqual(rows({ proposal: { ...proposal, change: "first" } }), [], "a first load holds as it is");
});

test("a group that is not heard of is asked for before its stations go to others, and said to be there with one tap", () => {
  const shown = view([client({ turn: undefined })], { lapses: 300_000 });
  const [row, ...more] = needs(shown);
  assert.deepEqual([row.task, row.client, row.start, more], ["need_heard", "Dara", 300_000, []]);
  assert.deepEqual(rowTap(shown, row).tap.act, { do: "still_here", group: 7 });
});

test("a load is not late before the one who was at that bar has left it", () => {
  const soon = { promise: { start: 20_000, reason: { because: "rest" } } };
  const before = client({ client: 5, name: "Edda", turn: undefined, last: { turn: { ...turn, client: 5 }, ended: 15_000 } });
  const confirm = (others) => needs(view([client({ turn: coming(["confirm_load"], soon) }), ...others])).find(({ task }) => task === "need_confirm").start;
  assert.equal(confirm([]), 6_000);
  assert.equal(confirm([before]), 15_000);
  assert.equal(confirm([{ ...before, last: { turn: { ...turn, client: 5, leg: 1 }, ended: 15_000 } }]), 6_000, "that was at the other station");
});

test("a GO that nobody says is asked for some time after the told start, where the floor takes it and no eye is needed elsewhere", () => {
  const ready = client({ turn: coming([], { promise: { start: 90_000, reason: { because: "rest" } } }) });
  const taps = [{ act: { do: "go", turn }, from: 90_000 }];
  const at = (now, more = {}) => {
    const shown = { ...view([ready], { taps }), ...more };
    return { shown, rows: softNeeds(en, shown, { ...time, now }) };
  };
  assert.deepEqual(at(99_999).rows, []);
  const { shown, rows } = at(100_000);
  assert.deepEqual(rows.map(({ task, start, client: who }) => [task, start, who]), [["need_go", 90_000, "Dara"]]);
  assert.equal(rowTap(shown, rows[0]).tap, taps[0]);
  assert.deepEqual(at(100_000, { run_sheet: [{ turn, start: 90_000 }] }).rows, [], "the sheet has it");
  const lifts = client({ client: 5, name: "Edda", turn: coming([], { turn: { ...turn, client: 5 }, phase: { phase: "under_way", starts: 95_000, ends: 120_000 } }) });
  const spots = { coaches: [{ coach: 1, name: "Orla", spotting: { ...turn, client: 5 } }] };
  const busy = { ...view([ready, lifts], { taps }), ...spots };
  assert.deepEqual(softNeeds(en, busy, { ...time, now: 100_000 }), [], "I stand at another bar");
});

test("whoever is to be briefed, is not there or has an open screening is named in one row a group", () => {
  const ayla = client({ client: 1, name: "Ayla", briefed: false, turn: undefined });
  const bram = client({ client: 2, name: "Bram", briefed: undefined, screening_open: true, turn: undefined });
  const chidi = client({ client: 3, name: "Chidi", attendance: "expected", briefed: false, turn: undefined });
  assert.deepEqual(tasks(view([ayla, bram, chidi])), ["need_missing: Chidi", "need_screen: Bram", "need_brief: Ayla, Bram"]);
  assert.deepEqual(tasks(view([chidi])), [], "nobody is there to miss anybody");
});

test("a group that nobody of has come is one row, by when it counts as not coming, once that is told", () => {
  const [ayla, bram] = ["Ayla", "Bram"].map((name, n) => client({ client: n, name, attendance: "expected", briefed: false, turn: undefined }));
  const [before] = needs(view([ayla, bram], { stage: "expected" }));
  assert.deepEqual([before.task, before.client, before.start], ["need_receive", "Ayla, Bram", null]);
  const [row, ...more] = needs(view([ayla, bram], { stage: "expected", lapses: 300_000 }));
  assert.deepEqual([row.task, row.client, row.start, more], ["need_nobody", "Ayla, Bram", 300_000, []]);
  // A group that falls silent is not one that has not come.
  assert.deepEqual(tasks(view([client({ ...ayla, attendance: "here", briefed: true }), bram], { lapses: 300_000 })), ["need_heard: Ayla, Bram", "need_missing: Bram"]);
});

test("other coaches' groups and sets under way need nobody here", () => {
  const open = [client({ briefed: false, turn: coming(["confirm_load"]) })];
  assert.equal(needs(view(open)).length, 2);
  assert.deepEqual(needs(view(open, { coach: 2 })), []);
  // A group that is held is to be let go on, and nothing else is to be done for it.
  const held = view(open, { halt: { halt: "stop", since: 0 }, taps: [{ act: { do: "resume", group: 7 } }] });
  const [resume, ...rest] = needs(held);
  assert.deepEqual([resume.task, resume.client, resume.say, rowTap(held, resume).tap.act.do, rest], ["need_resume", "Dara", "stopped", "resume", []]);
  assert.deepEqual(needs(view(open, { stage: "finished" })), []);
  assert.deepEqual(needs(view([client({ turn: coming(["confirm_load"], { phase: { phase: "under_way", ends: 1 } }) })])), []);
  assert.deepEqual(needs(view([client({ halt: { halt: "stop", since: 0 }, turn: coming(["confirm_load"]) })])), []);
});

test("the plates are for whoever is next at the station, as the floor has it", () => {
  const at = (id) => client({ client: id, name: `N${id}`, turn: coming(["confirm_load"], { turn: { ...turn, client: id } }) });
  const taps = [{ act: { do: "confirm_load", turn: { ...turn, client: 2 } } }, { act: { do: "go", turn: { ...turn, client: 1 } } }];
  assert.deepEqual(tasks(view([at(1), at(2)], { taps })), ["need_confirm: N2"]);
});

test("a set that should be over is to be said done, and a light set that was done is to be passed", () => {
  const under = (ends) => client({ turn: coming([], { phase: { phase: "under_way", ends } }) });
  assert.deepEqual(tasks(view([under(1)])), []);
  const [row] = needs(view([under(0)]));
  assert.deepEqual([row.task, row.start, row.about], ["need_done", 0, false]);
  // From its own end on, though another light set comes first and needs nothing of it.
  const light = { ...turn, round: 0 };
  const taps = [{ act: { do: "pass_technique", turn: light }, from: 7_000 }];
  const next = coming([], { turn: { ...light, leg: 1 } });
  const [pass, ...more] = needs(view([client({ last: { ended: 60_000 }, turn: next })], { taps, block: { exercises: [exercise, exercise] } }));
  assert.deepEqual([pass.task, pass.turn, pass.start, more], ["need_pass", light, 7_000, []]);
  assert.match(rowWords(en, pass, view([]), time).what, /Bench press/);
});

test("a group is a row until it has its stations: it takes them, asks for them, or waits in the list", () => {
  const with_ = (act, stage = "waiting") => tasks(view([client({ turn: undefined })], { stage, taps: [{ act: { do: act, group: 7 } }] }));
  assert.deepEqual(with_("take_stations"), ["need_stations: Dara"]);
  assert.deepEqual(with_("ask_stations"), ["need_stations: Dara"]);
  assert.deepEqual(with_("ask_stations", "rounds"), [], "those of the next block can wait");
  assert.deepEqual(with_("still_here"), ["need_turn: Dara"]);
  const [row] = needs(view([client({ turn: undefined })], { stage: "waiting", taps: [], waits: { place: 2, block: 0 } }));
  assert.deepEqual([row.task, row.start, row.why], ["need_turn", null, "on the wait list, place 2"]);
  assert.deepEqual(tasks(view([client({ turn: undefined })], { stage: "rounds", taps: [] })), []);
});

test("a group that is offered to me is answered by me alone", () => {
  const offer = (asks) => tasks({ ...view([client()], { coach: 2, offer: { to: 1, asks } }), ...orla() });
  assert.deepEqual(offer(1), ["need_offer: Dara"]);
  assert.deepEqual(offer(2), []);
  // Who offers it is named, and so is who asks for one of mine.
  const taps = [{ act: { do: "accept_group", group: 7, from: 2 } }];
  const why = (coach, to, may = taps) => needs({ ...view([client()], { coach, offer: { to, asks: 1 }, taps: may }), ...orla() }).filter(({ task }) => /offer|give/.test(task)).map(({ task, why: said }) => [task, said]);
  assert.deepEqual(why(2, 1), [["need_offer", "Pavo offers you this group."]]);
  assert.deepEqual(why(1, 2), [["need_give", "Pavo asks for this group"]]);
  assert.deepEqual(why(2, 1, []), [["need_offer", "Pavo offers you this group. Not while a set there is spotted."]]);
});

test("in the sheet they stand by time beside the sets, and what nothing waits for comes after the coming minute", () => {
  const shown = view([client({ briefed: false, turn: coming(["confirm_load"]) })]);
  const set = (start) => ({ turn: { ...turn, client: start }, start, told: true });
  const rows = [set(100_000), ...needs(shown), set(20_000)];
  const order = ({ first, later }) => [...first, ...later].map((row) => row.task ?? row.start);
  assert.deepEqual(order(inOrder(rows, 0)), [20_000, "need_brief", "need_confirm", 100_000]);
  assert.deepEqual(order(inOrder(rows, 30_000)), [20_000, "need_confirm", "need_brief", 100_000]);
  const keys = rows.map(rowKey);
  assert.equal(new Set(keys).size, keys.length);
  assert.ok(!keys.includes(rowKey({ turn })), "the set itself has another key");
});

test("a need is read as the protocol's own frames write it", () => {
  const frames = readFileSync(new URL("../../../protocol/tests/golden/view-station.json", import.meta.url), "utf8");
  const written = [...frames.matchAll(/\{\s*"need": "[a-z_]+"\s*\}/g)].map(([text]) => JSON.parse(text));
  const load = written.find(({ need }) => need === "confirm_load");
  assert.ok(load, "no frame asks for the load");
  const turned = coming([], { phase: { ...coming([]).phase, needs: [load] } });
  assert.deepEqual(tasks(view([client({ turn: turned })])), ["need_confirm: Dara"]);
});

test("every row has words in both languages", () => {
  for (const language of [en, de]) {
    for (const need of ["confirm", "decide", "brief", "missing", "nobody", "screen", "done", "pass", "go", "heard", "resume", "offer", "give", "receive", "stations", "turn"]) {
      const id = `label.page_need_${need}`;
      assert.notEqual(language.message(id), id);
    }
  }
});

const spotted = (needs, more = {}) => client({ turn: coming(needs, { load: { ...load, confirmed: true }, ...more }) });

test("who has the load on stays in the sheet while nobody spots, with why, behind what keeps me away", () => {
  const waits = (one, more, run_sheet) => needs({ ...view([one]), ...orla(more), run_sheet }).filter(({ task }) => task === "spot" || task === "watch");
  const [row] = waits(spotted(["spotter"]));
  assert.deepEqual([row.task, row.client, row.start, row.why], ["spot", "Dara", 90_000, "needs a spotter"]);
  // It is the same row as the sheet's own, which has it once there is a plan for it.
  assert.equal(rowKey(row), rowKey({ turn, task: "spot" }));
  assert.deepEqual(waits(spotted(["spotter"]), {}, [{ turn, start: 95_000 }]), []);
  assert.equal(waits(spotted(["spotter"]), { away: 200_000 })[0].why, "No spotter free. You are away until 200 s.");
  assert.equal(waits(spotted(["spotter"], { promise: { start: 80_000, spotter: "Edda" } }))[0].why, "Edda will spot.");
  assert.deepEqual(waits(spotted(["confirm_load", "spotter"])), [], "the load comes first");
  assert.deepEqual(waits(spotted([])), [], "the client goes alone");
  assert.equal(waits(spotted([], { spotter: "Orla" }))[0].why, "", "I stand there, and GO is mine");
  assert.equal(waits(spotted([], { set: { set: "technique" } }))[0].task, "watch");
});

test("where I am at another bar, what waits there begins no earlier than I am done, and says where I am", () => {
  const other = { ...turn, client: 5 };
  const lifts = client({ client: 5, name: "Edda", turn: coming([], { turn: other, station: 2, phase: { phase: "under_way", ends: 120_000 } }) });
  const busy = { ...view([spotted(["spotter"]), lifts]), ...orla({ spotting: other }), stations: [{ station: 1, name: "Bench 1" }, { station: 2, name: "Rack 2" }] };
  const at = (words, now) => softNeeds(words, busy, { ...time, now }).map(({ task, start, why }) => [task, start, why]);
  assert.deepEqual(at(en, 0), [["spot", 120_000, "No spotter free. You are at Rack 2 until then."]]);
  assert.equal(at(de, 0)[0][2], "Keine Hilfestellung frei. So lange bist du an Rack 2.");
  const { first } = inOrder(softNeeds(en, busy, { ...time, now: 121_000 }), 121_000);
  assert.deepEqual(first.map(({ task }) => task), ["need_done", "spot"]);
});

test("what the plates do not make is decided first, and nobody is asked to confirm it", () => {
  const unbuilt = { ...load, bar: undefined, unbuilt: { below: kg(50), above: kg(70) } };
  const one = client({ turn: coming(["confirm_load", "spotter"], { load: unbuilt }) });
  const taps = [{ act: { do: "set_load", turn, load: kg(50) } }];
  const shown = view([one], { taps });
  const [row, ...more] = needs(shown);
  assert.deepEqual([row.task, row.say, more], ["need_decide", "The plates do not make it: 50 kg or 70 kg", []]);
  const set = { turn, start: row.start + 60_000, told: true, task: "spot" };
  assert.equal(inOrder([set, row], 0).first[0], row, "before the set itself");
  assert.equal(rowTap(shown, row).tap, taps[0]);
  assert.deepEqual(tasks(view([one], { taps: [] })), [], "of who is not next at the bar there is time");
});

test("stations that are done with are to be freed, before what nobody waits at a set for, and say who waits", () => {
  const taps = [{ act: { do: "free_stations", group: 7, block: 0 } }];
  const shown = view([client({ turn: undefined })], { stage: "wipe_down", stations: [1], taps });
  const [row, ...more] = needs(shown);
  assert.deepEqual([row.task, row.client, row.say, row.why, row.start, more], ["need_free", "Dara", "Bench 1", "", null, []]);
  assert.equal(rowTap(shown, row).tap, taps[0]);
  const others = { group: 8, coach: 1, stage: "waiting", clients: [client({ client: 9, name: "Orla", turn: undefined })], taps: [], waits: { place: 1 } };
  // Whoever is first in the line is named, wherever that group stands on the page.
  const later = { ...others, group: 9, coach: 2, clients: [client({ client: 10, name: "Pavo", turn: undefined })], waits: { place: 2 } };
  shown.groups.push(later, others);
  const both = needs(shown);
  assert.deepEqual(both.map(({ task }) => task), ["need_free", "need_turn"]);
  assert.equal(both[0].why, "Orla: waiting for stations.");
  assert.equal(rowKey(both[0]), "need_free/7/4/0/0/0");
});

test("a light set is passed where it was done, and what another coach asks can be turned down", () => {
  const light = { ...turn, round: 0, leg: 1 };
  const taps = [{ act: { do: "pass_technique", turn: light }, from: 7_000 }];
  const shown = view([client()], { taps, stations: [1, 2], block: { exercises: [exercise, exercise] } });
  const pass = needs(shown).find(({ task }) => task === "need_pass");
  assert.equal(pass.station, 2, "the client is at 1 by now");
  // It stays in sight while the next set goes on, and behind whoever waits at a bar for longer than now.
  const lifts = view([client({ turn: coming([], { phase: { phase: "under_way", starts: 10_000, ends: 50_000 } }) })], { taps, stations: [1, 2], block: { exercises: [exercise, exercise] } });
  const rows = softNeeds(en, lifts, { ...time, now: 20_000 });
  assert.deepEqual(rows.map(({ task, turn: { round } }) => [task, round]), [["need_pass", 0]]);
  const spot = { task: "spot", turn, start: 15_000 };
  assert.deepEqual(inOrder([...rows, spot], 20_000).first.map(({ task }) => task), ["spot", "need_pass"]);
  const asked = view([client()], { coach: 2, offer: { to: 1, asks: 1 }, taps: [{ act: { do: "accept_group", group: 7, from: 2 } }, { act: { do: "decline_group", group: 7 } }] });
  const [offer] = needs(asked);
  assert.deepEqual([rowTap(asked, offer).tap.act.do, rowRefusal(asked, offer).tap.act.do], ["accept_group", "decline_group"]);
  assert.equal(rowRefusal(asked, pass), null);
  // The words are those of who answers: what I have I give away or keep.
  const titles = (coach) => { const group = { ...asked.groups[0], coach }; return group.taps.map(({ act }) => actWords(en, act, { ...asked, groups: [group] }).title); };
  assert.deepEqual(titles(2), ["Take the group", "Do not take it"]);
  assert.deepEqual(titles(1), ["Give the group away", "Keep the group"]);
});

test("the bar tells what is due while the page shows something else, and nothing before", () => {
  const shown = view([]);
  const row = { client: "Dara", station: 1, start: 90_000, about: false };
  assert.equal(hintText(en, shown, row, 90_000 - 20_001), null);
  assert.deepEqual(hintText(en, shown, row, 75_000), { who: "Dara \u00b7 Bench 1", at: "in 0:15" });
  assert.deepEqual(hintText(de, shown, row, 112_000), { who: "Dara \u00b7 Bench 1", at: "jetzt +0:22" });
  for (const none of [null, { ...row, start: null }, { ...row, call: {} }]) assert.equal(hintText(en, shown, none, 112_000), null);
});
