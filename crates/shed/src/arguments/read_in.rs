//! What `read-in` asks of another's file.

use super::Face;
use boat::read_in::{Axis, Bare, Bow, Comma};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// `read-in`.
#[derive(Debug, Args)]
pub struct ReadIn {
    /// The file.
    pub file: PathBuf,
    /// The folder to make; files that are in it already are never overwritten.
    #[arg(long, value_name = "FOLDER")]
    pub to: Option<PathBuf>,
    /// What is in the file; by its ending where nothing is said: a table in .csv, .tsv and .txt, sections in .dxf and .svg, points in .ply
    /// and .xyz.
    #[arg(long = "as", value_enum, value_name = "WHAT")]
    pub what: Option<ReadAs>,
    /// What one of the file's bare numbers is.
    #[arg(long, value_enum, value_name = "UNIT")]
    pub lengths: Option<AnyUnit>,
    /// What a comma in a number is, where it could be either.
    #[arg(long, value_enum, value_name = "WHAT")]
    pub comma: Option<CommaIs>,
    /// The spacing of the stations, where the file does not give their distances.
    #[arg(long, value_name = "LENGTH")]
    pub spacing: Option<String>,
    /// The stations' distances aft of the first, such as "0,500,1000", or of a drawing "1=0,2=500 mm"; of points aft of the fore end.
    #[arg(long, value_name = "LIST", allow_hyphen_values = true)]
    pub at: Option<String>,
    /// Of a drawing: how many times smaller than the boat it is drawn, 10 for 1:10.
    #[arg(long, value_name = "N")]
    pub scale: Option<f64>,
    /// Of a drawing: where centreline (of a profile, first station) and base line stand in it, in its own units.
    #[arg(long, value_name = "X,Y", allow_hyphen_values = true)]
    pub zero: Option<String>,
    /// Of points: which of the file's axes points up.
    #[arg(long, value_enum, value_name = "AXIS", allow_hyphen_values = true, default_value_t = UpAxis::Z)]
    pub up: UpAxis,
    /// Of points: which end is the bow, that at the least or at the most along her; the narrower where nothing is said.
    #[arg(long, value_enum, value_name = "END")]
    pub bow: Option<BowEnd>,
    /// Of points: they stand in the boat's frame, the longest axis along and the centreline at 0; one side is enough then.
    #[arg(long)]
    pub placed: bool,
    /// Of points: how many degrees she lies down by the bow in the file.
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, default_value_t = 0.0)]
    pub trim: f64,
    /// Of points: at how many stations sections are drawn, evenly from end to end.
    #[arg(long, value_name = "N", default_value_t = 9)]
    pub stations: usize,
    /// Of points: the half-breadth at which the planking meets the keel; 15 mm where nothing is said.
    #[arg(long, value_name = "LENGTH")]
    pub half_siding: Option<String>,
    /// To which face of the planking the file's lines are.
    #[arg(long, value_enum, value_name = "FACE")]
    pub drawn_to: Option<Face>,
    /// Of boards: how thick they are, as it shall stand in boards.csv.
    #[arg(long, value_name = "LENGTH")]
    pub thickness: Option<String>,
    /// Her name; the folder's where nothing is said.
    #[arg(long)]
    pub name: Option<String>,
}

/// What is in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ReadAs {
    /// A table of offsets.
    Table,
    /// A body plan.
    Sections,
    /// Points of a hull.
    Points,
    /// The stem's rabbet in profile.
    Stem,
    /// The sternpost's.
    Sternpost,
    /// Outlines of boards.
    Boards,
}

/// A unit of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum AnyUnit {
    /// Millimetres.
    #[value(name = "mm")]
    Mm,
    /// Centimetres.
    #[value(name = "cm")]
    Cm,
    /// Metres.
    #[value(name = "m")]
    M,
    /// Inches.
    #[value(name = "in")]
    Inches,
    /// Feet and their decimals.
    #[value(name = "ft")]
    Feet,
    /// Feet-inches-eighths, such as 1-3-4+.
    #[value(name = "ft-in-8ths")]
    FeetInchesEighths,
}

impl AnyUnit {
    /// As the library calls it.
    pub fn bare(self) -> Bare {
        match self {
            AnyUnit::Mm => Bare::Mm,
            AnyUnit::Cm => Bare::Cm,
            AnyUnit::M => Bare::M,
            AnyUnit::Inches => Bare::Inches,
            AnyUnit::Feet => Bare::Feet,
            AnyUnit::FeetInchesEighths => Bare::FeetInchesEighths,
        }
    }
}

/// A comma in a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum CommaIs {
    /// A decimal point.
    Decimal,
    /// Nothing: it parts thousands.
    Thousands,
}

impl CommaIs {
    /// As the library calls it.
    pub fn comma(self) -> Comma {
        match self {
            CommaIs::Decimal => Comma::Decimal,
            CommaIs::Thousands => Comma::Thousands,
        }
    }
}

/// An axis of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum UpAxis {
    /// x.
    X,
    /// Against x.
    #[value(name = "-x")]
    AgainstX,
    /// y.
    Y,
    /// Against y.
    #[value(name = "-y")]
    AgainstY,
    /// z.
    Z,
    /// Against z.
    #[value(name = "-z")]
    AgainstZ,
}

impl UpAxis {
    /// As the library calls it.
    pub fn axis(self) -> Axis {
        match self {
            UpAxis::X => Axis::X(true),
            UpAxis::AgainstX => Axis::X(false),
            UpAxis::Y => Axis::Y(true),
            UpAxis::AgainstY => Axis::Y(false),
            UpAxis::Z => Axis::Z(true),
            UpAxis::AgainstZ => Axis::Z(false),
        }
    }
}

/// An end of a cloud of points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum BowEnd {
    /// At the least of the file's longest axis.
    Least,
    /// At the most.
    Most,
}

impl BowEnd {
    /// As the library calls it.
    pub fn bow(self) -> Bow {
        match self {
            BowEnd::Least => Bow::Least,
            BowEnd::Most => Bow::Most,
        }
    }
}
