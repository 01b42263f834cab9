// The first page: puts the floor's own names into the list of what there is to open.

import { loadFloor } from "./choose.js";
import { el } from "./dom.js";

const floor = await loadFloor();
if (floor !== null) {
  document.getElementById("floor").textContent = floor.name;
  for (const station of floor.stations) {
    const item = el("li");
    item.append(el("span", "", station.name), el("code", "", `turnabout-kiosk --server ${location.origin} --station ${station.key}`));
    document.getElementById("kiosks").append(item);
  }
}
