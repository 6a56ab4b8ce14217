//! Her backbone: keel, stem, sternpost and transoms, and where a transom's face stands.
//!
//! A transom's outer face is a plane or the side of a cylinder, so every point of it follows from its half-breadth and height, and it
//! lies flat without stretching. All of its functions are closed forms, exact but for rounding.

use super::Wood;

/// An end of the planking.
#[derive(Debug, Clone, PartialEq)]
pub enum EndSpec {
    /// A stem or sternpost whose rabbet takes the hood ends.
    Post(Post),
    /// A transom, plumb or raked, flat or curved.
    Transom(Transom),
}

impl EndSpec {
    /// The trade's word for this end, `aft` telling a stem from a sternpost.
    #[must_use]
    pub fn word(&self, aft: bool) -> &'static str {
        match (self, aft) {
            (EndSpec::Post(_), false) => "stem",
            (EndSpec::Post(_), true) => "sternpost",
            (EndSpec::Transom(_), true) => "transom",
            (EndSpec::Transom(_), false) => "bow transom",
        }
    }
}

/// A stem or sternpost.
#[derive(Debug, Clone, PartialEq)]
pub struct Post {
    /// Half-breadth of the rabbet line, mm.
    pub half_siding: f64,
    /// The rabbet in profile, `[x, z]` in mm, from the head at the sheer down to the fore-foot: the point where
    /// the garboard's hood end begins. Below it the rabbet is the keel's.
    pub rabbet: Vec<[f64; 2]>,
    /// Half siding of the wood's flat sides, mm; where not given, the rabbet's on a plan drawn to the outside, and that
    /// and the plank's thickness on one drawn to the inside.
    pub wood_half_siding: Option<f64>,
    /// Wood square off the rabbet to the outer face, mm; `None`: that face is not drawn.
    pub wood_outside: Option<f64>,
    /// Wood square off the rabbet to the inner face, mm; `None`: that face is not drawn.
    pub wood_inside: Option<f64>,
    /// How high its head stands over the sheer, mm, cut level; `None`: its faces end beside the rabbet's head.
    pub head: Option<f64>,
}

impl Post {
    /// A post of which only the rabbet is known.
    #[must_use]
    pub fn new(half_siding: f64, rabbet: Vec<[f64; 2]>) -> Self {
        Post { half_siding, rabbet, wood_half_siding: None, wood_outside: None, wood_inside: None, head: None }
    }
}

/// The keel's upper part, on which the garboard lies.
#[derive(Debug, Clone, PartialEq)]
pub struct KeelSpec {
    /// Half-breadth of the hog, mm; `None`: there is none, and the keel itself is rabbeted.
    pub hog_half_breadth: Option<f64>,
    /// Its thickness, mm; `None`: not drawn in the moulds' notches.
    pub hog_thickness: Option<f64>,
    /// Keel below the garboard's outer edge, square off the rabbet, mm; `None`: not given, and she floats without it.
    pub wood_outside: Option<f64>,
    /// Half siding of the keel, mm; `None`: not given.
    pub half_siding: Option<f64>,
    /// Its wood, and that of hog, stem, sternpost and transoms.
    pub wood: Wood,
}

/// A transom's outer face: the plane square to the centreline plane through two points of the profile, or a cylinder
/// bent about an axis that leans as those two points do, its hollow side inboard.
#[derive(Debug, Clone, PartialEq)]
pub struct Transom {
    /// `[x, z]` where the face meets the keel rabbet on the centreline, mm.
    pub foot: [f64; 2],
    /// `[x, z]` higher on the centreline, about the sheer, mm.
    pub head: [f64; 2],
    /// Radius of a curved transom's outer face, mm; `None`: flat.
    pub radius: Option<f64>,
    /// At the bow, where the outer face looks forward.
    pub bow: bool,
    /// Of its wood, mm.
    pub thickness: f64,
    /// How far its top edge rises on the centreline over its corners at the sheer, up the face, mm; `None`: it is level
    /// there, and wood is left for the builder to choose.
    pub crown: Option<f64>,
}

impl Transom {
    /// Up the face along the centreline, `[x, z]`, unit.
    #[must_use]
    pub fn up(&self) -> [f64; 2] {
        let (x, z) = (self.head[0] - self.foot[0], self.head[1] - self.foot[1]);
        let length = x.hypot(z);
        [x / length, z / length]
    }

    /// Square to the face on the centreline, away from the boat, `[x, z]`, unit.
    #[must_use]
    pub fn out(&self) -> [f64; 2] {
        let [x, z] = self.up();
        if self.bow { [-z, x] } else { [z, -x] }
    }

    /// How far a curved face has fallen back from its centreline at half-breadth `y`, mm square to it; half-breadths
    /// past the radius count as the radius.
    #[must_use]
    pub fn fall(&self, y: f64) -> f64 {
        self.radius.map_or(0.0, |r| r - (r * r - y * y).max(0.0).sqrt())
    }

    /// Up the centreline from the foot to what stands level with half-breadth `y` and height `z` on the face, mm.
    #[must_use]
    pub fn up_to(&self, y: f64, z: f64) -> f64 {
        (z - self.foot[1] + self.fall(y) * self.out()[1]) / self.up()[1]
    }

    /// Where the face stands at half-breadth `y` and height `z`, mm aft of the first station.
    #[must_use]
    pub fn x_at(&self, y: f64, z: f64) -> f64 {
        self.foot[0] + self.up_to(y, z) * self.up()[0] - self.fall(y) * self.out()[0]
    }

    /// The true shape: a point of the face laid flat, along the face from the centreline and up it from the foot, mm.
    #[must_use]
    pub fn laid_flat(&self, y: f64, z: f64) -> [f64; 2] {
        let across = self.radius.map_or(y, |r| r * (y / r).clamp(-1.0, 1.0).asin());
        [across, self.up_to(y, z)]
    }

    /// How far its top edge rises over the sheer `along` the face laid flat from the centreline, mm up the face; `half` is
    /// the corner there. The arc of a circle through both corners and the crown.
    #[must_use]
    pub fn rise(&self, along: f64, half: f64) -> f64 {
        let Some(crown) = self.crown.filter(|c| *c > 0.0 && half > 0.0) else { return 0.0 };
        let radius = crown_radius(crown, half);
        ((radius * radius - along * along).max(0.0).sqrt() - (radius - crown)).max(0.0)
    }

    /// Outward unit normal of the face at half-breadth `y`, `[x, y, z]`.
    #[must_use]
    pub fn normal(&self, y: f64) -> [f64; 3] {
        let turn = self.radius.map_or(0.0, |r| (y / r).clamp(-1.0, 1.0).asin());
        let [x, z] = self.out();
        [x * turn.cos(), turn.sin(), z * turn.cos()]
    }
}

/// Radius of the arc that rises `crown` over a chord twice `half` long; both above 0.
#[must_use]
pub fn crown_radius(crown: f64, half: f64) -> f64 {
    (half * half + crown * crown) / (2.0 * crown)
}
