// At the boat: one big number at a time, the tape's readings taken back.
import { aloud, canSpeak, quiet } from "./aloud.js";
import { listen, put, send, waiting } from "./kept.js";
import { keypad, length, words } from "./keypad.js";

/** @typedef {{place: string, section: string, strake: number, shown: string, unit: string, spoken: string, from: string,
 *   also: string[][], mark: number|null, count: number|null}} Step */
/** @typedef {{key: string, task: string, of: number, title: string, how: string, steps: Step[]}} Job */
/** @typedef {{jobs: Job[], hung: number, trouble: string|null, forecast: string, marks: Record<string, {lies: string, judged: string, why: string}>, again: Record<string, string>}} Side */
/** @typedef {{boat: string, record: string, revision: number, seq: number, unit: string, sides: {port: Side, starboard: Side|null}, entries: import("./kept.js").Entry[]}} Now */

const el = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const dialog = (/** @type {string} */ id) => /** @type {HTMLDialogElement} */ (document.getElementById(id));
const SEEN = "strakewise-boat";
const AT = "strakewise-at";
/** Presses in a row make one entry. */
const SETTLES = 900;

/** @template T @param {string} key @param {T} otherwise @returns {T} */
const recall = (key, otherwise) => {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null") ?? otherwise;
  } catch {
    return otherwise;
  }
};
const remember = (/** @type {string} */ key, /** @type {object} */ value) => {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // Without it the page only forgets where it was.
  }
};

/** @type {Now|null} */ let now = recall(SEEN, null);
/** Where this phone is, in which boat. */
const at = { record: "", side: "port", job: "set-up", step: 0, say: false, pause: 10, twice: false, ...recall(AT, {}) };
let held = 0;

const side = () => {
  const sides = /** @type {Now} */ (now).sides;
  return at.side === "starboard" && sides.starboard ? sides.starboard : sides.port;
};
const job = () => side().jobs.find((j) => j.key === at.job) ?? side().jobs[0];
const step = () => job().steps[Math.min(at.step, job().steps.length - 1)];

/** What counts: what the record has, and what this phone has not sent yet. */
function entries() {
  const boat = /** @type {Now} */ (now);
  const mine = waiting(boat.record);
  const known = new Set(boat.entries.map((e) => e.id));
  const all = [...boat.entries, ...mine.filter((e) => !known.has(e.id))];
  const back = new Set(mine.filter((e) => e.kind === "withdrawn").map((e) => e.corrects));
  return all.filter((e) => e.kind !== "withdrawn" && !back.has(e.id));
}

/** The last entry of a sort at a place. @param {string} kind @param {string[]} whats @param {Step} s */
function last(kind, whats, s) {
  const here = entries().filter((e) => e.kind === kind && whats.includes(e.what) && e.section === s.section);
  return here.filter((e) => (e.strake ?? 0) === s.strake && (s.strake === 0 || e.side === at.side)).at(-1);
}
const READINGS = ["from the mark", "width", "height"];
const TICKS = /** @type {Record<string, string>} */ ({ "set-up": "set up", marks: "marked", bevel: "bevelled", fit: "fitted" });
const counted = (/** @type {string} */ task) => (task === "waiting" ? "riveted at the mould" : "riveted");

/** Whether a step's work is put down. @param {Job} j @param {Step} s */
function isDone(j, s) {
  if (j.task === "measure") return last("reading", READINGS, s) !== undefined;
  if (s.count !== null) return (last("done", [counted(j.task)], s)?.value ?? 0) >= s.count;
  return last("done", [TICKS[j.task]], s) !== undefined;
}
/** @param {Step} s */
const mouldOut = (s) => entries().some((e) => e.what === "mould out" && e.section === s.section);

function show() {
  if (!now) return;
  const [j, s] = [job(), step()];
  at.job = j.key;
  at.step = Math.min(at.step, j.steps.length - 1);
  remember(AT, { ...at });
  el("title").textContent = j.title;
  el("place").textContent = s.place;
  el("value").textContent = s.shown;
  el("unit").textContent = s.unit;
  el("number").dataset.long = String(s.shown.length > 5);
  el("from").textContent = s.from;
  el("how").textContent = j.how;
  el("also").replaceChildren(...s.also.flatMap(([what, shown]) => {
    const [dt, dd] = [document.createElement("dt"), document.createElement("dd")];
    [dt.textContent, dd.textContent] = [what, shown];
    return [dt, dd];
  }));
  el("count").textContent = `${at.step + 1} of ${j.steps.length}`;
  for (const name of ["port", "starboard"]) el(name).setAttribute("aria-pressed", String(at.side === name));
  acts(j, s);
  told(j, s);
  const all = side().jobs;
  const [first, end] = [all[0] === j && at.step === 0, all.at(-1) === j && at.step === j.steps.length - 1];
  /** @type {HTMLButtonElement} */ (el("back")).disabled = first;
  /** @type {HTMLButtonElement} */ (el("next")).disabled = end;
}

