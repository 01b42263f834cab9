// Taps in words, and what becomes of them. Pure.

import { loadText } from "./load.js";
import { sameTurn } from "./phase.js";
import { takeText } from "./proposals.js";
import { aboutText, amountText, argumentsFor, clientName, instantText, sentence } from "./text.js";
import { whole } from "./turn_line.js";

/** What a button says: `{ title, detail, who }`; `who` is the client whose set it is about, with whom the detail begins. */
export function actWords(words, act, view) {
  const who = (act.turn && clientName(view, act.turn.client)) || "";
  return { title: titleText(words, act, view), detail: detail(words, act, view), who };
}

function titleText(words, act, view) {
  if (act.do === "set_load") return words.message("label.page_take_load", { load: amountText(words, act.load, unitOf(act, view)) });
  if (act.do === "settle_load" && act.said.said === "accept") return takeText(words, act.proposed, unitOf(act, view));
  // Whoever has a group gives it to who asks for it.
  if (GIVEN[act.do] && groupOf(act, view)?.coach === view.me) return words.message(GIVEN[act.do]);
  return words.message(act.do === "take_stations" && act.stations.length === 2 ? "label.page_take_both" : `act.${act.do}`);
}

const GIVEN = { accept_group: "label.page_give_group", decline_group: "label.page_keep_group" };

function detail(words, act, view) {
  if (act.do === "call") return `${words.say("call", act.call)}, ${stationName(view, act.station)}`;
  const about = [act.station, act.to].find((id) => id !== undefined && act.do !== "hand_over");
  const group = groupOf(act, view);
  const who = (act.clients ?? [act.client]).map((id) => clientName(view, id)).filter(Boolean);
  if (!act.turn && who.length > 0) return [...who, about === undefined ? "" : stationName(view, about)].filter(Boolean).join(", ");
  if (about !== undefined) return [stationName(view, about), group ? names(group) : ""].filter(Boolean).join(", ");
  if (!group) return "";
  const stations = (ids) => ids.map((id) => stationName(view, id)).join(" + ");
  if (act.do === "take_stations") return stations(act.stations);
  if (act.do === "free_stations") return stations(act.block === group.block.n ? (group.ahead ?? []) : group.stations);
  if (!act.turn) return names(group);
  const client = group.clients.find((c) => c.client === act.turn.client);
  const turn = client?.turn && sameTurn(client.turn.turn, act.turn) ? client.turn : null;
  const exercise = turn?.exercise ?? exerciseOf(group, act.turn);
  const parts = [client?.name, exercise && words.own(exercise)];
  if (turn) parts.push(whole(words.say("set", turn.set)));
  if (turn && LOADED.has(act.do)) parts.push(whole(loadText(words, turn.load)));
  if ((act.do === "correct" || act.do === "reps") && act.reps !== undefined) parts.push(whole(`${act.reps} ${words.message("label.reps")}`));
  if (act.effort) parts.push(words.say("effort", act.effort));
  return parts.filter(Boolean).join(", ");
}

/** Taps before which the load is worth a look. */
const LOADED = new Set(["go", "confirm_load", "spot"]);

/** The group an act is about; undefined where it is about none. */
export function groupOf(act, view) {
  const id = act.turn?.group ?? act.group ?? act.scope?.group ?? act.groups?.[0];
  return view.groups.find((g) => g.group === id);
}

/** The clients of a group in one line. */
export const names = (group) => group.clients.map((c) => c.name).join(", ");

/** What a station is used for, with its end or its defect. */
export function stationText(words, line, now) {
  const state = words.say("state", line.state);
  if (line.out) return `${state}: ${words.message(`defect.${line.out.defect}`)}`;
  if (!line.other_use) return state;
  return `${state}, ${words.message("label.about", { at: aboutText(words, line.other_use.until - now) })}`;
}

const stationName = (view, id) => view.stations.find((line) => line.station === id)?.name ?? String(id);

function exerciseOf(group, turn) {
  return group.block && turn.block === group.block.n - 1 ? group.block.exercises[turn.leg] : undefined;
}

/** An act as one text, without what may differ between two buttons that are the same to a finger. */
export const actKey = (act) => JSON.stringify(act, (name, value) => (LOOSE.has(name) ? undefined : value));

const LOOSE = new Set(["revision", "reps"]);

/** Whether it is a working set's done, which carries the effort answer. */
export const asksEffort = (act) => act.do === "effort" || (act.do === "done" && act.turn.round > 0);

/** Taps that the card offers in a place of their own. */
const ELSEWHERE = new Set(["pause", "stop", "attend", "call"]);

