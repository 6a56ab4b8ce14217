//! Proposing the lands.
//!
//! Wanted is the least of
//!
//! ```text
//! FAIR Σ_k Σ_c P_kc' K_k P_kc  +  SHARE Σ W²  +  STEP Σ (Δ²_k W)²,    W = girth (Δu − wanted share)
//! ```
//!
//! with P the land in space and K_k the scaled energy of the fair curve through its marks, on its chords. Fair is
//! fair *in space*: marks at smooth shares of the girth gave lands with many times the bending. Each round takes the
//! marks along the tangents of their sections (Gauss-Newton) and measures the chords again.
//!
//! Which way errors fall: widths may differ from the wanted shares wherever that makes the lands fairer. No limits
//! are enforced; widths and bevels past the builder's limits come back as findings.

use super::{Lands, LiningError, Pinned};
use crate::geom::Vector;
use crate::geom::fair::{chord_knots, scaled_energy_matrix};
use crate::lines::Skin;
use crate::spec::PlankingSpec;
use nalgebra::{Cholesky, DMatrix, DVector};

/// Weight of the lands' bending.
const FAIR: f64 = 0.02;
/// Weight of the wanted shares. Half of it left a hump of an inch in the garboard abaft the fore-foot of our dinghy; twice
/// of it bends the middle lands both ways in profile, seen from the side.
const SHARE: f64 = 0.1;
/// Weight of even steps of width from strake to strake.
const STEP: f64 = 0.2;
/// Most rounds.
const ROUNDS: usize = 12;
/// A round that moves no mark by more than this ends the search, mm.
const STILL: f64 = 1e-4;
/// No strake may shrink below this share of its wanted width on the way.
const LEAST_SHARE: f64 = 0.25;

/// How many strakes a side: as asked, or the fewest whose greatest width that shows stays within the widest.
#[must_use]
pub fn strakes(skin: &Skin, spec: &PlankingSpec) -> usize {
    spec.strakes.map_or_else(
        || {
            let girth = (0..skin.curves.len()).map(|j| skin.girth(j)).fold(0.0, f64::max);
            // n strakes share the girth as (garboard + n − 1) parts; the garboard may be that much wider.
            let parts = girth / spec.widest;
            ((parts - spec.garboard + 1.0).ceil() as usize).clamp(3, 40)
        },
        |n| n as usize,
    )
}

/// The lands: pinned marks where they are pinned, the others where the energy is least.
///
/// # Errors
/// [`LiningError`]; see there.
pub fn propose(skin: &Skin, spec: &PlankingSpec, pins: &[Pinned]) -> Result<Lands, LiningError> {
    let (n, sections) = (strakes(skin, spec), skin.curves.len());
    too_many(skin, spec, n)?;
    let parts = spec.garboard + (n - 1) as f64;
    let share: Vec<f64> = (0..n).map(|k| if k == 0 { spec.garboard / parts } else { 1.0 / parts }).collect();
    let mut start = vec![0.0];
    for s in &share {
        start.push(start[start.len() - 1] + s);
    }
    let mut u: Vec<Vec<f64>> = start.iter().map(|&s| vec![s; sections]).collect();
    u[n] = vec![1.0; sections];
    let pinned = pin(skin, spec, pins, &mut u, &share)?;

    let mut index = vec![vec![None; sections]; n + 1];
    let mut count = 0;
    for k in 1..n {
        for j in 0..sections {
            if !pinned[k][j] {
                index[k][j] = Some(count);
                count += 1;
            }
        }
    }
    if count > 0 {
        for _ in 0..ROUNDS {
            let step = round(skin, &u, &share, &index, count)?;
            let scale = allowed(&u, &share, &index, &step);
            let mut moved = 0.0_f64;
            for k in 1..n {
                for j in 0..sections {
                    if let Some(i) = index[k][j] {
                        u[k][j] += scale * step[i];
                        moved = moved.max((scale * step[i] * skin.girth(j)).abs());
                    }
                }
            }
            if moved < STILL {
                break;
            }
        }
    }
    Lands::through(skin, u, pinned)
}

fn too_many(skin: &Skin, spec: &PlankingSpec, n: usize) -> Result<(), LiningError> {
    // The strip that stands on the mould between two lands must at least take the land of the next plank.
    let least = 1.25 * spec.lap;
    let tight = (0..skin.curves.len()).min_by(|&a, &b| skin.girth(a).total_cmp(&skin.girth(b)));
    let Some(j) = tight else { return Ok(()) };
    let girth = skin.girth(j);
    if girth / (n as f64) < least {
        return Err(LiningError::TooMany {
            strakes: n,
            section: skin.place(j),
            girth,
            each: girth / n as f64,
            least,
            most: (girth / least).floor() as usize,
        });
    }
    Ok(())
}

