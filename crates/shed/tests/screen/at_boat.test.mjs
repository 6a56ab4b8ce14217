// At the boat: numbers one at a time on a phone, readings kept while the program is away, and what is made of them.
import assert from "node:assert/strict";
import { join } from "node:path";
import { test } from "node:test";
import { AxeBuilder } from "@axe-core/playwright";
import { DESK, NARROW, PHONE, open, pictures, settled, start, until } from "./shed.mjs";

const shown = (page) => page.evaluate(() => ({
  title: document.getElementById("title").textContent, place: document.getElementById("place").textContent, value: document.getElementById("value").textContent,
}));
/** To the first step of a job that is not done. */
async function job(page, title) {
  await page.getByRole("button", { name: "Jobs", exact: true }).tap();
  await page.locator("#all-jobs button", { hasText: title }).first().tap();
  await page.waitForFunction((title) => document.getElementById("title").textContent === title, title);
}
/** Types what the tape reads: whole millimetres or inches, eighths, and the way off the mark. */
async function read(page, { whole = "0", eighths = 0, below = false, kind = "Off the mark" }) {
  await page.locator("#read").tap();
  await page.getByRole("button", { name: kind, exact: true }).tap();
  if (below) await page.locator("#below").tap();
  for (const digit of whole) await page.locator(".digits").getByRole("button", { name: digit, exact: true }).tap();
  if (eighths) await page.locator(".eighths button").nth(eighths - 1).tap();
  await page.locator("#take").tap();
}
const entries = async (shed) => (await fetch(`${shed.address}/boat/entries`)).json();
const ready = async (page, shed) => {
  await page.goto(`${shed.address}/boat`);
  await page.waitForFunction(() => document.getElementById("place").textContent !== "");
};

