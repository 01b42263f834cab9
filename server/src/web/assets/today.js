// "Anything different today?", asked of everybody who has come and has not begun: what is said is a note for coaches alone.

import { el, keyed, show } from "./dom.js";
import { writePart } from "./write_down.js";

/** What is often said. Common practice, no source. */
const OFTEN = ["tired", "sore", "hurts", "hurry", "strong"];

/** From coming to the first set. */
const BEFORE = new Set(["warm_up", "briefing", "waiting"]);

/** The clients who are to be asked: they are there, and nothing has been written down about them this evening. Pure. */
export function toAsk(group, view) {
  if (group.coach !== view.me || !BEFORE.has(group.stage)) return [];
  const told = (id) => (view.notes ?? []).some(({ about }) => about.about === "client" && about.client === id);
  return group.clients.filter((one) => one.attendance === "here" && !one.last && !told(one.client));
}

/** Updated with `{ group, view }`; `hooks` are `tap(act)`. */
export function todayPart(words, hooks) {
  const node = el("div", "today");
  const points = OFTEN.map((point) => words.message(`label.today_${point}`));
  let group = null;
  let asked = [];
  const writing = new Map();
  const part = ({ client }) => {
    const write = writePart(words, (id, text) => hooks.tap({ do: "note", note: { about: "client", group, client: id }, text }));
    writing.set(client.client, write);
    return write;
  };
  return {
    node,
    update(item) {
      group = item.group.group;
      const now = toAsk(item.group, item.view);
      // Whoever is being written about stays, though the first set has begun meanwhile.
      const kept = asked.filter((one) => writing.get(one.client).node.open && !now.some(({ client }) => client === one.client));
      asked = [...now, ...kept];
      const write = (client) => ({ client, key: client.client, title: words.message("label.today", { name: client.name }), points });
      keyed(node, asked.map(write), (one) => one.key, part);
      show(node, asked.length > 0);
    },
  };
}
