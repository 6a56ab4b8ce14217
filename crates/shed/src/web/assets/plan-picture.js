// Offsets off a picture of a plan: what is marked and picked is kept here and sent to the program, which works out what it tells. The
// picture itself is not sent anywhere.
import { listeners, page, say } from "./live.js";
import { view as viewer } from "./plan-view.js";

/** @typedef {import("./plan-view.js").Pixel} Pixel */
/** @typedef {{station: string, what: string, level: string, pixel: Pixel}} Pick */
/** @typedef {{picture: {name: string, width: number, height: number, quarters: number}|null, bow_right: boolean, level: Pixel[], plumb: Pixel[],
 *   distances: {from: Pixel, to: Pixel, length: string}[], points: {pixel: Pixel, along: string, up: string}[], picks: Pick[]}} Sheet */
/** @typedef {{form: number, lengths: string, stations: string, waterlines: string, buttocks: string, view: string, views: Record<string, Sheet>}} State */
/** @typedef {{trouble: string|null, left?: Record<string, string[]>, said?: string[], advice?: string[], picks?: {value: string|null, within: string|null, trouble: string|null}[]}} ViewTold */
/** @typedef {{views: ViewTold[], entries: {station: string, row: string, value: string, within: string, times: number}[], trouble: string|null,
 *   file: string|null, good: string|null, ends: Record<string, string>}} Answer */

const VIEWS = ["body-plan", "profile", "half-breadth"];
/** What the lines of each view are called: the level one and the one square to it. */
const LINES = /** @type {Record<string, [string, string]>} */ ({ "body-plan": ["base line", "centreline"], profile: ["base line", "first station"], "half-breadth": ["centreline", "first station"] });
/** Steps that can be taken back. */
const MOST_BACK = 300;
/** The largest file of a picture, bytes, and of picks. */
const LARGEST = 300e6;
const LARGEST_PICKS = 4e6;

const el = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const field = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (document.getElementById(id));
const chosen = (/** @type {string} */ name) => /** @type {HTMLInputElement|null} */ (document.querySelector(`input[name="${name}"]:checked`))?.value ?? "";
const canvas = /** @type {HTMLCanvasElement} */ (el("picture"));
const KEY = `strakewise-plan-picture ${el("plan-picture").dataset.from}`;

/** @returns {Sheet} */
const bare = () => ({ picture: null, bow_right: false, level: [], plumb: [], distances: [], points: [], picks: [] });
/** @returns {State} */
const fresh = () => ({
  form: 1, lengths: field("lengths").value, stations: field("stations").value, waterlines: field("waterlines").value, buttocks: field("buttocks").value,
  view: "body-plan", views: Object.fromEntries(VIEWS.map((v) => [v, bare()])),
});

/** @type {State} */ let state = fresh();
/** @type {string[]} */ const before = [];
/** @type {Answer|null} */ let told = null;
/** @type {ImageBitmap|null} */ let bitmap = null;
/** @type {{name: string, width: number, height: number, quarters: number}|null} */ let open = null;
/** The first end of a distance whose other end is to come. @type {Pixel|null} */ let from = null;
/** What the arrow keys move. @type {{get: () => Pixel, set: (p: Pixel) => void}|null} */ let held = null;

const sheet = () => state.views[state.view];
const list = (/** @type {string} */ text) => text.split(text.includes(";") ? ";" : ",").map((t) => t.trim()).filter((t) => t !== "");
const stations = () => state.stations.split("\n").filter((l) => l.trim() !== "").map((l) => {
  const [name, ...at] = l.split(",");
  return { name: name.trim(), at: at.join(",").trim() };
});

/** The lines that the view shows. */
function lines() {
  const plain = ["sheer", "rabbet"].map((what) => ({ what, level: "", name: what }));
  const levels = (/** @type {string} */ what, /** @type {string} */ text) => list(text).map((level) => ({ what, level, name: `${what} ${level}` }));
  const waterlines = state.view === "profile" ? [] : levels("waterline", state.waterlines);
  const buttocks = state.view === "half-breadth" ? [] : levels("buttock", state.buttocks);
  return [plain[0], ...buttocks, ...waterlines, plain[1]];
}

