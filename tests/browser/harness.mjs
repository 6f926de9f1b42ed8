/* What the tests in a browser share: a careen of their own on a copy of a boat, people with a browser each, counting checks.
 *
 *     node test_NAME.mjs CAREEN SOURCE_ROOT BUILD_ROOT
 *
 * A check is a function that throws when it does not hold; the last line counts them. Nothing is left running, whatever happens.
 * Besides what a script checks, each script checks that no page complained in its console, that no page asked another host, and
 * that every careen ended well (under the sanitizers: without a complaint). */
import { spawn } from "node:child_process";
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";

const { chromium } = await import("playwright-core").catch(() => {
  console.log("playwright-core is not here; scripts/setup --tests installs it");
  process.exit(1);
});

const [, , careen, source, build] = process.argv;
export const program = path.resolve(careen), root = path.resolve(source);
const pictures = path.join(path.resolve(build), "screenshots");
export const sanitized = fs.readFileSync(program).includes("__asan_init");
export const PATIENCE_MS = sanitized ? 60000 : 20000, STUDY_MS = 6 * PATIENCE_MS;   /* on a machine that does other things too */
export { pause, fs, path };

const failures = [], servers = new Set(), complaints = [], strangers = new Set();
let passed = 0, browser = null, folders = [];

export async function check(name, body) {
  try {
    await body();
    passed++;
    console.log(`ok: ${name}`);
  } catch (error) {
    failures.push(name);
    console.log(`FAILED: ${name}\n    ${String(error.stack || error).split("\n").slice(0, 12).join("\n    ")}`);
  }
}

/* Asks until the answer is true; what it was last is told when time is over. */
export async function until(ask, what, patience = PATIENCE_MS) {
  const end = Date.now() + patience;
  let last, error;
  do {
    try {
      last = await ask();
      error = null;
      if (last) return last;
    } catch (e) { error = e; }
    await pause(25);
  } while (Date.now() < end);
  throw new Error(`not within ${patience} ms: ${what}${error ? ` (${error.message})` : ""}`);
}

export function folder() {
  const made = fs.mkdtempSync(path.join(os.tmpdir(), "careen-browser-"));
  folders.push(made);
  return made;
}

const ENDS = { SIGTERM: 0, SIGINT: 0 };

export class Boat {
  /* how: {text | example, dir, file (default dunlin.yaml), port, wrap: [command...]}; serves `target` (default the file) */
  constructor(how = {}) {
    this.dir = how.dir || folder();
    this.file = path.join(this.dir, how.file || "dunlin.yaml");
    this.target = how.target || this.file;
    this.wrap = how.wrap || [];
    this.port = how.port || 0;
    if (how.dir === undefined || how.text !== undefined)
      fs.writeFileSync(this.file, how.text ?? fs.readFileSync(path.join(root, "examples", how.example || "dunlin.yaml")));
    this.state = how.state || folder();
    this.said = "";
  }

  async start() {
    const [command, ...rest] = [...this.wrap, program, "serve", this.target, "--port", String(this.port)];
    this.process = spawn(command, rest, { env: { ...process.env, HOME: this.state, XDG_STATE_HOME: this.state, TZ: "UTC", USER: "tester" },
                                          stdio: ["ignore", "pipe", "pipe"] });
    this.complained = "";
    this.ended = new Promise(done => this.process.on("exit", (code, signal) => done({ code, signal })));
    this.process.stdout.on("data", text => { this.said += text; });
    this.process.stderr.on("data", text => { this.complained += text; });
    servers.add(this);
    let over = null;
    this.ended.then(end => { over = end; });
    this.said = "";
    await until(() => over || / (http:\/\/\S+)/.test(this.said), "careen says its address");
    if (over) throw new Error(`careen ended at once (${over.code}): ${this.complained}`);
    this.address = / (http:\/\/\S+)/.exec(this.said)[1].replace(/\/$/, "");
    this.port = Number(new URL(this.address).port);
    return this;
  }

  text() { return fs.readFileSync(this.file, "utf8"); }
  write(text) { fs.writeFileSync(this.file, text); }
  alive() { return this.process.exitCode === null && this.process.signalCode === null; }
  memory_kB() { return Number(/VmRSS:\s+(\d+)/.exec(fs.readFileSync(`/proc/${this.process.pid}/status`, "utf8"))[1]); }

  async fetch(where, how = {}) {
    return fetch(this.address + where, { redirect: "manual", ...how, headers: { Connection: "close", ...how.headers } });
  }

  /* What the checks say of the file as it stands, by the command line. */
  async findings() {
    const out = await command(["check", this.file, "--json"], { fine: [0, 1] });
    return JSON.parse(out);
  }

  async stop(signal = "SIGTERM") {
    if (!servers.delete(this)) return;
    if (!this.alive()) throw new Error(`careen had ended by itself with ${this.process.exitCode ?? this.process.signalCode}: ${this.said}${this.complained}`);
    this.process.kill(signal);
    const end = await this.ended;
    if (signal !== "SIGKILL" && (end.code !== ENDS[signal] || this.complained !== ""))
      throw new Error(`careen ended with ${end.code ?? end.signal}: ${this.complained.slice(0, 3000)}`);
  }
}

export async function serve(how) {
  return new Boat(how).start();
}

