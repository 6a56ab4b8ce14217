//! The example boats, built in.

use boat::folder::BoatTexts;
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
    pub fn files(self) -> [(&'static str, &'static str); 2] {
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
        [("boat.toml", toml), ("offsets.csv", offsets)]
    }

    /// Her folder's texts.
    pub fn texts(self) -> BoatTexts {
        let [(_, toml), (_, offsets)] = self.files();
        BoatTexts { toml: toml.to_owned(), offsets: offsets.to_owned(), marks: None, boards: None }
    }
}
