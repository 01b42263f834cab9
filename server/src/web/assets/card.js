// One group on the coach page: who, where they stand, the expected tap, and what else can be done.

import { actKey, expectedTap, names, otherTaps } from "./acts.js";
import { admissionPart } from "./admission.js";
import { button, el, keyed, setAttribute, setText, show, whenOpen } from "./dom.js";
import { lengthText } from "./phase.js";
import { noticeLines } from "./notices.js";
import { AT_EASE, papersPart } from "./papers.js";
import { proposalsPart } from "./proposals.js";
import { ribbonPart } from "./ribbon.js";
import { cardId } from "./run_sheet.js";
import { tapBlock, tapItem } from "./tap_button.js";
import { techniquePart } from "./technique.js";
import { todayPart } from "./today.js";
import { turnLine } from "./turn_line.js";

/** `hooks` are `now()`, `time()`, `tap(act)`, `hear(act, news)` and `below()`, the module of what is one level down or null. Updated with `{ group, view }`. */
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
  const main = el("div", "card-main solid");
  const idle = el("p", "card-idle");
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
    setText(idle, words.message(group.waits ? "label.page_idle_waits" : "label.page_idle"));
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

/** Everything else, one level down: its module comes after the first view, for hardly anybody opens it at once. */
function moreTaps(words, hooks) {
  const node = el("details", "more");
  node.append(el("summary", "", words.message("label.page_more")));
  let inside = null;
  const draw = whenOpen(node, (item) => {
    const { moreList } = hooks.below() ?? {};
    if (!moreList) return;
    if (inside === null) node.append((inside = moreList(words, hooks)).node);
    inside.update(item);
  });
  return {
    node,
    update({ group, view, taps }) {
      const waiting = group.stage === "waiting" && !group.halt;
      const take = group.taps.find((tap) => tap.act.do === "take_stations");
      // The choice stands open where nothing is proposed.
      if (waiting && !take) node.open = true;
      draw({ group, view, taps: taps.map((tap) => tapItem(tap, group, view)), waiting, take });
    },
    tick: (now) => node.open && inside?.tick(now),
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
