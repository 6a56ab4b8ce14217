// Every page in a real browser, at a desk and on a phone, light and dark.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { DESK, NARROW, PAGES, PHONE, clean, name, open, pictures, quick, settled, start } from "./shed.mjs";

for (const [kind, device] of [["desk", DESK], ["phone", PHONE], ["narrow", NARROW]]) {
  for (const scheme of kind === "narrow" ? ["light"] : ["light", "dark"]) {
    test(`every page, ${kind}, ${scheme}: no violation, nothing from elsewhere, no error, letters and targets large enough`, async () => {
      const shed = await start();
      const { page, wrong, close } = await open({ ...device, colorScheme: scheme });
      try {
        for (const path of PAGES) {
          await page.goto(shed.address + path);
          await settled(page);
          await clean(page, `${path}, ${kind}`);
          if (pictures) await page.screenshot({ path: join(pictures, `${name(path)}-${kind}-${scheme}.png`), fullPage: kind !== "desk" });
        }
        assert.deepEqual(wrong, []);
      } finally {
        await close();
        await shed.stop();
      }
    });
  }
}

test("on a phone the table's cells are whole and scroll under their names, and what is aboard can be changed", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    await page.goto(`${shed.address}/table`);
    await settled(page);
    const cut = await page.evaluate(() => [...document.querySelectorAll("#grid input")].filter((i) => i.scrollWidth > i.clientWidth).map((i) => i.value));
    assert.deepEqual(cut, []);
    const left = (at) => page.evaluate((at) => document.querySelector("#grid").rows[2].cells[at].getBoundingClientRect().left, at);
    const before = await Promise.all([left(0), left(5)]);
    await page.evaluate(() => (document.querySelector(".scroll").scrollLeft = 200));
    const after = await Promise.all([left(0), left(5)]);
    assert.ok(Math.abs(after[0] - before[0]) < 1 && after[1] < before[1] - 150, `${before} ${after}`);
    await page.goto(`${shed.address}/weights/aboard`);
    for (const button of await page.getByRole("button", { name: /^Take .* out$/ }).all()) {
      const box = await button.boundingBox();
      assert.ok(box.x >= 0 && box.x + box.width <= PHONE.viewport.width, `${box.x} ${box.width}`);
    }
    assert.ok((await page.getByRole("link", { name: /^Change/ }).count()) > 0);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("lines have the bow to the left as on paper; lands tell what the lining found and show every column; her eye is told in her units", async () => {
  const shed = await start();
  const { page, wrong, close } = await open({ viewport: { width: 1280, height: 800 } });
  try {
    await page.goto(`${shed.address}/lines`);
    await settled(page);
    const names = await page.evaluate(() => [...document.querySelectorAll("#lines text")].filter((t) => /^[1-8]$/.test(t.textContent)).map((t) => [t.textContent, Number(t.getAttribute("x"))]));
    assert.ok(names.length > 4 && names.every(([, x], i) => i === 0 || x > names[i - 1][1]), JSON.stringify(names));
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    const found = await page.locator("#found li strong").allInnerTexts();
    assert.ok(found.includes("strake 9, transom"), found.join("; "));
    await page.locator('[aria-label^="Land 9 at transom"]').focus();
    const [cell, box] = await Promise.all([page.locator("#numbers td.at").first().boundingBox(), page.locator("#numbers").boundingBox()]);
    assert.ok(cell.x >= box.x && cell.x + cell.width <= box.x + box.width + 1, `${cell.x} in ${box.x}, ${box.width}`);
    await page.goto(`${shed.address}/hull`);
    await settled(page);
    assert.match(await page.locator("#off-said").innerText(), /^\d+ ft \d+ in$/);
    assert.match(await page.locator("#eye-said").innerText(), /^\d+ ft \d+ in$/);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("back and forward show each page as it is now", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(shed.address);
    for (const link of ["Table", "Lands", "Book"]) {
      await page.getByRole("navigation", { name: "Pages", exact: true }).getByRole("link", { name: link }).click();
      await settled(page);
    }
    await page.goBack();
    await settled(page);
    assert.equal(await page.locator("h1").innerText(), "Lands");
    await page.goBack();
    assert.equal(await page.locator("h1").innerText(), "Table of offsets");
    await page.goForward();
    await settled(page);
    assert.equal(await page.locator("h1").innerText(), "Lands");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("without a boat the example opens, in memory", async () => {
  const shed = await start(null);
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(shed.address);
    assert.match(await page.locator(".boat").innerText(), /Corncrake.*in memory/s);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("how soon she is there, and how much memory that takes", async () => {
  const began = performance.now();
  const shed = await start();
  const up = performance.now() - began;
  const { page, wrong, close } = await open(DESK, quick);
  try {
    const first = performance.now();
    await page.goto(shed.address, { waitUntil: "domcontentloaded" });
    const shown = performance.now() - first;
    for (const path of PAGES) await page.goto(shed.address + path);
    const status = existsSync(`/proc/${shed.child.pid}/status`) ? readFileSync(`/proc/${shed.child.pid}/status`, "utf8") : "";
    const peak = /VmHWM:\s+(\d+) kB/.exec(status)?.[1];
    console.log(`# address printed after ${up.toFixed(0)} ms, first page there after ${shown.toFixed(0)} ms, at most ${peak ? (peak / 1024).toFixed(0) : "?"} MB after all pages`);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});
