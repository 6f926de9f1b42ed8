/* A folder of boats, hostile names in them, a scan sent through the page. */
import assert from "node:assert/strict";
import { after, check, folder, fs, go, main, open, path, person, root, serve, shot, until, written } from "./harness.mjs";
import { MISSING, settled, views } from "./views.mjs";

const IMAGE = "<img src=x onerror=alert(1)>", ORDER = "<div hx-post=\"/undo\" hx-trigger=\"load\">mine</div>";

/* dunlin with names that are markup. */
function hostile() {
  return fs.readFileSync(path.join(root, "examples/dunlin.yaml"), "utf8")
    .replace(/^  name: .*$/m, `  name: '${IMAGE}'`)
    .replace(/^    what: stove$/m, `    what: '${ORDER}'`)
    .replace(/^    what: galley block.*$/m, `    what: '${IMAGE}'`)
    .replace(/^    what: the launch party.*$/m, `    what: '${IMAGE}'`)
    .replace(/^    why: no exhaust in the saloon.*$/m, `    why: '${ORDER}'`)
    .replace(/^    what: engine-room vent in the starboard quarter.*$/m, `    what: '</title><script>alert(2)</script>'`);
}

/* A closed box, 15 m long, in binary STL: what a scanner writes, without its holes. */
function box_stl(length, beam, height) {
  const half = beam / 2, quads = [];
  const at = (x, y, z) => [x, y, z];
  const quad = (a, b, c, d) => quads.push([a, b, c], [a, c, d]);
  const n = 12;
  for (let i = 0; i < n; i++) {
    const x0 = length * i / n, x1 = length * (i + 1) / n;
    const w0 = half * Math.min(1, (length - x0) / (length / 4)), w1 = half * Math.min(1, (length - x1) / (length / 4));
    quad(at(x0, -w0, 0), at(x0, w0, 0), at(x1, w1, 0), at(x1, -w1, 0));
    quad(at(x0, w0, 0), at(x0, w0, height), at(x1, w1, height), at(x1, w1, 0));
    quad(at(x0, -w0, 0), at(x1, -w1, 0), at(x1, -w1, height), at(x0, -w0, height));
    quad(at(x0, -w0, height), at(x1, -w1, height), at(x1, w1, height), at(x0, w0, height));
  }
  quad(at(0, -half, 0), at(0, -half, height), at(0, half, height), at(0, half, 0));
  const out = Buffer.alloc(84 + 50 * quads.length);
  out.writeUInt32LE(quads.length, 80);
  quads.forEach((triangle, i) => triangle.forEach((p, k) => p.forEach((v, j) => out.writeFloatLE(v, 84 + 50 * i + 12 + 12 * k + 4 * j))));
  return out;
}

