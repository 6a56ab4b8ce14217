//! Hulls of which every strake is known, through the whole program: their tables of offsets and pinned marks are written
//! out as texts, read and planned, and the plan is held to the closed forms of `docs/closed-forms.md`.
//!
//! To [`NEAR`] mm and [`NEAR_DEG`] degrees, which is what the curves through a table leave; a tub's chords to [`CHORDS`], for her sides
//! are steep at her ends.

use crate::measure::apart;
use boat::folder::{BoatTexts, read};
use boat::plan::{Plan, plan};
use boat::planks::{Strake, StrakeAt};
use std::f64::consts::FRAC_PI_2;

const T: f64 = 9.0;
const W: f64 = 19.0;
const NEAR: f64 = 0.0016;
const NEAR_DEG: f64 = 0.0005;
const CHORDS: f64 = 0.02;

/// A hull between two plumb transoms, by its sections.
struct Hull<'a> {
    /// Positions of fore transom, stations and after transom.
    x: Vec<f64>,
    strakes: usize,
    /// Half-breadth and height of the skin at x and a parameter from 0 (rabbet) to 1 (sheer).
    at: &'a dyn Fn(f64, f64) -> [f64; 2],
    /// Parameter of a land.
    land: &'a dyn Fn(usize) -> f64,
    /// Rows of the table besides rabbet and sheer: a name and what it reads at x.
    rows: Vec<Row>,
    /// Further lines of boat.toml under `[lines]`.
    diagonals: String,
}

impl Hull<'_> {
    /// Distance along the section at `x` from the rabbet to the parameter `to`.
    fn girth(&self, x: f64, to: f64) -> f64 {
        let n = 20_000;
        let point = |i: i32| (self.at)(x, to * f64::from(i) / f64::from(n));
        (0..n).map(|i| (point(i + 1)[0] - point(i)[0]).hypot(point(i + 1)[1] - point(i)[1])).sum()
    }

    fn texts(&self) -> BoatTexts {
        let (fore, aft) = (self.x[0], self.x[self.x.len() - 1]);
        let transom = |x: f64| {
            let [[_, low], [_, high]] = [(self.at)(x, 0.0), (self.at)(x, 1.0)];
            format!("foot = [{x}, {low:.9}]\nhead = [{x}, {high:.9}]\n")
        };
        let toml = format!(
            "strakewise = 1\nname = \"Tub\"\nlengths = \"mm\"\n[lines]\ndrawn_to = \"inside of plank\"\nfair_within = \
             0\nkeel_half_siding = 1\n{}[bow_transom]\n{}[transom]\n{}[planking]\nthickness = {T}\nlap = {W}\nstrakes = \
             {}\nwidest = 500\nedge_floor = 0\ntransom_ends = \"plain\"\n[timbers]\nmoulded = 10\n[fastenings]\nnail_lengths \
             = [16, 18, 20, 22, 25, 28, 32, 35, 40]\n",
            self.diagonals,
            transom(fore),
            transom(aft),
            self.strakes
        );
        let names: Vec<String> = (0..self.x.len())
            .map(|i| match i {
                0 => "bow transom".to_owned(),
                i if i + 1 == self.x.len() => "transom".to_owned(),
                i => i.to_string(),
            })
            .collect();
        let inside = &self.x[1..self.x.len() - 1];
        let at: Vec<String> = inside.iter().map(f64::to_string).collect();
        let mut offsets = format!("row,{}\nat,,{},\n", names.join(","), at.join(","));
        let mut row = |name: &str, value: &dyn Fn(f64) -> f64| {
            let cells: Vec<String> = self.x.iter().map(|&x| format!("{:.9}", value(x))).collect();
            offsets.push_str(&format!("{name},{}\n", cells.join(",")));
        };
        for (name, of) in [("rabbet", 0.0), ("sheer", 1.0)] {
            row(&format!("height {name}"), &|x| (self.at)(x, of)[1]);
            row(&format!("half-breadth {name}"), &|x| (self.at)(x, of)[0]);
        }
        for (name, value) in &self.rows {
            row(name, value);
        }
        let mut marks = "land,station,girth_mm\n".to_owned();
        for land in 1..self.strakes {
            for (name, &x) in names.iter().zip(&self.x) {
                marks.push_str(&format!("{land},{name},{:.9}\n", self.girth(x, (self.land)(land))));
            }
        }
        BoatTexts { toml, offsets, marks: Some(marks), ..BoatTexts::default() }
    }

    fn plan(&self) -> Plan {
        let input = read(&self.texts()).unwrap_or_else(|why| panic!("{why}"));
        plan(&input).unwrap_or_else(|why| panic!("{why}"))
    }
}

/// What every land of a hull comes to once the garboard's start has died: its bevel, and the width of the strake on it.
struct Steady {
    bevel: f64,
    width: f64,
}

