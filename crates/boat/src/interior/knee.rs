//! Breasthooks and knees.
//!
//! Each is flat, and is drawn in its own plane: a breasthook's goes through its nose and its arms' ends at the sheer, a quarter
//! knee's along the sheer from the corner, a thwart knee's is square to the centreline. Its edges follow the faces it lies
//! against; with m the plane's normal and N a face's, the edge is off square by ε, sin ε = m·N, + where the other side of the
//! wood is the larger ([`crate::backbone::edge_bevel`]). The faces meet at the angle between their traces in the plane, N × m.

use super::edges::{Marched, ROUNDS, STEPS, between, in_plane, inner_face, march, plane};
use super::outline::{self, NoOutline, cut_at, gap};
use super::{Faces, InteriorError, InteriorProblem, Thwart, trouble};
use crate::backbone::edge_bevel;
use crate::geom::{Point, Vector, area_and_middle, sagitta};
use crate::spec::{Against, BreasthookSpec, EndSpec, Grown, KneeAt, KneeSpec, Wood};

/// A breasthook, or a pair of knees.
#[derive(Debug, Clone, PartialEq)]
pub struct Knee {
    /// What it joins.
    pub kind: KneeKind,
    /// `interior.knees, item 2`.
    pub key: String,
    /// As it is said: `Breasthook`, `Quarter knees`.
    pub name: String,
    /// To make: 1 of a breasthook, a pair of knees.
    pub pieces: u32,
    /// mm.
    pub thickness: f64,
    /// The wood.
    pub wood: Wood,
    /// What its arms along her sides lie against.
    pub against: Against,
    /// Its corner, or the middle of a breasthook's nose, in the boat.
    pub corner: Point,
    /// Its plane off level along the boat, radians, + where it rises aft; of a thwart knee 0: it stands plumb, athwartships.
    pub pitch: f64,
    /// Between the faces where they meet, radians.
    pub angle: f64,
    /// In its plane, closed. A breasthook's: along the centreline from its nose, and off it. A knee's: inboard from the corner,
    /// and along her side into the boat, or up. mm.
    pub outline: Vec<[f64; 2]>,
    /// The inner edge, from the side arm's tip to the other's.
    pub inner: Vec<[f64; 2]>,
    /// The side arm, then the other: a breasthook's are alike.
    pub arms: [Arm; 2],
    /// Width of an arm at its end, mm.
    pub tip: f64,
    /// From the corner to the inner edge, mm.
    pub throat: f64,
    /// Where the inner edge is measured to.
    pub hollow: [f64; 2],
    /// How far the sheer stands over its plane between nose and tips at most, mm; of a breasthook.
    pub under_sheer: f64,
    /// Width of a breasthook's nose, mm; 0 of a knee.
    pub nose: f64,
    /// How far along the boat a breasthook's arms reach, mm aft of the first station; of a knee its corner's place.
    pub reach: f64,
    /// Least board, mm.
    pub board: [f64; 2],
    /// Of its outline, mm².
    pub area: f64,
}

impl Knee {
    /// A point of its plane as it is drawn: a breasthook and quarter knees from above with the bow up, the port one of these;
    /// a knee on a thwart the port one, looking forward.
    #[must_use]
    pub fn seen(&self, [a, b]: [f64; 2]) -> [f64; 2] {
        match self.kind {
            KneeKind::Breasthook { aft } => [b, if aft { a } else { -a }],
            KneeKind::Quarter { aft } => [a, if aft { b } else { -b }],
            KneeKind::Thwart { .. } => [a, b],
        }
    }

    /// The same in the boat, to starboard.
    #[must_use]
    pub fn in_boat(&self, [a, b]: [f64; 2]) -> Point {
        let (rise, run) = self.pitch.sin_cos();
        let into = |aft: bool, along: f64| if aft { -along } else { along };
        let c = &self.corner;
        match self.kind {
            KneeKind::Breasthook { aft } => Point::new(c.x + into(aft, a) * run, c.y + b, c.z + into(aft, a) * rise),
            KneeKind::Quarter { aft } => Point::new(c.x + into(aft, b) * run, c.y - a, c.z + into(aft, b) * rise),
            KneeKind::Thwart { .. } => Point::new(c.x, c.y - a, c.z + b),
        }
    }