test("numbers come one at a time, in the order of the work, and the phone remembers where it was", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    await ready(page, shed);
    assert.deepEqual(await shown(page), { title: "Set up the moulds", place: "mould 1", value: (await shown(page)).value });
    await page.locator("#next").tap();
    assert.equal((await shown(page)).place, "mould 2");
    await page.locator("#done").tap();
    await until(async () => (await entries(shed)).some((e) => e.what === "set up" && e.section === "2"), "it was not put down");
    await job(page, "Mark strake 3");
    const first = await shown(page);
    assert.equal(first.place, "stem");
    // Next and back take half the screen between them.
    const [turns, screen] = [await page.locator(".turns").boundingBox(), page.viewportSize()];
    assert.ok(turns.height > 0.35 * screen.height && turns.width > 0.98 * screen.width, `${turns.height} of ${screen.height}`);
    const number = await page.locator("#value").boundingBox();
    assert.ok(number.height > 90, `the number is ${number.height} px high`);
    await page.locator("#next").tap();
    const second = await shown(page);
    await page.reload();
    await page.waitForFunction(() => document.getElementById("place").textContent !== "");
    assert.deepEqual(await shown(page), second);
    await page.locator("#back").tap();
    assert.deepEqual(await shown(page), first);
    await page.locator("#starboard").tap();
    assert.equal(await page.locator("#starboard").getAttribute("aria-pressed"), "true");
    if (pictures) await page.screenshot({ path: join(pictures, "boat-marks.png") });
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("a whole strake is read while the phone is out of reach, sent once when it is back, and the rest is lined again", async () => {
  const shed = await start();
  const { page, close } = await open(PHONE);
  try {
    await ready(page, shed);
    await job(page, "Mark strake 4");
    await page.locator("#next").tap();
    const before = await shown(page);
    await job(page, "Measure strake 3 as it hangs");
    await page.context().setOffline(true);
    const places = [];
    for (let i = 0; i < 10; i++) {
      places.push((await shown(page)).place);
      await read(page, { eighths: 1 });
      assert.match(await page.locator("#told").innerText(), /1\/8 above the mark.*Not sent yet/);
      await page.locator("#next").tap();
    }
    assert.equal(new Set(places).size, 10);
    assert.match(await page.locator("#state").innerText(), /10 not sent yet/);
    assert.deepEqual(await entries(shed), []);
    await page.context().setOffline(false);
    await until(async () => (await entries(shed)).length === 10, "they were not sent");
    await page.waitForFunction(() => !document.getElementById("state").textContent.includes("not sent"));
    await page.waitForTimeout(600);
    const stored = await entries(shed);
    assert.equal(stored.length, 10);
    assert.equal(new Set(stored.map((e) => `${e.strake} ${e.section}`)).size, 10);
    assert.ok(stored.every((e) => e.strake === 3 && e.side === "port" && Math.abs(e.value - 3.175) < 1e-9 && e.typed === "+1/8"));
    // The next strake's marks are for the boat that stands there: an eighth less from an edge that hangs an eighth high, or nearly.
    await job(page, "Mark strake 4");
    await page.locator("#next").tap();
    await page.waitForFunction((was) => document.getElementById("value").textContent !== was, before.value);
    // One is taken back.
    await job(page, "Measure strake 3 as it hangs");
    await page.locator("#back-out").tap();
    await until(async () => (await entries(shed)).some((e) => e.kind === "withdrawn"), "it was not taken back");
    await page.waitForFunction(() => !document.getElementById("told").textContent.startsWith("Read:"));
    if (pictures) await page.screenshot({ path: join(pictures, "boat-measure.png") });
    // And the page at the desk shows it.
    const desk = await open(DESK);
    await desk.page.goto(`${shed.address}/built`);
    await settled(desk.page);
    assert.match(await desk.page.locator("main").innerText(), /Strake 3 of 10 hangs/);
    assert.ok((await desk.page.locator("td[data-judged]").count()) >= 9);
    await desk.page.getByRole("link", { name: "Strake 4, port" }).click();
    await settled(desk.page);
    assert.ok((await desk.page.locator("figure.leaf img").count()) > 0);
    const pdf = await fetch(`${shed.address}/built/port/4/plank.pdf`);
    assert.ok(pdf.ok && (await pdf.text()).startsWith("%PDF"));
    if (pictures) await desk.page.screenshot({ path: join(pictures, "built-strake.png") });
    await desk.close();
  } finally {
    await close();
    await shed.stop();
  }
});

test("the keypad opens on what the big number asks for, and a height may be typed as it is printed", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    await ready(page, shed);
    await job(page, "Measure strake 2 as it hangs");
    await page.locator("#next").tap();
    const asked = await shown(page);
    const pressed = () => page.locator('#kinds [aria-pressed="true"]').innerText();
    await page.locator("#read").tap();
    assert.equal(await pressed(), "Width");
    assert.ok(!(await page.locator("#feet").isVisible()));
    await page.locator("#reading [data-closes]").tap();
    // Another kind is chosen for one reading, not for the next.
    await read(page, { eighths: 1 });
    await page.locator("#next").tap();
    await page.locator("#read").tap();
    assert.equal(await pressed(), "Width");
    await page.getByRole("button", { name: "Height", exact: true }).tap();
    const digit = (d) => page.locator(".digits").getByRole("button", { name: d, exact: true }).tap();
    await digit("1");
    await page.locator("#feet").tap();
    await digit("3");
    await page.locator(".eighths button").nth(3).tap();
    for (let i = 0; i < 2; i++) await page.getByRole("button", { name: "a thirty-second more" }).tap();
    assert.equal(await page.locator("#typed").innerText(), "1-3-4+");
    await page.locator("#take").tap();
    await until(async () => (await entries(shed)).length === 2, "they were not stored");
    const height = (await entries(shed)).at(-1);
    assert.equal(height.what, "height");
    assert.equal(height.typed, "1-3-4+");
    assert.ok(Math.abs(height.value - 15.5625 * 25.4) < 1e-9, `${height.value}`);
    // What was asked for stays beside what was read.
    await page.locator("#back").tap();
    await page.waitForFunction(() => /Planned .*, hangs at .*its mark/.test(document.getElementById("told").textContent));
    assert.deepEqual(await shown(page), asked);
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("two phones read two sides at once, and each sees the other's", async () => {
  const shed = await start();
  const phones = await Promise.all([open(PHONE), open(NARROW)]);
  try {
    await Promise.all(phones.map(async ({ page }, i) => {
      await ready(page, shed);
      await page.locator(i === 0 ? "#port" : "#starboard").tap();
      await job(page, "Measure strake 1 as it hangs");
      for (let n = 0; n < 5; n++) {
        await read(page, { eighths: 1, below: i === 1 });
        await page.locator("#next").tap();
      }
    }));
    await until(async () => (await entries(shed)).length === 10, "not all of them came");
    const sides = (await entries(shed)).map((e) => `${e.side} ${e.section} ${Math.sign(e.value)}`);
    assert.equal(new Set(sides).size, 10);
    await job(phones[0].page, "Measure strake 1 as it hangs");
    for (let n = 0; n < 5; n++) await phones[0].page.locator("#back").tap();
    await phones[0].page.waitForFunction(() => /starboard: from the mark/.test(document.getElementById("other").textContent));
    for (const { wrong } of phones) assert.deepEqual(wrong, []);
  } finally {
    await Promise.all(phones.map((p) => p.close()));
    await shed.stop();
  }
});

test("the program is killed while a phone goes on reading; started again, it has every reading once", async () => {
  const shed = await start();
  const { page, close } = await open(PHONE);
  let again;
  try {
    await ready(page, shed);
    await job(page, "Measure strake 2 as it hangs");
    await read(page, { eighths: 2 });
    await until(async () => (await entries(shed)).length === 1, "the first was not stored");
    shed.child.kill("SIGKILL");
    await page.locator("#next").tap();
    for (let i = 0; i < 3; i++) {
      await read(page, { eighths: 3, below: true });
      await page.locator("#next").tap();
    }
    await page.waitForFunction(() => document.getElementById("state").textContent.includes("3 not sent yet"));
    again = await start(shed.folder, Number(new URL(shed.address).port));
    await until(async () => (await entries(again)).length === 4, "what was read meanwhile did not come");
    assert.equal(new Set((await entries(again)).map((e) => e.section)).size, 4);
    await page.waitForFunction(() => document.getElementById("state").textContent === "", null, { timeout: 15000 });
  } finally {
    await close();
    await again?.stop();
  }
});

test("rivets are counted off, and those behind a mould are offered when it is out", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    await ready(page, shed);
    await job(page, "Fasten strake 3");
    await page.locator("#next").tap();
    const whole = Number((await shown(page)).value);
    assert.ok(whole > 2);
    await page.locator("#one-more").tap();
    await page.locator("#one-more").tap();
    assert.match(await page.locator("#so-far").innerText(), new RegExp(`^2 of ${whole} done`));
    await until(async () => (await entries(shed)).length === 1, "presses in a row should be one entry");
    assert.equal((await entries(shed))[0].value, 2);
    await page.locator("#all-of-them").tap();
    await page.locator("#next").tap();
    await until(async () => (await entries(shed)).at(-1)?.value === whole, "all of them were not put down");
    await job(page, "Where mould 4 stood");
    assert.match(await page.locator("#told").innerText(), /still in/);
    assert.ok(!(await page.locator("#rivets").isVisible()));
    await page.locator("#out").tap();
    await page.waitForSelector("#rivets:visible");
    await page.locator("#all-of-them").tap();
    await page.locator("#next").tap();
    await until(async () => (await entries(shed)).some((e) => e.what === "riveted at the mould" && e.section === "4"), "they were not put down");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("numbers are said aloud with time to walk between, and what is put in is asked back", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(PHONE);
  try {
    // What is said is written down; a second's walk is a hundredth.
    await page.addInitScript(() => {
      window.said = [];
      window.speechSynthesis.speak = (u) => {
        window.said.push(u.text);
        setTimeout(() => u.dispatchEvent(new Event("end")), 5);
      };
      window.SpeechSynthesisUtterance = class extends EventTarget { constructor(text) { super(); this.text = text; } };
      const later = window.setTimeout;
      window.setTimeout = (work, ms, ...more) => later(work, ms >= 5000 ? ms / 100 : ms, ...more);
    });
    await ready(page, shed);
    await job(page, "Mark strake 2");
    await page.locator("#say").tap();
    assert.match((await page.evaluate(() => window.said))[0], /^Mark strake 2\. stem\. .*inch.*up from the upper edge of strake 1/);
    await page.locator("#read-out").tap();
    await page.waitForFunction(() => window.said.length >= 4);
    await page.locator("#next").tap();
    assert.equal(await page.locator("#read-out").getAttribute("aria-pressed"), "false");
    const count = await page.evaluate(() => window.said.length);
    await page.waitForTimeout(400);
    assert.equal(await page.evaluate(() => window.said.length), count, "it went on after it was touched");
    await page.locator("#settings").tap();
    await page.getByLabel("Double check").check();
    await page.locator("#set [data-closes]").tap();
    await job(page, "Measure strake 2 as it hangs");
    await read(page, { eighths: 3, below: true });
    assert.match(await page.locator("#right-said").innerText(), /^\u22123\/8 inches, below the mark, at stem\. Is that right\?/);
    assert.deepEqual(await entries(shed), []);
    await page.locator("#yes").tap();
    await until(async () => (await entries(shed)).length === 1, "it was not stored");
    assert.deepEqual(wrong, []);
  } finally {
    await close();
    await shed.stop();
  }
});

for (const [kind, device] of [["phone, light", { ...PHONE, colorScheme: "light" }], ["phone, dark", { ...PHONE, colorScheme: "dark" }], ["narrow", NARROW]]) {
  test(`at the boat, ${kind}: no violation, nothing from elsewhere, letters and targets large enough`, async () => {
    const shed = await start();
    const { page, wrong, close } = await open(device);
    const looked = async (what) => {
      const found = await new AxeBuilder({ page }).analyze();
      assert.deepEqual(found.violations.map((v) => `${what}: ${v.id}: ${v.nodes.map((n) => n.html).slice(0, 3).join(" | ")}`), []);
      const small = await page.evaluate(() => [...document.querySelectorAll("button, select, input:not([type=checkbox])")].filter((e) => e.checkVisibility())
        .filter((e) => { const b = e.getBoundingClientRect(); return b.width > 0 && (b.height < 44 || b.width < 44); }).map((e) => e.outerHTML.slice(0, 80)));
      assert.deepEqual(small, [], what);
      const over = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      assert.ok(over <= 0, `${what} runs ${over} px off`);
      if (pictures) await page.screenshot({ path: join(pictures, `boat-${what}-${kind.replace(", ", "-")}.png`) });
    };
    try {
      await ready(page, shed);
      await looked("first");
      await page.getByRole("button", { name: "Jobs", exact: true }).tap();
      await looked("jobs");
      await page.locator("#all-jobs button", { hasText: "Measure strake 4" }).tap();
      await page.locator("#read").tap();
      await looked("keypad");
      await page.locator("#reading [data-closes]").tap();
      await page.locator("#settings").tap();
      await looked("settings");
      await page.locator("#set [data-closes]").tap();
      await job(page, "Fasten strake 5");
      await page.locator("#next").tap();
      await looked("rivets");
      assert.deepEqual(wrong, []);
    } finally {
      await close();
      await shed.stop();
    }
  });
}
