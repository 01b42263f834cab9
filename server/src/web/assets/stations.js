// Which stations a waiting group takes: one choice for each exercise among those that suit, free ones first.

import { button, el, keyed, setText, show } from "./dom.js";

const REASONS = ["client_asked", "safety", "short_of_time", "equipment", "coach_decides"];

/** `take(act)` hears the choice. */
export function stationChooser(words, take) {
  const node = el("div", "chooser");
  const rows = el("div", "chooser-rows");
  let shown = null;
  const go = button("act", () => take(shown.act(chosen())));
  // Others wait: whoever goes before them says why.
  const before = el("label", "chooser-row");
  const why = el("select");
  why.append(new Option("", ""), ...REASONS.map((reason) => new Option(words.message(`reason.${reason}`), reason)));
  before.append(el("span", "", words.message("label.page_take_anyway")), why);
  node.append(rows, before, go);
  let parts = [];

  const chosen = () => parts.map((part) => part.value());

  function update({ group, view, proposed }) {
    shown = {
      act: (stations) => ({
        do: "take_stations",
        group: group.group,
        block: group.block.n - 1,
        stations,
        revision: group.revision,
        ...(why.value && !before.hidden ? { despite: why.value } : {}),
      }),
    };
    show(before, view.groups.some((other) => other.waits && other.group !== group.group));
    const items = offers(group, view.stations, proposed);
    // A choice made by hand is one for this block.
    const key = ({ leg }) => `${group.block.n}/${leg}`;
    parts = keyed(rows, items, key, () => stationSelect(words));
    setText(go, words.message(items.length === 2 ? "label.page_take_both" : "label.page_take"));
    show(go, items.every((item) => item.first !== null));
    show(node, items.length > 0);
  }

  return { node, update, tick() {} };
}

/**
 * For each exercise `{ exercise, leg, lines, first }`: the stations that suit, free ones first, and the one to
 * begin with: the floor's proposal, or else a free one that no other exercise has, or else a free one; null where
 * none is free.
 */
export function offers(group, stations, proposed) {
  const begun = new Set();
  return group.block.exercises.map((exercise, leg) => {
    const suited = new Set(group.suited[leg]);
    const lines = freeFirst(stations.filter((line) => suited.has(line.station)));
    const free = lines.filter(isFree).map((line) => line.station);
    const first = proposed?.[leg] ?? free.find((station) => !begun.has(station)) ?? free[0] ?? null;
    begun.add(first);
    return { exercise, leg, lines, first };
  });
}

const isFree = (line) => line.state === "free";
const freeFirst = (lines) => [...lines.filter(isFree), ...lines.filter((line) => !isFree(line))];

function stationSelect(words) {
  const node = el("label", "chooser-row");
  const title = el("span");
  const select = el("select");
  const none = el("span", "chooser-none");
  node.append(title, select, none);
  let touched = false;
  select.addEventListener("change", () => (touched = true));
  const lineText = (line) => `${line.name}, ${words.say("state", line.state)}`;
  const option = () => {
    const part = el("option");
    return {
      node: part,
      update(line) {
        part.value = String(line.station);
        setText(part, lineText(line));
      },
    };
  };
  return {
    node,
    value: () => Number(select.value),
    update({ exercise, lines, first }) {
      setText(title, words.message("label.page_for", { exercise: words.own(exercise) }));
      const kept = Number(select.value);
      keyed(select, lines, (line) => line.station, option);
      // A choice made by hand stays while it suits; the floor's proposal may move until then.
      touched &&= lines.some((line) => line.station === kept);
      select.value = String(touched ? kept : first);
      show(select, first !== null);
      setText(none, [words.message("label.page_none_free"), lines.map(lineText).join("; ")].join(" "));
      show(none, first === null);
    },
  };
}