// --- What is kept.

/** Something is about to be changed. */
function step() {
  before.push(JSON.stringify(state));
  if (before.length > MOST_BACK) before.shift();
}

function keep() {
  try {
    localStorage.setItem(KEY, JSON.stringify(state));
  } catch {
    el("kept-said").textContent = "This browser keeps nothing: keep the picks as a file before you close the page.";
  }
}

/** Whether that is a state of ours; what is missing or of another kind makes it none. @param {any} s @returns {s is State} */
function sound(s) {
  const texts = ["lengths", "stations", "waterlines", "buttocks", "view"];
  const pixel = (/** @type {any} */ p) => Array.isArray(p) && p.length === 2 && p.every(Number.isFinite);
  const all = (/** @type {any} */ a, /** @type {(x: any) => boolean} */ f) => Array.isArray(a) && a.length <= 4000 && a.every((x) => x !== null && f(x));
  const words = (/** @type {any} */ x, /** @type {string[]} */ keys) => keys.every((k) => typeof x[k] === "string");
  const picture = (/** @type {any} */ p) => p === null || (typeof p === "object" && typeof p.name === "string" && [p.width, p.height, p.quarters].every(Number.isInteger));
  return s?.form === 1 && words(s, texts) && VIEWS.includes(s.view) && VIEWS.every((v) => {
    const one = s.views?.[v];
    return one && picture(one.picture) && typeof one.bow_right === "boolean" && all(one.level, pixel) && all(one.plumb, pixel)
      && all(one.distances, (d) => pixel(d.from) && pixel(d.to) && words(d, ["length"]))
      && all(one.points, (p) => pixel(p.pixel) && words(p, ["along", "up"]))
      && all(one.picks, (p) => pixel(p.pixel) && words(p, ["station", "what", "level"]));
  });
}

/** @param {State} next */
function take(next) {
  state = next;
  [from, held] = [null, null];
  for (const id of ["lengths", "stations", "waterlines", "buttocks"]) {
    if (!field(id).disabled) field(id).value = /** @type {any} */ (state)[id];
  }
  if (field("lengths").disabled) state.lengths = field("lengths").value;
  field(`view-${state.view}`).checked = true;
  field(sheet().bow_right ? "bow-right" : "bow-left").checked = true;
  choices();
  changed();
}

/** The lists of stations and lines, the words for the marks, and what fields are shown. */
function choices() {
  for (const [id, all] of /** @type {[string, string[]][]} */ ([["station", stations().map((s) => s.name)], ["line", lines().map((l) => l.name)]])) {
    const select = /** @type {HTMLSelectElement} */ (el(id));
    const was = select.value;
    select.replaceChildren(...all.map((name) => new Option(name, name)));
    if (all.includes(was)) select.value = was;
  }
  const [level, plumb] = LINES[state.view];
  for (const [tool, name] of [["level", level], ["plumb", plumb]]) {
    /** @type {HTMLElement} */ (document.querySelector(`label[for="tool-${tool}"]`)).textContent = name;
  }
  el("bow-way").hidden = state.view === "body-plan";
  el("distance-fields").hidden = chosen("tool") !== "distance";
  el("point-fields").hidden = chosen("tool") !== "point";
  next();
}

// --- What comes of it.

const asked = () => ({
  seen: page.revision, lengths: state.lengths, stations: stations(), give_way: chosen("standing") === "give-way",
  views: VIEWS.map((v) => {
    const { picture, ...rest } = state.views[v];
    return { view: v, ...rest };
  }),
});

let asking = false;
let again = false;
/** Asks what marks and picks tell; while an answer is awaited, once more at the most. */
async function work() {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  const answer = await fetch("/plan-picture/read", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(asked()) }).catch(() => null);
  asking = false;
  if (answer?.ok) {
    told = await answer.json();
    show();
  } else if (answer) {
    el("end-said").textContent = await answer.text();
  }
  if (again) {
    again = false;
    work();
  }
}

function changed() {
  keep();
  /** @type {HTMLButtonElement} */ (el("back")).disabled = before.length === 0;
  next();
  look.redraw();
  work();
}

