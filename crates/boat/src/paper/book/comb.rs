//! A curvature comb on the sheet: how long its hairs are and where they stand.

use super::length::Lengths;
use super::page::Frame;
use super::view::View;
use crate::drawing::Spot;
use crate::lines::fairness::{Comb as Line, Tooth};
use crate::units::{FOOT, INCH};

/// The combs of one view, all to one scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Comb {
    /// Length of a hair times the radius of the bend it stands on, mm².
    pub reach: f64,
}

/// What most hairs of a view keep within, mm.
const USUAL: f64 = 9.0;
/// The share of hairs that do.
const MOST: f64 = 0.93;
/// No hair is longer, mm.
const LONGEST: f64 = 13.5;

/// A hair is said to be so long, mm: 10 mm, or half an inch.
fn unit(len: Lengths) -> f64 {
    if len.inches() { 0.5 * INCH } else { 10.0 }
}

impl Comb {
    /// The scale for these lines, one that can be said in round figures.
    pub fn of(lines: &[&Line], len: Lengths) -> Self {
        let mut bends: Vec<f64> = lines.iter().flat_map(|l| &l.teeth).map(|t| t.curvature.abs()).collect();
        bends.sort_by(f64::total_cmp);
        let usual = bends.get((bends.len() as f64 * MOST) as usize).copied().unwrap_or(0.0).max(1e-9);
        // The radius on which a hair of `unit` stands.
        let (least, step) = (USUAL / usual / unit(len), if len.inches() { INCH } else { 10.0 });
        let radii = (0..8).flat_map(|p| [1.0, 2.0, 3.0, 4.0, 6.0, 8.0].map(|m| m * 10.0_f64.powi(p) * step));
        let feet = (0..5).flat_map(|p| [1.0, 2.0, 3.0, 4.0, 6.0, 8.0].map(|m| m * 10.0_f64.powi(p) * FOOT));
        let series: Vec<f64> = if len.inches() && least > FOOT { feet.collect() } else { radii.collect() };
        // The longest hairs that keep within the usual: the last radius that is not above.
        let radius = series.iter().copied().rfind(|r| *r <= least).unwrap_or(least);
        Comb { reach: radius * unit(len) }
    }

    /// The scale in words.
    pub fn scale(&self, len: Lengths) -> String {
        let radius = self.reach / unit(len);
        let (hair, radius) = match (len.inches(), radius) {
            (false, r) if r >= 1000.0 => ("10 mm", format!("{} m", (r / 100.0).round() / 10.0)),
            (false, r) => ("10 mm", format!("{r:.0} mm")),
            (true, r) if r >= FOOT - 0.01 => ("1/2 in", format!("{:.0} ft", r / FOOT)),
            (true, r) => ("1/2 in", format!("{:.0} in", r / INCH)),
        };
        format!("A hair {hair} long is a bend of {radius} radius, one twice as long of half that radius.")
    }
}

/// One hair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hair {
    /// On the line.
    pub foot: Spot,
    /// Its other end.
    pub tip: Spot,
    /// It should be longer.
    pub cut: bool,
}

