// The lines plan: profile over half-breadth plan, diagonals under the centreline, body plan to the side; combs on whichever.
import { make, path } from "./draw.js";

/** @typedef {{at: number[], place: string}} Spot */
/** @typedef {{name: string, view: string, fore: boolean, edge: boolean, teeth: number[][], turns: Spot[], hardest: {radius: string, spot: Spot}|null}} Line */
/** @typedef {{at: number, said: string}} Level */
/** @typedef {{stations: {name: string, x: number}[], waterlines: Level[], buttocks: Level[], diagonals: {name: string, height: number, slope: number}[],
 * lines: Line[], ends: number[][][], lands: number[][][], fullest: number}} Plan */
/** @typedef {{map: (p: number[]) => number[], size: number}} View What a view makes of its own points, px, and how long a tooth is at the most. */

const sheet = /** @type {HTMLElement} */ (document.getElementById("lines"));
const choice = /** @type {HTMLSelectElement} */ (document.getElementById("line"));
const teeth = /** @type {HTMLInputElement} */ (document.getElementById("teeth"));
const said = /** @type {HTMLElement} */ (document.getElementById("line-said"));
const VIEWS = ["profile", "half-breadth", "diagonals", "body"];
const on = (/** @type {string} */ id) => /** @type {HTMLInputElement|null} */ (document.getElementById(id))?.checked ?? false;

/** @type {Plan|null} */ let plan = null;

/** @param {number[]} values @returns {number[]} */
const ends = (values) => [Math.min(...values), Math.max(...values)];
const EDGE = 14;
const LETTERS = 20;

