//! The integration tests, one program.

mod closed_forms;
mod common;
mod layers;
mod paper;
mod plans;
