// The body plan with its marks: drag one and the lands follow.
import { showFound, showPins } from "./beside.js";
import { element, make, path, paths, press } from "./draw.js";
import { listeners, page, say, send } from "./live.js";
import { look } from "./seen.js";

/** @typedef {{name: string, place: string, girth: number, along: number[], points: number[][]}} Section */
/** @typedef {{land: number, section: number, girth: number, at: number[], pinned: boolean, said: string}} Mark */
/** @typedef {{section: number, shows: number, shows_said: string, bevel: string|null, left: string|null}} At */
/** @typedef {{lands: {land: number, points: number[][]}[], marks: Mark[], strakes: {strake: number, at: At[]}[]}} Lands */

const sheet = /** @type {HTMLElement} */ (document.getElementById("body-plan"));
const numbers = /** @type {HTMLElement} */ (document.getElementById("numbers"));
const chosenAt = /** @type {HTMLElement} */ (document.getElementById("chosen"));
const core = /** @type {HTMLElement} */ (document.getElementById("core"));
const compare = /** @type {HTMLButtonElement} */ (document.getElementById("proposal"));

/** @type {Section[]} */ let sections = [];
/** @type {Lands} */ let now;
/** @type {import("./seen.js").EyeOf} */ let eyeOf;
/** @type {Lands|null} */ let proposal = null;
let fullest = 0;
/** @type {{land: number, section: number}|null} */ let chosen = null;
/** @type {{land: number, section: number, girth: number}|null} */ let drag = null;
let sent = 0;
let answered = 0;
let asked = false;
/** @type {{sent: number, at: number}[]} For whoever measures: when each move went out, and how long it took to be drawn. */
const moves = [];
/** @type {any} */ (window).strakewiseMoves = moves;

/** Fore half to the right, after half to the left, heights up. @param {number} section @param {number[]} p */
function seen(section, p) {
  return [section <= fullest ? p[1] : -p[1], -p[2]];
}

/** @type {"both"|"fore"|"after"} */ let half = "both";
/** @param {{land: number, section: number}} m */
const at = (m) => `${m.land} ${m.section}`;

/** @type {SVGSVGElement} */ let svg;
/** @type {Element} */ let mid;
/** @type {Element} */ let landsGroup;
/** @type {Element} */ let wasGroup;
/** @type {Map<string, SVGGElement>} */ const dots = new Map();
/** @type {Element[]} */ const lines = [];
let unit = 1;

/** @param {number} section */
const shown = (section) => half === "both" || (half === "fore") === (section <= fullest);

/** Sets what of the sheet is shown, and the size of what is not to grow with it. */
function frame() {
  const all = sections.flatMap((s, j) => (shown(j) ? [[0, -s.points[0][2]], ...s.points.map((p) => seen(j, p))] : []));
  const box = [0, 1].map((i) => [Math.min(...all.map((p) => p[i])), Math.max(...all.map((p) => p[i]))]);
  const pad = 0.06 * (box[0][1] - box[0][0]);
  const [width, height] = box.map(([low, high]) => high - low + 2 * pad);
  svg.setAttribute("viewBox", `${box[0][0] - pad} ${box[1][0] - pad} ${width} ${height}`);
  // One unit is a pixel: the sheet is as wide as the page lets it, and no higher than the window.
  const fits = Math.max(280, sheet.clientWidth);
  unit = Math.max(width / fits, height / (0.86 * innerHeight));
  for (const [end, v] of [["y1", box[1][0] - pad], ["y2", box[1][1] + pad]]) mid.setAttribute(String(end), String(v));
  const drawn = now.marks.filter((m) => dots.has(at(m)) && shown(m.section));
  const places = drawn.map((m) => seen(m.section, m.at));
  drawn.forEach((m, i) => {
    const near = Math.min(...places.map((p, k) => (k === i ? Infinity : Math.hypot(p[0] - places[i][0], p[1] - places[i][1]))));
    // Neighbours do not touch, as far as they can still be seen.
    const r = Math.min(5.5, Math.max(2.2, (0.3 * near) / unit));
    const circles = /** @type {SVGGElement} */ (dots.get(at(m))).children;
    circles[0].setAttribute("r", String(16 * unit));
    circles[1].setAttribute("r", String(r * unit));
  });
  for (const [key, g] of dots) {
    const on = shown(Number(key.split(" ")[1]));
    if (on) g.removeAttribute("display");
    else g.setAttribute("display", "none");
  }
  lines.forEach((line, j) => (shown(j) ? line.removeAttribute("display") : line.setAttribute("display", "none")));
}

