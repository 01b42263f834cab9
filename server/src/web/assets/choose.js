// Which coach are you? Asked once on a phone, then kept.

import { el } from "./dom.js";
import { addressOf } from "./me.js";

/** Draws the question into `parent`. */
export async function chooseCoach(parent, words) {
  const title = el("h1", "", words.message("label.choose_coach"));
  const list = el("ul", "choices");
  parent.replaceChildren(title, list);
  const floor = await loadFloor();
  if (floor === null) {
    parent.append(el("p", "trouble", words.message("label.page_no_floor")));
    return;
  }
  title.before(el("p", "floor", floor.name));
  for (const { key, name } of floor.coaches) {
    const link = el("a", "act choice", name);
    link.href = addressOf(key);
    const item = el("li");
    item.append(link);
    list.append(item);
  }
}

/** The names of the floor, `{ name, coaches, stations }`; null where the server does not say. */
export async function loadFloor() {
  try {
    const answer = await fetch("/floor.json");
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}
