// Somebody asks for a coach: a row of the run sheet that counts up, with the taps that answer it.

import { actButton, comingButton } from "./act_button.js";
import { el, setAttribute, setText } from "./dom.js";
import { answerPart } from "./help.js";
import { lengthText } from "./phase.js";

/**
 * The rows of the calls that nobody has attended, but the one that the panel for help shows already. Who waits for an
 * answer has waited since then; once another coach is on the way nothing here is due. Pure.
 */
export function callRows({ calls, help, coaches, me }) {
  const name = coaches.find((line) => line.coach === me)?.name;
  const others = calls.filter((call) => call.call !== help?.call.call);
  return others.map((call) => ({ call, start: call.answered === undefined || call.answered === name ? call.since : null }));
}

/** `{ what, place }` of a call, as it is written and read out. Pure. */
export const callWords = (words, call) => ({ what: words.say("call", call.kind), place: call.place });

/** How long somebody has waited. */
const waited = (call, now) => lengthText(Math.max(Math.floor((now - call.since) / 1000), 0));

/** The calls that wait for an answer of mine, in one line; empty where there are none. Pure. */
export function waitingText(words, view) {
  const [first, ...more] = callRows(view).filter(({ start }) => start !== null);
  if (!first) return "";
  const { what, place } = callWords(words, first.call);
  return [`${place}: ${what}`, more.length > 0 ? `+${more.length}` : ""].filter(Boolean).join(" ");
}

/** The same as a button in the bar, wherever the page is scrolled to; `goTo()` leads to the rows. */
export function callHint(words, goTo) {
  const hint = comingButton("act call-hint", goTo);
  return {
    node: hint.node,
    update(view) {
      const text = waitingText(words, view);
      setText(hint.node, text);
      hint.show(text !== "");
    },
  };
}

/** The row. `hooks` as for any button; updated with `{ row, first }`. */
export function callRow(words, hooks) {
  const node = el("li");
  const box = el("div", "run-row");
  const [who, count] = ["who", "count"].map((name) => el("span", `run-${name}`));
  const [place, what] = [el("span", "run-client"), el("span", "run-place")];
  const [lead, figure] = [el("span", "run-lead", words.message("label.page_waiting_since")), el("span", "run-figure")];
  who.append(place, " ", what);
  count.append(lead, " ", figure);
  const acts = el("div", "run-acts");
  const attend = actButton("act", hooks);
  attend.node.textContent = words.message("act.attend");
  const coming = answerPart(words, hooks);
  acts.append(coming.node, attend.node);
  box.append(who, " ", count, " ", acts);
  node.append(box);
  let call = null;
  return {
    node,
    update({ row, first }) {
      ({ call } = row);
      const said = callWords(words, call);
      setAttribute(node, "class", first ? "run-first" : null);
      setAttribute(box, "data-call", call.kind);
      setAttribute(box, "data-answered", call.answered === undefined ? "no" : "yes");
      setText(place, said.place);
      setText(what, said.what);
      coming.update(call);
      attend.set({ do: "attend", call: call.call }, 0);
      setAttribute(attend.node, "aria-label", `${words.message("act.attend")}, ${said.place}`);
    },
    tick: (now) => setText(figure, waited(call, now)),
  };
}
