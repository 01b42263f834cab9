// The run sheet: who needs or calls this coach next, where, in how long, and with which load.

import { callRow, callRows } from "./call_row.js";
import { el, keyed, setAttribute, setText, show, whenOpen } from "./dom.js";
import { callText, clash, clashText, eyeText, inOrder, nextText, rowKey, rowRefusal, rowTap, rowWords, underMyEye } from "./needs.js";
import { startText } from "./promise.js";
import { AHEAD, isSoon } from "./signals.js";
import { softNeeds } from "./soft_needs.js";
import { tapBlock, tapItem } from "./tap_button.js";

/** `hooks` are `now()`, `time()`, `tap(act)` and `hear(act, news)`; `goTo(group)` leads to a group's card. Updated with the coach's view. */
export function runSheet(words, hooks, goTo) {
  const node = el("section", "run");
  const title = el("h2", "run-title", words.message("label.page_run"));
  const eyes = el("div", "run-eyes");
  const met = el("p", "run-clash");
  const nobody = el("p", "run-nobody");
  const first = el("ol", "run-rows");
  const later = el("details", "more");
  const summary = el("summary");
  const list = el("ol", "run-list");
  later.append(summary, list);
  const told = el("p", "aside");
  told.setAttribute("role", "status");
  node.append(eyes, title, met, nobody, first, later, told);
  show(node, false);
  let view = null;
  let before;
  let called = null;
  let head = null;
  let overdue = null;
  let [parts, laterParts, eyeParts] = [[], [], []];

  const lines = (parent, rows, head) => {
    const items = rows.map((row) => ({ row, view, first: row === head }));
    return keyed(parent, items, (item) => rowKey(item.row), ({ row }) => (row.call ? callRow(words, hooks) : rowPart(words, hooks, goTo)));
  };
  const drawLater = whenOpen(later, (rows) => {
    laterParts = lines(list, rows);
    laterParts.forEach((part) => part.tick(hooks.now()));
  });

  function update(next) {
    view = next;
    const now = hooks.now();
    const calls = callRows(view);
    // Of what is due at once a load comes before the set that it is for. What is said and only not sent yet is due no more.
    const needs = [...softNeeds(words, view, hooks.time()), ...(view.run_sheet ?? [])].filter((row) => !hooks.kept(rowTap(view, row)?.tap.act));
    const rows = inOrder([...calls, ...needs], now);
    head = rows.first[0] ?? null;
    const seen = underMyEye(view, head);
    eyeParts = keyed(eyes, seen.map((set) => ({ set, view })), ({ set }) => set.turn.turn.client, () => eyePart(words));
    const own = view.groups.filter(({ coach }) => coach === view.me);
    const trains = own.some(({ stage }) => stage !== "finished");
    setText(nobody, words.message(trains ? "label.page_run_nobody" : "label.page_run_over"));
    show(nobody, own.length > 0 && rows.first.length === 0);
    show(title, trains || rows.first.length > 0);
    parts = lines(first, rows.first, rows.first[0]);
    drawLater(rows.later);
    setText(summary, words.message("label.page_run_more", { n: String(rows.later.length) }));
    show(later, rows.later.length > 0);
    show(node, own.length + rows.first.length + seen.length > 0);
    const added = called && calls.find(({ call }) => !called.has(call.call));
    const said = nextText(words, before, rows.first[0], view, now) || (added ? callText(words, added.call) : "");
    if (said) setText(told, said);
    before = rows.first[0] ? rowKey(rows.first[0]) : null;
    overdue = nextEnd(view, now);
    called = new Set(calls.map(({ call }) => call.call));
  }

  function tick(now) {
    if (view === null) return;
    // That a set should be over is said by time alone.
    if (now >= overdue) update(view);
    const text = clashText(words, clash(view.run_sheet ?? [], now), view, hooks.time());
    setText(met, text);
    show(met, text !== "");
    [...parts, ...eyeParts, ...(later.open ? laterParts : [])].forEach((part) => part.tick(now));
  }

  return { node, update, tick, head: () => head };
}

