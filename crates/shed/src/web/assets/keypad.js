// A keypad for the tape: whole millimetres and halves, or inches with eighths and thirty-seconds, with feet before them where there are any;
// above and below.

/** @typedef {{feet: string|null, whole: string, eighths: number, fine: number, below: boolean}} Typed */

const INCH = 25.4;
/** @returns {Typed} */
const nothing = () => ({ feet: null, whole: "", eighths: 0, fine: 0, below: false });

/** Millimetres of what was typed; null while there is nothing. @param {Typed} typed @param {boolean} inches */
export function length(typed, inches) {
  if (typed.feet === null && typed.whole === "" && typed.eighths === 0 && typed.fine === 0) return null;
  const part = inches ? typed.eighths / 8 + typed.fine / 32 : typed.fine / 2;
  const mm = (12 * Number(typed.feet ?? "0") + Number(typed.whole || "0") + part) * (inches ? INCH : 1);
  return typed.below ? -mm : mm;
}

/** As typed, with its sign where it has one to have; with feet as a plan prints it, 1-3-4+, where a plan could. @param {Typed} typed @param {boolean} inches @param {boolean} signed */
export function words(typed, inches, signed) {
  const sign = signed ? (typed.below ? "\u2212" : "+") : "";
  if (typed.feet !== null && typed.fine % 2 === 0) return `${sign}${Number(typed.feet)}-${Number(typed.whole || "0")}-${typed.eighths}${typed.fine ? "+" : ""}`;
  if (!inches) return `${sign}${typed.whole || (typed.fine ? "" : "0")}${typed.fine ? "\u00bd" : ""}`;
  let [n, of] = [4 * typed.eighths + typed.fine, 32];
  while (n > 0 && n % 2 === 0) [n, of] = [n / 2, of / 2];
  const part = n > 0 ? `${n}/${of}` : "";
  const whole = Number(typed.whole) > 0 ? String(Number(typed.whole)) : part ? "" : "0";
  const feet = typed.feet === null ? "" : `${Number(typed.feet)} ft`;
  return `${sign}${[feet, whole, part].filter((p) => p !== "").join(" ")}`;
}

/** @param {HTMLElement} pad @param {boolean} inches @param {(typed: Typed) => void} changed */
export function keypad(pad, inches, changed) {
  const typed = nothing();
  const told = () => changed(typed);
  /** @param {string} text @param {string} name @param {() => void} press @param {string} [kind] */
  const key = (text, name, press, kind = "") => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = text;
    button.setAttribute("aria-label", name);
    if (kind) button.className = kind;
    button.addEventListener("click", () => {
      press();
      told();
    });
    return button;
  };
  const digit = (/** @type {string} */ d) => key(d, d, () => {
    if (typed.whole.length < 5) typed.whole = typed.whole === "0" ? d : typed.whole + d;
  });
  const keys = [..."123456789"].map(digit);
  // A press more each time, up to the next eighth or millimetre, and then none.
  const finer = () => (typed.fine = (typed.fine + 1) % (inches ? 4 : 2));
  keys.push(inches ? key("+1/32", "a thirty-second more", finer) : key("\u00bd", "and a half", finer));
  keys.push(digit("0"));
  keys.push(key("\u232b", "Wipe the last", () => {
    if (typed.fine > 0) typed.fine = 0;
    else if (typed.eighths > 0) typed.eighths = 0;
    else if (typed.whole === "" && typed.feet !== null) [typed.whole, typed.feet] = [typed.feet, null];
    else typed.whole = typed.whole.slice(0, -1);
  }));
  const rows = [keys];
  if (inches) {
    rows.push([1, 2, 3, 4, 5, 6, 7].map((n) => key(words({ ...nothing(), eighths: n }, true, false), `${n} eighths`, () => (typed.eighths = typed.eighths === n ? 0 : n))));
  }
  pad.replaceChildren(...rows.map((row, i) => {
    const div = document.createElement("div");
    div.className = i === 0 ? "digits" : "eighths";
    div.append(...row);
    return div;
  }));
  return {
    typed,
    clear() {
      Object.assign(typed, nothing());
      told();
    },
    /** What was typed so far are feet; inches follow. */
    feet() {
      if (typed.feet !== null || typed.whole === "") return;
      [typed.feet, typed.whole] = [typed.whole, ""];
      told();
    },
    /** @param {boolean} below */
    below(below) {
      typed.below = below;
      told();
    },
  };
}
