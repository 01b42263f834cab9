// Every phase has a shape of its own beside its colour and word, so that nobody needs to tell colours apart.

const SVG = "http://www.w3.org/2000/svg";

/** Outlines in a box of 100 by 100, filled with the phase's colour: those of the displays at the stations. */
const OUTLINES = {
  // A small block: still to come.
  coming: "M30 30H70V70H30z",
  // An open square: rest.
  rest: "M5 5H95V95H5z M23 23V77H77V23z",
  // An arrow: go over.
  changeover: "M5 35H50V8L97 50 50 92V65H5z",
  // A triangle that points ahead: when you are ready.
  ready: "M15 5L95 50 15 95z",
  // An hourglass: held by something other than time.
  held: "M10 5H90L55 50 90 95H10L45 50z",
  // Two bars: paused, and a filled octagon: stopped.
  paused: "M15 5H40V95H15z M60 5H85V95H60z",
  stopped: "M32 3H68L97 32V68L68 97H32L3 68V32z",
  // One chevron: get set, and two: three, two, one.
  get_set: "M25 5L70 50 25 95V65L40 50 25 35z",
  count_in: "M5 5L50 50 5 95V65L20 50 5 35z M50 5L95 50 50 95V65L65 50 50 35z",
  // A full square: work.
  working: "M5 5H95V95H5z",
  // A hollow diamond: done?
  assumed: "M50 2L98 50 50 98 2 50z M50 28L28 50 50 72 72 50z",
  // Three strokes of a cloth.
  wipe_down: "M5 10H95V28H5z M5 41H95V59H5z M5 72H95V90H5z",
  // Head and shoulders: somebody of the public; a cross: do not use; a dash: not there any more.
  other_use: "M38 4H62L73 15V35L62 46H38L27 35V15z M8 96V72L26 54H74L92 72V96z",
  out_of_service: "M5 22L22 5 50 33 78 5 95 22 67 50 95 78 78 95 50 67 22 95 5 78 33 50z",
  gone: "M10 40H90V60H10z",
  // A ring: all sets done.
  none: "M50 5L82 18 95 50 82 82 50 95 18 82 5 50 18 18z M50 25L32 32 25 50 32 68 50 75 68 68 75 50 68 32z",
};

/** A shape that can become another: `{ node, update(kind) }`. */
export function shape() {
  const node = document.createElementNS(SVG, "svg");
  node.setAttribute("viewBox", "0 0 100 100");
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
