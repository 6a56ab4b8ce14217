//! The ends in profile, and the keel rabbet between them.
//!
//! A stem's rabbet is the curve through the points of `boat.toml` that never leaves the box two neighbours span
//! (`geom::monotone`): plumb where two points stand plumb over one another, and never swinging out past a hard turn, as a
//! batten sprung through the same points would. Every stage and every drawing uses this one curve.

use super::{LinesError, SectionAt};
use crate::geom::fair::{FairCurve, FairError};
use crate::geom::monotone;
use crate::offsets::{StationAt, Table};
use crate::spec::{EndSpec, Post, Spec, Transom};

/// Both ends, ready to be asked where they are.
#[derive(Debug, Clone)]
pub struct Ends {
    fore: End,
    aft: End,
}

#[derive(Debug, Clone)]
enum End {
    Post {
        post: Post,
        /// The rabbet `(x, z)` from the head down, dense.
        rabbet: Vec<[f64; 2]>,
    },
    Transom {
        plane: Transom,
        rabbet_z: f64,
    },
}

/// Least height of a transom's head above its foot, mm: between two points nearer than that its plane is not known.
const LEAST_RISE: f64 = 1.0;
/// Pieces in which a rabbet is followed between two typed points.
const PIECES: usize = 16;

/// A station no further than this from where an end begins or its keel rabbet ends stands there, mm.
pub const AT_END: f64 = 1.0;

/// A point where a long line of the body ends: x, y, z.
pub type LineEnd = [f64; 3];

impl Ends {
    /// Draws both ends.
    ///
    /// # Errors
    /// A rabbet whose points touch, or a number that is not finite.
    pub fn new(spec: &Spec) -> Result<Self, LinesError> {
        Ok(Ends { fore: End::new(&spec.fore, false)?, aft: End::new(&spec.aft, true)? })
    }

    /// What section 0 is.
    #[must_use]
    pub fn fore_kind(&self) -> SectionAt {
        self.fore.kind(false)
    }

    /// What the last section is.
    #[must_use]
    pub fn aft_kind(&self) -> SectionAt {
        self.aft.kind(true)
    }

    /// Where the keel rabbet begins, `[x, z]`: the fore-foot.
    #[must_use]
    pub fn fore_foot(&self) -> [f64; 2] {
        self.fore.foot()
    }

    /// Where the keel rabbet ends, `[x, z]`.
    #[must_use]
    pub fn aft_foot(&self) -> [f64; 2] {
        self.aft.foot()
    }

    /// Indices of the square stations whose whole section lies between the feet.
    ///
    /// # Errors
    /// Fewer than three.
    pub fn sections_between(&self, table: &Table) -> Result<Vec<usize>, LinesError> {
        let between: Vec<usize> = (0..table.stations.len())
            .filter(|&i| matches!(table.stations[i].at, StationAt::Square(x) if self.is_between(x)))
            .collect();
        if between.len() < 3 {
            let (fore_mm, aft_mm) = (self.fore_foot()[0], self.aft_foot()[0]);
            return Err(LinesError::TooFewStations { found: between.len(), fore_mm, aft_mm });
        }
        Ok(between)
    }

    /// Whether a plane `x` mm aft of the first station crosses the keel rabbet between the feet.
    #[must_use]
    pub fn is_between(&self, x: f64) -> bool {
        x > self.fore_foot()[0] + AT_END && x < self.aft_foot()[0] - AT_END
    }

    /// Where the sheer ends, at each end that is a post; fore first.
    #[must_use]
    pub fn sheer(&self) -> [Option<LineEnd>; 2] {
        [self.fore.head(), self.aft.head()]
    }

    /// Where a level line at `z` ends on each post; `None` below the foot, above the head, or at a transom.
    #[must_use]
    pub fn at_height(&self, z: f64) -> [Option<LineEnd>; 2] {
        [self.fore.where_height(|_| z), self.aft.where_height(|_| z)]
    }

