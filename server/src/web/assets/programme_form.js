// The fields of a programme in the document: each bound to its place, with its label, its form and its mistakes.

import { button, el, setAttribute, setText, show } from "./dom.js";
import { durationOf, moveUp, numberOf, removeMember, roundsOf, roundsText } from "./programme_doc.js";

/**
 * `page` is `{ words, floor, document, fields, opened, live, changed(), drawn(), rebuild(path) }`: `fields` takes each drawn
 * field by its path, `opened` the things whose sections are open, `live` what follows every change. `holder` is what has the field, `path` where that is.
 */
export function fieldsOf(page, specs, holder, path) {
  const node = el("div", "entry-fields");
  for (const spec of specs) node.append(MAKE[spec.kind](page, spec, holder, path ? `${path}.${spec.name}` : spec.name));
  return node;
}

/**
 * A section that stays as it is when all is drawn again. `draw()` gives its content, `title()` its words, which follow
 * what is entered.
 */
export function section(page, thing, title, draw) {
  const node = el("details", "entry-section");
  const summary = el("summary", "", title());
  node.append(summary);
  page.live.push(() => setText(summary, title()));
  let filled = false;
  const fill = () => {
    if (filled) return;
    filled = true;
    node.append(draw());
  };
  node.open = page.opened.has(thing);
  if (node.open) fill();
  node.addEventListener("toggle", () => {
    if (node.open) page.opened.add(thing);
    else page.opened.delete(thing);
    fill();
    page.drawn();
  });
  return node;
}

/** A button that takes something out; it says what, since there are several in sight. */
export function smallButton(page, label, what, act) {
  const node = button("act entry-small", act);
  node.textContent = page.words.message(label, { what });
  return node;
}

/** A button that adds something. */
export function addButton(page, label, act) {
  const node = button("act entry-add", act);
  node.textContent = page.words.message(label);
  return node;
}

const MAKE = {
  text: (page, spec, holder, path) => typed(page, spec, holder, path, { read: (text) => text, show: (value) => String(value ?? "") }),
  number: (page, spec, holder, path) => typed(page, spec, holder, path, { read: numberOf, show: (value) => String(value ?? ""), mode: "numeric" }),
  rounds: (page, spec, holder, path) => typed(page, spec, holder, path, { read: spec.name === "load" ? loadsOf : roundsOf, show: roundsText }),
  duration: (page, spec, holder, path) => typed(page, spec, holder, path, { read: durationOf, show: (value) => String(value ?? "") }),
  day: (page, spec, holder, path) => typed(page, spec, holder, path, { read: (text) => text, show: (value) => value ?? "", type: "date" }),
  time: (page, spec, holder, path) => typed(page, spec, holder, path, { read: (text) => text, show: (value) => value ?? "", type: "time" }),
  flag: flagField,
  choice: (page, spec, holder, path) => chosen(page, spec, holder, path, spec.options.map(([value, label]) => [value, label === null ? value : page.words.message(label)])),
  coach: (page, spec, holder, path) => chosen(page, spec, holder, path, page.floor.coaches.map(({ key, name }) => [key, name])),
  station: (page, spec, holder, path) => chosen(page, spec, holder, path, page.floor.stations.map(({ key, name }) => [key, name])),
  exercise: (page, spec, holder, path) => chosen(page, spec, holder, path, exercises(page)),
  member: (page, spec, holder, path) => chosen(page, spec, holder, path, page.members.map((number) => [number, nameOf(page, number)])),
  pair: pairField,
  table: tableField,
  map: mapField,
  list: listField,
  members: membersField,
};

/** A load is text in every round: `60` without its unit is told about. */
const loadsOf = (text) => (text.includes("/") ? text.split("/").map((part) => part.trim()) : text.trim());

const exercises = (page) => page.floor.exercises.map(({ key, name }) => [key, page.words.own(name)]);

