// The hull, drawn without a graphics card.
import assert from "node:assert/strict";
import { join } from "node:path";
import { test } from "node:test";
import { DESK, open, pictures, settled, start } from "./shed.mjs";

/** Shares of the hull's picture that are paper, and a sum that differs from picture to picture. */
const hullSeen = (page) => page.evaluate(() => {
  const canvas = document.getElementById("hull");
  const gl = canvas.getContext("webgl2");
  const bytes = new Uint8Array(canvas.width * canvas.height * 4);
  gl.readPixels(0, 0, canvas.width, canvas.height, gl.RGBA, gl.UNSIGNED_BYTE, bytes);
  let [paper, sum] = [0, 0];
  for (let i = 0; i < bytes.length; i += 4) {
    if (bytes[i] === bytes[0] && bytes[i + 1] === bytes[1] && bytes[i + 2] === bytes[2]) paper += 1;
    sum = (sum * 31 + bytes[i]) % 1000003;
  }
  return { paper: (4 * paper) / bytes.length, sum };
});

/** The share of the picture that is wood cut through, which has a colour of its own. */
const endGrain = (page) => page.evaluate(() => {
  const canvas = document.getElementById("hull");
  const gl = canvas.getContext("webgl2");
  const bytes = new Uint8Array(canvas.width * canvas.height * 4);
  gl.readPixels(0, 0, canvas.width, canvas.height, gl.RGBA, gl.UNSIGNED_BYTE, bytes);
  const hex = getComputedStyle(document.documentElement).getPropertyValue("--end-grain").trim();
  const colour = [1, 3, 5].map((i) => parseInt(hex.slice(i, i + 2), 16));
  let count = 0;
  for (let i = 0; i < bytes.length; i += 4) if (colour.every((c, k) => Math.abs(bytes[i + k] - c) < 3)) count += 1;
  return (4 * count) / bytes.length;
});

test("the hull is drawn, turned by hand and key, and cut", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(`${shed.address}/hull`);
    await settled(page);
    const seen = [await hullSeen(page)];
    assert.ok(seen[0].paper > 0.3 && seen[0].paper < 0.9, `${seen[0].paper} of the picture is paper`);
    const next = async () => {
      await page.waitForTimeout(120);
      seen.push(await hullSeen(page));
      assert.notEqual(seen.at(-1).sum, seen.at(-2).sum);
    };
    const box = await page.locator("#hull").boundingBox();
    await page.mouse.move(box.x + 300, box.y + 200);
    await page.mouse.down();
    await page.mouse.move(box.x + 380, box.y + 230, { steps: 4 });
    await page.mouse.up();
    await next();
    await page.locator("#hull").focus();
    await page.keyboard.press("ArrowLeft");
    await next();
    await page.getByLabel("Cut at").selectOption({ label: "station 4" });
    await next();
    assert.ok(seen.at(-1).paper > seen.at(-2).paper + 0.02, "half of her should be gone");
    await page.getByRole("button", { name: "Off the bow" }).click();
    await next();
    assert.ok(await endGrain(page) > 0.0004, "the wood that is cut through is not filled in");
    if (pictures) await page.screenshot({ path: join(pictures, "hull-cut.png") });
    await page.getByLabel("Cut at").selectOption({ label: "nowhere" });
    await next();
    assert.equal(await endGrain(page), 0);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});
