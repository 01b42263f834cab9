// The coach page: a call for help first, then who needs the coach next, then one card a group.

import { newsWords } from "./acts.js";
import { callHint } from "./call_row.js";
import { groupCard } from "./card.js";
import { el, keyed, setAttribute, setText, show } from "./dom.js";
import { ASKED_FOR, Doubts } from "./doubts.js";
import { keepFocus } from "./focus.js";
import { everyTick, topStrip } from "./frame.js";
import { ofCoach } from "./hello.js";
import { helpPanel } from "./help.js";
import { Link } from "./link.js";
import { whoAmI } from "./me.js";
import { needHint } from "./need_hint.js";
import { twiceButton } from "./tap_button.js";
import { cardId, runSheet } from "./run_sheet.js";
import { Senses } from "./senses.js";
import { Signals, spoken } from "./signals.js";
import { sureButton } from "./sure.js";
import { loadCatalogue } from "./text.js";
import { undoButton } from "./undo.js";

/** Stopping everybody takes a second tap within this. */
const SECOND_TAP = 3000;

function coachPage(app, words, me) {
  let view = null;
  let parts = [];
  let answered = 0;
  let [below, foot] = [null, null];
  const answers = answerLine();
  const time = () => ({ now: link.now(), rate: link.rate, zoneOffset: view.zone_offset, wall: Date.now() });
  const hear = (act, news, id) => {
    if (view === null) return;
    undo.hear(act, news, id, view);
    sure.hear(act, news, view);
    if (act.do === "erase_note" && news.is === "answer") foot?.refresh();
    const { text, bad } = newsWords(words, act, news, view, time(), undo.names(act));
    answers.say(text, bad);
    if (news.is === "answer") answered += 1;
    if (news.is === "answer" || news.is === "kept") update();
  };
  const link = new Link({
    ...ofCoach(me),
    on: {
      view: (next) => {
        view = next;
        update();
      },
      news: hear,
      fault: (fault) => answers.say(words.say("fault", fault), true),
    },
  });
  const undo = undoButton(words, (act) => link.tap(act));
  const sure = sureButton(words, (act) => link.tap(act), () => link.now() ?? 0);
  const doubts = new Doubts();
  const hooks = {
    now: () => link.now() ?? 0,
    tap(act) {
      if (link.keeps(act)) return hear(act, { is: "kept" });
      const secs = doubts.about(act, view, link.now() ?? 0);
      if (secs === null) return link.tap(act);
      return answers.say(words.message("label.page_too_soon", { n: String(secs) }), true, ASKED_FOR);
    },
    kept: (act) => link.keeps(act),
    hear,
    tell: (text) => answers.say(text, true),
    erases: (note) => undo.erases(note),
    time,
    answers: () => answered,
    coach: me,
    below: () => below,
  };

  const top = topStrip(words, link);
  const help = helpPanel(words, hooks);
  help.update(null);
  const run = runSheet(words, hooks, (group) => goTo(cardId(group)));
  const hint = callHint(words, () => run.node.scrollIntoView({ block: "start" }));
  const due = needHint(words, run);
  const groups = el("main", "groups");
  const none = el("p", "card-idle", words.message("label.page_no_groups"));
  show(none, false);
  const head = el("div", "head");
  head.append(top.node, help.node);
  const senses = new Senses();
  const signals = new Signals();
  app.replaceChildren(head, run.node, groups, none, bar(words, hooks, answers, [hint, due, undo, sure]));

  function update() {
    top.update(view.floor);
    drawMe(words, top.who, view);
    help.update(view.help);
    run.update(view);
    hint.update(view);
    due.update(view);
    const over = ({ stage }) => stage === "finished";
    // Who is done stands in nobody's way.
    const cards = [...view.groups.filter((group) => !over(group)), ...view.groups.filter(over)].map((group) => ({ group, view }));
    parts = [
      help,
      run,
      ...keyed(groups, cards, (card) => card.group.group, () => groupCard(words, hooks)),
    ];
    foot?.update(view);
    show(none, cards.length === 0);
    tick();
    if (below === null) loadBelow();
  }

  /** Where it does not come, the next view asks again. */
  async function loadBelow() {
    below = undefined;
    // The first look is drawn before anything else is asked for.
    await new Promise((drawn) => requestAnimationFrame(() => setTimeout(drawn)));
    below = await import("./below.js").catch(() => null);
    if (below === null) return;
    foot = below.footPart(words, hooks, senses);
    none.after(foot.node);
    update();
  }

  const focusKept = keepFocus(app);
  const tick = everyTick(link, top.tick, (now) => {
    [...parts, due, undo, sure].forEach((part) => part.tick(now));
    focusKept();
    if (view === null) return;
    for (const signal of signals.due(view, now, performance.now())) senses.give(signal.kind, spoken(words, signal, view, now));
  });
  link.start();
}

/** Shows a card and puts the keyboard there. */
function goTo(id) {
  const card = document.getElementById(id);
  if (card === null) return;
  card.focus({ preventScroll: true });
  card.scrollIntoView({ block: "start" });
}

function drawMe(words, who, view) {
  const name = view.coaches.find((line) => line.coach === view.me)?.name ?? "";
  if (who.dataset.name === name) return;
  who.dataset.name = name;
  const other = el("a", "", words.message("label.page_another_coach"));
  other.href = "/coach?choose";
  who.replaceChildren(el("strong", "", name), other);
}

/** So long, in milliseconds, an answer is worth its place: good news as long as it can be taken back. */
const TOLD_FOR = { good: 12_000, bad: 30_000 };

/** What became of the last tap, read out by a screen reader. */
function answerLine() {
  const node = el("p", "answer");
  node.setAttribute("role", "status");
  let over = null;
  return {
    node,
    say(text, bad, told = bad ? TOLD_FOR.bad : TOLD_FOR.good) {
      setAttribute(node, "data-bad", bad ? "yes" : "no");
      setText(node, text);
      clearTimeout(over);
      over = setTimeout(() => setText(node, ""), told);
    },
  };
}

function bar(words, hooks, answers, offers) {
  const node = el("footer", "bar");
  const stop = twiceButton("act stop", {
    first: words.message("label.page_stop_floor"),
    second: words.message("label.page_again"),
    within: SECOND_TAP,
    act: () => hooks.tap({ do: "stop", scope: { scope: "floor" } }),
    tell: (text) => answers.say(text, true),
  });
  node.append(answers.node, ...offers.map((offer) => offer.node), stop);
  return node;
}

/** Not awaited by the module itself: what it asks for later can only come when this module is done. */
async function open(app) {
  const words = await loadCatalogue(document.documentElement.lang);
  const me = whoAmI();
  if (me !== null) coachPage(app, words, me);
  else (await import("./choose.js")).chooseCoach(app, words);
}

open(document.getElementById("app"));
