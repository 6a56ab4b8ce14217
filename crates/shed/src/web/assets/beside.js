// What stands beside and under the body plan: what to look at in the lands, and the marks that are pinned.
import { element } from "./draw.js";

/** @typedef {{place: string, figures: string[]|null, hint: string}} Found */

const foundAt = /** @type {HTMLElement} */ (document.getElementById("found"));
const pinsAt = /** @type {HTMLElement} */ (document.getElementById("pins"));
const MOST = 8;
let shown = "";
/** @type {Set<string>} What there was before a mark was touched. */ let rest = new Set();

/** @param {Found} f */
const key = (f) => `${f.place} ${f.hint.slice(0, 30)}`;

/** What is found; while a mark is dragged, what was not there before comes first. @param {Found[]} found @param {boolean} dragging */
export function showFound(found, dragging) {
  if (!dragging) rest = new Set(found.map(key));
  // While a mark is dragged this is asked many times a second, and mostly nothing is new.
  const now = JSON.stringify([found, [...rest]]);
  if (now === shown) return;
  shown = now;
  const fresh = (/** @type {Found} */ f) => !rest.has(key(f));
  const sorted = [...found.filter(fresh), ...found.filter((f) => !fresh(f))];
  const list = element("ol", "", { class: "findings" });
  for (const f of sorted.slice(0, MOST)) {
    const item = element("li", "", fresh(f) ? { class: "fresh" } : {});
    item.append(element("strong", (fresh(f) ? "New: " : "") + f.place), f.figures ? ` ${f.figures[0]} (limit ${f.figures[1]}). ` : ". ", f.hint);
    list.append(item);
  }
  const more = sorted.length > MOST ? [element("p", `And ${sorted.length - MOST} more.`, { class: "quiet" })] : [];
  foundAt.replaceChildren(element("h2", "To look at in the lands"), ...(sorted.length ? [list] : [element("p", "Nothing.")]), ...more);
}

/** @typedef {{land: number, section: number, place: string, said: string}} Pinned */

/** @param {Pinned[]} pinned @param {boolean} any There are pins that may not be drawn. @param {(mark: Pinned|null) => void} free `null`: all. */
export function showPins(pinned, any, free) {
  const list = element("ul", "", { class: "pins" });
  for (const m of pinned) {
    const item = element("li", "");
    const button = element("button", "Free", { type: "button", "aria-label": `Free land ${m.land} at ${m.place}` });
    button.addEventListener("click", () => free(m));
    item.append(element("span", `Land ${m.land} at ${m.place}, ${m.said} from the rabbet`), button);
    list.append(item);
  }
  const all = element("button", "Free all", { type: "button", id: "free-all" });
  all.addEventListener("click", () => free(null));
  const nothing = element("p", any ? "Marks are pinned that she has no place for." : "None: every mark lies where it was proposed.");
  const within = document.activeElement && pinsAt.contains(document.activeElement);
  pinsAt.replaceChildren(element("h2", "Pinned marks", { tabindex: "-1" }), pinned.length ? list : nothing, ...(any ? [all] : []));
  // The button that was pressed is gone: the next thing to be pressed is here.
  if (within) /** @type {HTMLElement} */ (pinsAt.querySelector("button") ?? pinsAt.firstElementChild)?.focus();
}
