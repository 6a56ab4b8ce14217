//! A stem or sternpost.

use super::{PostShape, RabbetAt, rabbet_at, wood_half_siding};
use crate::geom::{Point, Vector, along, monotone, unit_or};
use crate::lines::Section;
use crate::lining::Mark;
use crate::planks::Strake;
use crate::spec::{Post, Spec};

/// The post whose rabbet is `section`, the skin's number `j`.
///
/// The planks' normals are that of the garboard's foot, which the keel's rabbet ends with, then those of the strakes at the
/// middle of their hood ends; from one to the next they turn without a jump, and over the last half strake not at all: that is
/// how a builder fairs a rabbet that he cuts for one plank after another.
pub fn shape(
    strakes: &[Strake],
    section: &Section,
    j: usize,
    marks: &[Mark],
    (post, aft): (&Post, bool),
    spec: &Spec,
) -> PostShape {
    let half_siding = wood_half_siding(post, spec);
    let points = &section.points;
    let along = along(points);
    let mut own: Vec<&Mark> = marks.iter().filter(|m| m.section == j).collect();
    own.sort_by_key(|m| m.land);
    let lands: Vec<f64> = own.iter().map(|m| m.girth).collect();
    let hoods: Vec<(f64, Vector)> = strakes
        .iter()
        .filter_map(|s| {
            let r = if aft { s.rulings.last() } else { s.rulings.first() }?;
            let middle = 0.5 * (lands.get(s.strake - 1)? + lands.get(s.strake)?);
            Some((middle, unit_or(r.normal + r.lower_normal, r.normal)))
        })
        .collect();
    let foot = strakes.first().and_then(|s| if aft { s.rulings.last() } else { s.rulings.first() });
    let known = foot.map(|r| (0.0, r.lower_normal)).into_iter().chain(hoods.clone());
    let normals = turning(known.collect(), along.last().copied().unwrap_or_default());
    let off = if aft { -Vector::x() } else { Vector::x() };
    // At a point beside or on the dense point `i`.
    let on = |p: Point, i: usize, girth: f64| -> RabbetAt {
        let last = points.len() - 1;
        let up = unit_or(points[(i + 1).min(last)] - points[i.saturating_sub(1)], Vector::z());
        rabbet_at(&p, &normal_at(&normals, girth), &up, &off, half_siding)
    };
    let at = |i: usize| on(points[i], i, along[i]);
    let nearest = |girth: f64| {
        let i = along.partition_point(|&a| a < girth).min(points.len() - 1);
        if i > 0 && girth - along[i - 1] < along[i] - girth { i - 1 } else { i }
    };
    let rabbet: Vec<RabbetAt> = (0..points.len()).map(at).collect();
    let head = post.head.zip(points.last()).map(|(over, sheer)| sheer.z + over);
    let faced = |by: f64| {
        let face = face(&rabbet, by);
        match head {
            Some(z) => to_height(face, z),
            None => face,
        }
    };
    PostShape {
        end: if aft { "sternpost" } else { "stem" },
        half_siding,
        strakes: hoods.iter().map(|h| rabbet[nearest(h.0)]).collect(),
        lands: own.iter().map(|m| on(m.at, nearest(m.girth), m.girth)).collect(),
        outer_face: post.wood_outside.map_or_else(Vec::new, |w| faced(if aft { w } else { -w })),
        inner_face: post.wood_inside.map_or_else(Vec::new, |w| faced(if aft { -w } else { w })),
        head,
        rabbet,
    }
}

/// Normals close together, through the `known` ones and to the girth `end`.
fn turning(mut known: Vec<(f64, Vector)>, end: f64) -> Vec<(f64, Vector)> {
    known.extend(known.last().filter(|last| end > last.0).map(|last| (end, last.1)));
    if known.windows(2).any(|w| w[1].0 <= w[0].0) {
        return known;
    }
    let knots: Vec<f64> = known.iter().map(|k| k.0).collect();
    let normals: Vec<[f64; 3]> = known.iter().map(|k| k.1.into()).collect();
    let between =
        |w: &[f64]| (0..PIECES).map(|p| w[0] + (w[1] - w[0]) * p as f64 / PIECES as f64).collect::<Vec<_>>();
    let girths = knots.windows(2).flat_map(between).chain(knots.last().copied());
    let dense = monotone::dense(&knots, &normals, PIECES);
    girths.zip(dense).map(|(s, n)| (s, unit_or(Vector::from(n), Vector::y()))).collect()
}

/// Pieces in which normals are followed from one strake's middle to the next.
const PIECES: usize = 16;

/// The normal at `girth`, between those at known ones.
fn normal_at(known: &[(f64, Vector)], girth: f64) -> Vector {
    let i = known.partition_point(|h| h.0 <= girth);
    match (i.checked_sub(1).and_then(|i| known.get(i)), known.get(i)) {
        (Some(a), Some(b)) => unit_or(a.1 + (b.1 - a.1) * ((girth - a.0) / (b.0 - a.0)), a.1),
        (Some(one), None) | (None, Some(one)) => one.1,
        (None, None) => Vector::y(),
    }
}

/// A face carried on straight to the height `z`, or cut off there.
fn to_height(mut face: Vec<[f64; 2]>, z: f64) -> Vec<[f64; 2]> {
    while face.len() > 2 && face[face.len() - 2][1] >= z {
        face.pop();
    }
    let [.., [x0, z0], [x1, z1]] = face[..] else { return face };
    // A stem's rabbet rises all along; where it hardly does its faces would run away.
    let rise = (z1 - z0).max(LEAST_RISE * (x1 - x0).abs()).max(f64::MIN_POSITIVE);
    if z1 >= z {
        face.pop();
    }
    let [x, from] = if z1 >= z { [x0, z0] } else { [x1, z1] };
    face.push([x + (x1 - x0) * (z - from) / rise, z]);
    face
}

/// Least rise of a face over its run where it is carried on.
const LEAST_RISE: f64 = 0.05;

/// A face in profile, `by` square off the rabbet line (or where there is none, the inner rabbet), + aft.
fn face(rabbet: &[RabbetAt], by: f64) -> Vec<[f64; 2]> {
    let line: Vec<[f64; 2]> = rabbet.iter().map(|r| r.outer.unwrap_or(r.inner)).map(|p| [p.x, p.z]).collect();
    let last = line.len().saturating_sub(1);
    (0..line.len())
        .map(|i| {
            let (a, b) = (line[i.saturating_sub(1)], line[(i + 1).min(last)]);
            let (x, z) = (b[0] - a[0], b[1] - a[1]);
            let length = x.hypot(z).max(f64::MIN_POSITIVE);
            [line[i][0] + by * z / length, line[i][1] - by * x / length]
        })
        .collect()
}