await main(async () => {
  const dir = folder();
  for (const name of ["dunlin", "punt", "whimbrel"]) fs.copyFileSync(path.join(root, `examples/${name}.yaml`), path.join(dir, `${name}.yaml`));
  fs.writeFileSync(path.join(dir, "odd.yaml"), hostile());
  fs.writeFileSync(path.join(dir, "broken.yaml"), "careen: 1\nboat: [\n");
  fs.writeFileSync(path.join(dir, "secret.txt"), "not for the page");
  const boat = await serve({ dir, target: dir }), she = await person(boat, { expected: MISSING }), page = await open(she, boat);

  await check("a folder: every boat is offered, and leads to its own page", async () => {
    const names = await page.locator("main a").allInnerTexts();
    assert.ok(names.length >= 5, names.join());
    await shot(page, "boats");
    await page.getByRole("link", { name: /punt/i }).first().click();
    await page.waitForURL(/\/punt/);
    assert.match(await page.locator("h1").innerText(), /punt/i);
    await page.locator("nav a", { hasText: "What is in her" }).click();
    await page.waitForURL(/\/punt\/records/);
  });
  await check("an edit of one boat leaves the others alone and goes into its own file", async () => {
    const others = ["dunlin", "whimbrel"].map(name => fs.readFileSync(path.join(dir, `${name}.yaml`), "utf8"));
    await go(page, boat, "/dunlin/record?path=items.stove");
    const other = await open(she, boat, "/whimbrel/");
    const was = await other.evaluate(() => document.getElementById("main").dataset.revision);
    await page.locator('[id="v-items.stove.along"]').fill("7.01 m");
    await after(page, () => page.keyboard.press("Tab"));
    assert.equal(written(fs.readFileSync(path.join(dir, "dunlin.yaml"), "utf8"), "items.stove.along"), "7.01 m");
    assert.equal(fs.readFileSync(path.join(dir, "whimbrel.yaml"), "utf8"), others[1]);
    assert.equal(await other.evaluate(() => document.getElementById("main").dataset.revision), was);
    await other.close();
  });
  await check("a broken boat says what is wrong; the others are well", async () => {
    await go(page, boat, "/broken/");
    assert.match(await page.locator(".banner.trouble:visible").innerText(), /broken\.yaml.*line \d/s);
    await shot(page, "broken");
    assert.equal((await go(page, boat, "/punt/")).status(), 200);
  });
  await check("what is no boat file of the folder is not given out", async () => {
    for (const where of ["/secret.txt", "/secret/", "/../secret.txt", "/%2e%2e/secret.txt", "/dunlin/../secret.txt", "/dunlin.yaml", "/dunlin/paper/../../secret.txt"]) {
      const answer = await boat.fetch(where), text = await answer.text();
      assert.ok(answer.status >= 300, where);
      assert.doesNotMatch(text, /not for the page/, where);
    }
  });

  for (const where of [...views, "/finding?name=afloat.level-across"])
    await check(`names that are markup are shown as text: ${where}`, async () => {
      await go(page, boat, `/odd${where}`);
      await settled(page);
      const made = await page.evaluate(() => [document.querySelectorAll('img, [onerror], [hx-trigger="load"], script:not([src])').length,
                                              document.querySelector("header .boat").textContent]);
      assert.deepEqual(made, [0, IMAGE]);
    });
  await check("the files of such a boat are given, and their names are harmless", async () => {
    for (const where of ["/odd/picture/arrangement.svg", "/odd/picture/righting-lever.pdf", "/odd/table/items.csv", "/odd/table/findings.csv"]) {
      const answer = await boat.fetch(where), text = await answer.text();
      assert.equal(answer.status, 200, where);
      assert.doesNotMatch(answer.headers.get("content-disposition") || "", /[<>]/);
      if (where.endsWith(".svg")) assert.doesNotMatch(text, /<img|<script|<div/);
    }
  });

  await check("a scan is sent, looked at, and nothing is written yet", async () => {
    await go(page, boat, "/dunlin/papers");
    const text = fs.readFileSync(path.join(dir, "dunlin.yaml"), "utf8");
    await page.locator('#scan input[type="file"]').setInputFiles({ name: "hull scan.stl", mimeType: "application/octet-stream", buffer: box_stl(15.1, 3.9, 1.8) });
    await page.locator("#scan").getByRole("button", { name: "Send", exact: true }).click();
    await page.waitForURL(/hull-scan/);
    await until(() => page.locator("pre.told, p.error").count(), "what was read");
    await shot(page, "scan");
    assert.ok(fs.existsSync(path.join(dir, "dunlin.files/hull-scan.stl")));
    assert.equal(fs.readFileSync(path.join(dir, "dunlin.yaml"), "utf8"), text);
  });
  await check("taken as proposed, the stations stand in the file and are drawn", async () => {
    await page.locator('input[name="length"]').fill("15.1 m");
    await page.locator('input[name="unit"]').fill("1 m");
    await page.locator('input[name="up"]').fill("z");
    await page.locator('input[name="forward"]').fill("x");
    await page.getByRole("button", { name: "Take it so" }).click();
    await until(() => page.getByRole("button", { name: "Write these stations into the boat file" }).count(), "the offer");
    await page.getByRole("button", { name: "Write these stations into the boat file" }).click();
    await until(() => page.locator(".banner.good").count(), "written");
    const text = fs.readFileSync(path.join(dir, "dunlin.yaml"), "utf8");
    assert.match(text, /stations:/);
    await go(page, boat, "/dunlin/afloat");
    assert.ok(await page.locator("svg#stations").count() > 0);
    assert.equal(await page.locator(".banner.trouble:visible").count(), 0);
  });
  await check("what is no scan is told, and the file stays", async () => {
    const text = fs.readFileSync(path.join(dir, "dunlin.yaml"), "utf8");
    await go(page, boat, "/dunlin/papers");
    await page.locator('#scan input[type="file"]').setInputFiles({ name: "noise.stl", mimeType: "application/octet-stream", buffer: Buffer.from("no scan at all".repeat(50)) });
    await page.locator("#scan").getByRole("button", { name: "Send", exact: true }).click();
    await page.waitForURL(/hull-scan/);
    assert.ok((await page.locator("p.error").innerText()).length > 10);
    assert.equal(fs.readFileSync(path.join(dir, "dunlin.yaml"), "utf8"), text);
  });
});
