/* One boat, several pages: an edit reaches them all and disturbs nobody; so does an edit by a text editor, and trouble with the
 * file is told and over when it is mended. */
import assert from "node:assert/strict";
import { after, check, field, form, fs, go, main, newest, open, path, pause, person, revision, sanitized, serve, shot, type, until, written } from "./harness.mjs";

const reads = (page, which) => form(page, which).locator(".reads").innerText();

/* Saves the way editors do: beside it, then over it. */
function editor_saves(boat, change) {
  const beside = path.join(boat.dir, "dunlin.yaml~");
  fs.writeFileSync(beside, change(boat.text()));
  fs.renameSync(beside, boat.file);
}

/* The page shows what the server has now. */
async function follows(page) {
  await until(async () => await revision(page) === await newest(page), `${page.url()} follows`);
}

const replaced = (from, to) => text => {
  assert.ok(text.includes(from), from);
  return text.replace(from, to);
};

await main(async () => {
  const boat = await serve(), ann = await person(boat, { expected: /422/ }), ben = await person(boat);
  const hers = await open(ann, boat, "/record?path=items.galley"), his = await open(ben, boat, "/record?path=items.stove");

  await check("an edit on one page is on another within two seconds", async () => {
    const facts = await open(ben, boat, "/"), took = [];
    for (const mass of ["300 kg", "320 kg", "340 kg"]) {
      const was = await facts.locator("main").innerHTML(), begun = Date.now();
      await type(hers, "items.galley.mass", mass);
      await until(async () => await facts.locator("main").innerHTML() !== was, "the other page follows");
      took.push(Date.now() - begun);
    }
    assert.equal(written(boat.text(), "items.galley.mass"), "340 kg");
    assert.ok(Math.min(...took) < (sanitized ? 20000 : 2000), `${took} ms`);
    await facts.close();
  });

  await check("focus, caret in half-typed text and scroll stay when somebody else edits", async () => {
    await field(his, "items.stove.along").fill("6.95 m (meas");
    await field(his, "items.stove.along").evaluate(input => input.setSelectionRange(3, 3));
    await his.evaluate(() => window.scrollTo(0, 200));
    await his.locator(".plot").first().evaluate(plot => { plot.scrollLeft = 0; });
    const scroll = await his.evaluate(() => window.scrollY);
    await after(his, () => type(hers, "items.galley.mass", "350 kg"));
    const now = await his.evaluate(() => ({ id: document.activeElement.id, value: document.activeElement.value,
                                            caret: document.activeElement.selectionStart, scroll: window.scrollY }));
    assert.deepEqual(now, { id: "v-items.stove.along", value: "6.95 m (meas", caret: 3, scroll });
    await his.keyboard.type("1");
    assert.equal(await field(his, "items.stove.along").inputValue(), "6.915 m (meas");
    await field(his, "items.stove.along").press("Escape");
    assert.equal(await field(his, "items.stove.along").inputValue(), "6.9 m", "Escape brings back what stands in the file");
  });

  await check("a field in error keeps what was typed while somebody else edits", async () => {
    await type(hers, "items.galley.mass", "24 kgg");
    await until(() => hers.locator(".field.bad").count(), "the error");
    await after(hers, () => type(his, "items.stove.height", "0.6 m above sole"));
    assert.equal(await field(hers, "items.galley.mass").inputValue(), "24 kgg");
    assert.match(await hers.locator(".field.bad .error").innerText(), /kgg/);
    assert.equal(await field(hers, "items.galley.mass").getAttribute("aria-invalid"), "true");
    await shot(hers, "record-error");
    await after(hers, () => type(hers, "items.galley.mass", "351 kg"));
    assert.equal(await hers.locator(".field.bad").count(), 0);
    assert.equal(written(boat.text(), "items.galley.mass"), "351 kg");
  });

  await check("details somebody opened, and the zoom of a picture, stay", async () => {
    await go(his, boat, "/history");
    const page = await open(ben, boat, "/");
    await page.locator('button[data-zoom="1.5"]').first().click();
    const wide = await page.locator("svg#arrangement").evaluate(svg => svg.style.width);
    assert.equal(wide, "150%");
    const details = his.locator("details");
    const why = await open(ben, boat, "/why?name=afloat.gm"), fold = await why.locator("details").count() > 0 ? why : his;
    await fold.locator("details").first().locator("summary").click();
    assert.equal(await fold.locator("details").first().evaluate(d => d.open), true);
    await after(page, () => type(hers, "items.galley.mass", "352 kg"));
    await until(async () => await details.count() > 0, "the history follows");
    assert.equal(await page.locator("svg#arrangement").evaluate(svg => svg.style.width), wide);
    await pause(300);
    assert.ok(await fold.locator("details[open]").count() > 0);
    await page.close();
    await why.close();
  });

  await check("an edit by a text editor shows up, whichever way it saves", async () => {
    await go(his, boat, "/record?path=items.stove");
    await after(his, () => boat.write(replaced("height: 0.6 m above sole", "height: 0.7 m above sole")(boat.text())));
    assert.equal(await field(his, "items.stove.height").inputValue(), "0.7 m above sole");
    await after(his, () => editor_saves(boat, replaced("height: 0.7 m above sole", "height: 0.8 m above sole")));
    assert.equal(await field(his, "items.stove.height").inputValue(), "0.8 m above sole");
    assert.match(await reads(his, "items.stove.height"), /1\.2 m/);
  });

  const good = boat.text();
  await check("text that makes no boat: the page says what and where, and shows the last good boat", async () => {
    const line = good.split("\n").findIndex(text => text.includes("height: 0.8 m above sole")) + 1;
    await after(his, () => boat.write(good.replace("height: 0.8 m above sole", "height: [0.8 m")));
    const told = await his.locator(".banner.trouble:visible").innerText();
    assert.match(told, /dunlin\.yaml, line \d+/);
    const named = Number(/line (\d+)/.exec(told)[1]);
    assert.ok(Math.abs(named - line) <= 1, `line ${line} was broken, line ${named} named: ${told}`);
    assert.equal(await field(his, "items.stove.height").inputValue(), "0.8 m above sole");
    await shot(his, "trouble");
    await go(his, boat, "/");
    assert.equal(await his.locator("ol.five > li").count(), 5);
    assert.match(await his.locator(".banner.trouble:visible").innerText(), /line \d+/);
  });
  await check("an edit meanwhile is refused and loses nothing", async () => {
    const broken = boat.text(), page = await open(ann, boat, "/record?path=items.stove");
    await type(page, "items.stove.across", "1.3 m starboard");
    await until(() => page.locator(".field.bad, .banner.trouble:has-text('not')").count(), "the refusal");
    assert.equal(boat.text(), broken);
    assert.equal(await field(page, "items.stove.across").inputValue(), "1.3 m starboard");
    await page.close();
  });
  await check("mended: the banner goes", async () => {
    boat.write(good);
    await until(async () => await his.locator(".banner.trouble:visible").count() === 0, "no banner");
    await type(hers, "items.galley.mass", "353 kg");
    await until(() => written(boat.text(), "items.galley.mass") === "353 kg", "edits work again");
  });
  await check("the file gone: told, and shown as it was; back: all is well", async () => {
    const kept = boat.text();
    await follows(his);   /* else what it is told of first may be the edit before */
    await after(his, () => fs.unlinkSync(boat.file));
    assert.ok(await his.locator(".banner.trouble:visible").count() > 0);
    assert.equal(await his.locator("ol.five > li").count(), 5);
    await shot(his, "file-gone");
    const refused = await open(ann, boat, "/record?path=items.stove");
    await type(refused, "items.stove.across", "1.3 m starboard");
    await until(() => refused.locator(".field.bad, .banner.trouble:has-text('not'), .banner.trouble:has-text('No')").count(), "the refusal");
    assert.equal(fs.existsSync(boat.file), false, "nothing is made up");
    await refused.close();
    fs.writeFileSync(boat.file, kept);
    await until(async () => await his.locator(".banner.trouble:visible").count() === 0, "no banner");
  });
  await check("the file unreadable: told; readable: all is well", async () => {
    const kept = boat.text();
    await follows(his);
    await after(his, () => { fs.unlinkSync(boat.file); fs.mkdirSync(boat.file); });   /* root may read anything but a folder */
    assert.ok(await his.locator(".banner.trouble:visible").count() > 0);
    fs.rmdirSync(boat.file);
    fs.writeFileSync(boat.file, kept);
    await until(async () => await his.locator(".banner.trouble:visible").count() === 0, "no banner");
  });

  /* A browser grants one host six connections; tabs that are not looked at must not use them up. */
  await check("eight tabs of one browser, opened behind each other: all load, each follows when it is looked at", async () => {
    const many = await person(boat), tabs = [];
    await many.addInitScript(() => {
      let behind = true;
      Object.defineProperty(document, "hidden", { get: () => behind });
      window.look = looked => { behind = !looked; document.dispatchEvent(new Event("visibilitychange")); };
    });
    for (const where of ["/", "/findings", "/afloat", "/records", "/record?path=items.stove", "/assumed", "/papers", "/history"])
      tabs.push(await open(many, boat, where));
    await after(hers, () => type(hers, "items.galley.mass", "354 kg"));
    for (const tab of tabs) {
      await tab.evaluate(() => window.look(true));
      await follows(tab);
      await tab.evaluate(() => window.look(false));
    }
    await tabs[0].evaluate(() => window.look(true));
    await after(tabs[0], () => type(hers, "items.galley.mass", "355 kg"));
    await many.close();
  });
});
