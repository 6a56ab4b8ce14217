//! The integration tests, one program.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod backbone;
mod bad_input;
mod bend_back;
mod cards;
mod closed_forms;
mod common;
mod fairing;
mod fastenings;
mod ink;
mod interior;
mod interior_input;
mod lands;
mod layers;
mod lining;
mod paper;
mod patterns;
mod patterns_read;
mod plans;
mod quote;
mod rivet_map;
mod rivets;
mod sawing;
mod scarfs;
mod swelling;
mod table;
mod timbers;
mod troubles;
mod units;
mod whole_program;
