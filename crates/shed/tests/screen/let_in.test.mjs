// Who is let in.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { request } from "node:http";
import { join } from "node:path";
import { test } from "node:test";
import { start } from "./shed.mjs";

/** Asks as anybody might, with any head; the status and the head of the answer. */
function ask(shed, { path = "/", method = "GET", headers = {}, body } = {}) {
  const { hostname, port, host } = new URL(shed.address);
  return new Promise((resolve, reject) => {
    const asked = request({ hostname, port, path, method, agent: false, headers: { host, ...headers } }, (answer) => {
      answer.resume();
      resolve({ status: answer.statusCode, headers: answer.headers });
    });
    asked.on("upgrade", (answer, socket) => {
      socket.destroy();
      resolve({ status: 101, headers: answer.headers });
    });
    asked.on("error", (why) => reject(new Error(`${method} ${path}: ${why.message}`)));
    asked.end(body);
  });
}

test("only this host and its own pages are let in, and nothing outside the boat's folder is read or written", async () => {
  const shed = await start();
  const own = { origin: shed.address };
  const form = { "content-type": "application/x-www-form-urlencoded" };
  const socket = { upgrade: "websocket", connection: "Upgrade", "sec-websocket-version": "13", "sec-websocket-key": "AAAAAAAAAAAAAAAAAAAAAA==" };
  const status = async (asked) => (await ask(shed, asked)).status;
  try {
    assert.equal(await status({}), 200);
    // A name that is made to point here.
    assert.equal(await status({ headers: { host: `boats.example:${new URL(shed.address).port}` } }), 421);
    // A form on somebody else's page, a script without a page, and a websocket from elsewhere.
    assert.equal(await status({ path: "/undo", method: "POST", headers: { origin: "http://boats.example", ...form } }), 403);
    assert.equal(await status({ path: "/undo", method: "POST", headers: form }), 403);
    assert.equal(await status({ path: "/live", headers: { ...socket, origin: "http://boats.example" } }), 403);
    assert.equal(await status({ path: "/live", headers: socket }), 403);
    assert.equal(await status({ path: "/live", headers: { ...socket, ...own } }), 101);
    const seen = readFileSync(join(shed.folder, "boat.toml"), "utf8");
    for (const path of ["/files/..%2F..%2Fetc%2Fpasswd", "/files/%2Fetc%2Fpasswd", "/files/notes.txt", "/assets/..%2FCargo.toml"]) {
      assert.equal(await status({ path }), 404, path);
      const posted = await status({ path, method: "POST", headers: { ...own, ...form }, body: "seen=1&text=x" });
      assert.ok(posted === 404 || posted === 405, `${path}: ${posted}`);
    }
    assert.equal(existsSync(join(shed.folder, "notes.txt")), false);
    // Refused by what its head says, before the rest is sent.
    const large = { ...own, ...form, "content-length": 5 << 20 };
    assert.equal(await status({ path: "/files/boat.toml", method: "POST", headers: large, body: "seen=1&text=x" }), 413);
    assert.equal(readFileSync(join(shed.folder, "boat.toml"), "utf8"), seen);
    const { headers } = await ask(shed, {});
    assert.match(headers["content-security-policy"], /default-src 'none'; script-src 'self'/);
    assert.equal(headers["x-content-type-options"], "nosniff");
    const flood = await Promise.all(Array.from({ length: 400 }, () => status({ path: "/undo", method: "POST", headers: { ...own, ...form } })));
    assert.ok(flood.includes(429), "a flood of changes was not stemmed");
  } finally {
    await shed.stop();
  }
});
