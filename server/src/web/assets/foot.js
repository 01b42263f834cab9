// The foot of a coach's page: notes, what can be said of the floor, how to read the strips, this device, and the way to clients and sessions.

import { devicePart } from "./device.js";
import { el, show } from "./dom.js";
import { formSection } from "./form.js";
import { floorForms } from "./forms.js";
import { notesPanel } from "./notes.js";
import { ribbonLegend } from "./ribbon_legend.js";

/** `hooks` as for a card, and `coach`; updated with the coach's view. `refresh()` asks for older notes again. */
export function footPart(words, hooks, senses) {
  const node = el("div", "foot");
  const notes = notesPanel(words, hooks);
  const floor = formSection(hooks.tap);
  const entry = el("a", "act", words.message("label.entry_title"));
  entry.href = `/programme?me=${encodeURIComponent(hooks.coach)}`;
  const legend = ribbonLegend(words);
  node.append(notes.node, floor.node, legend.node, devicePart(words, senses).node, entry);
  return {
    node,
    update(view) {
      floor.update({ title: words.message("label.page_floor"), forms: () => floorForms(words, view) });
      notes.update(view);
      show(legend.node, view.groups.some(({ clients }) => clients.some(({ ribbon }) => ribbon?.length > 0)));
    },
    refresh: notes.refresh,
  };
}
