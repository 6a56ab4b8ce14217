//! What is wanted of the strakes, and what they must keep to.

use crate::geom::Vector;
use crate::lines::{SectionAt, Skin};
use crate::spec::{LiningSpec, PlankingSpec};

/// How wide each strake is wanted, and what holds it.
#[derive(Debug, Clone, PartialEq)]
pub struct Wishes {
    /// Wanted width on the mould, mm: `[strake − 1][section]`.
    pub widths: Vec<Vec<f64>>,
    /// How much of each mm on the mould or post is width square to the lands: `[strake − 1][section]`.
    pub square: Vec<Vec<f64>>,
    /// The sheer strake shows as wide at one section as at the next, but for this much, mm by section.
    pub parallel: Option<Vec<f64>>,
}

/// What the strakes must keep to, on the moulds.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// Thickness of the planking, mm.
    pub thickness: f64,
    /// Width of a land, mm.
    pub lap: f64,
    /// Least and most width on the mould, mm: `[strake − 1][section]`.
    pub width: Vec<Vec<[f64; 2]>>,
    /// Most that the section may turn inboard from strake to strake, radians: `[land][section]`.
    pub turn: Vec<Vec<f64>>,
}

impl Limits {
    /// No limits at all.
    #[must_use]
    pub fn none(planking: &PlankingSpec, strakes: usize, sections: usize) -> Self {
        Limits {
            thickness: planking.thickness,
            lap: planking.lap,
            width: vec![vec![[0.0, f64::INFINITY]; sections]; strakes],
            turn: vec![vec![f64::INFINITY; sections]; strakes],
        }
    }
}

/// Samples of a section's turn.
const SAMPLES: usize = 48;
/// The after part of her length over which a flip of the sheer strake grows.
const FLIP: f64 = 0.4;

/// How wide each of `n` strakes is wanted.
#[must_use]
pub fn wishes(skin: &Skin, planking: &PlankingSpec, lining: &LiningSpec, n: usize) -> Wishes {
    let sections = skin.curves.len();
    let part = |k: usize| match k {
        0 => planking.garboard,
        k if k + 1 == n => lining.sheer_strake,
        _ => 1.0,
    };
    let whole: f64 = (0..n).map(part).sum();
    let (fore, aft) = (skin.at(0, 1.0).x, skin.at(sections - 1, 1.0).x);
    let flip: Vec<f64> = (0..sections)
        .map(|j| {
            let e = ((skin.at(j, 1.0).x - aft) / (FLIP * (aft - fore)) + 1.0).clamp(0.0, 1.0);
            lining.sheer_flip * e * e * (3.0 - 2.0 * e)
        })
        .collect();
    let turn = Turn::of(skin, lining.bilge);
    let mut widths = vec![vec![0.0; sections]; n];
    for j in 0..sections {
        let mut low = 0.0;
        let mut share = 0.0;
        for (k, row) in widths.iter_mut().enumerate() {
            share += part(k) / whole;
            let high = if k + 1 == n { skin.girth(j) } else { turn.place(skin, j, share) };
            row[j] = high - low;
            low = high;
        }
        let others = skin.girth(j) - widths[n - 1][j];
        let rest = (others - flip[j]) / others;
        for (k, row) in widths.iter_mut().enumerate() {
            row[j] = if k + 1 == n { row[j] + flip[j] } else { row[j] * rest };
        }
    }
    let mut squared = vec![vec![1.0; sections]; n];
    for j in 0..sections {
        let mut low = 0.0;
        for (widths, squared) in widths.iter().zip(&mut squared) {
            squared[j] = square(skin, j, (low + 0.5 * widths[j]) / skin.girth(j));
            low += widths[j];
        }
    }
    Wishes { square: squared, widths, parallel: lining.sheer_parallel.then_some(flip) }
}

/// The girth of each section weighed by how hard it turns, so that equal parts of it are narrower round the bilge, and of
/// a post by how much of it is width square to the lands, so that equal parts show alike: the foot of a stem runs nearly
/// along them.
struct Turn {
    /// Weighed girth up to each sample, as a share of the whole: `[section][sample]`.
    up_to: Vec<Vec<f64>>,
}

impl Turn {
    fn of(skin: &Skin, bilge: f64) -> Self {
        let turns: Vec<Vec<f64>> = (0..skin.curves.len()).map(|j| Self::turns(skin, j)).collect();
        let hardest = turns.iter().flatten().fold(0.0_f64, |a, &b| a.max(b)).max(f64::MIN_POSITIVE);
        let up_to = turns.iter().enumerate().map(|(j, section)| {
            let mut up_to = vec![0.0];
            for (i, turn) in section.iter().enumerate() {
                let u = (i as f64 + 0.5) / SAMPLES as f64;
                up_to.push(up_to[up_to.len() - 1] + square(skin, j, u) * (1.0 + bilge * turn / hardest));
            }
            let whole = up_to[SAMPLES];
            up_to.iter().map(|v| v / whole).collect()
        });
        Turn { up_to: up_to.collect() }
    }

    /// How hard section `j` turns inboard in each of its parts, evened over its neighbours, 1/mm; a post does not turn.
    fn turns(skin: &Skin, j: usize) -> Vec<f64> {
        if skin.sections[j].at == SectionAt::Post {
            return vec![0.0; SAMPLES];
        }
        let tangents: Vec<Vector> = (0..=SAMPLES).map(|i| skin.tangent(j, i as f64 / SAMPLES as f64)).collect();
        let part = skin.girth(j) / SAMPLES as f64;
        let sharp: Vec<f64> = tangents.windows(2).map(|w| w[0].angle(&w[1]) / part).collect();
        let near = SAMPLES / 12;
        (0..SAMPLES)
            .map(|i| {
                let window = &sharp[i.saturating_sub(near)..(i + near + 1).min(SAMPLES)];
                window.iter().sum::<f64>() / window.len() as f64
            })
            .collect()
    }

    /// Where section `j` has the share `share` of its weighed girth below it, mm.
    fn place(&self, skin: &Skin, j: usize, share: f64) -> f64 {
        let up_to = &self.up_to[j];
        let i = up_to.partition_point(|&v| v <= share).clamp(1, SAMPLES);
        let within = (share - up_to[i - 1]) / (up_to[i] - up_to[i - 1]);
        skin.girth(j) * ((i - 1) as f64 + within) / SAMPLES as f64
    }
}

/// How much of a post's length at the share `u` of it is width square to a land that leaves it there, which for this runs
/// to the same share of the next section: the sine between the two. 1 on a mould.
fn square(skin: &Skin, j: usize, u: f64) -> f64 {
    if skin.sections[j].at != SectionAt::Post {
        return 1.0;
    }
    let next = if j == 0 { 1 } else { j - 1 };
    let land = skin.at(next, u) - skin.at(j, u);
    let sine = skin.tangent(j, u).cross(&land).norm() / land.norm().max(f64::MIN_POSITIVE);
    sine.max(LEAST_SINE)
}

/// Less of a post than this always counts as width: where the foot runs along the land, the direction says little.
const LEAST_SINE: f64 = 0.2;
