// What is asked of the server once, beside the view: a section that asks when it is opened.

import { el, setText, show } from "./dom.js";

/** The answer to a question, or null where there is none. */
export async function ask(path) {
  try {
    const answer = await fetch(path);
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}

/**
 * A closed section whose content is asked for when somebody opens it, and again while it stays open whenever
 * `refresh()` is called. One question is on its way at a time, however often that is.
 */
export function askedSection(words, { path, draw }) {
  const node = el("details", "section");
  const summary = el("summary");
  const body = el("div", "asked");
  const trouble = el("p", "asked-trouble", words.message("label.page_not_read"));
  show(trouble, false);
  node.append(summary, body, trouble);
  let asking = false;
  let again = false;

  async function load() {
    if (asking) {
      again = true;
      return;
    }
    asking = true;
    const told = await ask(path());
    asking = false;
    if (again) {
      again = false;
      return load();
    }
    show(trouble, told === null);
    if (told !== null) draw(body, told);
  }

  node.addEventListener("toggle", () => node.open && load());
  return {
    node,
    title: (text) => setText(summary, text),
    refresh: () => node.open && load(),
  };
}
