//! The example boats, built in.

use boat::folder::{BoatTexts, RepairTexts};
use clap::ValueEnum;

/// An example.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Example {
    /// Corncrake, a 13 ft dinghy with a transom; feet, inches and eighths.
    Dinghy,
    /// Sandgrouse, a 4.7 m pulling boat with a sternpost; millimetres.
    DoubleEnder,
    /// Lapwing, a 2.6 m pram with a bow transom and a curved transom aft; millimetres.
    Pram,
}

/// The example of a repair: a length of Sandgrouse's fifth plank.
pub fn repair() -> RepairTexts {
    RepairTexts {
        toml: include_str!("../../../boats/sandgrouse-repair/repair.toml").to_owned(),
        readings: include_str!("../../../boats/sandgrouse-repair/readings.csv").to_owned(),
        holes: None,
    }
}

impl Example {
    /// Her name.
    pub fn name(self) -> &'static str {
        match self {
            Example::Dinghy => "Corncrake",
            Example::DoubleEnder => "Sandgrouse",
            Example::Pram => "Lapwing",
        }
    }

    /// Her folder's files with their names.
    pub fn files(self) -> Vec<(&'static str, &'static str)> {
        let [toml, offsets] = match self {
            Example::Dinghy => [
                include_str!("../../../boats/corncrake/boat.toml"),
                include_str!("../../../boats/corncrake/offsets.csv"),
            ],
            Example::DoubleEnder => [
                include_str!("../../../boats/sandgrouse/boat.toml"),
                include_str!("../../../boats/sandgrouse/offsets.csv"),
            ],
            Example::Pram => {
                [include_str!("../../../boats/lapwing/boat.toml"), include_str!("../../../boats/lapwing/offsets.csv")]
            }
        };
        let mut files = vec![("boat.toml", toml), ("offsets.csv", offsets)];
        files.extend(self.boards().map(|boards| ("boards.csv", boards)));
        files.extend(self.nails().map(|nails| ("nails.csv", nails)));
        files.push(("rates.toml", self.rates()));
        files
    }

    /// Her builder's rates, invented.
    pub fn rates(self) -> &'static str {
        match self {
            Example::Dinghy => include_str!("../../../boats/corncrake/rates.toml"),
            Example::DoubleEnder => include_str!("../../../boats/sandgrouse/rates.toml"),
            Example::Pram => include_str!("../../../boats/lapwing/rates.toml"),
        }
    }

    /// Her rack, where she has one.
    fn boards(self) -> Option<&'static str> {
        (self == Example::Dinghy).then_some(include_str!("../../../boats/corncrake/boards.csv"))
    }

    /// The nails and roves to be had, where she has a list of them.
    fn nails(self) -> Option<&'static str> {
        (self == Example::Dinghy).then_some(include_str!("../../../boats/corncrake/nails.csv"))
    }

    /// Her folder's texts.
    pub fn texts(self) -> BoatTexts {
        let text = |name: &str| self.files().iter().find(|f| f.0 == name).map(|f| f.1.to_owned());
        BoatTexts {
            toml: text("boat.toml").unwrap_or_default(),
            offsets: text("offsets.csv").unwrap_or_default(),
            marks: None,
            boards: text("boards.csv"),
            nails: text("nails.csv"),
        }
    }
}
