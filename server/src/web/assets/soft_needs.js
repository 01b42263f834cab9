// What a coach is needed for beside standing at a bar: a load to confirm or to decide on, somebody to brief, to look up in
// the screening, or to look for. Rows of the run sheet, made from what the groups' cards say already. Pure.

import { names } from "./acts.js";
import { underMyEye } from "./needs.js";
import { sameTurn } from "./phase.js";
import { insteadText } from "./plates.js";
import { atMyBar, myLine, ownReasonText } from "./promise.js";
import { proposalLines } from "./proposals.js";

/** What must be done before a load can be confirmed, and what may still be open meanwhile. */
const BESIDE = new Set(["confirm_load", "spotter"]);

/**
 * The rows of one's own groups that are not held. `start` is by when it should be done, null where no set waits for it yet;
 * `words` and `time` are as for an instant in words.
 */
export function softNeeds(words, view, time) {
  const mine = view.groups.filter((group) => group.coach === view.me && !group.halt && group.stage !== "finished");
  const free = mine.flatMap((group) => toFree(words, group, view));
  const held = view.groups.filter((group) => group.coach === view.me && group.halt && group.stage !== "finished");
  const resume = held.map((group) => ({ soft: true, task: "need_resume", turn: turnOf(group), client: names(group), start: null, say: words.say("halt", group.halt.halt) }));
  const rows = mine.flatMap((group) => [...together(words, group), ...group.clients.flatMap((client) => ofSet(words, group, client, view, time))]);
  const waits = mine.flatMap((group) => group.clients.flatMap((client) => waiting(words, group, client, view, time)));
  // What keeps me at another bar is done before the set that waits for it.
  // Who can only wait stands behind what can be done: the first row has the button.
  const idle = rows.filter(({ task }) => task === "need_turn");
  return [...free, ...rows.filter((row) => !idle.includes(row)), ...offered(words, view), ...resume, ...waits, ...idle];
}

/** Groups that another coach offers, or wants: the answer is mine. */
function offered(words, view) {
  const asked = view.groups.filter((group) => group.offer?.asks === view.me && group.stage !== "finished");
  const name = (coach) => view.coaches.find((line) => line.coach === coach)?.name ?? String(coach);
  return asked.map((group) => {
    const mine = group.coach === view.me;
    const who = words.message(mine ? "label.page_asked_for" : "label.page_offers", { name: name(mine ? group.offer.to : group.coach) });
    const may = group.taps.some(({ act }) => act.do === "accept_group");
    const why = may ? who : `${who} ${words.message("label.page_not_while_spotted")}`;
    return { soft: true, task: mine ? "need_give" : "need_offer", turn: turnOf(group), client: names(group), start: null, why };
  });
}

/** Stations that are done with: until somebody says so they are nobody else's, and whoever waits for stations is named. */
function toFree(words, group, view) {
  if (group.stage !== "wipe_down") return [];
  const say = group.stations.map((id) => view.stations.find(({ station }) => station === id)?.name).filter(Boolean).join(" + ");
  const [waiting] = view.groups.filter(({ waits }) => waits).sort((a, b) => a.waits.place - b.waits.place);
  const why = waiting ? words.message("label.page_waits_for_stations", { client: names(waiting) }) : "";
  return [{ soft: true, task: "need_free", turn: turnOf(group), client: names(group), start: null, say, why }];
}

/** A name for what concerns a group and none of its sets. */
const turnOf = (group) => ({ group: group.group, client: group.clients[0].client, block: 0, round: 0, leg: 0 });

/** What concerns some of a group at once. */
function together(words, group) {
  const turn = turnOf(group);
  if (isAwaited(group)) return [{ soft: true, task: "need_nobody", turn, client: names(group), start: group.lapses }];
  // Its stations go to others then, unless somebody says that it is still here.
  const why = words.message(group.stations?.length > 0 ? "label.page_freed_then" : "label.page_gone_then");
  const silent = group.lapses === undefined ? [] : [{ soft: true, task: "need_heard", turn, client: names(group), start: group.lapses, soonest: true, why }];
  // Before anybody has come, that somebody is to come.
  if (group.stage === "expected") return [{ soft: true, task: "need_receive", turn, client: names(group), start: null }];
  const stations = withoutStations(words, group).map((row) => ({ soft: true, turn, client: names(group), start: null, ...row }));
  const here = group.clients.filter((client) => client.attendance === "here");
  const some = { missing: [], screen: here.filter((client) => client.screening_open), brief: here.filter((client) => !client.briefed) };
  // Where nobody has come there is nobody to miss anybody; the group's own line says that it is awaited.
  if (here.length > 0) some.missing = group.clients.filter((client) => client.attendance === "expected");
  const rows = Object.entries(some)
    .filter(([, who]) => who.length > 0)
    .map(([need, who]) => ({
      soft: true,
      task: `need_${need}`,
      turn: { ...turn, client: who[0].client },
      client: who.map((client) => client.name).join(", "),
      start: null,
    }));
  return [...silent, ...rows, ...stations];
}

