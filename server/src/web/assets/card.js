// One group on the coach page: who, where they stand, the expected tap, and what else can be done.

import { actKey, expectedTap, names, otherTaps } from "./acts.js";
import { admissionPart } from "./admission.js";
import { button, el, keyed, setAttribute, setText, show } from "./dom.js";
import { lengthText, sameTurn } from "./phase.js";
import { formPart } from "./form.js";
import { clientForms, groupForms } from "./forms.js";
import { noticeLines } from "./notices.js";
import { papersPart } from "./papers.js";
import { proposalsPart } from "./proposals.js";
import { ribbonPart } from "./ribbon.js";
import { cardId } from "./run_sheet.js";
import { setsSection } from "./sets.js";
import { stationChooser } from "./stations.js";
import { tapBlock } from "./tap_button.js";
import { techniquePart } from "./technique.js";
import { todayPart } from "./today.js";
import { turnLine } from "./turn_line.js";

/** Before anybody has come and when all is over sheets of paper are a tap away, else one level down. */
const AT_EASE = ["expected", "finished"];

/** `hooks` are `now()`, `time()`, `tap(act)` and `hear(act, news)`. Updated with `{ group, view }`. */
export function groupCard(words, hooks) {
  const node = el("section", "card");
  // The run sheet leads here.
  node.tabIndex = -1;
  const head = el("header", "card-head");
  const title = el("h2");
  const stage = el("p", "card-stage");
  const halt = el("p", "card-halt");
  const notices = el("ul", "notices");
  head.append(title, stage);
  const lines = el("ul", "lines");
  const proposals = proposalsPart(words, hooks);
  const admission = admissionPart(words, hooks);
  const main = el("div", "card-main");
  const idle = el("p", "card-idle", words.message("label.page_idle"));
  const technique = techniquePart(words, hooks);
  const today = todayPart(words, hooks);
  const ribbon = ribbonPart(words, hooks.time);
  const papers = papersPart(words, hooks);
  const more = moreTaps(words, hooks);
  const hold = holdRow(words, hooks);
  node.append(head, halt, notices, lines, proposals.node, admission.node, main, idle, technique.node, today.node, ribbon.node, papers.node, more.node, hold.node);
  let shown = null;
  let expected = null;
  let rows = [];
  let blocks = [];

  function update(item) {
    shown = item;
    const { group, view } = item;
    setAttribute(node, "id", cardId(group.group));
    setAttribute(node, "data-stage", group.stage);
    setAttribute(node, "data-mine", group.coach === view.me ? "yes" : "no");
    setText(title, names(group));
    setText(stage, stageText(words, group, view));
    show(halt, Boolean(group.halt));
    const clients = group.clients.map((client) => ({ client, group, view }));
    rows = keyed(lines, clients, (c) => c.client.client, () => turnLine(words, hooks.time));
    proposals.update(item);
    admission.update(item);
    today.update(item);
    ribbon.update(group.clients, group.block.exercises);
    papers.update(AT_EASE.includes(group.stage) ? group : null);
    drawNotices(hooks.now());
    place(expectedTap(group, hooks.now()));
  }

  function drawNotices(now) {
    keyed(notices, noticeLines(words, shown.group, shown.view, now), (line) => line.key, () => notice(hooks));
  }

  /** Puts the expected tap in its place and the others one level down. */
  function place(tap) {
    const { group, view } = shown;
    expected = tap;
    const items = tap ? [tapItem(tap, group, view)] : [];
    // One and the same block, however the tap changes: the finger finds it in its place.
    blocks = keyed(main, items, () => "expected", () => tapBlock(words, hooks));
    show(idle, !tap && group.stage !== "finished");
    more.update({ group, view, taps: otherTaps(group, tap) });
    technique.update(group, tap);
    hold.update(group, tap);
  }

  function tick(now) {
    const { group } = shown;
    // Which tap is expected depends on the time, so no view comes to say that it changed.
    const tap = expectedTap(group, now);
    if (tap !== expected) place(tap);
    drawNotices(now);
    if (group.halt) setText(halt, haltText(words, group.halt, now));
    for (const part of [...rows, ...blocks, ribbon, more]) part.tick(now);
  }

  return { node, update, tick };
}

/** A tap with the repetitions its stepper starts from. */
function tapItem(tap, group, view) {
  const client = group.clients.find((c) => c.client === tap.act.turn?.client);
  const now = client?.turn && sameTurn(client.turn.turn, tap.act.turn);
  const target = now ? client.turn.reps : client?.last?.reps;
  return { tap, view, target: target ?? 0 };
}