    /// The middle of its outline, in the boat, to starboard.
    #[must_use]
    pub fn middle(&self) -> Point {
        self.in_boat(area_and_middle(&self.outline).1)
    }
}

/// What a knee joins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KneeKind {
    /// Her two sides.
    Breasthook {
        /// At the stern.
        aft: bool,
    },
    /// A side to a transom.
    Quarter {
        /// The after one.
        aft: bool,
    },
    /// A thwart to her side.
    Thwart {
        /// Number of the thwart.
        n: usize,
    },
}

/// An arm.
#[derive(Debug, Clone, PartialEq)]
pub struct Arm {
    /// What it lies against.
    pub on: FaceOf,
    /// Its outer edge in the plane, from the corner.
    pub edge: Vec<[f64; 2]>,
    /// Along that, mm.
    pub length: f64,
    /// Its edge off square at the corner and at the tip, radians: + where the other side is the larger.
    pub bevels: [f64; 2],
    /// How far its edge stands off straight, mm.
    pub round: f64,
}

/// What an arm lies against.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FaceOf {
    /// Her side.
    Side,
    /// A transom's inner face.
    Transom,
    /// A thwart's top.
    Thwart,
}

/// The breasthook of item `i`.
pub fn breasthook(faces: &Faces<'_>, i: usize, spec: &BreasthookSpec) -> Result<Knee, InteriorError> {
    let key = format!("interior.breasthooks, item {}", i + 1);
    let g = &spec.grown;
    inwale_there(faces, &key, g)?;
    let nose = faces.nose(&key, g.against, spec.aft)?;
    let way = if spec.aft { -1.0 } else { 1.0 };
    let [fore, aft] = faces.sheer.ends();
    let middle = 0.5 * (fore + aft);
    let mut slope = 0.0;
    let mut arm = Marched::default();
    for _ in 0..ROUNDS {
        arm = march(faces, &key, g.against, &nose.at, slope, way, g.arms[0], ("arm", (middle - nose.at.x).abs()))?;
        let tip = arm.last_x;
        let rise = faces.sheer_at(&key, "the end of its arms", tip)?.z - nose.at.z;
        slope = rise / (tip - nose.at.x);
    }
    let m = plane(slope);
    let h = nose.at.y;
    let edge: Vec<[f64; 2]> = arm.edge.iter().map(|p| [p[0], h + p[1]]).collect();
    let other: Vec<[f64; 2]> = edge.iter().map(|p| [p[0], -p[1]]).collect();
    let inner = outline::inner(&edge, &other, g.tip, ([0.0, 0.0], [1.0, 0.0]), g.throat)
        .map_err(|why| no_outline(&key, g, why))?;
    let trace = in_plane(&nose.normal.cross(&m), slope, way);
    let over = |i: usize| {
        let x = nose.at.x + (arm.last_x - nose.at.x) * i as f64 / STEPS as f64;
        faces.sheer.at(x).map_or(0.0, |s| s.z - (nose.at.z + slope * (x - nose.at.x)))
    };
    let under_sheer = (0..=STEPS).map(over).max_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or(0.0);
    let bevels = [edge_bevel(&m, &nose.normal), edge_bevel(&m, &arm.normal)];
    let side = |edge: Vec<[f64; 2]>| Arm::new(FaceOf::Side, edge, bevels);
    let named = if spec.aft { "After breasthook" } else { "Breasthook" };
    Ok(Knee {
        kind: KneeKind::Breasthook { aft: spec.aft },
        name: named.to_owned(),
        pieces: 1,
        corner: Point::new(nose.at.x, 0.0, nose.at.z),
        pitch: slope.atan(),
        angle: 2.0 * trace[1].abs().atan2(trace[0].abs()),
        hollow: [g.throat, 0.0],
        under_sheer,
        nose: 2.0 * h,
        reach: arm.last_x,
        ..shaped(key, g, [side(edge), side(other)], inner)
    })
}

