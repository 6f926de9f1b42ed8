/* The page of dunlin holds all there is: five lines, every finding with its working, every picture, every discipline; no id is shown bare. */
import assert from "node:assert/strict";
import { check, command, go, main, open, person, serve } from "./harness.mjs";
import { MISSING, edit, settled, views } from "./views.mjs";

/* Keys of the boat file below a section, that is the owner's ids; a word of the dictionary is no id when it is read. */
function ids(text, found) {
  const own = [...text.matchAll(/^ {2}([a-z][a-z0-9-]*):\s*(?:#.*)?$/gm)].map(m => m[1]);
  const names = [...found.findings.map(f => f.id), ...Object.keys(found.answers)].flatMap(id => id.split("@")[0].split(".").slice(1));
  return new Set([...own, ...names].filter(id => /[-0-9]/.test(id)));
}

/* What the owner writes in words of their own may hold such a word too: "the engine-room vent". */
function prose(text) {
  return [...text.matchAll(/^ *(?:what|why|note|name|question): +(.*)$/gm)].map(m => m[1]).join("\n");
}

const DOTTED = /(?<![\w./-])[a-z]+\.[a-z][a-z-]*(\.[a-z0-9-]+)*(?![\w/])/g;
const shown = page => page.evaluate(() => {
  const copy = document.body.cloneNode(true);
  for (const part of copy.querySelectorAll("script, style, [hidden]")) part.remove();
  const own = Array.from(document.querySelectorAll("title, desc, [aria-label], [title], [placeholder]"),
                         e => [e.matches("title, desc") ? e.textContent : "", e.getAttribute("aria-label"), e.getAttribute("title"),
                               e.getAttribute("placeholder")].filter(Boolean).join("\n"));
  return document.body.innerText + "\n" + Array.from(document.querySelectorAll("svg text"), e => e.textContent).join("\n") + "\n" + own.join("\n");
});

await main(async () => {
  const boat = await serve(), she = await person(boat, { expected: MISSING }), page = await open(she, boat);
  const found = await boat.findings(), text = boat.text();

  await check("five lines, each a question, what is known, and how many questions are answered or why none is", async () => {
    const lines = await page.locator("ol.five > li").allInnerTexts();
    assert.equal(lines.length, 5);
    ["Can she sink?", "Can she burn or gas you?", "Is she insurable?", "Will I be done in time?", "What next?"].forEach((question, i) => {
      assert.ok(lines[i].startsWith(question), lines[i]);
      assert.ok(lines[i].length > question.length + 10, lines[i]);
    });
    for (const line of lines.slice(0, 4)) assert.match(line, /\d+ of \d+ questions answered|not built/i);
    assert.match(lines[0], /\d+ of \d+ questions answered/);
    const worst = found.findings.find(f => f.level === "danger");
    assert.ok(worst, "dunlin has a danger");
    for (const href of await page.locator("ol.five a").evaluateAll(all => all.map(a => a.getAttribute("href"))))
      assert.equal((await boat.fetch(href)).status, 200, href);
  });

  await go(page, boat, "/findings");
  const links = new Set(await page.locator('a[href*="/finding?name="]').evaluateAll(all => all.map(a => new URL(a.href).searchParams.get("name"))));
  assert.ok(found.findings.length > 30);
  for (const finding of found.findings)
    await check(`finding ${finding.id}: listed, and its working behind it`, async () => {
      assert.ok(links.has(finding.id), "listed");
      const answer = await go(page, boat, `/finding?name=${encodeURIComponent(finding.id)}`);
      assert.equal(answer.status(), 200);
      const steps = JSON.parse(await command(["why", boat.file, finding.id, "--json"])).steps;
      const words = await page.locator("main").evaluate(main => main.textContent);
      assert.ok(words.toLowerCase().includes(finding.level));
      assert.ok(steps.length === 0 || await page.locator("math").count() >= 1, "formulas");
      const labels = steps.map(step => step.label.replace(/ \(see [^)]*\)$/, ""));   /* on the page that is a link */
      assert.deepEqual(labels.filter(label => !words.toLowerCase().includes(label.toLowerCase())), []);
    });

  await check("every answer of each discipline can be asked why", async () => {
    const asked = [...new Set(Object.keys(found.answers).map(name => name.split("@")[0]))];
    assert.ok(asked.length > 20);
    for (const name of asked) {
      const answer = await boat.fetch(`/why?name=${encodeURIComponent(name)}`);
      assert.equal(answer.status, 200, name);
      assert.match(await answer.text(), /<math/, name);
    }
  });

  await check("every picture that careen draw lists is on the page, and is drawn", async () => {
    const list = (await command(["draw", boat.file])).trim().split("\n").map(line => line.split(/[\s[]/)[0]);   /* voltage-path[.DEVICE] */
    assert.ok(list.length >= 10, list.join());
    for (const where of ["/papers", "/afloat"]) {
      await go(page, boat, where);
      if (where === "/papers") {
        const there = await page.locator("a[href*='/picture/']").evaluateAll(all => all.map(a => a.getAttribute("href")));
        for (const name of list) for (const end of ["svg", "pdf", "png"])
          assert.ok(there.some(href => href.startsWith(`/picture/${name}.${end}`)), `${name}.${end}`);
      }
    }
    const disciplines = [...new Set(found.findings.map(f => f.discipline))], drawn = new Set();
    for (const where of ["/", "/plans", ...disciplines.map(d => `/${d}`)]) {
      await go(page, boat, where);
      await settled(page);
      if (where === "/work") await page.waitForSelector("#fig-timeline svg"); /* when it is reckoned through */
      for (const id of await page.locator("figure svg").evaluateAll(all => all.map(svg => svg.id))) drawn.add(id);
    }
    assert.deepEqual(list.filter(name => !drawn.has(name)), []);
  });

  await check("what the forecast of the work says can be asked why", async () => {
    await go(page, boat, "/work");
    await page.waitForSelector("#fig-timeline svg");
    const words = await page.locator("main").innerText();
    for (const head of ["Do this next", "When it is done, and how likely in time", "What would help most", "In time, the last day to begin", "Money by month"])
      assert.ok(words.includes(head), head);
    const asked = await page.locator("main dl.few a").evaluateAll(all => all.map(a => a.getAttribute("href")));
    assert.ok(asked.length >= 5, asked.join());
    for (const href of asked) {
      const answer = await boat.fetch(href);
      assert.equal(answer.status, 200, href);
      assert.match(await answer.text(), /<math/, href);
    }
  });

  const disciplines = [...new Set([...found.findings.map(f => f.discipline), ...Object.keys(found.answers).map(name => name.split(".")[0])])];
  for (const discipline of disciplines)
    await check(`${discipline} has its place: findings, answers, pictures, records, cautions`, async () => {
      await go(page, boat, "/");
      assert.equal(await page.locator(`nav a[href^="/${discipline}"]`).count(), 1, "in the menu");
      await go(page, boat, `/${discipline}`);
      const words = await page.locator("main").innerText();
      if (["afloat", "wiring", "work"].includes(discipline)) /* those that have pictures so far */
        assert.ok(await page.locator("figure svg").count() > 0, "pictures");
      assert.ok(await page.locator("li.finding").count() > 0, "findings");
      assert.ok(await page.locator('a[href*="/why?name="]').count() > 0, "answers");
      assert.match(words, /Before you rely on this/);
      assert.ok(await page.locator("section.cautions li").count() > 1, "cautions");
      assert.ok(await page.locator('main a[href*="/records?section="], main form.field').count() > 0, "records");
    });

  await edit(page, boat);
  const bare = [...ids(text, found)], words = prose(text);
  const own = bare.filter(id => !words.includes(id));
  assert.ok(own.length > 20, own.join());
  const pattern = new RegExp(`(?<![\\w.-])(${own.join("|")})(?![\\w-])`, "g");
  for (const where of [...views, ...found.findings.filter((f, i) => i % 5 === 0).map(f => `/finding?name=${f.id}`)])
    await check(`no id is shown bare: ${where}`, async () => {
      await go(page, boat, where);
      await settled(page);
      const seen = await shown(page), around = m => seen.slice(Math.max(0, m.index - 30), m.index + 50).replace(/\s+/g, " ");
      assert.deepEqual([...seen.matchAll(pattern)].map(around).slice(0, 5), []);
      assert.deepEqual([...seen.matchAll(DOTTED)].filter(m => !m[0].startsWith("dunlin.yaml")).map(around).slice(0, 5), []);
    });
});
