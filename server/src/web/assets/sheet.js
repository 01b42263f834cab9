// What all sheets of paper share: whose they are, the bar above that is not printed, and how their parts look.

import { ask } from "./ask.js";
import { chooseCoach } from "./choose.js";
import { button, el } from "./dom.js";
import { whoAmI } from "./me.js";
import { loadCatalogue } from "./text.js";

/**
 * Asks for a sheet once and draws it; where there is none, says so with the message `none`.
 * `path(asked)` is where to ask, by what the address asks; `draw(words, told, asked)` gives the nodes of the sheets and
 * `links(words, me, asked, told)` those of further links for the bar.
 */
export async function openSheet({ path, none, draw, links = () => [] }) {
  const app = document.getElementById("app");
  const words = await loadCatalogue(document.documentElement.lang);
  const me = whoAmI();
  if (me === null) {
    await chooseCoach(app, words);
    return;
  }
  const asked = new URLSearchParams(location.search);
  const told = await ask(`/coaches/${encodeURIComponent(me)}/${path(asked)}`);
  const bar = el("nav", "sheet-bar");
  bar.append(barLink(words.message("label.sheet_back"), `/coach?me=${encodeURIComponent(me)}`));
  if (told === null) {
    app.replaceChildren(bar, el("p", "trouble", words.message(none)));
    return;
  }
  const print = button("act", () => window.print());
  print.textContent = words.message("label.sheet_print");
  bar.append(print, ...links(words, me, asked, told));
  app.replaceChildren(bar, ...draw(words, told, asked));
}

/** A link of the bar; `now`: it leads to what is shown. */
export function barLink(text, href, now = false) {
  const link = el("a", "act", text);
  link.href = href;
  if (now) link.setAttribute("aria-current", "page");
  return link;
}

/** The head of a sheet: what it is, and beside it whose. */
export function head(title, beside) {
  const node = el("header", "sheet-head");
  node.append(el("h1", "", title), el("p", "", beside));
  return node;
}

/** Rows of `[name, text]`; those without a text are left out. Whole sentences are `plain`. */
export function facts(rows, plain = false) {
  const list = el("dl", plain ? "sheet-facts sheet-plain" : "sheet-facts");
  for (const [name, text] of rows) if (text) list.append(el("dt", "", name), el("dd", "", text));
  return list;
}

/** A part under a heading. */
export function part(title, ...content) {
  const node = el("section", "sheet-part");
  node.append(el("h2", "", title), ...content);
  return node;
}

/** A list of lines; with numbers where their order matters. */
export function lines(texts, ordered = false) {
  const node = el(ordered ? "ol" : "ul", "sheet-list");
  node.append(...texts.map((text) => el("li", "", text)));
  return node;
}

/**
 * A table: `columns` are their titles, each row is a list of texts or nodes, the first of which names the row. On a
 * narrow screen every row stands by itself, each cell with the title of its column.
 */
export function table(columns, rows, className = "sheet-table") {
  const node = el("table", className);
  const top = el("tr");
  top.append(...columns.map((title) => scoped("th", "col", title)));
  const thead = el("thead");
  thead.append(top);
  const body = el("tbody");
  for (const row of rows) {
    const line = el("tr");
    row.forEach((cell, n) => {
      const at = n === 0 ? scoped("th", "row", "") : el("td");
      at.dataset.title = columns[n];
      at.append(cell);
      line.append(at);
    });
    body.append(line);
  }
  node.append(thead, body);
  return node;
}

function scoped(tag, scope, text) {
  const node = el(tag, "", text);
  node.scope = scope;
  return node;
}
