/* With an option chosen the form says where an edit goes and can switch; units switch, and no number changes while it is edited. */
import assert from "node:assert/strict";
import { after, check, field, form, go, main, open, person, serve, shot, type, until, written } from "./harness.mjs";

await main(async () => {
  const boat = await serve(), she = await person(boat), page = await open(she, boat);
  const into = which => form(page, which).locator("select.into");
  const motor = "items.drive-motor.along", stove = "items.stove.along", changes = "options.electric-drive.changes.";

  await check("the choosers go where they point, and links keep what was chosen", async () => {
    await page.locator('.choose select[name="option"]').selectOption("electric-drive");
    await page.waitForURL(/option=electric-drive/);
    await page.locator('.choose select[name="stage"]').selectOption("now");
    await page.waitForURL(/stage=now/);
    await page.locator('.choose select[name="situation"]').selectOption("light");
    await page.waitForURL(/situation=light/);
    await page.locator("nav a", { hasText: "What stands in the way" }).click();
    await page.waitForURL(url => url.pathname === "/findings" && url.searchParams.get("option") === "electric-drive" &&
                                 url.searchParams.get("stage") === "now" && url.searchParams.get("situation") === "light");
  });
  await check("another plan is another boat", async () => {
    const mass = async query => { await go(page, boat, `/${query}`); return page.locator("dl.few dd").first().innerText(); };
    assert.notEqual(await mass(""), await mass("?option=electric-drive"));
    assert.notEqual(await mass(""), await mass("?stage=now"));
  });
  await check("what the option adds is edited in the option, and the form says so", async () => {
    await go(page, boat, "/record?path=items.drive-motor&option=electric-drive");
    assert.match(await into(motor).locator("option:checked").innerText(), /into the option electric drive/);
    await shot(page, "option-form");
    await after(page, () => type(page, motor, "3.15 m"));
    assert.equal(written(boat.text(), changes + motor), "3.15 m");
    assert.equal(written(boat.text(), motor), undefined);
  });
  await check("all else is edited in the base plan, and the form says so", async () => {
    await go(page, boat, "/record?path=items.stove&option=electric-drive");
    assert.match(await into(stove).locator("option:checked").innerText(), /into the base plan/);
    await after(page, () => type(page, stove, "6.85 m"));
    assert.equal(written(boat.text(), stove), "6.85 m");
    assert.equal(written(boat.text(), changes + stove), undefined);
  });
  await check("switched, the same field goes into the option, and the base stays", async () => {
    await field(page, stove).fill("6.8 m");
    await after(page, () => into(stove).selectOption("electric-drive"));
    await until(() => written(boat.text(), changes + stove) === "6.8 m", "in the option");
    assert.equal(written(boat.text(), stove), "6.85 m");
    await until(async () => /into the option/.test(await into(stove).locator("option:checked").innerText()), "the form says so");
    await go(page, boat, "/record?path=items.stove");
    assert.equal(await field(page, stove).inputValue(), "6.85 m");
    assert.equal(await into(stove).count(), 0, "no option chosen, nothing to say");
  });
  await check("a move in a picture goes where the option says", async () => {
    await go(page, boat, "/?option=electric-drive");
    const base = written(boat.text(), "items.drive-motor.along");
    await page.locator('.view a.movable[data-path="items.drive-motor"]').first().focus();
    await after(page, () => page.keyboard.press("ArrowRight"));
    assert.equal(parseFloat(written(boat.text(), changes + motor)), 3.2);
    assert.equal(written(boat.text(), "items.drive-motor.along"), base);
  });
  await check("imperial: the page speaks it, the file and the fields keep the owner's text", async () => {
    const text = boat.text();
    await go(page, boat, "/record?path=items.stove");
    const metric = await form(page, stove).locator(".reads").innerText();
    await page.locator('.choose select[name="units"]').selectOption("imperial");
    await page.waitForURL(/units=imperial/);
    assert.equal(await field(page, stove).inputValue(), "6.85 m");
    const imperial = await form(page, stove).locator(".reads").innerText();
    assert.match(metric, /\bm\b/);
    assert.match(imperial, /\bft\b/);
    assert.ok(Math.abs(parseFloat(imperial) * 0.3048 - parseFloat(metric)) < 0.1, `${metric} and ${imperial}`);
    assert.equal(boat.text(), text);
    await after(page, () => type(page, stove, "22 ft 6 in"));
    assert.equal(written(boat.text(), stove), "22 ft 6 in", "units are taken as typed");
    assert.equal(await field(page, stove).inputValue(), "22 ft 6 in");
  });
  await check("the basis rewrites the text", async () => {
    await after(page, () => page.locator(`[id="b-${stove}"]`).selectOption("measured"));
    assert.equal(written(boat.text(), stove), "22 ft 6 in (measured)");
  });
});
