//! What else of her has a shape of its own, as solids: timbers, keel and hog, stem, sternpost, transoms; and the moulds.
//!
//! Sizes are those of boat.toml; what has none there is left out. Left out too: the rabbets (planks lie half in the wood of stem
//! and keel), the thinning of timbers, legs of moulds, and what goes in when she is planked.

use super::solid::{Ends, Solid, Stuff};
use crate::backbone::{PostShape, TransomShape};
use crate::geom::arc::ArcCurve;
use crate::geom::{Point, Vector};
use crate::plan::Plan;
use crate::setting_up::MouldShape;
use crate::spec::{EndSpec, Transom};
use crate::timbers::Timber;

/// The moulds, each of both halves.
#[must_use]
pub fn moulds(plan: &Plan) -> Vec<Solid> {
    let shaped = |s: &MouldShape| {
        let mould = plan.moulds.iter().find(|m| m.section == s.section)?;
        let outline = s.outline();
        let ring = |x: f64| outline.iter().map(|[y, z]| Point::new(x, *y, *z)).collect();
        Some(Solid::swept(
            format!("mould {}", s.name),
            Stuff::Mould,
            &[ring(mould.fore), ring(mould.aft)],
            Ends::Flat,
        ))
    };
    plan.setting_up.moulds.iter().filter_map(shaped).collect()
}

/// Keel, hog, stem, sternpost and transoms, as far as boat.toml gives their sizes.
#[must_use]
pub fn backbone(plan: &Plan) -> Vec<Solid> {
    let keel = &plan.spec.keel;
    let mut found = Vec::new();
    if let (Some(half), Some(deep)) = (keel.half_siding, keel.wood_outside) {
        found.extend(along_keel(plan, "keel", half, [-deep, 0.0]));
    }
    if let (Some(half), Some(thick)) = (keel.hog_half_breadth, keel.hog_thickness) {
        found.extend(along_keel(plan, "hog", half, [0.0, thick]));
    }
    found.extend(plan.backbone.posts.iter().filter_map(post));
    for shape in &plan.backbone.transoms {
        let ends = [(&plan.spec.fore, false), (&plan.spec.aft, true)];
        let named = ends.into_iter().find(|(end, aft)| end.word(*aft) == shape.end);
        if let Some((EndSpec::Transom(t), _)) = named {
            found.push(transom(shape, t));
        }
    }
    found
}

/// A piece along the keel's rabbet, `half` as broad, from under it to over it: down from the rabbet line, up from the inner
/// rabbet, mm.
fn along_keel(plan: &Plan, name: &str, half: f64, [under, over]: [f64; 2]) -> Option<Solid> {
    let rings: Vec<Vec<Point>> = (plan.backbone.keel.iter())
        .map(|r| {
            let from = if under < 0.0 { r.outer.unwrap_or(r.inner).z } else { r.inner.z };
            let (low, high) = (from + under, r.inner.z + over);
            [[half, low], [half, high], [-half, high], [-half, low]].map(|[y, z]| Point::new(r.inner.x, y, z)).into()
        })
        .collect();
    (rings.len() > 1).then(|| Solid::swept(name.to_owned(), Stuff::Backbone, &rings, Ends::Flat))
}

/// A stem or sternpost between its two faces; `None` where boat.toml does not give both.
fn post(shape: &PostShape) -> Option<Solid> {
    let outline = shape.outline()?;
    let ring = |y: f64| outline.iter().map(|[x, z]| Point::new(*x, y, *z)).collect();
    let rings = [ring(-shape.half_siding), ring(shape.half_siding)];
    Some(Solid::swept(shape.end.to_owned(), Stuff::Backbone, &rings, Ends::Flat))
}

/// Pieces across half of a transom.
const ACROSS: i32 = 12;

/// A transom between its two faces, its edge bevelled to the planks, swept across her from side to side.
fn transom(shape: &TransomShape, t: &Transom) -> Solid {
    let (outer, inner) = (shape.outline(), shape.inner_outline());
    let rings: Vec<Vec<Point>> = (-ACROSS..=ACROSS)
        .map(|k| {
            let share = f64::from(k) / f64::from(ACROSS);
            let face = |chain: &[[f64; 2]], within: f64| -> Vec<Point> {
                let half = chain.last().map_or(0.0, |p| p[0]);
                let last = chain.len().saturating_sub(1);
                let at = |(i, p): (usize, &[f64; 2])| {
                    let rise = if i == last { t.rise(half * share, half) } else { 0.0 };
                    bent(t, [p[0] * share, p[1] + rise], within)
                };
                chain.iter().enumerate().map(at).collect()
            };
            let mut ring = face(&outer, 0.0);
            ring.extend(face(&inner, shape.thickness).into_iter().rev());
            ring
        })
        .collect();
    Solid::swept(shape.end.to_owned(), Stuff::Backbone, &rings, Ends::Rungs)
}

/// Where a point of the face laid flat stands when it is bent, so far within the outer face.
fn bent(t: &Transom, [along, up]: [f64; 2], within: f64) -> Point {
    let ([ux, uz], [ox, oz]) = (t.up(), t.out());
    let (y, back) = match t.radius {
        None => (along, within),
        Some(r) => {
            let (sin, cos) = (along / r).sin_cos();
            ((r - within) * sin, r - (r - within) * cos)
        }
    };
    Point::new(t.foot[0] + up * ux - back * ox, y, t.foot[1] + up * uz - back * oz)
}

/// The timbers: from head to head, or where they are halves one of each side.
#[must_use]
pub fn timbers(plan: &Plan) -> Vec<Solid> {
    plan.timbers.iter().flat_map(|t| timber(plan, t)).collect()
}

/// Pieces along one side of a timber.
const PIECES: usize = 48;

fn timber(plan: &Plan, timber: &Timber) -> Vec<Solid> {
    let spec = &plan.spec.timbers;
    let (sin, cos) = timber.cant.sin_cos();
    let line: Vec<[f64; 2]> = timber.points.iter().map(|p| [p.y / cos, p.z]).collect();
    let Ok(curve) = ArcCurve::through(&line) else { return Vec::new() };
    let (across, half) = (Vector::new(cos, -sin, 0.0), 0.5 * spec.sided);
    let side: Vec<Vec<Point>> = (0..=PIECES)
        .map(|i| {
            let at = curve.length() * i as f64 / PIECES as f64;
            let ([u, z], [tu, tz]) = (curve.at(at), curve.tangent(at));
            let outer = Point::new(timber.x + u * sin, u * cos, z);
            let inner = outer + Vector::new(-tz * sin, -tz * cos, tu) * spec.moulded;
            vec![outer - across * half, outer + across * half, inner + across * half, inner - across * half]
        })
        .collect();
    let name = format!("timber {}", timber.n);
    if timber.pieces == 1 {
        let over = |ring: &Vec<Point>| ring.iter().map(|p| Point::new(p.x, -p.y, p.z)).collect();
        let whole: Vec<Vec<Point>> = side.iter().rev().map(over).chain(side.iter().cloned()).collect();
        return vec![Solid::swept(name, Stuff::Timber, &whole, Ends::Flat)];
    }
    let one = Solid::swept(format!("{name} starboard"), Stuff::Timber, &side, Ends::Flat);
    let other = one.mirrored(format!("{name} port"));
    vec![one, other]
}
