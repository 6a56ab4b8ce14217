// What an eye sees of her: perspective, as through a pinhole, on a sheet of glass through the middle of her length, so that a mm
// there is a mm on the boat. The same eye as the planning's own, which looks at the lands when it lines them.

/** @typedef {{turn: number, height: number, distance: number, heel: number, target: number[]}} Stand Turn and heel in degrees; turn 0
 * is on the beam to starboard, more of it walks aft, so that 90 is astern. Lengths in mm; target: aft and up. */

const NEAREST = 0.05;

/** A function that gives what is seen of a point: across to the eye's right, and up; mm. @param {Stand} stand */
export function eye({ turn, height, distance, heel, target }) {
  const [level, t, h] = [target[1], (turn * Math.PI) / 180, (heel * Math.PI) / 180];
  const rise = height - level;
  // Off the bow as far from her middle as on the beam.
  const flat = Math.sqrt(Math.max(distance * distance - rise * rise, 0.25 * distance * distance));
  const at = [flat * Math.sin(t), flat * Math.cos(t), rise];
  const off = Math.hypot(...at);
  const towards = at.map((v) => v / off);
  const across = Math.hypot(towards[0], towards[1]);
  const right = [-towards[1] / across, towards[0] / across, 0];
  const up = [
    towards[1] * right[2] - towards[2] * right[1], towards[2] * right[0] - towards[0] * right[2], towards[0] * right[1] - towards[1] * right[0],
  ];
  // She heels away from the eye, on whichever side it stands.
  const [sin, cos] = [Math.sin(h) * (Math.cos(t) < 0 ? -1 : 1), Math.cos(h)];
  const dot = (/** @type {number[]} */ a, /** @type {number[]} */ b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  return (/** @type {number[]} */ p) => {
    const d = [p[0] - target[0], p[1], p[2] - level];
    const q = [d[0], d[1] * cos - d[2] * sin, d[2] * cos + d[1] * sin];
    const scale = off / Math.max(off - dot(q, towards), NEAREST * off);
    return [dot(q, right) * scale, dot(q, up) * scale];
  };
}
