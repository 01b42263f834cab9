// What the page says: the catalogues of `protocol/text/`, and the rule of `protocol/src/text.rs`.

/** The tags under which the enums of the protocol carry their variant. */
const TAGS = ["because", "outcome", "need", "fault", "do", "felt", "end", "phase", "set", "happened", "is"];

const NANOGRAMS = { kg: 1_000_000_000_000n, lb: 453_592_370_000n };

/** The messages of one language. */
export class Catalogue {
  #messages;
  #language;
  #numbers;

  constructor(messages, language = "en") {
    this.#messages = messages;
    this.#language = language;
    this.#numbers = new Intl.NumberFormat(language, { maximumFractionDigits: 2, useGrouping: false });
  }

  /** A number as people of this language write it, with at most two decimals: `82.5`, in German `82,5`. */
  number(value) {
    return this.#numbers.format(Number(value));
  }

  get language() {
    return this.#language;
  }

  /** What has its words in every language, as an exercise's name, in that of these messages. */
  own(everyLanguage) {
    return everyLanguage[this.#language];
  }

  /** The message of this id with its places filled; the id itself where there is none, so that a gap is seen. */
  message(id, places = {}) {
    const raw = Object.hasOwn(this.#messages, id) ? this.#messages[id] : id;
    return raw.replaceAll(/\{(\w+)\}/g, (place, name) => (Object.hasOwn(places, name) ? places[name] : place));
  }

  /** Says a wire enum: `kind` is its name (`refusal`); `argument` turns a field into words by its name. */
  say(kind, value, argument = (_, field) => String(field)) {
    const [variant, fields] = variantOf(value);
    const raw = this.message(`${kind}.${variant}`);
    const known = new Map(fields);
    // One that is absent on the wire is null.
    const asked = [...raw.matchAll(/\{(\w+)\}/g)].map(([, name]) => [name, known.get(name) ?? null]);
    const places = asked.map(([name, field]) => [name, argument(name, field)]);
    return this.message(`${kind}.${variant}`, Object.fromEntries(places));
  }
}

function variantOf(value) {
  if (typeof value === "string") return [value, []];
  if (value === null || typeof value !== "object" || Array.isArray(value)) return ["", []];
  const tag = TAGS.find((name) => typeof value[name] === "string");
  return [tag ? value[tag] : "", Object.entries(value).filter(([name]) => name !== tag)];
}

/** Between two attempts to fetch the catalogue, in milliseconds; without it the page can say nothing at all. */
const RETRY = 2000;

/** Fetches the catalogue of the page's own language, however long the server is away. */
export async function loadCatalogue(language) {
  for (;;) {
    try {
      const answer = await fetch(`/text/${language}.json`);
      if (answer.ok) return new Catalogue(await answer.json(), language);
    } catch {
      // The server is away; the page goes on saying that it looks for it.
    }
    await new Promise((resume) => setTimeout(resume, RETRY));
  }
}

/** A mass in nanograms as it is stamped on plates and labels: at most two decimals, half away from zero, `82.5`. */
export function stampedText(nanograms, unit = "kg") {
  const per = NANOGRAMS[unit];
  const scaled = BigInt(nanograms) * 100n;
  const hundredths = (scaled + (scaled >= 0n ? per / 2n : -(per / 2n))) / per;
  const size = hundredths < 0n ? -hundredths : hundredths;
  const decimals = String(size % 100n).padStart(2, "0").replace(/0+$/, "");
  return `${hundredths < 0n ? "-" : ""}${size / 100n}${decimals ? `.${decimals}` : ""}`;
}

/** The same as it is written in the language of these messages: `82.5 kg`, in German `82,5 kg`. */
export const massText = (catalogue, nanograms, unit = "kg") => `${catalogue.number(stampedText(nanograms, unit))} ${unit}`;

/** A load as it reads: a mass, or the pin of a stack whose labels are mere numbers, `pin 7`. */
export function amountText(catalogue, load, unit = "kg") {
  return typeof load === "object" ? catalogue.message("label.numbered_pin", { pin: String(load.pin) }) : massText(catalogue, load, unit);
}

/** Whether two loads are the same: of one kind, and as much. */
export const sameLoad = (one, other) => JSON.stringify(one) === JSON.stringify(other);

/**
 * A floor instant on the gym's wall clock, `18:52:05`. The wall time now, the rate and the zone say which
 * instant it is; where a test drives the clock (rate 0) there is none, and the seconds left are said.
 */
export function instantText(instant, { now, rate, zoneOffset, wall }) {
  if (!(rate > 0)) return `${Math.ceil((instant - now) / 1000)} s`;
  const local = wall + (instant - now) / rate + zoneOffset * 1000;
  return new Date(local).toISOString().slice(11, 19);
}

/** By whose rules dates are written, where the language alone says too little: day, month, year. */
const DATES = { en: "en-GB" };

/** An RFC 3339 time as people of this language write it, by the clock it was written at: `2 March 2026 at 18:52:05`. */
export function writtenText(language, written) {
  const clock = new Date(`${written.slice(0, 19)}Z`);
  return new Intl.DateTimeFormat(DATES[language] ?? language, { dateStyle: "long", timeStyle: "medium", timeZone: "UTC", hourCycle: "h23" }).format(clock);
}

/** The display name of a client on a coach's page. */
export const clientName = (view, id) =>
  view?.groups?.flatMap((g) => g.clients).find((c) => c.client === id)?.name;

/** About so many minutes: what people say of a time that nobody knows to the second. */
export function aboutText(catalogue, ms) {
  return catalogue.message("label.minutes", { n: String(Math.max(Math.ceil(ms / 60_000), 1)) });
}

/** A sentence that may begin with a neutral word. */
export const sentence = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);

/**
 * How an argument reads, by its name, with the names that this view knows; of who is not in it a neutral word.
 */
export function argumentsFor(catalogue, view, time, unit = "kg") {
  const by = sayers(catalogue, view, time, unit);
  return (field, value) => (Object.hasOwn(by, field) ? by[field](value) : String(value));
}

/** The names of all arguments that have words. */
export const argumentNames = () => Object.keys(sayers());

function sayers(catalogue, view, time, unit) {
  const neutral = (id) => catalogue.message(`label.${id}`);
  const name = (list, key, id) => list?.find((line) => line[key] === id)?.name;
  const clients = () => view?.groups?.flatMap((group) => group.clients);
  const names = (id) => view?.groups?.find((g) => g.group === id)?.clients.map((c) => c.name).join(", ");
  const group = (id) => names(id) ?? neutral("a_group");
  const load = (v) => (v === null ? neutral("none_there") : amountText(catalogue, v, unit));
  const instant = (v) => instantText(v, time);
  const by = {
    until: instant,
    when: instant,
    at: instant,
    load,
    below: load,
    above: load,
    last: load,
    station: (v) => name(view?.stations, "station", v) ?? neutral("a_station"),
    client: (v) => name(clients(), "client", v) ?? neutral("a_client"),
    coach: (v) => name(view?.coaches, "coach", v) ?? neutral("a_coach"),
    group,
    first: group,
    writing: (v) => catalogue.message(`writing.${v}`),
    defect: (v) => catalogue.message(`defect.${v}`),
    // In thousandths.
    share: (v) => `${catalogue.number(v / 10)} %`,
  };
  for (const number of ["count", "days", "keep", "least", "most", "reps", "takes", "there", "wanted"]) by[number] = String;
  return by;
}