/// The pair of knees of item `i`.
pub fn knee(faces: &Faces<'_>, thwarts: &[Thwart], i: usize, spec: &KneeSpec) -> Result<Knee, InteriorError> {
    let key = format!("interior.knees, item {}", i + 1);
    inwale_there(faces, &key, &spec.grown)?;
    match spec.at {
        KneeAt::Quarter { aft } => quarter(faces, key, &spec.grown, aft),
        KneeAt::Thwart { thwart, aft } => {
            let asked = faces.ask.spec.interior.thwarts.len();
            let none = || match thwart {
                n if (1..=asked).contains(&n) => InteriorProblem::ThwartLeftOut { thwart },
                _ => InteriorProblem::NoThwart { thwart, thwarts: asked },
            };
            let on = thwarts.iter().find(|t| t.n == thwart).ok_or_else(|| trouble(&key, none()))?;
            on_thwart(faces, key, &spec.grown, on, aft)
        }
    }
}

fn quarter(faces: &Faces<'_>, key: String, g: &Grown, aft: bool) -> Result<Knee, InteriorError> {
    let end = if aft { &faces.ask.spec.aft } else { &faces.ask.spec.fore };
    let EndSpec::Transom(t) = end else {
        let wanted = if aft { "transom" } else { "bow transom" };
        return Err(trouble(&key, InteriorProblem::NoEnd { wanted, has: end.word(aft) }));
    };
    let corner = faces.corner(&key, g.against, t)?;
    let slope = faces.sheer.slope(corner.at.x).unwrap_or(0.0);
    let way = if aft { -1.0 } else { 1.0 };
    let m = plane(slope);
    let [fore, after] = faces.sheer.ends();
    let middle = (0.5 * (fore + after) - corner.at.x).abs();
    let side = march(faces, &key, g.against, &corner.at, slope, way, g.arms[0], ("side_arm", middle))?;
    // Inboard from the corner, where it narrows towards the middle of the boat.
    let side_edge: Vec<[f64; 2]> = side.edge.iter().map(|p| [-p[1], p[0]]).collect();
    let per_x = way * slope.hypot(1.0);
    let on_transom = |y: f64| {
        let mut x = corner.at.x;
        for _ in 0..3 * ROUNDS {
            x = inner_face(t, y, corner.at.z + slope * (x - corner.at.x));
        }
        [corner.at.y - y, (x - corner.at.x) * per_x]
    };
    let steps = if t.radius.is_some() { 4 * STEPS } else { 1 };
    let across: Vec<[f64; 2]> =
        (0..=steps).map(|i| on_transom(corner.at.y * (1.0 - i as f64 / steps as f64))).collect();
    let room = outline::long(&across);
    let too_long =
        || InteriorProblem::Arm { arm: "transom_arm", length: g.arms[1], room, of: "the middle of the transom" };
    let across = cut_at(&across, g.arms[1]).ok_or_else(|| trouble(&key, too_long()))?;
    let tip_y = corner.at.y - across.last().map_or(0.0, |p| p[0]);
    let faced = |y: f64| Vector::from(t.normal(y));
    let traces = [corner.normal, faced(corner.at.y)].map(|n| n.cross(&m));
    let bevels = [edge_bevel(&m, &corner.normal), edge_bevel(&m, &side.normal)];
    let others = [corner.at.y, tip_y].map(|y| edge_bevel(&m, &faced(y)));
    let into = Vector::new(way, 0.0, way * slope);
    let angle = between(&traces[0], &into, &traces[1], &-Vector::y());
    let arms = [Arm::new(FaceOf::Side, side_edge, bevels), Arm::new(FaceOf::Transom, across, others)];
    let (name, kind) = (if aft { "Quarter knees" } else { "Bow quarter knees" }, KneeKind::Quarter { aft });
    bent(key, g, arms, angle).map(|k| Knee {
        kind,
        name: name.to_owned(),
        corner: corner.at,
        pitch: slope.atan(),
        reach: corner.at.x,
        ..k
    })
}

