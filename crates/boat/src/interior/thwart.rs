//! Thwarts.
//!
//! A level plank. Each end follows the face it is cut to at its top and, further in or out, at its underside: both lines are
//! given from the centreline, at its edges and between. The end is off square by ε, tan ε = (top − underside) / thickness, in
//! a plane square to the centreline: that is what a bevel set along its fore or after edge shows. Where a land's step comes
//! between the two faces the end is cut to both and eased to the step.

use super::strip::{Strip, StripKind};
use super::surface::On;
use super::{Faces, InteriorError, InteriorProblem, timber_at, trouble};
use crate::spec::{Against, Edge, Level, ThwartSpec, Wood};

/// A thwart; both its ends are alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Thwart {
    /// As they stand in boat.toml, from 1.
    pub n: usize,
    /// `interior.thwarts, item 2`.
    pub key: String,
    /// As it is said: the builder's name, or `Thwart 2`.
    pub name: String,
    /// Its fore and after edge, mm aft of the first station.
    pub edges: [f64; 2],
    /// Its top above base, mm.
    pub top: f64,
    /// mm.
    pub thickness: f64,
    /// What its ends are cut to.
    pub against: Against,
    /// Free between its ends and that, mm.
    pub clear: f64,
    /// The wood.
    pub wood: Wood,
    /// Its end from the fore edge to the after one, at even steps: as many to each quarter of its width.
    pub end: Vec<ThwartEnd>,
    /// How far its end at the top stands out from straight between its corners, mm; negative where it is hollow.
    pub round: f64,
    /// Timbers that its end is notched round.
    pub notches: Vec<Notch>,
    /// Strakes whose upper edge comes between its top and its underside at either corner.
    pub steps: Vec<usize>,
    /// Risings under it.
    pub rests: Vec<Rest>,
    /// Least board, mm.
    pub board: [f64; 2],
}

impl Thwart {
    /// Its end at the fore edge, the quarters and the after edge.
    pub fn quarters(&self) -> impl Iterator<Item = &ThwartEnd> {
        self.end.iter().step_by((self.end.len().saturating_sub(1) / 4).max(1))
    }

    /// One end of its top, or of its underside, from the fore edge to the after one, notches and all: mm aft of the first
    /// station, and from the centreline.
    #[must_use]
    pub fn outline(&self, under: bool) -> Vec<[f64; 2]> {
        let half = |e: &ThwartEnd| if under { e.under } else { e.top };
        let at = |x: f64| {
            let i = self.end.partition_point(|e| e.x < x).clamp(1, self.end.len().max(2) - 1);
            let (a, b) = (self.end.get(i - 1)?, self.end.get(i)?);
            Some(half(a) + (half(b) - half(a)) * (x - a.x) / (b.x - a.x))
        };
        let notched = |x: f64| self.notches.iter().any(|n| (n.sides[0]..=n.sides[1]).contains(&x));
        let mut points: Vec<[f64; 2]> = self.end.iter().filter(|e| !notched(e.x)).map(|e| [e.x, half(e)]).collect();
        for n in &self.notches {
            let to = n.to[usize::from(under)];
            let mut corners: Vec<[f64; 2]> = Vec::new();
            let [fore, aft] = n.sides;
            // A notch at an edge is open to it.
            corners.extend(at(fore).filter(|_| fore > self.edges[0]).map(|y| [fore, y]));
            corners.extend([[fore, to], [aft, to]]);
            corners.extend(at(aft).filter(|_| aft < self.edges[1]).map(|y| [aft, y]));
            let place = points.partition_point(|p| p[0] < fore);
            points.splice(place..place, corners);
        }
        points
    }
}

/// A thwart's end at one place of its width.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThwartEnd {
    /// mm aft of the first station.
    pub x: f64,
    /// Half its length at the top, from the centreline, mm.
    pub top: f64,
    /// The same at its underside.
    pub under: f64,
    /// Off square, radians, + where the top is the longer.
    pub bevel: f64,
    /// The end's line at the top off square on plan, radians, + where it is longer aft.
    pub plan: f64,
}

/// A notch round a timber.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Notch {
    /// Index into the plan's timbers.
    pub timber: usize,
    /// Its sides, mm aft of the first station.
    pub sides: [f64; 2],
    /// Half the thwart's length at its bottom, at the top and the underside, mm.
    pub to: [f64; 2],
}

/// How it lies on a rising.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rest {
    /// Index into the strips.
    pub rising: usize,
    /// Between the rising's top and the thwart's underside at its fore edge, its middle and its after edge, mm: negative
    /// where the rising stands above it.
    pub gaps: [f64; 3],
}

/// Pieces in which its end is followed, a whole number to each quarter of its width: on a fair face, and on the planking, whose
/// lands may cross it.
const PIECES: [usize; 2] = [8, 24];
/// Wood thinner than this beside a notch breaks off, and the notch is open to the edge, mm.
const TOOTH: f64 = 6.0;

