// A load in words: how heavy, how it is set, what to change, and what else to know of it. Pure.

import { changeNotes, platesText } from "./plates.js";
import { amountText, massText, sameLoad, stampedText } from "./text.js";

/** Dumbbells are taken in pairs, and one of them carries the number. */
const many = (load, one) => (load.gear === "dumbbells" ? `2 \u00d7 ${one}` : one);

/** `60 kg`, `pin 7`, or of a pair of dumbbells `2 \u00d7 14 kg`; nothing where a set has no load or hides it. */
export const loadText = (words, load) => (load ? many(load, amountText(words, load.total, load.unit)) : "");

/** The same with about how much it is in the client's own unit, where the gear is stamped in another. */
export function ownLoadText(words, load) {
  if (!load?.about) return loadText(words, load);
  const about = words.message("label.about", { at: many(load, massText(words, load.about.mass, load.about.unit)) });
  return `${loadText(words, load)} (${about})`;
}

/** How it is set, what to change, and what else is to be known of it, each part for itself. */
export const howTexts = (words, load) => settingTexts(words, load).filter(Boolean);

function settingTexts(words, load) {
  if (load?.gear === "dumbbells") return [platesText(words, load), words.message("label.each_hand")];
  if (!load?.stack) return [platesText(words, load), ...changeNotes(words, load)];
  const { pin, now, at_hand: atHand, assists } = load.stack;
  const moved = now && !load.confirmed && !sameLoad(load.on_now, load.total) ? pinChange(words, now, pin, load.unit) : "";
  const hand = atHand === undefined ? "" : words.message("label.at_hand", { load: massText(words, atHand, load.unit) });
  const easier = assists ? helpText(words, load) : "";
  // A number is all that there is to say of where the pin goes.
  if (isNumber(pin.label)) return [moved, easier];
  return [pinText(words, pin, load.unit), moved, hand, easier];
}

const isNumber = (label) => typeof label === "object";

function helpText(words, load) {
  if (isNumber(load.total)) return words.message("label.assists_pins");
  return words.message("label.assists", { load: massText(words, load.total, load.unit) });
}

const number = (label, unit) => (isNumber(label) ? String(label.pin) : stampedText(label, unit));

/** `2 \u00d7 1.25 + 0.75 kg`. */
function weights(onTop, unit) {
  const one = ({ mass, count }) => (count === 1 ? number(mass, unit) : `${count} \u00d7 ${number(mass, unit)}`);
  return `${onTop.map(one).join(" + ")} ${unit}`;
}

/** Where the pin goes, and what is put on top. */
function pinText(words, { label, on_top: onTop = [] }, unit) {
  const at = words.message("label.pin", { label: number(label, unit) });
  return onTop.length === 0 ? at : `${at}, ${words.message("label.on_top", { weights: weights(onTop, unit) })}`;
}

/** Where the pin is moved to, and what comes off and on the top. */
function pinChange(words, now, wanted, unit) {
  const places = { from: number(now.label, unit), to: number(wanted.label, unit) };
  const top = (id, more, than) => {
    const rest = beyond(more.on_top ?? [], than.on_top ?? []);
    return rest.length === 0 ? "" : words.message(id, { weights: weights(rest, unit) });
  };
  const moved = sameLoad(now.label, wanted.label) ? "" : words.message("label.pin_from", places);
  return [moved, top("label.top_off", now, wanted), top("label.top_on", wanted, now)].filter(Boolean).join(", ");
}

/** What there is more of here than there. */
function beyond(here, there) {
  const kept = (mass) => there.find((other) => other.mass === mass)?.count ?? 0;
  return here.map(({ mass, count }) => ({ mass, count: count - kept(mass) })).filter(({ count }) => count > 0);
}
