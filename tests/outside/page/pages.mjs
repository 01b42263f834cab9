// Pages of a running server in Chromium: opened on a screen of some size, looked at for what no page may do.

import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { join } from "node:path";

/** Long enough for a loaded build machine, short enough that a hang is seen. */
export const PATIENCE = 30_000;
/** A button that has just changed takes no tap, so that nobody hits what was not read. */
export const READ_FIRST = 900;
/** WCAG 2.2, 2.5.5: a target is at least 44 by 44 CSS pixels. */
const TARGET = 44;
export const PHONE = { width: 360, height: 740 };
export const TABLET = { width: 1024, height: 768 };
export const WALL = { width: 1920, height: 1080 };

// `NODE_PATH` does not hold for modules, so the packages are found by their folder.
const modules = process.env.TURNABOUT_OUTSIDE_NODE_MODULES ?? join(process.cwd(), "node_modules");
const need = createRequire(join(modules, "pages.cjs"));
const { chromium } = need("playwright-core");
const AXE = readFileSync(need.resolve("axe-core/axe.min.js"), "utf8");
/** The rules of WCAG 2.0 to 2.2, levels A and AA, by axe-core's own tags. */
const WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

export const launch = () =>
  chromium.launch({
    executablePath: process.env.TURNABOUT_CHROMIUM ?? "/usr/bin/chromium",
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });

/** What a run of the browser found: errors, how much there was to tap, and how many rules of axe-core were looked at. */
export class Found {
  errors = [];
  targets = 0;
  rules = 0;
  #isTold;

  /** Where the pages themselves tell what the server refuses, as 4xx, that is no error of the browser's log. */
  constructor({ refused = false } = {}) {
    this.#isTold = (text) => refused && /status of 4\d\d/.test(text);
  }

  /** Opens a page of the server at `url` on a screen of its own and notes whatever goes wrong on it. */
  async open(browser, url, path, viewport, more = {}) {
    const context = await browser.newContext({ viewport, locale: "en-GB", ...more });
    return this.openIn(context, url, path, viewport);
  }

  /** The same within a browser's context that is there: what it keeps is kept. */
  async openIn(context, url, path, viewport) {
    const page = await context.newPage();
    const at = `${path} at ${viewport.width}x${viewport.height}`;
    page.setDefaultTimeout(PATIENCE);
    // A breach of the policy is logged as an error too.
    page.on("console", (message) => message.type() === "error" && !this.#isTold(message.text()) && this.errors.push(`${at}: ${message.text()}`));
    page.on("pageerror", (error) => this.errors.push(`${at}: ${error}`));
    const asked = [];
    page.on("request", (request) => asked.push(new URL(request.url()).pathname));
    page.on("websocket", (socket) => asked.push(new URL(socket.url()).pathname));
    const answer = await page.goto(url + path);
    const policy = answer.headers()["content-security-policy"] ?? "";
    if (!policy.includes("default-src") || policy.includes("unsafe")) this.errors.push(`${at}: the policy is "${policy}"`);
    return { page, at, context, asked };
  }

  /** Nothing runs off sideways, and whatever can be tapped is large enough. */
  async look({ page, at }) {
    const found = await page.evaluate(() => ({
      wide: document.documentElement.scrollWidth - document.documentElement.clientWidth,
      targets: [...document.querySelectorAll("button, a, select, summary, input, textarea")]
        .map((node) => ({ name: (node.textContent.trim() || node.id).slice(0, 40), box: node.getBoundingClientRect() }))
        .filter(({ box }) => box.width > 0 && box.height > 0)
        .map(({ name, box }) => ({ name, width: box.width, height: box.height })),
    }));
    if (found.wide > 0) this.errors.push(`${at}: ${found.wide} pixels run off`);
    this.targets += found.targets.length;
    for (const { name, width, height } of found.targets) {
      if (Math.min(width, height) < TARGET) this.errors.push(`${at}: ${name} is ${width} by ${height}`);
    }
  }

  /** Opens whatever is closed, and what was drawn because of that, until all there is stands open. */
  async openAll({ page }) {
    const closed = () => page.evaluate(() => {
      const found = [...document.querySelectorAll("details:not([open])")];
      found.forEach((node) => (node.open = true));
      // What is drawn on opening is there after the event that says so.
      return new Promise((done) => setTimeout(() => done(found.length), 50));
    });
    while ((await closed()) > 0);
  }

  /** How many sheets of paper a page takes where it says how large they are; kept as a file where one is named. */
  async sheets({ page }, path) {
    const pdf = await page.pdf({ preferCSSPageSize: true, ...(path ? { path } : {}) });
    return pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
  }

  /** axe-core finds nothing against WCAG, A or AA. Its script is run from outside, so the page's policy stays as it is. */
  async axe({ page, at }, when) {
    await page.evaluate(AXE);
    const size = page.viewportSize();
    // What the bar at the foot covers can be scrolled out from under it, and what is out of sight is not laid out: it is
    // looked at on a screen that shows it all, which takes two looks, for what is laid out then may be longer.
    for (let looks = 0; looks < 2; looks += 1) {
      const whole = await page.evaluate(() => (document.querySelector(".bar") ? document.documentElement.scrollHeight + innerHeight : 0));
      await page.setViewportSize({ ...size, height: Math.max(size.height, whole) });
      await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
    }
    const told = await page.evaluate((values) => globalThis.axe.run(document, { runOnly: { type: "tag", values } }), WCAG);
    await page.setViewportSize(size);
    this.rules = Math.max(this.rules, told.passes.length);
    for (const { id, help, nodes } of told.violations) {
      for (const node of nodes) this.errors.push(`${at}, ${when}: ${id} (${help}): ${node.html.slice(0, 160)} ${node.failureSummary}`);
    }
  }
}
