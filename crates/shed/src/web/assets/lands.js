// The body plan with its marks: drag one and the lands follow.
import { listeners, page, say, send } from "./live.js";

/** @typedef {{name: string, place: string, girth: number, along: number[], points: number[][]}} Section */
/** @typedef {{land: number, section: number, girth: number, at: number[], pinned: boolean, said: string}} Mark */
/** @typedef {{section: number, shows: number, shows_said: string, bevel: string|null, left: string|null, thin: boolean}} At */
/** @typedef {{lands: {land: number, points: number[][]}[], marks: Mark[], strakes: {strake: number, at: At[]}[]}} Lands */

const NS = "http://www.w3.org/2000/svg";
const sheet = /** @type {HTMLElement} */ (document.getElementById("body-plan"));
const numbers = /** @type {HTMLElement} */ (document.getElementById("numbers"));
const chosenAt = /** @type {HTMLElement} */ (document.getElementById("chosen"));
const core = /** @type {HTMLElement} */ (document.getElementById("core"));
const compare = /** @type {HTMLButtonElement} */ (document.getElementById("proposal"));

/** @type {Section[]} */ let sections = [];
/** @type {Lands} */ let now;
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

/** @param {string} name @param {Record<string, string|number>} attributes @param {Element} [into] */
function make(name, attributes, into) {
  const element = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  into?.append(element);
  return element;
}

/** Fore half to the right, after half to the left, heights up. @param {number} section @param {number[]} p */
function seen(section, p) {
  return [section <= fullest ? p[1] : -p[1], -p[2]];
}

/** @param {number[][]} points */
const path = (points) => "M" + points.map((p) => `${p[0].toFixed(1)} ${p[1].toFixed(1)}`).join("L");

/** @type {SVGSVGElement} */ let svg;
/** @type {Element} */ let landsGroup;
/** @type {Element} */ let wasGroup;
/** @type {Map<string, SVGGElement>} */ const dots = new Map();
/** @type {Element[]} */ const lines = [];
let unit = 1;

function draw() {
  const all = sections.flatMap((s, j) => s.points.map((p) => seen(j, p)));
  const box = [0, 1].map((i) => [Math.min(...all.map((p) => p[i])), Math.max(...all.map((p) => p[i]))]);
  const pad = 0.05 * (box[0][1] - box[0][0]);
  const [width, height] = box.map(([low, high]) => high - low + 2 * pad);
  unit = width / Math.max(320, sheet.clientWidth);
  svg = /** @type {SVGSVGElement} */ (make("svg", {
    viewBox: `${box[0][0] - pad} ${box[1][0] - pad} ${width} ${height}`, class: "body", role: "group",
    "aria-label": "Body plan, fore half on the right, after half on the left",
  }));
  make("line", { x1: 0, x2: 0, y1: box[1][0] - pad, y2: box[1][1] + pad, class: "mid" }, svg);
  sections.forEach((s, j) => lines.push(make("path", { d: path(s.points.map((p) => seen(j, p))), class: "section" }, svg)));
  wasGroup = make("g", {}, svg);
  landsGroup = make("g", {}, svg);
  const marks = make("g", {}, svg);
  for (const m of now.marks) {
    if (m.land === 0 || m.land === now.strakes.length) continue;
    const g = /** @type {SVGGElement} */ (make("g", { class: "mark", tabindex: 0, role: "slider" }, marks));
    make("circle", { r: 16 * unit, class: "reach" }, g);
    make("circle", { r: 5.5 * unit, class: "dot" }, g);
    const key = `${m.land} ${m.section}`;
    dots.set(key, g);
    g.addEventListener("focus", () => choose(m.land, m.section));
    g.addEventListener("keydown", (event) => keys(event, m.land, m.section));
  }
  svg.addEventListener("pointerdown", (event) => {
    const m = under(event);
    const g = m && dots.get(`${m.land} ${m.section}`);
    if (m && g) grab(event, g, m.land, m.section);
  });
  sheet.replaceChildren(svg);
}

