// Lands and lines: marks dragged by mouse, finger and key, and what is seen of them.
import assert from "node:assert/strict";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { DESK, PHONE, disk, drag, marks, open, pictures, quick, settled, start, until } from "./shed.mjs";

test("a mark is dragged, kept, undone and done again", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    const before = await page.locator("#numbers table").innerText();
    await drag(page, "Land 5 at station 4", [0, -14]);
    await until(() => marks(shed).includes("5,4,"), "the mark was not kept");
    await page.waitForSelector('[aria-label="Land 5 at station 4, pinned"]');
    assert.notEqual(await page.locator("#numbers table").innerText(), before);
    await page.reload();
    await settled(page);
    await page.getByRole("button", { name: /^Undo/ }).click();
    await until(() => !marks(shed).includes("5,4,"), "it was not undone");
    await page.getByRole("button", { name: /^Redo/ }).click();
    await until(() => marks(shed).includes("5,4,"), "it was not done again");
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    await page.locator('[aria-label="Land 5 at station 4, pinned"]').focus();
    await page.keyboard.press("ArrowUp");
    await until(() => marks(shed).includes("5,4,"), "the key did not move it");
    await page.getByRole("button", { name: "Free this mark" }).click();
    await until(() => !marks(shed).includes("5,4,"), "it was not freed");
    await page.getByRole("button", { name: "Compare with the proposal" }).click();
    await page.waitForSelector(".was");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("a finger drags a mark on the phone", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    const box = await page.locator('[aria-label^="Land 6 at station 5"] .dot').boundingBox();
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const client = await page.context().newCDPSession(page);
    const touch = (type, points) => client.send("Input.dispatchTouchEvent", { type, touchPoints: points });
    await touch("touchStart", [{ x, y }]);
    for (let i = 1; i <= 8; i++) {
      await touch("touchMove", [{ x, y: y - i }]);
      await page.waitForTimeout(16);
    }
    await touch("touchEnd", []);
    await until(() => marks(shed).includes("6,5,"), "the mark was not kept");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("a dragged mark is redrawn as it moves", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK, quick);
  try {
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    await drag(page, "Land 4 at station 5", [0, -20], 90);
    await page.waitForTimeout(300);
    const drawn = await page.evaluate(() => window.strakewiseMoves.map((m) => m.at).filter((at) => at > 0).sort((a, b) => a - b));
    assert.ok(drawn.length >= 20, `${drawn.length} moves were drawn`);
    const core = await page.locator("#core").textContent();
    const at = (share) => drawn[Math.floor(share * (drawn.length - 1))].toFixed(1);
    console.log(`# drag to redrawn: ${drawn.length} drawn, median ${at(0.5)} ms, 95th percentile ${at(0.95)} ms; ${core}`);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("pinned marks are listed, freed one by one and all at once, and come back with one undo", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  try {
    writeFileSync(join(shed.folder, "marks.csv"), "# mine\nland,station,girth\n");
    // Until the program has seen it, a mark that is moved would be refused as made from an older state.
    await page.waitForTimeout(1000);
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    for (const [land, count] of [[5, 1], [6, 2], [7, 3]]) {
      await page.locator(`[aria-label^="Land ${land} at station 4"]`).focus();
      await page.keyboard.press("ArrowUp");
      await until(async () => (await page.locator("#pins li").count()) === count, `mark ${count} is not in the list`);
    }
    await page.getByRole("button", { name: "Free land 6 at station 4" }).click();
    await until(async () => (await page.locator("#pins li").count()) === 2, "the mark is still in the list");
    assert.ok(!marks(shed).includes("6,4,") && marks(shed).includes("5,4,"));
    const before = marks(shed);
    await page.getByRole("button", { name: "Free all" }).click();
    await until(() => disk(shed, "marks.csv") === null, "not all were freed");
    await page.waitForFunction(() => document.querySelectorAll("#pins li").length === 0);
    assert.equal(await page.locator(".mark.pinned").count(), 0);
    await page.reload();
    await settled(page);
    await page.getByRole("button", { name: "Undo: all marks freed" }).click();
    await until(() => marks(shed) === before, "one undo did not bring all of them back");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("a half of the body plan fills the phone, and keys go up a mould from the rabbet", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    const apart = () => page.evaluate(() => {
      const at = (label) => document.querySelector(`[aria-label^="${label}"] .dot`).getBoundingClientRect();
      const [a, b] = [at("Land 5 at station 2"), at("Land 6 at station 2")];
      return { apart: Math.hypot(a.x + a.width / 2 - b.x - b.width / 2, a.y + a.height / 2 - b.y - b.height / 2), wide: (a.width + b.width) / 2 };
    });
    const both = await apart();
    assert.ok(both.wide < 0.75 * both.apart, `dots ${both.wide} px wide stand ${both.apart} px apart`);
    await page.getByRole("button", { name: "Fore half" }).click();
    const fore = await apart();
    assert.ok(fore.apart > 1.6 * both.apart, `${both.apart} px apart, zoomed ${fore.apart}`);
    assert.equal(await page.getByRole("button", { name: "Fore half" }).getAttribute("aria-pressed"), "true");
    assert.ok(!(await page.locator('[aria-label^="Land 5 at station 8"]').isVisible()));
    await page.getByRole("button", { name: "After half" }).click();
    assert.ok(await page.locator('[aria-label^="Land 5 at station 8"]').isVisible());
    assert.ok(!(await page.locator('[aria-label^="Land 5 at station 2"]').isVisible()));
    console.log(`# neighbours on the phone: ${both.apart.toFixed(1)} px apart, ${fore.apart.toFixed(1)} zoomed`);
    await page.getByRole("button", { name: "Both halves" }).click();
    const order = await page.evaluate(() => [...document.querySelectorAll(".mark")].map((m) => m.getAttribute("aria-label")));
    assert.deepEqual(order.slice(0, 3), ["Land 1 at stem", "Land 2 at stem", "Land 3 at stem"]);
    assert.equal(order[9], "Land 1 at station 1");
    await page.locator('[aria-label="Land 3 at station 4"]').focus();
    const focused = () => page.evaluate(() => document.activeElement.getAttribute("aria-label"));
    await page.keyboard.press("PageUp");
    assert.equal(await focused(), "Land 4 at station 4");
    await page.keyboard.press("Tab");
    assert.equal(await focused(), "Land 5 at station 4");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("the lands are seen from where one stands, and follow a dragged mark with what is found", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(`${shed.address}/lands`);
    await settled(page);
    // The pinhole's closed forms: what is nearer is larger; heeled away by 90 degrees what was nearer stands above.
    const seen = await page.evaluate(async () => {
      const { eye } = await import("/assets/eye.js");
      const stand = { turn: 0, height: 500, distance: 6000, heel: 0, target: [2000, 500] };
      const astern = eye({ ...stand, turn: 90 })([5000, 300, 500]);
      return [eye(stand)([2900, 600, 700]), eye({ ...stand, heel: 90 })([2000, 400, 500]), astern, eye({ ...stand, turn: 180, heel: 90 })([2000, -400, 500])];
    });
    const near = (a, b) => assert.ok(Math.hypot(a[0] - b[0], a[1] - b[1]) < 1e-6, `${a} is not ${b}`);
    near(seen[0], [(-900 * 6000) / 5400, (200 * 6000) / 5400]);
    near(seen[1], [0, 400]);
    near(seen[2], [(300 * 6000) / 3000, 0]);
    near(seen[3], [0, 400]);
    const drawn = () => page.evaluate(() => [...document.querySelectorAll("#seen .near")].map((p) => p.getAttribute("d")).join());
    const views = [await drawn()];
    for (const name of ["Off the bow", "Off the quarter", "Heeled"]) {
      await page.getByRole("button", { name }).click();
      views.push(await drawn());
      assert.equal(await page.getByRole("button", { name }).getAttribute("aria-pressed"), "true");
    }
    await page.locator("#turn").focus();
    for (let i = 0; i < 3; i++) {
      await page.keyboard.press("ArrowRight");
      views.push(await drawn());
    }
    assert.equal(new Set(views).size, views.length, "two places show the same picture");
    assert.match(await page.locator("#turn-said").innerText(), /3° aft of the starboard beam/);
    await page.getByRole("button", { name: "On the beam" }).click();
    const rest = await drawn();
    await page.locator("h1").scrollIntoViewIfNeeded();
    const box = await page.locator('[aria-label^="Land 9 at station 5"] .dot').boundingBox();
    await page.mouse.move(box.x + 4, box.y + 4);
    await page.mouse.down();
    await page.mouse.move(box.x + 4, box.y + 30, { steps: 8 });
    await until(async () => (await drawn()) !== rest, "the picture does not follow");
    await page.waitForSelector("#found .fresh");
    assert.match(await page.locator("#found .fresh").first().innerText(), /New: strake .* in \(limit/);
    if (pictures) await page.screenshot({ path: join(pictures, "lands-dragged.png"), fullPage: true });
    await page.mouse.up();
    await until(() => marks(shed).includes("9,5,"), "the mark was not kept");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("the lines plan has combs on each view, and says how a line runs", async () => {
  const shed = await start("sandgrouse");
  const { page, wrong, close } = await open(DESK);
  try {
    await page.goto(`${shed.address}/lines`);
    await settled(page);
    assert.equal(await page.locator("#lines .tooth").count(), 0);
    // Profile over half-breadth, body plan to the side.
    const titles = Object.fromEntries(await page.evaluate(() => [...document.querySelectorAll("#lines text")].map((t) => [t.textContent, [t.getBoundingClientRect().x, t.getBoundingClientRect().y]])));
    assert.ok(titles.Profile[1] < titles["Half-breadth plan"][1] && titles["Half-breadth plan"][1] < titles.Diagonals[1]);
    assert.ok(titles["Body plan"][0] > titles.Profile[0] + 400 && titles["1"][0] < titles["9"][0], "the bow is not to the left, where the book has it");
    // Rows of the table, and a section at every station.
    assert.equal(await page.locator("#lines .line:not(.edge)").count(), 5 + 1 + 2 + 9);
    const switches = [["Combs on the profile", 3], ["on the half-breadth plan", 6], ["on the diagonals", 2], ["on the body plan", 9]];
    for (const [name, count] of switches) {
      await page.getByLabel(name).check();
      assert.equal(await page.locator("#lines .tooth").count(), count, name);
      if (pictures) await page.screenshot({ path: join(pictures, `combs-${count}.png`), fullPage: true });
      await page.getByLabel(name).uncheck();
    }
    await page.getByLabel("on the half-breadth plan").check();
    const tips = () => page.evaluate(() => document.querySelector("#lines .tips").getBoundingClientRect().height);
    const before = await tips();
    await page.getByLabel("Length of the teeth").fill("3");
    assert.ok((await tips()) > before * 1.2);
    await page.getByLabel("Look at one line").selectOption({ label: "half-breadth sheer" });
    assert.match(await page.locator("#line-said").innerText(), /Bends hardest to a radius of \d+ mm, (at|between) .* turns back/);
    assert.equal(await page.locator("#lines .line.on").count(), 1);
    await page.getByLabel("Lands").check();
    assert.equal(await page.locator("#lines .land").count(), 10 * 4);
    assert.ok((await page.getByRole("link", { name: /^Fairness/ }).count()) >= 4);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});
