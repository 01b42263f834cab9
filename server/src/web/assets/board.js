// The wall board in a browser: every group at a glance, for everyone to read from metres away.

import { names } from "./acts.js";
import { el, keyed, setAttribute, setText, show } from "./dom.js";
import { everyTick, topStrip } from "./frame.js";
import { helpPanel } from "./help.js";
import { Link } from "./link.js";
import { loadCatalogue } from "./text.js";
import { turnLine } from "./turn_line.js";

/** Groups that stand side by side at full size, and those that do at a somewhat smaller one. */
const [FEW, SOME] = [3, 4];

function boardPage(app, words) {
  let parts = [];
  const trouble = el("p", "trouble");
  show(trouble, false);
  const link = new Link({
    role: { is: "board" },
    topic: "board",
    on: {
      view: update,
      news: () => {},
      fault: (fault) => {
        setText(trouble, words.say("fault", fault));
        show(trouble, true);
      },
    },
  });
  const top = topStrip(words, link);
  const help = helpPanel(words);
  help.update(null);
  const groups = el("main", "groups");
  const stations = el("ul", "stations");
  stations.setAttribute("aria-label", words.message("label.page_stations"));
  app.replaceChildren(top.node, trouble, help.node, groups, stations);

  function update(view) {
    show(trouble, false);
    top.update(view.floor);
    help.update(view.help);
    const cards = view.groups.filter((g) => g.stage !== "finished").map((group) => ({ group, view }));
    // A wall cannot be scrolled: with more than one row of groups everything gets smaller.
    setAttribute(groups, "data-many", cards.length <= FEW ? "few" : cards.length <= SOME ? "some" : "many");
    keyed(stations, view.stations, (line) => line.station, () => stationLine(words));
    parts = [help, ...keyed(groups, cards, (card) => card.group.group, () => groupPart(words))];
    tick();
  }

  const tick = everyTick(link, top.tick, (now) => parts.forEach((part) => part.tick(now)));
  link.start();
}

function groupPart(words) {
  const node = el("section", "card");
  const stage = el("p", "card-stage");
  const lines = el("ul", "lines");
  node.append(stage, lines);
  let parts = [];
  return {
    node,
    update({ group, view }) {
      setAttribute(node, "aria-label", names(group));
      setText(stage, words.say("stage", group.stage));
      const clients = group.clients.map((client) => ({ client, group, view }));
      parts = keyed(lines, clients, (c) => c.client.client, () => turnLine(words, { brief: true }));
    },
    tick: (now) => parts.forEach((part) => part.tick(now)),
  };
}

function stationLine(words) {
  const node = el("li", "station");
  const name = el("strong");
  const state = el("span");
  node.append(name, state);
  return {
    node,
    update(line) {
      setAttribute(node, "data-state", line.state);
      setText(name, line.name);
      setText(state, words.say("state", line.state));
    },
  };
}

const app = document.getElementById("app");
boardPage(app, await loadCatalogue(document.documentElement.lang));
