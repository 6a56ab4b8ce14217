//! Runs to pens on a sheet.

use super::{Fine, Hider, Kind, Run, Scene, runs};
use crate::drawing::place::Bounds;
use crate::drawing::{Colour, Item, Shape, Spot, Stroke, Weight};
use crate::eyes::Eye;

/// The pen of each kind of line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pens {
    /// Where she ends against nothing.
    pub outline: Stroke,
    /// Sheer.
    pub sheer: Stroke,
    /// Edges of stem, keel and transoms.
    pub backbone: Stroke,
    /// Lands and rabbet.
    pub land: Stroke,
    /// The foot of a land's step, and what is inside.
    pub inside: Stroke,
}

/// As a draughtsman's hand has them: the outline heaviest, lands light.
#[must_use]
pub fn pens(ink: Colour) -> Pens {
    let pen = |weight| Stroke::solid(weight, ink);
    Pens {
        outline: pen(Weight::Thick),
        sheer: pen(Weight::Medium),
        backbone: pen(Weight::Thin),
        land: pen(Weight::Fine),
        inside: pen(Weight::Hair),
    }
}

impl Pens {
    fn of(&self, run: &Run) -> Stroke {
        match run.kind {
            _ if run.outline => self.outline,
            Kind::Sheer => self.sheer,
            Kind::Transom | Kind::Backbone => self.backbone,
            Kind::Land | Kind::Rabbet | Kind::Contour => self.land,
            Kind::Step | Kind::Inside => self.inside,
        }
    }
}

/// How large `eye`'s picture may be drawn in a box `width` by `height`: mm of the boat to the mm; `None` where there is no
/// picture.
#[must_use]
pub fn least_scale(scene: &Scene, eye: &Eye, width: f64, height: f64) -> Option<f64> {
    let [left, right, low, high] = Hider::new(scene, eye)?.extent();
    Some(((right - left) / width).max((high - low) / height))
}

/// Draws what `eye` sees of `scene` in the middle of `frame`, `scale` mm of the boat to the mm. Nothing where the eye is
/// among her planks.
#[must_use]
pub fn draw(scene: &Scene, eye: &Eye, frame: &Bounds, scale: f64, pens: &Pens) -> Vec<Item> {
    let Some(hider) = Hider::new(scene, eye) else { return Vec::new() };
    let [left, right, low, high] = hider.extent();
    let [x, y] = frame.middle();
    let place =
        |[u, v]: [f64; 2]| -> Spot { [x + (u - 0.5 * (left + right)) / scale, y - (v - 0.5 * (low + high)) / scale] };
    let mut found = runs(&hider, &scene.lines_for(eye), &Fine::at_scale(scale));
    found.sort_by_key(|run| pens.of(run).weight);
    found.iter().map(|run| Shape::line(run.seen.iter().map(|p| place(*p)).collect(), pens.of(run))).collect()
}
