//! Hulls known in closed form, and their tables of offsets: what fairing is measured on.
//!
//! y = siding + beam · along(ξ) · up(x, t), with ξ from the stem (0) to the stern (1) at that height and t from the rabbet
//! (0) to the sheer (1) at that station. All are inventions of ours; lengths in mm.

use boat::folder::{BoatInput, BoatTexts, read};
use std::f64::consts::PI;
use std::fmt::Write as _;

/// A hull.
pub struct Hull {
    pub name: &'static str,
    pub siding: f64,
    pub beam: f64,
    /// x of the stem's rabbet, and of the sternpost's or the transom's plane, at height z.
    pub stem: fn(f64) -> f64,
    pub stern: fn(f64) -> f64,
    /// z of rabbet and sheer at x.
    pub rabbet: fn(f64) -> f64,
    pub sheer: fn(f64) -> f64,
    pub along: fn(f64) -> f64,
    pub up: fn(f64, f64) -> f64,
    pub transom: bool,
    /// x of the last square station.
    pub last: f64,
}

/// Slack of bilge k: a straight side as k grows, a box as it goes to 0.
fn bilge(t: f64, k: f64) -> f64 {
    t * (1.0 + k) / (t + k)
}

/// A step of 1 about `at`, over some four times `over`.
fn step(x: f64, at: f64, over: f64) -> f64 {
    1.0 / (1.0 + (-(x - at) / over).exp())
}

fn hump(x: f64, at: f64, over: f64) -> f64 {
    (-((x - at) / over).powi(2)).exp()
}

/// sin πaξ with its second and third harmonics.
fn sines(xi: f64, a: f64, b: f64, c: f64) -> f64 {
    let s = |n: f64| (n * PI * a * xi).sin();
    s(1.0) + b * s(2.0) + c * s(3.0)
}

fn raked(z: f64) -> f64 {
    3560.0 + 0.35 * (z - 190.0)
}

/// A dinghy with a firm bilge and a raked transom.
const DINGHY: Hull = Hull {
    name: "dinghy",
    siding: 16.0,
    beam: 690.0,
    stem: |z| -50.0 - 380.0 * (1.0 - (1.0 - (z - 90.0) / 850.0).powi(2)),
    stern: raked,
    rabbet: |x| 78.0 + 95.0 * step(x, 3300.0, 330.0) * x / 3600.0,
    sheer: |x| 545.0 + 200.0 * ((x - 2300.0) / 2700.0).powi(2),
    along: |xi| sines(xi, 0.66, 0.10, 0.04),
    up: |x, t| bilge(t, 0.16 + 0.6 * hump(x, -400.0, 800.0) + 0.12 * step(x, 3100.0, 300.0)),
    transom: true,
    last: 3420.0,
};

/// The same kind of boat with a hollow tuck: sections turn the other way above the rabbet aft.
const TUCK: Hull = Hull {
    name: "hollow tuck",
    beam: 730.0,
    along: |xi| sines(xi, 0.70, 0.05, 0.02),
    up: |x, t| {
        let hollow = |t: f64| 1.0 - 0.75 * step(x, 2900.0, 260.0) * hump(t, 0.0, 0.35);
        bilge(t, 0.24 + 0.75 * hump(x, -500.0, 900.0) + 0.2 * step(x, 3200.0, 300.0)) * hollow(t) / hollow(1.0)
    },
    ..DINGHY
};

