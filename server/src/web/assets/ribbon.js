// A group's time as a strip that moves toward a fixed line, which is now: a lane a client, sets as blocks, the way over
// as a narrow gap, a rest as open space with two ticks, its earliest and its latest start. The same picture on every
// display.

import { el, keyed, setAttribute, setText, show } from "./dom.js";
import { instantText } from "./text.js";

/** What is to be seen before the line, and after it, in milliseconds. */
export const BEHIND = 60_000;
export const AHEAD = 300_000;
const SPAN = BEHIND + AHEAD;
/** The strip moves in steps of so much: only the pace of a set moves smoothly. */
const STEP = 2_000;
const MINUTE = 60_000;

/** The patterns: the first exercise, the second, and every further one. */
const PATTERNS = 3;

const percent = (ms) => (ms / SPAN) * 100;

/**
 * What there is to draw of one lane at floor time `now`, in percent of its width from the instant `origin`. Pure.
 * Blocks are `{ key, left, width, leg, light, is, spotted }`; a set that nobody has ended is `over` once it should
 * be, and reaches to now. Windows are `{ key, left, width }`.
 */
export function laneParts(sets, origin, now) {
  const seen = sets.map((set, n) => ({ ...set, key: `${set.round}-${set.leg}-${n}`, until: endOf(set, now) }));
  const blocks = seen.filter(({ from, until }) => inSight(from, until, now));
  const windows = seen.filter(({ window, is }) => window && is === "to_come" && inSight(window.from, window.until, now));
  return {
    blocks: blocks.map(({ key, from, until, leg, round, is, spotted }) => ({
      key,
      left: percent(from - origin),
      width: percent(until - from),
      leg: Math.min(leg, PATTERNS - 1),
      light: round === 0,
      is: is === "under_way" && now >= until ? "over" : is,
      spotted: Boolean(spotted),
    })),
    windows: windows.map(({ key, window }) => ({
      key,
      left: percent(window.from - origin),
      width: percent(window.until - window.from),
    })),
  };
}

/** Nothing ends a set but somebody's word. */
const endOf = ({ is, until }, now) => (is === "under_way" ? Math.max(until, now) : until);

const inSight = (from, until, now) => until > now - BEHIND && from < now + AHEAD;

/** A lane in words, for whoever hears the page: its sets to come and when they are to start. Pure. */
export function laneText(words, { name, ribbon }, exercises, time) {
  const coming = (ribbon ?? []).filter(({ is }) => is === "to_come");
  const said = coming.map(({ leg, from }) => {
    const exercise = exercises[leg] ? words.own(exercises[leg]) : words.message("label.ribbon_exercise", { n: String(leg + 1) });
    return words.message("label.ribbon_set", { exercise, at: instantText(from, time) });
  });
  return `${name}: ${said.join(", ") || words.message("label.ribbon_nothing")}`;
}

/** The strip of a group, hidden while there is nothing on it. `time()` is as for an instant in words. */
export function ribbonPart(words, time) {
  const node = el("div", "ribbon");
  const lanes = el("div", "lanes");
  const scale = scalePart(words);
  node.append(lanes, scale);
  let shown = [];
  let parts = [];
  let drawn = null;
  return {
    node,
    /** `clients` with `client`, `name` and `ribbon`; `exercises` are their names in the block where they are known. */
    update(clients, exercises) {
      shown = clients.filter(({ ribbon }) => ribbon?.length > 0);
      show(node, shown.length > 0);
      const items = shown.map((client) => ({ client, label: laneText(words, client, exercises, time()) }));
      parts = keyed(lanes, items, ({ client }) => client.client, lanePart);
      drawn = null;
    },
    tick(now) {
      const step = Math.floor(now / STEP);
      if (step === drawn) return;
      drawn = step;
      for (const part of parts) part.tick(now);
    },
  };
}

function lanePart() {
  const node = el("div", "lane");
  const name = el("span", "lane-name");
  const strip = el("div", "lane-strip");
  const mover = el("div", "lane-mover");
  const windows = el("div");
  const blocks = el("div");
  mover.append(windows, blocks);
  strip.append(mover);
  strip.setAttribute("role", "img");
  name.setAttribute("aria-hidden", "true");
  node.append(name, strip);
  let sets = [];
  let origin = null;
  return {
    node,
    update({ client, label }) {
      sets = client.ribbon;
      setText(name, client.name);
      setAttribute(strip, "aria-label", label);
    },
    tick(now) {
      origin ??= now;
      const parts = laneParts(sets, origin, now);
      keyed(windows, parts.windows, (part) => part.key, () => stripPart("window"));
      keyed(blocks, parts.blocks, (part) => part.key, () => stripPart("block"));
      mover.style.transform = `translateX(${percent(BEHIND + origin - now)}%)`;
    },
  };
}

/** A block or a window: where it is, and what the style sheet goes by. */
export function stripPart(kind) {
  const node = el("span", kind);
  return {
    node,
    update({ left, width, leg, light, is, spotted }) {
      node.style.left = `${left.toFixed(3)}%`;
      node.style.width = `${width.toFixed(3)}%`;
      if (kind === "window") return;
      setAttribute(node, "data-leg", String(leg));
      setAttribute(node, "data-is", is);
      setAttribute(node, "data-light", light ? "yes" : "no");
      setAttribute(node, "data-spotted", spotted ? "yes" : "no");
    },
  };
}

/** Now, and the minutes after it. */
function scalePart(words) {
  const node = el("div", "lane ribbon-scale");
  const marks = el("div", "scale-marks");
  node.setAttribute("aria-hidden", "true");
  node.append(el("span"), marks);
  for (let at = 0; at < AHEAD; at += MINUTE) {
    const minutes = at / MINUTE;
    const last = at + MINUTE >= AHEAD;
    const text = last ? words.message("label.minutes", { n: `+${minutes}` }) : `+${minutes}`;
    const mark = el("span", "scale-mark", minutes === 0 ? words.message("label.now") : text);
    mark.style.left = `${percent(BEHIND + at)}%`;
    marks.append(mark);
  }
  return node;
}