function draw() {
  svg = /** @type {SVGSVGElement} */ (make("svg", {
    class: "body", role: "group", "aria-label": "Body plan, fore half on the right, after half on the left",
  }));
  mid = make("line", { x1: 0, x2: 0, class: "mid" }, svg);
  sections.forEach((s, j) => lines.push(make("path", { d: path(s.points.map((p) => seen(j, p))), class: "section" }, svg)));
  wasGroup = make("g", {}, svg);
  landsGroup = make("g", {}, svg);
  const marks = make("g", {}, svg);
  // Mould by mould from the bow, up each from rabbet to sheer: so the keys go, too.
  for (const m of [...now.marks].sort((a, b) => a.section - b.section || a.land - b.land)) {
    if (m.land === 0 || m.land === now.strakes.length) continue;
    const g = /** @type {SVGGElement} */ (make("g", { class: "mark", tabindex: 0, role: "slider" }, marks));
    make("circle", { class: "reach" }, g);
    make("circle", { class: "dot" }, g);
    dots.set(at(m), g);
    g.addEventListener("focus", () => choose(m.land, m.section));
    g.addEventListener("keydown", (event) => keys(event, m.land, m.section));
  }
  svg.addEventListener("pointerdown", (event) => {
    const m = under(event);
    const g = m && dots.get(at(m));
    if (m && g) grab(event, g, m.land, m.section);
  });
  sheet.replaceChildren(svg);
  frame();
}

/** Marks stand close: the one nearest to the finger is meant, not the one drawn last. @param {PointerEvent} event */
function under(event) {
  const here = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM()?.inverse());
  /** @type {[number, Mark|null]} */ let best = [22 * unit, null];
  for (const m of now.marks) {
    if (!dots.has(at(m)) || !shown(m.section)) continue;
    const [u, v] = seen(m.section, m.at);
    const off = Math.hypot(u - here.x, v - here.y);
    if (off < best[0]) best = [off, m];
  }
  return best[1];
}

/** @param {Lands} lands @param {Element} group @param {string} kind */
function drawLands(lands, group, kind) {
  /** @type {[string, string][]} */ const parts = [];
  const x = Math.max(...sections[fullest].points.map((p) => p[0]));
  for (const land of lands.lands) {
    if (land.land === 0) continue;
    const [fore, aft] = [land.points.filter((p) => p[0] <= x), land.points.filter((p) => p[0] >= x)];
    for (const [points, section] of /** @type {[number[][], number][]} */ ([[fore, 0], [aft, sections.length]])) {
      if (points.length > 1 && shown(section)) parts.push([path(points.map((p) => seen(section, p))), kind]);
    }
  }
  paths(group, parts);
}

function show() {
  drawLands(now, landsGroup, "land");
  if (proposal) drawLands(proposal, wasGroup, "was");
  else wasGroup.replaceChildren();
  for (const m of now.marks) {
    const g = dots.get(at(m));
    if (!g) continue;
    const [u, v] = seen(m.section, m.at);
    g.setAttribute("transform", `translate(${u.toFixed(2)} ${v.toFixed(2)})`);
    const on = chosen !== null && chosen.land === m.land && chosen.section === m.section;
    g.setAttribute("class", `mark${m.pinned ? " pinned" : ""}${on ? " on" : ""}`);
    const s = sections[m.section];
    g.setAttribute("aria-label", `Land ${m.land} at ${s.place}${m.pinned ? ", pinned" : ""}`);
    g.setAttribute("aria-valuemin", "0");
    g.setAttribute("aria-valuemax", String(Math.round(s.girth)));
    g.setAttribute("aria-valuenow", String(Math.round(m.girth)));
    g.setAttribute("aria-valuetext", `${m.said} from the rabbet`);
  }
  lines.forEach((line, j) => line.setAttribute("class", `section${chosen && chosen.section === j ? " on" : ""}`));
  showNumbers();
  showChosen();
  look(now.lands, sections, eyeOf);
}

/** The table's cells, strake by strake from the sheer down, as long as there are as many. @type {HTMLElement[][]} */ let cells = [];

