//! What may be chosen on the command line, and what the library calls it.

use boat::exchange;
use boat::paper::PaperSize;
use boat::paper::patterns::Kind;
use boat::taken_off::On;
use boat::units::Notation;
use clap::ValueEnum;

/// A face of the planking.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Face {
    /// Its inside.
    Inside,
    /// Its outside.
    Outside,
}

/// Where on the planks points are taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TakenOn {
    /// A hull without lands.
    Surface,
    /// The lower outer edge of every plank that lies over another.
    Edge,
    /// The middle of what shows of every plank.
    Middle,
}

impl TakenOn {
    /// As the library calls it.
    pub fn on(self) -> On {
        match self {
            TakenOn::Surface => On::Surface,
            TakenOn::Edge => On::Edge,
            TakenOn::Middle => On::Middle,
        }
    }
}

/// Forms of pictures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Lines {
    /// An SVG file for each picture.
    Svg,
    /// A DXF file (R12) for each picture.
    Dxf,
}

/// Kinds of files for other programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum FileKind {
    /// All of her as glTF 2.0 in one file, each plank a part with its name; metres.
    Glb,
    /// Each plank, mould, timber and transom as a closed solid, and her outside; mm.
    Stl,
    /// Planks, moulds, stem and transom for a router: closed lines and arcs in layers; mm.
    Dxf,
    /// The same as pictures at full size; mm.
    Svg,
    /// Every table, in the unit that her plan is in.
    Csv,
}

impl FileKind {
    /// As the library calls it.
    pub fn kind(self) -> exchange::Kind {
        match self {
            FileKind::Glb => exchange::Kind::Glb,
            FileKind::Stl => exchange::Kind::Stl,
            FileKind::Dxf => exchange::Kind::Dxf,
            FileKind::Svg => exchange::Kind::Svg,
            FileKind::Csv => exchange::Kind::Csv,
        }
    }
}

/// Forms of patterns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// One PDF for a printer with a roll of paper.
    Roll,
    /// One PDF for an ordinary printer, its sheets to be stuck together.
    Tiles,
    /// An SVG file for each pattern.
    Svg,
    /// A DXF file (R12) for each pattern.
    Dxf,
}

/// Things to draw patterns of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum What {
    /// The moulds, both halves.
    Moulds,
    /// The rabbet of stem and sternpost.
    Stem,
    /// The rabbet of the keel in profile, plan and sections.
    Keel,
    /// The transom, both halves.
    Transom,
    /// The planks laid flat.
    Planks,
    /// The lands straightened: strips with a tick for every rivet, timber and station.
    Tapes,
    /// Ends of thwarts, breasthooks and knees, where boat.toml asks for any.
    Interior,
}

impl What {
    /// As the library calls it.
    pub fn kind(self) -> Kind {
        match self {
            What::Moulds => Kind::Mould,
            What::Stem => Kind::Stem,
            What::Keel => Kind::Keel,
            What::Transom => Kind::Transom,
            What::Planks => Kind::Plank,
            What::Tapes => Kind::Tape,
            What::Interior => Kind::Interior,
        }
    }
}

/// Paper for tiles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Sheet {
    /// 210 mm × 297 mm.
    A4,
    /// 297 mm × 420 mm.
    A3,
    /// 420 mm × 594 mm.
    A2,
    /// 8½ in × 11 in.
    Letter,
    /// 11 in × 17 in.
    Tabloid,
}

impl Sheet {
    /// As the library calls it.
    pub fn size(self) -> PaperSize {
        match self {
            Sheet::A4 => PaperSize::A4,
            Sheet::A3 => PaperSize::A3,
            Sheet::A2 => PaperSize::A2,
            Sheet::Letter => PaperSize::Letter,
            Sheet::Tabloid => PaperSize::Tabloid,
        }
    }
}

/// Paper sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Paper {
    /// 210 mm × 297 mm.
    A4,
    /// 8½ in × 11 in.
    Letter,
}

impl Paper {
    /// As the library calls it.
    pub fn size(self) -> PaperSize {
        match self {
            Paper::A4 => PaperSize::A4,
            Paper::Letter => PaperSize::Letter,
        }
    }
}

/// What a bare number means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Lengths {
    /// Millimetres.
    #[value(name = "mm")]
    Mm,
    /// Inches.
    #[value(name = "in")]
    Inches,
    /// Feet-inches-eighths, such as 1-3-4+.
    #[value(name = "ft-in-8ths")]
    FeetInchesEighths,
}

impl Lengths {
    /// As the library calls it.
    pub fn notation(self) -> Notation {
        match self {
            Lengths::Mm => Notation::Mm,
            Lengths::Inches => Notation::Inches,
            Lengths::FeetInchesEighths => Notation::FeetInchesEighths,
        }
    }
}
