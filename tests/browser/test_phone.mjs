/* Every view on a phone: no sideways scroll, targets for a thumb. A screenshot of each is kept. */
import assert from "node:assert/strict";
import { check, go, main, open, person, serve, shot } from "./harness.mjs";
import { MISSING, edit, settled, slug, views } from "./views.mjs";

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
  const phone = await person(boat, { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2, expected: MISSING });
  const page = await open(phone, boat);
  await edit(page, boat);
  for (const where of views)
    await check(`a phone: ${where}`, async () => {
      await go(page, boat, where);
      await settled(page);
      await shot(page, `phone-${slug(where)}`);
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
