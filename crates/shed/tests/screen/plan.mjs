// A plan drawn by the test itself, as a scanner or a phone would hand it over, and a hand that picks places in its pixels.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { root } from "./shed.mjs";

/** Our 13 ft example drawn out to 14 ft, 1:10, 150 dots to the inch. */
const LONGER = 14 / 13;
const DOTS = 150 / 25.4 / 10;
const HALF = 850;
const HIGH = 900;

/** Her table, mm: rows by name, each by station. */
export function table() {
  const lines = readFileSync(join(root, "boats/corncrake/offsets.csv"), "utf8").split("\n").filter((l) => l && !l.startsWith("#")).map((l) => l.split(","));
  const mm = (text) => {
    const [, feet, inches, eighths, more] = /^(\d+)-(\d+)-(\d)(\+?)$/.exec(text);
    return (Number(feet) * 12 + Number(inches) + Number(eighths) / 8 + (more ? 1 / 16 : 0)) * 25.4 * LONGER;
  };
  const stations = lines[0].slice(1);
  const rows = Object.fromEntries(lines.slice(1).map(([name, ...cells]) => [name, Object.fromEntries(stations.map((s, i) => [s, cells[i] ? mm(cells[i]) : null]))]));
  const level = (name) => Number(/(\d+) in/.exec(name)[1]) * 25.4 * LONGER;
  const of = (kind) => Object.entries(rows).filter(([n]) => n.includes(kind)).map(([n, cells]) => ({ level: level(n), cells }));
  const at = Object.fromEntries(stations.map((s, i) => [s, s === "transom" ? null : i * 18 * 25.4 * LONGER]));
  return { stations, at, sheer: [rows["height sheer"], rows["half-breadth sheer"]], rabbet: rows["height rabbet"], waterlines: of("waterline"), buttocks: of("buttock") };
}

/** What is drawn: lines through places of the sheet in mm of boat, and where places of interest stand. Body plan to the left, profile to the right. */
export function drawing(boat) {
  const lines = [];
  const places = { "body-plan": {}, profile: {} };
  const crowded = [];
  const at = ([x, y]) => [x + 1000, 1200 - y];
  const aside = ([x, y]) => [x + 2200, 1200 - y];
  const beyond = (a, b, by) => { const d = Math.hypot(a[0] - b[0], a[1] - b[1]); return [a[0] + ((a[0] - b[0]) * by) / d, a[1] + ((a[1] - b[1]) * by) / d]; };
  // Ruled lines run on past the corners, so that each corner is a crossing.
  const ruled = (place, a, b) => lines.push([place(beyond(a, b, 25)), place(beyond(b, a, 25))]);
  for (const [a, b] of [[[-HALF, 0], [HALF, 0]], [[-HALF, HIGH], [HALF, HIGH]], [[-HALF, 0], [-HALF, HIGH]], [[HALF, 0], [HALF, HIGH]], [[0, 0], [0, HIGH]]]) ruled(at, a, b);
  for (const { level } of boat.waterlines) lines.push([at([-HALF, level]), at([HALF, level])]);
  for (const { level } of boat.buttocks) for (const side of [-1, 1]) lines.push([at([side * level, 0]), at([side * level, HIGH])]);
  // Sections run on a little past rabbet and sheer, as a draughtsman's pen does.
  const sheers = [[], []];
  boat.stations.forEach((s, i) => {
    const side = i < 5 ? 1 : -1;
    const own = [[20, boat.rabbet[s]], [boat.sheer[1][s], boat.sheer[0][s]]];
    for (const { level, cells } of boat.waterlines) if (cells[s]) own.push([cells[s], level]);
    for (const { level, cells } of boat.buttocks) if (cells[s]) own.push([level, cells[s]]);
    own.sort((a, b) => a[1] - b[1] || a[0] - b[0]);
    const run = [beyond(own[0], own[1], 14), ...own, beyond(own.at(-1), own.at(-2), 16)];
    lines.push(run.map(([x, y]) => at([side * x, y])));
    // A crossing that a third ruled line passes within 10 mm of boat, six pixels, is read off another view: no hand could tell them apart.
    const near = (of, v, own) => of.some(({ level }) => level !== own && Math.abs(level - v) < 10);
    const put = (line, x, y, own = null) => {
      if (near(boat.waterlines, y, own) || near(boat.buttocks, x, own)) crowded.push(`${s}|${line}`);
      else places["body-plan"][`${s}|${line}`] = at([side * x, y]);
    };
    put("sheer", boat.sheer[1][s], boat.sheer[0][s]);
    if (s === "transom") put("rabbet", 20, boat.rabbet[s]);
    boat.waterlines.forEach(({ level, cells }) => cells[s] && put(`waterline ${level.toFixed(2)}`, cells[s], level, level));
    boat.buttocks.forEach(({ level, cells }) => cells[s] && put(`buttock ${level.toFixed(2)}`, level, cells[s], level));
    sheers[side > 0 ? 0 : 1].push([side * boat.sheer[1][s], boat.sheer[0][s]]);
  });
  for (const sheer of sheers) lines.push([beyond(sheer[0], sheer[1], 16), ...sheer, beyond(sheer.at(-1), sheer.at(-2), 16)].map(at));
  for (const side of [-1, 1]) lines.push([at([side * 20, 0]), at([side * 20, HIGH])]);
  const square = boat.stations.filter((s) => boat.at[s] !== null);
  const long = boat.at[square.at(-1)];
  for (const y of [0, HIGH]) ruled(aside, [0, y], [long, y]);
  for (const s of square) ruled(aside, [boat.at[s], 0], [boat.at[s], HIGH]);
  for (const row of [boat.rabbet, boat.sheer[0]]) lines.push(square.map((s) => aside([boat.at[s], row[s]])));
  // The ends of the curves run on, too.
  for (const s of square) places.profile[`${s}|rabbet`] = aside([boat.at[s], boat.rabbet[s]]);
  const run = square.map((s) => [boat.at[s], boat.rabbet[s]]);
  lines.push([aside(beyond(run[0], run[1], 20)), aside(run[0])], [aside(run.at(-1)), aside(beyond(run.at(-1), run.at(-2), 20))]);
  const marks = {
    "body-plan": {
      level: [[-HALF, 0], [0, 0], [HALF, 0]].map(at), plumb: [[0, boat.waterlines[0].level], [0, HIGH], [0, boat.waterlines[2].level]].map(at),
      distances: [[[-HALF, 0], [HALF, 0], 2 * HALF], [[0, 0], [0, HIGH], HIGH], [[-HALF, HIGH], [HALF, HIGH], 2 * HALF], [[HALF, 0], [HALF, HIGH], HIGH]].map(([a, b, mm]) => [at(a), at(b), mm]),
      points: [[-HALF, 0], [HALF, 0], [-HALF, HIGH], [HALF, HIGH]].map((p) => [at(p), ...p]),
    },
    profile: {
      level: [0, long / 7, long].map((x) => aside([x, 0])), plumb: [0, boat.rabbet[1], HIGH].map((y) => aside([0, y])),
      distances: [[[0, 0], [long, 0], long], [[0, 0], [0, HIGH], HIGH], [[0, HIGH], [long, HIGH], long], [[long, 0], [long, HIGH], HIGH]].map(([a, b, mm]) => [aside(a), aside(b), mm]),
      points: [[0, 0], [long, 0], [0, HIGH], [long, HIGH]].map((p) => [aside(p), ...p]),
    },
  };
  return { lines, places, crowded, marks, size: [2200 + long + 250, 1450] };
}

