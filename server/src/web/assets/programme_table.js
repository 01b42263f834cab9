// Clients and sessions from a table: the file is sent as it is, and what becomes of every row is shown before it is taken.

import { button, el, setText, show } from "./dom.js";
import { placeText } from "./programme_place.js";
import { post } from "./programme_wire.js";
import { toldText } from "./programme_words.js";

/** Bytes that the server takes. */
const MOST = 1024 * 1024;

/** The fate of a row as it is told: its word, and what is to know. `page` has `words`, `floor` and `document`. Pure. */
export function rowWords(page, row) {
  const { words } = page;
  const { line, fate } = row;
  const reasonText = ({ column, ...told }) => [column && `${column}: `, toldText(page, told, true)].join("");
  const what = { new: [], same: [], changed: row.columns ?? [], refused: (row.reasons ?? []).map(reasonText) }[fate];
  return { line: words.message("label.entry_table_line", { n: String(line) }), word: words.message(`label.entry_fate_${fate}`), what: what.join(" \u00b7 ") };
}

/** That a group has begun, as what is wrong with what would change it. */
export const begun = (group) => ({ about: "row", wrong: { because: "begun", group } });

/** What can be done with a table: `{ take, label, n }`, or null where no row is good. Pure. */
export function offerOf({ rows, good, mistakes = [] }) {
  if (good === 0 || mistakes.length > 0) return null;
  const whole = good === rows.length;
  return { take: whole ? "all" : "good", label: whole ? "label.entry_table_take" : "label.entry_table_take_good", n: good };
}

/** `page` has `words`, `floor` and `document`; `desk` is `{ address, revision(), isSaved(), taken() }`. */
export function tablePart(page, desk) {
  const { words } = page;
  const node = el("details", "entry-section entry-table");
  const file = el("input");
  file.type = "file";
  file.accept = ".csv,text/csv";
  file.id = "entry-table-file";
  const label = el("label", "", words.message("label.entry_table_file"));
  label.htmlFor = file.id;
  const first = el("p", "entry-begun", words.message("label.entry_table_save_first"));
  const told = el("div", "entry-told");
  told.setAttribute("role", "status");
  const field = el("div", "entry-field");
  field.append(label, file);
  const body = el("div", "entry-body");
  body.append(el("p", "entry-how", words.message("label.entry_table_how")), first, field, told);
  node.append(el("summary", "", words.message("label.entry_table")), body);
  let seen = null;

  file.addEventListener("change", async () => {
    const [chosen] = file.files;
    if (chosen === undefined) return;
    if (chosen.size > MOST) {
      told.replaceChildren();
      file.value = "";
      return say(words.message("label.entry_too_large"));
    }
    // The bytes as they are: the server says what is wrong with them.
    const bytes = await chosen.arrayBuffer();
    const revision = desk.revision();
    draw(await post(`${desk.address}/csv?dry-run=&revision=${revision}&take=good`, bytes), bytes);
    // The same file can be chosen again when it was mended.
    file.value = "";
  });

  function draw(answer, bytes) {
    told.replaceChildren();
    seen = null;
    if (!answer.ok) return say(problemText(answer.body));
    const { kind, rows, mistakes = [] } = answer.body;
    say(words.message(`label.entry_table_${kind}`, { n: String(rows.length) }));
    mistakes.forEach((mistake) => say(mistakeText(mistake)));
    const list = el("ul", "entry-rows");
    for (const row of rows) {
      const said = rowWords(page, row);
      const item = el("li");
      item.dataset.fate = row.fate;
      item.append(el("span", "entry-line", said.line), el("strong", "", said.word), el("span", "entry-what", said.what));
      list.append(item);
    }
    told.append(list);
    const offer = offerOf(answer.body);
    if (offer === null) return say(words.message("label.entry_table_none"));
    seen = { bytes, revision: answer.body.revision, take: offer.take };
    const acts = el("div", "entry-acts");
    const take = button("act form-go", () => taken(seen));
    take.textContent = words.message(offer.label, { n: String(offer.n) });
    const leave = button("act", () => told.replaceChildren());
    leave.textContent = words.message("label.entry_table_leave");
    acts.append(take, leave);
    told.append(acts);
  }

  async function taken(what) {
    if (what === null || !desk.isSaved()) return;
    const answer = await post(`${desk.address}/csv?revision=${what.revision}&take=${what.take}`, what.bytes);
    if (!answer.ok || !answer.body.taken) return draw(answer, what.bytes);
    told.replaceChildren();
    say(words.message("label.entry_table_taken"));
    await desk.taken();
  }

  const say = (text) => told.append(el("p", "", text));
  const mistakeText = ({ field, ...mistake }) => [field && `${placeText(page, field)}: `, toldText(page, mistake, true)].join("");

  function problemText(problem) {
    if (problem?.type === "/problems/programme-changed") return words.message("label.entry_changed");
    if (problem?.type === "/problems/in-use") return problem.in_use.map((group) => toldText(page, begun(group))).join(" \u00b7 ");
    const [mistake] = problem?.mistakes ?? [];
    return mistake ? mistakeText(mistake) : words.message("label.entry_unanswered");
  }

  function update() {
    const ready = desk.isSaved();
    file.disabled = !ready;
    show(first, !ready);
    setText(first, words.message("label.entry_table_save_first"));
    if (!ready) told.replaceChildren();
  }
  show(first, false);
  return { node, update };
}
