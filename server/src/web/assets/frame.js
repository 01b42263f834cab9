// What coach page and board have around their content: the floor's name, and how fresh what is shown is.

import { el, setAttribute, setText } from "./dom.js";
import { lengthText } from "./phase.js";

/** A countdown shows seconds; four looks a second keep every display on the same one. */
const EVERY = 250;

/** The top strip: `update(floor, who)`, and `tick()` by the link. */
export function topStrip(words, link) {
  const node = el("header", "top");
  const title = el("h1", "", words.message("label.connecting"));
  const who = el("p", "who");
  const state = el("p", "link-state");
  // What is read out does not count.
  const told = el("p", "aside");
  told.setAttribute("role", "status");
  node.append(title, who, state, told);
  let before = null;
  return {
    node,
    who,
    update: (floor) => setText(title, floor),
    tick() {
      const lost = link.lostFor();
      setAttribute(node, "data-link", lost === null ? "there" : "lost");
      // That a page begins without a link is no news.
      const is = lost === null ? "page_linked" : before && "page_link_lost";
      if (before && is !== before) setText(told, words.message(`label.${is}`));
      before = is;
      setText(state, lost === null ? words.message("label.page_linked") : lostText(words, lost, link.waiting));
    },
  };
}

function lostText(words, lost, waiting) {
  const ago = words.message("label.ago", { at: lengthText(Math.floor(lost / 1000)) });
  const said = words.message("label.lost", { at: ago });
  return waiting > 0 ? `${said} \u00b7 ${words.message("label.page_waiting", { n: String(waiting) })}` : said;
}

/** Calls `draw(now)` four times a second with floor time, once there is one. */
export function everyTick(link, always, draw) {
  const tick = () => {
    always();
    const now = link.now();
    if (now !== null) draw(now);
  };
  setInterval(tick, EVERY);
  return tick;
}
