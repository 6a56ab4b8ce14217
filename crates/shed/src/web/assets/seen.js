// The lands as they are seen by somebody who walks round her, under the body plan; they follow while a mark is dragged.
import { make, path, paths, press } from "./draw.js";
import { eye } from "./eye.js";

/** @typedef {{height: number, distance: number, quarter: number, heel: number, target: number[], along: number[]}} EyeOf */

const sheet = /** @type {HTMLElement} */ (document.getElementById("seen"));
const turn = /** @type {HTMLInputElement} */ (document.getElementById("turn"));
const said = /** @type {HTMLOutputElement} */ (document.getElementById("turn-said"));
const stands = /** @type {HTMLElement} */ (document.getElementById("stands"));

/** @type {EyeOf|null} */ let from = null;
/** @type {{land: number, points: number[][]}[]} */ let lands = [];
/** @type {{points: number[][]}[]} */ let ends = [];
let heel = 0;

const svg = make("svg", { class: "seen", role: "img", "aria-label": "The lands as an eye sees them" });
const far = make("g", {}, svg);
const near = make("g", {}, svg);
sheet.replaceChildren(svg);

function draw() {
  if (!from) return;
  const look = eye({ ...from, turn: Number(turn.value), heel });
  const starboard = Math.cos((Number(turn.value) * Math.PI) / 180) >= 0;
  const flip = (/** @type {number[]} */ p) => [p[0], -p[1], p[2]];
  const onGlass = (/** @type {number[]} */ p) => {
    const [across, up] = look(p);
    return [across, -up];
  };
  const side = (/** @type {boolean} */ own, /** @type {string} */ kind) => {
    const drawn = (/** @type {number[][]} */ points) => path(points.map((p) => onGlass(own ? p : flip(p))));
    return [
      ...ends.map((s) => /** @type {[string, string]} */ ([drawn(s.points), `${kind} end`])),
      ...lands.map((l) => /** @type {[string, string]} */ ([drawn(l.points), kind + (l.land === 0 || l.land === lands.length - 1 ? " edge" : "")])),
    ];
  };
  paths(far, side(!starboard, "far"));
  paths(near, side(starboard, "near"));
  // The frame stays where it is as she is walked round: wide enough for her whole length anywhere.
  const long = from.along[1] - from.along[0];
  const all = lands.flatMap((l) => l.points).flatMap((p) => [onGlass(p), onGlass(flip(p))]);
  const middle = (Math.min(...all.map((p) => p[1])) + Math.max(...all.map((p) => p[1]))) / 2;
  svg.setAttribute("viewBox", `${-0.58 * long} ${middle - 0.24 * long} ${1.16 * long} ${0.48 * long}`);
  said.textContent = words(Number(turn.value));
  press(stands, (b) => b.dataset.turn === turn.value && Number(b.dataset.heel ?? 0) === heel);
}

/** @param {number} degrees */
function words(degrees) {
  const off = Math.abs(degrees);
  if (off === 90) return degrees < 0 ? "ahead" : "astern";
  const beam = off < 90 ? "starboard beam" : "port beam";
  const by = off < 90 ? off : 180 - off;
  return by === 0 ? `on the ${beam}` : `${by}\u00b0 ${degrees < 0 ? "forward" : "aft"} of the ${beam}`;
}

turn.addEventListener("input", draw);
stands.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("button") : null;
  if (!button) return;
  turn.value = button.dataset.turn ?? "0";
  heel = Number(button.dataset.heel ?? 0);
  draw();
});

/** What is seen from now on. @param {{land: number, points: number[][]}[]} now @param {{points: number[][]}[]} sections @param {EyeOf} eyeOf */
export function look(now, sections, eyeOf) {
  if (!from) {
    for (const button of stands.querySelectorAll("button")) {
      if (button.dataset.turn === "bow") button.dataset.turn = String(-eyeOf.quarter);
      if (button.dataset.turn === "quarter") button.dataset.turn = String(eyeOf.quarter);
      if (button.dataset.heel) button.dataset.heel = String(eyeOf.heel);
    }
  }
  [lands, ends, from] = [now, [sections[0], sections[sections.length - 1]], eyeOf];
  draw();
}
