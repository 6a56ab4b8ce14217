//! The numbers of one rivet.
//!
//! t thickness, q step, w lap, β bevel. The rivet crosses the middle of the land, and its axis is the bisector of the
//! two planks' normals, so each plank is crossed at β/2:
//!
//! ```text
//! grip                              (t + q − (w/2) tan |β|) / cos(β/2)
//! head to the outer plank's edge    w/(2 cos β) − t tan(β/2)
//! drilled square to the inner one   w/(2 cos β) − t tan β
//! rove to the inner plank's edge    w/2 + ((t + q)/2 − (w/2) tan β) tan(β/2)      β ≥ 0; in a hollow (w/2) tan β is 0
//! ```
//!
//! The bevel takes (w/2) tan β off the inner plank at the middle of the land. In a hollow it comes off the outer one
//! instead, and these forms are near, not exact: 0.14 mm off at 12° on a land 12.7 mm wide. Source: derived here from
//! the land's definition.

/// Wood held by a rivet, mm.
#[must_use]
pub fn grip(thickness: f64, step: f64, lap: f64, bevel: f64) -> f64 {
    (thickness + step - 0.5 * lap * bevel.abs().tan()) / (0.5 * bevel).cos()
}

/// Centre of the head to the outer plank's lower edge, drilled on the bisector, mm.
#[must_use]
pub fn head_edge(thickness: f64, lap: f64, bevel: f64) -> f64 {
    lap / (2.0 * bevel.cos()) - thickness * (0.5 * bevel).tan()
}

/// The same, drilled square to the inner plank, mm.
#[must_use]
pub fn head_edge_square(thickness: f64, lap: f64, bevel: f64) -> f64 {
    lap / (2.0 * bevel.cos()) - thickness * bevel.tan()
}

/// Centre of the rove to the inner plank's upper edge, drilled on the bisector, mm. In a gain both planks give up half of what
/// it takes, so the axis crosses the faying face (t + q)/2 out, less the bevel.
#[must_use]
pub fn rove_edge(thickness: f64, step: f64, lap: f64, bevel: f64) -> f64 {
    let faying = 0.5 * (thickness + step) - 0.5 * lap * bevel.tan().max(0.0);
    0.5 * lap + faying * (0.5 * bevel).tan()
}

/// The shortest of `stock` that reaches through `grip`, the rove and what is left to clench; `None` if none does.
#[must_use]
pub fn nail(grip: f64, rove: f64, clench: f64, stock: &[f64]) -> Option<f64> {
    let needed = grip + rove + clench;
    stock.iter().copied().filter(|&l| l >= needed - 1e-9).min_by(f64::total_cmp)
}
