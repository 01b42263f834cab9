// The sheets of paper of a group: which there are now, and the links to them.

import { el, keyed, setText, show } from "./dom.js";

/** Before anybody has come and when all is over sheets of paper are a tap away on a card, else one level down. */
export const AT_EASE = ["expected", "finished"];

/** The names of the sheets that are of use now: before and during the session what is to come, then what was done. Pure. */
export function papersNow(group) {
  const over = group.stage === "finished";
  const done = over || group.block.n > 1 || group.clients.some((client) => client.last !== undefined);
  return [...(over ? [] : ["briefing", "session"]), ...(done ? ["summary"] : [])];
}

/** Links to them. `hooks.coach` is the coach's key; updated with the group. */
export function papersPart(words, hooks) {
  const node = el("nav", "papers");
  node.setAttribute("aria-label", words.message("label.page_papers"));
  return {
    node,
    update(group) {
      const items = group === null ? [] : papersNow(group).map((name) => ({ name, group: group.group }));
      keyed(node, items, (item) => item.name, () => paperLink(words, hooks));
      show(node, items.length > 0);
    },
  };
}

function paperLink(words, hooks) {
  const node = el("a", "act");
  return {
    node,
    update({ name, group }) {
      setText(node, words.message(`label.sheet_${name}`));
      node.href = `/${name}?group=${group}&me=${encodeURIComponent(hooks.coach)}`;
    },
  };
}
