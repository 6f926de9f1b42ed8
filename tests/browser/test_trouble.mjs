/* The server is stopped amid saves, killed, or has no room to write: what was acknowledged is in the file, the file is whole, and the
 * owner is told. */
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { after, check, field, form, fs, main, open, pause, person, serve, shot, type, until, written } from "./harness.mjs";

const WHERE = "items.stove.along";

async function token(boat) {
  return /name="token" value="([^"]+)"/.exec(await (await boat.fetch("/")).text())[1];
}

/* Sets one value after the other until nobody answers; the last one that was acknowledged. */
async function edits(boat, first, key) {
  let said = first;
  for (let i = 1; ; i++) {
    const value = `${(5 + (first + i) / 1000).toFixed(3)} m`;
    const body = new URLSearchParams({ token: key, path: WHERE, value, back: "/history" });
    try {
      const answer = await boat.fetch("/edit", { method: "POST", body, headers: { Origin: boat.address } });
      if (answer.status !== 303) return said;
      said = first + i;
    } catch { return said; }
  }
}

const leftovers = boat => fs.readdirSync(boat.dir).filter(name => name !== "dunlin.yaml" && name !== ".dunlin.careen");
const stands = boat => Math.round((parseFloat(written(boat.text(), WHERE)) - 5) * 1000);

await main(async () => {
  const boat = await serve();
  let said = 0;
  for (const [signal, after_ms] of [["SIGTERM", 150], ["SIGTERM", 333], ["SIGTERM", 471], ["SIGKILL", 250], ["SIGKILL", 391], ["SIGTERM", 219]])
    await check(`${signal} ${after_ms} ms into a row of saves: all that was acknowledged is in the file, which is whole`, async () => {
      const row = edits(boat, said, await token(boat));
      await until(() => stands(boat) > said, "the first is saved");
      await pause(after_ms);
      await boat.stop(signal);
      const last = await row;
      assert.ok(last >= said, "something was saved");
      assert.ok(stands(boat) === last || stands(boat) === last + 1, `acknowledged ${last}, in the file ${stands(boat)}`);
      assert.ok((await boat.findings()).findings.length > 30);
      await boat.start();
      said = stands(boat);
      const history = await (await boat.fetch("/history")).text();
      assert.match(history, new RegExp(`${(5 + last / 1000).toFixed(3)} m`));
      const value = `${(5 + ++said / 1000).toFixed(3)} m`;   /* and it goes on; nothing is left over after that */
      await boat.fetch("/edit", { method: "POST", headers: { Origin: boat.address },
                                  body: new URLSearchParams({ token: await token(boat), path: WHERE, value, back: "/" }) });
      assert.equal(stands(boat), said);
      assert.deepEqual(leftovers(boat), []);
    });

  const full = await serve({ wrap: ["sh", "-c", 'ulimit -S -f 16; exec "$@"', "sh"] });   /* in blocks of 512 bytes; the boat file has more */
  const she = await person(full, { expected: /422|500|507/ }), page = await open(she, full, "/record?path=items.stove");
  const before = full.text();
  await check("no room to write: the edit is refused with the reason, what was typed stays, the file stays", async () => {
    assert.ok(before.length > 8192);
    await type(page, WHERE, "7.2 m");
    await until(() => form(page, WHERE).locator(".error").count(), "the refusal");
    const told = await form(page, WHERE).locator(".error").innerText();
    assert.ok(told.length > 20, told);
    assert.equal(await field(page, WHERE).inputValue(), "7.2 m");
    assert.equal(full.text(), before);
    await shot(page, "no-room");
    assert.ok(full.alive());
  });
  await check("a page, a picture and a study are still to be had", async () => {
    assert.equal((await full.fetch("/")).status, 200);
    assert.equal((await full.fetch("/picture/arrangement.svg")).status, 200);
  });
  await check("a scan that does not fit is refused, and nothing of it is kept", async () => {
    const key = await token(full);
    const answer = await full.fetch("/scan?name=big.stl", { method: "POST", body: Buffer.alloc(200000), duplex: "half",
      headers: { Origin: full.address, "Content-Type": "application/octet-stream", "Careen-Token": key } }).catch(error => ({ status: `cut: ${error.cause?.code}` }));
    assert.ok(answer.status === 507 || String(answer.status).startsWith("cut"), `${answer.status}`);
    const kept = fs.existsSync(`${full.dir}/dunlin.files`) ? fs.readdirSync(`${full.dir}/dunlin.files`) : [];
    assert.deepEqual(kept, []);
    assert.ok(full.alive());
  });
  await check("room again: the same edit goes through", async () => {
    execFileSync("prlimit", ["--pid", String(full.process.pid), "--fsize=unlimited:"]);
    await after(page, () => form(page, WHERE).getByRole("button", { name: "Set" }).click());
    assert.equal(written(full.text(), WHERE), "7.2 m");
    assert.equal(await form(page, WHERE).locator(".error").count(), 0);
  });
});
