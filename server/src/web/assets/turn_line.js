// One client's line: shape, name, phase, figure, and what the set is. Coach page and board draw the same.

import { el, setAttribute, setText, show } from "./dom.js";
import { howTexts, loadText, ownLoadText } from "./load.js";
import { figure, figureText, phaseOf } from "./phase.js";
import { promiseText, startText, toldPhase } from "./promise.js";
import { shape } from "./shapes.js";

/**
 * `words` is the catalogue, `time()` what turns an instant into words; the part is updated with `{ client, group, view }`
 * and ticked with floor time. A `brief` one leaves out what only who lifts or coaches needs: the board is read from
 * afar and cannot scroll.
 */
export function turnLine(words, time, { brief = false } = {}) {
  const node = el("li", "line");
  const mark = shape();
  const name = el("span", "name");
  const phase = el("span", "phase");
  const count = el("span", "count");
  count.setAttribute("role", "timer");
  const lead = el("span", "count-lead");
  const number = el("span");
  count.append(lead, " ", number);
  const why = el("span", "why");
  const what = el("span", "what");
  const needs = el("span", "needs");
  const how = el("span", "how");
  node.append(mark.node, name, phase, count, why, what, needs, how);
  let shown = null;

  function update(item) {
    shown = item;
    setText(name, item.client.name);
    const { turn } = item.client;
    const here = item.client.attendance === "here";
    setText(what, turn && (here || !brief) ? whatText(words, turn, item.view, brief, item.client) : lastText(words, item.client.last));
    const need = [here && turn ? needsText(words, turn, brief) : "", coachText(words, item.client)].filter(Boolean).join(" \u00b7 ");
    setText(needs, need);
    show(needs, need !== "");
    const set = here && turn && !brief ? howTexts(words, turn.load).map(together).join("\n") : "";
    setText(how, set);
    show(how, set !== "");
  }

  function tick(now) {
    const at = clientPhase(shown.client, shown.group, now);
    mark.update(at.kind);
    setAttribute(node, "data-phase", at.kind);
    setText(phase, words.message(at.word));
    const about = at.told === "about";
    const ahead = about || at.told === "ahead";
    const told = ahead ? startText(words, at.until, now, about) : null;
    setText(lead, told ? told.lead : "");
    setText(number, told ? told.figure : figureText(figure(at, now)));
    // Of who is neither lifting nor told a start only what they wait for is worth a line on a small screen.
    setAttribute(node, "data-far", at.kind === "held" && !ahead ? "yes" : "no");
    setText(why, ahead ? promiseText(words, shown.client.turn, shown.view, time()) : "");
    show(why, ahead);
  }

  return { node, update, tick };
}

/** Where a client stands: there or not, held or not, under way, resting, or done. */
export function clientPhase(client, group, now) {
  if (group.stage === "finished") return noMore(group.stage);
  if (client.attendance === "left") return plain("gone", "attendance.left");
  // Who is not there yet has no set to count to.
  if (client.attendance === "expected") return plain("gone", "attendance.expected");
  if (client.attendance === "late") return plain("held", "attendance.late");
  if (!client.turn) return noMore(group.stage);
  return toldPhase(phaseOf(client.turn, now, haltOf(client, group)), client.turn, now);
}

const plain = (kind, word) => ({ kind, word, until: null, since: null });

/** What holds a client: a stop of the group or of the client alone before a pause. */
export function haltOf(client, group) {
  const stopped = group.halt?.halt === "stop" ? group.halt : null;
  return stopped ?? client.halt ?? group.halt ?? null;
}

/** What only a coach's page has of a client. */
function coachText(words, client) {
  const parts = [];
  if (client.screening_open) parts.push(words.message("label.page_screening"));
  if (client.attendance === "here" && client.briefed === false) parts.push(words.message("label.page_unbriefed"));
  if (client.owed > 0) parts.push(words.message("label.page_owed", { n: String(client.owed) }));
  return parts.join(" \u00b7 ");
}

/** No set is left for this client; the others of the group may have some. */
function noMore(stage) {
  const wiping = stage === "wipe_down";
  return { kind: wiping ? "wipe_down" : "none", word: wiping ? "stage.wipe_down" : "stage.finished", until: null, since: null };
}

/** `Bench press at Bench 1, set 2 of 3, 60 kg, 10 reps, tempo 2-0-2-0`. */
export function whatText(words, turn, view, brief = false, client = null) {
  const station = view.stations.find((line) => line.station === turn.station)?.name;
  const how = [workText(words, turn), turn.per_side ? words.message("label.per_side") : "", tempoText(words, turn)];
  const load = brief ? loadText(words, turn.load) : ownLoadText(words, turn.load);
  const figures = [words.say("set", turn.set), load, ...(brief ? [] : how)];
  const named = words.own(turn.exercise);
  const exercise = station ? words.message("label.page_at", { exercise: named, station }) : named;
  const instead = client?.in_place_of ? words.message("label.swapped", { exercise: words.own(client.in_place_of) }) : "";
  return [exercise, instead, ...figures.map(whole)].filter(Boolean).join("\u00a0\u00b7 ");
}

/** Repetitions, a range of them, or a time to hold. */
export function workText(words, { work, reps }) {
  if (work?.work === "hold") return words.message("label.hold_secs", { n: String(work.secs) });
  const range = work && work.least !== work.most;
  const count = range ? words.message("label.range", { least: String(work.least), most: String(work.most) }) : String(reps);
  return `${count} ${words.message("label.reps")}`;
}

const tempoText = (words, { work, tempo }) => (work?.work === "hold" ? "" : `${words.message("label.tempo")} ${tempo}`);

/** Numbers stay with their units; a bar may have a dozen plates on each side, so the rest breaks where it must. */
const together = (text) => text.replaceAll(/ (?=(?:kg|lb|s)\b)/g, "\u00a0");

/** A figure and its unit stay on one line. */
export const whole = (text) => text.replaceAll(" ", "\u00a0").replaceAll("-", "\u2011");

function needsText(words, turn, brief) {
  const parts = [];
  if (turn.phase.phase === "coming" && turn.phase.needs.length > 0) {
    // What is first is done first; the rest is named when it is its turn.
    const needs = turn.phase.needs.slice(0, brief ? 1 : undefined).map((need) => words.say("need", need));
    parts.push(`${words.message("label.page_needs")} ${needs.join(", ")}`);
  }
  if (turn.arms) parts.push(words.message("label.arms"));
  if (turn.spotter) {
    const how = turn.lift_off ? "label.spots_lift_off" : "label.spots";
    parts.push(words.message(how, { name: turn.spotter }));
  }
  const settings = brief || turn.phase.phase === "under_way" ? [] : (turn.settings ?? []);
  parts.push(...settings.map(({ name, value, change }) => [change && words.message("label.setting_change"), name, value].filter(Boolean).join(" ")));
  return parts.filter(Boolean).join(" \u00b7 ");
}

function lastText(words, last) {
  if (!last) return "";
  if (last.reps === undefined) return `${words.own(last.exercise)}, ${words.message("label.page_reps_unknown")}`;
  return words.message("label.page_last", { exercise: words.own(last.exercise), reps: String(last.reps) });
}
