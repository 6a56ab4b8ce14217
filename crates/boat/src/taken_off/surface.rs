//! Points on planks brought to the smooth surface.
//!
//! The inner face of a plank W wide runs from a whole step a outside the inner surface at its lower edge (0 in the rabbet and
//! where its land has run out in a gain) straight to nought at its upper edge, while the surface, of curvature κ, bulges
//! κ s (W − s) / 2 over that chord. So at s from its lower edge its outer face stands
//!
//! ```text
//! d = a (1 − s/W) − κ s (W − s) / 2
//! ```
//!
//! outside the outer surface; the edge of the plank over it, at s = W − lap, a step more. In a station's plane d is longer by
//! the secant of the angle that the surface turns from square to it. κ and that angle are taken from the sections themselves,
//! round by round.
//!
//! Source: derived here. Errors: the land's bevel is left out, a second-order part of the step.

use super::ends::Ends;
use super::order::Ordered;
use super::{Faired, On, Settings, TakeOffError, faired};
use crate::planks::land::step;

/// Rounds: each leaves about a tenth of the last one's error.
const ROUNDS: usize = 4;

/// All sections on the smooth surface, faired within the tape.
pub fn brought(all: &[Ordered], ends: &Ends, settings: &Settings) -> Result<Vec<Faired>, TakeOffError> {
    let first: Vec<Vec<f64>> = all.iter().map(|o| vec![0.0; o.points.len()]).collect();
    let mut sections = drawn(all, &first, None, settings)?;
    if all.iter().flat_map(|o| &o.points).all(|p| p.on == On::Surface) {
        return Ok(sections);
    }
    for _ in 0..ROUNDS {
        let off: Vec<Vec<f64>> = (0..all.len()).map(|i| outside(i, &sections, ends, settings)).collect();
        sections = drawn(all, &off, Some(&sections), settings)?;
    }
    Ok(sections)
}

/// The curves through the points, each moved inward by `off` square to the curve of the round before.
fn drawn(
    all: &[Ordered],
    off: &[Vec<f64>],
    before: Option<&[Faired]>,
    settings: &Settings,
) -> Result<Vec<Faired>, TakeOffError> {
    let one = |(i, ordered): (usize, &Ordered)| {
        let place = |(k, p): (usize, &super::Point)| {
            let Some(f) = before.map(|b| &b[i]) else { return p.place };
            let [y, z] = normal(f, k);
            [p.place[0] - off[i][k] * y, p.place[1] - off[i][k] * z]
        };
        let places: Vec<[f64; 2]> = ordered.points.iter().enumerate().map(place).collect();
        let (curve, moved) = faired(&places, settings.tape)
            .map_err(|why| TakeOffError::Section { station: ordered.name.clone(), why })?;
        Ok(Faired {
            name: ordered.name.clone(),
            part: ordered.part,
            at: ordered.at,
            taken: ordered.points.clone(),
            curve,
            moved,
        })
    };
    all.iter().enumerate().map(one).collect()
}

/// Outward, square to the section's curve at its point `k`.
fn normal(section: &Faired, k: usize) -> [f64; 2] {
    let [y, z] = section.curve.d1(section.curve.knots()[k]);
    let length = y.hypot(z).max(f64::MIN_POSITIVE);
    [z / length, -y / length]
}

/// How far outside the outer surface each point of section `i` was taken, in the section's plane, mm.
fn outside(i: usize, sections: &[Faired], ends: &Ends, settings: &Settings) -> Vec<f64> {
    let section = &sections[i];
    let knots = section.curve.knots();
    let last = knots.len() - 1;
    let one = |k: usize| {
        let on = section.taken[k].on;
        if on == On::Surface || k == 0 || k == last {
            return 0.0;
        }
        let longer = secant(i, k, sections);
        // Along the land, as a gain is measured.
        let from = ends.from(section.taken[k].at, section.taken[k].place[1]);
        let land = from.iter().zip(settings.gains).map(|(far, gain)| step(settings.thickness, gain, far * longer));
        let land = land.fold(settings.thickness, f64::min);
        // The neighbours on planks; rabbet and sheer end the row.
        let (below, above) = (knots[k] - knots[k - 1], knots[k + 1] - knots[k]);
        let lap = settings.lap;
        let (under, width, s, over) = match on {
            On::Edge => (if k == 1 { 0.0 } else { land }, below + lap, below, land),
            _ if k == 1 => (0.0, 2.0 * below + lap, below, 0.0),
            _ if k + 1 == last => (land, 2.0 * above, above, 0.0),
            _ => (land, 0.5 * (below + above) + lap, 0.25 * (below + above), 0.0),
        };
        let d = over + under * (1.0 - s / width) - 0.5 * curvature(section, k) * s * (width - s);
        d * longer
    };
    (0..=last).map(one).collect()
}

/// Of the circle through the section's point `k` and its neighbours, more than 0 where the hull is round, 1/mm: twice the sine of
/// the turn over the chord.
fn curvature(section: &Faired, k: usize) -> f64 {
    let knots = section.curve.knots();
    let [a, b, c] = [k - 1, k, k + 1].map(|i| section.curve.at(knots[i]));
    let ([y, z], [yy, zz]) = ([b[0] - a[0], b[1] - a[1]], [c[0] - b[0], c[1] - b[1]]);
    let chord = (c[0] - a[0]).hypot(c[1] - a[1]);
    2.0 * (y * zz - z * yy) / (y.hypot(z) * yy.hypot(zz) * chord).max(f64::MIN_POSITIVE)
}

/// How much longer a distance square to the hull is in the section's plane.
fn secant(i: usize, k: usize, sections: &[Faired]) -> f64 {
    let section = &sections[i];
    let share = section.curve.knots()[k] / section.end();
    let (fore, aft) = (&sections[i.saturating_sub(1)], &sections[(i + 1).min(sections.len() - 1)]);
    let ([y0, z0], [y1, z1], [y, z]) = (fore.at_share(share), aft.at_share(share), normal(section, k));
    let slope = ((y1 - y0) * y + (z1 - z0) * z) / (aft.at - fore.at).max(1.0);
    slope.hypot(1.0)
}