/// Puts the pinned marks into `u`, and the free ones of the same section evenly between them.
fn pin(
    skin: &Skin,
    spec: &PlankingSpec,
    pins: &[Pinned],
    u: &mut [Vec<f64>],
    share: &[f64],
) -> Result<Vec<Vec<bool>>, LiningError> {
    let n = share.len();
    let mut pinned = vec![vec![false; skin.curves.len()]; n + 1];
    for p in pins {
        let whole = skin.girth(p.section);
        // The ends are no choice: a pin there must say what is so, to a millimetre.
        let off = match p.land {
            0 => p.girth.abs() > 1.0,
            l if l == n => (p.girth - whole).abs() > 1.0,
            _ => p.girth < 0.0 || p.girth > whole,
        };
        if off || p.land > n {
            return Err(LiningError::PinOffMould {
                line: p.line,
                land: p.land,
                section: skin.place(p.section),
                girth: p.girth,
                whole,
            });
        }
        pinned[p.land][p.section] = true;
        if p.land > 0 && p.land < n {
            u[p.land][p.section] = p.girth / whole;
        }
    }
    for j in 0..skin.curves.len() {
        let mut fixed: Vec<usize> = (1..n).filter(|&k| pinned[k][j]).collect();
        fixed.insert(0, 0);
        fixed.push(n);
        for w in fixed.windows(2) {
            let (a, b) = (w[0], w[1]);
            let room = (u[b][j] - u[a][j]) * skin.girth(j);
            let needed = spec.lap * (b - a) as f64;
            if room < needed {
                let (land, other) = if b == n { (a, b) } else { (b, a) };
                let line = pins.iter().find(|p| p.land == land && p.section == j).map_or(0, |p| p.line);
                let section = skin.place(j);
                return Err(LiningError::PinsTooNear { line, land, section, other, room, needed });
            }
            let whole: f64 = share[a..b].iter().sum();
            for k in a + 1..b {
                let part: f64 = share[a..k].iter().sum();
                u[k][j] = u[a][j] + (u[b][j] - u[a][j]) * part / whole;
            }
        }
    }
    Ok(pinned)
}

/// One Gauss-Newton step of the free marks, as shares of the girth.
fn round(
    skin: &Skin,
    u: &[Vec<f64>],
    share: &[f64],
    index: &[Vec<Option<usize>>],
    count: usize,
) -> Result<DVector<f64>, LiningError> {
    let (n, sections) = (share.len(), u[0].len());
    let mut h = DMatrix::zeros(count, count);
    let mut g = DVector::zeros(count);
    for k in 1..n {
        let marks: Vec<[f64; 3]> = (0..sections).map(|j| skin.at(j, u[k][j]).into()).collect();
        let along: Vec<Vector> = (0..sections).map(|j| skin.tangent(j, u[k][j]) * skin.girth(j)).collect();
        let energy = scaled_energy_matrix(&chord_knots(&marks)).map_err(|why| LiningError::Line { land: k, why })?;
        for i in 0..sections {
            let Some(a) = index[k][i] else { continue };
            for j in 0..sections {
                let pull: f64 = (0..3).map(|c| along[i][c] * marks[j][c]).sum();
                g[a] += FAIR * energy[(i, j)] * pull;
                if let Some(b) = index[k][j] {
                    h[(a, b)] += FAIR * energy[(i, j)] * along[i].dot(&along[j]);
                }
            }
        }
    }
    for j in 0..sections {
        let girth = skin.girth(j);
        let width = |k: usize| girth * (u[k + 1][j] - u[k][j] - share[k]);
        // Width of strake k rises with land k + 1 and falls with land k.
        for k in 0..n {
            add(&mut h, &mut g, SHARE, width(k), &[(index[k + 1][j], girth), (index[k][j], -girth)]);
        }
        // The garboard may differ from its neighbour: steps are evened from the second strake on.
        for k in 2..n.saturating_sub(1) {
            let residual = width(k + 1) - 2.0 * width(k) + width(k - 1);
            let parts = [
                (index[k + 2][j], girth),
                (index[k + 1][j], -3.0 * girth),
                (index[k][j], 3.0 * girth),
                (index[k - 1][j], -girth),
            ];
            add(&mut h, &mut g, STEP, residual, &parts);
        }
    }
    Cholesky::new(h).map(|c| c.solve(&-g)).ok_or(LiningError::NoAnswer)
}

/// Adds weight · (residual + Σ partᵢ·δᵢ)² to ½δ'Hδ + g'δ (both halved).
fn add(h: &mut DMatrix<f64>, g: &mut DVector<f64>, weight: f64, residual: f64, parts: &[(Option<usize>, f64)]) {
    for &(a, pa) in parts {
        let Some(a) = a else { continue };
        g[a] += weight * residual * pa;
        for &(b, pb) in parts {
            if let Some(b) = b {
                h[(a, b)] += weight * pa * pb;
            }
        }
    }
}

/// How much of `step` keeps every strake at a fair share of its wanted width.
fn allowed(u: &[Vec<f64>], share: &[f64], index: &[Vec<Option<usize>>], step: &DVector<f64>) -> f64 {
    let mut scale = 1.0_f64;
    let moved = |k: usize, j: usize| index[k][j].map_or(0.0, |i| step[i]);
    for k in 0..share.len() {
        for (j, (low, high)) in u[k].iter().zip(&u[k + 1]).enumerate() {
            let (now, change) = (high - low, moved(k + 1, j) - moved(k, j));
            let room = now - LEAST_SHARE * share[k].min(now);
            if change < 0.0 && -change > room {
                scale = scale.min(room / -change);
            }
        }
    }
    scale
}
