/* Every view in light and dark: nothing serious or critical for axe-core. A screenshot of each is kept. */
import assert from "node:assert/strict";
import { check, fs, go, main, open, path, person, root, serve, shot, until } from "./harness.mjs";
import { MISSING, edit, settled, slug, views } from "./views.mjs";

const axe = fs.readFileSync(path.join(root, "tests/browser/node_modules/axe-core/axe.min.js"), "utf8");

async function violations(page) {
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations.filter(v => v.impact === "serious" || v.impact === "critical")
    .map(v => `${v.id} (${v.impact}): ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html.slice(0, 160)).join(" | ")}`);
}

await main(async () => {
  const boat = await serve();
  const first = await person(boat);
  await edit(await first.newPage(), boat);
  await first.close();

  for (const scheme of ["light", "dark"]) {
    const she = await person(boat, { colorScheme: scheme, bypassCSP: true, expected: MISSING });
    await she.addInitScript(axe);
    const page = await open(she, boat);
    for (const where of views)
      await check(`axe-core, ${scheme}: ${where}`, async () => {
        await go(page, boat, where);
        await settled(page);
        await shot(page, `${scheme}-${slug(where)}`);
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
});