/// Strakes from the keel on which the garboard's start is still felt: it dies to a sixth or less on each.
const START: usize = 7;

/// The plan's strakes, bevels and rivets above the start, and what lies on the page beside them.
fn holds(plan: &Plan, steady: &Steady) {
    let Steady { bevel, width } = *steady;
    let n = plan.strakes.len();
    assert!(n > START + 1);
    let mut off = [0.0_f64; 8];
    let mut say = |i: usize, found: f64, wanted: f64| off[i] = off[i].max((found - wanted).abs());
    for k in START..n {
        let [below, s] = [k - 1, k].map(|k| &plan.strakes[k]);
        for (a, b) in below.at.iter().zip(&s.at) {
            say(0, a.bevel.unwrap().to_degrees(), bevel.to_degrees());
            say(1, b.width, width);
            if k + 1 < n {
                say(2, b.shows, width - W);
            }
            say(3, shows_inside(below, a, s, b), width - W / bevel.cos());
        }
    }
    for b in plan.bevels.iter().filter(|b| b.land >= START) {
        say(0, b.bevel.to_degrees(), bevel.to_degrees());
        say(4, b.off, W * bevel.tan().abs());
        say(4, b.edge_left, T - W * bevel.tan().max(0.0));
    }
    let grip = (2.0 * T - 0.5 * W * bevel.abs().tan()) / (0.5 * bevel).cos();
    let [drilled, square] = [(0.5 * bevel).tan(), bevel.tan()].map(|tan| W / (2.0 * bevel.cos()) - T * tan);
    for r in plan.rivets.iter().filter(|r| r.land >= START) {
        let grip = grip + if r.timber.is_some() { 10.0 } else { 0.0 };
        say(5, r.grip, grip);
        say(6, r.head_edge, drilled);
        say(7, r.head_edge_square, square);
        let nail = [16.0, 18.0, 20.0, 22.0, 25.0, 28.0, 32.0, 35.0, 40.0].into_iter().find(|l| *l >= grip + 2.5);
        assert_eq!(r.nail, nail);
    }
    let what =
        ["bevel °", "width", "shows", "shows inside", "off and left", "grip", "head to edge", "the same, square"];
    for (what, off) in what.iter().zip(off) {
        println!("{what}: {off:.5} off at most");
        assert!(off <= if what.contains('°') { NEAR_DEG } else { NEAR }, "{what}: {off} off");
    }
}

/// What is seen of strake k + 1 from inside: from the planed top corner of the strake below to its own upper inner edge,
/// square to the land.
fn shows_inside(below: &Strake, a: &StrakeAt, s: &Strake, b: &StrakeAt) -> f64 {
    let lap = a.lap.unwrap();
    let corners: Vec<_> = (below.rulings.iter())
        .map(|r| r.upper + r.normal * (r.step - lap * r.bevel.unwrap().tan().max(0.0)))
        .collect();
    let from = s.rulings[b.ruling].upper;
    // Beyond its ends the edge goes straight on.
    let last = corners.len() - 2;
    let off = |(i, w): (usize, &[boat::geom::Point])| {
        let (run, to) = (w[1] - w[0], from - w[0]);
        let least = if i == 0 { f64::MIN } else { 0.0 };
        let most = if i == last { f64::MAX } else { 1.0 };
        (to - run * (to.dot(&run) / run.norm_squared()).clamp(least, most)).norm()
    };
    corners.windows(2).enumerate().map(off).fold(f64::MAX, f64::min)
}

fn evenly(from: f64, to: f64, n: usize) -> Vec<f64> {
    (0..=n).map(|i| from + (to - from) * i as f64 / n as f64).collect()
}

/// Diagonals from the axis at height `axis`, so many between two angles from plumb, radians: their `[lines.diagonals]`,
/// and their rows, each reading `radius(x)`.
fn spokes(axis: f64, from: f64, to: f64, n: usize, radius: fn(f64) -> f64) -> Rows {
    let mut toml = String::new();
    let mut rows: Vec<Row> = Vec::new();
    for i in 1..n {
        let turn = from + (to - from) * i as f64 / n as f64;
        let below = (FRAC_PI_2 - turn).to_degrees();
        toml.push_str(&format!("[lines.diagonals.D{i}]\nheight = {axis}\nbelow_level = {below:.12}\n"));
        rows.push((format!("diagonal D{i}"), Box::new(radius)));
    }
    (toml, rows)
}

/// A row's name, and what it reads at x.
type Row = (String, Box<dyn Fn(f64) -> f64>);
type Rows = (String, Vec<Row>);

