// Which coach are you? Asked once on a phone, then kept.

import { el } from "./dom.js";

const ME = "turnabout.me";
/** A key as floor files write it. */
const KEY = /^[a-z][a-z0-9-]{0,31}$/;

/** The coach's key from the address, or the one kept from last time, or null when the page must ask. */
export function whoAmI() {
  const asked = new URLSearchParams(location.search);
  if (asked.has("choose")) return null;
  const me = asked.get("me") ?? localStorage.getItem(ME);
  if (me === null || !KEY.test(me)) return null;
  localStorage.setItem(ME, me);
  if (!asked.has("me")) history.replaceState(null, "", addressOf(me));
  return me;
}

/** This page for a coach. */
function addressOf(key) {
  const asked = new URLSearchParams(location.search);
  asked.delete("choose");
  asked.set("me", key);
  return `${location.pathname}?${asked}`;
}

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