/** A group stays in sight until it has stations: it can take some, ask for some, or waits for its turn. */
function withoutStations(words, { taps, stage, waits }) {
  const does = (verb) => taps.some(({ act }) => act.do === verb);
  if (does("take_stations") || (does("ask_stations") && stage === "waiting")) return [{ task: "need_stations" }];
  if (stage !== "waiting") return [];
  return [{ task: "need_turn", why: waits ? words.message("label.page_waits", { n: String(waits.place) }) : "" }];
}

/** Whether nobody has come and the group will soon count as not coming: then is by when somebody should ask for it. */
const isAwaited = ({ lapses, clients }) => lapses !== undefined && clients.every((client) => client.attendance === "expected");

/** What concerns a client's next set. */
function ofSet(words, group, client, view, time) {
  const { turn } = client;
  if (client.attendance !== "here" || client.halt || !turn) return [];
  const row = { soft: true, turn: turn.turn, client: client.name, station: turn.station, exercise: turn.exercise, set: turn.set };
  // What nobody has ended keeps those behind it waiting; until it should be over it needs nobody.
  if (turn.phase.phase === "under_way") {
    const earlier = unpassed(words, group, client).filter((light) => !sameTurn(light.turn, turn.turn));
    const passes = group.taps.some(({ act }) => act.do === "pass_technique" && sameTurn(act.turn, turn.turn));
    const over = time.now >= turn.phase.ends ? [{ ...row, task: passes ? "need_pass" : "need_done", start: turn.phase.ends, about: false }] : [];
    return [...earlier.map((light) => ({ ...row, set: undefined, exercise: undefined, ...light })), ...over];
  }
  const start = turn.promise?.start ?? turn.phase.ready;
  const about = turn.promise?.about ?? !turn.promise;
  const rows = [];
  const decide = decision(words, group, client, view, time);
  const unbuilt = isUnbuilt(group, turn) ? insteadText(words, turn.load) : "";
  // What cannot be put on is decided before anybody goes to load it.
  const by = unbuilt ? start - UNBUILT : start;
  if (decide || unbuilt) {
    const [say, ...why] = [unbuilt, decide?.what, decide?.why].filter(Boolean);
    rows.push({ ...row, task: "need_decide", start: by, about, say, why: why.join(" \u00b7 ") });
  }
  const needs = turn.phase.needs.map(({ need }) => need);
  rows.push(...unpassed(words, group, client).map((light) => ({ ...row, set: undefined, exercise: undefined, ...light })));
  if (needs.includes("confirm_load") && needs.every((need) => BESIDE.has(need)) && isExpected(group, turn.turn)) {
    // Loading takes its time before the start, and begins when the bar is free.
    rows.push({ ...row, task: "need_confirm", start: Math.max(start - changeTime(turn.load), freedAt(group, turn)), about, load: turn.load });
  }
  if (needs.length === 0 && time.now - start >= UNSAID && !underMyEye(view).length && !isOnSheet(view, turn) && mayGo(group, turn.turn)) {
    rows.push({ ...row, task: "need_go", start, about: false, load: turn.load });
  }
  return rows;
}

/** So long after a told start, in floor milliseconds, a GO that nobody has said is asked for: most clients say it themselves; common practice, no source. */
const UNSAID = 10_000;

const isOnSheet = (view, turn) => (view.run_sheet ?? []).some((row) => sameTurn(row.turn, turn.turn));

const mayGo = ({ taps }, turn) => taps.some(({ act }) => act.do === "go" && sameTurn(act.turn, turn));