export const exerciseName = (page, key) => exercises(page).find(([other]) => other === key)?.[1] ?? key;

/** A client by name, or by number where the name is not there. */
export const nameOf = (page, number) => page.document.client.find((client) => client.number === number)?.name || String(number);

/** A labelled field with room for its mistakes; `input` is what is focused. */
function framed(page, path, label, input, how) {
  const node = el("div", "entry-field");
  const id = `field-${path}`;
  const mistake = el("p", "entry-mistake");
  mistake.id = `${id}-mistake`;
  show(mistake, false);
  input.id = id;
  const title = el("label", "", label);
  title.htmlFor = id;
  node.append(title, input);
  if (how) {
    const hint = el("p", "entry-how", page.words.message(how));
    hint.id = `${id}-how`;
    node.append(hint);
  }
  node.append(mistake);
  input.setAttribute("aria-describedby", [how && `${id}-how`, mistake.id].filter(Boolean).join(" "));
  page.fields.set(path, {
    focus: () => input.focus(),
    say(texts) {
      setText(mistake, texts.join(" \u00b7 "));
      show(mistake, texts.length > 0);
      setAttribute(input, "aria-invalid", texts.length > 0 ? "true" : null);
    },
    node,
  });
  return node;
}

function typed(page, spec, holder, path, { read, show: text, type = "text", mode }) {
  const input = el("input");
  input.type = type;
  input.autocomplete = "off";
  if (mode) input.inputMode = mode;
  input.value = text(holder[spec.name]);
  input.addEventListener("input", () => {
    holder[spec.name] = read(input.value);
    page.changed();
  });
  return framed(page, path, page.words.message(spec.label), input, spec.how);
}

function chosen(page, spec, holder, path, options) {
  const select = el("select");
  const now = holder[spec.name] ?? "";
  // What is there and no choice any more is shown as it is, and the server says what is wrong with it.
  const known = options.some(([value]) => value === now) ? options : [[now, String(now)], ...options];
  select.append(...known.map(([value, label]) => new Option(label, String(value))));
  select.selectedIndex = known.findIndex(([value]) => value === now);
  select.addEventListener("change", () => {
    holder[spec.name] = known[select.selectedIndex][0];
    page.changed();
  });
  return framed(page, path, page.words.message(spec.label), select, spec.how);
}

function flagField(page, spec, holder, path) {
  const input = el("input");
  input.type = "checkbox";
  input.checked = holder[spec.name] ?? spec.usual;
  input.addEventListener("change", () => {
    // As usual is left out, as people leave it out of a file.
    if (input.checked === spec.usual) delete holder[spec.name];
    else holder[spec.name] = input.checked;
    page.changed();
  });
  const node = framed(page, path, page.words.message(spec.label), input, spec.how);
  node.classList.add("entry-flag");
  return node;
}

/** Two durations in one field. */
function pairField(page, spec, holder, path) {
  const node = el("div", "entry-pair");
  const ends = (holder[spec.name] ??= ["", ""]);
  spec.labels.forEach((label, place) => {
    node.append(typed(page, { ...spec, name: place, label }, ends, `${path}[${place + 1}]`, { read: durationOf, show: (value) => String(value ?? "") }));
  });
  return grouped(page, path, node);
}

/** Something that has no one field of its own, and may be meant by a mistake all the same. */
function grouped(page, path, node) {
  const mistake = el("p", "entry-mistake");
  mistake.tabIndex = -1;
  show(mistake, false);
  node.append(mistake);
  page.fields.set(path, {
    focus: () => mistake.focus(),
    say(texts) {
      setText(mistake, texts.join(" \u00b7 "));
      show(mistake, texts.length > 0);
    },
    node,
  });
  return node;
}

function titled(page, spec) {
  const node = el("fieldset", "entry-group");
  node.append(el("legend", "", page.words.message(spec.label)));
  return node;
}

