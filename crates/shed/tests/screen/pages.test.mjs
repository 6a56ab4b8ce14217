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
