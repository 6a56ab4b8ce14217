//! The boats that benches plan, by name.

use boat::folder::{BoatInput, BoatTexts, read};

/// `corncrake`, `sandgrouse`, `lapwing`, or the tests' canoe.
pub fn input(name: &str) -> BoatInput {
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
    let texts = BoatTexts { toml: toml.to_owned(), offsets: offsets.to_owned(), ..BoatTexts::default() };
    read(&texts).expect("the boat is read")
}
