/* The keyboard alone suffices: from the address to an edit, a move, a reading off a curve, an undo. */
import assert from "node:assert/strict";
import { after, check, go, main, open, person, serve, until, written } from "./harness.mjs";

/* Presses Tab until the focused element is the one; what was passed on the way must show that it had the focus. */
async function tab_to(page, wanted, most = 400) {
  for (let i = 0; i < most; i++) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(selector => document.activeElement.matches(selector), wanted)) return;
  }
  throw new Error(`Tab does not reach ${wanted}`);
}

const focus_shows = () => {
  const style = getComputedStyle(document.activeElement);
  return style.outlineStyle !== "none" && parseFloat(style.outlineWidth) > 0 || style.boxShadow !== "none";
};

await main(async () => {
  const boat = await serve(), she = await person(boat), page = await open(she, boat);
  const before = boat.text();

  await check("the first Tab offers to skip to the page, and does", async () => {
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement.className), "skip");
    assert.ok(await page.locator(".skip").isVisible());
    await page.keyboard.press("Enter");
    assert.equal(new URL(page.url()).hash, "#main");
  });
  await check("every stop of the Tab key shows that it has the focus", async () => {
    await go(page, boat, "/records");
    for (let i = 0; i < 40; i++) {
      await page.keyboard.press("Tab");
      assert.ok(await page.evaluate(focus_shows), await page.evaluate(() => document.activeElement.outerHTML.slice(0, 120)));
    }
  });
  await check("the menu, a record, a field, an edit", async () => {
    await go(page, boat, "/");
    await tab_to(page, 'nav a[href="/records"]');
    await page.keyboard.press("Enter");
    await page.waitForURL(/\/records/);
    await tab_to(page, 'a[href*="items.stove"]');
    await page.keyboard.press("Enter");
    await page.waitForURL(/items\.stove/);
    await tab_to(page, '[id="v-items.stove.along"]');
    await page.keyboard.press("Control+a");
    await page.keyboard.type("7.05 m");
    await after(page, () => page.keyboard.press("Enter"));
    assert.equal(written(boat.text(), "items.stove.along"), "7.05 m");
    assert.equal(await page.evaluate(() => document.activeElement.id), "v-items.stove.along");
    await page.keyboard.press("Tab");
    assert.equal(await page.evaluate(() => document.activeElement.id), "b-items.stove.along", "on to the next");
  });
  await check("one edit is one revision, though Enter both changes and submits", async () => {
    await page.keyboard.press("Tab");
    const rows = (await (await boat.fetch("/history")).text()).match(/<tr>/g).length;
    assert.equal(rows, 3, "head, the first text, the edit");
  });
  await check("a choice by the arrow keys", async () => {
    await tab_to(page, '[id="v-items.stove.state"]');
    await after(page, async () => { await page.keyboard.press("ArrowUp"); await page.keyboard.press("Tab"); });
    assert.notEqual(written(boat.text(), "items.stove.state"), "to-fit");
  });
  await check("a thing in the profile is moved, and left again by Escape", async () => {
    await go(page, boat, "/");
    await tab_to(page, '.view a.movable[data-path="items.anchor"]');
    const text = boat.text();
    await page.keyboard.press("ArrowLeft");
    assert.ok(await page.locator(".ghost").count() > 0, "the ghost shows where it would go");
    await page.keyboard.press("Escape");
    assert.equal(await page.locator(".ghost").count(), 0);
    assert.equal(boat.text(), text);
    await after(page, () => page.keyboard.press("ArrowLeft"));
    assert.equal(written(boat.text(), "items.anchor.along"), "14.75 m");
    assert.equal(await page.evaluate(() => document.activeElement.dataset.path), "items.anchor");
  });
  await check("a curve is read off by the arrow keys", async () => {
    await go(page, boat, "/afloat");
    await tab_to(page, "svg#righting-lever[data-frame]");
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight");
    assert.match(await page.locator("#righting-lever-read").innerText(), /\d m at -?[\d.]+ deg/);
  });
  await check("undo, thrice", async () => {
    for (let i = 0; i < 3; i++) {
      await go(page, boat, "/history");
      await tab_to(page, 'form[action="/undo"] button');
      const text = boat.text();
      await page.keyboard.press("Enter");
      await until(() => boat.text() !== text, "undone");
    }
    assert.equal(boat.text(), before);
  });
});
