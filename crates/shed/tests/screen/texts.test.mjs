// What is typed, pasted, written by other programs and begun from nothing, and that none of it is lost.
import assert from "node:assert/strict";
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { DESK, PHONE, disk, drag, fill, marks, open, pictures, settled, start, until } from "./shed.mjs";

test("a number is typed, a wrong one is told beside its cell, a block is pasted, and all is kept", async () => {
  const shed = await start();
  const { page, wrong, close } = await open({ ...DESK, permissions: ["clipboard-read", "clipboard-write"] });
  const offsets = () => readFileSync(join(shed.folder, "offsets.csv"), "utf8");
  try {
    await page.goto(`${shed.address}/table`);
    await settled(page);
    const first = page.locator("#grid tr").nth(3).locator("input").nth(3);
    const was = await first.inputValue();
    await first.fill("rather wide");
    await page.waitForSelector("td.wrong");
    assert.match(await page.locator("td.wrong .remark").innerText(), /rather wide/);
    await first.press("Enter");
    await until(() => offsets().includes("rather wide"), "it was not kept");
    await page.reload();
    await settled(page);
    assert.match(await page.locator(".trouble").innerText(), /No plan comes of this/);
    await page.locator("#grid tr").nth(3).locator("input").nth(3).fill(was);
    await page.keyboard.press("Enter");
    await until(() => !offsets().includes("rather wide"), "it was not mended");
    const before = offsets();
    await page.evaluate(() => navigator.clipboard.writeText("1-3-4\t1-5-0+\r\n15 1/2 in\t400 mm\r\n"));
    await page.locator("#grid tr").nth(4).locator("input").nth(2).click();
    await page.keyboard.press("Control+V");
    await until(() => offsets().includes("15 1/2 in") && offsets().includes("400 mm"), "the block was not kept");
    const lines = offsets().split("\n");
    assert.ok(lines.some((l) => l.includes("1-3-4,1-5-0+")), "the block stands side by side");
    await page.goto(shed.address);
    await page.getByRole("button", { name: /^Undo/ }).click();
    await until(() => offsets() === before, "the paste was not undone whole");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("files written by another program are shown, and never overwritten unseen", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  const toml = join(shed.folder, "boat.toml");
  try {
    await page.goto(shed.address);
    writeFileSync(toml, readFileSync(toml, "utf8").replace('name = "Corncrake"', 'name = "Water Rail"'));
    await page.waitForFunction(() => document.querySelector(".boat").textContent.includes("Water Rail"));
    await page.goto(`${shed.address}/files/boat.toml`);
    await page.locator("#text").focus();
    writeFileSync(toml, readFileSync(toml, "utf8").replace('name = "Water Rail"', 'name = "Little Rail"'));
    await page.waitForFunction(() => document.getElementById("news").textContent.includes("has changed"));
    await page.locator("#text").pressSequentially("# mine\n");
    await page.getByRole("button", { name: "Keep" }).click();
    await page.waitForSelector("main .trouble");
    assert.match(await page.locator("#text").inputValue(), /# mine/);
    assert.match(readFileSync(toml, "utf8"), /Little Rail/);
    await page.goto(shed.address);
    await page.getByRole("button", { name: /^Undo/ }).click();
    await until(() => readFileSync(toml, "utf8").includes("Water Rail"), "a change from outside could not be undone");
    assert.deepEqual(wrong.filter((w) => !w.includes("409")), []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("the program is stopped and started with the page open, and nothing is lost", async () => {
  const shed = await start();
  const { page, close } = await open(DESK);
  let again;
  try {
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    await drag(page, "Land 3 at station 4", [0, -8]);
    await until(() => marks(shed).includes("3,4,"), "the mark was not kept");
    await shed.stop();
    await page.waitForFunction(() => document.getElementById("news").textContent.includes("has stopped"));
    again = await start(shed.folder, Number(new URL(shed.address).port));
    await page.waitForFunction(() => document.getElementById("news").textContent === "", null, { timeout: 15000 });
    await page.waitForSelector('[aria-label="Land 3 at station 4, pinned"]');
    await drag(page, "Land 7 at station 5", [0, -8]);
    await until(() => marks(shed).includes("7,5,") && marks(shed).includes("3,4,"), "the second mark was not kept beside the first");
  } finally {
    await close();
    await again?.stop();
  }
});

for (const script of [true, false]) {
  test(`a boat is begun in an empty folder from a pasted table, ${script ? "with" : "without"} scripts`, async () => {
    const shed = await start("");
    const { page, wrong, close } = await open({ ...DESK, javaScriptEnabled: script });
    try {
      await page.goto(shed.address);
      assert.equal(await page.locator("h1").innerText(), "A new boat");
      // Without scripts the page cannot be asked what it shows: the fields are named here.
      const rabbet = "-300, 600\n-290, 480\n-262, 360\n-210, 250\n-130, 165\n-60, 126";
      const table = await page.locator("#table ~ div pre").innerText();
      const typed = { name: "Whinchat", "stem-half-siding": "16", "stem-rabbet": rabbet, "transom-foot": "2843, 165", "transom-head": "2930, 505", "planking-thickness": "8" };
      for (const [id, text] of Object.entries(typed)) await page.locator(`#${id}`).fill(text);
      // As a spreadsheet hands it over.
      await page.locator("#table").fill(table.replaceAll(",", "\t"));
      await page.getByRole("button", { name: "Make the boat" }).click();
      await page.waitForSelector(".figures");
      assert.match(await page.locator(".boat").innerText(), /Whinchat/);
      assert.match(disk(shed, "boat.toml"), /^thickness = 8 +# how thick the planks are/m);
      assert.match(disk(shed, "offsets.csv"), /height sheer\t552\t487/);
      await page.goto(`${shed.address}/new`);
      assert.match(await page.locator("main").innerText(), /not written over/);
      await page.getByRole("button", { name: /^Undo: the new boat Whinchat/ }).click();
      await page.waitForSelector(".ask");
      assert.deepEqual([disk(shed, "boat.toml"), disk(shed, "offsets.csv")], [null, null]);
      await page.getByRole("button", { name: /^Redo/ }).click();
      await page.waitForSelector(".figures");
      assert.match(disk(shed, "offsets.csv"), /height sheer/);
      assert.deepEqual(wrong, []);
    } finally {
      await close();
      await shed.stop();
    }
  });
}

for (const [kind, device] of [["desk, light", { ...DESK, colorScheme: "light" }], ["phone, dark", { ...PHONE, colorScheme: "dark" }]]) {
  test(`what is wrong in a new boat is told beside its field, and nothing is lost, ${kind}`, async () => {
    const shed = await start("");
    const { page, wrong, close } = await open(device);
    const make = async () => {
      await Promise.all([page.waitForEvent("load"), page.getByRole("button", { name: "Make the boat" }).click()]);
      const found = await new AxeBuilder({ page }).analyze();
      assert.deepEqual(found.violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).slice(0, 3).join(" | ")}`), []);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(over <= 0, `runs ${over} px off`);
    };
    try {
      await page.goto(shed.address);
      await make();
      assert.match(await page.locator("main > .trouble").innerText(), /7 things are wanting/);
      assert.ok((await fill(page)) >= 12);
      await page.locator("#planking-thickness").fill("800");
      await make();
      assert.match(await page.locator("#planking-thickness-wrong").innerText(), /3 mm to 50 mm/);
      assert.equal(await page.locator("#planking-thickness").getAttribute("aria-invalid"), "true");
      assert.equal(await page.locator(".ask .wrong").count(), 1);
      assert.deepEqual([await page.locator("#planking-thickness").inputValue(), await page.locator("#name").inputValue()], ["800", "Whinchat"]);
      await page.locator("#planking-thickness").fill("8");
      const table = await page.locator("#table").inputValue();
      await page.locator("#table").fill(table.replace("545,468", "wide,468"));
      await make();
      assert.match(await page.locator("#table-wrong").innerText(), /Line 5, cell 6: .*wide/);
      assert.match(await page.locator("td.wrong").innerText(), /^wide/);
      if (pictures) await page.screenshot({ path: join(pictures, `new-wrong-${kind.replace(", ", "-")}.png`), fullPage: true });
      assert.deepEqual([disk(shed, "boat.toml"), disk(shed, "offsets.csv")], [null, null]);
      // Somebody else writes to the folder: what is typed stays, and is not kept unseen.
      await page.locator("#table").fill(table);
      writeFileSync(join(shed.folder, "nails.csv"), "kind,gauge,length\nnail,14,22 mm\n");
      await page.waitForFunction(() => document.getElementById("news").textContent.includes("has changed"));
      await make();
      assert.match(await page.locator("main > .trouble").innerText(), /she has changed since/);
      assert.equal(disk(shed, "boat.toml"), null);
      assert.equal((await page.locator("#table").inputValue()).trim(), table.trim());
      rmSync(join(shed.folder, "nails.csv"));
      await page.waitForFunction(() => document.getElementById("news").textContent.includes("has changed"));
      await make();
      await make();
      await page.waitForSelector(".figures");
      assert.match(disk(shed, "boat.toml"), /Whinchat/);
      assert.deepEqual(wrong.filter((w) => !/409|422/.test(w)), []);
    } finally {
      await close();
      await shed.stop();
    }
  });
}