/** What can be pressed at this step. @param {Job} j @param {Step} s */
function acts(j, s) {
  for (const [id, shown] of /** @type {[string, boolean][]} */ ([
    ["read", j.task === "measure"], ["done", j.task in TICKS], ["out", j.task === "waiting"], ["rivets", s.count !== null && (j.task !== "waiting" || mouldOut(s))], ["say", canSpeak],
  ])) el(id).hidden = !shown;
  el("done").setAttribute("aria-pressed", String(j.task in TICKS && isDone(j, s)));
  el("out").setAttribute("aria-pressed", String(mouldOut(s)));
  if (s.count !== null) el("so-far").textContent = `${soFar(j, s)} of ${s.count} done`;
}
/** @type {number|null} */ let pressed = null;
/** @param {Job} j @param {Step} s */
const soFar = (j, s) => pressed ?? last("done", [counted(j.task)], s)?.value ?? 0;

/** What was put down here, and what comes of it. @param {Job} j @param {Step} s */
function told(j, s) {
  const place = `${s.strake}/${s.section}`;
  const entry = j.task === "measure" ? last("reading", READINGS, s) : undefined;
  el("back-out").hidden = entry === undefined;
  const out = el("told");
  out.dataset.judged = "";
  if (j.task === "waiting" && !mouldOut(s)) out.textContent = "The mould is still in.";
  else if (!entry) out.textContent = side().trouble ?? (j.task === "measure" ? side().forecast : "");
  else {
    const sent = !waiting(/** @type {Now} */ (now).record).some((e) => e.id === entry.id);
    const mark = side().marks[place];
    const again = side().again[place];
    const what = entry.what === "from the mark" ? (entry.value === 0 ? "on the mark" : `${entry.typed} ${(entry.value ?? 0) < 0 ? "below" : "above"} the mark`) : `${entry.what} ${entry.typed}`;
    out.dataset.judged = !sent ? "" : again || (!mark && side().trouble) ? "again" : mark?.judged ?? "";
    out.textContent = [`Read: ${what}.`, !sent ? "Not sent yet." : again ?? (mark ? [mark.lies, mark.why].filter((w) => w).join(": ") : side().trouble ?? "")].join(" ");
  }
  // The other side's last reading of the same place.
  const other = entries().filter((e) => e.kind === "reading" && e.side !== at.side && e.strake === s.strake && e.section === s.section).at(-1);
  el("other").textContent = j.task === "measure" && other ? `${other.side}: ${other.what} ${other.typed}` : "";
}

/** @param {number} by */
function go(by) {
  settle();
  const all = side().jobs;
  const place = all.indexOf(job());
  const to = at.step + by;
  if (to >= 0 && to < job().steps.length) at.step = to;
  else {
    const next = all[place + by];
    if (!next) return;
    [at.job, at.step] = [next.key, by > 0 ? 0 : next.steps.length - 1];
  }
  show();
  if (at.say) speak();
}

async function speak() {
  const [j, s] = [job(), step()];
  await aloud(at.step === 0 ? `${j.title}. ${s.place}. ${s.spoken}. ${s.from}.` : `${s.place}. ${s.spoken}.`);
}

/** Reads the job's numbers out, with time to walk between them, until something is touched. */
let reading = 0;
async function readOut() {
  const mine = ++reading;
  el("read-out").setAttribute("aria-pressed", "true");
  const key = at.job;
  while (mine === reading && at.job === key) {
    await speak();
    await new Promise((resolve) => setTimeout(resolve, at.pause * 1000));
    if (mine !== reading || at.step + 1 >= job().steps.length) break;
    at.step += 1;
    show();
  }
  if (mine === reading) hush();
}
function hush() {
  reading += 1;
  quiet();
  el("read-out").setAttribute("aria-pressed", "false");
}

/** @param {Partial<import("./kept.js").Entry>} entry */
function down(entry) {
  const s = step();
  put(/** @type {Now} */ (now).record, { side: s.strake ? at.side : null, strake: s.strake || null, section: s.section, ...entry });
  show();
}
/** @param {import("./kept.js").Entry} entry */
const takeBack = (entry) => down({ kind: "withdrawn", side: null, strake: null, section: null, corrects: entry.id });

