// Help needed somewhere: the loudest thing on the page, with the floor's own notes for an emergency.

import { actButton } from "./act_button.js";
import { button, el, setText, show } from "./dom.js";
import { lengthText } from "./phase.js";

/**
 * The panel. `hooks` as for any button are null on a board, which nobody touches. Whoever says here that they are there
 * keeps the notes in sight until they close them: the address and where things are are needed from then on.
 */
export function helpPanel(words, hooks = null) {
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
  let open = null;
  let kept = null;
  const coming = answerPart(words, hooks);
  const close = button("act", () => {
    kept = null;
    draw();
  });
  close.textContent = words.message("label.page_close_notes");
  const attend = hooks && actButton("act", {
    ...hooks,
    tap(act) {
      kept = open;
      return hooks.tap(act);
    },
  });
  if (hooks) {
    attend.node.textContent = words.message("act.attend");
    node.append(coming.node, attend.node, close);
  }

  function draw() {
    const help = open ?? kept;
    show(node, help !== null);
    if (help === null) return;
    const { call, emergency } = help;
    setText(title, `${words.say("call", call.kind)}: ${call.place}`);
    setText(rows[0], [emergency.number, emergency.address].filter(Boolean).join(" \u00b7 "));
    setText(rows[1], emergency.defibrillator);
    setText(rows[2], emergency.first_aid);
    show(close, open === null);
    show(coming.node, open !== null);
    if (attend) show(attend.node, open !== null);
    if (open === null) return;
    coming.update(call);
    attend?.set({ do: "attend", call: call.call }, 0);
  }

  function update(part) {
    open = part ?? null;
    // Another call is what counts then.
    if (open && kept && open.call.call !== kept.call.call) kept = null;
    draw();
  }

  function tick(now) {
    setText(since, open ? sinceText(words, open.call.since, now) : "");
  }

  return { node, update, tick };
}

/** Who is on the way, or the button that says so. `hooks` as for any button, or null where nobody answers. */
export function answerPart(words, hooks) {
  const node = el("div", "call-answer");
  const answer = hooks && actButton("act", hooks);
  const who = el("span");
  if (answer) {
    answer.node.textContent = words.message("act.answer");
    node.append(answer.node);
  }
  node.append(who);
  return {
    node,
    update(call) {
      setText(who, call.answered === undefined ? "" : words.message("label.on_the_way", { name: call.answered }));
      if (!answer) return;
      show(answer.node, call.answered === undefined);
      answer.node.setAttribute("aria-label", `${words.message("act.answer")}, ${call.place}`);
      // A finger that comes down on what has just appeared was meant for what stood there before.
      answer.set({ do: "answer", call: call.call }, 0);
    },
  };
}

/** `for 0:09`. */
function sinceText(words, since, now) {
  const seconds = Math.max(Math.floor((now - since) / 1000), 0);
  return words.message("label.page_since", { at: lengthText(seconds) });
}
