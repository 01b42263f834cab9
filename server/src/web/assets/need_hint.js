// Who needs the coach next, in the bar, while the page is scrolled to something else.

import { comingButton } from "./act_button.js";
import { setText } from "./dom.js";
import { placeText } from "./needs.js";
import { startText } from "./promise.js";
import { AHEAD } from "./signals.js";

/** `{ who, at }` of a row that is due or soon will be; null while there is time, and of a call, which has a hint of its own. Pure. */
export function hintText(words, view, row, now) {
  if (row === null || row.call || row.start === null || row.start - now > AHEAD) return null;
  const { lead, figure } = startText(words, row.start, now, row.about);
  return { who: [row.client, placeText(view, row)].filter(Boolean).join(" \u00b7 "), at: `${lead} ${figure}` };
}

/** The same as a button that leads to the sheet, while the `sheet`'s node is out of sight. */
export function needHint(words, sheet) {
  const hint = comingButton("act need-hint", () => sheet.node.scrollIntoView({ block: "start" }));
  let view = null;
  let inSight = true;
  new IntersectionObserver(([{ isIntersecting }]) => {
    inSight = isIntersecting;
  }).observe(sheet.node);
  return {
    node: hint.node,
    update(next) {
      view = next;
    },
    tick(now) {
      const said = view === null || inSight ? null : hintText(words, view, sheet.head(), now);
      hint.show(said !== null);
      if (said) setText(hint.node, `${said.who}  ${said.at}`);
    },
  };
}
