// Enters a client, a mistake and a table on the page of clients and sessions, in Chromium against a running server.
//
//   node enter.mjs URL PICTURES [COACH]
//
// URL is the server's (`http://127.0.0.1:8080`), PICTURES a folder for PNG files, COACH a key (`coach-1`). Ends with 0 when
// a client could be saved, a mistake was told at its field and in the summary, a table was told row by row and its good
// rows taken, a mistake was told in German on a German page, and nothing ran off sideways, was too small for a finger, was
// found by axe-core or was logged as an error. What went on is printed as one JSON line.

import { join } from "node:path";

import { TABLET, Found, launch } from "./pages.mjs";

const [url, pictures, coach = "coach-1"] = process.argv.slice(2);
if (!url || !pictures) throw new Error("usage: enter.mjs URL PICTURES [COACH]");

const PHONE = { width: 390, height: 844 };
const NUMBER = 777;
const TABLE = `number,name,unit\n${NUMBER},Yara,lb\n778,Zeno,\n779,Wanja,stone\n`;

const browser = await launch();
const found = new Found({ refused: true });
const { errors } = found;
const open = (path, viewport, locale = "en-GB") => found.open(browser, url, path, viewport, { locale });
async function look(opened) {
  await found.look(opened);
  await found.axe(opened, "as it is");
}

const status = (page, text) => page.waitForFunction((want) => document.querySelector(".bar .answer")?.textContent.startsWith(want) ?? false, text);
const picture = (page, name) => page.screenshot({ path: join(pictures, `${name}.png`), fullPage: true });

/** A client whose name is missing, then there: told at the field, in the summary, and saved. */
async function enterClient(phone) {
  const { page, at } = phone;
  await status(page, "As saved.");
  await look(phone);
  await page.getByRole("button", { name: "Add a client" }).click();
  const name = page.locator(":focus");
  const path = (await name.getAttribute("id")).replace("field-", "");
  await page.locator(`[id="field-${path.replace(".name", ".number")}"]`).fill(String(NUMBER));
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await status(page, "Mistakes: 1");
  if (!(await page.evaluate(() => document.activeElement.classList.contains("entry-summary")))) errors.push(`${at}: the summary has no focus`);
  if ((await name.count()) !== 1 || !(await page.locator(`[id="field-${path}"]`).getAttribute("aria-invalid"))) errors.push(`${at}: the field is not marked`);
  await look(phone);
  await picture(page, "mistake");
  await page.locator(".entry-summary .entry-link").first().click();
  await page.keyboard.type("Yara");
  await status(page, "No mistakes.");
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await status(page, "Saved.");
  return path;
}

/** Every section open: what is looked at then is all there is. */
async function openAll(opened) {
  for (let depth = 0; depth < 5; depth += 1) await opened.page.evaluate(() => document.querySelectorAll("details").forEach((node) => (node.open = true)));
  // Sections fill when the browser says that they are open.
  await opened.page.locator(".entry-cost").first().waitFor();
  await opened.page.evaluate(() => document.querySelectorAll("details").forEach((node) => (node.open = true)));
  await opened.page.locator(".entry-members").first().waitFor();
  await look(opened);
}

/** A table with one bad row: told row by row, and the good rows taken. */
async function takeTable(phone) {
  const { page, at } = phone;
  await page.locator("#entry-table-file").setInputFiles({ name: "clients.csv", mimeType: "text/csv", buffer: Buffer.from(TABLE) });
  const rows = page.locator(".entry-rows li");
  await rows.nth(2).waitFor();
  const fates = await rows.evaluateAll((nodes) => nodes.map((node) => node.dataset.fate));
  if (fates.join() !== "changed,new,refused") errors.push(`${at}: the fates are ${fates.join()}`);
  await look(phone);
  await picture(page, "table");
  await page.getByRole("button", { name: "Take the 2 good rows" }).click();
  await page.locator(".entry-told", { hasText: "Taken and saved." }).waitFor();
  await page.locator(".entry-section > summary", { hasText: "Zeno, 778" }).waitFor();
  return fates;
}

/** A mistake is told in the language of the page, by the labels that are on it. */
async function mistakeInGerman(tablet) {
  const { page, at } = tablet;
  await page.locator('[id="field-client[1].name"]').fill("");
  await status(page, "Fehler: 1");
  const told = await page.locator(".entry-summary .entry-link").first().textContent();
  if (!told.endsWith(" \u00b7 Name auf Anzeigen: Noch leer. N\u00f6tig: 1 bis 40 Zeichen in einer Zeile.")) errors.push(`${at}: a mistake is told as ${told}`);
  await look(tablet);
}

try {
  const phone = await open(`/programme?me=${coach}`, PHONE);
  const path = await enterClient(phone);
  await openAll(phone);
  await picture(phone.page, "phone");
  const fates = await takeTable(phone);
  const tablet = await open(`/programme?me=${coach}`, TABLET, "de-DE");
  await tablet.page.locator(".entry-section").first().waitFor();
  await look(tablet);
  await picture(tablet.page, "tablet-closed");
  await openAll(tablet);
  await picture(tablet.page, "tablet");
  await mistakeInGerman(tablet);
  console.log(JSON.stringify({ path, fates, targets: found.targets, rules: found.rules }));
} catch (error) {
  errors.push(String(error));
} finally {
  await browser.close();
}
if (errors.length > 0) {
  console.error(errors.join("\n"));
  process.exitCode = 1;
}
