// What a coach is needed for beside standing at a bar: a load to confirm or to decide on, somebody to brief, to look up in
// the screening, or to look for. Rows of the run sheet, made from what the groups' cards say already. Pure.

import { names } from "./acts.js";
import { sameTurn } from "./phase.js";
import { proposalLines } from "./proposals.js";

/** What must be done before a load can be confirmed, and what may still be open meanwhile. */
const BESIDE = new Set(["confirm_load", "spotter"]);

/**
 * The rows of one's own groups that are not held. `start` is by when it should be done, null where no set waits for it yet;
 * `words` and `time` are as for an instant in words.
 */
export function softNeeds(words, view, time) {
  const mine = view.groups.filter((group) => group.coach === view.me && !group.halt && group.stage !== "finished");
  const rows = mine.flatMap((group) => [...together(group), ...group.clients.flatMap((client) => ofSet(words, group, client, view, time))]);
  return [...offered(view), ...rows];
}

/** Groups that another coach offers, or wants: the answer is mine. */
function offered(view) {
  const asked = view.groups.filter((group) => group.offer?.asks === view.me && group.stage !== "finished");
  return asked.map((group) => ({ soft: true, task: "need_offer", turn: turnOf(group), client: names(group), start: null }));
}

/** A name for what concerns a group and none of its sets. */
const turnOf = (group) => ({ group: group.group, client: group.clients[0].client, block: 0, round: 0, leg: 0 });

/** What concerns some of a group at once. */
function together(group) {
  const turn = turnOf(group);
  if (isAwaited(group)) return [{ soft: true, task: "need_nobody", turn, client: names(group), start: group.lapses }];
  // Before anybody has come, that somebody is to come.
  if (group.stage === "expected") return [{ soft: true, task: "need_receive", turn, client: names(group), start: null }];
  const asks = group.taps.some(({ act }) => act.do === "take_stations" || (act.do === "ask_stations" && group.stage === "waiting"));
  const stations = asks ? [{ soft: true, task: "need_stations", turn, client: names(group), start: null }] : [];
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
  return [...rows, ...stations];
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
    return time.now >= turn.phase.ends ? [{ ...row, task: "need_done", start: turn.phase.ends, about: false }] : [];
  }
  const start = turn.promise?.start ?? turn.phase.ready;
  const about = turn.promise?.about ?? !turn.promise;
  const rows = [];
  const decide = decision(words, group, client, view, time);
  if (decide) rows.push({ ...row, task: "need_decide", start, about, say: decide.what, why: decide.why });
  const needs = turn.phase.needs.map(({ need }) => need);
  if (needs.includes("technique_pass")) {
    const light = { ...turn.turn, round: 0 };
    rows.push({ ...row, turn: light, task: "need_pass", set: undefined, exercise: undefined, start: client.last?.ended ?? null, about: false });
  }
  if (needs.includes("confirm_load") && needs.every((need) => BESIDE.has(need)) && isExpected(group, turn.turn)) {
    // Loading takes its time before the start.
    rows.push({ ...row, task: "need_confirm", start: start - changeTime(turn.load), about, load: turn.load });
  }
  return rows;
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
