// Clients and sessions entered on a page: every change is looked at by the server, which finds what it would in a file.

import { chooseCoach } from "./choose.js";
import { button, el, setAttribute, setText } from "./dom.js";
import { whoAmI } from "./me.js";
import { ownerOf, saysSame, toSend } from "./programme_doc.js";
import { fieldsOf } from "./programme_form.js";
import { clientsPart, groupsPart } from "./programme_parts.js";
import { begun, tablePart } from "./programme_table.js";
import { toldPart } from "./programme_told.js";
import { get, post } from "./programme_wire.js";
import { loadCatalogue, writtenText } from "./text.js";

/** A change is looked at when nothing more has been typed for so long, in milliseconds. */
const QUIET = 700;
const DAY = [{ name: "date", kind: "day", label: "label.entry_date" }];

function programmePage(app, words, me, shown) {
  const address = `/coaches/${encodeURIComponent(me)}/programme`;
  const page = {
    words, me, floor: shown.floor, begun: shown.begun, document: structuredClone(shown.programme),
    fields: new Map(), opened: new WeakSet(), live: [], members: [], changed, rebuild, drawn: () => told.drawn(),
  };
  const told = toldPart(page, goTo);
  const source = el("p", "entry-source");
  const day = el("section", "entry-part");
  const parts = el("main", "entry-parts");
  parts.tabIndex = -1;
  const bar = saveBar(words, () => desk.save());
  const desk = sender(page, { address, revision: shown.revision, saved: shown.programme, say: bar.say, told, taken, theirs });
  const table = tablePart(page, { address, revision: desk.revision, isSaved: desk.isSaved, taken: reload });
  app.replaceChildren(topStrip(words, me), source, told.node, day, parts, table.node, bar.node);

  /** Draws all of it anew; whoever has added or removed something goes on at `focus`. */
  function rebuild(focus) {
    page.fields.clear();
    page.live = [];
    day.replaceChildren(fieldsOf(page, DAY, page.document, ""));
    parts.replaceChildren(clientsPart(page), groupsPart(page));
    page.drawn();
    if (focus === undefined) return;
    goTo(focus);
    changed();
  }

  function changed() {
    page.live.forEach((update) => update());
    table.update();
    desk.changed();
  }

  /** Puts the keyboard to a field, or to the nearest thing above it. */
  function goTo(path) {
    if (openAround(page, path)) rebuild();
    const owner = ownerOf(path, page.fields);
    if (owner !== null) page.fields.get(owner).focus();
    else parts.focus();
  }

  /** What was sent is saved: mine, just now, so nobody needs to be told whose it is. */
  function taken(differs) {
    if (differs) setText(source, "");
    table.update();
  }

  /** Somebody else was faster: theirs can be looked at, and nothing is lost before that. */
  function theirs(set) {
    const name = page.floor.coaches.find(({ key }) => key === set?.coach)?.name;
    const text = name ? words.message("label.entry_changed_by", { name, at: whenText(set.when) }) : words.message("label.entry_changed");
    told.offer(text, "label.entry_load_theirs", reload);
    return text;
  }

  /** What there is on the server, instead of what is entered here. */
  async function reload() {
    const next = await get(address);
    if (next === null) return bar.say(words.message("label.entry_unanswered"), true);
    Object.assign(page, { document: structuredClone(next.programme), begun: next.begun });
    desk.restart(next);
    setText(source, sourceText(words, next, page.floor));
    told.mark(null);
    rebuild();
    table.update();
  }

  setText(source, sourceText(words, shown, shown.floor));
  rebuild();
  desk.restart(shown);
  window.addEventListener("beforeunload", (event) => desk.isSaved() || event.preventDefault());
}