/** @param {string} text */
function cell(text) {
  const made = document.createElement("td");
  made.textContent = text;
  return made;
}

/** @param {string} name @param {() => void} out */
function outButton(name, out) {
  const [made, button] = [document.createElement("td"), document.createElement("button")];
  button.type = "button";
  button.textContent = "Take out";
  button.setAttribute("aria-label", `Take out ${name}`);
  button.addEventListener("click", () => {
    step();
    held = null;
    out();
    changed();
  });
  made.append(button);
  return made;
}

/** A length that was typed for a mark and can be mended. @param {string} name @param {string} value @param {(text: string) => void} put */
function typed(name, value, put) {
  const input = document.createElement("input");
  [input.type, input.value, input.className, input.autocomplete] = ["text", value, "short", "off"];
  input.setAttribute("aria-label", name);
  input.addEventListener("change", () => {
    step();
    put(input.value);
    changed();
  });
  return input;
}

/** Every mark of the view: its name, its pixels, what was typed for it, and how it is taken out. */
function marked() {
  const s = sheet();
  const [level, plumb] = LINES[state.view];
  /** @param {string} kind @param {string} word @param {any[]} all @param {(m: any) => [string, string][]} keys */
  const of = (kind, word, all, keys) => all.map((m, i) => ({ kind, i, name: `${word} ${i + 1}`, mark: m, keys: keys(m), out: () => all.splice(i, 1) }));
  return [
    ...of("level", level, s.level, () => []),
    ...of("plumb", plumb, s.plumb, () => []),
    ...of("distances", "distance", s.distances, () => [["length", "long"]]),
    ...of("points", "point", s.points, () => [["along", "along"], ["up", "up"]]),
  ];
}

function showMarks() {
  const own = told?.views[VIEWS.indexOf(state.view)];
  el("marks-trouble").textContent = own?.trouble ?? "";
  const said = [...(own?.said ?? []).map((t) => [t, ""]), ...(own?.advice ?? []).map((t) => [t, "look"])];
  el("marks-said").replaceChildren(...said.map(([text, kind]) => {
    const item = document.createElement("li");
    [item.textContent, item.className] = [text, kind];
    return item;
  }));
  const rows = marked().map((m) => {
    const row = document.createElement("tr");
    const head = document.createElement("th");
    [head.scope, head.textContent] = ["row", m.name];
    const known = document.createElement("td");
    for (const [key, word] of m.keys) known.append(typed(`${m.name}, ${word}`, m.mark[key], (text) => (m.mark[key] = text)));
    row.append(head, known, cell(own?.left?.[m.kind]?.[m.i] ?? ""), outButton(m.name, m.out));
    return row;
  });
  fill("marks", rows);
}

/** @param {string} id @param {HTMLElement[]} rows */
function fill(id, rows) {
  const body = /** @type {HTMLElement} */ (el(id).querySelector("tbody"));
  // What is being typed in stays.
  if (body.contains(document.activeElement) && document.activeElement instanceof HTMLInputElement && rows.length === body.children.length) return;
  body.replaceChildren(...rows);
  el(id).hidden = rows.length === 0;
}

/** The picks of the view, those of one place together. */
function places() {
  /** @type {Map<string, {station: string, line: string, all: number[]}>} */ const found = new Map();
  sheet().picks.forEach((p, i) => {
    const line = p.level ? `${p.what} ${p.level}` : p.what;
    const key = `${p.station}|${line}`;
    const place = found.get(key) ?? { station: p.station, line, all: [] };
    place.all.push(i);
    found.set(key, place);
  });
  return [...found.values()];
}

/** What a place reads, and how good that is, as the program has it. @param {{all: number[]}} place */
function reads(place) {
  const own = told?.views[VIEWS.indexOf(state.view)]?.picks;
  const good = place.all.map((i) => own?.[i]).find((p) => p?.value);
  return { value: good?.value ?? "", within: good?.within ?? "" };
}

