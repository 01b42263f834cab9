// A group without stations: whether it is too large for one pair, and what stations it could have at which price.

import { names } from "./acts.js";
import { button, el, keyed, setText, show } from "./dom.js";
import { lengthText } from "./phase.js";
import { aboutText } from "./text.js";

const joined = (parts) => parts.filter(Boolean).join(" \u00b7 ");

/** That a group is larger than its rests allow, and who could go together; empty where it is not. Pure. */
export function tooLargeText(words, group) {
  const part = group.too_large;
  if (!part) return "";
  const name = (id) => group.clients.find((client) => client.client === id)?.name ?? words.message("label.a_client");
  const said = words.message("label.page_too_large", { length: lengthText(part.overrun) });
  if (!part.split) return said;
  const [first, second] = part.split.map((half) => half.map(name).join(" + "));
  return `${said} ${words.message("label.page_on_two_pairs", { first, second })}`;
}

/** Lines of `{ key, what, price, title, act }` for what stations a group could have, the best first. Pure. */
export function admissionLines(words, group, view, time) {
  const station = (id) => view.stations.find((line) => line.station === id)?.name ?? words.message("label.a_station");
  const others = (id) => {
    const other = view.groups.find((one) => one.group === id);
    return other ? names(other) : words.message("label.a_group");
  };
  return (group.admissions ?? []).map((part) => {
    const stations = [...new Set(part.stations)].map(station).join(" + ");
    const turns = part.works_in === undefined ? "" : words.message("label.page_admission_with", { group: others(part.works_in) });
    const own = part.overrun > 0 ? words.message("label.page_admission_own", { length: lengthText(part.overrun) }) : "";
    return {
      key: part.stations.join("/"),
      what: joined([words.message("label.page_admission", { stations, at: fromText(words, part.from, time) }), turns]),
      price: joined([priceText(words, part, others), own]),
      title: words.message(part.stations.length === 2 ? "label.page_take_both" : "label.page_take"),
      act: part.act,
    };
  });
}

/** From when, as people say it. */
function fromText(words, from, { now }) {
  if (from <= now) return words.message("label.now");
  return `${words.message("label.page_in_about")} ${aboutText(words, from - now)}`;
}

/** Who would wait longer, and by how much. */
function priceText(words, part, others) {
  const longer = part.longer ?? [];
  if (longer.length === 0) return words.message("label.page_admission_nobody");
  const each = longer.map(({ group, by }) => words.message("label.page_admission_by", { group: others(group), length: lengthText(by) }));
  const more = part.others ? [words.message("label.page_admission_more", { n: String(part.others) })] : [];
  return words.message("label.page_admission_longer", { groups: [...each, ...more].join(", ") });
}

/** Both as a part of a group's card. Updated with `{ group, view }`. */
export function admissionPart(words, hooks) {
  const node = el("div", "proposals");
  const large = el("p", "proposal");
  const list = el("div", "proposals");
  list.setAttribute("role", "group");
  list.setAttribute("aria-label", words.message("label.page_admissions"));
  node.append(large, list);
  return {
    node,
    update({ group, view }) {
      const text = tooLargeText(words, group);
      setText(large, text);
      show(large, text !== "");
      const lines = admissionLines(words, group, view, hooks.time());
      keyed(list, lines, (line) => line.key, () => admissionLine(hooks));
      show(list, lines.length > 0);
      show(node, text !== "" || lines.length > 0);
    },
  };
}

function admissionLine(hooks) {
  const node = el("section", "proposal");
  const [what, price] = ["what", "why"].map((name) => el("p", `proposal-${name}`));
  let act = null;
  const take = button("act", () => hooks.tap(act));
  const row = el("div", "proposal-taps");
  row.append(take);
  node.append(what, price, row);
  return {
    node,
    update(line) {
      act = line.act;
      setText(what, line.what);
      setText(price, line.price);
      setText(take, line.title);
      show(row, line.act !== undefined);
    },
  };
}
