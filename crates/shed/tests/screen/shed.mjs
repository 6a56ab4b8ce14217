// The program and two browsers for the tests. Needs the program (STRAKEWISE, or target/release/strakewise) and Chromium (CHROMIUM,
// or one on the path). Pictures go to SCREEN_PICTURES, where it is given.
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { chromium } from "playwright-core";

export const root = new URL("../../../../", import.meta.url).pathname;
export const program = process.env.STRAKEWISE ?? join(root, "target/release/strakewise");
export const onPath = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((p) => existsSync(p));
export const pictures = process.env.SCREEN_PICTURES;
export const DESK = { viewport: { width: 1280, height: 900 } };
export const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 2 };
export const NARROW = { viewport: { width: 360, height: 640 }, hasTouch: true, isMobile: true };
export const PAGES = ["/", "/new", "/plan-picture", "/table", "/lines", "/lands", "/hull", "/strakes", "/strakes/3", "/rivets", "/boards", "/patterns", "/weights", "/weights/aboard", "/built", "/quote", "/book", "/book/3", "/record", "/phones", "/files", "/files/boat.toml"];
// One draws the hull without a graphics card, which makes every page slow to paint; the other paints as browsers do without one.
export let browser;
export let quick;
before(async () => {
  const launch = (args) => chromium.launch({ executablePath: process.env.CHROMIUM ?? onPath, args: ["--no-sandbox", ...args] });
  browser = await launch(["--use-angle=swiftshader", "--enable-unsafe-swiftshader"]);
  quick = await launch(["--disable-gpu"]);
  if (pictures) mkdirSync(pictures, { recursive: true });
});
after(() => Promise.all([browser?.close(), quick?.close()]));

/** The program on a copy of an example's folder, on an empty one (""), or on the example itself (null); `more` is for its command line. */
export async function start(boat = "corncrake", port = 0, more = []) {
  const folder = boat === null ? null : boat.includes("/") ? boat : mkdtempSync(join(tmpdir(), "screen-"));
  if (boat !== null && boat !== "" && !boat.includes("/")) cpSync(join(root, "boats", boat), folder, { recursive: true });
  const child = spawn(program, [...(folder ? [folder] : []), "--no-browser", "--port", String(port), ...more]);
  let said = "";
  child.stderr.on("data", (bytes) => (said += bytes));
  const address = await new Promise((resolve, reject) => {
    child.stdout.once("data", (bytes) => resolve(String(bytes).trim()));
    child.once("exit", () => reject(new Error(`the program ended: ${said}`)));
  });
  const stop = () => new Promise((resolve) => { child.once("exit", resolve); child.kill("SIGINT"); setTimeout(() => child.kill("SIGKILL"), 3000).unref(); });
  return { address: address.replace(/\/$/, ""), folder, stop, child };
}

/** A page that remembers what went wrong in it, and what it asked for from elsewhere. */
export async function open(kind, by = browser) {
  const context = await by.newContext(kind);
  const page = await context.newPage();
  const wrong = [];
  page.on("console", (message) => message.type() === "error" && wrong.push(`${page.url()}: ${message.text()}`));
  page.on("pageerror", (error) => wrong.push(`${page.url()}: ${error}`));
  page.on("request", (request) => {
    const url = new URL(request.url());
    if (!["127.0.0.1", "localhost"].includes(url.hostname) && !["data:", "blob:"].includes(url.protocol)) wrong.push(`asked for ${url}`);
  });
  return { page, wrong, close: () => context.close() };
}

/** No violation that axe finds, letters and targets large enough, nothing off the screen. */
export async function clean(page, path) {
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
  assert.ok(over <= 0, `${path} runs ${over} px off the screen`);
}

/** Fills a new boat's form in with the examples that stand beside its fields. */
export async function fill(page) {
  const examples = await page.evaluate(() => [...document.querySelectorAll(".ask .field")].filter((f) => f.checkVisibility() && f.querySelector("pre, .means code"))
    .map((f) => [f.querySelector("input, textarea").id, f.querySelector("pre, .means code").textContent]));
  for (const [id, text] of examples) await page.locator(`#${id}`).fill(text);
  return examples.length;
}
export const disk = (shed, name) => (existsSync(join(shed.folder, name)) ? readFileSync(join(shed.folder, name), "utf8") : null);
export const settled = async (page) => {
  await page.waitForLoadState("load");
  if (page.url().endsWith("/lands")) await page.waitForSelector("#body-plan .mark");
  if (page.url().endsWith("/lines")) await page.waitForSelector("#lines .line");
  if (page.url().endsWith("/hull")) await page.waitForFunction(() => document.getElementById("off-said").textContent !== "");
  if (page.url().endsWith("/table")) await page.waitForFunction(() => document.getElementById("remarks").textContent !== "");
};
export const name = (path) => (path === "/" ? "boat" : path.slice(1).replace(/[/.]/g, "-"));
export const marks = (shed) => disk(shed, "marks.csv") ?? "";
export const until = async (what, say) => {
  for (let i = 0; i < 100; i++) {
    if (await what()) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  assert.fail(say);
};

/** Drags the mark of a land at a section by so many pixels. */
export async function drag(page, label, [dx, dy], steps = 12) {
  const box = await page.locator(`[aria-label^="${label}"] .dot`).boundingBox();
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= steps; i++) {
    await page.mouse.move(x + (dx * i) / steps, y + (dy * i) / steps);
    await page.waitForTimeout(16);
  }
  await page.mouse.up();
}
