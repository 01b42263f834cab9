// The clients and sessions of a programme: a section each, closed until somebody opens it.

import { el, setText, show } from "./dom.js";
import { newBlock, newClient, newExercise, newGroup, removeClient } from "./programme_doc.js";
import { BLOCK, CLIENT, EXERCISE, GROUP } from "./programme_fields.js";
import { addButton, exerciseName, fieldsOf, nameOf, section, smallButton } from "./programme_form.js";
import { lengthText } from "./phase.js";
import { blockCost } from "./rest_cost.js";

/** All clients, and a button for one more. */
export function clientsPart(page) {
  const { words, document, floor } = page;
  const node = el("section", "entry-part");
  node.append(el("h2", "", words.message("label.entry_clients")));
  document.client.forEach((client, place) => {
    const name = () => client.name || words.message("label.entry_new_client");
    const title = () => words.message("label.entry_client_of", { name: name(), n: String(client.number ?? "") });
    const path = `client[${place + 1}]`;
    node.append(section(page, client, title, () => {
      const body = el("div", "entry-body");
      const remove = smallButton(page, "label.entry_remove_what", name(), () => {
        removeClient(document, client, page.begun);
        page.rebuild("client");
      });
      body.append(fieldsOf(page, CLIENT, client, path), remove);
      return body;
    }));
  });
  node.append(addButton(page, "label.entry_add_client", () => {
    const client = newClient(document, floor.limits.number);
    document.client.push(client);
    page.opened.add(client);
    page.rebuild(`client[${document.client.length}].name`);
  }));
  show(node.lastChild, document.client.length < floor.limits.clients);
  return node;
}

/** All sessions, and a button for one more. */
export function groupsPart(page) {
  const { words, document, floor } = page;
  const node = el("section", "entry-part");
  node.append(el("h2", "", words.message("label.entry_groups")));
  document.group.forEach((group, place) => node.append(groupSection(page, group, `group[${place + 1}]`)));
  node.append(addButton(page, "label.entry_add_group", () => {
    const keys = floor.exercises.map((exercise) => exercise.key);
    const group = newGroup(document, { coach: page.me, keys, most: floor.limits.number });
    document.group.push(group);
    [group, ...group.block, ...group.block[0].exercise].forEach((thing) => page.opened.add(thing));
    page.rebuild(`group[${document.group.length}].number`);
  }));
  show(node.lastChild, document.group.length < floor.limits.groups);
  return node;
}

function groupSection(page, group, path) {
  const { words, floor } = page;
  const names = () => group.clients.map((number) => nameOf(page, number)).join(", ") || words.message("label.entry_nobody");
  const title = () => words.message("label.entry_group_of", { n: String(group.number ?? ""), names: names() });
  const begun = page.begun.includes(group.number);
  const node = section(page, group, title, () => {
    const body = el("fieldset", "entry-body");
    page.members = group.clients;
    body.append(fieldsOf(page, GROUP, group, path));
    group.block.forEach((block, place) => body.append(blockSection(page, group, block, place, `${path}.block[${place + 1}]`)));
    const add = addButton(page, "label.entry_add_block", () => {
      const block = newBlock(floor.exercises.map((exercise) => exercise.key));
      group.block.push(block);
      [block, ...block.exercise].forEach((thing) => page.opened.add(thing));
      page.rebuild(`${path}.block[${group.block.length}].rounds`);
    });
    show(add, group.block.length < floor.limits.blocks);
    const remove = smallButton(page, "label.entry_remove_what", title(), () => {
      page.document.group = page.document.group.filter((one) => one !== group);
      page.rebuild("group");
    });
    body.append(add, remove);
    body.disabled = begun;
    return body;
  });
  if (begun) node.append(el("p", "entry-begun", words.message("label.entry_begun")));
  return node;
}

function blockSection(page, group, block, place, path) {
  const { words, floor } = page;
  const title = () => words.message("label.entry_block", { n: String(place + 1) });
  return section(page, block, title, () => {
    const body = el("div", "entry-body");
    const cost = costPart(page, block);
    body.append(fieldsOf(page, BLOCK, block, path), cost);
    page.members = group.clients;
    block.exercise.forEach((exercise, n) => body.append(exerciseSection(page, group, block, exercise, n, `${path}.exercise[${n + 1}]`)));
    const add = addButton(page, "label.entry_add_exercise", () => {
      const exercise = newExercise(floor.exercises[0].key);
      block.exercise.push(exercise);
      page.opened.add(exercise);
      page.rebuild(`${path}.exercise[${block.exercise.length}].use`);
    });
    show(add, block.exercise.length < floor.limits.exercises);
    const remove = smallButton(page, "label.entry_remove_what", title(), () => {
      group.block.splice(place, 1);
      page.rebuild(path);
    });
    body.append(add, remove);
    return body;
  });
}

function exerciseSection(page, group, block, exercise, place, path) {
  const { words } = page;
  const title = () => words.message("label.entry_exercise_n", { n: String(place + 1), name: exerciseName(page, exercise.use) });
  return section(page, exercise, title, () => {
    const body = el("div", "entry-body");
    page.members = group.clients;
    const remove = smallButton(page, "label.entry_remove_what", title(), () => {
      block.exercise.splice(place, 1);
      page.rebuild(path);
    });
    body.append(fieldsOf(page, EXERCISE, exercise, path), remove);
    return body;
  });
}

/** What the rest of a block costs, kept in step with its fields. */
function costPart(page, block) {
  const node = el("div", "entry-cost");
  const time = el("p");
  node.append(time, el("p", "entry-how", page.words.message("label.entry_cost_rest")));
  const update = () => {
    const cost = blockCost(block);
    show(time, cost !== null);
    if (cost === null) return;
    const places = { together: lengthText(cost.together), apart: lengthText(cost.apart), saved: String(Math.round(cost.saved * 100)) };
    setText(time, page.words.message("label.entry_cost", places));
  };
  update();
  page.live.push(update);
  return node;
}
