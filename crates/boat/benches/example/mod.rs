//! The boats that benches and tests plan, by name.

#![allow(dead_code, reason = "each bench asks for some of it")]

use boat::folder::{BoatInput, BoatTexts, read};

/// Our three examples.
pub const EXAMPLES: [&str; 3] = ["corncrake", "sandgrouse", "lapwing"];
/// The same, and the tests' canoe, whose table was printed in the 1880s.
pub const BOATS: [&str; 4] = ["corncrake", "sandgrouse", "lapwing", "canoe"];
/// Those planked in nine strakes or more: what `docs/speed.md` and `docs/patterns.md` keep the times of.
pub const LARGER: [&str; 3] = ["corncrake", "sandgrouse", "canoe"];

/// Her settings and offsets, without marks, boards or a list of nails.
pub fn texts(name: &str) -> BoatTexts {
    let (toml, offsets) = match name {
        "corncrake" => (
            include_str!("../../../../boats/corncrake/boat.toml"),
            include_str!("../../../../boats/corncrake/offsets.csv"),
        ),
        "sandgrouse" => (
            include_str!("../../../../boats/sandgrouse/boat.toml"),
            include_str!("../../../../boats/sandgrouse/offsets.csv"),
        ),
        "lapwing" => (
            include_str!("../../../../boats/lapwing/boat.toml"),
            include_str!("../../../../boats/lapwing/offsets.csv"),
        ),
        "canoe" => (
            include_str!("../../tests/it/data/canoe/boat.toml"),
            include_str!("../../tests/it/data/canoe/offsets.csv"),
        ),
        other => panic!("no boat {other}"),
    };
    BoatTexts { toml: toml.to_owned(), offsets: offsets.to_owned(), ..BoatTexts::default() }
}

pub fn input(name: &str) -> BoatInput {
    read(&texts(name)).unwrap_or_else(|why| panic!("{name}: {why}"))
}
