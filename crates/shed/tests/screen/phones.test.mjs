// Phones let in, paired and shut out, and the record they write.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { DESK, PHONE, clean, open, pictures, start, until } from "./shed.mjs";

const entry = (n, more = {}) => ({ id: n.toString(16).padStart(32, "0"), at: 1770000000000 + n, kind: "hours", what: "strake", strake: 3, value: 1.5, typed: "1 1/2", ...more });
const picture = (page, name) => pictures && page.screenshot({ path: join(pictures, `${name}.png`), fullPage: true });
/** Sends entries from a page, as a page at the boat does; the status and the answer. */
const send = (page, entries) => page.evaluate(async (entries) => {
  const answer = await fetch("/boat/entries", { method: "POST", body: JSON.stringify(entries) });
  return [answer.status, answer.ok ? await answer.json() : await answer.text()];
}, entries);

/** Shows a code on the laptop for a phone of that name; its address. */
async function invite(desk, name) {
  await desk.getByLabel("What to call it").fill(name);
  await desk.getByRole("button", { name: "Pair a phone" }).click();
  await desk.getByText(`For ${name}:`).waitFor();
  return desk.locator(".address").innerText();
}

/** Pairs a phone that is called so. */
async function pair(desk, phone, name) {
  const address = await invite(desk, name);
  await phone.goto(address);
  await phone.getByRole("button", { name: "Pair this phone" }).click();
  await phone.waitForURL(/\/boat$/);
  return address;
}

test("a phone is paired by a code that is good once, and shut out at once, with what it has still on it", async () => {
  const shed = await start("corncrake", 0, ["--phones=127.0.0.1"]);
  const [desk, phone, other] = [await open(DESK), await open(PHONE), await open(PHONE)];
  try {
    await desk.page.goto(`${shed.address}/phones`);
    const address = await pair(desk.page, phone.page, "Ada's phone");
    const at = new URL(address).origin;
    // The laptop says so by itself, and shows the code no more.
    await desk.page.getByText("Ada's phone").first().waitFor();
    await until(async () => (await desk.page.locator(".address").count()) === 0, "a code that was used is still shown");
    await until(async () => (await desk.page.locator("#let-in").innerText()).includes("Ada's phone"), "who is let in is not told");
    const [cookie] = await phone.page.context().cookies();
    assert.deepEqual([cookie.httpOnly, cookie.sameSite, cookie.path, cookie.value.length], [true, "Strict", "/", 64]);
    assert.equal(readFileSync(join(shed.folder, "record.sqlite")).includes(cookie.value), false, "a token is kept as it is");
    // Used, it is good for nobody; who is not paired sees nothing.
    assert.equal((await other.page.goto(address)).status(), 404);
    assert.equal(await other.page.locator("h1").innerText(), "This code is not good");
    assert.equal((await other.page.goto(`${at}/boat`)).status(), 401);
    assert.equal(await other.page.locator("h1").innerText(), "Not let in");
    await clean(other.page, "not let in");
    assert.equal((await send(other.page, [entry(1)]))[0], 401);
    // Looking at a code, as programs do before people, does not use it up.
    const next = await invite(desk.page, "Ben's phone");
    for (let i = 0; i < 3; i++) assert.equal((await other.page.goto(next)).status(), 200);
    await clean(other.page, "pair");
    await picture(other.page, "pair-phone");
    // What it sends is signed; the desk is not there for it.
    assert.deepEqual(await send(phone.page, [entry(1), entry(2)]), [200, { stored: [entry(1).id, entry(2).id], known: [], refused: [] }]);
    for (const path of ["/", "/lands", "/files/boat.toml", "/record", "/phones", "/live"]) {
      assert.equal(await phone.page.evaluate(async (path) => (await fetch(path)).status, path), 404, path);
    }
    // Shut out: its websocket ends, it is refused, and keeps what it has.
    await phone.page.evaluate(() => {
      localStorage.setItem("unsent", "3 1/2");
      window.ended = null;
      const live = new WebSocket(`ws://${location.host}/boat/live`);
      live.onmessage = (event) => (window.told = JSON.parse(event.data));
      live.onclose = () => (window.ended = true);
    });
    await until(() => phone.page.evaluate(() => window.told?.record === 2), "its websocket tells nothing");
    await desk.page.goto(`${shed.address}/phones`);
    await desk.page.getByRole("button", { name: "Shut out Ada's phone" }).click();
    await until(() => phone.page.evaluate(() => window.ended), "its websocket is still open");
    assert.equal((await send(phone.page, [entry(3)]))[0], 401);
    assert.equal(await phone.page.evaluate(() => localStorage.getItem("unsent")), "3 1/2");
    // Paired again it sends the rest.
    await pair(desk.page, phone.page, "Ada's phone");
    assert.deepEqual((await send(phone.page, [entry(2), entry(3)]))[1], { stored: [entry(3).id], known: [entry(2).id], refused: [] });
    await until(async () => (await desk.page.getByText("Ada's phone (2)").count()) > 0, "it is not paired again");
    for (const [page, kind] of [[desk.page, "desk"], [other.page, "phone"]]) {
      await invite(desk.page, "Cid's phone");
      await page.goto(`${shed.address}/phones`);
      await clean(page, `/phones, ${kind}`);
      await picture(page, `phones-let-in-${kind}`);
    }
    assert.deepEqual(desk.wrong, []);
  } finally {
    await Promise.all([desk, phone, other].map((one) => one.close()));
    await shed.stop();
  }
});

