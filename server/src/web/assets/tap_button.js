// Buttons for taps: one large for what is expected, smaller ones for the rest.

import { actButton } from "./act_button.js";
import { actKey, actWords, asksEffort } from "./acts.js";
import { button, el, setAttribute, setText, show } from "./dom.js";
import { meanwhileText } from "./needs.js";
import { figure, figureText, sameTurn } from "./phase.js";

/** The most repetitions a stepper offers; the floor has the last word. */
const MOST_REPS = 99;

/** A tap with the repetitions its stepper starts from. */
export function tapItem(tap, group, view) {
  const client = group.clients.find((c) => c.client === tap.act.turn?.client);
  const now = client?.turn && sameTurn(client.turn.turn, tap.act.turn);
  const target = now ? client.turn.reps : client?.last?.reps;
  return { tap, group, view, target: target ?? 0 };
}

/** An expected tap with all it takes: effort and repetitions with a working set's done. */
export function tapBlock(words, hooks) {
  const node = el("div", "tap");
  const plain = actButton("act main", hooks);
  const title = el("span", "act-title");
  const count = el("span", "act-count");
  count.setAttribute("aria-hidden", "true");
  const detail = el("span", "act-detail");
  // Who it is about is as large as what it does: buttons that look alike are told apart by that.
  const [who, apart, rest] = [el("span", "act-who"), el("span", "act-apart"), el("span")];
  detail.append(who, apart, rest);
  plain.node.append(title, count, detail);
  const felt = feltRow(words, hooks);
  const reps = repsStepper(words, () => refresh());
  // Whoever takes a group over decides that oneself, knowing who waits meanwhile.
  const meanwhile = el("p", "act-meanwhile");
  show(meanwhile, false);
  node.append(plain.node, meanwhile, felt.node, reps.node);
  let shown = null;

  function refresh() {
    const { act, from } = shown.tap;
    plain.set(act.do === "done" || act.do === "reps" ? reps.into(act) : act, from);
    if (asksEffort(act)) felt.set(act.do === "done" ? reps.into(act) : act, from);
  }

  function update(item) {
    shown = item;
    const { act } = item.tap;
    const said = actWords(words, act, item.view);
    setText(title, said.title);
    setAttribute(plain.node, "data-act", act.do);
    const named = said.who !== "" && said.detail.startsWith(said.who);
    const after = named ? said.detail.slice(said.who.length) : said.detail;
    setText(who, named ? said.who : "");
    setText(apart, named && after.startsWith(", ") ? ", " : "");
    setText(rest, named ? after.replace(/^, /, "") : after);
    show(plain.node, act.do !== "effort");
    show(felt.node, asksEffort(act));
    felt.name(act.do === "effort" ? `${said.title}: ${said.detail}` : [said.who, words.message("label.page_felt")].filter(Boolean).join(": "));
    const counts = act.do === "reps" || (act.do === "done" && act.turn.round > 0);
    show(reps.node, counts);
    if (counts) reps.about(act, item.target);
    refresh();
  }

  function tick(now) {
    const { from } = shown.tap;
    plain.tick(now);
    felt.tick(now);
    const waits = shown.tap.act.do === "accept_group" && shown.group.coach !== shown.view.me ? meanwhileText(words, shown.view, now) : "";
    setText(meanwhile, waits);
    show(meanwhile, waits !== "");
    const kept = hooks.kept(shown.tap.act);
    setAttribute(plain.node, "data-kept", kept ? "yes" : "no");
    setText(count, kept ? words.message("label.page_not_sent") : now < from ? figureText(figure({ until: from, since: null }, now)) : "");
  }

  return { node, update, tick };
}

/** Light, right, heavy: the effort answer is the done tap. */
function feltRow(words, hooks) {
  const node = el("div", "felt");
  node.setAttribute("role", "group");
  const label = el("span", "felt-label");
  const buttons = ["light", "right", "heavy"].map((felt) => {
    const part = actButton("act felt-act", hooks);
    part.node.textContent = words.message(`effort.${felt}`);
    return { felt, part };
  });
  node.append(label, ...buttons.map(({ part }) => part.node));
  return {
    node,
    name(text) {
      setText(label, text);
      setAttribute(node, "aria-label", text);
    },
    set: (act, from) => buttons.forEach(({ felt, part }) => part.set({ ...act, effort: { felt } }, from)),
    tick: (now) => buttons.forEach(({ part }) => part.tick(now)),
  };
}

/** How many repetitions really were done: the target until somebody says otherwise. */
function repsStepper(words, changed) {
  const node = el("div", "reps");
  node.setAttribute("role", "group");
  const value = el("output", "reps-value");
  const step = (by, text, id) => {
    const part = button("act step", () => {
      reps = Math.min(Math.max((reps ?? target) + by, 0), MOST_REPS);
      draw();
      changed();
    });
    part.textContent = text;
    part.setAttribute("aria-label", words.message(id));
    return part;
  };
  let key = "";
  let target = 0;
  let reps = null;
  const draw = () => setText(value, `${reps ?? target} ${words.message("label.reps")}`);
  node.append(step(-1, "\u2212", "label.page_less"), value, step(1, "+", "label.page_more_reps"));
  return {
    node,
    about(act, nextTarget) {
      if (actKey(act) !== key) reps = null;
      key = actKey(act);
      target = act.reps ?? nextTarget;
      draw();
    },
    into: (act) => (reps === null ? act : { ...act, reps }),
  };
}

/** A button that asks for a second tap within `within` real milliseconds before it acts. */
export function twiceButton(className, { first, second, within, act, tell }) {
  const node = button(className);
  let armed = null;
  const disarm = () => {
    clearTimeout(armed);
    armed = null;
    setText(node, first);
    node.classList.remove("armed");
  };
  node.addEventListener("click", () => {
    if (armed !== null) {
      disarm();
      return act();
    }
    setText(node, second);
    node.classList.add("armed");
    armed = setTimeout(disarm, within);
    return tell(second);
  });
  setText(node, first);
  return node;
}
