// How to read the strip of a group's time.

import { el } from "./dom.js";
import { stripPart } from "./ribbon.js";

/** A closed section with a sample of each sign. */
export function ribbonLegend(words) {
  const node = el("details", "section");
  const list = el("ul", "more-list legend");
  const part = (message, kind, { leg = 0, is = "to_come", light = false, spotted = false } = {}) => {
    const line = el("li", "legend-line");
    const strip = el("span", "legend-strip");
    const sample = stripPart(kind);
    sample.update({ left: 15, width: 70, leg, light, is, spotted });
    strip.append(sample.node);
    line.append(strip, el("span", "", words.message(message)));
    list.append(line);
  };
  part("label.ribbon_first", "block");
  part("label.ribbon_second", "block", { leg: 1 });
  part("label.ribbon_light", "block", { light: true });
  part("label.ribbon_spotted", "block", { spotted: true });
  part("label.ribbon_window", "window");
  part("label.ribbon_under_way", "block", { is: "under_way" });
  part("label.ribbon_over", "block", { is: "over" });
  part("label.ribbon_done", "block", { is: "done" });
  node.append(el("summary", "", words.message("label.ribbon_how")), list);
  return { node };
}
