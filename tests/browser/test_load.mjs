/* A short run of the load of bench/bench_load.mjs, without timing: no error, no edit lost, no page left behind, memory in bounds. */
import assert from "node:assert/strict";
import { check, main, serve, written } from "./harness.mjs";
import { ITEMS, VIEWS, load } from "./load.mjs";

await main(async () => {
  const boat = await serve();
  const done = await load(boat, { pages: 20, edits_per_s: 10, warm_edits: 40, seconds: 10, views: VIEWS }, ITEMS);
  console.log(`${done.edits} edits, ${done.refetches} refetches, ${done.warm_kB} kB then ${done.end_kB} kB`);
  await check("no error", () => assert.deepEqual(done.errors.slice(0, 5), []));
  await check("there was a load", () => assert.ok(done.edits > 3 && done.refetches > 20));
  await check("every field holds what was last acknowledged", () => {
    const text = boat.text();
    assert.ok(done.last.size > 5);
    for (const [which, value] of done.last) assert.equal(written(text, which), value, which);
  });
  await check("every page came to the newest boat", () => assert.equal(done.behind, 0));
  await check("memory does not run away", () => assert.ok(done.end_kB < 1.5 * done.warm_kB + 20000, `${done.warm_kB} kB became ${done.end_kB} kB`));
});