function showPicks() {
  const own = told?.views[VIEWS.indexOf(state.view)]?.picks;
  // A place that was picked more than once is told once.
  /** @type {Map<string, number[]>} */ const wrong = new Map();
  sheet().picks.forEach((p, i) => {
    const why = own?.[i]?.trouble;
    if (!why) return;
    const said = `Station ${p.station}, ${p.what} ${p.level}: ${why} `;
    wrong.set(said, [...(wrong.get(said) ?? []), i]);
  });
  el("picks-trouble").replaceChildren(...[...wrong].map(([said, all]) => {
    const [line, button] = [document.createElement("p"), document.createElement("button")];
    button.type = "button";
    button.textContent = all.length === 1 ? "Take this pick out" : `Take these ${all.length} picks out`;
    button.addEventListener("click", () => {
      step();
      held = null;
      sheet().picks = sheet().picks.filter((_, i) => !all.includes(i));
      changed();
    });
    line.append(said, button);
    return line;
  }));
  const rows = places().map((place, n) => {
    const row = document.createElement("tr");
    const head = document.createElement("th");
    [head.scope, head.textContent] = ["row", String(n + 1)];
    const { value, within } = reads(place);
    const out = () => (sheet().picks = sheet().picks.filter((_, i) => !place.all.includes(i)));
    row.append(head, cell(place.station), cell(place.line), cell(value), cell(within), cell(`${place.all.length}×`), outButton(`station ${place.station}, ${place.line}`, out));
    return row;
  });
  fill("picks", rows);
}

function show() {
  showMarks();
  showPicks();
  el("good").textContent = told?.good ?? "Nothing is read off yet.";
  el("end-said").textContent = told?.entries.length || sheet().picks.length ? (told?.trouble ?? "") : "";
  for (const id of ["add", "make"]) {
    const button = /** @type {HTMLButtonElement|null} */ (document.getElementById(id));
    if (button) button.disabled = !told?.file;
  }
  look.redraw();
}

// --- Picking.

/** How often the place that is chosen has been picked. */
const times = () => sheet().picks.filter((p) => p.station === field("station").value && lineName(p) === field("line").value).length;
const lineName = (/** @type {Pick} */ p) => (p.level ? `${p.what} ${p.level}` : p.what);
const wanted = () => Number(field("times").value);

/** Says what is picked next. */
function next() {
  const [level, plumb] = LINES[state.view];
  const tool = chosen("tool");
  const words = /** @type {Record<string, string>} */ ({
    level: `Next: a place on the ${level}.`, plumb: `Next: a place on the ${plumb}.`,
    distance: from ? "Next: the other end of the known distance." : "Next: one end of a known distance.", point: "Next: a known point.",
    offset: !field("station").value ? "Name the stations first, under 2." : `Next: station ${field("station").value}, ${field("line").value}, ${times() < wanted() ? `pick ${times() + 1} of ${wanted()}` : "picked as often as you asked"}.`,
  });
  el("awaited").textContent = bitmap ? words[tool] : "Choose a picture first, under 1.";
}

/** One place on, along the station or along the line, and from the last to the first. */
function pass() {
  const along = field("order").value === "station" ? ["station", "line"] : ["line", "station"];
  for (const id of along) {
    const select = /** @type {HTMLSelectElement} */ (el(id));
    select.selectedIndex = (select.selectedIndex + 1) % Math.max(select.options.length, 1);
    if (select.selectedIndex > 0) break;
  }
  next();
}

/** On to the next place that is not picked as often as is wanted yet. */
function goOn() {
  const all = stations().length * lines().length;
  for (let i = 0; i < all; i++) {
    pass();
    if (times() < wanted()) return;
  }
}

/** Why a field cannot be used yet. @param {string} id @param {string} what */
function missing(id, what) {
  el("awaited").textContent = what;
  field(id).focus();
}