/** What is saved, what is sent, and what is said of it. */
function sender(page, { address, revision, saved, say, told, taken, theirs }) {
  const { words } = page;
  let asked = 0;
  let timer = null;
  let line = Promise.resolve();
  const isSaved = () => saysSame(page.document, saved);

  /** One after the other: what is looked at must not overtake what is saved, nor see the revision before it. */
  function send(dryRun) {
    clearTimeout(timer);
    if (!dryRun) say(words.message("label.entry_saving"));
    line = line.then(() => sendNow(dryRun));
  }

  async function sendNow(dryRun) {
    const mine = (asked += 1);
    const programme = toSend(page.document);
    const answer = await post(dryRun ? `${address}?dry-run` : address, JSON.stringify({ revision, programme }));
    if (answer.ok && !dryRun) {
      ({ revision } = answer.body);
      saved = structuredClone(programme);
      taken(answer.body.differs);
    }
    // Something was typed meanwhile: that is looked at next.
    if (mine !== asked) return;
    if (!answer.ok) return refused(answer, dryRun);
    told.mark({ hints: answer.body.hints });
    const id = !answer.body.differs ? "same" : dryRun ? "fine" : "saved";
    say(words.message(`label.entry_${id}`));
  }

  function refused({ status, body }, dryRun) {
    const { type } = body ?? {};
    const left = body?.left_out ?? 0;
    if (type === "/problems/programme") {
      told.mark({ mistakes: body.mistakes, left });
      say(words.message("label.entry_mistakes", { n: String(body.mistakes.length + left) }), true);
    } else if (type === "/problems/in-use") {
      told.mark({ mistakes: body.in_use.map((group) => ({ field: placeOf(page, group), ...begun(group) })), title: "label.entry_in_use" });
      say(words.message("label.entry_in_use"), true);
    } else if (type === "/problems/programme-changed") {
      say(theirs(body.set), true);
    } else {
      const id = type === "/problems/not-saving" ? "not_saving" : status === 413 ? "too_large" : "unanswered";
      return say(words.message(`label.entry_${id}`), true);
    }
    if (!dryRun) told.node.focus();
  }

  return {
    isSaved,
    revision: () => revision,
    save: () => send(false),
    changed() {
      clearTimeout(timer);
      asked += 1;
      say(isSaved() ? words.message("label.entry_as_saved") : "");
      if (isSaved()) told.mark(null);
      else timer = setTimeout(() => send(true), QUIET);
    },
    /** Begins with what the server has. */
    restart(next) {
      clearTimeout(timer);
      asked += 1;
      ({ revision, programme: saved } = next);
      say(words.message("label.entry_as_saved"));
    },
  };
}

/** Opens the sections around a field; says whether any was closed. */
function openAround(page, path) {
  const steps = /^(client|group)\[(\d+)\](?:\.block\[(\d+)\](?:\.exercise\[(\d+)\])?)?/.exec(path);
  if (steps === null) return false;
  const [, list, n, b, e] = steps;
  const thing = page.document[list][n - 1];
  const block = b && thing?.block?.[b - 1];
  const closed = [thing, block, e && block?.exercise?.[e - 1]].filter((one) => one && !page.opened.has(one));
  closed.forEach((one) => page.opened.add(one));
  return closed.length > 0;
}

/** Where a group of this number stands. */
function placeOf(page, group) {
  const place = page.document.group.findIndex((one) => one.number === group);
  return place < 0 ? "" : `group[${place + 1}].number`;
}

function topStrip(words, me) {
  const node = el("header", "top");
  const back = el("a", "act", words.message("label.sheet_back"));
  back.href = `/coach?me=${encodeURIComponent(me)}`;
  node.append(el("h1", "", words.message("label.entry_title")), back);
  return node;
}

function saveBar(words, act) {
  const node = el("footer", "bar");
  const status = el("p", "answer");
  status.setAttribute("role", "status");
  const save = button("act form-go entry-save", act);
  save.textContent = words.message("label.entry_save");
  node.append(status, save);
  return {
    node,
    say(text, bad = false) {
      setAttribute(status, "data-bad", bad ? "yes" : "no");
      setText(status, text);
    },
  };
}

const whenText = (when) => writtenText(document.documentElement.lang, when);

/** Whose word the programme is. */
function sourceText(words, { set }, floor) {
  const name = floor.coaches.find(({ key }) => key === set?.coach)?.name ?? set?.coach;
  return set ? words.message("label.entry_from_coach", { name: name ?? "", at: whenText(set.when) }) : words.message("label.entry_from_file");
}

const app = document.getElementById("app");
const words = await loadCatalogue(document.documentElement.lang);
const me = whoAmI();
if (me === null) await chooseCoach(app, words);
else {
  const shown = await get(`/coaches/${encodeURIComponent(me)}/programme`);
  if (shown === null) app.replaceChildren(el("p", "trouble", words.message("label.page_not_read")));
  else programmePage(app, words, me, shown);
}
