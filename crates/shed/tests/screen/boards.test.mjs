// Boards laid out while one looks on, patterns, weights and the quote.
import assert from "node:assert/strict";
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { DESK, NARROW, PHONE, disk, fill, open, pictures, root, settled, start, until } from "./shed.mjs";

/** What the page of the boards says of a layout. */
const laidOut = async (page) => {
  const said = (id) => page.locator(`#${id}`).innerText();
  return { share: parseFloat(await said("share")), cut: Number(await said("cut")), without: Number(await said("without")) };
};
const begun = (page) => page.getByRole("button", { name: "Lay her out" }).click();
const goodEnough = (page) => page.getByRole("button", { name: "Good enough, stop" });

test("planks are laid out on the boards while one looks on, and the answer stays", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(`${shed.address}/boards`);
    await begun(page);
    await page.waitForSelector("#share");
    assert.ok(await goodEnough(page).isVisible(), "it can be stopped");
    const first = await laidOut(page);
    assert.equal(await page.locator(".sawn").count() > 5, true, "boards are drawn");
    // What the pieces are is drawn anew while the page is never loaded again.
    await page.evaluate(() => (window.stillHere = true));
    const texts = new Set();
    const shares = [];
    for (const end = Date.now() + 60000; Date.now() < end && (await goodEnough(page).count()); ) {
      texts.add(await page.locator("#seen p.quiet").first().innerText().catch(() => ""));
      shares.push((await laidOut(page)).share);
      await page.waitForTimeout(40);
    }
    await page.waitForSelector("text=Good enough after");
    assert.equal(await page.evaluate(() => window.stillHere), true);
    assert.ok(texts.size > 4, `${texts.size} states were seen`);
    const last = await laidOut(page);
    assert.ok(last.share >= first.share, `${first.share} % became ${last.share} %`);
    assert.ok(last.share > 60 && last.without === 0, JSON.stringify(last));
    assert.equal(await page.evaluate(() => new Set([...document.querySelectorAll(".sawn strong")].map((e) => e.textContent.split(" ")[0])).size), last.cut);
    assert.equal(await page.locator(".plank .piece").count(), 20, "ten strakes, twice");
    if (pictures) await page.screenshot({ path: join(pictures, "boards-laid-out.png"), fullPage: true });
    console.log(`# laid out: ${texts.size} states seen, ${first.share} % at first, ${last.share} % at last`);
    await page.goto(`${shed.address}/lands`);
    await page.goto(`${shed.address}/boards`);
    assert.deepEqual(await laidOut(page), last);
    const pdf = await page.request.get(`${shed.address}/boards.pdf`);
    assert.equal((await pdf.body()).subarray(0, 4).toString(), "%PDF");
    assert.deepEqual((await new AxeBuilder({ page }).analyze()).violations.map((v) => v.id), []);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("a search is stopped by its button, by a change of the boat, and with the program", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  const toml = join(shed.folder, "boat.toml");
  try {
    await page.goto(`${shed.address}/boards`);
    await begun(page);
    await page.waitForSelector("#share");
    await goodEnough(page).click();
    await page.waitForSelector("text=Stopped after");
    assert.ok((await laidOut(page)).cut > 0);
    if (pictures) await page.screenshot({ path: join(pictures, "boards-stopped-phone.png"), fullPage: true });
    await page.getByRole("button", { name: "Look for a better layout" }).click();
    await goodEnough(page).waitFor();
    const was = readFileSync(toml, "utf8");
    writeFileSync(toml, was.replace('name = "Corncrake"', 'name = "Water Rail"'));
    await page.waitForFunction(() => document.querySelector(".boat").textContent.includes("Water Rail"));
    await page.waitForSelector("text=was changed while");
    assert.equal(await page.locator("#share").count(), 0, "an answer for another boat is shown");
    writeFileSync(toml, was);
    await page.waitForFunction(() => document.querySelector(".boat").textContent.includes("Corncrake"));
    await page.waitForSelector("text=Stopped after");
    await page.getByRole("button", { name: "Look for a better layout" }).click();
    await goodEnough(page).waitFor();
    const began = Date.now();
    await shed.stop();
    const took = Date.now() - began;
    console.log(`# the program ended ${took} ms after it was asked to, a search going on`);
    assert.ok(took < 2500, `the program took ${took} ms to end`);
    assert.equal(shed.child.signalCode, null, "it had to be killed");
    assert.deepEqual(wrong.filter((w) => !w.includes("WebSocket") && !w.includes("ERR_CONNECTION")), []);
  } finally {
    await close();
  }
});

