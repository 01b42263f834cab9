// Which fields a programme has, as files have them, and how each is entered. Pure.

const field = (name, kind, label = `label.entry_${name}`, more = {}) => ({ name, kind, label, ...more });
const how = (id) => ({ how: `label.entry_how_${id}` });

const UNIT = [["", "label.entry_not_said"], ["kg", null], ["lb", null]];
const RESULT = [["cleared", "label.entry_cleared"], ["follow-up-needed", "label.entry_follow_up"]];
const ENDING = [
  ["", "ending.complete"], ["short", "ending.short"], ["helped", "label.entry_ending_helped"], ["failed", "ending.failed"],
  ["form-broken", "ending.form_broken"], ["equipment-fault", "ending.equipment_fault"], ["stopped", "ending.stopped"],
];
const EITHER = [["", "label.entry_not_said"], [true, "label.entry_yes"], [false, "label.entry_no"]];

export const SCREENING = [field("on", "day"), field("result", "choice", undefined, { options: [["", "label.entry_not_said"], ...RESULT] })];

export const EARLIER = [
  field("station", "station"), field("exercise", "exercise"), field("on", "day"), field("load", "text", undefined, how("written")),
  field("goal", "rounds", undefined, how("reps")), field("reps", "number", "label.entry_reps_done"),
  field("ending", "choice", undefined, { options: ENDING }), field("helped", "number"),
];

export const CLIENT = [
  field("number", "number"), field("name", "text"),
  field("regular", "flag", undefined, { usual: false }), field("show_load", "flag", undefined, { usual: true }),
  field("unit", "choice", undefined, { options: UNIT }),
  field("screening", "table", undefined, { of: SCREENING }),
  field("max", "map", undefined, { ...how("mass"), add: "label.entry_add_max" }),
  field("earlier", "list", undefined, { of: EARLIER, title: "label.entry_set_n", add: "label.entry_add_earlier" }),
];

/** What a whole group does, or one of its clients. */
const SETS = [
  field("reps", "rounds", undefined, how("reps")), field("load", "rounds", undefined, how("load")),
  field("tempo", "text", undefined, how("tempo")), field("reserve", "number"),
];

export const TECHNIQUE = [
  field("reps", "number"), field("load", "text", undefined, how("written")), field("ramp", "flag", undefined, { usual: false }),
];

export const OWN = [
  field("client", "member"), ...SETS, field("technique_reps", "number"),
  field("technique_load", "text", undefined, how("written")), field("technique_ramp", "choice", undefined, { options: EITHER }),
];

export const EXERCISE = [
  field("use", "exercise", "label.entry_exercise"), ...SETS,
  field("per_side", "flag", undefined, { usual: false }), field("in_place", "flag", undefined, { usual: false }),
  field("technique", "table", undefined, { of: TECHNIQUE }),
  field("own", "list", undefined, { of: OWN, title: "label.entry_set_n", add: "label.entry_add_own" }),
];

export const BLOCK = [
  field("rounds", "number"), field("rest", "pair", undefined, { labels: ["label.entry_rest_least", "label.entry_rest_most"], ...how("duration") }),
  field("changeover", "duration", undefined, how("duration")),
];

export const GROUP = [
  field("number", "number"), field("coach", "coach"), field("starts", "time"), field("ends", "time"),
  field("clients", "members", "label.entry_members"),
];