test("phones are let in and shut out on the laptop, and every page says so at once", async () => {
  const shed = await start();
  const [desk, tab] = [await open(DESK), await open(DESK)];
  try {
    await tab.page.goto(`${shed.address}/weights`);
    await desk.page.goto(`${shed.address}/phones`);
    assert.equal(await tab.page.locator("#let-in").isVisible(), false);
    await desk.page.getByLabel(/^127\.0\.0\.1/).check();
    await desk.page.getByRole("button", { name: "Let phones in" }).click();
    const address = await desk.page.locator("main strong").first().innerText();
    const line = () => tab.page.locator("#let-in").innerText();
    await until(async () => (await line()).includes(`at ${address}, for no phone yet`), "the other page says nothing");
    await tab.page.goto(`${shed.address}/lands`);
    assert.ok((await line()).includes(address));
    assert.equal((await fetch(`${address}boat`)).status, 401);
    await tab.page.getByRole("button", { name: "Shut them out" }).click();
    await tab.page.waitForURL(/\/phones$/);
    await assert.rejects(fetch(`${address}boat`), "somebody is still there");
    assert.equal(await tab.page.locator("#let-in").isVisible(), false);
    // In again, she is found where she was: what phones have not sent is kept under that address.
    await tab.page.getByLabel(/^127\.0\.0\.1/).check();
    await tab.page.getByRole("button", { name: "Let phones in" }).click();
    assert.equal(await tab.page.locator("main strong").first().innerText(), address);
    assert.deepEqual([...desk.wrong, ...tab.wrong], []);
  } finally {
    await Promise.all([desk.close(), tab.close()]);
    await shed.stop();
  }
});

test("the record shows what comes in, takes entries back and again, and goes into a spreadsheet", async () => {
  const shed = await start();
  const [desk, small] = [await open(DESK), await open(PHONE)];
  try {
    const page = desk.page;
    await page.goto(`${shed.address}/record`);
    await page.getByText("Nothing has been measured").waitFor();
    const reading = { kind: "reading", side: "port", section: "4", what: "from the mark", value: -2, against: 512, typed: "=2 below" };
    await small.page.goto(shed.address);
    const sent = await send(small.page, [entry(1), entry(2, reading), entry(3, { corrects: entry(1).id, value: 2, typed: "2" })]);
    assert.equal(sent[1].stored.length, 3);
    // While the page is being shown anew there are none.
    const rows = () => page.locator("tbody tr").evaluateAll((all) => all.map((row) => [row.cells[0].textContent, row.cells[1].firstChild.textContent, row.cells[3].textContent])).catch(() => []);
    await until(async () => (await rows()).length === 3, "the page does not follow");
    assert.deepEqual(await rows(), [["3", "hours, strake, corrects 1: ", "Take back"], ["2", "from the mark: ", "Take back"], ["1", "hours, strake: ", "corrected"]]);
    await page.getByRole("button", { name: "Take back 3" }).click();
    await until(async () => (await rows()).length === 4, "nothing is taken back");
    assert.deepEqual((await rows()).map((row) => row[2]), ["Take back", "taken back", "Take back", "Take back"]);
    await page.getByRole("button", { name: "Take back 4" }).click();
    await until(async () => (await rows()).length === 5, "nothing is brought back");
    assert.deepEqual((await rows()).map((row) => row[2]), ["Take back", "taken back", "Take back", "Take back", "corrected"]);
    const [file] = await Promise.all([page.waitForEvent("download"), page.getByRole("link", { name: "For a spreadsheet" }).click()]);
    const lines = readFileSync(await file.path(), "utf8").split("\r\n");
    assert.equal(lines.length, 7);
    assert.match(lines[2], /^2,2026-02-02T02:40:00Z,.*,this machine,reading,port,3,4,from the mark,"'=2 below",-2,mm,,$/);
    for (const [one, kind] of [[desk.page, "desk"], [small.page, "phone"]]) {
      await one.goto(`${shed.address}/record`);
      await clean(one, `/record, ${kind}`);
      await picture(one, `record-${kind}`);
    }
    assert.deepEqual([...desk.wrong, ...small.wrong], []);
  } finally {
    await Promise.all([desk.close(), small.close()]);
    await shed.stop();
  }
});

test("a long record is shown in parts", async () => {
  const shed = await start("");
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(shed.address);
    await send(page, Array.from({ length: 250 }, (_, n) => entry(n + 1)));
    await page.goto(`${shed.address}/record`);
    for (const [first, count] of [["250", 100], ["150", 100], ["50", 50]]) {
      assert.deepEqual([await page.locator("tbody th").first().innerText(), await page.locator("tbody tr").count()], [first, count]);
      if (first !== "50") await page.getByRole("link", { name: "Earlier" }).click();
    }
    await page.getByRole("link", { name: "The newest" }).click();
    assert.equal(await page.locator("tbody th").first().innerText(), "250");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});