/** Rivets that were pressed are put down once. */
let settling = 0;
function settle() {
  clearTimeout(settling);
  if (pressed === null) return;
  const value = pressed;
  pressed = null;
  down({ kind: "done", what: counted(job().task), value, typed: String(value) });
}
/** @param {number} by */
function count(by) {
  const [j, s] = [job(), step()];
  pressed = Math.max(0, Math.min(s.count ?? 0, soFar(j, s) + by));
  acts(j, s);
  clearTimeout(settling);
  settling = setTimeout(settle, SETTLES);
}

// The keypad.
const inches = document.body.dataset.unit === "in";
const withFeet = document.body.dataset.feet !== undefined;
/** The big number is a width. */
const ASKED = "width";
let kind = ASKED;
const pad = keypad(el("pad"), inches, typed);
const signed = () => kind === "from the mark";
function typed() {
  const mm = length(pad.typed, inches);
  el("typed").textContent = mm === null ? "\u2013" : words(pad.typed, inches, signed());
  el("typed-unit").textContent = `${pad.typed.feet !== null ? "" : inches ? "in" : "mm"}${signed() && mm !== null && mm !== 0 ? (pad.typed.below ? " below the mark" : " above the mark") : ""}`;
  /** @type {HTMLButtonElement} */ (el("take")).disabled = mm === null;
}
/** @param {string} what */
function measured(what) {
  kind = what;
  for (const button of el("kinds").querySelectorAll("button")) button.setAttribute("aria-pressed", String(button.value === what));
  el("signs").hidden = !signed();
  el("feet").hidden = !withFeet || kind !== "height";
  if (!signed()) below(false);
  typed();
}
/** @param {boolean} is */
function below(is) {
  pad.below(is);
  el("above").setAttribute("aria-pressed", String(!is));
  el("below").setAttribute("aria-pressed", String(is));
}
function openPad() {
  pad.clear();
  below(false);
  el("right").hidden = true;
  el("entry").hidden = false;
  measured(ASKED);
  el("reading-of").textContent = `Strake ${step().strake}, ${step().place}, ${at.side}`;
  dialog("reading").showModal();
}
/** What is measured stays as it was chosen when it is asked for once more. */
function again() {
  const chosen = kind;
  openPad();
  measured(chosen);
}
function take() {
  const text = `${words(pad.typed, inches, signed())}`;
  if (at.twice && el("right").hidden) {
    const unit = pad.typed.feet !== null ? "feet, inches, eighths" : inches ? "inches" : "millimetres";
    const how = signed() ? (pad.typed.below ? "below the mark" : "above the mark") : kind;
    el("right-said").textContent = `${text} ${unit}, ${how}, at ${step().place}. Is that right?`;
    [el("right").hidden, el("entry").hidden] = [false, true];
    if (at.say) aloud(`${text.replace("\u2212", "").replace("+", "")} ${unit}, ${how}?`);
    el("yes").focus();
    return;
  }
  dialog("reading").close();
  down({ kind: "reading", what: kind, value: length(pad.typed, inches), against: signed() ? step().mark : null, typed: text });
}

// All the jobs.
function list() {
  const groups = el("all-jobs");
  groups.replaceChildren(...side().jobs.map((j) => {
    const button = document.createElement("button");
    button.type = "button";
    const done = j.steps.filter((s) => isDone(j, s)).length;
    const waits = j.task === "waiting" && !mouldOut(j.steps[0]);
    button.append(j.title, Object.assign(document.createElement("small"), { textContent: waits ? "waits for the mould" : done === j.steps.length ? "done" : `${done} of ${j.steps.length}` }));
    if (j.key === at.job) button.setAttribute("aria-current", "true");
    button.addEventListener("click", () => {
      settle();
      [at.job, at.step] = [j.key, Math.max(0, j.steps.findIndex((s) => !isDone(j, s)))];
      dialog("jobs").close();
      show();
    });
    return button;
  }));
  dialog("jobs").showModal();
  groups.querySelector("[aria-current]")?.scrollIntoView({ block: "center" });
}

async function fetched() {
  try {
    const answer = await fetch("/boat/now");
    if (answer.ok) {
      now = await answer.json();
      remember(SEEN, /** @type {Now} */ (now));
      if (at.record !== now?.record) at.record = now?.record ?? "";
      show();
      send(/** @type {Now} */ (now).record);
      return true;
    }
    if (answer.status === 401 || answer.status === 403) el("state").textContent = "This phone is not let in. Pair it again; what it has put down is kept.";
  } catch {
    // The program is away: what is shown is as it was.
  }
  return false;
}

