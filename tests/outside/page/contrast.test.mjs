// Every colour that carries words can be read on every ground it stands on.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const coloursOf = (file) => {
  const css = readFileSync(new URL(`../../../server/src/web/assets/${file}`, import.meta.url), "utf8");
  return Object.fromEntries([...css.matchAll(/--([a-z]+): (#[0-9a-f]{6});/g)].map(([, name, hex]) => [name, hex]));
};
const dark = coloursOf("theme.css");
const light = { ...dark, ...coloursOf("light.css") };

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

for (const [theme, colours] of Object.entries({ dark, light })) {
  test(`in the ${theme} words pass AA on page and card, and what stands on a hue passes there`, () => {
    // WCAG 2.2, 1.4.3: at least 4.5 to 1.
    for (const name of ["chalk", "dim", "orange", "sky", "green", "yellow", "vermillion", "purple"]) {
      for (const ground of ["ink", "card"]) {
        const found = ratio(colours[name], colours[ground]);
        assert.ok(found >= 4.5, `${name} on ${ground}: ${found}`);
      }
    }
    const on = [["#000000", "alarm"], ["#000000", "lost"], [colours.ink, "chalk"], [colours.ink, "yellow"], [colours.armed, "vermillion"]];
    for (const [words, ground] of on) assert.ok(ratio(words, colours[ground]) >= 4.5, ground);
    // WCAG 2.2, 1.4.11: the edge of a button at least 3 to 1.
    for (const ground of ["ink", "card"]) assert.ok(ratio(colours.edge, colours[ground]) >= 3, ground);
    // A button that is held down.
    assert.ok(ratio(colours.chalk, colours.pressed) >= 4.5);
  });
}

test("the light changes every colour but the two loud grounds, and is only what the device asks for", () => {
  const same = Object.keys(dark).filter((name) => dark[name] === light[name]);
  assert.deepEqual(same, ["alarm", "lost"]);
  const css = readFileSync(new URL("../../../server/src/web/assets/light.css", import.meta.url), "utf8");
  assert.match(css.replace(/\/\*.*?\*\//s, "").trim(), /^@media \(prefers-color-scheme: light\) \{/);
});
