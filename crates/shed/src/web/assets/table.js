// The table of offsets: numbers are tried as they are typed, and kept when they are left.
import { listeners, page, say } from "./live.js";

/** @typedef {{line: number, cell: number, fair: string|null, kind: string, likely: string|null, settled: string|null}} Remark */
/** @typedef {{revision?: number, cells: Remark[], trouble: {line: number|null, cell: number|null, text: string}|null}} Remarks */

const grid = /** @type {HTMLTableElement} */ (document.getElementById("grid"));
const remarks = /** @type {HTMLElement} */ (document.getElementById("remarks"));

/** A length stays on one line: no break at its hyphens. @param {string} text */
const unbroken = (text) => text.replace(/(\d)-(?=\d)/g, "$1\u2060-\u2060");

/** @type {Map<string, HTMLInputElement>} */ const inputs = new Map();
/** @type {Map<HTMLInputElement, string>} What was kept last. */ const kept = new Map();
for (const input of grid.querySelectorAll("input")) {
  inputs.set(`${input.dataset.line} ${input.dataset.cell}`, input);
  kept.set(input, input.value);
}

/** @param {HTMLInputElement} input */
const typed = (input) => ({ line: Number(input.dataset.line), cell: Number(input.dataset.cell), text: input.value });
const changed = () => [...inputs.values()].filter((input) => input.value !== kept.get(input));

/** @param {Remarks} told */
function show(told) {
  for (const input of inputs.values()) {
    const box = /** @type {HTMLElement} */ (input.parentElement);
    box.className = "";
    input.removeAttribute("aria-invalid");
    input.title = "";
    /** @type {HTMLElement} */ (input.nextElementSibling).textContent = "";
  }
  let doubtful = 0;
  for (const c of told.cells) {
    const input = inputs.get(`${c.line} ${c.cell}`);
    if (!input) continue;
    const words = /** @type {HTMLElement} */ (input.nextElementSibling);
    const box = /** @type {HTMLElement} */ (input.parentElement);
    if (c.kind !== "good") {
      doubtful += 1;
      box.className = c.kind;
      words.textContent = unbroken(c.likely ?? "look at this");
    } else if (c.settled) {
      words.textContent = "settled";
    } else if (c.fair) {
      words.textContent = unbroken(c.fair);
    }
  }
  const trouble = told.trouble;
  if (trouble) {
    const input = inputs.get(`${trouble.line} ${trouble.cell}`);
    if (input) {
      /** @type {HTMLElement} */ (input.parentElement).className = "wrong";
      input.setAttribute("aria-invalid", "true");
      /** @type {HTMLElement} */ (input.nextElementSibling).textContent = trouble.text;
      remarks.textContent = "One cell cannot be read: see there.";
    } else {
      remarks.textContent = trouble.text;
    }
  } else {
    remarks.textContent = doubtful === 0 ? "No entry looks wrong." : doubtful === 1 ? "One entry to look at." : `${doubtful} entries to look at.`;
  }
}

let asking = false;
let again = false;
/** Asks what the fairing says to what stands there now; while an answer is awaited, once more at the most. */
async function attempt() {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  const answer = await fetch("/table/try", {
    method: "POST", headers: { "content-type": "application/json" },
    body: JSON.stringify({ seen: page.revision, cells: changed().map(typed) }),
  }).catch(() => null);
  asking = false;
  if (answer?.ok) show(await answer.json());
  if (again) {
    again = false;
    attempt();
  }
}

let saving = Promise.resolve();
/** Keeps what has been changed. */
function keep() {
  const cells = changed();
  if (cells.length === 0) return;
  const sent = cells.map((input) => ({ input, text: input.value }));
  saving = saving.then(async () => {
    const answer = await fetch("/table/cells", {
      method: "POST", headers: { "content-type": "application/json" },
      body: JSON.stringify({ seen: page.revision, cells: sent.map(({ input, text }) => ({ ...typed(input), text })) }),
    }).catch(() => null);
    if (answer?.ok) {
      const told = await answer.json();
      page.revision = told.revision;
      for (const { input, text } of sent) kept.set(input, text);
      delete document.body.dataset.busy;
      say(told.trouble ? `Kept. No plan comes of it: ${told.trouble}` : `Kept: ${told.what}`);
    } else {
      // It stands here alone: the page is not shown anew over it.
      document.body.dataset.busy = "";
      say(answer ? `Not kept: ${await answer.text()}` : "The program has stopped: what you typed is not kept. It stands here until you load this page again.");
    }
  });
}

/** @param {HTMLInputElement} input @param {number} down @param {number} across */
function go(input, down, across) {
  const cell = /** @type {HTMLTableCellElement} */ (input.parentElement);
  const row = /** @type {HTMLTableRowElement} */ (cell.parentElement);
  const to = grid.rows[row.rowIndex + down]?.cells[cell.cellIndex + across]?.querySelector("input");
  if (to) {
    to.focus();
    to.select();
  }
}

grid.addEventListener("input", attempt);
grid.addEventListener("change", keep);
grid.addEventListener("keydown", (event) => {
  const input = event.target;
  if (!(input instanceof HTMLInputElement)) return;
  const ends = [input.selectionStart === 0 && input.selectionEnd === 0, input.selectionStart === input.value.length];
  const whole = input.selectionStart === 0 && input.selectionEnd === input.value.length;
  if (event.key === "Enter") {
    keep();
    go(input, event.shiftKey ? -1 : 1, 0);
  } else if (event.key === "ArrowDown") go(input, 1, 0);
  else if (event.key === "ArrowUp") go(input, -1, 0);
  else if (event.key === "ArrowLeft" && (ends[0] || whole)) go(input, 0, -1);
  else if (event.key === "ArrowRight" && (ends[1] || whole)) go(input, 0, 1);
  else if (event.key === "Escape") {
    input.value = kept.get(input) ?? "";
    attempt();
  } else return;
  event.preventDefault();
});
grid.addEventListener("paste", (event) => {
  const input = event.target;
  const text = event.clipboardData?.getData("text/plain") ?? "";
  if (!(input instanceof HTMLInputElement) || !/[\t\n]/.test(text.trim())) return;
  event.preventDefault();
  const cell = /** @type {HTMLTableCellElement} */ (input.parentElement);
  const row = /** @type {HTMLTableRowElement} */ (cell.parentElement);
  let left = 0;
  text.replace(/\r/g, "").replace(/\n$/, "").split("\n").forEach((line, down) => {
    line.split("\t").forEach((word, across) => {
      const to = grid.rows[row.rowIndex + down]?.cells[cell.cellIndex + across]?.querySelector("input");
      if (to) to.value = word.trim();
      else left += 1;
    });
  });
  if (left > 0) say(`${left} cells of what you pasted had no place in the table and were left out.`);
  attempt();
  keep();
});

listeners.add((told) => {
  if (told.revision === undefined || told.revision === page.revision) return told.revision === page.revision;
  return false;
});

fetch("/table.json").then((answer) => answer.json()).then(show).catch(() => {});
