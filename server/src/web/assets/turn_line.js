// One client's line: shape, name, phase, figure, and what the set is. Coach page and board draw the same.

import { el, setAttribute, setText, show } from "./dom.js";
import { figure, figureText, phaseOf } from "./phase.js";
import { shape } from "./shapes.js";
import { massText } from "./text.js";

/**
 * `words` is the catalogue; the part is updated with `{ client, group, view }` and ticked with floor time. A
 * `brief` one leaves out what only who lifts or coaches needs: the board is read from afar and cannot scroll.
 */
export function turnLine(words, { brief = false } = {}) {
  const node = el("li", "line");
  const mark = shape();
  const name = el("span", "name");
  const phase = el("span", "phase");
  const count = el("span", "count");
  count.setAttribute("role", "timer");
  const what = el("span", "what");
  const needs = el("span", "needs");
  node.append(mark.node, name, phase, count, what, needs);
  let shown = null;

  function update(item) {
    shown = item;
    setText(name, item.client.name);
    const { turn } = item.client;
    setText(what, turn ? whatText(words, turn, item.view, brief) : lastText(words, item.client.last));
    const need = turn ? needsText(words, turn, brief) : "";
    setText(needs, need);
    show(needs, need !== "");
  }

  function tick(now) {
    const { turn } = shown.client;
    const at = turn ? phaseOf(turn, now, shown.group.halt) : noMore(shown.group.stage);
    mark.update(at.kind);
    setAttribute(node, "data-phase", at.kind);
    setText(phase, words.message(at.word));
    setText(count, figureText(figure(at, now)));
  }

  return { node, update, tick };
}

/** No set is left for this client; the others of the group may have some. */
function noMore(stage) {
  const wiping = stage === "wipe_down";
  return { kind: wiping ? "wipe_down" : "none", word: wiping ? "stage.wipe_down" : "stage.finished", until: null, since: null };
}

/** `Bench press at Bench 1, set 2 of 3, 60 kg, 10 reps, tempo 2-0-2-0`. */
export function whatText(words, turn, view, brief = false) {
  const station = view.stations.find((line) => line.station === turn.station)?.name;
  const how = [`${turn.reps} ${words.message("label.reps")}`, `${words.message("label.tempo")} ${turn.tempo}`];
  const figures = [words.say("set", turn.set), loadText(turn.load), ...(brief ? [] : how)];
  const exercise = station ? words.message("label.page_at", { exercise: turn.exercise, station }) : turn.exercise;
  return [exercise, ...figures.filter(Boolean).map(whole)].join("\u00a0\u00b7 ");
}

/** A figure and its unit stay on one line. */
export const whole = (text) => text.replaceAll(" ", "\u00a0").replaceAll("-", "\u2011");

/** The load of a set; nothing where it has none or hides it. */
export const loadText = (load) => (load ? massText(load.total, load.unit) : "");

function needsText(words, turn, brief) {
  const parts = [];
  if (turn.phase.phase === "coming" && turn.phase.needs.length > 0) {
    // What is first is done first; the rest is named when it is its turn.
    const needs = turn.phase.needs.slice(0, brief ? 1 : undefined).map((need) => words.say("need", need));
    parts.push(`${words.message("label.page_needs")} ${needs.join(", ")}`);
  }
  if (turn.spotter) parts.push(words.message("label.spots", { name: turn.spotter }));
  return parts.join(" \u00b7 ");
}

function lastText(words, last) {
  return last ? words.message("label.page_last", { exercise: last.exercise, reps: String(last.reps) }) : "";
}
