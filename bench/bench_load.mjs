/* Many open pages and somebody who edits all the while: errors, lost edits, latency, memory after warm-up and at the end.
 *
 *     node bench/bench_load.mjs CAREEN SOURCE_ROOT BUILD_ROOT [PAGES [EDITS_PER_S [SECONDS]]] */
import { main, serve, written } from "../tests/browser/harness.mjs";
import { ITEMS, VIEWS, load } from "../tests/browser/load.mjs";

const [pages = 100, edits_per_s = 20, seconds = 120] = process.argv.slice(5).map(Number);

await main(async () => {
  const boat = await serve();
  const done = await load(boat, { pages, edits_per_s, seconds, warm_edits: 200, views: VIEWS }, ITEMS);
  const text = boat.text(), lost = [...done.last].filter(([which, value]) => written(text, which) !== value);
  console.log(`${pages} open pages, ${edits_per_s} edits/s wanted, ${seconds} s after a warm-up of 200 edits:`);
  console.log(`edits            ${done.edits} (${done.skipped} not sent: the one before of that field was on its way)`);
  console.log(`edit answered    p50 ${done.edit_p50.toFixed(0)} ms, p95 ${done.edit_p95.toFixed(0)} ms`);
  console.log(`refetches        ${done.refetches}, ${done.whole} of them whole, ${(done.bytes / Math.max(1, done.refetches) / 1000).toFixed(1)} kB each`);
  console.log(`told to fetched  p50 ${done.refetch_p50.toFixed(0)} ms, p95 ${done.refetch_p95.toFixed(0)} ms`);
  console.log(`errors           ${done.errors.length}${done.errors.length > 0 ? `, such as ${done.errors[0]}` : ""}`);
  console.log(`lost edits       ${lost.length}; pages left behind ${done.behind}`);
  console.log(`memory           ${done.warm_kB} kB after the warm-up, ${done.end_kB} kB at the end (${(100 * (done.end_kB / done.warm_kB - 1)).toFixed(0)} %)`);
});
