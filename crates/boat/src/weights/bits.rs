//! Her wood in pieces.

use super::Bit;
use crate::backbone::{Backbone, TransomShape};
use crate::geom::{Point, Vector, area_and_middle};
use crate::interior::{Interior, Part, pieces};
use crate::spec::{EndSpec, Spec, Transom, Wood};
use crate::timbers::Timber;

/// Pieces that each half of a timber, and the keel, is thought of in.
const PIECES: usize = 6;

/// Both sides of every timber.
pub fn timbers(timbers: &[Timber], spec: &Spec) -> Vec<Bit> {
    let t = &spec.timbers;
    let mut bits = Vec::new();
    for timber in timbers {
        let n = timber.points.len();
        let each = n.div_ceil(PIECES).max(1);
        for run in timber.points.chunks(each) {
            let middle = run.iter().fold(Vector::zeros(), |s, p| s + p.coords) / run.len() as f64;
            let length = timber.girth * run.len() as f64 / n as f64;
            for side in [1.0, -1.0] {
                bits.push(Bit {
                    part: "timbers".to_owned(),
                    volume: length * t.sided * t.moulded,
                    density: t.wood.density,
                    centre: Point::new(middle.x, side * middle.y, middle.z),
                    size: [t.sided, length, t.moulded],
                });
            }
        }
    }
    bits
}

/// What goes inside her.
pub fn inside(interior: &Interior) -> Vec<Bit> {
    let mut bits = Vec::new();
    let name = |part: Part| match part {
        Part::Thwarts => "thwarts and risings",
        Part::Gunwales => "inwales and rubbing strakes",
        Part::Breasthook => "breasthooks",
        Part::Knees => "knees",
    };
    let strips = interior.strips.len();
    for (i, piece) in pieces(interior).into_iter().enumerate() {
        let bit = |volume: f64, centre: Point, size: [f64; 3]| Bit {
            part: name(piece.part).to_owned(),
            volume,
            density: piece.wood.density,
            centre,
            size,
        };
        if let Some(strip) = interior.strips.get(i) {
            // Bent along her side: piece by piece, on both.
            let each = strip.points.len().div_ceil(PIECES).max(1);
            for run in strip.points.chunks(each) {
                let middle = run.iter().fold(Vector::zeros(), |s, p| s + p.coords) / run.len() as f64;
                let volume = piece.volume * run.len() as f64 / strip.points.len() as f64;
                let size =
                    [volume / (strip.stick.thickness * strip.stick.depth), strip.stick.thickness, strip.stick.depth];
                for side in [1.0, -1.0] {
                    bits.push(bit(volume, Point::new(middle.x, side * middle.y, middle.z), size));
                }
            }
        } else if let Some(thwart) = i.checked_sub(strips).and_then(|k| interior.thwarts.get(k)) {
            let fore_and_aft = (thwart.edges[1] - thwart.edges[0]).abs();
            let across = piece.volume / (fore_and_aft * thwart.thickness).max(f64::MIN_POSITIVE);
            bits.push(bit(piece.volume, piece.middle, [fore_and_aft, across, thwart.thickness]));
        } else if let Some(knee) = i.checked_sub(strips + interior.thwarts.len()).and_then(|k| interior.knees.get(k))
        {
            let side = knee.area.max(0.0).sqrt();
            let size = if piece.part == Part::Breasthook { [side, side, knee.thickness] } else { [side; 3] };
            let sides: &[f64] = if piece.count > 1 { &[1.0, -1.0] } else { &[0.0] };
            let middle = knee.middle();
            for y in sides {
                bits.push(bit(piece.volume, Point::new(middle.x, y * middle.y, middle.z), size));
            }
        }
    }
    bits
}