let wait = 500;
function connect() {
  const socket = new WebSocket(`ws://${location.host}/boat/live`);
  let asked = 0;
  socket.addEventListener("open", () => {
    wait = 500;
    held = 0;
    fetched().then(state);
  });
  socket.addEventListener("message", () => {
    clearTimeout(asked);
    asked = setTimeout(fetched, 150);
  });
  socket.addEventListener("close", () => {
    held = 1;
    state();
    setTimeout(connect, wait);
    wait = Math.min(1.6 * wait, 5000);
  });
}

/** @type {string[]} */ let refused = [];
let trouble = "";
function state() {
  const n = now ? waiting(now.record).length : 0;
  const left = n === 0 ? "" : `${n} not sent yet, kept here.`;
  el("state").textContent = [trouble, ...refused.map((why) => `Not taken: ${why}.`), held ? "The program is out of reach; go on, this page keeps what you put down." : "", left].filter((w) => w).join(" ");
  el("state").dataset.away = String(held === 1 || n > 0 || trouble !== "" || refused.length > 0);
}
listen({
  told(news) {
    trouble = news.trouble;
    if (news.refused.length > 0) refused = news.refused;
    state();
  },
  stored: fetched,
});

const pressing = /** @type {Record<string, () => void>} */ ({
  back: () => go(-1),
  next: () => go(1),
  list,
  say: speak,
  read: openPad,
  take,
  yes: take,
  no: again,
  feet: () => pad.feet(),
  above: () => below(false),
  below: () => below(true),
  done() {
    const there = last("done", [TICKS[job().task]], step());
    if (there) takeBack(there);
    else down({ kind: "done", what: TICKS[job().task] });
  },
  out() {
    const there = entries().filter((e) => e.what === "mould out" && e.section === step().section).at(-1);
    if (there) takeBack(there);
    else down({ kind: "done", what: "mould out", side: null, strake: null });
  },
  "back-out"() {
    const there = last("reading", READINGS, step());
    if (there) takeBack(there);
  },
  port: () => turn("port"),
  starboard: () => turn("starboard"),
  "one-less": () => count(-1),
  "one-more": () => count(1),
  "ten-more": () => count(10),
  "all-of-them": () => count(Infinity),
  "read-out": () => (el("read-out").getAttribute("aria-pressed") === "true" ? hush() : readOut()),
  settings: () => dialog("set").showModal(),
  hours: () => {
    el("hours-of").textContent = `Strake ${workedAt()}, ${at.side}`;
    dialog("worked").showModal();
  },
  "put-hours": putHours,
});
/** The strake that is worked at; the first where the job is of none. */
const workedAt = () => step().strake || 1;
/** @param {string} to */
function turn(to) {
  settle();
  at.side = to;
  show();
}
function putHours() {
  const value = Number(/** @type {HTMLInputElement} */ (el("hours-value")).value);
  const what = /** @type {HTMLSelectElement} */ (el("hours-what")).value;
  if (!(value > 0)) return;
  const strake = what === "strake" ? workedAt() : null;
  put(/** @type {Now} */ (now).record, { kind: "hours", what, value, typed: String(value), strake, side: strake ? at.side : null });
  dialog("worked").close();
}

for (const [id, press] of Object.entries(pressing)) {
  el(id).addEventListener("click", () => {
    if (id !== "read-out" && id !== "say") hush();
    if (now) press();
  });
}
for (const button of el("kinds").querySelectorAll("button")) button.addEventListener("click", () => measured(button.value));
for (const button of document.querySelectorAll("[data-closes]")) button.addEventListener("click", () => /** @type {HTMLElement} */ (button).closest("dialog")?.close());
for (const [id, key] of /** @type {[string, "say"|"twice"][]} */ ([["set-say", "say"], ["set-twice", "twice"]])) {
  const box = /** @type {HTMLInputElement} */ (el(id));
  box.checked = at[key];
  box.addEventListener("change", () => {
    at[key] = box.checked;
    remember(AT, { ...at });
  });
}
const pause = /** @type {HTMLSelectElement} */ (el("set-pause"));
pause.value = String(at.pause);
pause.addEventListener("change", () => {
  at.pause = Number(pause.value);
  remember(AT, { ...at });
});
addEventListener("keydown", (event) => {
  if (document.querySelector("dialog[open]")) return;
  if (event.key === "ArrowRight") go(1);
  if (event.key === "ArrowLeft") go(-1);
});
addEventListener("pagehide", settle);
show();
fetched().then(state);
connect();
