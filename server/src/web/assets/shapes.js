// Every phase has a shape of its own beside its colour and word, so that nobody needs to tell colours apart.

const SVG = "http://www.w3.org/2000/svg";

/** Outlines in a box of 24 by 24, filled with the phase's colour. */
const OUTLINES = {
  // A ring: still to come.
  coming: "M12 2a10 10 0 1 0 0 20 10 10 0 0 0 0-20zm0 4a6 6 0 1 1 0 12 6 6 0 0 1 0-12z",
  // A half moon: rest.
  rest: "M12 2a10 10 0 0 1 0 20z M12 2a10 10 0 0 0 0 20v-3a7 7 0 0 1 0-14z",
  // Two chevrons: go over.
  changeover: "M3 3h4l7 9-7 9H3l7-9z M11 3h4l7 9-7 9h-4l7-9z",
  // A diamond: when you are ready.
  ready: "M12 1l11 11-11 11L1 12z",
  // An hourglass: held by something other than time.
  held: "M4 2h16l-6 10 6 10H4l6-10z",
  // Two bars: paused, and a filled octagon: stopped.
  paused: "M4 3h6v18H4z M14 3h6v18h-6z",
  stopped: "M8 2h8l6 6v8l-6 6H8l-6-6V8z",
  // A triangle with a gap: get set.
  get_set: "M12 2l11 20H1z M12 9l-5 9h10z",
  // A full triangle: three, two, one.
  count_in: "M12 2l11 20H1z",
  // A disc: work.
  working: "M12 2a10 10 0 1 1 0 20 10 10 0 0 1 0-20z",
  // A square with a gap below: done?
  assumed: "M2 2h20v20h-7v-4h3V6H6v12h3v4H2z",
  // A cross: all sets done.
  none: "M10 2h4v8h8v4h-8v8h-4v-8H2v-4h8z",
};

/** A shape that can become another: `{ node, update(kind) }`. */
export function shape() {
  const node = document.createElementNS(SVG, "svg");
  node.setAttribute("viewBox", "0 0 24 24");
  node.setAttribute("class", "shape");
  node.setAttribute("aria-hidden", "true");
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("fill-rule", "evenodd");
  node.append(path);
  let shown = null;
  const update = (kind) => {
    if (kind === shown) return;
    shown = kind;
    path.setAttribute("d", OUTLINES[kind] ?? OUTLINES.none);
  };
  return { node, update };
}