/** Marks stand close: the one nearest to the finger is meant, not the one drawn last. @param {PointerEvent} event */
function under(event) {
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM()?.inverse());
  /** @type {[number, Mark|null]} */ let best = [22 * unit, null];
  for (const m of now.marks) {
    if (!dots.has(`${m.land} ${m.section}`)) continue;
    const [u, v] = seen(m.section, m.at);
    const off = Math.hypot(u - at.x, v - at.y);
    if (off < best[0]) best = [off, m];
  }
  return best[1];
}

/** @param {Lands} lands @param {Element} group @param {string} kind */
function drawLands(lands, group, kind) {
  const parts = [];
  for (const land of lands.lands) {
    if (land.land === 0) continue;
    const x = Math.max(...sections[fullest].points.map((p) => p[0]));
    const fore = land.points.filter((p) => p[0] <= x);
    const aft = land.points.filter((p) => p[0] >= x);
    for (const [points, section] of /** @type {[number[][], number][]} */ ([[fore, 0], [aft, sections.length]])) {
      if (points.length > 1) parts.push([path(points.map((p) => seen(section, p))), land.land]);
    }
  }
  while (group.childElementCount < parts.length) make("path", { class: kind }, group);
  while (group.childElementCount > parts.length) group.lastElementChild?.remove();
  parts.forEach(([d], i) => group.children[i].setAttribute("d", String(d)));
}

function show() {
  drawLands(now, landsGroup, "land");
  if (proposal) drawLands(proposal, wasGroup, "was");
  else wasGroup.replaceChildren();
  for (const m of now.marks) {
    const g = dots.get(`${m.land} ${m.section}`);
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
}

/** @param {string} name @param {string} text @param {Record<string, string>} [attributes] */
function element(name, text, attributes = {}) {
  const made = document.createElement(name);
  made.textContent = text;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function showNumbers() {
  const table = document.createElement("table");
  table.append(element("caption", "What each strake shows"));
  const head = table.createTHead().insertRow();
  head.append(element("th", "strake", { scope: "col" }));
  sections.forEach((s) => head.append(element("th", s.name, { scope: "col" })));
  const body = table.createTBody();
  for (const s of [...now.strakes].reverse()) {
    const row = body.insertRow();
    row.append(element("th", String(s.strake), { scope: "row" }));
    s.at.forEach((a, j) => {
      const cell = element("td", a.shows_said);
      if (chosen && chosen.section === j) cell.className = "at";
      row.append(cell);
    });
  }
  const left = numbers.scrollLeft;
  numbers.replaceChildren(table);
  numbers.scrollLeft = left;
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
    const at = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM()?.inverse());
    drag = { land, section, girth: nearest(section, at.x, at.y) };
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
/** Keeps a mark, or frees it; one after the other. @param {number} land @param {number} section @param {number|null} girth */
function pin(land, section, girth) {
  saving = saving.then(async () => {
    const answer = await fetch("/pin", {
      method: "POST", headers: { "content-type": "application/json" },
      body: JSON.stringify({ seen: page.revision, land, section, girth }),
    }).catch(() => null);
    if (answer?.ok) {
      const told = await answer.json();
      page.revision = told.revision;
      say(told.trouble ?? told.what);
    } else {
      say(answer ? await answer.text() : "The program has stopped: the mark was not kept.");
    }
    await load();
  });
}

async function load() {
  const answer = await fetch("/lands.json").catch(() => null);
  const all = answer?.ok ? await answer.json() : null;
  if (!all) return;
  const first = svg === undefined || all.sections.length !== sections.length || all.now.strakes.length !== now.strakes.length;
  [sections, now] = [all.sections, all.now];
  page.revision = all.revision;
  fullest = sections.reduce((best, s, j) => {
    const half = (/** @type {Section} */ s) => s.points[s.points.length - 1][1];
    return half(s) > half(sections[best]) ? j : best;
  }, 0);
  if (first) {
    lines.length = 0;
    dots.clear();
    draw();
  }
  show();
}

listeners.add((told) => {
  if (told.n !== undefined) {
    if (told.n < answered) return true;
    answered = told.n;
    if (told.why) say(told.why);
    else if (told.now && drag) {
      now = told.now;
      core.textContent = `worked out in ${told.core_ms} ms`;
      show();
      requestAnimationFrame(() => {
        const move = moves[Number(told.n) - 1];
        if (move) move.at = performance.now() - move.sent;
      });
    }
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

load();