/* The program as people call it; its answer. */
export async function command(words, { fine = [0] } = {}) {
  const run = spawn(program, words, { stdio: ["ignore", "pipe", "pipe"] });
  let out = "", error = "";
  run.stdout.on("data", text => { out += text; });
  run.stderr.on("data", text => { error += text; });
  const code = await new Promise(done => run.on("close", done));
  if (!fine.includes(code)) throw new Error(`careen ${words.join(" ")}: ${code}: ${error}`);
  return out;
}

/* A person with a browser window of their own. how: what newContext takes, and expected: a pattern of console lines that may come. */
export async function person(boat, how = {}) {
  browser ??= await chromium.launch({ executablePath: "/usr/bin/chromium", args: ["--no-sandbox", "--disable-dev-shm-usage"] });
  const { expected, ...options } = how;
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: "en-GB", reducedMotion: "reduce", ...options });
  context.setDefaultTimeout(PATIENCE_MS);
  context.expected = expected || null;
  context.on("page", page => watch(page, context, boat));
  return context;
}

function watch(page, context, boat) {
  page.on("pageerror", error => complaints.push(`${page.url()}: ${error.message}`));
  page.on("dialog", dialog => { complaints.push(`${page.url()}: a dialog: ${dialog.message()}`); dialog.dismiss(); });
  page.on("console", line => {
    if (line.type() !== "error" && line.type() !== "warning") return;
    if (!(context.expected && context.expected.test(line.text()))) complaints.push(`${page.url()}: ${line.text()}`);
  });
  page.on("request", request => {
    const at = new URL(request.url());
    if (at.protocol !== "data:" && at.protocol !== "blob:" && `${at.protocol}//${at.host}` !== boat.address) strangers.add(request.url());
  });
}

/* The view at an address, ready: scripts run, the event stream is open. */
export async function open(context, boat, where = "/") {
  const page = await context.newPage();
  await go(page, boat, where);
  return page;
}

export async function go(page, boat, where) {
  const answer = await page.goto(boat.address + where, { waitUntil: "load" });
  return answer;
}

export async function shot(page, name, whole = true) {
  fs.mkdirSync(pictures, { recursive: true });
  await page.screenshot({ path: path.join(pictures, `${name}.png`), fullPage: whole });
}

export const revision = page => page.evaluate(() => document.getElementById("main").dataset.revision);

/* The revision that the server would show on this page now. */
export const newest = page => page.evaluate(async () =>
  (await fetch(location.pathname + location.search, { method: "HEAD", cache: "no-store" })).headers.get("Careen-Revision"));

/* The newest revision, once nothing is under way any more: one edit may be told twice. */
async function at_rest(page) {
  let was = await newest(page);
  for (let same = 0; same < 3;) {
    await pause(25);
    const now = await newest(page);
    same = now === was ? same + 1 : 0;
    was = now;
  }
  return was;
}

/* Does something and waits for the view that follows from it: the server has another revision, and it stands in <main>. */
export async function after(page, act) {
  const was = await at_rest(page);
  await act();
  await until(async () => {
    const now = await newest(page);
    return now !== was && await revision(page) === now;
  }, "the view that follows");
}

export const field = (page, which) => page.locator(`[id="v-${which}"]`);
export const form = (page, which) => page.locator(`[id="f-${which}"]`);

/* Types a value as a person does and leaves the field. */
export async function type(page, which, value) {
  await field(page, which).fill(value);
  await field(page, which).press("Tab");
}

/* The value of one path as the file has it, by the indent; enough for maps of single lines, as the examples are. */
export function written(text, which) {
  const keys = which.split(".");
  let depth = 0;
  for (const line of text.split("\n")) {
    const found = /^( *)([a-z0-9-]+):(?: +(.*))?$/.exec(line.replace(/\s+#.*$/, ""));
    if (!found) continue;
    const level = found[1].length / 2;
    if (level < depth) depth = level;
    if (level === depth && found[2] === keys[depth]) {
      if (depth === keys.length - 1) return found[3] ?? "";
      depth++;
    }
  }
  return undefined;
}

async function end() {
  if (browser) await browser.close();
  for (const boat of [...servers])
    await check("careen ends well", () => boat.stop());
  for (const made of folders) fs.rmSync(made, { recursive: true, force: true });
}

export async function main(body) {
  const stuck = setTimeout(() => {
    console.log("FAILED: time is over");
    for (const boat of servers) boat.process.kill("SIGKILL");
    console.log(`${passed} passed, ${failures.length + 1} failed`);
    process.exit(1);
  }, sanitized ? 900000 : 280000);
  try {
    await body();
  } catch (error) {
    failures.push("script");
    console.log(`FAILED: the script\n    ${error.stack}`);
  }
  if (browser) {
    await check("the console is free of errors", () => {
      if (complaints.length > 0) throw new Error(complaints.slice(0, 8).join("\n    "));
    });
    await check("no page asked another host", () => {
      if (strangers.size > 0) throw new Error([...strangers].slice(0, 8).join("\n    "));
    });
  }
  await end();
  clearTimeout(stuck);
  console.log(`${passed} passed, ${failures.length} failed`);
  process.exit(failures.length > 0 || passed === 0 ? 1 : 0);
}
