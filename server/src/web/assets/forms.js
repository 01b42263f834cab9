// What a coach can say beside what is expected: one form for each, in plain data. Pure.
//
// A form is `{ key, title, fields, act(values) }`. A field is `{ name, label, kind, ... }`: a `choice` has
// `options` of `{ value, label }`, a `number` has `least`, `most` and `value`, a `text` has `most` characters.
// `act` makes the command of the values, which come as texts of numbers, or null where something is missing.

import { platesForms } from "./plates.js";
import { stampedText } from "./text.js";

const REASONS = ["client_asked", "safety", "short_of_time", "equipment", "coach_decides"];
const DEFECTS = ["cable", "pin", "bar", "plates", "bench", "frame", "cleaning", "other"];
const ENDINGS = ["complete", "short", "helped", "failed", "form_broken", "equipment_fault", "stopped"];
const SKIPS = ["set", "round", "exercise"];
const SCREENING = ["train", "refer", "not_today"];
/** Characters of a note, as the floor takes them. */
const NOTE = 500;
/** What a form begins with; the floor has the last word. */
const MINUTES = 15;
/** The highest pin that a stack can have; the floor has the last word. */
const PINS = 200;
const NANOGRAMS = { kg: 1_000_000_000_000, lb: 453_592_370_000 };

const choice = (name, label, options) => ({ name, label, kind: "choice", options });
const number = (name, label, least, most, value, step = 1) => ({ name, label, kind: "number", least, most, value, step });

/** A closed list with its words. */
function listed(words, name, label, kind, values) {
  return choice(name, words.message(label), values.map((value) => ({ value, label: words.message(`${kind}.${value}`).replace("{reps}", "\u2026") })));
}

const why = (words) => listed(words, "reason", "label.page_why", "reason", REASONS);
const note = (words) => ({ name: "text", label: words.message("label.page_note_text"), kind: "text", most: NOTE });
const mass = (value, unit) => Math.round(Number(value) * NANOGRAMS[unit]);

/** Everything that can be said of a client: who is there, what comes before the first set, whom they spot. */
export function clientForms(words, client, group, view) {
  const [id, me] = [group.group, client.client];
  const of = (act) => ({ group: id, client: me, ...act });
  const say = (verb) => words.message(`act.${verb}`);
  const forms = [];
  const plain = (key, title, act) => forms.push({ key, title, fields: [], act: () => act });
  const here = client.attendance === "here";
  if (!here) plain("arrive", say("arrive"), { do: "arrive", group: id, clients: [me] });
  if (here && !client.warmed_up) plain("warmed_up", say("warmed_up"), of({ do: "warmed_up" }));
  if (here && !client.briefed) {
    plain("brief", say("brief"), { do: "brief", group: id, clients: [me], skipped: false });
    plain("skip_brief", words.message("label.page_skip_briefing"), { do: "brief", group: id, clients: [me], skipped: true });
  }
  if (client.screening_open) {
    const fields = [listed(words, "decision", "act.screen", "screening", SCREENING)];
    forms.push({ key: "screen", title: say("screen"), fields, act: ({ decision }) => of({ do: "screen", decision }) });
  }
  forms.push(...setForms(words, client, group, view));
  if (client.owed > 0) {
    const fields = [number("rounds", words.message("label.page_rounds"), 1, client.owed, client.owed)];
    const act = ({ rounds }) => of({ do: "make_up", rounds: Number(rounds), revision: group.revision });
    forms.push({ key: "make_up", title: say("make_up"), fields, act });
  }
  forms.push(...platesForms(words, client, view), ...swapForms(words, client, group, view), ...settingForms(words, client, view));
  const name = client.name;
  if (here && !client.halt) plain("stop_one", words.message("label.page_stop_one", { name }), { do: "stop", scope: { scope: "client", group: id, client: me } });
  if (client.halt) plain("resume_one", words.message("label.page_resume_one", { name }), of({ do: "resume" }));
  if (here) plain("leave", say("leave"), of({ do: "leave" }));
  forms.push({ key: "note", title: say("note"), fields: [note(words)], act: ({ text }) => (text ? { do: "note", note: of({ about: "client" }), text } : null) });
  return forms;
}