/** One set under my eye, in one line. */
function eyePart(words) {
  const node = el("p", "run-eye");
  const [text, figure] = [el("span", "run-eye-who"), el("span", "run-figure")];
  node.append(text, " ", figure);
  let shown = null;
  return {
    node,
    update(next) {
      shown = next;
    },
    tick(now) {
      const said = eyeText(words, shown.set, shown.view, now);
      setText(text, said.text);
      setText(figure, said.figure);
    },
  };
}

/** When the next set under way should be over. */
function nextEnd(view, now) {
  const ends = view.groups.flatMap(({ clients }) => clients).map(({ turn }) => turn?.phase.ends ?? 0);
  return Math.min(...ends.filter((end) => end > now));
}

/** What is said of a row in its second line. */
const DETAIL = ["mark", "what", "how", "why"];

/** One row: a link to the card of its group. */
function rowPart(words, hooks, goTo) {
  const node = el("li");
  const link = el("a", "run-row");
  // What is first is done here: nobody has to look for its button.
  const does = el("div", "run-do solid");
  node.append(link, does);
  let blocks = [];
  let item = null;
  let refusal = null;
  const cells = Object.fromEntries(["client", "place", "load", ...DETAIL].map((name) => [name, el("span", `run-${name}`)]));
  const [who, count, detail] = ["who", "count", "detail"].map((name) => el("span", `run-${name}`));
  const [lead, figure] = [el("span", "run-lead"), el("span", "run-figure")];
  // Spaces, so that each is read as words of their own.
  who.append(cells.client, " ", cells.place);
  count.append(lead, " ", figure);
  detail.append(...DETAIL.flatMap((name) => [cells[name], " "]));
  link.append(who, " ", count, " ", cells.load, " ", detail);
  let shown = null;
  link.addEventListener("click", (event) => {
    event.preventDefault();
    goTo(shown.turn.group);
  });
  return {
    node,
    update({ row, view, first }) {
      shown = row;
      // What is first is read in one glance between two sets.
      setAttribute(node, "class", first ? "run-first" : null);
      link.href = `#${cardId(row.turn.group)}`;
      setAttribute(link, "data-told", row.soft ? "soft" : row.told ? "yes" : "no");
      const found = first ? rowTap(view, row) : null;
      item = found && tapItem(found.tap, found.group, view);
      const no = first ? rowRefusal(view, row) : null;
      refusal = no && tapItem(no.tap, no.group, view);
      const said = rowWords(words, row, view, hooks.time());
      for (const [name, cell] of Object.entries(cells)) {
        setText(cell, said[name]);
        show(cell, said[name] !== "");
      }
    },
    tick(now) {
      // No button beside a start that is still far: what is told to wait is not to be tapped. What is to be done before a
      // start, or by some time, may be done at once.
      const due = Math.max(item?.tap.from ?? 0, shown.soft ? 0 : shown.start) - now <= AHEAD;
      const items = due ? [item, refusal].filter((one) => one !== null) : [];
      blocks = keyed(does, items, (one) => (one === refusal ? "no" : "do"), () => tapBlock(words, hooks));
      show(does, items.length > 0);
      blocks.forEach((part) => part.tick(now));
      const text = startText(words, shown.start, now, shown.about);
      setAttribute(link, "data-due", dueSince(shown, now));
      // What is heard can be seen too.
      setAttribute(link, "data-soon", isSoon(shown, now) ? "yes" : "no");
      setText(lead, text.lead);
      setText(figure, text.figure);
    },
  };
}

/** From so many floor milliseconds on somebody is late: less than what was told may move by. */
const LATE = 5_000;

function dueSince({ start }, now) {
  if (start === null || now < start) return "no";
  return now - start < LATE ? "yes" : "late";
}

/** The name under which a group's card is found. */
export const cardId = (group) => `group-${group}`;