/** From the sheet, mm of boat, to pixels: turned, with unlike scales and skew; with `slant` photographed aslant, too. */
export function camera(size, slant = [0, 0], turned = 1.7) {
  const [sin, cos] = [Math.sin((turned * Math.PI) / 180), Math.cos((turned * Math.PI) / 180)];
  const raw = ([x, y]) => {
    const [u, v] = [1.008 * x * DOTS, 0.994 * y * DOTS];
    const [a, b] = [cos * (u + 0.012 * v) - sin * v, sin * (u + 0.012 * v) + cos * v];
    const w = 1 + slant[0] * a + slant[1] * b;
    return [a / w, b / w];
  };
  const corners = [[0, 0], [size[0], 0], [0, size[1]], size].map(raw);
  const [left, top] = [0, 1].map((d) => Math.min(...corners.map((c) => c[d])));
  const [wide, high] = [0, 1].map((d) => Math.ceil(Math.max(...corners.map((c) => c[d]))));
  return { pixel: (p) => { const [x, y] = raw(p); return [x - left, y - top]; }, size: [Math.ceil(wide - left), Math.ceil(high - top)] };
}

/** The picture as a PNG: ink on paper that is no even white, blurred pixel by pixel, with grain. */
export async function scanned(page, lines, size) {
  const url = await page.evaluate(({ lines, size: [wide, high] }) => {
    const canvas = new OffscreenCanvas(wide, high);
    const pen = canvas.getContext("2d", { willReadFrequently: true });
    [pen.fillStyle, pen.strokeStyle, pen.lineWidth] = ["#f4efe2", "#1c1a18", 1.5];
    pen.fillRect(0, 0, wide, high);
    for (const line of lines) {
      pen.beginPath();
      line.forEach(([x, y], i) => {
        if (i === 0) return pen.moveTo(x, y);
        // A fair curve through all of them: each length leaves along the chord of its neighbours.
        const [a, b, c, d] = [line[Math.max(i - 2, 0)], line[i - 1], line[i], line[Math.min(i + 1, line.length - 1)]];
        const third = Math.hypot(c[0] - b[0], c[1] - b[1]) / 3;
        const way = (p, q) => { const l = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1; return [((q[0] - p[0]) / l) * third, ((q[1] - p[1]) / l) * third]; };
        const [u, v] = [way(a, c), way(b, d)];
        pen.bezierCurveTo(b[0] + u[0], b[1] + u[1], c[0] - v[0], c[1] - v[1], x, y);
      });
      pen.stroke();
    }
    const shot = pen.getImageData(0, 0, wide, high);
    const p = shot.data;
    for (const [step, run, rest] of [[4, wide, high], [4 * wide, high, wide]]) {
      const other = step === 4 ? 4 * wide : 4;
      for (let twice = 0; twice < 2; twice++) for (let r = 0; r < rest; r++) for (let c = 0; c < 3; c++) {
        let before = p[r * other + c];
        for (let i = 0; i < run; i++) {
          const k = r * other + i * step + c;
          const [now, after] = [p[k], p[i + 1 < run ? k + step : k]];
          p[k] = (before + 2 * now + after) / 4;
          before = now;
        }
      }
    }
    let grain = 17;
    for (let k = 0; k < p.length; k++) if (k % 4 !== 3) {
      grain = (Math.imul(grain, 1664525) + 1013904223) >>> 0;
      p[k] += (grain >>> 28) - 8;
    }
    pen.putImageData(shot, 0, 0);
    return canvas.convertToBlob({ type: "image/png" }).then((blob) => new Promise((done) => { const r = new FileReader(); r.onload = () => done(r.result); r.readAsDataURL(blob); }));
  }, { lines, size });
  return Buffer.from(url.split(",")[1], "base64");
}

