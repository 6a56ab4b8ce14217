// Every page in a real browser, at a desk and on a phone, light and dark.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { DESK, NARROW, PAGES, PHONE, name, open, pictures, quick, settled, start } from "./shed.mjs";

for (const [kind, device] of [["desk", DESK], ["phone", PHONE], ["narrow", NARROW]]) {
  for (const scheme of kind === "narrow" ? ["light"] : ["light", "dark"]) {
    test(`every page, ${kind}, ${scheme}: no violation, nothing from elsewhere, no error, letters and targets large enough`, async () => {
      const shed = await start();
      const { page, wrong, close } = await open({ ...device, colorScheme: scheme });
      try {
        for (const path of PAGES) {
          await page.goto(shed.address + path);
          await settled(page);
          const found = await new AxeBuilder({ page }).analyze();
          assert.deepEqual(found.violations.map((v) => `${path}: ${v.id}: ${v.nodes.map((n) => n.html).slice(0, 3).join(" | ")}`), []);
          const small = await page.evaluate(() => {
            const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
            const small = [];
            while (texts.nextNode()) {
              const at = texts.currentNode.parentElement;
              if (!texts.currentNode.textContent.trim() || at.closest("script, noscript") || !at.checkVisibility()) continue;
              if (parseFloat(getComputedStyle(at).fontSize) < 14) small.push(at.outerHTML.slice(0, 80));
            }
            return small;
          });
          assert.deepEqual(small, [], `${path}: letters under 14 px`);
          const near = await page.evaluate(() => {
            const all = [...document.querySelectorAll("button, nav a, a.button, .contents a, input, textarea, select, summary")];
            return all.filter((e) => e.checkVisibility() && e.type !== "hidden" && !e.closest(".skip")).map((e) => [e.getBoundingClientRect(), e.outerHTML.slice(0, 80)])
              .filter(([r]) => r.height < 43.5).map(([r, html]) => `${r.width.toFixed(0)} x ${r.height.toFixed(0)} ${html}`);
          });
          assert.deepEqual(near, [], `${path}: targets under 44 px`);
          const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
          assert.ok(over <= 0, `${path} runs ${over} px off the ${kind}`);
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
