//! Wood: what it weighs, what it bears when it is bent, and how it moves as it dries.

/// What a plank's wood bears when it is bent and twisted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendSpec {
    /// Strain of its faces, t κ / 2, to which it is bent cold.
    pub cold_strain: f64,
    /// Shear of its faces, t τ, to which it is twisted cold.
    pub cold_shear: f64,
    /// Strain of its faces to which it is bent when steamed.
    pub steamed_strain: f64,
}

impl BendSpec {
    /// Least radius when bent cold, in thicknesses.
    #[must_use]
    pub fn cold_radius(&self) -> f64 {
        0.5 / self.cold_strain
    }

    /// Least radius when steamed, in thicknesses.
    #[must_use]
    pub fn steamed_radius(&self) -> f64 {
        0.5 / self.steamed_strain
    }
}

impl Default for BendSpec {
    /// A wood of which nothing is known: no better than the stiffest softwoods. Common practice, no source.
    fn default() -> Self {
        BendSpec { cold_strain: 0.5 / 115.0, cold_shear: 0.009, steamed_strain: 0.5 / 30.0 }
    }
}

/// A wood and how heavy it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// As the builder calls it.
    pub name: String,
    /// kg/m³ as built.
    pub density: f64,
}

/// How wet planks are, percent of the wood's dry mass, and how they move with that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MoistureSpec {
    /// When they are fitted.
    pub shop: f64,
    /// Afloat.
    pub afloat: f64,
    /// Dried out ashore.
    pub ashore: f64,
    /// What the wood loses from green to ovendry across its rings and along them, percent; `None`: not known.
    pub shrinkage: Option<[f64; 2]>,
    /// How the rings lie in a plank.
    pub rings: Rings,
}

/// How the rings lie in a plank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rings {
    /// Along its width: the log was sawn through and through.
    Flat,
    /// Square to its width.
    Quarter,
}

impl MoistureSpec {
    /// What a plank's width loses from green to ovendry, percent.
    #[must_use]
    pub fn across(&self) -> Option<f64> {
        let [radial, tangential] = self.shrinkage?;
        Some(if self.rings == Rings::Flat { tangential } else { radial })
    }

    /// What its thickness does, percent: the other of the two.
    #[must_use]
    pub fn through(&self) -> Option<f64> {
        let [radial, tangential] = self.shrinkage?;
        Some(if self.rings == Rings::Flat { radial } else { tangential })
    }
}

impl Default for MoistureSpec {
    /// Wood dried in an open shed, a boat that lies afloat, and one laid up under cover. Common practice, no source.
    fn default() -> Self {
        MoistureSpec { shop: 14.0, afloat: 25.0, ashore: 12.0, shrinkage: None, rings: Rings::Flat }
    }
}