/** Something is picked. @param {Pixel} p */
function pick(p) {
  const tool = chosen("tool");
  const s = sheet();
  if (!s.picture && open) s.picture = { ...open };
  if (tool === "distance" && field("long").value.trim() === "") return missing("long", "Type first how long the known distance is.");
  if (tool === "point" && (field("along").value.trim() === "" || field("up").value.trim() === "")) {
    return missing(field("along").value.trim() === "" ? "along" : "up", "Type first where the known point stands.");
  }
  if (tool === "offset" && field("station").value === "") return missing("stations", "Name the stations first.");
  if (tool === "distance" && !from) {
    from = p;
    held = { get: () => from ?? p, set: (to) => (from = to) };
    next();
    return look.redraw();
  }
  step();
  if (tool === "level" || tool === "plumb") {
    s[tool].push(p);
    holdLast(s[tool]);
  } else if (tool === "distance" && from) {
    const made = { from, to: p, length: field("long").value };
    s.distances.push(made);
    from = null;
    held = { get: () => made.to, set: (to) => (made.to = to) };
  } else if (tool === "point") {
    const made = { pixel: p, along: field("along").value, up: field("up").value };
    s.points.push(made);
    held = { get: () => made.pixel, set: (to) => (made.pixel = to) };
  } else if (tool === "offset") {
    const line = lines().find((l) => l.name === field("line").value);
    if (!line) return;
    const made = { station: field("station").value, what: line.what, level: line.level, pixel: p };
    s.picks.push(made);
    held = { get: () => made.pixel, set: (to) => (made.pixel = to) };
    if (times() >= wanted()) goOn();
  }
  changed();
}

/** @param {Pixel[]} all */
function holdLast(all) {
  const i = all.length - 1;
  held = { get: () => all[i], set: (to) => (all[i] = to) };
}

function back() {
  const was = before.pop();
  if (was === undefined) return;
  const at = [field("station").value, field("line").value];
  const count = sheet().picks.length;
  const last = sheet().picks[count - 1];
  take(JSON.parse(was));
  // Back at the place whose pick was taken back.
  if (last && sheet().picks.length < count) [field("station").value, field("line").value] = [last.station, lineName(last)];
  else [field("station").value, field("line").value] = at;
  next();
}

const INK = "#26211d";
const COPPER = "#9a4a20";
/** @param {CanvasRenderingContext2D} pen @param {string} text @param {Pixel} at @param {string} colour */
function label(pen, text, [x, y], colour) {
  pen.lineJoin = "round";
  [pen.strokeStyle, pen.lineWidth, pen.fillStyle] = ["#fffdf8", 4, colour];
  pen.strokeText(text, x, y);
  pen.fillText(text, x, y);
}

/** @param {CanvasRenderingContext2D} pen @param {Pixel} at @param {string} colour */
function ring(pen, [x, y], colour) {
  for (const [c, w] of /** @type {[string, number][]} */ ([["#fffdf8", 3], [colour, 1.5]])) {
    [pen.strokeStyle, pen.lineWidth] = [c, w];
    pen.beginPath();
    pen.arc(x, y, 4, 0, 2 * Math.PI);
    pen.stroke();
  }
}

/** Where a mark lies on the picture. @param {ReturnType<typeof marked>[number]} m @returns {Pixel[]} */
const ends = (m) => m.kind === "distances" ? [m.mark.from, m.mark.to] : [m.kind === "points" ? m.mark.pixel : m.mark];

/** @param {CanvasRenderingContext2D} pen @param {(p: Pixel) => Pixel} at */
function draw(pen, at) {
  if (!fits()) return;
  const s = sheet();
  pen.font = '15px "Iowan Old Style", Palatino, Georgia, serif';
  /** What a label may not lie on, left, top, right, bottom: the rings, and labels before it; it is left out there. */
  const taken = [...s.picks.map((p) => p.pixel), ...marked().flatMap(ends)].map(at).map(([x, y]) => [x - 5, y - 5, x + 5, y + 5]);
  const say = (/** @type {string} */ text, /** @type {Pixel} */ p, /** @type {string} */ colour) => {
    const [x, y] = at(p);
    const box = [x + 9, y - 20, x + 9 + pen.measureText(text).width, y - 3];
    if (taken.some(([l, t, r, b]) => l < box[2] && box[0] < r && t < box[3] && box[1] < b)) return;
    taken.push(box);
    label(pen, text, [x + 9, y - 7], colour);
  };
  for (const m of marked()) {
    const pixels = ends(m);
    for (const p of pixels) ring(pen, at(p), COPPER);
    if (m.kind === "distances") {
      const [[a, b], [c, d]] = pixels.map(at);
      [pen.strokeStyle, pen.lineWidth] = [COPPER, 1];
      pen.beginPath();
      pen.moveTo(a, b);
      pen.lineTo(c, d);
      pen.stroke();
      say(`${m.name}: ${m.mark.length}`, [(pixels[0][0] + pixels[1][0]) / 2, (pixels[0][1] + pixels[1][1]) / 2], COPPER);
    } else say(m.name, pixels[0], COPPER);
  }
  if (from) ring(pen, at(from), COPPER);
  const own = told?.views[VIEWS.indexOf(state.view)]?.picks;
  places().forEach((place, n) => {
    for (const i of place.all) ring(pen, at(s.picks[i].pixel), own?.[i]?.trouble ? COPPER : INK);
    say(`${n + 1}: ${reads(place).value}`, s.picks[place.all[0]].pixel, INK);
  });
}

