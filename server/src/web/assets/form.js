// Forms on the page: closed, one is a button; open, its fields and the button that sends it.

import { button, el, keyed, setText, show, whenOpen } from "./dom.js";

/** Updated with a form of `forms.js`; `tap(act)` hears what it says. Without fields it is a plain button. */
export function formPart(tap) {
  const node = el("div", "form");
  const plain = button("act", () => send());
  const details = el("details", "form-open");
  const summary = el("summary", "act");
  const rows = el("div", "form-rows");
  const go = button("act form-go", () => send());
  details.append(summary, rows, go);
  node.append(plain, details);
  let form = null;
  let parts = [];

  const values = () => Object.fromEntries(parts.map((part) => [part.name(), part.value()]));

  function send() {
    // What nobody knows yet must be typed: no number is taken for it.
    if (!parts.every((part) => part.holds())) return;
    const act = form.act(values());
    // A text that is missing is missing still: the field says so itself.
    if (act === null) return;
    details.open = false;
    parts.forEach((part) => part.reset());
    tap(act);
  }

  /** Some fields are asked only where another has a certain value. */
  function arrange() {
    const said = values();
    for (const part of parts) part.arrange(said);
  }
  rows.addEventListener("change", arrange);
  const draw = whenOpen(details, ({ fields }) => {
    parts = keyed(rows, fields, (field) => field.name, fieldPart);
    arrange();
  });

  return {
    node,
    update(next) {
      form = next;
      setText(plain, form.title);
      setText(summary, form.title);
      setText(go, form.title);
      show(plain, form.fields.length === 0);
      show(details, form.fields.length > 0);
      draw(form);
    },
  };
}

/** Forms under one heading, closed until somebody looks for them; `forms()` makes them then. */
export function formSection(tap) {
  const node = el("details", "section");
  const summary = el("summary");
  const list = el("div", "more-list");
  node.append(summary, list);
  const draw = whenOpen(node, ({ forms }) => keyed(list, forms(), (form) => form.key, () => formPart(tap)));
  return {
    node,
    update(section) {
      setText(summary, section.title);
      draw(section);
    },
  };
}

const MAKE = { choice: choicePart, number: numberPart, text: textPart };

function fieldPart() {
  const node = el("label", "form-row");
  const title = el("span");
  node.append(title);
  let field = null;
  let input = null;
  return {
    node,
    name: () => field.name,
    value: () => input.value(),
    holds: () => node.hidden || (input.holds?.() ?? true),
    reset: () => input.reset(),
    arrange(said) {
      if (field.only) show(node, [field.only[1]].flat().includes(said[field.only[0]]));
    },
    update(next) {
      field = next;
      setText(title, field.label);
      if (input === null) {
        input = MAKE[field.kind]();
        node.append(input.node);
      }
      input.update(field);
    },
  };
}

function choicePart() {
  const node = el("select");
  let key = "";
  return {
    node,
    value: () => node.value,
    reset() {},
    update({ options }) {
      const next = JSON.stringify(options);
      if (next === key) return;
      key = next;
      const kept = node.value;
      node.replaceChildren(...options.map(({ value, label }) => new Option(label, value)));
      const now = options.find((option) => option.now)?.value ?? options[0]?.value;
      node.value = options.some((option) => option.value === kept) ? kept : (now ?? "");
    },
  };
}

function numberPart() {
  const node = el("input");
  node.type = "number";
  node.inputMode = "decimal";
  let begins = null;
  let touched = false;
  node.addEventListener("input", () => (touched = true));
  return {
    node,
    value: () => node.value,
    holds: () => !node.required || node.reportValidity(),
    reset() {
      touched = false;
      node.value = begins;
    },
    update({ least, most, step, value }) {
      [node.min, node.max, node.step] = [least, most, step].map(String);
      begins = value === undefined ? "" : String(value);
      node.required = begins === "";
      if (!touched) node.value = begins;
    },
  };
}

function textPart() {
  const node = el("textarea");
  node.rows = 2;
  return {
    node,
    value: () => node.value.trim(),
    reset: () => (node.value = ""),
    update: ({ most }) => (node.maxLength = most),
  };
}