function draw() {
  if (!plan) return;
  const { lines, lands } = plan;
  const all = (/** @type {string} */ view) => lines.filter((l) => l.view === view).flatMap((l) => l.teeth);
  const [fore, aft] = ends([...[...all("profile"), ...all("half-breadth")].map((t) => t[0]), ...plan.ends.flat().map((p) => p[0])]);
  const [low, high] = ends([0, ...all("profile").map((t) => t[1]), ...all("body").map((t) => t[1])]);
  const broad = Math.max(...all("half-breadth").map((t) => t[1]), ...all("body").map((t) => t[0]));
  const deep = Math.max(0, ...all("diagonals").map((t) => t[1]));
  const width = Math.max(300, sheet.clientWidth);
  const beside = width > 760;
  // Teeth stand beyond the lines.
  const room = 0.06 * (aft - fore);
  const scale = (width - 2 * EDGE - (beside ? 2 * EDGE : 0)) / (aft - fore + 2 * room * 0.5 + (beside ? 2 * broad + room : 0));
  const own = beside ? scale : Math.min((width - 2 * EDGE) / (2 * broad + 0.6 * broad), 0.4);
  const tooth = room * scale;
  const left = EDGE + 0.5 * room * scale;
  // Bow to the left, as in the book.
  const u = (/** @type {number} */ x) => left + (x - fore) * scale;
  const base = LETTERS + tooth + high * scale;
  const centre = base - low * scale + 2 * LETTERS + 2 * tooth + broad * scale;
  const bottom = centre + (deep > 0 ? deep * scale + tooth + LETTERS : LETTERS + 6);
  const bodyBase = beside ? base : bottom + LETTERS + 0.3 * broad * own + high * own + LETTERS;
  const bodyAt = beside ? width - EDGE - broad * scale - 0.4 * room * scale : width / 2;
  const height = beside ? bottom : bodyBase - low * own + LETTERS + 0.2 * broad * own;
  /** @type {Record<string, View>} */
  const views = {
    profile: { map: ([x, z]) => [u(x), base - z * scale], size: tooth },
    "half-breadth": { map: ([x, y]) => [u(x), centre - y * scale], size: tooth },
    diagonals: { map: ([x, d]) => [u(x), centre + d * scale], size: tooth },
    body: { map: ([y, z]) => [bodyAt + y * own, bodyBase - z * own], size: beside ? 0.55 * tooth : 0.16 * broad * own },
  };
  const svg = make("svg", { viewBox: `0 0 ${width} ${height.toFixed(0)}`, class: "plan", role: "img", "aria-label": "Lines plan: profile, half-breadth plan and body plan" });
  const rule = (/** @type {number[]} */ a, /** @type {number[]} */ b, kind = "rule") => make("path", { d: path([a, b]), class: kind }, svg);
  const text = (/** @type {number[]} */ at, /** @type {string} */ words, anchor = "middle") => {
    const t = make("text", { x: at[0].toFixed(1), y: at[1].toFixed(1), "text-anchor": anchor }, svg);
    t.textContent = words;
  };
  grid(views, rule, text, { fore, aft, low, high, broad, deep });
  text([left, views.profile.map([0, high])[1] - tooth - 2], "Profile", "start");
  text([left, centre - broad * scale - tooth - 2], "Half-breadth plan", "start");
  if (deep > 0) text([left, centre + deep * scale + 0.8 * tooth + 4], "Diagonals", "start");
  text([bodyAt, views.body.map([0, high])[1] - (beside ? tooth : LETTERS) - 2], "Body plan");
  for (const end of plan.ends) make("path", { d: path(end.map(views.profile.map)), class: "line edge" }, svg);
  // The keel's rabbet goes on from the table's first and last to the ends of the garboard.
  const keel = lines.find((l) => l.view === "profile" && /rabbet/i.test(l.name))?.teeth ?? [];
  for (const beyond of [(/** @type {number} */ x) => x <= (keel[0]?.[0] ?? Infinity), (/** @type {number} */ x) => x >= (keel.at(-1)?.[0] ?? Infinity)]) {
    const points = (lands[0] ?? []).filter((p) => beyond(p[0])).map((p) => views.profile.map([p[0], p[2]]));
    if (points.length > 1) make("path", { d: path(points), class: "line edge" }, svg);
  }
  if (on("show-lands")) {
    for (const land of lands) {
      const { fullest } = plan;
      const put = (/** @type {number[][]} */ points) => points.length > 1 && make("path", { d: path(points), class: "land" }, svg);
      put(land.map((p) => views.profile.map([p[0], p[2]])));
      put(land.map((p) => views["half-breadth"].map([p[0], p[1]])));
      put(land.filter((p) => p[0] <= fullest).map((p) => views.body.map([p[1], p[2]])));
      put(land.filter((p) => p[0] >= fullest).map((p) => views.body.map([-p[1], p[2]])));
    }
  }
  const side = (/** @type {Line} */ l) => (l.view === "body" && !l.fore ? -1 : 1);
  for (const view of VIEWS) if (on(`comb-${view}`)) combs(lines.filter((l) => l.view === view), views[view], svg, side);
  lines.forEach((l, i) => {
    const points = l.teeth.map(([a, b]) => views[l.view].map([side(l) * a, b]));
    make("path", { d: path(points), class: `line${l.edge ? " edge" : ""}${choice.value === String(i) ? " on" : ""}` }, svg);
  });
  const chosen = lines[Number(choice.value)];
  if (choice.value !== "" && chosen) {
    for (const turn of chosen.turns) {
      const [x, y] = views[chosen.view].map([side(chosen) * turn.at[0], turn.at[1]]);
      make("circle", { cx: x, cy: y, r: 6, class: "turn" }, svg);
    }
  }
  sheet.replaceChildren(svg);
  tell(choice.value === "" ? null : chosen);
}

/** Stations, waterlines, buttocks, diagonals, base line and centrelines.
 * @param {Record<string, View>} views @param {(a: number[], b: number[], kind?: string) => void} rule
 * @param {(at: number[], words: string, anchor?: string) => void} text @param {Record<string, number>} box */
