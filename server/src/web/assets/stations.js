// Which stations a waiting group takes: one choice for each exercise, free ones first.

import { button, el, keyed, setText, show } from "./dom.js";

/** `take(act)` hears the choice. */
export function stationChooser(words, take) {
  const node = el("div", "chooser");
  const rows = el("div", "chooser-rows");
  let shown = null;
  const go = button("act", () => take(shown.act(chosen())));
  node.append(rows, go);
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
      }),
    };
    const defaults = proposed ?? firstFree(view.stations, group.block.exercises.length);
    const items = group.block.exercises.map((exercise, leg) => ({ exercise, leg, lines: view.stations, first: defaults[leg] }));
    parts = keyed(rows, items, (item) => item.leg, () => stationSelect(words));
    setText(go, words.message(items.length === 2 ? "label.page_take_both" : "label.page_take"));
    show(node, items.length > 0);
  }

  return { node, update, tick() {} };
}

/** Different free stations where there are enough; the list's first ones where not. */
export function firstFree(lines, wanted) {
  return ordered(lines).slice(0, wanted).map((line) => line.station);
}

const ordered = (lines) => [...lines].sort((a, b) => (a.state !== "free") - (b.state !== "free"));

function stationSelect(words) {
  const node = el("label", "chooser-row");
  const title = el("span");
  const select = el("select");
  node.append(title, select);
  let touched = false;
  select.addEventListener("change", () => (touched = true));
  const option = () => {
    const part = el("option");
    return {
      node: part,
      update(line) {
        part.value = String(line.station);
        setText(part, `${line.name}, ${words.say("state", line.state)}`);
      },
    };
  };
  return {
    node,
    value: () => Number(select.value),
    update({ exercise, lines, first }) {
      setText(title, words.message("label.page_for", { exercise }));
      const kept = select.value;
      keyed(select, ordered(lines), (line) => line.station, option);
      // A choice made by hand stays; the floor's proposal may move until then.
      select.value = touched ? kept : String(first);
    },
  };
}
