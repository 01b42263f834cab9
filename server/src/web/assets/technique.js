// What a coach sees while a client lifts, written down by short taps: the exercise's own points of set-up, and what can
// be said of every exercise.

import { ask } from "./ask.js";
import { el, keyed } from "./dom.js";
import { writePart } from "./write_down.js";

/** What can be said of every exercise. Common practice, no source. */
const ALWAYS = ["clean", "tempo", "range", "even", "breathing"];

/** The taps at which somebody watches a set, or has just watched one. */
const WATCHED = new Set(["done", "pass_technique"]);

/** The client whose set the coach has in view, and that set, by the expected tap; null where there is none. Pure. */
export function watched(group, tap) {
  if (!tap || !WATCHED.has(tap.act.do)) return null;
  const client = group.clients.find((one) => one.client === tap.act.turn.client);
  return client ? { client, turn: tap.act.turn } : null;
}

/** The points of a set in the page's language; `briefing` is the group's sheet, null while it is not there. Pure. */
export function techniquePoints(words, { client, turn }, briefing) {
  // Of an exercise that one client does instead the sheet of the group may say nothing.
  const block = client.in_place_of ? null : briefing?.blocks[0];
  const own = block?.exercises[turn.leg]?.set_up ?? [];
  return [...ALWAYS.map((point) => words.message(`label.technique_${point}`)), ...own.map((point) => words.own(point).replace(/\.$/, ""))];
}

/** Updated with a group and the tap that is expected of it. `hooks` are `tap(act)` and `coach`, the coach's key. */
export function techniquePart(words, hooks) {
  const node = el("div");
  let sheet = null;
  let now = null;
  let write = null;
  const part = () => {
    write = writePart(words, (key, text) => hooks.tap({ do: "note", note: { about: "set", turn: JSON.parse(key) }, text }));
    write.node.addEventListener("toggle", () => (write.node.open ? read() : draw()));
    return write;
  };

  /** Once for each block: what the sheet says stays as it is. */
  async function read() {
    const { group, n } = now;
    if (sheet?.group === group && sheet.n === n) return;
    const told = await ask(`/coaches/${encodeURIComponent(hooks.coach)}/groups/${group}/briefing`);
    if (told === null) return;
    sheet = { group, n, told };
    draw();
  }

  function draw() {
    const { group, n, seen } = now;
    const told = sheet?.group === group && sheet.n === n ? sheet.told : null;
    const title = seen && words.message("label.technique_of", { name: seen.client.name });
    const items = seen ? [{ key: JSON.stringify(seen.turn), title, points: techniquePoints(words, seen, told) }] : [];
    // What is being written stays, whatever is expected by then.
    if (items.length === 0 && write?.isWriting()) return;
    keyed(node, items, () => "write", part);
  }

  return {
    node,
    update(group, tap) {
      now = { group: group.group, n: group.block.n, seen: watched(group, tap) };
      draw();
    },
  };
}