/** Whether the picture that is open is the one that the view was picked in. */
const fits = () => !sheet().picture || (open && sheet().picture?.width === open.width && sheet().picture?.height === open.height && sheet().picture?.quarters === open.quarters);

const look = viewer(canvas, /** @type {HTMLCanvasElement} */ (el("glass")), {
  draw, pick,
  aim: () => Boolean(bitmap && fits()),
  nudge: (by) => {
    if (!held) return false;
    const p = held.get();
    held.set([p[0] + by[0], p[1] + by[1]]);
    look.aimAt(p);
    changed();
    return true;
  },
  enter: (p) => {
    if (held) held = null;
    else if (bitmap && fits()) pick(p);
  },
});

// --- The picture.

/** @param {ImageBitmap} made @param {string} name @param {number} quarters */
async function shown(made, name, quarters) {
  bitmap = made;
  open = { name, width: made.width, height: made.height, quarters };
  document.body.dataset.busy = "";
  await look.show(made);
  matches();
  next();
}

/** Says where the picture is not the one that was picked in. */
function matches() {
  const was = sheet().picture;
  const words = !was || !open || fits() ? (was && !open ? `Your picks are here; choose ${was.name} again to see them.` : "")
    : `The marks and picks of this view were made in ${was.name}, ${was.width} × ${was.height} pixels, and this picture has ${open.width} × ${open.height}: choose that one, or take all out.`;
  el("picture-said").textContent = words;
  look.redraw();
}

field("file").addEventListener("change", async () => {
  const file = field("file").files?.[0];
  if (!file) return;
  const trouble = (/** @type {string} */ why) => (el("picture-said").textContent = `${file.name}: ${why}`);
  if (!["image/png", "image/jpeg"].includes(file.type)) return trouble("this is no PNG or JPEG; keep the scan as one of these and choose it again.");
  if (file.size > LARGEST) return trouble(`the file has ${(file.size / 1e6).toFixed(0)} MB, ${LARGEST / 1e6} MB is the most: scan less of the sheet, or at fewer dots to the inch.`);
  let made;
  try {
    made = await createImageBitmap(file);
  } catch {
    return trouble("the browser cannot make a picture of this: it is broken, or too large; scan less of the sheet, or at fewer dots to the inch.");
  }
  const quarters = sheet().picture?.name === file.name ? (sheet().picture?.quarters ?? 0) : 0;
  for (let i = 0; i < quarters; i++) made = await turned(made);
  await shown(made, file.name, quarters);
});

/** A quarter clockwise. @param {ImageBitmap} of */
async function turned(of) {
  const sheet = new OffscreenCanvas(of.height, of.width);
  const pen = /** @type {OffscreenCanvasRenderingContext2D} */ (sheet.getContext("2d"));
  pen.translate(of.height, 0);
  pen.rotate(Math.PI / 2);
  pen.drawImage(of, 0, 0);
  return sheet.transferToImageBitmap();
}

el("quarter").addEventListener("click", async () => {
  if (!bitmap || !open) return void (el("picture-said").textContent = "Choose a picture first.");
  if (sheet().picture) return void (el("picture-said").textContent = "Places are marked in the picture as it stands: take all out before you turn it.");
  await shown(await turned(bitmap), open.name, (open.quarters + 1) % 4);
});

// --- The fields and buttons.

