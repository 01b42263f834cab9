// Where a set stands, from the instants of the view and floor time. Pure, and the same rule as the kiosk's
// `face/phase.rs`, so that every display of a set shows the same word and figure.
//
// A phase is { kind, word, until, since }: `word` is the message that names it; a display counts down to
// `until`, or up from `since`, or shows no figure where both are null.

const phase = (kind, { word = `phase.${kind}`, until = null, since = null } = {}) => ({ kind, word, until, since });

/** The phase of a `TurnPart` at floor time `now`, in a group that is held by `halt` or not. */
export function phaseOf(turn, now, halt = null) {
  const at = turn.phase;
  return at.phase === "under_way" ? underWay(at, now, halt, turn) : coming(at, now, halt);
}

/** What a stop asks for, by the gear, as the kiosk says it. */
const DOWN = { bar: "label.rack_the_bar", stack: "label.let_the_stack_down", dumbbells: "label.put_them_down" };

/** Of a load that is hidden the gear is not known; what is spotted is a bar. */
const downWord = ({ load, spotted }) => DOWN[load?.gear ?? (spotted ? "bar" : "")] ?? "label.set_it_down";

function underWay({ count_in, starts, ends }, now, halt, turn) {
  // A pause lets what is under way go on; only a stop asks for the rack.
  if (halt?.halt === "stop") return phase("stopped", { word: downWord(turn) });
  if (now < count_in) return phase("get_set", { until: starts });
  if (now < starts) return phase("count_in", { until: starts });
  if (now < ends) return phase("working", { until: ends });
  return phase("assumed", { since: ends });
}

function coming(at, now, halt) {
  if (halt?.halt === "stop") return phase("stopped", { word: "label.do_not_start" });
  const waits = waitsAs(at.after, now);
  const target = waits === "changeover" ? Math.max(at.after.limit, at.ready) : at.ready;
  // Before a first set there was no rest that could be over.
  const past = at.after.after === "nothing" ? {} : { since: target };
  const counts = now < target ? { until: target } : past;
  // Rest goes on while a group is paused, and so does its countdown.
  if (halt?.halt === "pause") return phase("paused", { word: "halt.pause", ...counts });
  return phase(kindOf(at, now, waits, target), counts);
}

/** Announced while the set before is still under way, nobody goes over or rests yet. */
function waitsAs({ after, since }, now) {
  return after === "nothing" || now < since ? "coming" : after;
}

function kindOf({ ready, go_from, needs }, now, waits, target) {
  if (now < ready) return waits;
  if (needs.length > 0) return "held";
  // GO is taken as soon as one is over there, so the way counts to its limit while GO is live.
  const onTheWay = waits === "changeover" && now < target;
  return onTheWay || now < go_from ? waits : "ready";
}

/** The figure of a phase: whole seconds left (0 only at the instant itself), or whole seconds since. */
export function figure({ until, since }, now) {
  if (until !== null) return { up: false, seconds: Math.max(Math.ceil((until - now) / 1000), 0) };
  if (since !== null) return { up: true, seconds: Math.max(Math.floor((now - since) / 1000), 0) };
  return null;
}

/** A figure in words: `45`, `1:05`, and `+12` when it counts up. */
export function figureText(found) {
  if (found === null) return "";
  return (found.up ? "+" : "") + secondsText(found.seconds);
}

/** Seconds as they are read at a distance: `45`, `1:05`, `1:02:03`. */
function secondsText(seconds) {
  return seconds < 60 ? String(seconds) : lengthText(seconds);
}

/** A length of time within a sentence: `0:09`, `1:05`, `1:02:03`. */
export function lengthText(seconds) {
  const two = (n) => String(n).padStart(2, "0");
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  return h > 0 ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
}

/** Whether two `TurnId`s name the same set. */
export function sameTurn(a, b) {
  return ["group", "client", "block", "round", "leg"].every((part) => a[part] === b[part]);
}