function tableField(page, spec, holder, path) {
  const node = titled(page, spec);
  node.append(fieldsOf(page, spec.of, (holder[spec.name] ??= {}), path));
  return grouped(page, path, node);
}

/** What is said for some exercises, by the exercise's key. */
function mapField(page, spec, holder, path) {
  const node = titled(page, spec);
  const said = (holder[spec.name] ??= {});
  for (const key of Object.keys(said)) {
    const row = el("div", "entry-row");
    const name = exerciseName(page, key);
    const one = typed(page, { ...spec, name: key }, said, `${path}.${key}`, { read: (text) => text, show: (value) => value });
    setText(one.querySelector("label"), name);
    const remove = smallButton(page, "label.entry_remove_what", name, () => {
      delete said[key];
      page.rebuild(path);
    });
    row.append(one, remove);
    node.append(row);
  }
  const free = exercises(page).filter(([key]) => !Object.hasOwn(said, key));
  node.append(adder(page, `${path}-add`, spec.add, free, (key) => {
    said[key] = "";
    page.rebuild(`${path}.${key}`);
  }));
  return grouped(page, path, node);
}

/** A choice of what to add. */
function adder(page, id, label, options, add) {
  const select = el("select");
  select.id = `field-${id}`;
  const text = page.words.message(label);
  select.append(new Option(`${text}\u2026`, ""), ...options.map(([value, name]) => new Option(name, String(value))));
  select.setAttribute("aria-label", text);
  select.addEventListener("change", () => select.selectedIndex > 0 && add(options[select.selectedIndex - 1][0]));
  show(select, options.length > 0);
  return select;
}

function listField(page, spec, holder, path) {
  const node = titled(page, spec);
  const list = (holder[spec.name] ??= []);
  list.forEach((one, place) => {
    const at = `${path}[${place + 1}]`;
    const title = page.words.message(spec.title, { n: String(place + 1) });
    const part = el("div", "entry-item");
    const remove = smallButton(page, "label.entry_remove_what", title, () => {
      list.splice(place, 1);
      page.rebuild(path);
    });
    part.append(fieldsOf(page, spec.of, one, at), remove);
    node.append(grouped(page, at, part));
  });
  // Of what a client does differently there is one entry a client.
  const members = spec.name === "own" ? page.members.filter((number) => !list.some((own) => own.client === number)) : null;
  const add = addButton(page, spec.add, () => {
    list.push(members === null ? {} : { client: members[0] });
    page.rebuild(`${path}[${list.length}].${spec.of[0].name}`);
  });
  show(add, members === null || members.length > 0);
  node.append(add);
  return grouped(page, path, node);
}

/** The clients of a group, in the order in which they go. */
function membersField(page, spec, holder, path) {
  const node = titled(page, spec);
  const list = holder[spec.name];
  const rows = el("ol", "entry-members");
  list.forEach((number, place) => {
    const row = el("li", "entry-row");
    const name = nameOf(page, number);
    row.append(el("span", "entry-member", name));
    if (place > 0) {
      const up = button("act entry-small", () => {
        moveUp(list, place);
        page.rebuild(path);
      });
      up.textContent = "\u2191";
      up.setAttribute("aria-label", page.words.message("label.entry_up_what", { what: name }));
      row.append(up);
    }
    row.append(smallButton(page, "label.entry_remove_what", name, () => {
      removeMember(holder, number);
      page.rebuild(path);
    }));
    rows.append(grouped(page, `${path}[${place + 1}]`, row));
  });
  node.append(rows);
  const others = page.document.client.filter((client) => !list.includes(client.number));
  const add = adder(page, `${path}-add`, "label.entry_add_member", others.map((client) => [client.number, nameOf(page, client.number)]), (number) => {
    list.push(number);
    page.rebuild(path);
  });
  show(add, others.length > 0 && list.length < page.floor.limits.group_clients);
  node.append(add);
  return grouped(page, path, node);
}
