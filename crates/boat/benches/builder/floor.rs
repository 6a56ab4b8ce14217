//! The least that any rule of lining could do, at one mould by itself.
//!
//! With d how far the last hung land is off and w what its strake gained in width, the builder aims the next strake at a gain
//! t and gets t + e, e his own error: w becomes t + e, d becomes d + t + e. The boat is spoilt at that mould where a strake's
//! gain differs from that of the one below by more than `JUMP`, or the sheer ends further off than `SHEER`. The tape is taken
//! to be exact and no line along the boat to bind the moulds, both of which can only help. The best aim for every (d, w),
//! strake by strake from the sheer down, is found by dynamic programming on a grid (Bellman), e by its quantiles; between
//! grid points linear.

use crate::builder::Errors;

/// What is seen of widths, and what the sheer may be off, mm.
const JUMP: f64 = 2.0;
const SHEER: f64 = 3.0;
/// Quantiles of the errors, and grid steps to a level.
const QUANTILES: usize = 61;
const STEPS: f64 = 10.0;
/// How far the grid reaches, in levels: d, and w and t.
const REACH: [f64; 2] = [8.0, 4.0];

/// The least chance of spoiling a boat of `strakes` strakes at a mould.
pub fn least(errors: Errors, strakes: usize) -> f64 {
    let (step, errors) = (errors.level / STEPS, quantiles(errors));
    let half = REACH.map(|reach| (reach * STEPS) as usize);
    let [ds, ws] = half.map(|half| (0..=2 * half).map(|i| (i as f64 - half as f64) * step).collect::<Vec<f64>>());
    let end = |d: &f64| if d.abs() <= SHEER + 1e-9 { 0.0 } else { 1.0 };
    let mut spoilt: Vec<Vec<f64>> = ds.iter().map(|d| vec![end(d); ws.len()]).collect();
    for strake in (1..=strakes).rev() {
        let best = |d: f64, w: f64| {
            let by_aim = ws.iter().map(|t| {
                let chance = |e: &f64| {
                    let gain = t + e;
                    let jumps = strake > 1 && (gain - w).abs() > JUMP + 1e-9;
                    if jumps { 1.0 } else { between(&spoilt, half, step, d + gain, gain) }
                };
                errors.iter().map(chance).sum::<f64>() / errors.len() as f64
            });
            by_aim.fold(1.0, f64::min)
        };
        spoilt = ds.iter().map(|d| ws.iter().map(|w| best(*d, *w)).collect()).collect();
    }
    spoilt[half[0]][half[1]]
}

/// The chance that the plain rule spoils it: of what the sheer would be off if the rest went on with the last width, a like
/// part each, but no more at once than leaves room for an own error of 1 mm.
pub fn plain(errors: Errors, strakes: usize, times: usize) -> f64 {
    let errors = many(errors, times.div_ceil(16) * strakes);
    let spoils = |own: &[f64]| {
        let (mut d, mut w, mut spoilt) = (0.0, 0.0, false);
        for (k, e) in own.iter().enumerate() {
            let left = (strakes - k) as f64;
            let room = JUMP - 1.0;
            let change = (-(d + left * w) / left).clamp(-room, room) + e;
            spoilt |= k > 0 && change.abs() > JUMP + 1e-9;
            (w, d) = (w + change, d + w + change);
        }
        spoilt || d.abs() > SHEER
    };
    let boats: Vec<&[f64]> = errors.chunks_exact(strakes).collect();
    boats.iter().filter(|own| spoils(own)).count() as f64 / boats.len() as f64
}

/// Errors at a place, in no order that matters: plank after plank, one place of each.
fn many(errors: Errors, planks: usize) -> Vec<f64> {
    let mut state = 77;
    (0..16)
        .flat_map(|place| (0..planks).map(move |i| (place, i)))
        .map(|(place, _)| errors.plank(&mut state, 17)[place])
        .collect()
}

fn quantiles(errors: Errors) -> Vec<f64> {
    let mut all = many(errors, 4000);
    all.sort_by(f64::total_cmp);
    (0..QUANTILES).map(|i| all[(all.len() as f64 * (i as f64 + 0.5) / QUANTILES as f64) as usize]).collect()
}

/// The grid's value at (d, w), 1 outside it.
fn between(grid: &[Vec<f64>], half: [usize; 2], step: f64, d: f64, w: f64) -> f64 {
    let [x, y] = [(d, half[0]), (w, half[1])].map(|(v, half)| v / step + half as f64);
    let (most_x, most_y) = ((2 * half[0]) as f64, (2 * half[1]) as f64);
    if !(0.0..=most_x).contains(&x) || !(0.0..=most_y).contains(&y) {
        return 1.0;
    }
    let (i, j) = ((x as usize).min(2 * half[0] - 1), (y as usize).min(2 * half[1] - 1));
    let (u, v) = (x - i as f64, y - j as f64);
    (1.0 - u) * ((1.0 - v) * grid[i][j] + v * grid[i][j + 1])
        + u * ((1.0 - v) * grid[i + 1][j] + v * grid[i + 1][j + 1])
}
