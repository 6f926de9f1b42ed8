/* The whole path of an owner: opens the boat, moves an item, reads a finding, asks why, tries a remedy, applies it, undoes it,
 * compares the plans, looks what to measure, prints. */
import assert from "node:assert/strict";
import { STUDY_MS, after, check, fs, go, main, open, person, serve, shot, until, written } from "./harness.mjs";

/* The fact of this name on the front view. */
const fact = (page, name) => page.locator(`dl.few div:has(dt:has-text("${name}")) dd`).innerText();

const movable = (page, which, view = 0) => page.locator(`.view[data-frame] a.movable[data-path="${which}"]`).nth(view);

/* The lines that two texts of as many lines do not share. */
function changed(before, after) {
  const old = before.split("\n"), now = after.split("\n");
  assert.equal(now.length, old.length, "no line came or went");
  return now.filter((line, i) => line !== old[i]);
}

/* The middle of the mark of a thing, where the script takes it to stand. */
async function spot(page, which, view) {
  const link = movable(page, which, view);
  await link.scrollIntoViewIfNeeded();
  return link.evaluate(a => {
    const group = a.closest(".view"), svg = a.ownerSVGElement, axis = { along: 0, across: 1, height: 2 };
    const [x0, xk, y0, yk] = group.dataset.frame.split(" ").map(Number), place = a.dataset.place.split(" ").map(Number);
    const [u, v] = group.dataset.axes.split(" ").map(word => place[axis[word]]);
    const at = new DOMPoint(x0 + xk * u, y0 + yk * v).matrixTransform(svg.getScreenCTM());
    return { x: at.x, y: at.y, metre: Math.abs(xk) * svg.getScreenCTM().a };
  });
}