/// A double-ender with a lively sheer, fuller forward.
const DOUBLE_ENDER: Hull = Hull {
    name: "double-ender",
    siding: 18.0,
    beam: 760.0,
    stem: |z| -40.0 - 420.0 * (1.0 - (1.0 - (z - 90.0) / 900.0).powi(2)),
    stern: |z| 4540.0 + 360.0 * (1.0 - (1.0 - (z - 90.0) / 900.0).powf(2.3)),
    rabbet: |x| 80.0 + 14.0 * ((x - 2300.0) / 2300.0).powi(2),
    sheer: |x| 500.0 + 240.0 * ((x - 2450.0) / 2600.0).powi(2) * (1.0 - 0.12 * ((x - 2400.0) / 900.0).tanh()),
    along: |xi| sines(xi, 1.0, 0.06, 0.05),
    up: |x, t| bilge(t, 0.30 + ((x - 2350.0) / 2500.0).powi(2)),
    transom: false,
    last: 4480.0,
};

/// Wigley's parabolas: waterlines 4ξ(1 − ξ), sections t(2 − t), between plumb posts; a level keel and a sprung sheer.
const PARABOLIC: Hull = Hull {
    name: "parabolic",
    siding: 15.0,
    beam: 450.0,
    stem: |_| -120.0,
    stern: |_| 4920.0,
    rabbet: |_| 60.0,
    sheer: |x| 520.0 + 90.0 * ((x - 2400.0) / 2520.0).powi(2),
    along: |xi| 4.0 * xi * (1.0 - xi),
    up: |_, t| t * (2.0 - t),
    transom: false,
    last: 4800.0,
};

pub const HULLS: [Hull; 4] = [DINGHY, TUCK, DOUBLE_ENDER, PARABOLIC];

/// How many rows of each kind, beside heights of sheer and rabbet and the half-breadth of the sheer, and how many columns.
pub struct Size {
    pub columns: usize,
    pub waterlines: usize,
    pub buttocks: usize,
    pub diagonals: usize,
}

/// 12 columns and 14 rows.
pub const TWELVE: Size = Size { columns: 12, waterlines: 7, buttocks: 2, diagonals: 2 };

/// 14 columns and 12 rows.
#[allow(dead_code, reason = "only one of the benches asks")]
pub const FOURTEEN: Size = Size { columns: 14, waterlines: 5, buttocks: 2, diagonals: 2 };
/// 18 columns and 18 rows.
#[allow(dead_code, reason = "only one of the benches asks")]
pub const EIGHTEEN: Size = Size { columns: 18, waterlines: 10, buttocks: 3, diagonals: 2 };
/// 9 columns and 11 rows: some 90 entries, as in our two boats' tables.
#[allow(dead_code, reason = "only one of the benches asks")]
pub const SPARSE: Size = Size { columns: 9, waterlines: 5, buttocks: 2, diagonals: 1 };

impl Size {
    /// All rows.
    #[allow(dead_code, reason = "only one of the benches asks")]
    pub const fn rows(&self) -> usize {
        3 + self.waterlines + self.buttocks + self.diagonals
    }
}

const POINTS: usize = 4000;

impl Hull {
    /// Half-breadth at `x`, `z`.
    pub fn half_breadth(&self, x: f64, z: f64) -> f64 {
        let xi = (x - (self.stem)(z)) / ((self.stern)(z) - (self.stem)(z));
        let t = (z - (self.rabbet)(x)) / ((self.sheer)(x) - (self.rabbet)(x));
        self.siding + self.beam * (self.along)(xi) * (self.up)(x, t)
    }

    /// Where the stern meets rabbet and sheer, or with `fore` the stem: heights.
    fn end(&self, fore: bool) -> [f64; 2] {
        let x = if fore { self.stem } else { self.stern };
        [self.rabbet, self.sheer].map(|line| {
            let (mut low, mut high) = (0.0, 1500.0);
            for _ in 0..60 {
                let mid = 0.5 * (low + high);
                if mid < line(x(mid)) { low = mid } else { high = mid }
            }
            low
        })
    }

    /// The section at `x`, or on the transom: y, z from rabbet to sheer, dense.
    pub fn section(&self, x: Option<f64>) -> Vec<[f64; 2]> {
        let [low, high] = x.map_or_else(|| self.end(false), |x| [(self.rabbet)(x), (self.sheer)(x)]);
        let z = |i: usize| low + (high - low) * (i as f64 / POINTS as f64).powi(2);
        (0..=POINTS).map(|i| [self.half_breadth(x.unwrap_or_else(|| (self.stern)(z(i))), z(i)), z(i)]).collect()
    }

