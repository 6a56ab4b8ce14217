// Offsets off a picture: a plan is drawn, pictured, put in as a file, and picked in its pixels; what comes of it is measured against the table it was drawn from.
import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { DESK, PHONE, clean, disk, fill, open, pictures, quick, start, until } from "./shed.mjs";
import { camera, crossings, drawing, hand, picker, scanned, table } from "./plan.mjs";

const png = (buffer, name = "plan.png") => ({ name, mimeType: "image/png", buffer });
const TIMES = 5;
const settled = (page) => page.waitForFunction(() => !document.querySelector("#end-said")?.textContent);

/** Her stations and levels typed in. */
async function levels(page, boat) {
  await page.locator("#stations").fill(boat.stations.map((s) => (boat.at[s] === null ? s : `${s}, ${boat.at[s].toFixed(2)}`)).join("\n"));
  await page.locator("#waterlines").fill(boat.waterlines.map((w) => w.level.toFixed(2)).join(", "));
  await page.locator("#buttocks").fill(boat.buttocks.map((w) => w.level.toFixed(2)).join(", "));
  await page.locator("#buttocks").blur();
}

/** What the page kept. */
const kept = (page) => page.evaluate(() => JSON.parse(localStorage.getItem(Object.keys(localStorage).find((k) => k.startsWith("strakewise-plan-picture")))));

/** The entries of a table that was made, against what was drawn: how many, root mean square and worst, mm. */
function off(file, boat) {
  const lines = file.split("\n").filter((l) => l && !l.startsWith("#")).map((l) => l.split(","));
  const stations = lines[0].slice(1);
  const all = [];
  for (const [name, ...cells] of lines.slice(2)) {
    const of = (levels) => levels.find((w) => Math.abs(w.level - Number(/[\d.]+$/.exec(name)[0])) < 0.1).cells;
    const drawn = name === "height sheer" ? boat.sheer[0] : name === "half-breadth sheer" ? boat.sheer[1] : name === "height rabbet" ? boat.rabbet : of(name.includes("buttock") ? boat.buttocks : boat.waterlines);
    cells.forEach((c, i) => c !== "" && all.push({ off: Math.abs(Number(c) - drawn[stations[i]]), what: `${name}, ${stations[i]}` }));
  }
  const worst = all.reduce((a, b) => (b.off > a.off ? b : a));
  return { n: all.length, rms: Math.sqrt(all.reduce((s, a) => s + a.off ** 2, 0) / all.length), worst: worst.off, what: worst.what };
}

/** What comes of picks by the page's own address, without its hand. */
const read = (page, state) =>
  page.evaluate(async (state) => {
    const stations = state.stations.split("\n").filter(Boolean).map((l) => ({ name: l.split(",")[0].trim(), at: (l.split(",")[1] ?? "").trim() }));
    const views = ["body-plan", "profile", "half-breadth"].map((v) => { const { picture, ...rest } = state.views[v]; return { view: v, ...rest }; });
    const answer = await fetch("/plan-picture/read", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ seen: 0, lengths: state.lengths, stations, views }) });
    return answer.json();
  }, state);