    /// Where a diagonal leaving the centreline at `height` and falling `below_level` ends on each post.
    #[must_use]
    pub fn at_diagonal(&self, height: f64, below_level: f64) -> [Option<LineEnd>; 2] {
        let z = |half_siding: f64| height - half_siding * below_level.tan();
        [self.fore.where_height(z), self.aft.where_height(z)]
    }

    /// Dense points of a post's rabbet from the foot up, `x, y, z`; `None` for a transom.
    #[must_use]
    pub fn post_points(&self, aft: bool) -> Option<Vec<LineEnd>> {
        match if aft { &self.aft } else { &self.fore } {
            End::Post { post, rabbet } => Some(rabbet.iter().rev().map(|p| [p[0], post.half_siding, p[1]]).collect()),
            End::Transom { .. } => None,
        }
    }

    /// The transom of a column of the table, where she has it.
    #[must_use]
    pub fn transom(&self, at: StationAt) -> Option<&Transom> {
        let end = match at {
            StationAt::Square(_) => return None,
            StationAt::Transom => &self.aft,
            StationAt::BowTransom => &self.fore,
        };
        match end {
            End::Transom { plane, .. } => Some(plane),
            End::Post { .. } => None,
        }
    }
}

impl End {
    fn new(spec: &EndSpec, aft: bool) -> Result<Self, LinesError> {
        match spec {
            EndSpec::Post(post) => {
                // The check that the points stand apart is the fair curve's.
                let knots = FairCurve::by_chords(&post.rabbet).map(|c| c.knots().to_vec());
                let knots = knots.map_err(|why| LinesError::End {
                    end: spec.word(aft),
                    why: match why {
                        FairError::TooFew => "its rabbet needs 2 points or more".to_string(),
                        other => format!("{other}; move or remove one"),
                    },
                })?;
                Ok(End::Post { post: post.clone(), rabbet: monotone::dense(&knots, &post.rabbet, PIECES) })
            }
            EndSpec::Transom(plane) => {
                if plane.head[1] - plane.foot[1] < LEAST_RISE {
                    return Err(LinesError::End {
                        end: spec.word(aft),
                        why: "its head must stand above its foot; give two points of its face well apart".to_string(),
                    });
                }
                Ok(End::Transom { plane: plane.clone(), rabbet_z: plane.foot[1] })
            }
        }
    }

    fn kind(&self, aft: bool) -> SectionAt {
        match self {
            End::Post { .. } => SectionAt::Post,
            End::Transom { .. } if aft => SectionAt::Transom,
            End::Transom { .. } => SectionAt::BowTransom,
        }
    }

    fn foot(&self) -> [f64; 2] {
        match self {
            End::Post { post, .. } => post.rabbet[post.rabbet.len() - 1],
            End::Transom { plane, rabbet_z } => [plane.x_at(0.0, *rabbet_z), *rabbet_z],
        }
    }

    fn head(&self) -> Option<LineEnd> {
        match self {
            End::Post { post, .. } => Some([post.rabbet[0][0], post.half_siding, post.rabbet[0][1]]),
            End::Transom { .. } => None,
        }
    }

    fn where_height(&self, z_at: impl Fn(f64) -> f64) -> Option<LineEnd> {
        let End::Post { post, rabbet } = self else { return None };
        let z = z_at(post.half_siding);
        let span = rabbet.windows(2).find(|w| w[1][1] <= z && z <= w[0][1])?;
        let part = (z - span[1][1]) / (span[0][1] - span[1][1]).max(f64::MIN_POSITIVE);
        Some([span[1][0] + part * (span[0][0] - span[1][0]), post.half_siding, z])
    }
}