    /// How much longer the section's plane is than its height.
    #[allow(dead_code, reason = "only one of the benches asks")]
    pub fn slope(&self, x: Option<f64>) -> f64 {
        if x.is_some() { 1.0 } else { ((self.stern)(1000.0) - (self.stern)(0.0)).hypot(1000.0) / 1000.0 }
    }

    /// Where the columns of a table stand; `None` on the transom.
    pub fn columns(&self, columns: usize) -> Vec<Option<f64>> {
        let square = columns - usize::from(self.transom);
        let mut all: Vec<Option<f64>> =
            (0..square).map(|i| Some(self.last * i as f64 / (square - 1) as f64)).collect();
        all.resize(columns, None);
        all
    }

    /// Her folder with exact offsets, in feet and inches, and the folder's text.
    pub fn input(&self, size: &Size) -> BoatInput {
        let columns = self.columns(size.columns);
        let sections: Vec<Vec<[f64; 2]>> = columns.iter().map(|x| self.section(*x)).collect();
        let lowest = |of: fn(&Vec<[f64; 2]>) -> f64| sections.iter().map(of).fold(f64::MAX, f64::min);
        let (bottom, top) = (lowest(|s| s[0][1]), lowest(|s| s[s.len() - 1][1]));
        let widest = sections.iter().map(|s| s[s.len() - 1][0]).fold(0.0, f64::max);
        let spread = |from: f64, to: f64, count: usize| {
            (0..count).map(move |i| (from + (to - from) * (i + 1) as f64 / (count + 1) as f64).round())
        };
        let mut toml = format!(
            "strakewise = 1\nname = \"Study\"\nlengths = \"ft-in-8ths\"\n[lines]\ndrawn_to = \"inside of plank\"\n\
             spacing = \"{} mm\"\n",
            columns[1].unwrap_or_default()
        );
        let mut rows: Vec<(String, Vec<Option<f64>>)> = Vec::new();
        let mut row = |name: String, of: &dyn Fn(&[[f64; 2]]) -> Option<f64>| {
            rows.push((name, sections.iter().map(|s| of(s)).collect()));
        };
        let [first, last] = [|s: &[[f64; 2]]| s[0], |s: &[[f64; 2]]| s[s.len() - 1]];
        row("height sheer".to_owned(), &|s| Some(last(s)[1]));
        row("height rabbet".to_owned(), &|s| Some(first(s)[1]));
        row("half-breadth sheer".to_owned(), &|s| Some(last(s)[0]));
        for z in spread(bottom, 1.25 * top, size.waterlines) {
            let entry = |s: &[[f64; 2]]| {
                let y = crossing(s, |p| p[1] - z).filter(|_| z > first(s)[1] + 8.0 && z < last(s)[1] - 8.0)?[0];
                (y > self.siding + 6.0).then_some(y)
            };
            row(format!("half-breadth waterline {z} mm"), &entry);
        }
        for y in spread(self.siding, 0.9 * widest, size.buttocks) {
            let entry = |s: &[[f64; 2]]| {
                let z = crossing(s, |p| p[0] - y).filter(|_| y < last(s)[0] - 12.0)?[1];
                (z < last(s)[1] - 8.0).then_some(z)
            };
            row(format!("height buttock {y} mm"), &entry);
        }
        for (i, height) in spread(0.5 * top, 1.2 * top, size.diagonals).enumerate() {
            let below = 35.0_f64;
            let (sin, cos) = below.to_radians().sin_cos();
            row(format!("diagonal D{i}"), &|s| {
                let p = crossing(s, |p| sin * p[0] - cos * (height - p[1]))?;
                (p[1] < last(s)[1] - 8.0 && p[0] > self.siding + 6.0).then_some(p[0] / cos)
            });
            let _ = writeln!(toml, "[lines.diagonals.D{i}]\nheight = \"{height} mm\"\nbelow_level = {below}");
        }
        let mut post = |key: &str, fore: bool| {
            let [low, high] = self.end(fore);
            let point = |i: usize| {
                let z = high + (low - high) * (i as f64 / 8.0).powf(1.3);
                let [x, z] = [if fore { (self.stem)(z) } else { (self.stern)(z) }, z]
                    .map(|v| (v / SIXTEENTH).round() * SIXTEENTH);
                format!("[\"{x} mm\", \"{z} mm\"]")
            };
            let rabbet: Vec<String> = (0..=8).map(point).collect();
            let siding = self.siding;
            let _ = writeln!(toml, "[{key}]\nhalf_siding = \"{siding} mm\"\nrabbet = [{}]", rabbet.join(", "));
        };
        post("stem", true);
        if self.transom {
            let [foot, head] = self.end(false).map(|z| format!("[\"{} mm\", \"{z} mm\"]", (self.stern)(z)));
            let _ = writeln!(toml, "[transom]\nfoot = {foot}\nhead = {head}");
        } else {
            post("sternpost", false);
        }
        toml.push_str("[planking]\nthickness = \"9 mm\"\n");
        let names = columns.iter().enumerate().map(|(i, x)| x.map_or("transom".to_owned(), |_| i.to_string()));
        let mut offsets = format!("row,{}\n", names.collect::<Vec<_>>().join(","));
        for (name, cells) in rows {
            let cells = cells.iter().map(|v| v.map_or(String::new(), |v| format!("{v} mm")));
            let _ = writeln!(offsets, "{name},{}", cells.collect::<Vec<_>>().join(","));
        }
        let texts = BoatTexts { toml, offsets, marks: None, ..BoatTexts::default() };
        read(&texts).unwrap_or_else(|e| panic!("{}: {e}\n{}\n{}", self.name, texts.toml, texts.offsets))
    }
}

