// Prints pages of a running server on A4, in both languages, as Chromium does from its own print dialogue.
//
//   node paper.mjs URL FOLDER NAME=PATH...
//
// Each page becomes FOLDER/NAME-en.pdf and FOLDER/NAME-de.pdf. With backgrounds, so that whatever is drawn behind a text
// is there to be found. What went wrong on a page is on standard error, and the names of the files are one JSON line.

import { join } from "node:path";

import { TABLET, Found, launch } from "./pages.mjs";

const LANGUAGES = { en: "en-GB", de: "de-DE" };

const [url, folder, ...pages] = process.argv.slice(2);
if (!url || !folder || pages.length === 0) throw new Error("usage: paper.mjs URL FOLDER NAME=PATH...");

const browser = await launch();
const found = new Found();
const files = [];
try {
  for (const [tag, locale] of Object.entries(LANGUAGES)) {
    for (const asked of pages) {
      const [name, ...path] = asked.split("=");
      // Dark, as a coach's phone may be set: paper is white all the same.
      const shown = await found.open(browser, url, path.join("="), TABLET, { locale, colorScheme: "dark" });
      await shown.page.locator(".sheet").first().waitFor();
      files.push(`${name}-${tag}.pdf`);
      await shown.page.pdf({ preferCSSPageSize: true, printBackground: true, path: join(folder, files.at(-1)) });
      await shown.context.close();
    }
  }
  console.log(JSON.stringify({ files }));
} finally {
  await browser.close();
}
if (found.errors.length > 0) {
  console.error(found.errors.join("\n"));
  process.exitCode = 1;
}
