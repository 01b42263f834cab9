// Every colour that carries words can be read on every ground it stands on.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const css = readFileSync(new URL("../../../server/src/web/assets/theme.css", import.meta.url), "utf8");
const colours = Object.fromEntries([...css.matchAll(/--([a-z]+): (#[0-9a-f]{6});/g)].map(([, name, hex]) => [name, hex]));

/** WCAG 2.2, relative luminance and contrast ratio. */
function luminance(hex) {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function ratio(a, b) {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
}

test("the formula gives the published ratios", () => {
  // WCAG 2.2: black on white is 21:1, and #767676 on white is the known last grey that passes 4.5.
  assert.equal(ratio("#000000", "#ffffff"), 21);
  assert.ok(ratio("#777777", "#ffffff") < 4.5 && ratio("#767676", "#ffffff") >= 4.5);
});

test("words pass AA on page and card, black passes on the two loud grounds", () => {
  // WCAG 2.2, 1.4.3: at least 4.5 to 1.
  for (const name of ["chalk", "dim", "orange", "sky", "green", "yellow", "vermillion", "purple"]) {
    for (const ground of ["ink", "card"]) {
      const found = ratio(colours[name], colours[ground]);
      assert.ok(found >= 4.5, `${name} on ${ground}: ${found}`);
    }
  }
  for (const ground of ["yellow", "vermillion", "chalk"]) assert.ok(ratio("#000000", colours[ground]) >= 4.5, ground);
  // WCAG 2.2, 1.4.11: the edge of a button at least 3 to 1.
  for (const ground of ["ink", "card"]) assert.ok(ratio(colours.edge, colours[ground]) >= 3, ground);
});
