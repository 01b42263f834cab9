// What is to know of a group beside its sets: one line each, with the taps that answer it. Pure.

import { actorName, actWords } from "./acts.js";
import { lengthText } from "./phase.js";
import { aboutText, clientName, instantText } from "./text.js";

/** Notes on a card: the others are at the foot of the page. */
const WRITTEN = 3;

/** How long is told what somebody else did, in floor milliseconds, as `DEED_TOLD_FOR` of the protocol. */
const DEED = 10_000;

const left = (until, now) => lengthText(Math.max(Math.ceil((until - now) / 1000), 0));

/** Lines of `{ key, text, warn, acts }` at floor time `now`, the most pressing first. */
export function noticeLines(words, group, view, now) {
  const lines = [];
  const add = (key, text, warn = false, acts = []) => lines.push({ key, text, warn, acts });
  const coach = (id) => view.coaches.find((line) => line.coach === id)?.name ?? String(id);
  if (group.lapses !== undefined) {
    const absent = group.clients.every((client) => client.attendance === "expected");
    const lapses = group.stations?.length > 0 ? "label.page_lapses" : "label.page_gone_in";
    const id = absent ? "label.page_not_come" : lapses;
    const still = { act: { do: "still_here", group: group.group }, title: words.message("act.still_here") };
    add("lapses", words.message(id, { at: left(group.lapses, now) }), true, [still]);
  }
  if (group.no_show) add("no_show", words.message("label.page_no_show"), true);
  if (group.offer) add("offer", offerText(words, group, view, coach), group.offer.asks === view.me);
  const away = view.coaches.find((line) => line.coach === group.coach)?.away;
  if (away !== undefined) {
    const at = words.message("label.page_away", { at: aboutText(words, away - now) });
    add("away", `${coach(group.coach)}: ${at}`, true);
  }
  const fit = fitLine(words, group, view, now);
  if (fit) lines.push(fit);
  if (group.waits) add("waits", words.message("label.page_waits", { n: String(group.waits.place) }));
  if (group.ahead?.length > 0) {
    const stations = group.ahead.map((id) => view.stations.find((line) => line.station === id)?.name ?? id);
    add("ahead", words.message("label.page_ahead", { stations: stations.join(", ") }));
  }
  return [...deedLines(words, group, view, now), ...lines, ...writtenLines(words, group, view)];
}

/**
 * What others have just done for the group: why the button is another one than the coach was about to tap. Plain lines
 * that stand still and are no live region: a card that others work at would talk without end.
 */
function deedLines(words, group, view, now) {
  const told = (group.done ?? []).filter(({ at }) => now - at < DEED);
  return told.map((part) => ({ key: `deed ${part.client ?? ""}`, text: deedText(words, part, view), warn: false, acts: [] }));
}

/** `Farid: GO, tapped at Bench 1`; `Farid: technique passed, by Dara`. */
function deedText(words, { deed, by, client }, view) {
  const what = words.message(`deed.${deed}`);
  const who = actorName(by, view);
  const places = { what, who, station: who };
  const id = by.is === "station" ? "label.page_deed_at" : "label.page_deed_by";
  const said = who === undefined ? what : words.message(id, places);
  return [clientName(view, client), said].filter(Boolean).join(": ");
}

/** What was written down last about clients of a group and their sets, while it trains: whoever stands at the bar knows it. */
function writtenLines(words, group, view) {
  if (group.stage === "finished") return [];
  const about = ({ about }) => (about.about === "client" ? about : about.about === "set" ? about.turn : {});
  const own = (view.notes ?? []).filter((note) => about(note).group === group.group && note.text.is !== "erased");
  return own.slice(0, WRITTEN).map((note) => {
    const text = `${clientName(view, about(note).client) ?? ""}: ${note.text.text}`;
    return { key: `note ${note.note}`, text, warn: false, acts: [] };
  });
}

function offerText(words, { offer, coach: now }, view, coach) {
  // Whoever has the group is asked where another wants it.
  const wanted = offer.asks === now;
  return words.message(wanted ? "label.page_asked_for" : "label.page_offered", { name: coach(offer.to) });
}

/** Whether the session will be over in time; where it will not, what would help. */
function fitLine(words, { fit }, view, now) {
  if (!fit) return null;
  const until = fit.by - now;
  const minutes = (secs) => aboutText(words, secs * 1000);
  const places = { left: minutes(fit.left), at: aboutText(words, until) };
  const fits = fit.left * 1000 <= until;
  const closing = fit.closing ? ` ${words.message("label.page_closing")}` : "";
  if (fits) return { key: "fit", text: words.message("label.page_fits", places), warn: false, acts: [] };
  const acts = (fit.offers ?? []).map(({ act, left: then }) => {
    const rounds = act.do === "set_rounds" ? `: ${act.rounds}` : "";
    const shorter = words.message("label.page_shorter", { left: minutes(then) });
    return { act, title: `${actWords(words, act, view).title}${rounds}, ${shorter}` };
  });
  return { key: "fit", text: words.message("label.page_fits_not", places) + closing, warn: true, acts };
}

/** That somebody wrote something down, about what, and when. */
export function noteText(words, { about, at }, view, time) {
  return [instantText(at, time), subjectText(words, about, view)].filter(Boolean).join(" \u00b7 ");
}

const groupNames = (view, id) => view.groups.find((g) => g.group === id)?.clients.map((c) => c.name).join(", ") ?? "";

function subjectText(words, about, view) {
  const station = view.stations.find((line) => line.station === about.station)?.name ?? "";
  switch (about.about) {
    case "incident":
      return words.message("label.page_incident", { station });
    case "station":
      return words.message("label.page_note_station", { station });
    case "client":
      return words.message("label.page_note_client", { name: clientName(view, about.client) ?? "" });
    case "set":
      return words.message("label.page_note_set", { name: clientName(view, about.turn.client) ?? "" });
    default:
      return words.message("label.page_note_group", { names: groupNames(view, about.group) });
  }
}
