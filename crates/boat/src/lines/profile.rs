//! The ends in profile, and the keel rabbet between them.

use super::{LinesError, SectionAt};
use crate::geom::fair::{FairCurve, FairError};
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
    /// The rabbet `(x, z)` by its chords from the head down.
    Post {
        post: Post,
        curve: FairCurve<2>,
    },
    Transom {
        plane: Transom,
        rabbet_z: f64,
    },
}

/// A point where a long line of the body ends: x, y, z.
pub type LineEnd = [f64; 3];

impl Ends {
    /// Draws both ends.
    ///
    /// # Errors
    /// A rabbet whose points touch, or a number that is not finite.
    pub fn new(spec: &Spec) -> Result<Self, LinesError> {
        if matches!(spec.fore, EndSpec::Transom(_)) {
            return Err(LinesError::End {
                end: "transom",
                why: "a transom at the bow cannot be planned yet; give a [stem]".to_string(),
            });
        }
        Ok(Ends { fore: End::new(&spec.fore, false)?, aft: End::new(&spec.aft, true)? })
    }

    /// What section 0 is.
    #[must_use]
    pub fn fore_kind(&self) -> SectionAt {
        self.fore.kind()
    }

    /// What the last section is.
    #[must_use]
    pub fn aft_kind(&self) -> SectionAt {
        self.aft.kind()
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
        let (fore, aft) = (self.fore_foot()[0], self.aft_foot()[0]);
        let between: Vec<usize> = (0..table.stations.len())
            .filter(|&i| matches!(table.stations[i].at, StationAt::Square(x) if x > fore + 1.0 && x < aft - 1.0))
            .collect();
        if between.len() < 3 {
            return Err(LinesError::TooFewStations { found: between.len(), fore_mm: fore, aft_mm: aft });
        }
        Ok(between)
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

    /// Points of a post's rabbet from the foot up, `x, y, z`; `None` for a transom.
    #[must_use]
    pub fn post_points(&self, aft: bool) -> Option<Vec<LineEnd>> {
        match if aft { &self.aft } else { &self.fore } {
            End::Post { post, .. } => {
                Some(post.rabbet.iter().rev().map(|p| [p[0], post.half_siding, p[1]]).collect())
            }
            End::Transom { .. } => None,
        }
    }

    /// The plane aft, where there is a transom.
    #[must_use]
    pub fn transom(&self) -> Option<&Transom> {
        match &self.aft {
            End::Transom { plane, .. } => Some(plane),
            End::Post { .. } => None,
        }
    }
}

impl End {
    fn new(spec: &EndSpec, aft: bool) -> Result<Self, LinesError> {
        match spec {
            EndSpec::Post(post) => {
                let curve = FairCurve::by_chords(&post.rabbet).map_err(|why| LinesError::End {
                    end: spec.word(aft),
                    why: match why {
                        FairError::TooFew => "its rabbet needs 2 points or more".to_string(),
                        other => format!("{other}; move or remove one"),
                    },
                })?;
                Ok(End::Post { post: post.clone(), curve })
            }
            EndSpec::Transom(plane) => {
                if (plane.head[1] - plane.foot[1]).abs() < 1.0 {
                    return Err(LinesError::End {
                        end: "transom",
                        why: "its head must stand above its foot; give two points of its face well apart".to_string(),
                    });
                }
                Ok(End::Transom { plane: plane.clone(), rabbet_z: plane.foot[1] })
            }
        }
    }

    fn kind(&self) -> SectionAt {
        match self {
            End::Post { .. } => SectionAt::Post,
            End::Transom { .. } => SectionAt::Transom,
        }
    }

    fn foot(&self) -> [f64; 2] {
        match self {
            End::Post { post, .. } => post.rabbet[post.rabbet.len() - 1],
            End::Transom { plane, rabbet_z } => [plane.x_at(*rabbet_z), *rabbet_z],
        }
    }

    fn head(&self) -> Option<LineEnd> {
        match self {
            End::Post { post, .. } => Some([post.rabbet[0][0], post.half_siding, post.rabbet[0][1]]),
            End::Transom { .. } => None,
        }
    }

    fn where_height(&self, z_at: impl Fn(f64) -> f64) -> Option<LineEnd> {
        let End::Post { post, curve } = self else { return None };
        let z = z_at(post.half_siding);
        let (mut high, mut low) = (curve.knots()[0], curve.knots()[curve.knots().len() - 1]);
        if z > post.rabbet[0][1] || z < post.rabbet[post.rabbet.len() - 1][1] {
            return None;
        }
        for _ in 0..60 {
            let mid = 0.5 * (high + low);
            if curve.at(mid)[1] > z { high = mid } else { low = mid }
        }
        Some([curve.at(0.5 * (high + low))[0], post.half_siding, z])
    }
}