test("without a rack the page says how to list one, and what is short is to be bought", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(NARROW);
  const list = join(shed.folder, "boards.csv");
  const rows = readFileSync(list, "utf8").split("\n");
  try {
    writeFileSync(list, rows.slice(0, 6).join("\n"));
    await page.goto(`${shed.address}/boards`);
    await page.getByText("4 boards, to be changed in").waitFor();
    await begun(page);
    await page.waitForSelector("#buy li", { timeout: 60000 });
    assert.ok((await laidOut(page)).without > 0);
    assert.match(await page.locator("#buy li").first().innerText(), /^\d+ of .+ thick, for strakes? \d/);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
    assert.ok(over <= 0, `it runs ${over} px off`);
    rmSync(list);
    await page.waitForSelector("text=There is no rack yet");
    assert.equal(await page.getByRole("button", { name: "Lay her out" }).count(), 0);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("patterns are drawn as asked, for each paper another PDF", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    await page.goto(`${shed.address}/patterns`);
    for (const card of await page.locator(".cards img").all()) {
      await card.scrollIntoViewIfNeeded();
      await until(() => card.evaluate((i) => i.complete && i.naturalWidth > 0), `${await card.getAttribute("src")} shows nothing`);
    }
    for (const what of ["Stem and sternpost", "Keel", "Transom", "Planks", "Tapes of the lands", "Thwarts and knees"]) await page.getByRole("checkbox", { name: what }).uncheck();
    const draw = async (paper) => {
      await page.getByLabel("Paper").selectOption({ label: paper });
      const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Draw them, PDF" }).click()]);
      return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
    };
    const boxes = new Map();
    for (const [paper, width, height] of [["A4 sheets", 595, 842], ["A2 sheets", 1191, 1684], ["Letter sheets", 612, 792], ["A roll", null, 2592]]) {
      const { name, bytes } = await draw(paper);
      assert.match(name, /^patterns-.+\.pdf$/);
      assert.equal(bytes.subarray(0, 5).toString(), "%PDF-");
      const pages = [...bytes.toString("latin1").matchAll(/\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)/g)].map((m) => [Number(m[1]), Number(m[2])]);
      assert.ok(pages.length > 0, `${paper}: no pages`);
      for (const [w, h] of pages) assert.ok(Math.abs(h - height) < 1.5 || Math.abs(w - height) < 1.5, `${paper}: a page is ${w} x ${h}`);
      if (width) for (const [w, h] of pages) assert.ok(Math.abs(w + h - width - height) < 2, `${paper}: a page is ${w} x ${h}`);
      boxes.set(paper, pages.length);
    }
    assert.ok(boxes.get("A4 sheets") > 2 * boxes.get("A2 sheets"), "small paper takes more sheets");
    await page.getByLabel("Width of the roll").fill("3 mm");
    await page.getByRole("button", { name: "Draw them, PDF" }).click();
    await page.getByText("a roll is between").waitFor();
    assert.equal(await page.getByRole("checkbox", { name: "Planks" }).isChecked(), false, "what was chosen is forgotten");
    assert.equal(await page.getByLabel("Width of the roll").inputValue(), "3 mm");
    const one = page.locator(".cards li").first();
    for (const [word, begins] of [["A4, PDF", "%PDF"], ["SVG", "<svg"], ["DXF", "  0"]]) {
      const [download] = await Promise.all([page.waitForEvent("download"), one.getByRole("link", { name: word }).click()]);
      assert.ok(readFileSync(await download.path(), "utf8").includes(begins), word);
    }
    assert.deepEqual(wrong.filter((w) => !w.includes("422")), []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("weights add up, and the quote is there when there are rates", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(`${shed.address}/weights`);
    const kg = (await page.locator("td:nth-child(2)").allInnerTexts()).map((t) => parseFloat(t.match(/([\d.]+) kg/)[1]));
    const total = kg.pop();
    assert.ok(kg.length >= 3 && Math.abs(kg.reduce((a, b) => a + b) - total) < 0.06 * kg.length, `${kg} is not ${total}`);
    await page.getByText("stand below and in the book").waitFor();
    for (const title of ["What she weighs", "How she floats", "How stiff she is", "What she may carry"]) {
      assert.ok((await page.getByRole("img", { name: title }).count()) > 0, `${title} is not on the page`);
    }
    await page.goto(`${shed.address}/quote`);
    await page.waitForFunction(() => [...document.images].every((i) => !i.complete || i.naturalWidth > 0));
    assert.match(await page.locator("#total").innerText(), /^[\d ,.\u2009\u00a0]+ pounds$/);
    const pdf = await page.request.get(`${shed.address}/quote.pdf`);
    assert.equal((await pdf.body()).subarray(0, 4).toString(), "%PDF");
    const customer = await (await page.request.get(`${shed.address}/quote/customer.pdf`)).body();
    assert.ok(customer.length < (await pdf.body()).length, "the customer is given all of it");
    rmSync(join(shed.folder, "rates.toml"));
    await page.waitForSelector("text=There are no rates yet");
    assert.equal((await page.request.get(`${shed.address}/quote.pdf`)).status(), 404);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("something is put aboard with a form, changed, taken out and undone", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  const rows = () => page.locator("tbody tr").count();
  const put = async (all) => {
    for (const [label, text] of Object.entries(all)) await page.getByLabel(label).fill(text);
  };
  try {
    await page.goto(`${shed.address}/weights`);
    await page.getByRole("link", { name: "What is aboard" }).click();
    const before = await rows();
    const text = () => readFileSync(join(shed.folder, "boat.toml"), "utf8");
    const was = text();
    await put({ "What or who": "anvil", Weighs: "-5", "From station": "5", "Its middle above base": "9 in", "With whom": "the smith" });
    await page.getByRole("button", { name: "Put it aboard" }).click();
    await page.locator("#mass-wrong").getByText("0 to 2000").waitFor();
    await put({ Weighs: "1900" });
    await page.getByRole("button", { name: "Put it aboard" }).click();
    await page.getByText("take loads out of").waitFor();
    assert.equal(text(), was);
    await put({ Weighs: "90 kg" });
    await page.getByRole("button", { name: "Put it aboard" }).click();
    await page.waitForURL(/weights$/);
    assert.match(text(), /name = "anvil"\nmass = "90 kg"/);
    await page.getByRole("link", { name: "What is aboard" }).click();
    assert.equal(await rows(), before + 1);
    await page.getByRole("link", { name: "Change anvil" }).click();
    assert.equal(await page.getByLabel("Weighs").inputValue(), "90 kg");
    await page.getByRole("button", { name: "Take anvil out" }).click();
    await page.waitForFunction((n) => document.querySelectorAll("tbody tr").length === n, before);
    assert.equal(text(), was);
    await page.getByRole("button", { name: "Undo" }).click();
    await page.waitForFunction((n) => document.querySelectorAll("tbody tr").length === n, before + 1);
    assert.deepEqual(wrong.filter((w) => !w.includes("422")), []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("a boat is begun from an example, and in memory in the example's place", async () => {
  const shed = await start("");
  const memory = await start(null);
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(shed.address);
    await page.getByText("Or begin from an example").click();
    await page.getByRole("button", { name: "Begin from Lapwing" }).click();
    await page.waitForSelector(".figures");
    for (const file of ["boat.toml", "offsets.csv", "rates.toml"]) assert.equal(disk(shed, file), readFileSync(join(root, "boats/lapwing", file), "utf8"));
    await page.getByRole("button", { name: /^Undo/ }).click();
    await page.waitForSelector(".ask");
    assert.equal(disk(shed, "rates.toml"), null);

    await page.goto(memory.address);
    await page.getByRole("link", { name: "Begin a boat of your own" }).click();
    await page.waitForURL("**/new");
    await settled(page);
    await fill(page);
    await page.getByRole("button", { name: "Make the boat" }).click();
    await page.waitForSelector(".figures");
    assert.match(await page.locator(".boat").innerText(), /Whinchat/);
    await page.goto(`${memory.address}/files`);
    assert.match(await page.locator(".contents").innerText(), /boards.csv .*none yet/);
    await page.getByRole("button", { name: /^Undo/ }).click();
    await page.waitForFunction(() => document.querySelector(".boat").textContent.includes("Corncrake"));
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
    await memory.stop();
  }
});
