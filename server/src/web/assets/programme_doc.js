// The programme as this page holds it: the document of the server, which is a programme file as JSON. Pure.

/** The number that somebody new gets: one more than the highest, or the lowest that is free where there is none above. */
export function nextNumber(list, most) {
  const taken = new Set(list.map((one) => Number(one.number)));
  const next = Math.max(0, ...[...taken].filter((n) => Number.isInteger(n) && n <= most)) + 1;
  if (next <= most) return next;
  let free = 1;
  while (taken.has(free)) free += 1;
  return free;
}

export const newClient = (document, most) => ({ number: nextNumber(document.client, most), name: "" });

export const newExercise = (key) => ({ use: key, reps: 10, tempo: "2-0-2-0", load: "", technique: { reps: 4 } });

/** A paired set, as most blocks are. */
export const newBlock = (keys) => ({
  rounds: 3,
  rest: ["60 s", "90 s"],
  changeover: "30 s",
  exercise: keys.slice(0, 2).map(newExercise),
});

export const newGroup = (document, { coach, keys, most }) => ({
  number: nextNumber(document.group, most),
  coach,
  clients: [],
  block: [newBlock(keys)],
});

/** A duration as files write it: a mere number counts in seconds. */
export function durationOf(text) {
  const bare = text.trim();
  return /^\d+$/.test(bare) ? `${bare} s` : bare;
}

/** What stands between the values of single rounds in one field, as in the cell of a table. */
const BY_ROUND = "/";

/** One value, or a list with one for each round: `12 / 10 / 8`. What is a number is one, so that `ten` is told about. */
export function roundsOf(text) {
  const parts = text.split(BY_ROUND).map((part) => numberOf(part));
  return parts.length > 1 ? parts : parts[0];
}

/** The same as text. */
export const roundsText = (value) => [value ?? ""].flat().join(` ${BY_ROUND} `);

/** A whole number where the text is one, or the text: the server says what is wrong with it. */
export function numberOf(text) {
  const bare = text.trim();
  return /^-?\d{1,15}$/.test(bare) ? Number(bare) : bare;
}

/**
 * What is sent: fields that say nothing are left out, as people leave them out of a file. Entries of lists stay, since
 * mistakes are told by their places.
 */
export function tidy(value) {
  if (Array.isArray(value)) return value.map((one) => tidy(one) ?? "");
  if (value === null || typeof value !== "object") return value === "" || value === undefined ? null : value;
  const fields = Object.entries(value).map(([name, field]) => [name, tidy(field)]);
  const said = fields.filter(([, field]) => field !== null && !(Array.isArray(field) && field.length === 0));
  return said.length > 0 ? Object.fromEntries(said) : null;
}

/** The document to send: its lists are there even where they are empty. */
export const toSend = ({ client, group, ...rest }) => ({ ...tidy(rest), client: tidy(client), group: tidy(group) });

/** Whether two documents say the same. */
export const saysSame = (one, other) => sorted(toSend(one)) === sorted(toSend(other));

function sorted(value) {
  const order = (_, field) =>
    field !== null && typeof field === "object" && !Array.isArray(field) ? Object.fromEntries(Object.entries(field).sort(([a], [b]) => (a < b ? -1 : 1))) : field;
  return JSON.stringify(value, order);
}

/** Takes a client out of the list and of every group that is not locked, with what stands there for this client alone. */
export function removeClient(document, client, locked) {
  document.client = document.client.filter((one) => one !== client);
  for (const group of document.group.filter((one) => !locked.includes(one.number))) removeMember(group, client.number);
}

/** Takes a client out of a group, with what stands there for this client alone. */
export function removeMember(group, number) {
  group.clients = group.clients.filter((one) => one !== number);
  for (const exercise of group.block.flatMap((block) => block.exercise)) {
    if (exercise.own) exercise.own = exercise.own.filter((own) => own.client !== number);
  }
}

/** Moves an entry of a list one place to the front. */
export function moveUp(list, place) {
  if (place > 0) list.splice(place - 1, 2, list[place], list[place - 1]);
}

/** The field of `paths` that a mistake belongs to: itself, or the nearest above it. Null where there is none. */
export function ownerOf(field, paths) {
  for (let path = field; path !== ""; path = path.replace(/(\.[^.[\]]+|\[\d+\]|\."[^"]*")$/, "")) {
    if (paths.has(path)) return path;
    if (!/[.[]/.test(path)) return null;
  }
  return null;
}