/// The thwart of item `i`.
pub fn thwart(faces: &Faces<'_>, strips: &[Strip], i: usize, spec: &ThwartSpec) -> Result<Thwart, InteriorError> {
    let key = format!("interior.thwarts, item {}", i + 1);
    let x = faces.x(&key, &spec.place)?;
    let fore = match spec.edge {
        Edge::Fore => x,
        Edge::Middle => x - 0.5 * spec.width,
        Edge::Aft => x - spec.width,
    };
    let (aft, middle) = (fore + spec.width, fore + 0.5 * spec.width);
    for (what, x) in [("its fore edge", fore), ("its after edge", aft)] {
        faces.sheer_at(&key, what, x)?;
    }
    let sheer = faces.sheer_at(&key, "its middle", middle)?.z;
    let top = match spec.level {
        Some(Level::Height(z)) => z,
        Some(Level::BelowSheer(down)) => sheer - down,
        None => {
            let under = strips.iter().find_map(|s| height_at(s, middle));
            under.ok_or_else(|| trouble(&key, InteriorProblem::NoRising { x: middle }))? + spec.thickness
        }
    };
    let under = top - spec.thickness;
    let half = |x: f64| -> Result<[On; 2], InteriorError> {
        let [a, b] = faces.at_heights(spec.against, x, [top, under]);
        let ok = |on: Option<On>, what, z| match on {
            Some(on)
                if on.at.y > spec.clear + super::SAME
                    && faces.within(&on)
                    && faces.sheer.at(x).is_some_and(|s| z <= s.z + super::SAME) =>
            {
                Ok(on)
            }
            _ => Err(faces.off(&key, what, spec.against, x, z)),
        };
        Ok([ok(a, "its top", top)?, ok(b, "its underside", under)?])
    };
    let pieces = PIECES[usize::from(spec.against == Against::Planking)];
    let mut end = Vec::with_capacity(pieces + 1);
    for p in 0..=pieces {
        let x = fore + spec.width * p as f64 / pieces as f64;
        let faced = half(x)?;
        let [a, b] = faced.map(|on| on.at.y - spec.clear);
        // Along the face at one height y changes by -Nx / Ny for each mm aft.
        let n = faced[0].normal;
        end.push(ThwartEnd {
            x,
            top: a,
            under: b,
            bevel: ((a - b) / spec.thickness).atan(),
            plan: (-n.x).atan2(n.y),
        });
    }
    let longest = end.iter().map(|e| e.top.max(e.under)).fold(0.0, f64::max);
    let (a, b, m) = (end[0].top, end[pieces].top, end[pieces / 2].top);
    let rests = strips.iter().enumerate().filter_map(|(rising, s)| {
        let gaps = [fore, middle, aft].map(|x| height_at(s, x).map(|z| under - z));
        let [Some(a), Some(b), Some(c)] = gaps else { return None };
        Some(Rest { rising, gaps: [a, b, c] })
    });
    let steps = (faces.ask.strakes.iter().filter(|_| spec.against == Against::Planking))
        .filter(|s| {
            let between = |x: f64| {
                let pieces = faces.planking.section(x);
                pieces.iter().any(|p| p.face && p.strake == s.strake && (under..top).contains(&p.upper[1]))
            };
            s.strake < faces.ask.strakes.len() && (between(fore) || between(aft))
        })
        .map(|s| s.strake)
        .collect();
    let name = if spec.name.is_empty() { format!("Thwart {}", i + 1) } else { spec.name.clone() };
    Ok(Thwart {
        n: i + 1,
        name,
        edges: [fore, aft],
        top,
        thickness: spec.thickness,
        against: spec.against,
        clear: spec.clear,
        wood: spec.wood.clone(),
        // Its chord's middle is where the round is greatest, or near it.
        round: m - 0.5 * (a + b),
        notches: if spec.against == Against::Planking {
            notches(faces, spec, [fore, aft], [top, under])
        } else {
            Vec::new()
        },
        steps,
        rests: rests.collect(),
        board: [2.0 * longest, spec.width],
        end,
        key,
    })
}

/// Height of a rising's top at `x`; `None` past its ends and for any other strip.
pub fn height_at(strip: &Strip, x: f64) -> Option<f64> {
    if strip.kind != StripKind::Rising {
        return None;
    }
    let w = strip.points.windows(2).find(|w| w[0].x <= x + super::SAME && x <= w[1].x + super::SAME)?;
    let share = ((x - w[0].x) / (w[1].x - w[0].x).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
    Some(w[0].z + share * (w[1].z - w[0].z))
}

/// The timbers whose siding comes within its edges.
fn notches(faces: &Faces<'_>, spec: &ThwartSpec, [fore, aft]: [f64; 2], heights: [f64; 2]) -> Vec<Notch> {
    let half = 0.5 * faces.ask.spec.timbers.sided;
    let timbers = faces.ask.timbers.iter().enumerate().filter_map(|(timber, t)| {
        let half = half / t.cant.cos();
        let x = timber_at(t, heights[0])?;
        if x + half <= fore || x - half >= aft {
            return None;
        }
        let [a, b] = faces.at_heights(Against::Timbers, x, heights);
        let to = [a?.at.y - spec.clear, b?.at.y - spec.clear];
        let open = |side: f64| {
            if side < fore + TOOTH {
                fore
            } else if side > aft - TOOTH {
                aft
            } else {
                side
            }
        };
        Some(Notch { timber, sides: [open(x - half), open(x + half)], to })
    });
    timbers.collect()
}