function showNumbers() {
  const rows = [...now.strakes].reverse();
  if (cells.length === rows.length && cells.every((row, i) => row.length === rows[i].at.length)) {
    rows.forEach((s, i) => s.at.forEach((a, j) => {
      const cell = cells[i][j];
      if (cell.textContent !== a.shows_said) cell.textContent = a.shows_said;
      cell.className = chosen && chosen.section === j ? "at" : "";
    }));
    return;
  }
  cells = [];
  const table = document.createElement("table");
  table.append(element("caption", "What each strake shows"));
  const head = table.createTHead().insertRow();
  head.append(element("th", "strake", { scope: "col" }));
  sections.forEach((s) => head.append(element("th", s.name, { scope: "col" })));
  const body = table.createTBody();
  for (const s of rows) {
    const row = body.insertRow();
    /** @type {HTMLElement[]} */ const made = [];
    cells.push(made);
    row.append(element("th", String(s.strake), { scope: "row" }));
    s.at.forEach((a, j) => {
      const cell = element("td", a.shows_said);
      if (chosen && chosen.section === j) cell.className = "at";
      made.push(cell);
      row.append(cell);
    });
  }
  const left = numbers.scrollLeft;
  numbers.replaceChildren(table);
  numbers.scrollLeft = left;
}

/** Brings the column of a section into sight. @param {number} section */
function bring(section) {
  const cell = cells[0]?.[section];
  if (!cell) return;
  const names = /** @type {HTMLElement} */ (cell.parentElement?.firstElementChild).offsetWidth;
  const [from, to] = [cell.offsetLeft - names, cell.offsetLeft + cell.offsetWidth - numbers.clientWidth];
  numbers.scrollLeft = Math.max(to, Math.min(from, numbers.scrollLeft));
}

function showChosen() {
  if (!chosen) {
    chosenAt.replaceChildren();
    return;
  }
  const { land, section } = chosen;
  const m = now.marks.find((m) => m.land === land && m.section === section);
  const [below, above] = [now.strakes[land - 1]?.at[section], now.strakes[land]?.at[section]];
  if (!m || !below || !above) return;
  const list = element("dl", "", { class: "figures" });
  const figure = (/** @type {string} */ name, /** @type {string} */ value) => {
    const div = document.createElement("div");
    div.append(element("dt", name), element("dd", value));
    list.append(div);
  };
  figure("From the rabbet", m.said);
  figure(`Strake ${land} shows`, below.shows_said);
  figure(`Strake ${land + 1} shows`, above.shows_said);
  figure("Bevel", below.bevel ?? "\u2013");
  figure("Wood left", below.left ?? "\u2013");
  const head = element("h2", `Land ${land} at ${sections[section].place}`);
  const free = /** @type {HTMLButtonElement} */ (element("button", "Free this mark", { type: "button" }));
  free.disabled = !m.pinned;
  free.addEventListener("click", () => pin(land, section, null));
  const before = document.activeElement instanceof HTMLButtonElement && chosenAt.contains(document.activeElement);
  chosenAt.replaceChildren(head, list, free);
  if (before) free.focus();
}

/** @param {number} land @param {number} section */
function choose(land, section) {
  chosen = { land, section };
  show();
  bring(section);
}

/** The girth of the place on a section nearest to a place on the sheet. @param {number} j @param {number} u @param {number} v */
function nearest(j, u, v) {
  const { points, along } = sections[j];
  let best = Infinity;
  let girth = 0;
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [seen(j, points[i - 1]), seen(j, points[i])];
    const [du, dv] = [b[0] - a[0], b[1] - a[1]];
    const long = du * du + dv * dv;
    const t = long === 0 ? 0 : Math.min(1, Math.max(0, ((u - a[0]) * du + (v - a[1]) * dv) / long));
    const off = Math.hypot(a[0] + t * du - u, a[1] + t * dv - v);
    if (off < best) [best, girth] = [off, along[i - 1] + t * (along[i] - along[i - 1])];
  }
  return girth;
}

/** @param {PointerEvent} event @param {SVGGElement} g @param {number} land @param {number} section */
function grab(event, g, land, section) {
  event.preventDefault();
  g.focus();
  choose(land, section);
  g.setPointerCapture(event.pointerId);
  document.body.dataset.busy = "";
  let moved = false;
  const move = (/** @type {PointerEvent} */ e) => {
    const to = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM()?.inverse());
    drag = { land, section, girth: nearest(section, to.x, to.y) };
    moved = true;
    ask();
  };
  const end = (/** @type {PointerEvent} */ e) => {
    g.removeEventListener("pointermove", move);
    g.removeEventListener("pointerup", end);
    g.removeEventListener("pointercancel", end);
    delete document.body.dataset.busy;
    const last = drag;
    drag = null;
    if (moved && last && e.type === "pointerup") pin(last.land, last.section, last.girth);
    else if (moved) load();
  };
  g.addEventListener("pointermove", move);
  g.addEventListener("pointerup", end);
  g.addEventListener("pointercancel", end);
}

