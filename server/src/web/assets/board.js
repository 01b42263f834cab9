// The wall board in a browser: every group at a glance, for everyone to read from metres away.

import { names, stationText } from "./acts.js";
import { el, keyed, setAttribute, setText, show } from "./dom.js";
import { everyTick, topStrip } from "./frame.js";
import { BOARD } from "./hello.js";
import { helpPanel } from "./help.js";
import { Link } from "./link.js";
import { ribbonPart } from "./ribbon.js";
import { loadCatalogue } from "./text.js";
import { turnLine } from "./turn_line.js";

/** From the largest letters to the smallest: a wall cannot be scrolled, so what does not fit gets smaller. */
const SIZES = ["few", "some", "many", "most"];
/** Lines of what has happened: more are not read in passing. */
const NEWS = 3;

/** How long, in floor milliseconds, something is told: as `TOLD_FOR` of the protocol. */
const TOLD_FOR = 600_000;
/** Narrower than this is no wall, and can be scrolled. */
const WALL = 900;

function boardPage(app, words) {
  let parts = [];
  let told = [];
  let zoneOffset = 0;
  const trouble = el("p", "trouble");
  show(trouble, false);
  const link = new Link({
    ...BOARD,
    on: {
      view: update,
      news: () => {},
      fault: (fault) => {
        setText(trouble, words.say("fault", fault));
        show(trouble, true);
      },
    },
  });
  const time = () => ({ now: link.now(), rate: link.rate, zoneOffset, wall: Date.now() });
  const top = topStrip(words, link);
  const help = helpPanel(words);
  help.update(null);
  const news = el("section", "news");
  news.setAttribute("aria-label", words.message("label.happened"));
  const groups = el("main", "groups");
  const stations = el("ul", "stations");
  stations.setAttribute("aria-label", words.message("label.page_stations"));
  app.replaceChildren(top.node, trouble, help.node, groups, news, stations);

  function update(view) {
    show(trouble, false);
    zoneOffset = view.zone_offset;
    top.update(view.floor);
    help.update(view.help);
    const cards = view.groups.filter((g) => g.stage !== "finished").map((group) => ({ group, view }));
    told = (view.happened ?? []).slice(0, NEWS);
    parts = [
      help,
      ...keyed(groups, cards, (card) => card.group.group, () => groupPart(words, time)),
      ...keyed(news, told, newsKey, () => newsLine(words)),
      ...keyed(stations, view.stations, (line) => line.station, () => stationLine(words)),
    ];
    tick();
    fit();
  }

  function fit() {
    for (const size of innerWidth < WALL ? SIZES.slice(0, 1) : SIZES) {
      setAttribute(groups, "data-many", size);
      if (document.documentElement.scrollHeight <= innerHeight) return;
    }
  }
  addEventListener("resize", fit);

  const tick = everyTick(link, top.tick, (now) => {
    parts.forEach((part) => part.tick(now));
    show(news, told.some((part) => isTold(part, now)));
  });
  link.start();
}

function groupPart(words, time) {
  const node = el("section", "card");
  const stage = el("p", "card-stage");
  const lines = el("ul", "lines");
  const ribbon = ribbonPart(words, time);
  node.append(stage, lines, ribbon.node);
  let parts = [];
  return {
    node,
    update({ group, view }) {
      setAttribute(node, "aria-label", names(group));
      setText(stage, stageText(words, group));
      const clients = group.clients.map((client) => ({ client, group, view }));
      parts = keyed(lines, clients, (c) => c.client.client, () => turnLine(words, time, { brief: true }));
      ribbon.update(group.clients, []);
    },
    tick: (now) => [...parts, ribbon].forEach((part) => part.tick(now)),
  };
}

/** Where a group stands, its place in the wait list, and whose it is. */
function stageText(words, group) {
  const waits = group.place ? words.message("label.wait_place", { n: String(group.place) }) : words.say("stage", group.stage);
  return [waits, words.message("label.coached_by", { name: group.coach })].join(" \u00b7 ");
}

/** The same happening twice is two. */
const newsKey = (part) => `${part.at} ${JSON.stringify(part.what)}`;

/** Whether it is recent enough to be told. */
const isTold = (part, now) => now - part.at < TOLD_FOR;

/** Something that has just happened. */
function newsLine(words) {
  const node = el("p", "news-line");
  const when = el("span", "news-ago");
  const what = el("span");
  node.append(when, what);
  let part = null;
  return {
    node,
    update(next) {
      part = next;
      setText(what, happenedText(words, part.what));
    },
    tick(now) {
      show(node, isTold(part, now));
      const minutes = Math.floor((now - part.at) / 60_000);
      const ago = minutes > 0 ? words.message("label.minutes_ago", { n: String(minutes) }) : words.message("label.just_now");
      setText(when, ago);
    },
  };
}

function happenedText(words, what) {
  const named = what.happened === "spotter_helped" ? { spotter: words.message("label.a_spotter"), ...what } : what;
  const argument = (name, value) => {
    if (name === "defect") return words.message(`defect.${value}`);
    // An exercise has a name in every language.
    return typeof value === "object" && value !== null ? words.own(value) : String(value);
  };
  const text = words.say("happened", named, argument);
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function stationLine(words) {
  const node = el("li", "station");
  const name = el("strong");
  const state = el("span");
  node.append(name, state);
  let line = null;
  return {
    node,
    update(next) {
      line = next;
      setAttribute(node, "data-state", line.state);
      setText(name, line.name);
    },
    tick: (now) => setText(state, stationText(words, line, now)),
  };
}

const app = document.getElementById("app");
boardPage(app, await loadCatalogue(document.documentElement.lang));
