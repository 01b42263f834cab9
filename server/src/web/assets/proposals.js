// The loads that are proposed for a group's next sets, each with its reason and the taps that answer it.

import { button, el, keyed, setAttribute, setText, show } from "./dom.js";
import { amountText, argumentsFor, sameLoad, sentence } from "./text.js";

/** What a coach says of a proposal: as it is, or a step of the gear off it. */
const SAID = { easier: { said: "easier", steps: 1 }, accept: { said: "accept" }, harder: { said: "harder", steps: 1 } };

/** Lines of `{ key, title, what, why, by, settled, taps }` for a group's clients, in their order. Pure. */
export function proposalLines(words, group, view, time) {
  return group.clients.flatMap((client) => (client.proposals ?? []).filter(isNews).map((part) => line(words, client, part, view, time)));
}

/** Where all is as it should be there is nothing to read. */
const isNews = ({ proposal }) => proposal.change !== "same" || proposal.reason.because !== "as_it_should";

/** What is proposed to be set, as a load. */
const proposedLoad = ({ set }) => (set.by === "pin" ? { pin: set.pin } : set.load);

function line(words, client, part, view, time) {
  const { turn, proposal, unit, load } = part;
  const proposed = proposedLoad(proposal);
  const named = (one) => amountText(words, one, unit);
  const now = load !== undefined && !sameLoad(load, proposed) ? words.message("label.page_now", { load: named(load) }) : "";
  const reps = proposal.change === "more_reps" ? `${proposal.work.most} ${words.message("label.reps")}` : "";
  const what = [`${words.message(`change.${proposal.change}`)}: ${named(proposed)}`, reps, now].filter(Boolean).join(", ");
  return {
    key: `${turn.client}/${turn.leg}`,
    title: `${client.name} \u00b7 ${words.own(part.exercise)}`,
    what,
    // A pin may come first in it.
    why: sentence(words.say("next", proposal.reason, argumentsFor(words, view, time, unit))),
    by: words.say("rule", proposal.rule),
    settled: part.said ? words.message("label.page_load_set", { load: named(load) }) : "",
    taps: taps(words, part, named),
  };
}

/** The proposal itself as what is taken: a load, or more repetitions with the same. */
export function takeText(words, proposal, unit) {
  const reps = proposal.change === "more_reps" ? `${proposal.work.most} ${words.message("label.reps")}` : "";
  return words.message("label.page_take_load", { load: reps || amountText(words, proposedLoad(proposal), unit) });
}

/** Whether a proposal is another load than it would be anyway. */
export const asks = ({ change }) => change !== "same" && change !== "first";

/** What takes a proposal as it is. */
export const takeAct = ({ turn, proposal }) => ({ do: "settle_load", turn, proposed: proposal, said: SAID.accept });

/** The steps on either side, and between them the proposal itself where it asks for something. */
function taps(words, part, named) {
  const { turn, proposal, said } = part;
  const act = (how) => ({ do: "settle_load", turn, proposed: proposal, said: SAID[how] });
  // What is set already is no choice any more.
  const isSet = (load) => said && sameLoad(load, part.load);
  return [
    part.easier !== undefined && !isSet(part.easier) && { how: "easier", title: words.message("label.page_rather", { load: named(part.easier) }), act: act("easier") },
    (said ? !isSet(proposedLoad(proposal)) : asks(proposal)) && { how: "accept", title: takeText(words, proposal, part.unit), act: takeAct(part) },
    part.harder !== undefined && !isSet(part.harder) && { how: "harder", title: words.message("label.page_rather", { load: named(part.harder) }), act: act("harder") },
  ].filter(Boolean);
}

/** The lines as a part of a group's card. Updated with `{ group, view }`. */
export function proposalsPart(words, hooks) {
  const node = el("div", "proposals");
  node.setAttribute("role", "group");
  node.setAttribute("aria-label", words.message("act.settle_load"));
  return {
    node,
    update({ group, view }) {
      const lines = proposalLines(words, group, view, hooks.time());
      keyed(node, lines, (one) => one.key, () => proposalLine(hooks));
      show(node, lines.length > 0);
    },
  };
}

function proposalLine(hooks) {
  const node = el("section", "proposal");
  const [title, what, why, by] = ["title", "what", "why", "by"].map((name) => el("p", `proposal-${name}`));
  const row = el("div", "proposal-taps");
  node.append(title, what, why, row, by);
  return {
    node,
    update(line) {
      setText(title, line.title);
      setText(what, line.settled || line.what);
      setText(why, line.why);
      setText(by, line.by);
      setAttribute(node, "data-settled", line.settled ? "yes" : "no");
      keyed(row, line.taps, (tap) => tap.how, () => tapButton(hooks));
    },
  };
}

/** What is tapped is what the button said when the finger came down: the floor refuses a proposal of before. */
function tapButton(hooks) {
  let act = null;
  const node = button("act", () => hooks.tap(act));
  return {
    node,
    update(tap) {
      act = tap.act;
      setText(node, tap.title);
      setAttribute(node, "data-how", tap.how);
    },
  };
}