/** Asks for the latest place once a frame. */
function ask() {
  if (asked) return;
  asked = true;
  requestAnimationFrame(() => {
    asked = false;
    if (!drag) return;
    sent += 1;
    moves.push({ sent: performance.now(), at: 0 });
    send({ n: sent, ...drag });
  });
}

/** @param {KeyboardEvent} event @param {number} land @param {number} section */
function keys(event, land, section) {
  const m = now.marks.find((m) => m.land === land && m.section === section);
  if (!m) return;
  const step = event.shiftKey ? 10 : 1;
  const next = { PageUp: 1, PageDown: -1 }[event.key];
  if (next !== undefined) {
    event.preventDefault();
    dots.get(at({ land: land + next, section }))?.focus();
    return;
  }
  const by = { ArrowUp: step, ArrowRight: step, ArrowDown: -step, ArrowLeft: -step }[event.key];
  if (by !== undefined) {
    event.preventDefault();
    pin(land, section, Math.min(sections[section].girth, Math.max(0, m.girth + by)));
  } else if ((event.key === "Delete" || event.key === "Backspace") && m.pinned) {
    event.preventDefault();
    pin(land, section, null);
  }
}

let saving = Promise.resolve();
/** Sends a change, one after the other, and shows what comes of it. @param {string} to @param {object} what */
function change(to, what) {
  saving = saving.then(async () => {
    const answer = await fetch(to, {
      method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ seen: page.revision, ...what }),
    }).catch(() => null);
    if (answer?.ok) {
      const told = await answer.json();
      page.revision = told.revision;
      say(told.trouble ?? told.what);
    } else {
      say(answer ? await answer.text() : "The program has stopped: this was not kept.");
    }
    await load();
  });
}

/** Keeps a mark, or frees it. @param {number} land @param {number} section @param {number|null} girth */
const pin = (land, section, girth) => change("/pin", { land, section, girth });

async function load() {
  const answer = await fetch("/lands.json").catch(() => null);
  const all = answer?.ok ? await answer.json() : null;
  if (!all) return;
  const first = svg === undefined || all.sections.length !== sections.length || all.now.strakes.length !== now.strakes.length;
  [sections, now, eyeOf] = [all.sections, all.now, all.eye];
  page.revision = all.revision;
  fullest = all.fullest;
  if (first) {
    lines.length = 0;
    dots.clear();
    draw();
  }
  show();
  showFound(all.findings, false);
  const pinned = now.marks.filter((m) => m.pinned && dots.has(at(m))).map((m) => ({ ...m, place: sections[m.section].place }));
  showPins(pinned, all.pins, (m) => (m ? pin(m.land, m.section, null) : change("/lands/free", {})));
}

/** @type {import("./live.js").Told|null} */ let latest = null;
/** Draws the latest answer once a frame, however many have come; the table of what shows a little later, when there is time.
 * @param {import("./live.js").Told} told */
function follow(told) {
  const waiting = latest !== null;
  latest = told;
  if (waiting) return;
  requestAnimationFrame(() => {
    const told = /** @type {import("./live.js").Told} */ (latest);
    latest = null;
    if (!drag) return;
    now = told.now;
    core.textContent = `worked out in ${told.core_ms} ms`;
    show();
    showFound(told.findings ?? [], true);
    const move = moves[Number(told.n) - 1];
    if (move) move.at = performance.now() - move.sent;
  });
}

listeners.add((told) => {
  if (told.n !== undefined) {
    if (told.n < answered) return true;
    answered = told.n;
    if (told.why) say(told.why);
    else if (told.now && drag) follow(told);
    return true;
  }
  if (told.revision !== undefined && told.revision !== page.revision && !drag) {
    page.revision = told.revision;
    saving = saving.then(load);
    return true;
  }
  return told.revision === page.revision;
});

compare.addEventListener("click", async () => {
  const on = compare.getAttribute("aria-pressed") !== "true";
  compare.setAttribute("aria-pressed", String(on));
  const answer = on ? await fetch("/lands/proposal.json").catch(() => null) : null;
  proposal = answer?.ok ? await answer.json() : null;
  show();
});

const halves = /** @type {HTMLElement} */ (document.getElementById("halves"));
halves.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("button") : null;
  if (!button || svg === undefined) return;
  half = /** @type {"both"|"fore"|"after"} */ (button.dataset.half);
  press(halves, (b) => b === button);
  if (chosen && !shown(chosen.section)) chosen = null;
  frame();
  show();
});
addEventListener("resize", () => {
  if (svg !== undefined) frame();
});

load();