/// Trough of circular section: every bevel is D, every plank a rectangle.
#[test]
fn trough_of_circular_section() {
    const R: f64 = 700.0;
    let (from, d, n) = (4.0_f64.to_radians(), 8.0_f64.to_radians(), 10);
    let to = from + d * n as f64;
    let (diagonals, rows) = spokes(1000.0, from, to, 36, |_| R);
    let turn = move |s: f64| from + (to - from) * s;
    let hull = Hull {
        x: evenly(0.0, 2400.0, 8).iter().map(|x| x - 300.0).collect(),
        strakes: n,
        at: &move |_, s| [R * turn(s).sin(), 1000.0 - R * turn(s).cos()],
        land: &|k| k as f64 / n as f64,
        rows,
        diagonals,
    };
    let plan = hull.plan();
    let c = 2.0 * R * (0.5 * d).sin();
    let a = W * d.sin() - T * d.cos();
    let width = (c * c - a * a).sqrt() + T * d.sin() + W * d.cos();
    holds(&plan, &Steady { bevel: d, width });
    for flat in &plan.flats[START..] {
        assert!((flat.length - 2400.0).abs() < NEAR && (flat.board_width - width).abs() < NEAR, "{}", flat.length);
        for (l, u) in flat.lower.iter().zip(&flat.upper) {
            assert!(l[1].abs() < NEAR && (u[1] - width).abs() < NEAR && (l[0] - u[0]).abs() < NEAR, "{l:?} {u:?}");
        }
    }
}

/// Plumb walls: no bevel, grip twice the thickness, rectangles.
#[test]
fn wall_sided_box() {
    let n = 10;
    let levels: Vec<f64> = (1..10).map(|i| 100.0 + 100.0 * f64::from(i)).collect();
    let hull = Hull {
        x: evenly(-300.0, 2100.0, 8),
        strakes: n,
        at: &|_, s| [400.0, 100.0 + 1000.0 * s],
        land: &|k| k as f64 / n as f64,
        rows: levels
            .iter()
            .map(|z| (format!("half-breadth waterline {z}"), Box::new(|_| 400.0) as Box<dyn Fn(f64) -> f64>))
            .collect(),
        diagonals: String::new(),
    };
    let plan = hull.plan();
    let width = (100.0_f64.powi(2) - T * T).sqrt() + W;
    holds(&plan, &Steady { bevel: 0.0, width });
    for flat in &plan.flats[START..] {
        for (l, u) in flat.lower.iter().zip(&flat.upper) {
            assert!(l[1].abs() < NEAR && (u[1] - width).abs() < NEAR && (l[0] - u[0]).abs() < NEAR);
        }
    }
}

/// Flat walls that open by p on plan and flare by f, level lands: Δz apart, they are Δz √(1 + f²/(1 + p²)) apart square to
/// the land, and Δx √(1 + p²) long.
#[test]
fn wedge() {
    let (p, f, n) = (0.15, 0.35, 10);
    let y = move |x: f64, z: f64| 250.0 + p * x + f * (z - 100.0);
    let levels: Vec<f64> = (1..10).map(|i| 100.0 + 90.0 * f64::from(i)).collect();
    let row = |z: f64| Box::new(move |x| y(x, z)) as Box<dyn Fn(f64) -> f64>;
    let hull = Hull {
        x: evenly(-300.0, 2100.0, 8),
        strakes: n,
        at: &move |x, s| [y(x, 100.0 + 900.0 * s), 100.0 + 900.0 * s],
        land: &|k| k as f64 / n as f64,
        rows: levels.iter().map(|&z| (format!("half-breadth waterline {z}"), row(z))).collect(),
        diagonals: String::new(),
    };
    let plan = hull.plan();
    let c = 90.0 * (1.0 + f * f / (1.0 + p * p)).sqrt();
    let width = (c * c - T * T).sqrt() + W;
    holds(&plan, &Steady { bevel: 0.0, width });
    let long = 2400.0 * (1.0 + p * p).sqrt();
    for flat in &plan.flats[START..] {
        let last = flat.upper.len() - 1;
        for edge in [&flat.lower, &flat.upper] {
            assert!(
                (apart(edge[0], edge[last]) - long).abs() < NEAR,
                "{} against {long}",
                apart(edge[0], edge[last])
            );
        }
        for (l, u) in flat.lower.iter().zip(&flat.upper) {
            assert!(l[1].abs() < NEAR && (u[1] - width).abs() < NEAR, "{l:?} {u:?}");
        }
    }
}