/** The set under way or to come, and the last one. */
function setForms(words, { turn, last, exercise }, group, view) {
  const forms = [];
  const say = (verb) => words.message(`act.${verb}`);
  const plain = (key, title, act) => forms.push({ key, title, fields: [], act: () => act });
  const id = turn?.turn;
  const coming = turn?.phase.phase === "coming" && turn.station !== undefined;
  if (coming) {
    if (turn.load) {
      const { total, unit } = turn.load;
      const fields = [loadField(words, total, unit)];
      const act = (v) => ({ do: "set_load", turn: id, load: typedLoad(v, total, unit), revision: turn.revision });
      forms.push({ key: "set_load", title: say("set_load"), fields, act });
    }
    const spotted = turn.spotted && !turn.spotter && !turn.arms;
    if (spotted) forms.push(...spotForms(words, turn, exercise, group, plain));
    const secs = (value) => number("secs", words.message("label.page_secs"), 5, 600, value, 5);
    forms.push({ key: "more_rest", title: say("more_rest"), fields: [secs(60)], act: (v) => ({ do: "more_rest", turn: id, secs: Number(v.secs) }) });
    const after = turn.phase.after.after;
    if (after === "rest") {
      const fields = [number("secs", words.message("label.page_secs"), 0, Math.max(group.block.rest_min - 1, 0), Math.floor(group.block.rest_min / 2), 5), why(words)];
      forms.push({ key: "less_rest", title: say("less_rest"), fields, act: (v) => ({ do: "less_rest", turn: id, secs: Number(v.secs), reason: v.reason }) });
    }
    if (after === "changeover") plain("treat_as_rest", say("treat_as_rest"), { do: "treat_as_rest", turn: id });
    if (id.round > 0) plain("technique_again", say("technique_again"), { do: "technique_again", turn: id });
    const skip = [listed(words, "skip", "label.page_choose", "skip", SKIPS), why(words)];
    forms.push({ key: "skip", title: say("skip"), fields: skip, act: (v) => ({ do: "skip", turn: id, skip: v.skip, reason: v.reason }) });
  }
  if (turn?.phase.phase === "under_way") {
    const act = (v) => ({ do: "done", turn: id, reps: Number(v.reps), ending: ending(v) });
    forms.push({ key: "ending", title: words.message("label.page_ending"), fields: endingFields(words, turn.reps), act });
  }
  if (last) {
    const unit = view.groups.flatMap((g) => g.clients).find((c) => c.client === last.turn.client)?.turn?.load?.unit ?? "kg";
    const form = correctForm(words, last, unit);
    forms.push({ ...form, title: `${form.title}: ${words.own(last.exercise)}` });
  }
  return forms;
}

/** What was really done in a set that is over: `{ turn, reps, load, effort, ending }` as it is known now; `reps` may not be. */
export function correctForm(words, set, unit) {
  const loads = set.load === undefined ? [] : [loadField(words, set.load, unit)];
  const load = (v) => (set.load === undefined ? {} : { load: typedLoad(v, set.load, unit) });
  const kept = set.effort ? { effort: set.effort } : {};
  const act = (v) => ({ do: "correct", turn: set.turn, reps: Number(v.reps), ...load(v), ...kept, ending: ending(v) });
  return { key: "correct", title: words.message("act.correct"), fields: [...endingFields(words, set.reps, set.ending), ...loads], act };
}

const isPin = (load) => typeof load === "object";

/** The number to type for a load, beginning with this one: a mass in the unit stamped there, or a pin. */
function loadField(words, load, unit) {
  if (isPin(load)) return number("pin", words.message("label.page_pin"), 1, PINS, load.pin);
  return number("load", `${words.message("label.page_load")} (${unit})`, 0, 999, stampedText(load, unit), 0.25);
}

/** What was typed in such a field; what was left as it was is exactly the load it began with. */
function typedLoad(values, load, unit) {
  if (isPin(load)) return { pin: Number(values.pin) };
  return Number(values.load) === Number(stampedText(load, unit)) ? load : mass(values.load, unit);
}

/** How a set ended, from what is known of it on. */
function endingFields(words, reps, known) {
  const ends = listed(words, "end", "label.page_ending", "ending", ENDINGS);
  return [
    { ...ends, options: ends.options.map((option) => ({ ...option, now: option.value === known?.end })) },
    number("reps", words.message("label.reps"), 0, 100, reps),
    { ...number("helped", words.message("label.page_helped_with"), 1, 100, known?.reps ?? 1), only: ["end", "helped"] },
  ];
}

const ending = ({ end, helped }) => (end === "helped" ? { end, reps: Number(helped) } : { end });

