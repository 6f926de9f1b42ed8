/* Scripts off: every form works by post and reload, an error keeps what was typed, a study comes by itself. */
import assert from "node:assert/strict";
import { STUDY_MS, check, field, form, go, main, open, person, serve, shot, until, written } from "./harness.mjs";

const set = async (page, which, value) => {
  await field(page, which).fill(value);
  await form(page, which).getByRole("button", { name: "Set" }).click();
};

await main(async () => {
  const boat = await serve();
  const she = await person(boat, { javaScriptEnabled: false, expected: /422|409/ }), page = await open(she, boat);
  const before = boat.text(), stove = "/record?path=items.stove";

  await check("the front view is whole without scripts", async () => {
    assert.equal(await page.locator("ol.five > li").count(), 5);
    assert.ok(await page.locator("svg#arrangement").count() === 1);
    await shot(page, "plain-front");
  });
  await check("a field is set by its button, and the page comes back by a second request", async () => {
    await go(page, boat, stove);
    await set(page, "items.stove.along", "7.25 m");
    assert.equal(written(boat.text(), "items.stove.along"), "7.25 m");
    assert.equal(new URL(page.url()).pathname, "/record");
    assert.equal(await field(page, "items.stove.along").inputValue(), "7.25 m");
    await page.reload();
    assert.equal(written(boat.text(), "items.stove.along"), "7.25 m");
  });
  await check("Enter in a field sends it", async () => {
    await field(page, "items.stove.along").fill("7.3 m");
    await field(page, "items.stove.along").press("Enter");
    await page.waitForLoadState();
    await until(() => written(boat.text(), "items.stove.along") === "7.3 m", "the edit");
  });
  await check("what cannot be read keeps what was typed, says why, and changes nothing", async () => {
    const text = boat.text();
    await set(page, "items.stove.along", "7.3 mm2");
    assert.equal(boat.text(), text);
    assert.equal(await field(page, "items.stove.along").inputValue(), "7.3 mm2");
    assert.match(await form(page, "items.stove.along").locator(".error").innerText(), /mm2/);
    const described = await field(page, "items.stove.along").getAttribute("aria-describedby");
    assert.ok(described.includes("e-items.stove.along"));
    await shot(page, "plain-error");
    await set(page, "items.stove.along", "7.35 m");
    assert.equal(written(boat.text(), "items.stove.along"), "7.35 m");
  });
  await check("a choice and a basis are set", async () => {
    await go(page, boat, stove);
    await field(page, "items.stove.state").selectOption("aboard");
    await form(page, "items.stove.state").getByRole("button", { name: "Set" }).click();
    assert.equal(written(boat.text(), "items.stove.state"), "aboard");
    await page.locator('[id="b-items.stove.along"]').selectOption("measured");
    await form(page, "items.stove.along").getByRole("button", { name: "Set" }).click();
    assert.equal(written(boat.text(), "items.stove.along"), "7.35 m (measured)");
  });
  await check("a field emptied leaves the file", async () => {
    await go(page, boat, stove);
    await field(page, "items.stove.state").selectOption("");
    await form(page, "items.stove.state").getByRole("button", { name: "Set" }).click();
    assert.equal(written(boat.text(), "items.stove.state"), undefined);
  });
  await check("a clash shows both values", async () => {
    await go(page, boat, stove);
    boat.write(boat.text().replace("7.35 m (measured)", "7.4 m (measured)"));
    await set(page, "items.stove.along", "7.5 m");
    const told = await form(page, "items.stove.along").innerText();
    assert.match(told, /7\.4 m/);
    assert.match(told, /7\.5 m/);
    assert.equal(written(boat.text(), "items.stove.along"), "7.4 m (measured)");
  });
  await check("a thing is added and taken out again", async () => {
    await go(page, boat, "/records?section=items");
    await page.locator('form.add input[name="what"]').fill("ship's cat");
    await page.locator("form.add").getByRole("button").click();
    await page.waitForURL(/record\?path=items\.ship-s-cat/);
    assert.match(boat.text(), /ship-s-cat:/);
    assert.match(await page.locator("h1").innerText(), /ship's cat/);
    await page.getByRole("button", { name: "Take it out of the file" }).click();
    assert.doesNotMatch(boat.text(), /cat/);
  });
  await check("undo and redo by their buttons", async () => {
    const now = boat.text();
    await go(page, boat, "/");
    await page.getByRole("button", { name: "Undo the last change" }).click();
    assert.match(boat.text(), /ship-s-cat:/);
    assert.match(await page.locator(".banner.good").innerText(), /Undone/);
    await page.getByRole("button", { name: "Redo" }).click();
    assert.equal(boat.text(), now);
  });
  await check("the choosers work by their button", async () => {
    await go(page, boat, "/");
    await page.locator('.choose select[name="option"]').selectOption("electric-drive");
    await page.locator('.choose select[name="units"]').selectOption("imperial");
    await page.locator(".choose").getByRole("button", { name: "Show" }).click();
    await page.waitForURL(/option=electric-drive/);
    assert.match(await page.locator("dl.few").innerText(), /\bft\b|\bin\b|\blb\b/);
    assert.equal(await page.locator('.choose select[name="option"]').inputValue(), "electric-drive");
  });
  await check("a study refreshes by itself and comes", async () => {
    await go(page, boat, "/plans");
    await until(() => page.locator("table.plans").count(), "the comparison", STUDY_MS);
    await shot(page, "plain-plans");
  });
  await check("a remedy is tried and applied", async () => {
    const text = boat.text();
    await go(page, boat, "/finding?name=afloat.openings.engine-vent");
    await until(() => page.locator("ul.remedies li a.more").count(), "a remedy", STUDY_MS);
    await page.locator("ul.remedies li a.more").first().click();
    await until(() => page.getByRole("button", { name: "Apply it to the boat file" }).count(), "tried", STUDY_MS);
    await page.getByRole("button", { name: "Apply it to the boat file" }).click();
    await until(() => boat.text() !== text, "applied");
  });
  await check("an earlier state is looked at and brought back", async () => {
    await go(page, boat, "/history");
    await page.getByRole("link", { name: "Look at it" }).last().click();
    assert.match(await page.locator(".banner:visible").first().innerText(), /earlier state/);
    await page.getByRole("button", { name: "Bring this state back" }).click();
    await until(() => boat.text() === before, "the first text");
  });
  await check("the name typed is the one in the history", async () => {
    await go(page, boat, "/history");
    await page.locator('input[name="who"]').fill("Grete");
    await page.getByRole("button", { name: "Remember" }).click();
    await go(page, boat, stove);
    await set(page, "items.stove.along", "7.55 m");
    await go(page, boat, "/history");
    assert.match(await page.locator("table tr").nth(1).innerText(), /Grete/);
  });
});