fn on_thwart(faces: &Faces<'_>, key: String, g: &Grown, on: &Thwart, aft: f64) -> Result<Knee, InteriorError> {
    let x = 0.5 * (on.edges[0] + on.edges[1]) + aft;
    if !(on.edges[0]..=on.edges[1]).contains(&x) {
        let [fore, after] = on.edges;
        return Err(trouble(&key, InteriorProblem::OffTheBoat { what: "it, off its thwart,", x, fore, aft: after }));
    }
    let foot = faces.must(&key, "its foot", g.against, x, on.top)?;
    let sheer = faces.sheer_at(&key, "it", x)?.z;
    let at = |y: f64, z: f64| [foot.at.y - y, z - on.top];
    // Up the side, to the sheer.
    let mut normal_at: Vec<(f64, Vector)> = Vec::new();
    let mut up = vec![[0.0, 0.0]];
    if g.against == Against::Planking {
        for p in faces.planking.section(x).iter().filter(|p| p.upper[1] > on.top + super::SAME) {
            if p.lower[1] > on.top + super::SAME {
                up.push(at(p.lower[0], p.lower[1]));
            }
            up.push(at(p.upper[0], p.upper[1]));
            normal_at.push((p.upper[1], p.normal));
        }
    } else {
        let zs: [f64; 2 * STEPS] =
            std::array::from_fn(|i| on.top + (sheer - on.top) * (i + 1) as f64 / (2 * STEPS) as f64);
        for on in faces.at_heights(g.against, x, zs).into_iter().flatten() {
            up.push(at(on.at.y, on.at.z));
            normal_at.push((on.at.z, on.normal));
        }
    }
    let room = outline::long(&up);
    let too_long =
        || InteriorProblem::Arm { arm: "side_arm", length: g.arms[0], room, of: "the sheer over its thwart" };
    let up = cut_at(&up, g.arms[0]).ok_or_else(|| trouble(&key, too_long()))?;
    let top = on.top + up.last().map_or(0.0, |p| p[1]);
    let tip = normal_at.iter().find(|n| n.0 >= top - super::SAME).or(normal_at.last()).map_or(foot.normal, |n| n.1);
    if g.arms[1] > foot.at.y {
        let problem = InteriorProblem::Arm {
            arm: "thwart_arm",
            length: g.arms[1],
            room: foot.at.y,
            of: "the middle of the thwart",
        };
        return Err(trouble(&key, problem));
    }
    let m = Vector::x();
    let bevels = [foot.normal, tip].map(|n| edge_bevel(&m, &n));
    let along = vec![[0.0, 0.0], [g.arms[1], 0.0]];
    let angle = between(&foot.normal.cross(&m), &Vector::z(), &-Vector::y(), &-Vector::y());
    let arms = [Arm::new(FaceOf::Side, up, bevels), Arm::new(FaceOf::Thwart, along, [0.0; 2])];
    bent(key, g, arms, angle).map(|k| Knee {
        kind: KneeKind::Thwart { n: on.n },
        name: format!("Knees on {}", lower(&on.name)),
        corner: foot.at,
        reach: x,
        ..k
    })
}

/// `Thwart 2` within a sentence; a builder's own name stays as it is.
fn lower(name: &str) -> String {
    name.strip_prefix("Thwart ").map_or_else(|| name.to_owned(), |n| format!("thwart {n}"))
}