/** Who or what stands by a spotted set: a client of the group, arms, or the coach for the lift-off alone. */
function spotForms(words, turn, exercise, group, plain) {
  const forms = [];
  const others = group.clients.filter((c) => c.client !== turn.turn.client && c.attendance === "here");
  for (const other of others) {
    const passed = (other.spots ?? []).includes(exercise);
    const name = other.name;
    if (passed) {
      const act = { do: "spot_by", turn: turn.turn, client: other.client };
      forms.push({ key: `spot_by/${other.client}`, title: words.message("label.page_client_spots", { name }), fields: [], act: () => act });
    } else if (exercise !== undefined) {
      const act = { do: "pass_spotter", group: group.group, client: other.client, exercise };
      const title = words.message("label.page_may_spot", { name, exercise: words.own(turn.exercise) });
      forms.push({ key: `pass_spotter/${other.client}`, title, fields: [], act: () => act });
    }
  }
  plain("lift_off", words.message("label.page_lift_off"), { do: "spot", turn: turn.turn, lift_off: true });
  plain("use_arms", words.message("act.use_arms"), { do: "use_arms", turn: turn.turn });
  return forms;
}

/** Another exercise of the same movement, for one client. */
function swapForms(words, client, group, view) {
  return (group.choices ?? [])
    .filter(({ exercises }) => exercises.length > 0)
    .map(({ leg, exercises }) => {
      const places = exercises.flatMap(({ exercise, places: at }) =>
        at.map((station) => ({
          exercise,
          place: view.places.find((place) => place.station === station),
          label: `${words.own(view.exercises.find((line) => line.exercise === exercise).name)}, ${stationName(view, station)}`,
        })),
      );
      const options = places.map(({ label }, n) => ({ value: String(n), label }));
      const fields = [choice("what", words.message("label.page_choose"), options), ...swapLoads(words, places)];
      const act = ({ what, load, pin }) => {
        const { exercise, place } = places[Number(what)];
        const typed = () => (isPin(place.lightest) ? { pin: Number(pin) } : mass(load, place.unit));
        const put = place.lightest === undefined ? {} : { load: typed() };
        const swap = { do: "swap_exercise", group: group.group, client: client.client, leg, exercise, station: place.station };
        return { ...swap, ...put, revision: group.revision };
      };
      const title = `${words.message("act.swap_exercise")}: ${words.own(group.block.exercises[leg])}`;
      return { key: `swap_exercise/${leg}`, title, fields, act };
    });
}

/** The number to type: a mass, a pin, or each where some places take the one and some the other. */
function swapLoads(words, places) {
  const unit = places[0].place.unit;
  const lightest = places.map(({ place }) => place.lightest);
  const loads = [lightest.find((load) => load !== undefined && !isPin(load)), lightest.find(isPin)].filter((load) => load !== undefined);
  const fields = loads.map((load) => loadField(words, load, unit));
  if (loads.length < 2) return fields;
  const where = (pin) => lightest.flatMap((load, n) => (isPin(load) === pin ? [String(n)] : []));
  return fields.map((field) => ({ ...field, only: ["what", where(field.name === "pin")] }));
}

/** How the station of the coming set is set for the client. */
function settingForms(words, client, view) {
  const station = client.turn?.station;
  const settings = (view.settings ?? []).find((line) => line.station === station)?.settings ?? [];
  return settings.map(({ name, values }, setting) => {
    const now = client.turn.settings?.find((part) => part.setting === setting)?.value;
    const options = values.map((label, value) => ({ value: String(value), label, now: label === now }));
    const act = ({ value }) => ({ do: "set_setting", station, client: client.client, setting, value: Number(value) });
    const title = words.message("label.page_setting_of", { setting: name, name: stationName(view, station) });
    return { key: `set_setting/${setting}`, title, fields: [choice("value", name, options)], act };
  });
}

const stationName = (view, id) => view.stations.find((line) => line.station === id)?.name ?? String(id);

