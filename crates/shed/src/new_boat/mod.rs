//! A boat folder begun from what is known of a boat: by a form on the screen, from points taken off, from somebody else's file.
//!
//! What is asked stands in one place (`fields`), whoever answers it; `written` makes boat.toml of the answers and says at which
//! field what is wrong belongs.

pub mod fields;
pub mod written;
