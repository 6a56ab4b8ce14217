// What this phone has put down and the program has not yet acknowledged: kept here until it has, and sent once.

/** @typedef {{id: string, at: number, kind: string, side: string|null, strake: number|null, section: string|null, what: string,
 *   value: number|null, against: number|null, typed: string, corrects: string|null}} Entry */

const KEY = "strakewise-kept";
/** Entries in one message. */
const MOST = 100;
const AGAIN = 3000;

/** Whether the browser has kept what was written last; where it has not, what there is stands in `kept` alone. */
let keeps = true;
/** @type {{boat: string, entries: Entry[]}[]} One for each boat's record. */
let kept = [];
read();
let sending = false;
/** @type {(news: {waiting: number, trouble: string, refused: string[]}) => void} */
let tell = () => {};
/** @type {() => void} */
let stored = () => {};
let trouble = "";

/** Takes up what the browser keeps: another page of this phone may have kept something since. */
function read() {
  if (!keeps) return;
  try {
    kept = JSON.parse(localStorage.getItem(KEY) ?? "[]");
  } catch {
    // It keeps nothing, or something that is none of ours: what is here stays.
  }
}

function write() {
  try {
    localStorage.setItem(KEY, JSON.stringify(kept));
    keeps = true;
  } catch {
    keeps = false;
    trouble = "This browser keeps nothing: what is not sent yet is lost when the page is closed.";
  }
}

/** @param {string} boat */
const of = (boat) => kept.find((k) => k.boat === boat)?.entries ?? [];

/** @param {string} boat */
export const waiting = (boat) => of(boat);

/** @param {{told: typeof tell, stored: typeof stored}} to */
export function listen(to) {
  ({ told: tell, stored } = to);
}

/** Letters that no other entry has. */
function id() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
}

/** Keeps an entry, and sends it as soon as may be. @param {string} boat @param {Partial<Entry>} entry @returns {Entry} */
export function put(boat, entry) {
  const whole = { id: id(), at: Date.now(), kind: "done", side: null, strake: null, section: null, what: "", value: null, against: null, typed: "", corrects: null, ...entry };
  read();
  const list = kept.find((k) => k.boat === boat);
  if (list) list.entries.push(whole);
  else kept.push({ boat, entries: [whole] });
  write();
  send(boat);
  return whole;
}

/** Those that were answered for go. @param {string} boat @param {Set<string>} answered */
function drop(boat, answered) {
  read();
  const list = kept.find((k) => k.boat === boat);
  if (list) list.entries = list.entries.filter((e) => !answered.has(e.id));
  kept = kept.filter((k) => k.entries.length > 0);
  write();
}

/** @param {string} boat */
export async function send(boat) {
  const some = of(boat).slice(0, MOST);
  tell({ waiting: of(boat).length, trouble, refused: [] });
  if (sending || some.length === 0) return;
  sending = true;
  let refused = [];
  let went = false;
  try {
    // Told whose they are: by now another boat may be open at this address.
    const answer = await fetch(`/boat/entries?record=${encodeURIComponent(boat)}`, { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(some) });
    if (answer.ok) {
      const told = await answer.json();
      refused = told.refused.map((/** @type {{why: string}} */ r) => r.why);
      // One that cannot even be named is not sent again either.
      const named = new Set([...told.stored, ...told.known, ...told.refused.map((/** @type {{id: string}} */ r) => r.id)]);
      drop(boat, named);
      went = named.size > 0;
      trouble = "";
    } else if (answer.status === 412) {
      // They wait here until theirs is open again; the page takes up the one that is.
      sending = false;
      trouble = "";
      stored();
      return;
    } else if (answer.status === 401 || answer.status === 403) {
      trouble = "This phone is not let in. What it has put down is kept here, and sent when it is paired again.";
    } else {
      trouble = await answer.text();
    }
  } catch {
    trouble = "";
  }
  sending = false;
  tell({ waiting: of(boat).length, trouble, refused });
  if (went) stored();
  if (of(boat).length > 0) setTimeout(() => send(boat), went ? 0 : AGAIN);
}