/// A knee whose edges meet at the corner, its throat measured half-way between them.
fn bent(key: String, g: &Grown, arms: [Arm; 2], angle: f64) -> Result<Knee, InteriorError> {
    let way = |edge: &[[f64; 2]]| {
        let p = edge.iter().find(|p| gap(**p, [0.0, 0.0]) > super::SAME).copied().unwrap_or([1.0, 0.0]);
        let long = p[0].hypot(p[1]);
        [p[0] / long, p[1] / long]
    };
    let (a, b) = (way(&arms[0].edge), way(&arms[1].edge));
    let (u, v) = (a[0] + b[0], a[1] + b[1]);
    let long = u.hypot(v).max(f64::MIN_POSITIVE);
    let half = [u / long, v / long];
    let inner = outline::inner(&arms[0].edge, &arms[1].edge, g.tip, ([0.0, 0.0], half), g.throat)
        .map_err(|why| no_outline(&key, g, why))?;
    let hollow = half.map(|h| h * g.throat);
    Ok(Knee { pieces: 2, angle, hollow, ..shaped(key, g, arms, inner) })
}

/// What every one has.
fn shaped(key: String, g: &Grown, arms: [Arm; 2], inner: Vec<[f64; 2]>) -> Knee {
    let outline = outline::closed(&arms[0].edge, &arms[1].edge, &inner);
    let range = |i: usize| {
        let of = outline.iter().map(|p| p[i]);
        of.clone().fold(f64::MIN, f64::max) - of.fold(f64::MAX, f64::min)
    };
    let (a, b) = (range(0), range(1));
    Knee {
        kind: KneeKind::Breasthook { aft: false },
        name: String::new(),
        key,
        pieces: 1,
        thickness: g.thickness,
        wood: g.wood.clone(),
        against: g.against,
        corner: Point::origin(),
        pitch: 0.0,
        angle: 0.0,
        area: area_and_middle(&outline).0,
        outline,
        inner,
        arms,
        tip: g.tip,
        throat: g.throat,
        hollow: [0.0; 2],
        under_sheer: 0.0,
        nose: 0.0,
        reach: 0.0,
        board: [a.max(b), a.min(b)],
    }
}

impl Arm {
    fn new(on: FaceOf, edge: Vec<[f64; 2]>, bevels: [f64; 2]) -> Self {
        Arm { on, length: outline::long(&edge), round: sagitta(&edge), edge, bevels }
    }

    /// Its edge on the other side of the wood, `thickness` away, mm: moved square to itself by its bevel, which changes
    /// evenly along it. Away from `inside`, a point within the knee, where the other side is the larger.
    #[must_use]
    pub fn other_side(&self, thickness: f64, inside: [f64; 2]) -> Vec<[f64; 2]> {
        let n = self.edge.len();
        let whole = self.length.max(f64::MIN_POSITIVE);
        let mut along = 0.0;
        let mut moved = Vec::with_capacity(n);
        for (i, p) in self.edge.iter().enumerate() {
            along += if i > 0 { gap(*p, self.edge[i - 1]) } else { 0.0 };
            let (a, b) = (self.edge[i.saturating_sub(1)], self.edge[(i + 1).min(n - 1)]);
            let long = gap(a, b).max(f64::MIN_POSITIVE);
            let square = [-(b[1] - a[1]) / long, (b[0] - a[0]) / long];
            let inward = square[0] * (inside[0] - p[0]) + square[1] * (inside[1] - p[1]);
            let bevel = self.bevels[0] + (self.bevels[1] - self.bevels[0]) * along / whole;
            let by = -inward.signum() * thickness * bevel.tan();
            moved.push([p[0] + by * square[0], p[1] + by * square[1]]);
        }
        moved
    }
}

fn inwale_there(faces: &Faces<'_>, key: &str, g: &Grown) -> Result<(), InteriorError> {
    if g.against == Against::Inwale && faces.inwale.is_none() {
        return Err(trouble(key, InteriorProblem::NoInwale));
    }
    Ok(())
}

fn no_outline(key: &str, g: &Grown, why: NoOutline) -> InteriorError {
    let problem = match why {
        NoOutline::Shallow(least) => InteriorProblem::Throat { throat: g.throat, least },
        NoOutline::Deep(most) => InteriorProblem::ThroatDeep { throat: g.throat, most },
        NoOutline::Nothing => InteriorProblem::NoRoom { tip: g.tip },
    };
    trouble(key, problem)
}
