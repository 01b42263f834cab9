// The plates of a bar: what is on each side and what to change, in words, and the forms that put it right. Pure.

import { massText, stampedText } from "./text.js";

const stamped = (unit, plates) => plates.map(({ mass }) => stampedText(mass, unit)).join(" + ");

/** `each side 20 + 5; off 2.5, on 5`, or which loads the plates make instead; of a shared rack where the pair is. */
export function platesText(words, load) {
  if (load?.unbuilt) return load.gear === "dumbbells" ? pairText(words, load) : insteadText(words, load);
  if (load?.belt) return beltText(words, load);
  if (load?.rack) return words.message("label.from_rack", { rack: load.rack });
  if (!load?.bar) return "";
  const { side } = load.bar;
  const each = side.length === 0 ? words.message("label.bar_only") : words.message("label.each_side", { plates: stamped(load.unit, side) });
  const other = load.bar.other_bar ? `${words.message("label.other_bar", { bar: massText(words, load.bar.bar, load.unit) })}: ` : "";
  return [other + each, load.confirmed ? "" : handsText(words, load)].filter(Boolean).join("; ");
}

/** How long the change takes, and that sides are loaded in turn; of what is not known to be on, only the latter. */
export function changeNotes(words, load) {
  if (!load?.bar || load.confirmed) return [];
  const { known, strip, add, alone, together } = load.bar;
  const secs = known && alone > 0 ? words.message("label.hands_secs", { alone: String(alone), together: String(together) }) : "";
  const inTurn = !known || strip.length + add.length > 0 ? words.message("label.in_turn") : "";
  return [secs, inTurn].filter(Boolean);
}

function handsText(words, { bar, unit }) {
  const said = (id, plates) => (plates.length === 0 ? "" : words.message(id, { plates: stamped(unit, plates) }));
  if (bar.known) return [said("label.strip", bar.strip), said("label.add", bar.add)].filter(Boolean).join(", ");
  return said("label.strip_all", bar.add) || words.message("label.strip_all_only");
}

/** What the plates that are free make instead. */
export function insteadText(words, { unbuilt, unit }) {
  const [below, above] = [unbuilt.below, unbuilt.above].map((load) => (load === undefined ? "" : massText(words, load, unit)));
  const one = () => (below || above ? words.message("label.unbuilt_one", { load: below || above }) : words.message("label.unbuilt_none"));
  const loads = below && above ? words.message("label.unbuilt", { below, above }) : one();
  const stations = (unbuilt.at ?? []).join(", ");
  return stations ? `${loads}; ${words.message("label.unbuilt_at", { stations })}` : loads;
}

/** The plates that hang on a belt, on top of the body. */
function beltText(words, { belt, unit }) {
  if (belt.length === 0) return words.message("label.body_alone");
  return words.message("label.on_the_belt", { plates: stamped(unit, belt.map((mass) => ({ mass }))) });
}

/** Where a pair of a shared rack is, and the nearest that are free. */
function pairText(words, { unbuilt, unit }) {
  const free = [unbuilt.below, unbuilt.above].filter((load) => load !== undefined).map((load) => massText(words, load, unit));
  const taken = words.message("label.unbuilt_at", { stations: (unbuilt.at ?? []).join(", ") });
  const loads = free.length === 0 ? "" : words.message("label.pairs_free", { loads: free.join(", ") });
  return [words.message("label.pair_out"), taken, loads].filter(Boolean).join("; ");
}

/** What is really on the bar of the coming set, and plates that are not there. */
export function platesForms(words, client, view) {
  const rack = (view.plates ?? []).find((line) => line.station === client.turn?.station);
  if (!rack || rack.kinds.length === 0) return [];
  const { station, unit, kinds } = rack;
  const name = ({ plate }) => `${stamped(unit, [plate])} ${unit}`;
  const number = (field, label, most, value) => ({ name: field, label, kind: "number", least: 0, most, value, step: 1 });
  const each = kinds.map((kind, n) => {
    const label = words.message("label.page_plates_each", { plate: stamped(unit, [kind.plate]), unit });
    return number(`kind-${n}`, label, Math.floor(kind.count / 2), kind.on ?? 0);
  });
  const bars = rack.bars ?? [];
  const barName = ({ mass, name: own }) => [own && words.own(own), massText(words, mass, unit)].filter(Boolean).join(", ");
  const barOptions = bars.map((bar, n) => ({ value: String(n), label: barName(bar), now: n === (rack.bar ?? 0) }));
  const whichBar = bars.length > 1 ? [{ name: "bar", label: words.message("label.page_bar"), kind: "choice", options: barOptions }] : [];
  // The usual bar is what is meant where none is said.
  const bar = (values) => (Number(values.bar ?? 0) > 0 ? { bar: Number(values.bar) } : {});
  // As plates go on a bar: the heaviest inside.
  const side = (values) => kinds.flatMap((kind, n) => Array(Number(values[`kind-${n}`])).fill(kind.plate));
  const options = kinds.map((kind, n) => ({ value: String(n), label: name(kind) }));
  const which = { name: "plate", label: words.message("label.page_plate"), kind: "choice", options };
  const most = Math.max(...kinds.map((kind) => kind.count));
  const count = number("count", words.message("label.page_how_many"), most, 1);
  return [
    { key: "plates_on", title: words.message("act.plates_on"), fields: [...whichBar, ...each], act: (v) => ({ do: "plates_on", station, side: side(v), ...bar(v) }) },
    {
      key: "plates_missing",
      title: words.message("act.plates_missing"),
      fields: [which, count],
      act: (v) => ({ do: "plates_missing", station, plate: kinds[Number(v.plate)].plate, count: Number(v.count) }),
    },
  ];
}
