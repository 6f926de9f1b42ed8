/* Two people at one boat, a server that goes and comes, an answer that comes late: nobody's edit is lost, no old page comes back. */
import assert from "node:assert/strict";
import { after, check, field, form, main, open, pause, person, revision, serve, shot, type, until, written } from "./harness.mjs";

const STOVE = "/record?path=items.stove", GALLEY = "/record?path=items.galley";

/* The page no longer hears of others' edits; its own go through. */
const deaf = page => page.route("**/events", route => route.abort());

await main(async () => {
  let boat = await serve();
  const ann = await person(boat, { expected: /409|422|net::ERR_|htmx:sse:error|Failed to fetch|htmx:error/ });
  const ben = await person(boat, { expected: /409/ });

  await check("two change one field, one page not yet refreshed: the later one is told, with both values", async () => {
    const hers = await ann.newPage();
    await deaf(hers);
    await hers.goto(boat.address + STOVE);
    const his = await open(ben, boat, STOVE);
    await after(his, () => type(his, "items.stove.along", "7.1 m"));
    await type(hers, "items.stove.along", "7.2 m");
    await until(() => form(hers, "items.stove.along").locator(".error").count(), "the clash");
    const told = await form(hers, "items.stove.along").innerText();
    assert.match(told, /7\.1 m/);
    assert.match(told, /7\.2 m/);
    assert.equal(await field(hers, "items.stove.along").inputValue(), "7.2 m");
    assert.equal(written(boat.text(), "items.stove.along"), "7.1 m", "his edit stands");
    await shot(hers, "clash");
    await form(hers, "items.stove.along").getByRole("button", { name: "Set" }).click();
    await until(() => written(boat.text(), "items.stove.along") === "7.2 m", "hers, now that she knows");
    await hers.close();
    await his.close();
  });

  await check("half-typed while the other one's edit arrives: still told, not overwritten", async () => {
    const hers = await open(ann, boat, STOVE), his = await open(ben, boat, STOVE);
    await field(hers, "items.stove.along").fill("7.4");
    await after(hers, () => type(his, "items.stove.along", "7.3 m"));
    await field(hers, "items.stove.along").press("End");
    await hers.keyboard.type(" m");
    await hers.keyboard.press("Tab");
    await until(() => form(hers, "items.stove.along").locator(".error").count(), "the clash");
    assert.equal(written(boat.text(), "items.stove.along"), "7.3 m");
    const told = await form(hers, "items.stove.along").innerText();
    assert.match(told, /7\.3 m/);
    assert.match(told, /7\.4 m/);
    await field(hers, "items.stove.along").press("Escape");
    await hers.reload();
    assert.equal(await field(hers, "items.stove.along").inputValue(), "7.3 m");
    await hers.close();
    await his.close();
  });

  await check("typing on while one's own edit is saved is no clash", async () => {
    const hers = await open(ann, boat, STOVE), along = field(hers, "items.stove.along");
    await along.fill("7.5");
    await along.press("End");
    await along.press("Space");
    await along.press("m");
    await along.press("Enter");
    await along.press("Backspace");
    await along.press("m");
    await until(() => written(boat.text(), "items.stove.along") === "7.5 m", "the first");
    await along.fill("7.6 m");
    await along.press("Tab");
    await until(() => written(boat.text(), "items.stove.along") === "7.6 m", "the second");
    assert.equal(await form(hers, "items.stove.along").locator(".error").count(), 0);
    await hers.close();
  });

  await check("two fields at the same moment both stay", async () => {
    const hers = await open(ann, boat, STOVE), his = await open(ben, boat, GALLEY);
    await field(hers, "items.stove.height").fill("0.61 m above sole");
    await field(his, "items.galley.height").fill("0.62 m above sole");
    await Promise.all([field(hers, "items.stove.height").press("Tab"), field(his, "items.galley.height").press("Tab")]);
    await until(() => written(boat.text(), "items.stove.height") === "0.61 m above sole" &&
                      written(boat.text(), "items.galley.height") === "0.62 m above sole", "both");
    await hers.close();
    await his.close();
  });

  await check("one person, three fields in one breath: all three stay", async () => {
    const hers = await open(ann, boat, STOVE);
    await field(hers, "items.stove.along").fill("6.71 m");
    await field(hers, "items.stove.across").fill("1.21 m starboard");
    await field(hers, "items.stove.height").fill("0.71 m above sole");
    await hers.keyboard.press("Tab");
    await until(() => ["6.71 m", "1.21 m starboard", "0.71 m above sole"].every((value, i) =>
      written(boat.text(), `items.stove.${["along", "across", "height"][i]}`) === value), "all three");
    await hers.close();
  });

  await check("two move one thing, one picture not yet refreshed: the first one's move is not lost unseen", async () => {
    const hers = await ann.newPage();
    await deaf(hers);
    await hers.goto(boat.address + "/");
    const his = await open(ben, boat, STOVE);
    await after(his, () => type(his, "items.stove.along", "9.9 m"));
    await hers.locator('.view a.movable[data-path="items.stove"]').first().focus();
    await hers.keyboard.press("Shift+ArrowRight");
    await until(async () => await hers.locator(".banner.trouble:not(#lost):visible").count() > 0 || written(boat.text(), "items.stove.along") !== "9.9 m",
                "an answer");
    assert.equal(written(boat.text(), "items.stove.along"), "9.9 m");
    const told = await hers.locator(".banner.trouble:not(#lost):visible").innerText();
    assert.match(told, /moved it meanwhile/);
    assert.match(told, /along: theirs 9\.9\d* m, yours \d+\.\d+ m/, "both places");
    const place = await hers.locator('.view a.movable[data-path="items.stove"]').first().getAttribute("data-place");
    assert.equal(parseFloat(place), 9.9, "the picture shows theirs");
    await shot(hers, "clash-move");
    await hers.close();
    await his.close();
  });

  await check("an answer that comes late does not bring the old page back", async () => {
    const hers = await open(ann, boat, STOVE), his = await open(ben, boat, GALLEY);
    let release, held = 0;
    const gate = new Promise(done => { release = done; });
    await hers.route("**/record?path=items.stove", async route => {
      if (route.request().method() !== "GET" || held > 0) return route.continue();
      held++;
      const old = await route.fetch();
      await gate;
      await route.fulfill({ response: old });
    });
    await type(his, "items.galley.mass", "301 kg");
    await until(() => held, "the refresh is held back");
    await pause(300);
    await after(hers, () => type(hers, "items.stove.along", "6.3 m"));
    const number = async () => Number((await revision(hers)).split("-")[1]), now = await number();
    release();
    await pause(700);
    assert.ok(await number() >= now, "no older boat");
    assert.equal(await field(hers, "items.stove.along").inputValue(), "6.3 m");
    await hers.close();
    await his.close();
  });

  await check("a page whose news cannot be had at first says so, and has them by itself", async () => {
    const hers = await ann.newPage();
    let refused = 0;
    await hers.route("**/events", route => refused++ < 1 ? route.abort() : route.continue());
    await hers.goto(boat.address + STOVE);
    await until(() => hers.locator("#lost").isVisible(), "said");
    await until(async () => !await hers.locator("#lost").isVisible(), "taken up again");
    const his = await open(ben, boat, STOVE);
    await after(hers, () => type(his, "items.stove.along", "6.31 m"));
    assert.equal(await field(hers, "items.stove.along").inputValue(), "6.31 m");
    await after(hers, () => type(his, "items.stove.along", "6.3 m"));
    await hers.close();
    await his.close();
  });

  await check("an edit that is not taken for once is sent again, though the news never stopped", async () => {
    const hers = await open(ann, boat, STOVE);
    let refused = 0;
    await hers.route("**/edit", route => refused++ < 1 ? route.abort() : route.continue());
    await type(hers, "items.stove.along", "6.32 m");
    await until(() => hers.locator("form.unsent").count(), "marked");
    await until(() => written(boat.text(), "items.stove.along") === "6.32 m", "sent again");
    await until(async () => await hers.locator("form.unsent").count() === 0, "the mark goes");
    await after(hers, () => type(hers, "items.stove.along", "6.3 m"));
    await hers.close();
  });

  await check("the server gone: said; an edit waits and is marked; the server back: it arrives", async () => {
    const hers = await open(ann, boat, STOVE);
    assert.equal(await hers.locator("#lost").isVisible(), false);
    await boat.stop("SIGKILL");
    await type(hers, "items.stove.along", "6.4 m");
    await until(() => hers.locator("form.unsent").count(), "marked");
    await until(() => hers.locator("#lost").isVisible(), "said");
    assert.equal(await field(hers, "items.stove.along").inputValue(), "6.4 m");
    assert.equal(written(boat.text(), "items.stove.along"), "6.3 m");
    await shot(hers, "lost");
    await boat.start();
    await until(() => written(boat.text(), "items.stove.along") === "6.4 m", "the edit that waited", 60000);
    await until(async () => !await hers.locator("#lost").isVisible(), "the banner goes");
    assert.equal(await hers.locator("form.unsent").count(), 0);
    assert.equal(await field(hers, "items.stove.along").inputValue(), "6.4 m");
    await hers.close();
  });
});
