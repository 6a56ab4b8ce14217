//! Steaming, and getting timbers in.

use super::Timber;
use crate::spec::TimberSpec;
use crate::units::inches;

/// Minutes in the steam for each inch of the lesser side. Common practice, no source; one reported trial agrees (half an
/// hour for half an inch). Green wood takes less, wood long dry takes more or will not bend.
const MINUTES_AN_INCH: f64 = 60.0;
/// No more layers are reckoned with than this.
const MOST_LAYERS: u32 = 60;

/// Minutes in the steam.
#[must_use]
pub fn steaming(spec: &TimberSpec) -> f64 {
    MINUTES_AN_INCH * spec.sided.min(spec.moulded) / inches(1.0)
}

/// Thickness that goes round a bend of `radius`, mm: what a timber is thinned to there.
#[must_use]
pub fn goes(radius: f64, spec: &TimberSpec) -> f64 {
    radius / spec.steamed_radius
}

/// Least number of equal layers, each steamed, that make up `moulded` round a bend of `radius` (both to the outer face, mm):
/// the innermost is bent hardest, to the radius less the thickness of those outside it. `None`: not even sixty.
#[must_use]
pub fn layers(radius: f64, spec: &TimberSpec) -> Option<u32> {
    (1..=MOST_LAYERS).find(|&n| {
        let each = spec.moulded / f64::from(n);
        // A hair, so that a bend on the limit is within it.
        radius - (spec.moulded - each) >= spec.steamed_radius * each * (1.0 - 1e-12)
    })
}

/// Numbers the turns: from the middle to the ends, those that no mould blocks first.
pub fn order(timbers: &mut [Timber], middle: f64) {
    let mut by: Vec<usize> = (0..timbers.len()).collect();
    by.sort_by(|&a, &b| {
        let key = |i: usize| (timbers[i].mould.is_some(), (timbers[i].x - middle).abs());
        let ((in_a, a_off), (in_b, b_off)) = (key(a), key(b));
        in_a.cmp(&in_b).then(a_off.total_cmp(&b_off)).then(a.cmp(&b))
    });
    for (turn, i) in by.into_iter().enumerate() {
        timbers[i].turn = turn + 1;
    }
}
