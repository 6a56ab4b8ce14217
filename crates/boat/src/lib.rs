//! Lofting, planking geometry and fastening of clinker boats: values in, values out.

pub mod development;
pub mod drawing;
pub mod fastenings;
pub mod findings;
pub mod folder;
pub mod geom;
pub mod lines;
pub mod lining;
pub mod moulds;
pub mod offsets;
pub mod paper;
pub mod plan;
pub mod planks;
pub mod spec;
pub mod stock;
pub mod timbers;
pub mod units;
pub mod weights;
mod words;
