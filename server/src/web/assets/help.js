// Help needed somewhere: the loudest thing on the page, with the floor's own notes for an emergency.

import { button, el, setText, show } from "./dom.js";
import { lengthText } from "./phase.js";

/** The panel. `tap(act)` is absent on a board, which nobody touches. */
export function helpPanel(words, tap = null) {
  const node = el("section", "help");
  // What is read out is what does not tick.
  const told = el("div");
  told.setAttribute("role", "alert");
  const title = el("h2", "help-title");
  const since = el("p", "help-since");
  const notes = el("dl", "help-notes");
  const rows = ["emergency", "defibrillator", "first_aid"].map((id) => {
    const value = el("dd");
    notes.append(el("dt", "", words.message(`label.${id}`)), value);
    return value;
  });
  told.append(title, notes);
  node.append(told, since);
  let help = null;
  const coming = answerPart(words, tap);
  if (tap) {
    const attend = button("act", () => tap({ do: "attend", call: help.call.call }));
    attend.textContent = words.message("act.attend");
    node.append(coming.node, attend);
  }

  function update(part) {
    help = part ?? null;
    show(node, help !== null);
    if (help === null) return;
    const { call, emergency } = help;
    setText(title, `${words.say("call", call.kind)}: ${call.place}`);
    setText(rows[0], [emergency.number, emergency.address].filter(Boolean).join(" \u00b7 "));
    setText(rows[1], emergency.defibrillator);
    setText(rows[2], emergency.first_aid);
    coming.update(call);
  }

  function tick(now) {
    if (help === null) return;
    setText(since, sinceText(words, help.call.since, now));
  }

  return { node, update, tick };
}

/** Who is on the way, or the button that says so. */
export function answerPart(words, tap) {
  const node = el("div", "call-answer");
  let call = null;
  const answer = button("act", () => tap({ do: "answer", call: call.call }));
  answer.textContent = words.message("act.answer");
  const who = el("span");
  node.append(answer, who);
  return {
    node,
    update(part) {
      call = part;
      show(answer, tap !== null && part.answered === undefined);
      setText(who, part.answered === undefined ? "" : words.message("label.on_the_way", { name: part.answered }));
      answer.setAttribute("aria-label", `${words.message("act.answer")}, ${part.place}`);
    },
  };
}

/** `for 0:09`. */
function sinceText(words, since, now) {
  const seconds = Math.max(Math.floor((now - since) / 1000), 0);
  return words.message("label.page_since", { at: lengthText(seconds) });
}
