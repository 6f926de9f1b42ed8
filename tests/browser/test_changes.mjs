/* A page is told what changed, not sent anew. What it shows afterwards is what a page shows that is opened now: every element, every
 * attribute, every text, and what the boxes hold. */
import assert from "node:assert/strict";
import { check, field, fs, main, newest, open, person, revision, serve, type, until } from "./harness.mjs";

const VIEWS = ["/", "/findings", "/afloat", "/wiring", "/records", "/records?section=openings", "/record?path=items.stove", "/record?path=items.galley",
               "/record?path=circuits.blower-feed", "/assumed", "/?option=electric-drive", "/?units=imperial", "/why?name=afloat.gm",
               "/finding?name=afloat.weights", "/history"];

/* In the page: where it shows something else than its view as it is fetched now; "" when nowhere. */
const unlike = async ours => {
  const LEFT = /^(data-htmx-powered|open|style|data-at|data-kept)$/;
  const answer = await fetch(location.pathname + location.search), here = document.getElementById("main");
  if (answer.headers.get("Careen-Revision") !== here.dataset.revision)
    return "not the same revision";
  const there = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("main");
  const attributes = e => Array.from(e.attributes, a => `${a.name}=${a.value}`).filter(a => !LEFT.test(a.split("=")[0])).sort().join(" ");
  const walk = (a, b, where) => {
    if (a.nodeType !== b.nodeType || a.nodeName !== b.nodeName) return `${where}: ${a.nodeName} is ${b.nodeName}`;
    if (a.nodeType === 3) return a.nodeValue === b.nodeValue ? "" : `${where}: "${a.nodeValue}" is "${b.nodeValue}"`;
    if (ours && a.localName === "output") return "";
    if (attributes(a) !== attributes(b)) return `${where}: ${attributes(a)} is ${attributes(b)}`;
    if (a instanceof HTMLInputElement && a.value !== b.getAttribute("value") && a.type !== "file" && b.hasAttribute("value")) return `${where}: it holds ${a.value}`;
    if (a instanceof HTMLSelectElement && a.selectedIndex !== Array.from(b.options).findLastIndex(o => o.defaultSelected) && b.querySelector("[selected]"))
      return `${where}: ${a.value} is chosen`;
    if (a.childNodes.length !== b.childNodes.length) return `${where}: ${a.childNodes.length} nodes are ${b.childNodes.length}`;
    for (let i = 0; i < a.childNodes.length; i++) {
      const found = walk(a.childNodes[i], b.childNodes[i], `${where} ${a.id || a.localName} ${i}`);
      if (found) return found;
    }
    return "";
  };
  return walk(here, there, "");
};

/* In the page: where the browser made other elements of a view than were written; "" when nowhere. A view is XML too. */
const rearranged = async () => {
  const text = await (await fetch(location.pathname + location.search, { headers: { "HX-Request": "true" } })).text();
  const written = new DOMParser().parseFromString(text, "application/xml").documentElement;
  const walk = (a, b) => {
    if (a.localName !== b.localName || a.children.length !== b.children.length)
      return `<${b.localName}> with ${b.children.length} became <${a.localName}> with ${a.children.length}: ${b.outerHTML ?? ""}`.slice(0, 300);
    for (let i = 0; i < a.children.length; i++) {
      const found = b.localName === "table" && b.children[0]?.localName === "tr" ? "" : walk(a.children[i], b.children[i]);
      if (found) return found;
    }
    return "";
  };
  return walk(new DOMParser().parseFromString(text, "text/html").getElementById("main"), written);
};