/// The hairs on a line seen in `view`, mirrored where `hand` is −1, square to the line as drawn and on the outside of its
/// bend; none leaves `frame`.
pub fn hairs(view: View, teeth: &[Tooth], hand: f64, reach: f64, frame: Frame) -> Vec<Hair> {
    let spot = |t: &Tooth| view.at(hand * t.at[0], t.at[1]);
    let last = teeth.len().saturating_sub(1);
    let mut hairs = Vec::with_capacity(teeth.len());
    for (i, tooth) in teeth.iter().enumerate() {
        let (foot, a, b) = (spot(tooth), spot(&teeth[i.saturating_sub(1)]), spot(&teeth[(i + 1).min(last)]));
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let run = dx.hypot(dy).max(1e-9);
        // On a sheet y runs down, so the right of the way is (−dy, dx); a bend to the left has its outside there.
        let out = [-dy / run, dx / run].map(|v| v * hand * tooth.curvature.signum());
        let wanted = reach * tooth.curvature.abs();
        let mut long = wanted.min(LONGEST);
        for (axis, [low, high]) in [[frame.left, frame.right], [frame.top, frame.bottom]].into_iter().enumerate() {
            let room = if out[axis] > 0.0 { high - foot[axis] } else { foot[axis] - low };
            if out[axis].abs() > 1e-9 {
                long = long.min(room.max(0.0) / out[axis].abs());
            }
        }
        let tip = [foot[0] + out[0] * long, foot[1] + out[1] * long];
        hairs.push(Hair { foot, tip, cut: long < wanted - 1e-9 });
    }
    hairs
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Notation;
    use std::f64::consts::PI;

    const FRAME: Frame = Frame { left: -500.0, right: 500.0, top: -500.0, bottom: 500.0 };

    /// A circle of radius R to scale 1 : s about the view's origin: each hair is reach/R long and points away from the
    /// middle, whichever way the circle is walked and on either half of the drawing.
    #[test]
    fn a_circles_hairs_point_away_from_its_middle() {
        let (radius, scale, reach) = (600.0, 8.0, 4800.0);
        for hand in [1.0, -1.0] {
            for way in [1.0, -1.0] {
                let angle = |i: i32| way * f64::from(i) * PI / 180.0;
                let teeth: Vec<Tooth> = (-60..=60)
                    .map(angle)
                    .map(|a| Tooth { at: [radius * a.cos(), radius * a.sin()], curvature: way / radius })
                    .collect();
                let hairs = hairs(View::new([0.0, 0.0], scale), &teeth, hand, reach, FRAME);
                for hair in &hairs[1..hairs.len() - 1] {
                    let far = |p: Spot| p[0].hypot(p[1]);
                    assert!((far(hair.foot) - radius / scale).abs() < 1e-9 && !hair.cut);
                    assert!((far(hair.tip) - far(hair.foot) - reach / radius).abs() < 1e-9, "{hair:?}");
                }
            }
        }
    }

    #[test]
    fn hairs_too_long_are_cut_and_say_so() {
        let teeth: Vec<Tooth> =
            (0..5).map(|i| Tooth { at: [f64::from(i) * 100.0, 0.0], curvature: f64::from(i) * 1e-3 }).collect();
        let frame = Frame { bottom: 6.0, ..FRAME };
        let of = |frame| {
            let hairs = hairs(View::new([0.0, 0.0], 10.0), &teeth, 1.0, 4000.0, frame);
            hairs.iter().map(|h| (h.tip[1], h.cut)).collect::<Vec<_>>()
        };
        assert_eq!(of(FRAME), [(0.0, false), (4.0, false), (8.0, false), (12.0, false), (LONGEST, true)]);
        assert_eq!(of(frame)[1..4], [(4.0, false), (6.0, true), (6.0, true)]);
    }

    #[test]
    fn the_scale_is_said_in_round_figures() {
        let line = |radius: f64| Line {
            line: "height sheer".to_owned(),
            view: crate::lines::fairness::View::Profile,
            teeth: vec![Tooth { at: [0.0, 0.0], curvature: 1.0 / radius }; 10],
            before: Vec::new(),
            after: Vec::new(),
            hardest: None,
            moved: crate::lines::fairness::Moved { entries: 0, doubtful: 0, rms: 0.0, largest: None },
        };
        let said = |radius, notation| {
            let comb = Comb::of(&[&line(radius)], Lengths(notation));
            assert!(comb.reach / radius <= USUAL + 1e-9 && comb.reach / radius > 0.45 * USUAL, "{radius}");
            comb.scale(Lengths(notation))
        };
        assert!(said(4000.0, Notation::Mm).starts_with("A hair 10 mm long is a bend of 3 m radius"));
        assert!(said(400.0, Notation::Mm).starts_with("A hair 10 mm long is a bend of 300 mm radius"));
        assert!(said(4000.0, Notation::FeetInchesEighths).starts_with("A hair 1/2 in long is a bend of 8 ft radius"));
        assert!(said(300.0, Notation::Inches).starts_with("A hair 1/2 in long is a bend of 8 in radius"));
    }
}
