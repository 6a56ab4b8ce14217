//! A point by two tapes from two nails.
//!
//! With c from nail to nail and tapes a and b, the foot of the point on the line of the nails is (a² − b² + c²) / 2c from the
//! first, and the point stands √(a² − foot²) off it: the law of cosines. Of the two such points the hull's is the one over
//! the line, or inboard of it where the nails stand plumb over each other.

/// Least angle between the two tapes at the point, and least short of a straight line, degrees: at 15° a millimetre of tape is
/// four of place.
pub const LEAST_ANGLE: f64 = 15.0;

/// Why two tapes fix no point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TapesError {
    /// The nails stand on each other.
    Nails,
    /// The tapes do not reach one point; what the longer reading may be, mm.
    Apart([f64; 2]),
    /// They cross at so sharp an angle, degrees.
    Sharp(f64),
}

/// Where the tapes `inner` and `outer`, held at nails at `nails` (out and up), meet; mm.
///
/// # Errors
/// [`TapesError`].
pub fn by_two_tapes(nails: [[f64; 2]; 2], inner: f64, outer: f64) -> Result<[f64; 2], TapesError> {
    let [a, b] = nails;
    let along = [b[0] - a[0], b[1] - a[1]];
    let apart = along[0].hypot(along[1]);
    if apart < 1.0 {
        return Err(TapesError::Nails);
    }
    if inner + outer < apart || (inner - outer).abs() > apart {
        return Err(TapesError::Apart([(apart - inner).abs(), apart + inner]));
    }
    let foot = (inner * inner - outer * outer + apart * apart) / (2.0 * apart);
    let off = (inner * inner - foot * foot).max(0.0).sqrt();
    // Twice the triangle is c times its height, and a b times the sine between the tapes.
    let sine = if inner > 0.0 && outer > 0.0 { apart * off / (inner * outer) } else { 0.0 };
    let between = sine.clamp(0.0, 1.0).asin().to_degrees();
    if between < LEAST_ANGLE {
        return Err(TapesError::Sharp(between));
    }
    let unit = [along[0] / apart, along[1] / apart];
    Ok([a[0] + foot * unit[0] - off * unit[1], a[1] + foot * unit[1] + off * unit[0]])
}
