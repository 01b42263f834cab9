// Who needs a coach next: the order of the rows, their words, and when two need one coach at once. Pure.

import { callWords } from "./call_row.js";
import { howTexts, loadText } from "./load.js";
import { lengthText, sameTurn } from "./phase.js";
import { atMyBar, isMine, ownReasonText, startText } from "./promise.js";
import { asks, takeAct } from "./proposals.js";
import { whole } from "./turn_line.js";

/** So many rows are drawn whole, and all calls beside them; what comes later is a list that can be opened. */
export const WHOLE = 3;

/**
 * Two starts closer together than this, in floor milliseconds, are at once: the shortest set takes about so long,
 * common practice, no source.
 */
export const SET_LASTS = 20_000;

/** What no set waits for yet comes after what begins within so many floor milliseconds: that much has been told ahead. */
const OPEN = 60_000;

/** To stand at a set: whether the floor's sheet says so or not, it is one and the same row. */
const AT_THE_BAR = new Set(["spot", "watch"]);

/** Which set a row is about, and what for where that is not to stand at it, as a key. */
export const rowKey = ({ call, turn, soft, task }) => call ? `call/${call.call}` : [...(soft && !AT_THE_BAR.has(task) ? [task] : []), turn.group, turn.client, turn.block, turn.round, turn.leg].join("/");

const byTime = (rows, now = 0) => {
  const at = (row) => {
    const start = Math.min(row.start ?? now + OPEN, row.soonest ? now + OPEN : Infinity);
    // Whoever waits at a bar goes before what is only to be said of a set that is over.
    return row.task === "need_pass" ? Math.max(start, now) : start;
  };
  return [...rows].sort((a, b) => at(a) - at(b));
};

/** The rows in order of time, `{ first, later }`: those that are drawn whole, and the rest. */
export function inOrder(rows, now = 0) {
  let others = 0;
  const sorted = byTime(rows, now);
  const whole = new Set(sorted.filter((row) => row.call || (others += 1) <= WHOLE));
  return { first: sorted.filter((row) => whole.has(row)), later: sorted.filter((row) => !whole.has(row)) };
}

/** The name of the station of a row. */
export const placeText = (view, row) => view.stations.find((line) => line.station === row.station)?.name ?? "";

/** The taps with which a row is done, by what it is for; beside a bar what is first comes first. */
const DOES = {
  need_confirm: ["confirm_load"],
  // Where the plates do not make a load the floor names a step that they make; else the card has the choice.
  need_decide: ["set_load"],
  need_done: ["pass_technique", "done"],
  need_free: ["free_stations"],
  need_pass: ["pass_technique"],
  need_go: ["go"],
  need_resume: ["resume"],
  need_brief: ["brief"],
  need_nobody: ["arrive"],
  need_receive: ["arrive"],
  need_offer: ["accept_group"],
  need_give: ["accept_group"],
  need_stations: ["take_stations", "ask_stations"],
  spot: ["set_load", "confirm_load", "spot", "go", "pass_technique", "done"],
  watch: ["set_load", "confirm_load", "spot", "go", "pass_technique", "done"],
};

/**
 * `{ tap, group }` of the tap with which a row is done, where the floor expects one; else null. A set that needs me is not
 * begun from here while I am at another: its card has the button.
 */
export function rowTap(view, row) {
  const does = DOES[row.task] ?? [];
  const group = view.groups.find((one) => one.group === row.turn?.group);
  // Nobody goes to a bar for an exercise that was not explained.
  const explains = AT_THE_BAR.has(row.task) && group?.taps.find(({ act }) => act.do === "brief" && act.clients.includes(row.turn.client));
  if (explains) return { tap: explains, group };
  const held = AT_THE_BAR.has(row.task) && isHeld(view, row);
  const tap = group?.taps.find(({ act }) => does.includes(act.do) && (act.turn === undefined || sameTurn(act.turn, row.turn)) && !(held && act.do === "go"));
  if (tap) return { tap, group };
  if (row.task === "need_heard" && group) return { tap: { act: { do: "still_here", group: group.group }, from: 0 }, group };
  // A load that is open has one that is proposed; the steps off it are on the card.
  const proposals = row.task === "need_decide" ? group?.clients.flatMap((client) => client.proposals ?? []) : [];
  const proposed = proposals?.find(({ turn, proposal, said }) => sameTurn(turn, row.turn) && asks(proposal) && !said);
  return proposed ? { tap: { act: takeAct(proposed), from: 0, client: row.turn.client }, group } : null;
}

/** Whether a set is done under my eye at another station than that of a row: nobody is called away from there by a large button. */
const isHeld = (view, { station }) => underMyEye(view).some(({ turn }) => turn.station !== station);

/** The tap that turns down what a row asks, `{ tap, group }`; null where there is nothing to turn down. */
export function rowRefusal(view, row) {
  const group = ["need_offer", "need_give"].includes(row.task) ? view.groups.find((one) => one.group === row.turn.group) : undefined;
  const tap = group?.taps.find(({ act }) => act.do === "decline_group");
  return tap ? { tap, group } : null;
}

