// Where in a programme something is, in words: the path of a field, as the server names it, by the labels of the page. Pure.

import { BLOCK, CLIENT, EXERCISE, GROUP } from "./programme_fields.js";

const section = (name, label, title, of) => ({ name, kind: "section", label, title, of });

/** The fields of a programme, one in the other. */
const TREE = [
  { name: "date", kind: "day", label: "label.entry_date" },
  section("client", "label.entry_clients", clientTitle, CLIENT),
  section("group", "label.entry_groups", ({ words }, group, n) => words.message("label.entry_group_n", { n: String(group?.number ?? n) }), [
    ...GROUP,
    section("block", "label.entry_blocks", ({ words }, _, n) => words.message("label.entry_block", { n }), [
      ...BLOCK,
      section("exercise", "label.entry_exercises", exerciseTitle, EXERCISE),
    ]),
  ]),
];

/** The display name of an exercise, a station or a coach of the floor; its key where there is none. */
export function nameOfKey({ words, floor }, list, key) {
  const name = floor[list].find((one) => one.key === key)?.name ?? key;
  return typeof name === "string" ? name : words.own(name);
}

/** A client by name, or by number where there is no name. */
export const clientOf = ({ words, document }, number) =>
  document.client.find((client) => client.number === number)?.name || words.message("label.entry_client_n", { n: String(number) });

function clientTitle({ words }, client, n) {
  return client?.name || words.message("label.entry_client_n", { n: String(client?.number ?? n) });
}

function exerciseTitle(page, exercise, n) {
  const name = exercise?.use ? nameOfKey(page, "exercises", exercise.use) : "";
  return name ? page.words.message("label.entry_exercise_n", { n, name }) : `${page.words.message("label.entry_exercise")} ${n}`;
}

/** How one step of a path reads; `n` is the place in a list, from 1, as text. */
function stepText(page, spec, value, n) {
  const { words } = page;
  const label = words.message(spec.kind === "pair" ? spec.labels[n === "2" ? 1 : 0] : spec.label);
  if (n === null || spec.kind === "pair") return label;
  const one = value?.[n - 1];
  if (spec.kind === "section") return spec.title(page, one, n);
  if (spec.kind === "members") return clientOf(page, one ?? n);
  if (spec.kind === "rounds") return `${label}, ${words.message("label.entry_round_n", { n })}`;
  const title = one?.client === undefined ? words.message(spec.title, { n }) : clientOf(page, one.client);
  return `${label}, ${title}`;
}

/** `page` has `words`, `floor` and the `document` that the path goes through. Empty for the programme as a whole. */
export function placeText(page, path) {
  let [specs, holder] = [TREE, page.document];
  const told = [];
  for (const [, quoted, bare, n = null] of path.matchAll(/(?:"([^"]*)"|([^.[\]"]+))(?:\[(\d+)\])?/g)) {
    const name = quoted ?? bare;
    const spec = specs?.find((one) => one.name === name);
    told.push(spec ? stepText(page, spec, holder?.[name], n) : nameOfKey(page, "exercises", name));
    holder = n === null ? holder?.[name] : holder?.[name]?.[n - 1];
    specs = spec?.of;
  }
  return told.join(" \u00b7 ");
}