function stageText(words, group, view) {
  const { n, of } = group.block;
  const parts = [words.say("stage", group.stage)];
  if (of > 1) parts.push(words.message("label.page_block", { n: String(n), of: String(of) }));
  if (group.coach !== view.me) parts.push(view.coaches.find((c) => c.coach === group.coach)?.name ?? "");
  return parts.filter(Boolean).join(" \u00b7 ");
}

function haltText(words, { halt, since }, now) {
  const at = lengthText(Math.max(Math.floor((now - since) / 1000), 0));
  return `${words.say("halt", halt)}, ${words.message("label.page_since", { at })}`;
}

/** The other taps and the choice of stations, one level down; the choice stays open where nothing is proposed. */
function moreTaps(words, hooks) {
  const node = el("details", "more");
  const summary = el("summary", "", words.message("label.page_more"));
  const list = el("div", "more-list");
  const chooser = stationChooser(words, hooks.tap);
  const sections = el("div", "sections");
  const papers = papersPart(words, hooks);
  node.append(summary, list, papers.node, chooser.node, sections);
  let parts = [];
  return {
    node,
    update({ group, view, taps }) {
      const items = taps.map((tap) => tapItem(tap, group, view));
      parts = keyed(list, items, (item) => actKey(item.tap.act), () => tapBlock(words, hooks));
      papers.update(AT_EASE.includes(group.stage) ? null : group);
      const waiting = group.stage === "waiting" && !group.halt;
      if (waiting) {
        const take = group.taps.find((tap) => tap.act.do === "take_stations");
        chooser.update({ group, view, proposed: take?.act.stations });
        if (!take) node.open = true;
      }
      show(chooser.node, waiting);
      // What was done can be corrected after the session too.
      const say = (c) => (group.stage === "finished" ? [] : clientForms(words, c, group, view));
      const client = (c) => ({ key: c.client, title: c.name, forms: say(c), client: c, group, view });
      const whole = { key: "group", title: words.message("label.page_group"), forms: groupForms(words, group, view) };
      keyed(sections, [...group.clients.map(client), whole], (section) => section.key, ({ client: one }) => (one ? clientSection(words, hooks) : formSection(hooks.tap)));
    },
    tick: (now) => parts.forEach((part) => part.tick(now)),
  };
}

/** Forms under one heading, closed until somebody looks for them. */
export function formSection(tap) {
  const node = el("details", "section");
  const summary = el("summary");
  const list = el("div", "more-list");
  node.append(summary, list);
  return {
    node,
    update({ title, forms }) {
      setText(summary, title);
      keyed(list, forms, (form) => form.key, () => formPart(tap));
    },
  };
}

/** The forms about one client, and the sets that the client has done. */
function clientSection(words, hooks) {
  const forms = formSection(hooks.tap);
  const sets = setsSection(words, hooks);
  forms.node.append(sets.node);
  return {
    node: forms.node,
    update(section) {
      forms.update(section);
      sets.update(section);
    },
  };
}

/** One thing to know of a group, with the taps that answer it. */
function notice(hooks) {
  const node = el("li", "notice");
  const text = el("span");
  const acts = el("div", "notice-acts");
  node.append(text, acts);
  const answer = () => {
    let shown = null;
    const part = button("act", () => hooks.tap(shown.act));
    return {
      node: part,
      update(next) {
        shown = next;
        setText(part, next.title);
      },
    };
  };
  return {
    node,
    update(line) {
      setAttribute(node, "data-warn", line.warn ? "yes" : "no");
      setText(text, line.text);
      keyed(acts, line.acts ?? [], (one) => actKey(one.act), answer);
      show(acts, (line.acts ?? []).length > 0);
    },
  };
}

/** Pause, stop and resume are always in the same place. */
function holdRow(words, hooks) {
  const node = el("div", "hold");
  let group = null;
  const make = (className, verb, act) => {
    const part = button(className, () => hooks.tap(act()));
    part.textContent = words.message(`act.${verb}`);
    return part;
  };
  const pause = make("act", "pause", () => ({ do: "pause", group: group.group }));
  const resume = make("act", "resume", () => ({ do: "resume", group: group.group }));
  const stop = make("act stop", "stop", () => ({ do: "stop", scope: { scope: "group", group: group.group } }));
  node.append(pause, resume, stop);
  return {
    node,
    update(next, main) {
      group = next;
      const offered = main?.act.do === "resume";
      const who = names(next);
      for (const [part, verb] of [[pause, "pause"], [resume, "resume"], [stop, "stop"]]) {
        setAttribute(part, "aria-label", `${words.message(`act.${verb}`)}, ${who}`);
      }
      show(pause, !next.halt);
      show(resume, Boolean(next.halt) && !offered);
      show(stop, next.halt?.halt !== "stop");
      show(node, next.stage !== "finished");
    },
  };
}