/** What a row says, but for its countdown; `mark` is empty where it has been told. */
export function rowWords(words, row, view, time) {
  const set = row.set ? [words.own(row.exercise), whole(words.say("set", row.set))] : [];
  return {
    client: row.client,
    place: placeText(view, row),
    load: whole(loadText(words, row.load)),
    what: [words.message(`label.page_${row.task}`), row.say, ...set].filter(Boolean).join(" \u00b7 "),
    // How it is set; what else there is to know stands on the card.
    how: (howTexts(words, row.load)[0] ?? "").replaceAll(" + ", "\u00a0+\u00a0"),
    why: row.why ?? (row.reason ? ownReasonText(words, row.reason, view, time, row.start) : ""),
    mark: row.told || row.soft ? "" : words.message("label.page_planned"),
  };
}

/**
 * The first two rows that need the coach at two stations within one set, `{ row, next, apart }` with the whole seconds
 * between them; null where the plan keeps them apart. Who was to start before now starts now.
 */
export function clash(rows, now) {
  const starts = byTime(rows).map((row) => ({ row, start: Math.max(row.start, now) }));
  for (const [n, { row, start }] of starts.slice(0, -1).entries()) {
    // At one station one set follows the other, whatever the plan says.
    const next = starts.slice(n + 1).find((other) => other.row.station !== row.station);
    if (next && next.start - start < SET_LASTS) {
      return { row, next: next.row, apart: Math.round((next.start - start) / 1000) };
    }
  }
  return null;
}

/** The same in one line, with the reason that the later row gives; empty where nothing meets. */
export function clashText(words, found, view, time) {
  if (found === null) return "";
  const { row, next, apart } = found;
  const places = { first: placeText(view, row), second: placeText(view, next) };
  const said = apart > 0 ? words.message("label.page_close", { ...places, n: String(apart) }) : words.message("label.page_at_once", places);
  return `${said} ${ownReasonText(words, next.reason, view, time, next.start)}`;
}

/** The sets that are done under my eye now, `{ client, turn, task }`: one that I spot, and light ones that I watch; `first` is said already. */
export function underMyEye(view, first) {
  const spotted = atMyBar(view)?.turn.turn;
  return view.groups.flatMap(({ coach, clients, taps }) => clients.flatMap(({ name: client, turn }) => {
    if (turn?.phase.phase !== "under_way" || (first?.turn && sameTurn(first.turn, turn.turn))) return [];
    if (spotted) return sameTurn(turn.turn, spotted) ? [{ client, turn, task: "spot" }] : [];
    // Where another stands at that bar, or I at another, I watch nothing.
    if (!isMine(view, turn)) return [];
    const unseen = taps.some(({ act }) => act.do === "pass_technique" && sameTurn(act.turn, turn.turn));
    return coach === view.me && unseen ? [{ client, turn, task: "watch" }] : [];
  }));
}

/** Such a set in one line, `{ text, figure }`: who, where, which set, and how long it has been under way, or in how long it is. */
export function eyeText(words, { client, turn, task }, view, now) {
  const { starts } = turn.phase;
  const who = [client, placeText(view, turn), whole(words.say("set", turn.set))].filter(Boolean).join(" \u00b7 ");
  const started = now >= starts;
  const seconds = started ? Math.floor((now - starts) / 1000) : Math.ceil((starts - now) / 1000);
  return { text: words.message(`label.page_you_${task}`, { who }), figure: [started ? "" : words.message("label.page_in"), lengthText(seconds)].filter(Boolean).join(" ") };
}

/** Whoever takes a group over while an own client is due within so many floor milliseconds is told so: about as long as it takes to walk over and back, common practice, no source. */
const MEANWHILE = 30_000;

/** Who of one's own is due within that, in one line; empty where nobody is. */
export function meanwhileText(words, view, now) {
  const row = byTime(view.run_sheet ?? []).find(({ start }) => start - now <= MEANWHILE);
  if (!row) return "";
  const { lead, figure } = startText(words, row.start, now, row.about);
  return words.message("label.page_meanwhile", { client: row.client, place: placeText(view, row), at: `${lead} ${figure}` });
}

/** A call as it is read out. */
export function callText(words, call) {
  const { what, place } = callWords(words, call);
  return `${what}, ${place}`;
}

/** What is read out when another row than `before` has become the first; nothing at the first look (undefined). */
export function nextText(words, before, row, view, now) {
  if (before === undefined || !row || rowKey(row) === before) return "";
  if (row.call) return words.message("label.page_run_next", { what: callText(words, row.call) });
  const { lead, figure } = startText(words, row.start, now, row.about);
  const load = whole(loadText(words, row.load));
  const what = [row.client, placeText(view, row), `${lead} ${figure}`.trim(), words.message(`label.page_${row.task}`), load];
  return words.message("label.page_run_next", { what: what.filter(Boolean).join(", ") });
}