/** Everything that can be said of a group as a whole. */
export function groupForms(words, group, view) {
  const { group: id, revision } = group;
  const say = (verb) => words.message(`act.${verb}`);
  const forms = [];
  const plain = (key, title, act) => forms.push({ key, title, fields: [], act: () => act });
  const done = group.stage === "finished";
  const block = group.block.n - 1;
  if (group.waits) plain("withdraw_ask", say("withdraw_ask"), { do: "withdraw_ask", group: id });
  else if (group.stage === "waiting") plain("ask_stations", say("ask_stations"), { do: "ask_stations", group: id, block, revision });
  if (group.lapses !== undefined) plain("still_here", say("still_here"), { do: "still_here", group: id });
  for (const { leg, stations } of group.choices ?? []) {
    if (stations.length === 0) continue;
    const options = stations.map((station) => ({ value: String(station), label: stationName(view, station) }));
    const act = ({ to }) => ({ do: "swap_station", group: id, leg, to: Number(to), revision });
    forms.push({ key: `swap_station/${leg}`, title: `${say("swap_station")}: ${words.own(group.block.exercises[leg])}`, fields: [choice("to", words.message("label.page_where"), options)], act });
  }
  if (!done) {
    const fields = [number("rounds", words.message("label.page_rounds"), 1, 20, group.block.rounds)];
    forms.push({ key: "set_rounds", title: say("set_rounds"), fields, act: (v) => ({ do: "set_rounds", group: id, block, rounds: Number(v.rounds), revision }) });
    if (group.block.of > group.block.n) plain("drop_block", say("drop_block"), { do: "drop_block", group: id, block: group.block.of - 1, revision });
    if (group.stage === "wipe_down") {
      const bars = [listed(words, "bar", "label.page_choose", "bar", ["stripped", "as_it_is"])];
      forms.push({ key: "free", title: say("free_stations"), fields: bars, act: ({ bar }) => ({ do: "free_stations", group: id, block, bar }) });
    }
    if (group.ahead?.length > 0) {
      const title = `${say("free_stations")}: ${group.ahead.map((station) => stationName(view, station)).join(" + ")}`;
      plain("free_ahead", title, { do: "free_stations", group: id, block: group.block.n });
    }
    forms.push({ key: "end_session", title: say("end_session"), fields: [why(words)], act: ({ reason }) => ({ do: "end_session", group: id, reason }) });
    forms.push(...handOver(words, [group], group.coach, view, "hand_over"));
  }
  if (group.offer) {
    if (group.offer.asks === view.me) plain("accept_group", say("accept_group"), { do: "accept_group", group: id, from: group.coach });
    plain("decline_group", say("decline_group"), { do: "decline_group", group: id });
  }
  forms.push({ key: "note", title: say("note"), fields: [note(words)], act: ({ text }) => (text ? { do: "note", note: { about: "group", group: id }, text } : null) });
  return forms;
}

/** Groups to another coach, or another's to oneself. */
function handOver(words, groups, from, view, key) {
  const others = from === view.me ? view.coaches.filter((line) => line.coach !== from) : view.coaches.filter((line) => line.coach === view.me);
  if (others.length === 0) return [];
  const options = others.map((line) => ({ value: String(line.coach), label: line.name }));
  const act = ({ to }) => ({ do: "hand_over", groups: groups.map((g) => g.group), from, to: Number(to) });
  return [{ key, title: words.message("act.hand_over"), fields: [choice("to", words.message("label.page_to"), options)], act }];
}

/** Everything that can be said of stations and of oneself. */
export function floorForms(words, view) {
  const say = (verb) => words.message(`act.${verb}`);
  const where = (lines) => choice("station", words.message("label.page_where"), lines.map((line) => ({ value: String(line.station), label: line.name })));
  const minutes = number("minutes", words.message("label.page_minutes"), 1, 120, MINUTES, 5);
  const at = (v) => ({ station: Number(v.station) });
  const forms = [];
  const form = (key, fields, act) => forms.push({ key, title: say(key), fields, act });
  form("other_use", [where(view.stations), minutes], (v) => ({ do: "other_use", ...at(v), minutes: Number(v.minutes) }));
  const used = view.stations.filter((line) => line.other_use);
  if (used.length > 0) form("end_other_use", [where(used)], (v) => ({ do: "end_other_use", ...at(v) }));
  const whole = view.stations.filter((line) => !line.out);
  const defect = listed(words, "defect", "label.page_what", "defect", DEFECTS);
  form("out_of_service", [where(whole), defect], (v) => ({ do: "out_of_service", ...at(v), defect: v.defect }));
  const out = view.stations.filter((line) => line.out);
  if (out.length > 0) form("back_in_service", [where(out)], (v) => ({ do: "back_in_service", ...at(v) }));
  const me = view.coaches.find((line) => line.coach === view.me);
  if (me?.away === undefined) form("away", [minutes], (v) => ({ do: "away", coach: view.me, minutes: Number(v.minutes) }));
  else form("back", [], () => ({ do: "back", coach: view.me }));
  const mine = view.groups.filter((group) => group.coach === view.me && group.stage !== "finished");
  if (mine.length > 1) {
    const all = handOver(words, mine, view.me, view, "hand_over_all");
    forms.push(...all.map((one) => ({ ...one, title: `${one.title}: ${words.message("label.page_all_mine")}` })));
  }
  const kinds = listed(words, "call", "label.page_choose", "call", ["coach_please", "help_now"]);
  form("call", [where(view.stations), kinds], (v) => ({ do: "call", ...at(v), call: v.call }));
  const incident = listed(words, "about", "label.page_about", "label", ["page_about_station", "page_about_incident"]);
  form("note", [where(view.stations), incident, note(words)], (v) => {
    const about = v.about === "page_about_incident" ? "incident" : "station";
    return v.text ? { do: "note", note: { about, ...at(v) }, text: v.text } : null;
  });
  return forms;
}