/// 1/16 in, mm.
pub const SIXTEENTH: f64 = 1.5875;

/// The last place from the rabbet up where `side` turns from negative, between two points of a section.
fn crossing(section: &[[f64; 2]], side: impl Fn([f64; 2]) -> f64) -> Option<[f64; 2]> {
    let i = (1..section.len()).rev().find(|&i| side(section[i - 1]) <= 0.0 && side(section[i]) > 0.0)?;
    let (a, b) = (section[i - 1], section[i]);
    let share = side(a) / (side(a) - side(b));
    Some([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])])
}

/// The next number of a linear congruence, in 0 to 1.
pub fn uniform(seed: &mut u64) -> f64 {
    *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    (*seed >> 33) as f64 / (1_u64 << 31) as f64
}

/// A normal number: twelve uniform ones, less six.
pub fn normal(seed: &mut u64) -> f64 {
    (0..12).map(|_| uniform(seed)).sum::<f64>() - 6.0
}

/// `truth` with normal errors of so many mm, rounded to `unit`, each entry from a zero of its own, so that twelve tables
/// say more than one; to be faired within 1/16 in, or 1/8 in where there are errors.
pub fn noisy(truth: &BoatInput, errors: f64, unit: f64, seed: &mut u64) -> BoatInput {
    let mut noisy = truth.clone();
    noisy.spec.lines.fair_within = if errors > 0.0 { 2.0 * SIXTEENTH } else { SIXTEENTH };
    for cell in noisy.table.rows.iter_mut().flat_map(|r| &mut r.cells).flatten() {
        let shift = unit * (uniform(seed) - 0.5);
        cell.mm = ((cell.mm + errors * normal(seed) + shift) / unit).round() * unit - shift;
    }
    noisy
}
