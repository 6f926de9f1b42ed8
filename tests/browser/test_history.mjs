/* Who changed what, when and why; an earlier state can be looked at, not edited, and brought back. */
import assert from "node:assert/strict";
import { after, check, command, field, go, main, open, person, serve, shot, type, until, written } from "./harness.mjs";

const row = (page, i) => page.locator("main table tr").nth(i);

await main(async () => {
  const boat = await serve(), before = boat.text();
  const ann = await person(boat), ben = await person(boat, { expected: /422/ }), hers = await open(ann, boat, "/history"), his = await open(ben, boat, "/history");

  await check("an empty history says so", async () => {
    assert.match(await hers.locator("main").innerText(), /Nothing was changed through careen yet/);
  });
  await check("each device has the name typed on it", async () => {
    for (const [page, name] of [[hers, "Ann"], [his, "Ben <b>"]]) {
      await page.locator('input[name="who"]').fill(name);
      await Promise.all([page.waitForEvent("load"), page.getByRole("button", { name: "Remember" }).click()]);
      await until(async () => await page.locator('input[name="who"]').inputValue() === name, "remembered");
    }
    await go(hers, boat, "/record?path=items.stove");
    await after(hers, () => type(hers, "items.stove.along", "7.11 m"));
    await go(his, boat, "/record?path=items.galley");
    await after(his, () => type(his, "items.galley.along", "7.77 m"));
    await command(["edit", boat.file, "items.anchor.mass=61 kg (plate)", "--why", "read off the shank"]);
    await go(his, boat, "/history");
    assert.match(await row(his, 1).innerText(), /read off the shank/);
    assert.match(await row(his, 2).innerText(), /Ben <b>/);
    assert.match(await row(his, 2).innerText(), /7\.77 m/);
    assert.match(await row(his, 3).innerText(), /Ann/);
    assert.match(await row(his, 3).innerText(), /20\d\d-\d\d-\d\d \d\d:\d\d/);
    await row(his, 3).locator("summary").click();
    assert.match(await row(his, 3).innerText(), /from 6\.9 m to 7\.11 m/);
    await shot(his, "history");
  });
  await check("an earlier state is shown, and nothing on it can be changed", async () => {
    await row(his, 3).getByRole("link", { name: "Look at it" }).click();
    await his.waitForURL(/revision=/);
    assert.match(await his.locator(".banner:visible").innerText(), /earlier state/);
    await shot(his, "earlier");
    const query = new URL(his.url()).search;
    assert.equal(await his.locator("form#move, form.undo, form.field button:visible").count(), 0);
    for (const where of ["/record", "/records", "/assumed"]) {
      await go(his, boat, `${where}${query}${where === "/record" ? "&path=items.stove" : ""}`);
      assert.equal(await his.locator("form.field input:not([type=hidden]):not([readonly]), form.field textarea:not([readonly]), form.field select:not([disabled]), form.add").count(), 0, where);
    }
    await go(his, boat, `/record${query}&path=items.galley`);
    assert.notEqual(await field(his, "items.galley.along").inputValue(), "7.77 m");
    await go(his, boat, `/record${query}&path=items.stove`);
    assert.equal(await field(his, "items.stove.along").inputValue(), "7.11 m");
  });
  await check("posting at an earlier state changes nothing", async () => {
    const text = boat.text(), query = new URL(his.url()).search;
    const answer = await his.evaluate(async query => {
      const token = document.querySelector('input[name="token"]').value;
      const body = new URLSearchParams({ token, back: `/record${query}`, path: "items.stove.along", value: "1 m", was: "7.11 m" });
      return (await fetch(`/edit${query}`, { method: "POST", body })).status;
    }, query).catch(() => 0);
    assert.equal(boat.text(), text, `answered ${answer}`);
  });
  await check("brought back: the file has that text again, and the history goes on", async () => {
    await his.getByRole("button", { name: "Bring this state back" }).click();
    await until(() => written(boat.text(), "items.galley.along") !== "7.77 m", "back");
    assert.equal(written(boat.text(), "items.stove.along"), "7.11 m");
    assert.equal(boat.text().split("\n").length, before.split("\n").length);
    await until(async () => !/revision=/.test(his.url()), "the file as it is");
    await go(his, boat, "/history");
    assert.match(await row(his, 1).innerText(), /back to/);
    assert.match(await row(his, 1).innerText(), /Ben/);
    assert.ok(await his.locator("main table tr").count() >= 6);
  });
  await check("a state that never was is said so", async () => {
    const answer = await boat.fetch("/?revision=9999");
    assert.ok(answer.status < 500);
    assert.match(await answer.text(), /no (such )?(revision|state)|cannot|not/i);
  });
});
