// Prints the run sheet of the coach's page for every page of a file, a line each: `node run_sheets.mjs FILE`, where a line of
// the file is `{ now, view }`. A row is who, in how long, where, what for, with which load and why then.

import { readFileSync } from "node:fs";

import { callRows, callWords } from "../../../server/src/web/assets/call_row.js";
import { inOrder, rowWords } from "../../../server/src/web/assets/needs.js";
import { lengthText } from "../../../server/src/web/assets/phase.js";
import { startText } from "../../../server/src/web/assets/promise.js";
import { softNeeds } from "../../../server/src/web/assets/soft_needs.js";
import { Catalogue } from "../../../server/src/web/assets/text.js";

const words = new Catalogue(JSON.parse(readFileSync(new URL("../../../protocol/text/en.json", import.meta.url))), "en");

/** What stands in no place that everybody can read. */
const OWN = new Set(["need_screen", "need_missing", "need_nobody", "need_receive", "need_offer", "need_give", "need_turn"]);

function row(one, view, now) {
  if (one.call) {
    const { what, place } = callWords(words, one.call);
    return [place, `${words.message("label.page_waiting_since")} ${lengthText(Math.floor((now - one.call.since) / 1000))}`, "", what, "", ""];
  }
  const said = rowWords(words, one, view, { now, rate: 1, zoneOffset: view.zone_offset, wall: 0 });
  const { lead, figure } = startText(words, one.start, now, one.about);
  const what = [words.message(`label.page_${one.task}`), said.mark].filter(Boolean).join(", ");
  const row = [one.client, `${lead} ${figure}`.trim(), said.place, what, said.load, said.why];
  switch (one.task) {
    // How a set felt is nobody else's, and neither is which way a load goes because of it.
    case "need_decide": return [...row.slice(0, 4), one.say.replace(/^[^:]*: /, ""), ""];
    // Stations that are done with are where something is to be done.
    case "need_free": return [...row.slice(0, 2), one.say, ...row.slice(3)];
    default: return row;
  }
}

const lines = readFileSync(process.argv[2], "utf8").split("\n").filter(Boolean);
for (const line of lines) {
  const { now, view } = JSON.parse(line);
  const time = { now, rate: 1, zoneOffset: view.zone_offset, wall: 0 };
  // What another coach has gone to is on the page and on no display.
  const calls = callRows(view).filter(({ start }) => start !== null);
  const { first, later } = inOrder([...calls, ...softNeeds(words, view, time), ...(view.run_sheet ?? [])], now);
  console.log(JSON.stringify([...first, ...later].filter(({ task }) => !OWN.has(task)).map((one) => row(one, view, now))));
}
