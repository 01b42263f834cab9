// What is told of a coming start: how long until then, and why not earlier. Pure.

import { figure, lengthText, sameTurn } from "./phase.js";
import { argumentsFor } from "./text.js";

/** What is told about only is said in steps of so many seconds: it moves by that or more. */
const STEP = 5;

/**
 * `{ lead, figure }` of a start, both empty where there is none: `in` `0:18`, or `in about` `0:45` where it is not told to the second, and from then on
 * `now` `+0:05`.
 */
export function startText(words, start, now, about = false) {
  if (start === null) return { lead: "", figure: "" };
  const found = figure(now < start ? { until: start, since: null } : { until: null, since: start }, now);
  if (found.up) return { lead: words.message("label.now"), figure: `+${lengthText(found.seconds)}` };
  const seconds = about ? Math.ceil(found.seconds / STEP) * STEP : found.seconds;
  return { lead: words.message(about ? "label.page_in_about" : "label.page_in"), figure: lengthText(seconds) };
}

/** Why a start is not earlier, as a sentence; `time` is as for an instant in words. */
export function reasonText(words, reason, view, time) {
  return words.say("start", reason, argumentsFor(words, view, time));
}

/** Where I am: the client whose set I spot, or stand at until it begins; undefined where I am at no bar. */
export function atMyBar(view) {
  const mine = myLine(view);
  const clients = view.groups.flatMap((group) => group.clients).filter(({ turn }) => turn);
  const stands = ({ turn }) => turn.phase.phase === "coming" && turn.spotter === mine.name;
  return mine && (clients.find(({ turn }) => mine.spotting && sameTurn(turn.turn, mine.spotting)) ?? clients.find(stands));
}

/** Whether nobody but me stands at the bar of a set. */
export const isMine = (view, { spotter }) => spotter === undefined || spotter === myLine(view)?.name;

/** The client of mine whose light set is under way: I watch it, unless another stands there. */
const watched = (view) =>
  view.groups
    .filter(({ coach }) => coach === view.me)
    .flatMap(({ clients }) => clients)
    .find(({ turn }) => turn?.phase.phase === "under_way" && turn.set.set === "technique" && isMine(view, turn));

/** The line of the coach whose page it is; undefined on a board. */
export const myLine = (view) => view.coaches?.find((line) => line.coach === view.me);

/** The same reason on the page of the coach who spots or watches: of the spotter it says "you", and where, as far as the view has it. */
export function ownReasonText(words, reason, view, time, start) {
  if (reason.because === "spotter_away") return words.message("label.page_you_away", { until: argumentsFor(words, view, time)("until", reason.until) });
  if (reason.because !== "spotter_busy") return reasonText(words, reason, view, time);
  // The plan may lead over another bar before that start.
  const before = (view.run_sheet ?? []).filter((row) => row.start < start).sort((a, b) => b.start - a.start)[0];
  const at = before?.station ?? (atMyBar(view) ?? watched(view))?.turn.station;
  const place = view.stations.find((line) => line.station === at)?.name;
  return place ? words.message("label.page_you_until", { place }) : words.message("label.page_you_busy");
}

/** The waits that end with a start; whoever is held by a coach or lifts is told nothing. */
const ENDS_WITH_A_START = new Set(["coming", "rest", "changeover", "held", "ready"]);

/**
 * The phase `at` of a coming set with what has been told of its start: counted to that start, and up from it. Without
 * a promise it is `at` itself. `told` says which of the two it is: `ahead`, `about` where that is not to the second, `over`,
 * or null.
 */
export function toldPhase(at, turn, now) {
  const { promise, phase } = turn;
  if (!promise || phase.phase !== "coming" || !ENDS_WITH_A_START.has(at.kind)) return { ...at, told: null };
  // Plans know whole seconds: GO may be live a moment after the start that was told.
  const start = Math.max(promise.start, phase.go_from);
  if (now >= start) {
    const kind = phase.needs.length > 0 ? "held" : "ready";
    return { kind, word: `phase.${kind}`, until: null, since: start, told: "over" };
  }
  // A client who could go, and is told to go later, is not asked for now.
  const word = at.kind === "ready" ? "phase.coming" : at.word;
  const told = promise.about ? "about" : "ahead";
  return { kind: at.kind === "ready" ? "coming" : at.kind, word, until: start, since: null, told };
}

/** Why the start is then, and who is to watch or spot, where nobody has said yet that they do. */
export function promiseText(words, turn, view, time) {
  const { reason, spotter, start } = turn.promise;
  const mine = spotter !== undefined && spotter === myLine(view)?.name;
  const why = mine ? ownReasonText(words, reason, view, time, start) : reasonText(words, reason, view, time);
  const does = turn.set.set === "technique" ? "label.page_will_watch" : "label.page_will_spot";
  const who = spotter && !turn.spotter && !turn.arms ? words.message(does, { name: spotter }) : "";
  return [why, who].filter(Boolean).join(" ");
}