await main(async () => {
  const boat = await serve(), told = new Map(), pages = [];
  const reader = async where => {   /* with a browser of their own: one has not connections enough for all of them */
    const context = await person(boat, { expected: /404|422/ });   /* without a hull or a mass there is no why */
    context.on("response", answer => {
      const kind = answer.headers()["careen-since"] ? "changes" : answer.request().headers()["hx-request"] ? "whole" : null;
      if (kind && answer.status() === 200) told.set(kind, (told.get(kind) || 0) + 1);
    });
    return open(context, boat, where);
  };
  for (const where of VIEWS) pages.push(await reader(where));
  const editor = await reader("/record?path=items.galley");
  const token = await editor.locator('input[name="token"]').first().getAttribute("value");

  const edit = async (which, value, to = "/edit") => {
    const answer = await boat.fetch(to, { method: "POST", headers: { "Content-Type": "application/x-www-form-urlencoded", Origin: boat.address, "HX-Request": "true" },
                                          body: new URLSearchParams({ token, path: which, value, back: "/phone" }) });
    assert.equal(answer.status, 200, `${which}: ${value}`);
  };
  const follow = async () => {
    for (const page of [...pages, editor]) {
      await until(async () => await revision(page) === await newest(page), `${page.url()} follows`);
      await until(async () => {
        const difference = await page.evaluate(unlike, true);
        if (difference !== "") throw new Error(difference);
        return true;
      }, `${page.url()} shows it`);
    }
  };

  await check("a browser makes of every view the elements that were written", async () => {
    for (const page of pages) assert.equal(await page.evaluate(rearranged), "", page.url());
  });

  for (const [what, change] of [
    ["a thing moved", () => edit("items.stove.along", "6.55 m")],
    ["a mass with another spread and basis", () => edit("items.galley.mass", "about 260 kg")],
    ["a mass that lets her sink", () => edit("items.galley.mass", "60 t")],
    ["taken back", () => edit("", "", "/undo")],
    ["words that are markup", () => edit("items.stove.what", "stove <b>\"hot\"</b> & 'iron'")],
    ["a field that was empty", () => edit("items.stove.across", "0.4 m port")],
    ["a circuit's cable", () => edit("circuits.blower-feed.area", "1 mm2")],
    ["a value in a plan", () => edit("options.electric-drive.changes.items.motor.mass", "130 kg")],
    ["a value taken out", () => edit("items.stove.mass", "")],
    ["somebody's editor", () => fs.writeFileSync(boat.file, boat.text().replace("name: Dunlin", "name: Dunlin the Second"))],
  ]) await check(`every open page shows what a new one shows: ${what}`, async () => {
    await change();
    await follow();
  });

  await check("trouble with the file, and the end of it", async () => {
    const good = boat.text();
    boat.write(good.replace("careen: 1", "careen: ["));
    await follow();
    boat.write(good);
    await follow();
  });

  await check("the one who edits is told what changed too", async () => {
    for (const mass of ["251 kg", "252 kg", "253 kg"]) {
      await type(editor, "items.galley.mass", mass);
      await until(() => boat.text().includes(`mass: ${mass}`), mass);
    }
    await type(editor, "items.galley.mass", "24 kgg");
    await until(() => editor.locator(".field.bad").count(), "the error");
    await type(editor, "items.galley.mass", "254 kg");
    await until(async () => await editor.locator(".field.bad").count() === 0, "the end of the error");
    await follow();
  });

  await check("a form left alone is what a new page shows, once it is left", async () => {
    await field(editor, "items.galley.mass").fill("25");
    await edit("items.galley.mass", "270 kg");
    await until(() => boat.text().includes("mass: 270 kg"), "the other's edit");
    await until(async () => await newest(editor) === await revision(editor), "it is told");
    assert.equal(await field(editor, "items.galley.mass").inputValue(), "25", "what is typed stays");
    await field(editor, "items.galley.mass").press("Escape");
    await edit("items.stove.along", "6.7 m");
    await follow();
    assert.equal(await field(editor, "items.galley.mass").inputValue(), "270 kg");
  });

  await check("a page whose parts are not where they were asks for all of it", async () => {
    const front = pages[0];
    await front.evaluate(() => document.getElementById("arrangement-plan-items.stove").remove());
    await edit("items.stove.along", "6.8 m");
    await follow();
  });

  await check("most of it went as changes", async () => {
    const changes = told.get("changes") || 0, whole = told.get("whole") || 0;
    console.log(`    ${changes} answers told what changed, ${whole} were whole`);
    assert.ok(changes > whole, `${changes} changes, ${whole} whole`);
  });
});