/// A typed point of a post's rabbet that makes a dent in it, where the points without it all turn one way: most likely
/// a slip. Points nearer than `within` to their neighbours' chord make none.
#[must_use]
pub fn dent(rabbet: &[[f64; 2]], within: f64) -> Option<usize> {
    if rabbet.len() < 5 {
        return None;
    }
    // How far a point stands off the chord of its neighbours, + to one hand.
    let off = |points: &[[f64; 2]], i: usize| {
        let ([ax, az], [bx, bz], [x, z]) = (points[i - 1], points[i + 1], points[i]);
        ((bx - ax) * (z - az) - (bz - az) * (x - ax)) / (bx - ax).hypot(bz - az).max(f64::MIN_POSITIVE)
    };
    let hands = |points: &[[f64; 2]]| {
        let all: Vec<f64> = (1..points.len() - 1).map(|i| off(points, i)).collect();
        [all.iter().fold(0.0, |m: f64, o| m.max(*o)), all.iter().fold(0.0, |m: f64, o| m.max(-o))]
    };
    let bent_back = |points: &[[f64; 2]]| hands(points).into_iter().fold(f64::MAX, f64::min);
    if bent_back(rabbet) <= within {
        return None;
    }
    (1..rabbet.len() - 1)
        .map(|i| (i, bent_back(&[&rabbet[..i], &rabbet[i + 1..]].concat())))
        .filter(|(_, left)| *left <= 0.25 * within)
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(i, _)| i)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn post(rabbet: &[[f64; 2]]) -> End {
        End::new(&EndSpec::Post(Post::new(10.0, rabbet.to_vec())), false).unwrap()
    }

    /// A plumb stem with a swept fore-foot: plumb where it is typed plumb, and never outside what was typed.
    #[test]
    fn a_plumb_stem_is_plumb() {
        let end = post(&[[0.0, 457.0], [0.0, 152.0], [9.5, 127.0], [35.0, 102.0], [76.0, 79.0], [127.0, 63.0]]);
        for i in 0..=100 {
            let z = 152.0 + 3.05 * f64::from(i);
            assert_eq!(end.where_height(|_| z).unwrap()[0], 0.0, "at {z}");
        }
        let End::Post { rabbet, .. } = &end else { panic!("no post") };
        assert!(rabbet.windows(2).all(|w| w[1][0] >= w[0][0] && w[1][1] <= w[0][1]));
    }

    /// Corncrake's stem, in mm: no dent; with 1-9-5 typed as 1-6-5, a dent there. A hollow stem that turns twice has none
    /// to blame.
    #[test]
    fn a_slip_in_the_stem_makes_a_dent() {
        let mut stem = vec![
            [-381.0, 720.7],
            [-373.1, 641.4],
            [-355.6, 549.3],
            [-325.4, 446.1],
            [-280.2, 339.7],
            [-220.7, 239.7],
            [-147.6, 161.9],
            [-80.2, 115.9],
        ];
        assert_eq!(dent(&stem, 2.0), None);
        stem[2][1] -= 76.2;
        assert_eq!(dent(&stem, 2.0), Some(2));
        let hollow: Vec<[f64; 2]> = (0..=8)
            .map(|i| f64::from(i) / 8.0)
            .map(|t| [300.0 * t - 40.0 * (6.3 * t).sin(), 600.0 - 600.0 * t])
            .collect();
        assert_eq!(dent(&hollow, 2.0), None);
    }

    /// A quarter circle of radius 400 mm typed by its points every ten degrees: followed to 0.3 mm.
    #[test]
    fn a_round_stem_is_round() {
        let rabbet: Vec<[f64; 2]> = (0..=9)
            .map(|i| f64::from(10 * i).to_radians())
            .map(|a| [400.0 - 400.0 * a.cos(), 400.0 - 400.0 * a.sin()])
            .collect();
        let End::Post { rabbet, .. } = post(&rabbet) else { panic!("no post") };
        let off = rabbet.iter().map(|[x, z]| ((x - 400.0).hypot(z - 400.0) - 400.0).abs()).fold(0.0, f64::max);
        assert!(off < 0.3, "{off}");
    }
}
