// What is one level down in a group's card: the other taps, the choice of stations, and all that can be said of clients
// and group.

import { actKey } from "./acts.js";
import { el, keyed, show } from "./dom.js";
import { formPart, formSection } from "./form.js";
import { clientForms, groupForms } from "./forms.js";
import { AT_EASE, papersPart } from "./papers.js";
import { setsSection } from "./sets.js";
import { stationChooser } from "./stations.js";
import { tapBlock } from "./tap_button.js";

/** What is said again and again: it stands before all else that can be said of a client. */
const QUICK = new Set(["set_load", "correct"]);
const isQuick = ({ key }) => QUICK.has(key);

/** Updated, while it can be seen, with `{ group, view, taps, waiting, take }`: the taps as a block takes them, and the proposal. */
export function moreList(words, hooks) {
  const node = el("div");
  const list = el("div", "more-list");
  const chooser = stationChooser(words, hooks.tap);
  const quick = el("div", "more-list");
  const sections = el("div", "sections");
  const papers = papersPart(words, hooks);
  node.append(list, quick, papers.node, chooser.node, sections);
  let parts = [];
  const tick = (now) => parts.forEach((part) => part.tick(now));
  return {
    node,
    update({ group, view, taps, waiting, take }) {
      parts = keyed(list, taps, (item) => actKey(item.tap.act), () => tapBlock(words, hooks));
      tick(hooks.now());
      papers.update(AT_EASE.includes(group.stage) ? null : group);
      if (waiting) chooser.update({ group, view, proposed: take?.act.stations });
      show(chooser.node, waiting);
      // What was done can be corrected after the session too.
      const said = new Map(group.clients.map((c) => [c, group.stage === "finished" ? [] : clientForms(words, c, group, view)]));
      const often = [...said].flatMap(([c, forms]) => forms.filter(isQuick).map((form) => ({ ...form, key: `${form.key}/${c.client}`, title: `${c.name}: ${form.title}` })));
      keyed(quick, often, (form) => form.key, () => formPart(hooks.tap));
      show(quick, often.length > 0);
      const client = (c) => ({ key: c.client, title: c.name, forms: () => said.get(c).filter((form) => !isQuick(form)), client: c, group, view });
      const whole = { key: "group", title: words.message("label.page_group"), forms: () => groupForms(words, group, view) };
      keyed(sections, [...group.clients.map(client), whole], (section) => section.key, ({ client: one }) => (one ? clientSection(words, hooks) : formSection(hooks.tap)));
    },
    tick,
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
