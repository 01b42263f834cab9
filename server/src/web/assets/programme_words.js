// What is wrong with a programme or a table, said in the page's own language: the enums of `protocol/src/entry/`. Pure.

import { CLIENT, EARLIER, SCREENING } from "./programme_fields.js";
import { clientOf, nameOfKey, placeText } from "./programme_place.js";
import { sentence } from "./text.js";

/** The words of files that a form offers under names of its own. */
const CHOICES = new Map([...CLIENT, ...SCREENING, ...EARLIER].flatMap((spec) => spec.options ?? []).filter(([, label]) => label !== null));

/** What says how to enter the same. */
const MENDS = new Set(["enter", "point"]);

/** Midnight of the first Monday of 2024 in UTC: the day of the week is all that is looked at. */
const MONDAY = Date.UTC(2024, 0, 1);

/**
 * A mistake as a sentence, with what may help. `page` has `words`, `floor` and `document`; `asWritten`: words that files and
 * tables have are said as they stand there.
 */
export function toldText(page, { about, wrong, help }, asWritten = false) {
  const { words } = page;
  if (about === "other") return wrong;
  const argument = argumentsOf(page, asWritten);
  // Where the very thing to enter is known, nobody needs all that would do.
  const mended = wrong.because === "value" && MENDS.has(help?.is);
  const raw = mended ? words.message("label.entry_not_so", { found: argument("found", wrong.found) }) : words.say(`wrong_${about}`, wrong, argument);
  const text = sentence(raw);
  return help ? `${text} ${words.say("help", help, argument)}` : text;
}

/** How an argument reads, by its name. */
function argumentsOf(page, asWritten) {
  const { words } = page;
  const { language } = words;
  const several = (type, name) => (list) => new Intl.ListFormat(language, { type }).format(list.map(name));
  const [all, any] = ["conjunction", "disjunction"].map((type) => (name = String) => several(type, name));
  const nested = (kind) => (value) => words.say(kind, value, argument);
  const named = (list) => (key) => nameOfKey(page, list, key);
  const client = (number) => clientOf(page, number);
  const choice = (word) => (asWritten || !CHOICES.has(word) ? word : words.message(CHOICES.get(word)));
  const day = (iso) => new Intl.DateTimeFormat(language, { dateStyle: "medium", timeZone: "UTC" }).format(new Date(`${iso}T00:00:00Z`));
  const by = {
    allowed: nested("fits"), found: nested("found"), nearest: nested("nearest"), split: nested("split"),
    exercise: named("exercises"), before: named("exercises"), station: named("stations"), coach: named("coaches"),
    stations: any(named("stations")), choices: any(choice), columns: any(), loads: all(), open: all(),
    client, one: all(client), other: all(client),
    gear: (kind) => words.message(`gear.${kind}`),
    first: (path) => placeText(page, path),
    on: day, day,
    weekday: (n) => new Intl.DateTimeFormat(language, { weekday: "long", timeZone: "UTC" }).format(MONDAY + (n - 1) * 86_400_000),
  };
  const argument = (name, value) => (Object.hasOwn(by, name) ? by[name](value) : String(value));
  return argument;
}
