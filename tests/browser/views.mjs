/* Every view there is, and what a test of each of them needs. */
import { STUDY_MS, until } from "./harness.mjs";

export const views = [
  "/", "/?option=electric-drive", "/?stage=now&situation=light", "/?units=imperial", "/findings", "/findings?line=sink",
  "/finding?name=afloat.openings.engine-vent", "/finding?name=afloat.flooded.engine-room", "/finding?name=afloat.weights",
  "/why?name=afloat.gm", "/why?name=afloat.gz-max", "/afloat", "/records", "/records?section=openings", "/records?section=situations",
  "/record?path=items.stove", "/record?path=items.fresh", "/record?path=hull", "/record?path=situations.party-aft", "/assumed",
  "/measure", "/plans", "/papers", "/history", "/why?name=nothing", "/record?path=items.nothing", "/nothing",
];
export const MISSING = /404/;   /* what the console says of the last three */

export const slug = where => where.replace(/^\//, "").replace(/[^a-z0-9]+/g, "-") || "front";

/* No study of the view is still at work. */
export async function settled(page) {
  await until(() => page.evaluate(() => document.querySelector("#study progress") === null), "the study", STUDY_MS);
}

/* An edit through the page, so that the history has something to show. */
export async function edit(page, boat) {
  await page.goto(`${boat.address}/record?path=items.stove`);
  await page.locator('[id="v-items.stove.along"]').fill("7 m");
  await page.keyboard.press("Tab");
  await until(() => boat.text().includes("along: 7 m\n"), "an edit");
}
