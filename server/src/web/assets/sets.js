// The sets that a client has done this evening, each to be corrected; what was said first stays beside it.

import { askedSection } from "./ask.js";
import { el, keyed, setText, show } from "./dom.js";
import { formPart } from "./form.js";
import { correctForm } from "./forms.js";
import { amountText } from "./text.js";
import { whole } from "./turn_line.js";

/** Updated with `{ group, client, view }`; `hooks` are `tap(act)`, `answers()` and `coach`, the coach's key. */
export function setsSection(words, hooks) {
  let shown = null;
  let [view, answers] = [null, 0];
  const section = askedSection(words, {
    path: () => `/coaches/${encodeURIComponent(hooks.coach)}/groups/${shown.group.group}/clients/${shown.client.client}/sets`,
    draw(body, { sets }) {
      show(none, sets.length === 0);
      keyed(body, sets, (set) => JSON.stringify(set.turn), () => setLine(words, hooks.tap));
    },
  });
  const none = el("p", "card-idle", words.message("label.page_no_sets"));
  show(none, false);
  section.node.append(none);
  return {
    node: section.node,
    update(item) {
      shown = item;
      section.title(words.message("label.page_sets", { name: item.client.name }));
      // A new view says nothing of earlier sets; it only comes when something has changed. Of a set that is long over
      // no view says anything, so an answer to a tap of one's own may mean that it was put right.
      if (item.view !== view || hooks.answers() !== answers) section.refresh();
      [view, answers] = [item.view, hooks.answers()];
    },
  };
}

/** `{ title, now, first }`: the set, what is known of it, and what was said first, empty where that is the same. Pure. */
export function setWords(words, set) {
  const title = [words.own(set.exercise), whole(words.say("set", set.set)), set.station].filter(Boolean).join(" \u00b7 ");
  const said = (what) => saidText(words, what, set.unit);
  return { title, now: said(set.said), first: set.first ? words.message("label.page_first_said", { what: said(set.first) }) : "" };
}

function saidText(words, { reps, load, effort, ending }, unit) {
  const done = reps === undefined ? words.message("label.page_reps_unknown") : `${reps} ${words.message("label.reps")}`;
  const parts = [load === undefined ? "" : amountText(words, load, unit), done];
  const felt = effort ? words.say("effort", effort) : "";
  return [...parts.map(whole), words.say("ending", ending), felt].filter(Boolean).join(", ");
}

function setLine(words, tap) {
  const node = el("div", "set-line");
  const title = el("p", "set-title");
  const now = el("p", "set-now");
  const first = el("p", "set-first");
  const form = formPart(tap);
  node.append(title, now, first, form.node);
  return {
    node,
    update(set) {
      const said = setWords(words, set);
      setText(title, said.title);
      setText(now, said.now);
      setText(first, said.first);
      show(first, said.first !== "");
      form.update(correctForm(words, { turn: set.turn, ...set.said }, set.unit));
    },
  };
}