for (const [how, slant, known] of [["scanned askew", [0, 0], "scan"], ["photographed aslant", [2.2e-5, -3e-5], "photo"]]) {
  test(`a 14 ft boat's plan at 1:10, 150 dots to the inch, ${how} and blurred, comes back within 1 mm, each place picked five times by mouse`, { timeout: 400_000 }, async () => {
    const shed = await start("");
    const { page, wrong, close } = await open(DESK, quick);
    const boat = table();
    const drawn = drawing(boat);
    const cam = camera(drawn.size, slant);
    try {
      await page.goto(shed.address);
      await page.getByRole("link", { name: "read her offsets off the picture" }).click();
      await page.waitForURL(/plan-picture$/);
      const picture = await scanned(page, drawn.lines.map((l) => l.map(cam.pixel)), cam.size);
      if (pictures) writeFileSync(join(pictures, `plan-${known}.png`), picture);
      /** Where a place is in the pixels; looked for from a spot up to 1.5 pixels off. */
      const find = async (places) => {
        const near = places.map(cam.pixel).map(([x, y], i) => [x + 1.5 * Math.sin(i), y + 1.5 * Math.cos(i)]);
        return crossings(page, picture, near);
      };
      await page.locator("#file").setInputFiles(png(picture));
      await page.waitForFunction(() => document.getElementById("awaited").textContent.startsWith("Next"));
      await levels(page, boat);
      const aim = hand();
      const look = picker(page, cam.size);
      let picks = 0;
      const pick = async (p) => { picks += 1; await look.pick(aim(p)); };
      for (const view of ["body-plan", "profile"]) {
        await page.locator(`#view-${view}`).check();
        const marks = drawn.marks[view];
        for (const tool of ["level", "plumb"]) {
          await page.locator(`#tool-${tool}`).check();
          for (const p of await find(marks[tool])) {
            await look.near(p);
            for (let i = 0; i < TIMES; i++) await pick(p);
          }
        }
        await page.locator("#tool-distance").check();
        const ends = await find(marks.distances.flatMap(([a, b]) => [a, b]));
        for (const [i, [, , mm]] of marks.distances.entries()) {
          await page.locator("#long").fill(mm.toFixed(2));
          for (let n = 0; n < TIMES; n++) for (const p of ends.slice(2 * i, 2 * i + 2)) {
            await look.near(p);
            await pick(p);
          }
        }
        await page.locator("#tool-point").check();
        const corners = await find(marks.points.map((p) => p[0]));
        for (const [i, [, along, up]] of marks.points.entries()) {
          await page.locator("#along").fill(along.toFixed(2));
          await page.locator("#up").fill(up.toFixed(2));
          await look.near(corners[i]);
          for (let n = 0; n < TIMES; n++) await pick(corners[i]);
        }
        await page.locator("#tool-offset").check();
        const places = Object.entries(drawn.places[view]);
        const found = await find(places.map((p) => p[1]));
        for (const [i, [name]] of places.entries()) {
          const [station, line] = name.split("|");
          await page.locator("#station").selectOption(station);
          await page.locator("#line").selectOption(line);
          await look.near(found[i]);
          for (let n = 0; n < TIMES; n++) await pick(found[i]);
        }
        await look.whole();
        await settled(page);
        assert.equal(await page.locator("#marks-trouble").innerText(), "");
        assert.equal(await page.locator("#picks-trouble").innerText(), "");
        assert.equal(await page.locator("#picks tbody tr").count(), places.length);
        if (pictures) await page.screenshot({ path: join(pictures, `plan-picture-${view}-${known}.png`) });
      }
      const state = await kept(page);
      /** What would have come of fewer of the same picks. */
      const fewer = async (times, without = []) => {
        const some = structuredClone(state);
        for (const v of Object.values(some.views)) {
          for (const key of ["level", "plumb", "distances", "points", "picks"]) v[key] = without.includes(key) ? [] : v[key].filter((_, i) => i % TIMES < times);
        }
        const answer = await read(page, some);
        if (!answer.file) return `nothing: ${answer.views.map((v) => v.trouble).filter(Boolean)[0]}`;
        const { rms, worst } = off(answer.file, boat);
        return `${rms.toFixed(2)} mm, worst ${worst.toFixed(2)}`;
      };
      console.log(`# ${how}: once ${await fewer(1)}; three times ${await fewer(3)}; without known points once ${await fewer(1, ["points"])}, five times ${await fewer(5, ["points"])}`);
      await page.getByRole("button", { name: "Make a new boat of it" }).click();
      await page.waitForURL(/new\/table/);
      const file = await page.locator("#table").inputValue();
      assert.match(file, /^# Read off a picture of the plan\. Entries are good to [\d.]+ mm as a rule/);
      assert.match(file, /# How far each entry may be off, mm/);
      const five = off(file, boat);
      console.log(`# ${how}: ${picks} picks, ${five.n} entries (${drawn.crowded.length} places where three lines meet left out), `
        + `five times ${five.rms.toFixed(2)} mm, worst ${five.worst.toFixed(2)} (${five.what})`);
      assert.ok(five.n >= 75 && five.worst <= 1, `${five.worst} mm at ${five.what}`);
      // The rest of the form; the table stands already.
      await fill(page);
      await page.locator("#table").fill(file);
      await page.locator("#lines-spacing").fill("");
      await page.getByRole("button", { name: "Make the boat" }).click();
      const all = page.getByRole("button", { name: /Keep her all the same/ });
      if (await all.isVisible()) await all.click();
      await until(() => disk(shed, "offsets.csv") !== null, "no boat was made");
      assert.equal(off(disk(shed, "offsets.csv"), boat).worst, five.worst);
      assert.deepEqual(wrong.filter((w) => !/422/.test(w)), []);
    } finally {
      await close();
      await shed.stop();
    }
  });
}

/** A file of picks as the page keeps it, reckoned and not picked: a body plan that stands straight, two pixels to the millimetre of boat. */
function reckoned(stations, picks, more = {}) {
  const at = (x, y) => [1000.25 + x * 2, 1800.5 - y * 2];
  const bare = { picture: null, bow_right: false, level: [], plumb: [], distances: [], points: [], picks: [] };
  const body = {
    picture: { name: "plan.png", width: 2200, height: 2000, quarters: 0 }, bow_right: false,
    level: [at(-400, 0), at(400, 0)], plumb: [at(0, 20), at(0, 700)],
    distances: [{ from: at(-400, 0), to: at(400, 0), length: "800 mm" }, { from: at(0, 0), to: at(0, 700), length: "700 mm" }], points: [],
    picks: picks.map(([station, what, level, x, y]) => ({ station, what, level, pixel: at(x, y) })),
  };
  return { form: 1, lengths: "ft-in-8ths", stations, waterlines: "12 in, 20 in", buttocks: "8 in", view: "body-plan", views: { "body-plan": { ...body, ...more }, profile: bare, "half-breadth": bare } };
}
const STATIONS = "1, 0-0-0\n2, 1-6-0\n3, 3-0-0\n4, 4-6-0\n5, 6-0-0\n6, 7-6-0\n7, 9-0-0\n8, 10-6-0\ntransom";
const load = (page, state, name = "picks.json") => page.locator("#load").setInputFiles({ name, mimeType: "application/json", buffer: Buffer.from(typeof state === "string" ? state : JSON.stringify(state)) });

test("what is picked is added to the table of a boat that is there, undone in one step, and nothing is written over unasked", async () => {
  const shed = await start();
  const { page, wrong, close } = await open(DESK, quick);
  const before = disk(shed, "offsets.csv");
  const row = (name) => disk(shed, "offsets.csv").split("\n").find((l) => l.startsWith(name));
  try {
    await page.goto(`${shed.address}/table`);
    await page.getByRole("link", { name: /Read offsets off a picture/ }).click();
    await page.waitForURL(/plan-picture$/);
    assert.match(await page.locator("#stations").inputValue(), /^1, 0-0-0\n2, 1-6-0\n/);
    assert.equal(await page.locator("#lengths").isDisabled(), true);
    // A new waterline at two stations, and one that stands there already.
    await load(page, reckoned(STATIONS, [["2", "waterline", "20 in", 400, 508], ["3", "waterline", "20 in", 520, 508], ["4", "waterline", "12 in", 500, 304.8]]));
    await page.waitForFunction(() => document.querySelectorAll("#picks tbody tr").length === 3);
    await page.waitForFunction(() => !document.getElementById("add").disabled);
    assert.match(await page.locator("#marks-said").innerText(), /With two known distances nothing shows/);
    assert.deepEqual(await page.locator("#picks tbody tr td:nth-child(4)").allInnerTexts(), ["1-3-6", "1-8-4", "1-7-5+"]);
    await page.locator("#add").click();
    await page.waitForFunction(() => document.getElementById("news").textContent.includes("2 entries added"));
    assert.match(await page.locator("#news").innerText(), /1 that stood there left as they were/);
    assert.equal(row("half-breadth waterline 20 in"), "half-breadth waterline 20 in,,1-3-6,1-8-4,,,,,,");
    assert.match(disk(shed, "offsets.csv"), /# Read off a picture of the plan: 2 entries, good to \d\.\d mm/);
    assert.equal(row("half-breadth waterline 12 in"), before.split("\n").find((l) => l.startsWith("half-breadth waterline 12 in")));
    await page.locator("#standing-give-way").check();
    await page.locator("#add").click();
    await page.waitForFunction(() => document.getElementById("news").textContent.includes("1 that stood there changed"));
    assert.match(row("half-breadth waterline 12 in"), /,1-7-5\+,/);
    const steps = [disk(shed, "offsets.csv")];
    for (let i = 0; i < 2; i++) {
      await page.goto(`${shed.address}/plan-picture`);
      await page.getByRole("button", { name: /^Undo/ }).click();
      await until(() => disk(shed, "offsets.csv") !== steps[0], "it was not undone");
      steps.unshift(disk(shed, "offsets.csv"));
    }
    assert.equal(steps[0], before);
    await page.goto(`${shed.address}/plan-picture`);
    // A station that she does not have is named, and nothing is written.
    await load(page, reckoned(`${STATIONS.replace("\ntransom", "")}\n9, 12-0-0`, [["9", "waterline", "20 in", 400, 508]]));
    await page.waitForFunction(() => !document.getElementById("add").disabled && document.querySelectorAll("#picks tbody tr").length === 1);
    await page.locator("#add").click();
    await page.waitForFunction(() => document.getElementById("end-said").textContent.includes("no such station"));
    assert.equal(disk(shed, "offsets.csv"), before);
    assert.deepEqual(wrong.filter((w) => !/422/.test(w)), []);
  } finally {
    await close();
    await shed.stop();
  }
});

test("what is wrong is named where it is: a mistyped distance, a pick on the wrong line, a file that is no picture or no picks, lengths that are none", async () => {
  const shed = await start("");
  const { page, wrong, close } = await open(DESK, quick);
  const says = (id, what) => page.waitForFunction(([id, what]) => new RegExp(what).test(document.getElementById(id).textContent), [id, what]);
  try {
    await page.goto(`${shed.address}/plan-picture`);
    await page.locator("#file").setInputFiles({ name: "plan.pdf", mimeType: "application/pdf", buffer: Buffer.from("%PDF-1.7") });
    await says("picture-said", "plan.pdf: this is no PNG or JPEG");
    await page.locator("#file").setInputFiles(png(Buffer.from("not a picture"), "broken.png"));
    await says("picture-said", "broken.png: the browser cannot make a picture");
    for (const bad of ["{", "[]", JSON.stringify({ ...reckoned(STATIONS, []), views: {} }), JSON.stringify(reckoned(STATIONS, [], { level: [[1, "2"]] }))]) {
      await load(page, bad, "bad.json");
      await says("kept-said", "bad.json is no file of picks");
      await page.evaluate(() => (document.getElementById("kept-said").textContent = ""));
    }
    const good = reckoned(STATIONS, [["2", "waterline", "20 in", 400, 508]]);
    const three = [...good.views["body-plan"].distances, { from: [200.25, 1800.5], to: [1800.25, 1800.5], length: "980 mm" }];
    await load(page, reckoned(STATIONS, [], { distances: three }));
    await says("marks-trouble", "contradicts the others");
    await page.getByLabel("distance 3, long").fill("800 mm");
    await page.getByLabel("distance 3, long").blur();
    await says("marks-said", "A pixel is");
    await page.getByLabel("distance 3, long").fill("8 furlongs");
    await page.getByLabel("distance 3, long").blur();
    await says("marks-trouble", "known distance 3: .*furlongs");
    await load(page, reckoned(STATIONS, [["2", "waterline", "20 in", 400, 520], ["2", "sheer", "", 410, 560], ["2", "sheer", "", 410, 560], ["12", "sheer", "", 1, 1]]));
    await says("picks-trouble", "picked 12.0 mm off its line");
    await says("picks-trouble", "very spot");
    await says("picks-trouble", "no such station; the stations are 1, 2");
    await page.locator("#stations").fill("1, 0-0-0\n2");
    await page.locator("#stations").blur();
    await says("end-said", "stations, line 2: say after a comma");
    assert.equal(await page.locator("#make").isDisabled(), true);
    assert.deepEqual([disk(shed, "offsets.csv"), wrong.filter((w) => !/4\d\d/.test(w))], [null, []]);
    const post = (body, headers = {}) => fetch(`${shed.address}/plan-picture/read`, { method: "POST", headers: { "content-type": "application/json", origin: shed.address, ...headers }, body });
    assert.equal((await post("{}")).status, 422);
    assert.equal((await post("{}", { origin: "http://plans.example" })).status, 403);
    const large = await new Promise((resolve, reject) => {
      const headers = { "content-type": "application/json", origin: shed.address, "content-length": 5 << 20 };
      const asked = request(`${shed.address}/plan-picture/read`, { method: "POST", headers }, (answer) => resolve(answer.statusCode));
      asked.on("error", reject);
      asked.flushHeaders();
    });
    assert.equal(large, 413);
  } finally {
    await close();
    await shed.stop();
  }
});

for (const [kind, device, scheme] of [["desk", DESK, "light"], ["desk", DESK, "dark"], ["phone", PHONE, "light"], ["phone", PHONE, "dark"]]) {
  test(`with marks and picks in it the page is sound, ${kind}, ${scheme}; picks are nudged by keys, taken back, kept when the page is closed`, async () => {
    const shed = await start("");
    const { page, wrong, close } = await open({ ...device, colorScheme: scheme }, quick);
    const boat = table();
    const drawn = drawing(boat);
    const cam = camera(drawn.size);
    try {
      await page.goto(`${shed.address}/plan-picture`);
      const picture = await scanned(page, drawn.lines.map((l) => l.map(cam.pixel)), cam.size);
      await page.locator("#file").setInputFiles(png(picture));
      await page.waitForFunction(() => document.getElementById("awaited").textContent.startsWith("Next"));
      await levels(page, boat);
      const count = async (key) => (await kept(page)).views["body-plan"][key].length;
      const canvas = page.locator("#picture");
      await canvas.scrollIntoViewIfNeeded();
      const box = await canvas.boundingBox();
      const touch = async (x, y) => (kind === "phone" ? page.touchscreen.tap(box.x + x, box.y + y) : page.mouse.click(box.x + x, box.y + y));
      await touch(60, box.height / 2);
      await until(async () => (await count("level")) === 1, "the first place was not taken");
      const [x, y] = (await kept(page)).views["body-plan"].level[0];
      await canvas.press("ArrowRight");
      await canvas.press("ArrowUp");
      await canvas.press("Shift+ArrowUp");
      assert.deepEqual((await kept(page)).views["body-plan"].level[0].map((v) => Math.round(v * 100) / 100), [x + 0.5, y - 10.5].map((v) => Math.round(v * 100) / 100));
      // Let go, go on by keys alone, pick again.
      await canvas.press("Enter");
      for (let i = 0; i < 12; i++) await canvas.press("Shift+ArrowRight");
      await canvas.press("Enter");
      assert.equal(await count("level"), 2);
      assert.ok(Math.abs((await kept(page)).views["body-plan"].level[1][0] - x - 120.5) < 0.01);
      await canvas.press("Control+z");
      assert.equal(await count("level"), 1);
      await page.locator("#back").click();
      assert.equal(await count("level"), 0);
      // The glass shows where the finger is, and goes when it is lifted.
      if (kind === "desk") {
        await page.mouse.move(box.x + 300, box.y + 300);
        await page.mouse.down();
        await page.waitForSelector("#glass:not([hidden])");
        if (pictures) await page.screenshot({ path: join(pictures, `plan-picture-glass-${scheme}.png`) });
        await page.mouse.up();
        await page.waitForSelector("#glass[hidden]", { state: "attached" });
      } else {
        // Two fingers bring nearer and pick nothing.
        const cdp = await page.context().newCDPSession(page);
        const fingers = (d) => [-1, 1].map((s, id) => ({ x: box.x + 180 + s * d, y: box.y + 150, id }));
        await cdp.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: fingers(30) });
        for (let d = 30; d <= 90; d += 10) await cdp.send("Input.dispatchTouchEvent", { type: "touchMove", touchPoints: fingers(d) });
        await cdp.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
        assert.equal(await count("level"), 0);
      }
      const body = drawn.marks["body-plan"];
      const state = await kept(page);
      Object.assign(state.views["body-plan"], {
        picture: { name: "plan.png", width: cam.size[0], height: cam.size[1], quarters: 0 }, level: body.level.map(cam.pixel), plumb: body.plumb.map(cam.pixel),
        distances: body.distances.map(([a, b, mm]) => ({ from: cam.pixel(a), to: cam.pixel(b), length: mm.toFixed(2) })),
        picks: Object.entries(drawn.places["body-plan"]).map(([name, p]) => { const [station, line] = name.split("|"); const [what, level = ""] = line.split(" "); return { station, what, level, pixel: cam.pixel(p) }; }),
      });
      await load(page, state);
      await page.waitForFunction(() => /^Entries are good to/.test(document.getElementById("good").textContent));
      await page.waitForTimeout(200);
      await clean(page, `/plan-picture, ${kind}`);
      if (pictures) await page.screenshot({ path: join(pictures, `plan-picture-full-${kind}-${scheme}.png`), fullPage: kind === "phone" });
      // Closed and opened again; the picture alone is to be chosen once more, and another is refused.
      const was = await kept(page);
      await page.reload();
      assert.deepEqual(await kept(page), was);
      assert.match(await page.locator("#picture-said").innerText(), /choose plan.png again/);
      const other = await scanned(page, [[[0, 0], [50, 50]]], [400, 300]);
      await page.locator("#file").setInputFiles(png(other, "other.png"));
      await page.waitForFunction(() => /400 × 300: choose that one/.test(document.getElementById("picture-said").textContent));
      await page.locator("#file").setInputFiles(png(picture));
      await page.waitForFunction(() => document.getElementById("picture-said").textContent === "");
      const [saved] = await Promise.all([page.waitForEvent("download"), page.locator("#save").click()]);
      const path = join(mkdtempSync(join(tmpdir(), "picks-")), "plan-picks.json");
      await saved.saveAs(path);
      assert.deepEqual(JSON.parse(readFileSync(path, "utf8")), was);
      assert.deepEqual(wrong, []);
    } finally {
      await close();
      await shed.stop();
    }
  });
}