/// Keel, posts and transoms; and those of which too little is said.
pub fn backbone(backbone: &Backbone, spec: &Spec) -> (Vec<Bit>, Vec<String>) {
    let (mut bits, mut left_out) = (Vec::new(), Vec::new());
    keel(backbone, spec, &mut bits, &mut left_out);
    for post in &backbone.posts {
        match post.outline().map(|around| area_and_middle(&around)) {
            Some((area, [x, z])) => {
                let half = 0.5 * area.sqrt();
                bits.push(Bit {
                    part: post.end.to_owned(),
                    volume: area * 2.0 * post.half_siding,
                    density: spec.keel.wood.density,
                    centre: Point::new(x, 0.0, z),
                    size: [half, 2.0 * post.half_siding, 2.0 * area / half.max(f64::MIN_POSITIVE)],
                });
            }
            None => left_out.push(format!("the {0} ({0}.wood_outside and {0}.wood_inside are not given)", post.end)),
        }
    }
    for shape in &backbone.transoms {
        let end = if shape.end == "transom" { &spec.aft } else { &spec.fore };
        if let EndSpec::Transom(t) = end {
            bits.extend(transom(shape, t, &spec.keel.wood));
        }
    }
    (bits, left_out)
}

/// The keel between and below the garboards and the hog over it, piece by piece along it.
fn keel(backbone: &Backbone, spec: &Spec, bits: &mut Vec<Bit>, left_out: &mut Vec<String>) {
    let k = &spec.keel;
    // As broad as the rabbet is there, where no breadth is given.
    let mut along = |part: &str, breadth: Option<f64>, depth: f64, up: f64| {
        let each = backbone.keel.len().div_ceil(2 * PIECES).max(1);
        // Each run begins where the one before ended.
        for from in (0..backbone.keel.len().saturating_sub(1)).step_by(each) {
            let run = &backbone.keel[from..(from + each + 1).min(backbone.keel.len())];
            let (Some(first), Some(last)) = (run.first(), run.last()) else { continue };
            let length = (last.inner.x - first.inner.x).hypot(last.inner.z - first.inner.z);
            let middle = nalgebra::center(&first.inner, &last.inner);
            let breadth = breadth.unwrap_or(2.0 * middle.y);
            bits.push(Bit {
                part: part.to_owned(),
                volume: length * breadth * depth,
                density: k.wood.density,
                centre: Point::new(middle.x, 0.0, middle.z + up),
                size: [length, breadth, depth],
            });
        }
    };
    match (k.half_siding, k.wood_outside) {
        (Some(half), Some(deep)) => {
            let thick = spec.planking.thickness;
            along("keel", None, thick, -0.5 * thick);
            along("keel", Some(2.0 * half), deep, -0.5 * deep - thick);
        }
        _ => left_out.push("the keel (keel.half_siding and keel.wood_outside are not given)".to_owned()),
    }
    match (k.hog_half_breadth, k.hog_thickness) {
        (Some(half), Some(thick)) => along("hog", Some(2.0 * half), thick, 0.5 * thick),
        (Some(_), None) => left_out.push("the hog (keel.hog_thickness is not given)".to_owned()),
        _ => {}
    }
}

/// A transom: the mean of its two faces, its thickness within the outer one.
fn transom(shape: &TransomShape, t: &Transom, wood: &Wood) -> Option<Bit> {
    let face = |mut outline: Vec<[f64; 2]>| {
        let foot = outline.first()?[1];
        outline.extend(&shape.top);
        let head = outline.last()?[1];
        outline.extend([[0.0, head], [0.0, foot]]);
        Some((area_and_middle(&outline), outline.iter().map(|p| p[0]).fold(0.0, f64::max)))
    };
    let ((outer, [_, up_outer]), half) = face(shape.outline())?;
    let ((inner, [_, up_inner]), _) = face(shape.inner_outline())?;
    let middle = 0.5 * (outer + inner);
    let up = 0.5 * (up_outer + up_inner);
    let ([ux, uz], [ox, oz]) = (t.up(), t.out());
    let deep = 0.5 * shape.thickness;
    Some(Bit {
        part: shape.end.to_owned(),
        volume: 2.0 * middle * shape.thickness,
        density: wood.density,
        centre: Point::new(t.foot[0] + up * ux - deep * ox, 0.0, t.foot[1] + up * uz - deep * oz),
        size: [shape.thickness, 2.0 * half, middle / half.max(f64::MIN_POSITIVE)],
    })
}