await main(async () => {
  const boat = await serve(), she = await person(boat), page = await open(she, boat);
  const before = boat.text();

  await check("the boat is there: her name, five lines, her picture", async () => {
    assert.match(await page.title(), /Dunlin/);
    assert.equal(await page.locator("ol.five > li").count(), 5);
    assert.ok(await page.locator("svg#arrangement a.movable").count() > 20);
    await shot(page, "front");
  });

  let trim = await fact(page, "Trim"), list = await fact(page, "List");
  await check("an item dragged along moves in the file, and the trim follows", async () => {
    const at = await spot(page, "items.galley", 0), was = written(boat.text(), "items.galley.along");
    await after(page, async () => {
      await page.mouse.move(at.x, at.y);
      await page.mouse.down();
      await page.mouse.move(at.x + at.metre, at.y, { steps: 5 });
      await page.mouse.move(at.x + 4 * at.metre, at.y, { steps: 5 });
      await page.mouse.up();
    });
    const now = written(boat.text(), "items.galley.along");
    assert.notEqual(now, was);
    assert.ok(Math.abs(parseFloat(now) - parseFloat(was) - 4) < 0.15, `${was} became ${now}`);
    await until(async () => await fact(page, "Trim") !== trim, "another trim");
    await shot(page, "front-moved");
  });
  await check("every other line of the file is as it was, comments too", () => {
    assert.deepEqual(changed(before, boat.text()), [`    along: ${written(boat.text(), "items.galley.along")}`]);
  });

  await check("an item moved by the arrow keys in the plan moves across, and the list follows", async () => {
    list = await fact(page, "List");
    const link = movable(page, "items.galley", 1), was = written(boat.text(), "items.galley.across");
    await link.focus();
    await after(page, async () => {
      for (let i = 0; i < 3; i++) await page.keyboard.press("Shift+ArrowUp");
    });
    const now = written(boat.text(), "items.galley.across");
    assert.notEqual(now, was);
    await until(async () => await fact(page, "List") !== list, "another list");
    assert.equal(await page.evaluate(() => document.activeElement.dataset.path), "items.galley", "focus stays on the thing");
  });

  await check("a thing touched opens its form, which changes it", async () => {
    await movable(page, "items.stove", 0).focus();
    await page.keyboard.press("Enter");
    await page.waitForURL(/record\?path=items\.stove/);
    assert.equal(await page.locator("h1").innerText(), "stove");
    await shot(page, "record-stove");
  });

  await check("a finding is read: sentence, value, limit, how sure, source, where, working", async () => {
    await go(page, boat, "/");
    await page.locator("ul.list li.finding a").first().click();
    await page.waitForURL(/\/finding\?name=/);
    const words = (await page.locator("main").innerText()).toLowerCase();
    for (const part of ["found", "asked", "how sure", "limit from", "about", "where it is", "working"]) assert.ok(words.includes(part), part);
    assert.ok(await page.locator("svg#arrangement").count() === 1);
    assert.ok(await page.locator("math").count() > 0);
    await until(() => page.locator("ul.remedies").count(), "remedies were looked for", STUDY_MS);
    await shot(page, "finding");
  });

  await check("a number asked why answers with its working in MathML and the source of each step", async () => {
    await go(page, boat, "/");
    await page.locator("dl.few dd a", { hasText: "" }).nth(3).click();
    await page.waitForURL(/\/why\?name=afloat\.gm/);
    assert.ok(await page.locator("math mfrac, math msub, math mo").count() > 0);
    const sizes = await page.locator("math").evaluateAll(all => all.map(m => m.getBoundingClientRect().height));
    assert.ok(sizes.every(h => h > 5), "formulas are laid out");
    await shot(page, "why");
  });

  /* The first finding that has a remedy, as the command line finds it. */
  const state = boat.text();
  const id = "afloat.openings.engine-vent";
  await check("the remedies of a danger are offered when they are reckoned", async () => {
    await go(page, boat, `/finding?name=${id}`);
    await until(() => page.locator("ul.remedies li a.more").count(), "a remedy to try", STUDY_MS);
    await shot(page, "finding-remedies");
  });
  await check("one press tries it and shows what else changes", async () => {
    await page.locator("ul.remedies li a.more").first().click();
    await page.waitForURL(/\/remedy\?/);
    await until(() => page.getByRole("button", { name: "Apply it to the boat file" }).count(), "the remedy tried", STUDY_MS);
    const words = await page.locator("main").innerText();
    assert.match(words, /Better with it/);
    assert.equal(await page.locator("svg#arrangement").count(), 1);
    assert.equal(boat.text(), state, "trying changes nothing");
    await shot(page, "remedy");
  });
  await check("one press more applies it, and the finding is gone", async () => {
    await page.getByRole("button", { name: "Apply it to the boat file" }).click();
    await page.waitForURL(/\/finding\?/); /* the page goes back to the finding by itself */
    await until(() => boat.text() !== state, "the file changed");
    assert.doesNotMatch(await page.locator("main").innerText(), /no longer found/);
    const found = (await boat.findings()).findings.find(f => f.id === id);
    assert.ok(!found || found.level === "fine" || found.level === "doubt", found && found.level);
    await go(page, boat, "/");
    assert.equal(await page.locator(`ul.list a[href*="${id}"]`).count(), 0);
    await shot(page, "front-applied");
  });
  await check("undo brings back the very bytes", async () => {
    await after(page, () => page.getByRole("button", { name: "Undo the last change" }).click());
    assert.equal(boat.text(), state);
    assert.match(await page.locator(".banner.good").innerText(), /^Undone/);
  });
  await check("redo does it again, undo takes all back to the first text", async () => {
    await after(page, () => page.getByRole("button", { name: "Redo" }).click());
    assert.notEqual(boat.text(), state);
    for (let i = 0; i < 3; i++)
      await after(page, () => page.getByRole("button", { name: "Undo the last change" }).click());
    assert.equal(boat.text(), before);
  });

  await check("plans side by side: each option a column, what differs, gained and lost", async () => {
    await page.getByRole("link", { name: "Plans side by side" }).click();
    await until(() => page.locator("table.plans").count(), "the comparison", STUDY_MS);
    const heads = await page.locator("table.plans").first().locator("tr").first().innerText();
    for (const word of ["base plan", "second", "electric"]) assert.ok(heads.includes(word), word);
    assert.ok(await page.locator("table.plans td.differs").count() > 0);
    assert.match(await page.locator("main").innerText(), /(Worse|Better) than in the base plan/);
    await shot(page, "plans");
  });

  await check("measure next: what, with which instrument, what it settles", async () => {
    await page.getByRole("link", { name: "Measure next" }).click();
    await until(() => page.locator("ol.next li").count(), "a measurement", STUDY_MS);
    assert.match(await page.locator("ol.next li").first().innerText(), /With .+ minutes/s);
    await shot(page, "measure");
  });

  await check("the print style gives a paper without menu and buttons", async () => {
    await go(page, boat, "/findings");
    await page.emulateMedia({ media: "print" });
    assert.equal(await page.locator("nav").first().isVisible(), false);
    assert.equal(await page.locator("button:visible").count(), 0);
    await shot(page, "findings-print");
    const pdf = await page.pdf({ format: "A4" });
    assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
    assert.ok(pdf.length > 10000);
    await page.emulateMedia({ media: null });
  });

  await go(page, boat, "/papers");
  await shot(page, "papers");
  const links = await page.locator("main a[href]").evaluateAll(all => [...new Set(all.map(a => a.getAttribute("href")))]);
  const kinds = [[/\/paper\/.*\.pdf/, "application/pdf", "%PDF-"], [/\/picture\/.*\.svg/, "image/svg+xml", "<"],
                 [/\/picture\/.*\.pdf/, "application/pdf", "%PDF-"], [/\/picture\/.*\.png/, "image/png", "\x89PNG"],
                 [/\/table\/.*\.csv/, "text/csv", ""], [/\/boat\.yaml/, "text/plain", ""]];
  for (const [pattern, type, start] of kinds)
    await check(`what the page offers as ${pattern.source} is that`, async () => {
      const some = links.filter(href => pattern.test(href));
      assert.ok(some.length > 0);
      for (const href of some) {
        const answer = await boat.fetch(href), bytes = Buffer.from(await answer.arrayBuffer());
        assert.equal(answer.status, 200, `${href}: ${answer.status} ${bytes.subarray(0, 200)}`);
        assert.ok(answer.headers.get("content-type").startsWith(type), href);
        assert.ok(bytes.toString("latin1").startsWith(start) && bytes.length > 60, `${href}: ${bytes.subarray(0, 60)}`);
      }
    });
  await check("the boat file is given as it is", async () => {
    const answer = await boat.fetch("/boat.yaml");
    assert.equal(await answer.text(), fs.readFileSync(boat.file, "utf8"));
  });
});
