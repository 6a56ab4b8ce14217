//! The timber in the rack.