/** When the station of a coming set was last left by somebody of its group, in floor milliseconds; 0 where nobody has been there. */
function freedAt({ clients }, { turn }) {
  const there = clients.filter(({ last }) => last && last.turn.block === turn.block && last.turn.leg === turn.leg);
  return Math.max(0, ...there.map(({ last }) => last.ended));
}

/** So long before its start it is decided what is put on instead, in floor milliseconds: time to load a bar anew, common practice, no source. */
const UNBUILT = 60_000;

/** Whether the plates do not make the load of who is next at the bar: the floor names one that they make, if there is any. */
function isUnbuilt({ taps }, { turn, load }) {
  if (load?.unbuilt === undefined) return false;
  const none = (load.unbuilt.below ?? load.unbuilt.above) === undefined;
  return none || taps.some(({ act }) => act.do === "set_load" && sameTurn(act.turn, turn));
}

/** The light sets of a client that were done and not passed, from their ends on. */
function unpassed(words, group, { client, last }) {
  const passes = group.taps.filter(({ act }) => act.do === "pass_technique" && act.turn.client === client);
  return passes.map(({ act: { turn }, from }) => {
    const exercise = group.block?.exercises[turn.leg];
    // Where that was, which is not where the client is now.
    return { turn, station: group.stations?.[turn.leg], task: "need_pass", say: exercise && words.own(exercise), start: from > 0 ? from : (last?.ended ?? null), about: false };
  });
}

/**
 * Who has the load on and waits for nothing but whoever spots or watches, where the sheet has it not: the row of that set,
 * with why nobody is there. Where I am at another bar it can begin no earlier than I am done there.
 */
function waiting(words, group, client, view, time) {
  const { turn } = client;
  if (client.attendance !== "here" || client.halt || turn?.phase.phase !== "coming" || turn.station === undefined) return [];
  if (isOnSheet(view, turn)) return [];
  const needs = turn.phase.needs.map(({ need }) => need);
  const mine = myLine(view);
  const watch = turn.set.set === "technique";
  const wanted = watch || needs.includes("spotter") || (turn.spotter !== undefined && turn.spotter === mine?.name);
  if (!wanted || needs.some((need) => need !== "spotter")) return [];
  const start = turn.promise?.start ?? turn.phase.ready;
  const other = atMyBar(view)?.turn;
  const elsewhere = other && !sameTurn(other.turn, turn.turn);
  const free = elsewhere ? (other.phase.ends ?? other.promise?.start ?? other.phase.ready) : start;
  return [{
    soft: true, turn: turn.turn, client: client.name, station: turn.station, exercise: turn.exercise, set: turn.set, load: turn.load,
    task: watch ? "watch" : "spot", start: Math.max(start, free), about: turn.promise?.about ?? true, why: absent(words, turn, mine, elsewhere, view, time),
  }];
}

/** Why nobody is at a bar yet: I am at another or away, somebody else is to come, or nobody knows who. */
function absent(words, turn, mine, elsewhere, view, time) {
  const own = (reason) => ownReasonText(words, reason, { ...view, run_sheet: [] }, time);
  const named = turn.promise?.spotter;
  if (named !== undefined && named !== mine?.name) return words.message("label.page_will_spot", { name: named });
  if (turn.spotter !== undefined) return "";
  const why = mine?.away !== undefined ? own({ because: "spotter_away", until: mine.away }) : elsewhere ? own({ because: "spotter_busy" }) : "";
  if (turn.set.set === "technique") return why;
  return why ? words.message("label.page_no_spotter", { why }) : words.message("label.spotter_wanted");
}

/** Whether the floor expects that load to be confirmed now: the plates on a bar are for the one who is next there. */
const isExpected = ({ taps }, turn) => taps.some(({ act }) => act.do === "confirm_load" && sameTurn(act.turn, turn));

/** The proposal for the coming set, where nobody has said anything of it. */
function decision(words, group, client, view, time) {
  const { turn } = client.turn;
  const open = { ...client, proposals: (client.proposals ?? []).filter((part) => !part.said && part.turn.leg === turn.leg && part.turn.round === turn.round) };
  return proposalLines(words, { ...group, clients: [open] }, view, time).find((line) => line.taps.some((tap) => tap.how === "accept"));
}

/** How long one person takes to change a bar, in milliseconds; a pin takes no time worth telling. */
const changeTime = (load) => (load?.bar?.alone ?? 0) * 1000;