function grid(views, rule, text, { fore, aft, low, high, broad, deep }) {
  if (!plan) return;
  const { profile, body } = views;
  const [halves, diagonals] = [views["half-breadth"], views.diagonals];
  let last = -Infinity;
  for (const s of plan.stations) {
    rule(profile.map([s.x, low]), profile.map([s.x, high]));
    rule(halves.map([s.x, 0]), halves.map([s.x, broad]));
    if (deep > 0) rule(diagonals.map([s.x, 0]), diagonals.map([s.x, deep]));
    const at = profile.map([s.x, low]);
    // Names that would stand on one another are left out.
    if (at[0] - last < 12 * (s.name.length + 1)) continue;
    last = at[0];
    text([at[0], at[1] + LETTERS - 2], s.name);
  }
  rule(profile.map([fore, 0]), profile.map([aft, 0]), "rule base");
  rule(halves.map([fore, 0]), halves.map([aft, 0]), "rule base");
  rule(body.map([-broad, 0]), body.map([broad, 0]), "rule base");
  rule(body.map([0, low]), body.map([0, high]), "rule base");
  for (const w of plan.waterlines) {
    rule(profile.map([fore, w.at]), profile.map([aft, w.at]));
    rule(body.map([-broad, w.at]), body.map([broad, w.at]));
  }
  for (const b of plan.buttocks) {
    rule(halves.map([fore, b.at]), halves.map([aft, b.at]));
    for (const side of [-1, 1]) rule(body.map([side * b.at, low]), body.map([side * b.at, high]));
  }
  for (const d of plan.diagonals) {
    const out = Math.min(broad, (d.height - Math.min(0, low)) / d.slope);
    for (const side of [-1, 1]) rule(body.map([0, d.height]), body.map([side * out, d.height - out * d.slope]));
  }
}

/** Teeth and the line through their tips. @param {Line[]} lines @param {View} view @param {Element} svg @param {(l: Line) => number} side */
function combs(lines, view, svg, side) {
  const bends = lines.flatMap((l) => l.teeth.map((t) => Math.abs(t[2]))).sort((a, b) => a - b);
  const most = bends[Math.floor(0.9 * (bends.length - 1))] || 1;
  const long = view.size * Number(teeth.value);
  const scale = Math.abs(view.map([1, 0])[0] - view.map([0, 0])[0]);
  for (const l of lines) {
    /** @type {number[][]} */ const tips = [];
    let d = "";
    l.teeth.forEach((t, i) => {
      const [a, b] = [l.teeth[Math.max(0, i - 1)], l.teeth[Math.min(l.teeth.length - 1, i + 1)]];
      const off = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
      // More than nought turns to the left: the outer side is to the right.
      const by = (Math.max(-1.6, Math.min(1.6, t[2] / most)) * long) / scale;
      const tip = [t[0] + ((b[1] - a[1]) / off) * by, t[1] - ((b[0] - a[0]) / off) * by];
      const [from, to] = [[t[0], t[1]], tip].map((p) => view.map([side(l) * p[0], p[1]]));
      d += path([from, to]);
      tips.push(to);
    });
    make("path", { d, class: "tooth" }, svg);
    make("path", { d: path(tips), class: "tips" }, svg);
  }
}

/** What is known of a line. @param {Line|null} line */
function tell(line) {
  if (!line) {
    said.textContent = "";
    return;
  }
  const hard = line.hardest ? `Bends hardest to a radius of ${line.hardest.radius}, ${line.hardest.spot.place}.` : "Straight, as far as its figures tell.";
  const turns = line.turns.length === 0 ? "It turns back nowhere." : `It turns back ${line.turns.map((t) => t.place).join(", and ")}.`;
  said.textContent = `${line.name}: ${hard} ${turns}`;
}

for (const input of document.querySelectorAll("main input, main select")) input.addEventListener("input", draw);
addEventListener("resize", draw);
fetch("/lines.json").then((answer) => answer.json()).then((all) => {
  plan = all;
  draw();
}).catch(() => {});