for (const id of ["lengths", "stations", "waterlines", "buttocks"]) {
  field(id).addEventListener("change", () => {
    step();
    /** @type {any} */ (state)[id] = field(id).value;
    choices();
    changed();
  });
}
for (const input of document.querySelectorAll('input[name="view"]')) {
  input.addEventListener("change", () => {
    state.view = chosen("view");
    [from, held] = [null, null];
    field(sheet().bow_right ? "bow-right" : "bow-left").checked = true;
    choices();
    matches();
    changed();
    show();
  });
}
for (const input of document.querySelectorAll('input[name="bow"]')) {
  input.addEventListener("change", () => {
    step();
    sheet().bow_right = chosen("bow") === "right";
    changed();
  });
}
for (const input of document.querySelectorAll('input[name="tool"]')) {
  input.addEventListener("change", () => {
    [from, held] = [null, null];
    choices();
    look.redraw();
  });
}
for (const id of ["station", "line", "times"]) field(id).addEventListener("change", next);
el("pass").addEventListener("click", pass);
el("nearer").addEventListener("click", () => look.zoom(1.6));
el("farther").addEventListener("click", () => look.zoom(1 / 1.6));
el("whole").addEventListener("click", () => look.whole());
el("move").addEventListener("click", () => {
  const on = el("move").getAttribute("aria-pressed") !== "true";
  el("move").setAttribute("aria-pressed", String(on));
  look.move(on);
});
el("back").addEventListener("click", back);
canvas.addEventListener("keydown", (event) => {
  if ((event.ctrlKey || event.metaKey) && event.key === "z") {
    event.preventDefault();
    back();
  }
});
el("forget").addEventListener("click", () => {
  step();
  take({ ...state, views: Object.fromEntries(VIEWS.map((v) => [v, bare()])) });
  matches();
  el("kept-said").textContent = "All is taken out; Take back brings it again.";
});
el("save").addEventListener("click", () => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([`${JSON.stringify(state, null, 1)}\n`], { type: "application/json" }));
  link.download = "plan-picks.json";
  link.click();
  URL.revokeObjectURL(link.href);
});
field("load").addEventListener("change", async () => {
  const file = field("load").files?.[0];
  if (!file) return;
  /** @type {unknown} */ let read = null;
  if (file.size <= LARGEST_PICKS) {
    try {
      read = JSON.parse(await file.text());
    } catch {}
  }
  if (!sound(read)) return void (el("kept-said").textContent = `${file.name} is no file of picks kept by this page: nothing was changed.`);
  step();
  take(read);
  matches();
  el("kept-said").textContent = `The picks of ${file.name} are taken up.`;
  field("load").value = "";
});
document.getElementById("begin")?.addEventListener("submit", (event) => {
  const form = /** @type {HTMLFormElement} */ (event.target);
  form.querySelectorAll("input").forEach((i) => i.remove());
  for (const [name, value] of Object.entries({ table: told?.file ?? "", lengths: state.lengths, ...told?.ends })) {
    const input = document.createElement("input");
    [input.type, input.name, input.value] = ["hidden", name, value];
    form.append(input);
  }
});
document.getElementById("add")?.addEventListener("click", async () => {
  // The news of what this does comes from here.
  document.body.dataset.busy = "";
  const answer = await fetch("/plan-picture/add", { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(asked()) }).catch(() => null);
  if (answer?.ok) {
    const done = await answer.json();
    page.revision = done.revision;
    el("end-said").textContent = "";
    say(done.trouble ? `${done.said} No plan comes of it: ${done.trouble}` : done.said);
  } else {
    el("end-said").textContent = answer ? `Not added: ${await answer.text()}` : "The program has stopped: nothing is added, and your picks are kept.";
  }
});

listeners.add((news) => news.revision !== undefined && news.revision === page.revision);
try {
  const kept = JSON.parse(localStorage.getItem(KEY) ?? "null");
  if (sound(kept)) {
    state = kept;
    for (const s of Object.values(state.views)) if (s.level.length + s.plumb.length + s.distances.length + s.points.length + s.picks.length === 0) s.picture = null;
  }
} catch {}
take(state);
matches();
