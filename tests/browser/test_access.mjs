/* Every view in light and dark, on a wide screen and on a phone: nothing serious or critical for axe-core, no sideways scroll, targets for
 * a thumb. A screenshot of each is kept. */
import assert from "node:assert/strict";
import { STUDY_MS, check, fs, go, main, open, path, person, root, serve, shot, until } from "./harness.mjs";

const axe = fs.readFileSync(path.join(root, "tests/browser/node_modules/axe-core/axe.min.js"), "utf8");

const fixed = ["/", "/?option=electric-drive", "/?stage=now&situation=light", "/?units=imperial", "/findings", "/findings?line=sink",
               "/finding?name=afloat.openings.engine-vent", "/finding?name=afloat.flooded.engine-room", "/finding?name=afloat.weights",
               "/why?name=afloat.gm", "/why?name=afloat.gz-max", "/afloat", "/records", "/records?section=openings", "/records?section=situations",
               "/record?path=items.stove", "/record?path=items.fresh", "/record?path=hull", "/record?path=situations.party-aft", "/assumed",
               "/measure", "/plans", "/papers", "/history", "/why?name=nothing", "/record?path=items.nothing", "/nothing"];

async function settled(page) {
  await until(() => page.evaluate(() => document.querySelector("#study progress") === null), "the study", STUDY_MS);
}

async function violations(page) {
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations.filter(v => v.impact === "serious" || v.impact === "critical")
    .map(v => `${v.id} (${v.impact}): ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html.slice(0, 160)).join(" | ")}`);
}

const name = where => where.replace(/^\//, "").replace(/[^a-z0-9]+/g, "-") || "front";

/* Elements that are wider than the window and stand in no box of their own that scrolls. */
const wide = () => Array.from(document.querySelectorAll("body *")).filter(e => {
  const box = e.getBoundingClientRect();
  if (box.right <= innerWidth + 1 || box.width === 0) return false;
  for (let up = e.parentElement; up && up !== document.body; up = up.parentElement)
    if (/auto|scroll|hidden/.test(getComputedStyle(up).overflowX)) return false;
  return true;
}).slice(0, 4).map(e => e.outerHTML.slice(0, 120));

const small = () => Array.from(document.querySelectorAll("button, nav[aria-label='Pages'] a, nav.sections a, select, input:not([type=hidden]), summary"))
  .filter(e => e.checkVisibility() && e.getBoundingClientRect().height > 0 && e.getBoundingClientRect().height < 39.5)
  .slice(0, 4).map(e => `${e.outerHTML.slice(0, 100)} ${e.getBoundingClientRect().height}`);

await main(async () => {
  const boat = await serve();
  await boat.fetch("/plans");
  const edit = await person(boat), changed = await open(edit, boat, "/record?path=items.stove");   /* a history to look at */
  await changed.locator('[id="v-items.stove.along"]').fill("7 m");
  await changed.keyboard.press("Tab");
  await until(() => boat.text().includes("along: 7 m\n"), "an edit");
  await edit.close();

  const missing = /404/;
  for (const scheme of ["light", "dark"]) {
    const she = await person(boat, { colorScheme: scheme, bypassCSP: true, expected: missing });
    await she.addInitScript(axe);
    const page = await open(she, boat);
    for (const where of fixed)
      await check(`axe-core, ${scheme}: ${where}`, async () => {
        await go(page, boat, where);
        await settled(page);
        await shot(page, `${scheme}-${name(where)}`);
        assert.deepEqual(await violations(page), []);
      });
    if (scheme === "light")
      await check("axe-core: a field in error", async () => {
        await go(page, boat, "/record?path=items.stove");
        page.context().expected = /422/;
        await page.locator('[id="v-items.stove.height"]').fill("half a yard");
        await page.keyboard.press("Tab");
        await until(() => page.locator(".field.bad").count(), "the error");
        assert.deepEqual(await violations(page), []);
      });
    else
      await check("dark is dark", async () => {
        await go(page, boat, "/");
        const light = colour => colour.match(/[\d.]+/g).slice(0, 3).reduce((a, b) => a + Number(b), 0);
        assert.ok(light(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)) < 150);
        assert.ok(light(await page.evaluate(() => getComputedStyle(document.body).color)) > 500);
      });
    await she.close();
  }

  const phone = await person(boat, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2, expected: missing });
  const page = await open(phone, boat);
  for (const where of fixed)
    await check(`a phone: ${where}`, async () => {
      await go(page, boat, where);
      await settled(page);
      await shot(page, `phone-${name(where)}`);
      assert.deepEqual(await page.evaluate(wide), []);
      const most = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(most <= 390, `the page is ${most} wide`);
      assert.deepEqual(await page.evaluate(small), []);
    });
  await check("a phone: a thing is touched and its form opens", async () => {
    await go(page, boat, "/");
    const mark = page.locator('.view a.movable[data-path="items.anchor"]').first();
    await mark.scrollIntoViewIfNeeded();
    await mark.tap();
    await page.waitForURL(/record\?path=/);
  });
});