/** The expected tap at floor time `now`: the first whose time has come, or else the one whose time comes first. */
export function expectedTap(group, now) {
  const listed = group.taps.filter((tap) => !ELSEWHERE.has(tap.act.do));
  const soonest = (best, tap) => (best === null || tap.from < best.from ? tap : best);
  return listed.find((tap) => tap.from <= now) ?? listed.reduce(soonest, null);
}

/** The taps one level down, where `main` is the expected one: the floor's list, then a client's own rights. */
export function otherTaps(group, main) {
  const listed = group.taps.filter((tap) => !ELSEWHERE.has(tap.act.do));
  const known = new Set(listed.map((tap) => actKey(tap.act)));
  const rights = group.halt ? [] : group.clients.flatMap(rightsOf);
  return [...listed.filter((tap) => tap !== main), ...rights.filter((tap) => !known.has(actKey(tap.act)))];
}

/** The effort answer that is still open; not yet and lighter for a set that has not begun and has its station. */
function rightsOf({ client, attendance, halt, turn, last }) {
  const acts = [];
  if (halt || (attendance !== undefined && attendance !== "here")) return acts;
  if (last && last.turn.round > 0 && !last.effort) acts.push({ do: "effort", turn: last.turn });
  if (turn?.phase.phase === "coming" && turn.station !== undefined) {
    acts.push({ do: "not_yet", turn: turn.turn });
    if (turn.load) acts.push({ do: "lighter", turn: turn.turn, revision: turn.revision });
  }
  return acts.map((act) => ({ act, from: ALWAYS, client }));
}

/** Before every floor time. */
const ALWAYS = Number.NEGATIVE_INFINITY;

/** The answer line: `{ text, bad }`. `time` as `instantText` takes it; `what` is the tap that `act` takes back, in words. */
export function newsWords(words, act, news, view, time, what = "") {
  if (act.do === "note" && isAccepted(news)) return { text: savedNote(words, act.text), bad: false };
  const { title, detail: about } = actWords(words, act, view);
  const head = [what ? `${title}: ${what}` : title, about].filter(Boolean).join(", ");
  const { text, bad } = newsTail(words, act, news, view, time);
  return { text: `${head}: ${text}`, bad };
}

const isAccepted = (news) => news.is === "answer" && news.outcome.outcome === "accepted";

/** Characters of a note that say which one it was. */
const SAID = 40;

/** `Saved: “elbows tucked”`, in one line. */
function savedNote(words, text) {
  const line = text.trim().replaceAll(/\s+/g, " ");
  const letters = [...line];
  return words.message("label.page_saved_note", { text: letters.length > SAID ? `${letters.slice(0, SAID).join("").trimEnd()}\u2026` : line });
}

function newsTail(words, act, news, view, time) {
  const argument = argumentsFor(words, view, time, unitOf(act, view));
  const refused = (refusal) => ({ text: sentence(words.say("refusal", refusal, argument)), bad: true });
  switch (news.is) {
    case "kept":
      return { text: words.message("label.page_kept"), bad: false };
    case "saving":
      return { text: words.message("label.saving"), bad: false };
    case "unsent":
      return { text: words.message("label.page_unsent"), bad: true };
    case "unknown":
      return { text: words.message("label.page_unknown"), bad: true };
    case "changed":
      return { text: words.message("label.page_changed"), bad: true };
    case "early":
      return refused(act.do === "go" ? { because: "rest_not_over", until: news.until } : { because: "not_begun" });
    default:
      return outcomeWords(words, act, news.outcome, view, time, refused);
  }
}

function outcomeWords(words, act, outcome, view, time, refused) {
  if (outcome.outcome === "refused") return refused(outcome.refusal);
  if (outcome.outcome === "accepted") return { text: words.message("label.page_saved"), bad: false };
  // Who agrees to a hand-over twice is told how it stands.
  if (act.do === "accept_group") return { text: words.message(act.from === view.me ? "label.page_given" : "label.page_yours"), bad: false };
  const who = actorName(outcome.by, view);
  const when = [who, instantText(outcome.when, time)].filter(Boolean).join(", ");
  return { text: `${words.message("label.already")} (${when})`, bad: false };
}

/** Who did something, by name; an assistant by the coach who is helped. */
export function actorName(by, view) {
  if (by.coach !== undefined) return view.coaches.find((c) => c.coach === by.coach)?.name;
  return by.station === undefined ? undefined : stationName(view, by.station);
}

function unitOf(act, view) {
  const client = groupOf(act, view)?.clients.find((c) => c.client === act.turn?.client);
  return client?.turn?.load?.unit ?? "kg";
}
