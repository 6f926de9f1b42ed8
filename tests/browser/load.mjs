/* Many pages open at once, as a browser holds them: an event stream each and, told of a revision, a refetch of its own view, one on its
 * way and one waiting at most, saying what it shows. Somebody edits all the while, on a form of each thing. Raw requests: what is asked
 * is the server, not a browser. */
import http from "node:http";
import { setTimeout as pause } from "node:timers/promises";

const quantile = (values, share) => [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))];

function ask(boat, method, where, headers = {}, body = null) {
  return new Promise((done, failed) => {
    const request = http.request(boat.address + where, { method, headers: { Connection: "close", ...headers }, agent: false }, answer => {
      let length = 0;
      const head = [];
      answer.on("data", part => { length += part.length; if (head.length < 1) head.push(part); });
      answer.on("end", () => done({ status: answer.statusCode, headers: answer.headers, length, start: Buffer.concat(head).toString() }));
      answer.on("error", failed);
    });
    request.on("error", failed);
    request.end(body);
  });
}

/* What a page shows after an answer, and whether it stands as it was sent (web/careen.js). */
const shown = answer => ({ revision: answer.headers["careen-revision"],
                           kept: answer.headers["careen-kept"] ?? / data-kept="([^"]+)"/.exec(answer.start.slice(0, 300))?.[1] });
const holds = view => (view && view.kept ? { "Careen-Shown": view.kept } : {});
/* Changes since another view than the page shows would be put in the wrong places. */
const misled = (answer, view) => answer.headers["careen-since"] !== undefined && !(view && answer.headers["careen-since"] === view.kept);

class OpenPage {
  constructor(boat, where, tally) {
    Object.assign(this, { boat, where, tally, view: { revision: "" }, newest: 0, busy: false, waiting: null });
  }
  start() {
    this.stream = http.get(`${this.boat.address}/events`, { agent: false }, answer => {
      if (answer.statusCode !== 200) this.tally.errors.push(`stream: ${answer.statusCode}`);
      answer.setEncoding("utf8");
      answer.on("data", text => { for (const id of text.matchAll(/^id: (\d+)$/gm)) this.told(Number(id[1])); });
      answer.on("error", () => this.over || this.tally.errors.push("stream broke"));
    });
    this.stream.on("error", error => this.over || this.tally.errors.push(`stream: ${error.message}`));
  }
  told(id) {
    this.newest = Math.max(this.newest, id);
    this.waiting ??= performance.now();
    if (!this.busy) this.refetch();
  }
  async refetch() {
    this.busy = true;
    while (this.waiting !== null && !this.over) {
      const begun = this.waiting;
      this.waiting = null;
      try {
        const answer = await ask(this.boat, "GET", this.where, { "HX-Request": "true", "If-None-Match": `"${this.view.revision}"`, ...holds(this.view) });
        if (misled(answer, this.view)) this.tally.errors.push(`${this.where}: changes since ${answer.headers["careen-since"]}`);
        if (answer.status === 200) {
          this.view = shown(answer);
          this.tally.bytes += answer.length;
          this.tally.whole += answer.headers["careen-since"] === undefined;
        }
        else if (answer.status !== 304) this.tally.errors.push(`${this.where}: ${answer.status}`);
        this.tally.refetches.push(performance.now() - begun);
      } catch (error) { this.over || this.tally.errors.push(`${this.where}: ${error.message}`); }
    }
    this.busy = false;
  }
  stop() {
    this.over = true;
    this.stream.destroy();
  }
}

/* how: {pages, edits_per_s, warm_edits, seconds, views}: first so many edits, then so long. Every edit sets a value of its own; at the end each field must hold its last one. */
export async function load(boat, how, items) {
  const tally = { errors: [], refetches: [], edits: [], bytes: 0, whole: 0 }, forms = new Map(), last = new Map();
  const token = /name="token" value="([^"]+)"/.exec(await (await boat.fetch("/")).text())[1];
  const pages = Array.from({ length: how.pages }, (_, i) => new OpenPage(boat, how.views[i % how.views.length], tally));
  for (const page of pages) page.start();
  const begun = performance.now(), running = new Set();
  let warm_kB = 0, n = 0, end = Infinity;
  const edit = async (item, value) => {
    const at = performance.now(), which = `items.${item}.along`;
    const body = new URLSearchParams({ token, path: which, value, back: `/record?path=items.${item}` }).toString();
    try {
      const answer = await ask(boat, "POST", "/edit", { "Content-Type": "application/x-www-form-urlencoded", Origin: boat.address, "HX-Request": "true",
                                                       ...holds(forms.get(item)) }, body);
      if (misled(answer, forms.get(item))) tally.errors.push(`edit: changes since ${answer.headers["careen-since"]}`);
      forms.set(item, shown(answer));
      if (answer.status === 200) last.set(which, value);
      else tally.errors.push(`edit: ${answer.status} ${answer.start.slice(0, 200)}`);
      tally.edits.push(performance.now() - at);
    } catch (error) { tally.errors.push(`edit: ${error.message}`); }
  };
  const busy = new Set();
  for (; performance.now() < end; n++) {
    const item = items[n % items.length];
    if (!busy.has(item)) {   /* two edits of one field on their way at once have no order */
      busy.add(item);
      const one = edit(item, `${(4 + (n % 5000) / 1000).toFixed(3)} m`).finally(() => { busy.delete(item); running.delete(one); });
      running.add(one);
    } else tally.skipped = (tally.skipped || 0) + 1;
    if (warm_kB === 0 && (tally.edits.length >= how.warm_edits || tally.errors.length > 0)) {
      warm_kB = boat.memory_kB();
      end = performance.now() + 1000 * how.seconds;
      tally.edits.length = tally.refetches.length = 0;
      tally.skipped = tally.bytes = tally.whole = 0;
    }
    await pause(Math.max(0, begun + 1000 * (n + 1) / how.edits_per_s - performance.now()));
  }
  await Promise.all(running);
  const settle = performance.now();
  while (pages.some(page => page.busy) && performance.now() - settle < 30000) await pause(50);
  const end_kB = boat.memory_kB();
  const newest = Math.max(...pages.map(page => page.newest)), behind = pages.filter(page => Number(page.view.revision.split("-")[1]) < newest).length;
  for (const page of pages) page.stop();
  return { errors: tally.errors, edits: tally.edits.length, skipped: tally.skipped || 0, refetches: tally.refetches.length, whole: tally.whole, bytes: tally.bytes, last, behind, warm_kB, end_kB,
           edit_p50: quantile(tally.edits, 0.5), edit_p95: quantile(tally.edits, 0.95),
           refetch_p50: quantile(tally.refetches, 0.5), refetch_p95: quantile(tally.refetches, 0.95) };
}

export const ITEMS = ["stove", "hearth", "flue", "galley", "cooker", "refrigerator", "toilet", "shower", "tools", "anchor", "radiators", "diesel-heater"];
export const VIEWS = ["/", "/findings", "/afloat", "/records", "/record?path=items.stove", "/assumed", "/history"];
