//! The integration tests, one program.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on has failed")]

mod backbone;
mod bad_boat;
mod bad_input;
mod bad_lists;
mod bad_repair;
mod bend_back;
mod cards;
mod closed_forms;
mod common;
mod entries;
mod fairing;
mod fastenings;
mod flotation;
mod hung;
mod ink;
mod interior;
mod interior_input;
mod jobs;
mod lands;
mod layers;
mod lining;
mod paper;
mod paper_fastenings;
mod paper_read;
mod patterns;
mod patterns_read;
mod plan_json;
mod plans;
mod quote;
mod read_in_table;
mod repair;
mod rivet_map;
mod rivets;
mod sawing;
mod scarfs;
mod swelling;
mod table;
mod taken_off;
mod tapes_read;
mod timbers;
mod troubles;
mod units;
mod whole_program;