/** Where lines cross near each place, found from the pixels of the picture alone: the spot about which the ink is the same when it is turned half round. */
export async function crossings(page, png, near) {
  return page.evaluate(async ({ png, near }) => {
    const bytes = Uint8Array.from(atob(png), (c) => c.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const pen = canvas.getContext("2d", { willReadFrequently: true });
    pen.drawImage(bitmap, 0, 0);
    const { data, width, height } = pen.getImageData(0, 0, bitmap.width, bitmap.height);
    const REACH = 6;
    const of = (i, j) => data[4 * (Math.min(Math.max(j, 0), height - 1) * width + Math.min(Math.max(i, 0), width - 1))];
    const ink = (x, y) => {
      const [u, v] = [x - 0.5, y - 0.5];
      const [i, j] = [Math.floor(u), Math.floor(v)];
      const [a, b] = [u - i, v - j];
      return of(i, j) * (1 - a) * (1 - b) + of(i + 1, j) * a * (1 - b) + of(i, j + 1) * (1 - a) * b + of(i + 1, j + 1) * a * b;
    };
    const unlike = (x, y) => {
      let sum = 0;
      for (let v = 0; v <= REACH; v += 0.5) for (let u = v === 0 ? 0.5 : -REACH; u <= REACH; u += 0.5) {
        const far = u * u + v * v;
        if (far <= REACH * REACH) sum += Math.exp(-far / 18) * (ink(x + u, y + v) - ink(x - u, y - v)) ** 2;
      }
      return sum;
    };
    return near.map(([x, y]) => {
      for (const [reach, step] of [[2, 0.5], [0.5, 0.1], [0.1, 0.02]]) {
        const about = [x, y];
        let least = Infinity;
        for (let b = -reach; b <= reach + 1e-9; b += step) for (let a = -reach; a <= reach + 1e-9; a += step) {
          const found = unlike(about[0] + a, about[1] + b);
          if (found < least) [least, x, y] = [found, about[0] + a, about[1] + b];
        }
      }
      return [x, y];
    });
  }, { png: png.toString("base64"), near });
}

/** Evenly spread within half a pixel, the same every time: how a hand aims. */
export function hand() {
  let state = 7;
  const next = () => { state = (Math.imul(state, 1664525) + 1013904223) >>> 0; return state / 2 ** 32 - 0.5; };
  return ([x, y]) => [x + next(), y + next()];
}

/** Picks pixels of the picture on the page with the mouse, near enough that a point of the screen is a third of a pixel. */
export function picker(page, size, nearer = 3.5) {
  let box = null;
  let look = null;
  const whole = async () => {
    box = await page.locator("#picture").boundingBox();
    await page.locator("#whole").click();
    const scale = Math.min(box.width / size[0], box.height / size[1]);
    look = { scale, left: (size[0] - box.width / scale) / 2, top: (size[1] - box.height / scale) / 2 };
  };
  const at = ([x, y]) => [(x - look.left) * look.scale, (y - look.top) * look.scale];
  const near = async (p) => {
    await whole();
    const [x, y] = at(p).map(Math.round);
    const by = nearer / look.scale;
    await page.mouse.move(box.x + x, box.y + y);
    await page.mouse.wheel(0, -Math.log(by) / 0.0015);
    const still = [x / look.scale + look.left, y / look.scale + look.top];
    look = { scale: look.scale * by, left: still[0] - x / (look.scale * by), top: still[1] - y / (look.scale * by) };
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  };
  const pick = async (p) => {
    const [x, y] = at(p);
    await page.mouse.move(box.x + x, box.y + y);
    await page.mouse.down();
    await page.mouse.up();
  };
  return { near, pick, whole, at: (p) => { const [x, y] = at(p); return [box.x + x, box.y + y]; } };
}