/// A cone along the boat, its lands generators: the garboard is flat between two of them. Its edges are as long as they,
/// its ends the chords, and the transom's edge is off square by ε, tan ε = tan g cos f.
#[test]
fn cone_along_the_boat() {
    fn radius(x: f64) -> f64 {
        600.0 + 0.1 * x
    }
    let (from, d, n) = (4.0_f64.to_radians(), 9.0_f64.to_radians(), 9);
    let to = from + d * n as f64;
    let (diagonals, rows) = spokes(1000.0, from, to, 36, radius);
    let turn = move |s: f64| from + (to - from) * s;
    let hull = Hull {
        x: evenly(-300.0, 2100.0, 8),
        strakes: n,
        at: &move |x, s| [radius(x) * turn(s).sin(), 1000.0 - radius(x) * turn(s).cos()],
        land: &|k| k as f64 / n as f64,
        rows,
        diagonals,
    };
    let plan = hull.plan();
    let flat = &plan.flats[0];
    let last = flat.upper.len() - 1;
    let long = 2400.0 * 1.01_f64.sqrt();
    for edge in [&flat.lower, &flat.upper] {
        assert!((apart(edge[0], edge[last]) - long).abs() < NEAR, "{} against {long}", apart(edge[0], edge[last]));
    }
    for (i, x) in [(0, -300.0), (last, 2100.0)] {
        let chord = 2.0 * radius(x) * (0.5 * d).sin();
        assert!((apart(flat.lower[i], flat.upper[i]) - chord).abs() < NEAR);
    }
    let eps = (0.1 * (0.5 * d).cos()).atan().to_degrees();
    let ends: Vec<f64> = plan.backbone.transoms.iter().map(|t| t.seats[0].bevel.to_degrees()).collect();
    assert_eq!(ends.len(), 2);
    // She widens aft: the bow transom's inner face is the larger, the after one's the smaller.
    assert!((ends[0] - eps).abs() < NEAR_DEG && (ends[1] + eps).abs() < NEAR_DEG, "{ends:?} against {eps}");
}

/// A tub, part of a cone about a plumb axis, its lands round it. Along a generator it is a flat side: no bevel, and each
/// strake leans in from the wall by θ, sin θ = t/c. Laid flat, half the thickness out, it is an annular sector: a place at
/// the turn φ lies at φ sin σ, σ = g − θ the strake's own half-angle, the radius r/sin σ.
#[test]
fn tub_with_lands_round_it() {
    const RISE: f64 = 1000.0;
    let (g, n) = (20.0_f64.to_radians(), 10);
    let radius = move |z: f64| 1500.0 + (z - 100.0) * g.tan();
    let y = move |x: f64, z: f64| (radius(z).powi(2) - x * x).sqrt();
    let levels: Vec<f64> = (1..24).map(|i| 100.0 + RISE * f64::from(i) / 24.0).collect();
    let row = |z: f64| Box::new(move |x| y(x, z)) as Box<dyn Fn(f64) -> f64>;
    let half = 900.0;
    let hull = Hull {
        x: evenly(-half, half, 36).iter().map(|x| x + half - 50.0).collect(),
        strakes: n,
        at: &move |x, s| [y(x - half + 50.0, 100.0 + RISE * s), 100.0 + RISE * s],
        land: &|k| k as f64 / n as f64,
        rows: levels
            .iter()
            .map(|&z| {
                let of = row(z);
                (
                    format!("half-breadth waterline {z:.6}"),
                    Box::new(move |x| of(x - half + 50.0)) as Box<dyn Fn(f64) -> f64>,
                )
            })
            .collect(),
        diagonals: String::new(),
    };
    let plan = hull.plan();
    let c = RISE / n as f64 / g.cos();
    let width = (c * c - T * T).sqrt() + W;
    holds(&plan, &Steady { bevel: 0.0, width });
    let sigma = g - (T / c).asin();
    for (k, flat) in plan.flats.iter().enumerate().skip(START) {
        let upper = radius(100.0 + RISE * (k + 1) as f64 / n as f64);
        let lower = upper - width * sigma.sin();
        let last = flat.upper.len() - 1;
        // To the neutral surface, half the thickness out.
        let out = |r: f64| (r + 0.5 * T * sigma.cos()) / sigma.sin();
        let place = |r: f64, x: f64| {
            let turn = (x / r).asin() * sigma.sin();
            [out(r) * turn.sin(), out(r) * turn.cos()]
        };
        let [a, b, m] = [place(upper, -half), place(upper, half), place(upper, 0.0)];
        let [e, h] = [place(lower, -half), place(lower, half)];
        for (what, found, wanted) in [
            ("upper chord", apart(flat.upper[0], flat.upper[last]), apart(a, b)),
            ("half of it", apart(flat.upper[0], flat.upper[last / 2]), apart(a, m)),
            ("lower chord", apart(flat.lower[0], flat.lower[last]), apart(e, h)),
            ("across", apart(flat.lower[0], flat.upper[last]), apart(e, b)),
        ] {
            assert!((found - wanted).abs() < CHORDS, "strake {}: {what} {found} against {wanted}", k + 1);
        }
    }
}
