/* From leaving a field to the painted answer, in Chromium, on dunlin: on the form of an item, by a move on the front view, and until a second
 * open page shows it. Milliseconds, p50 and p95 of as many edits.
 *
 *     node bench/bench_page.mjs CAREEN SOURCE_ROOT BUILD_ROOT [EDITS] */
import { main, open, pause, person, serve } from "../tests/browser/harness.mjs";

const edits = Number(process.argv[5] || 100);
const quantile = (values, share) => [...values].sort((a, b) => a - b)[Math.floor(share * (values.length - 1))];
const row = (name, values) => console.log(`${name.padEnd(52)} p50 ${quantile(values, 0.5).toFixed(0).padStart(5)} ms   p95 ${quantile(values, 0.95).toFixed(0).padStart(5)} ms`);

/* When the next revision is on the screen, on the clock that all pages share. */
const painted = () => new Promise(done => {
  const main = document.getElementById("main");
  const watch = new MutationObserver(() => {
    watch.disconnect();
    requestAnimationFrame(() => setTimeout(() => done(performance.timeOrigin + performance.now())));
  });
  watch.observe(main, { attributes: true, attributeFilter: ["data-revision"] });
});

/* The field holds the text already; leaving it sends it. */
const leave = text => {
  const input = document.getElementById("v-items.stove.along");
  input.focus();
  input.value = text;
  const at = performance.timeOrigin + performance.now();
  input.dispatchEvent(new Event("change", { bubbles: true }));
  return at;
};

/* What letting go of a thing in the picture does. */
const move = x => {
  const form = document.getElementById("move"), link = document.querySelector('.view a.movable[data-path="items.stove"]');
  const set = (name, value) => { form.elements.namedItem(name).value = value; };
  set("path", "items.stove");
  set("x", x);
  set("y", "");
  set("z", "");
  set("was", link.dataset.place);
  const at = performance.timeOrigin + performance.now();
  form.requestSubmit();
  return at;
};

await main(async () => {
  const boat = await serve(), ann = await person(boat, { expected: /./ }), ben = await person(boat, { expected: /./ });
  const other = await open(ben, boat, "/");
  for (const [name, where, act] of [["item form", "/record?path=items.stove", leave], ["front view, a thing moved", "/", move]]) {
    const page = await open(ann, boat, where), mine = [], theirs = [];
    await pause(500);
    for (let i = 0; i < edits; i++) {
      const place = (6 + (i % 40) / 20 + (where === "/" ? 0.01 : 0)).toFixed(2);
      const here = page.evaluate(painted), there = other.evaluate(painted);
      await pause(60);
      const begun = await page.evaluate(act, where === "/" ? place : `${place} m`);
      mine.push(await here - begun);
      theirs.push(await there - begun);
    }
    row(`${name}, to the painted answer`, mine);
    row(`${name}, to the second page (front view)`, theirs);
    await page.close();
  }
  console.log(`memory of careen ${boat.memory_kB()} kB`);
});
