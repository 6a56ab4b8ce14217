//! The boat folder's texts, read into values.
//!
//! A boat is a folder a person can read, edit and keep under version control: `boat.toml` says what is wanted,
//! `offsets.csv` holds the table as printed on the plan, and there may be `marks.csv`, the marks the builder has pinned,
//! `boards.csv`, the timber in the rack, and `nails.csv`, the nails and roves to be had. What things cost stands in
//! `rates.toml` and is read by itself ([`read_rates`]): no plan depends on it. A repair has a folder of its own
//! ([`read_repair`]), and points taken off a standing hull a list ([`read_taken`]). `docs/boat-folder.md` is the form of each.
//! No file is opened here: the program hands over the texts.
//!
//! What is read is what stands there: what is left out gets a default that the documents tell, what is not understood is an
//! error with its line, and no value outside of its stated range goes on.

mod boards;
mod boat;
mod columns;
mod crown;
mod fastenings;
mod interior;
mod loads;
mod marks;
mod nails;
mod parts;
mod planking;
mod problem;
mod rates;
mod repair;
mod section;
mod settled;
mod taken;
mod timbers;
pub mod woods;

pub use columns::{ListError, ListProblem};
pub use loads::loads_as_typed;
pub use problem::{BoatError, BoatProblem};
pub use rates::{RatesError, read_rates};
pub use repair::{RepairFolderError, RepairTexts, read_repair};
pub use taken::read_taken;

use crate::fastenings::stock::Item;
use crate::findings::Finding;
use crate::offsets::{Expected, Table, TableError, read_table};
use crate::spec::{EndSpec, Spec};
pub use crate::stock::Board;
use crate::units::Notation;

/// The form of boat.toml that this program reads: its `strakewise = 1`.
pub const VERSION: i64 = 1;

/// The texts of a boat folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct BoatTexts {
    /// `boat.toml`.
    pub toml: String,
    /// `offsets.csv`.
    pub offsets: String,
    /// `marks.csv`, if there is one.
    pub marks: Option<String>,
    /// `boards.csv`, if there is one.
    pub boards: Option<String>,
    /// `nails.csv`, if there is one.
    pub nails: Option<String>,
}

/// Everything the planning starts from.
#[derive(Debug, Clone, PartialEq)]
pub struct BoatInput {
    /// `boat.toml`.
    pub spec: Spec,
    /// `offsets.csv`.
    pub table: Table,
    /// `marks.csv`, in the order of the file.
    pub pins: Vec<Pin>,
    /// `boards.csv`, in the order of the file.
    pub boards: Vec<Board>,
    /// `nails.csv`, in the order of the file.
    pub nails: Vec<Item>,
    /// What can be read but should be looked at.
    pub findings: Vec<Finding>,
}

/// A mark the builder has pinned.
#[derive(Debug, Clone, PartialEq)]
pub struct Pin {
    /// 0 (rabbet) to n (sheer).
    pub land: u32,
    /// A station's name as in the table, or `stem`, `bow transom`, `transom`, `sternpost`.
    pub station: String,
    /// Along the mould from the rabbet, mm.
    pub girth: f64,
    /// Line of `marks.csv`, from 1.
    pub line: usize,
}

/// Why a folder cannot be read. Each names its file, the place in it, the value, the limit and what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FolderError {
    /// `boat.toml`.
    #[error(transparent)]
    Boat(#[from] BoatError),
    /// `offsets.csv`.
    #[error(transparent)]
    Table(#[from] TableError),
    /// `marks.csv`, `boards.csv` or `nails.csv`.
    #[error(transparent)]
    List(#[from] ListError),
}

/// Reads a boat folder.
///
/// # Errors
/// [`FolderError`] with the first trouble found, `boat.toml` first, then `offsets.csv`, `marks.csv`, `boards.csv`, `nails.csv`.
pub fn read(texts: &BoatTexts) -> Result<BoatInput, FolderError> {
    let boat::Boat { mut spec, spacing, settled, crowns, stock_keys, stations } = boat::read(&texts.toml)?;
    let expected = Expected {
        lengths: spec.lengths,
        spacing,
        diagonals: &spec.lines.diagonals,
        transom: matches!(spec.aft, EndSpec::Transom(_)),
        bow_transom: matches!(spec.fore, EndSpec::Transom(_)),
    };
    let (mut table, mut findings) = read_table(&texts.offsets, &expected)?;
    settled::apply(settled, &mut table, spec.lengths)?;
    crown::check(&crowns, &table, spec.lengths)?;
    interior::check(&stations, &table)?;
    let pins = texts.marks.as_deref().map_or(Ok(Vec::new()), |text| marks::read(text, &spec, &table))?;
    let boards = texts.boards.as_deref().map_or(Ok(Vec::new()), |text| boards::read(text, spec.lengths))?;
    findings.extend(boards::other_wood(&boards, &spec.planking.wood.name));
    let (lengths, text) = (spec.lengths, texts.nails.as_deref());
    let nails = text.map_or(Ok(Vec::new()), |text| nails::read(text, lengths, &mut spec.fastenings, &stock_keys))?;
    Ok(BoatInput { spec, table, pins, boards, nails, findings })
}

/// A range as a message gives it: `3 mm to 50 mm`.
fn range_said(lengths: Notation, [least, most]: [f64; 2]) -> String {
    format!("{} to {}", lengths.said(least), lengths.said(most))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::taken_off::{On, Part};

    fn corncrake(more: &str) -> BoatTexts {
        let toml = include_str!("../../../../boats/corncrake/boat.toml");
        BoatTexts {
            toml: format!("{toml}\n{more}"),
            offsets: include_str!("../../../../boats/corncrake/offsets.csv").to_owned(),
            ..BoatTexts::default()
        }
    }

    fn refused(texts: &BoatTexts) -> String {
        read(texts).map(|_| ()).unwrap_err().to_string()
    }

    /// Two marks at one height are refused whichever of them comes first, and the line that is named is the other's.
    #[test]
    fn marks_at_one_height_are_refused_in_either_order() {
        for (marks, said) in [
            (
                "4,3,300\n5,3,300\n",
                "land 5 at 11 13/16 in from the rabbet is not above land 4 at 11 13/16 in (line 2) on",
            ),
            (
                "5,3,300\n4,3,300\n",
                "land 5 at 11 13/16 in (line 2) from the rabbet is not above land 4 at 11 13/16 in on",
            ),
            (
                "5,3,290\n4,3,300\n",
                "land 5 at 11 7/16 in (line 2) from the rabbet is not above land 4 at 11 13/16 in on",
            ),
        ] {
            let marks = Some(format!("land,station,girth_mm\n{marks}"));
            let found = refused(&BoatTexts { marks, ..corncrake("") });
            assert!(found.starts_with("marks.csv, line 3, “girth”") && found.contains(said), "{found}\n{said}");
        }
    }

    /// What is taken instead of an entry is held to the same limits as an entry, and no entry is settled twice.
    #[test]
    fn settled_entries_keep_to_what_an_entry_may_be() {
        let entry = |row: &str, take: &str| {
            format!("[[entries]]\nrow = \"{row}\"\nstation = \"3\"\ntake = \"{take}\"\nreason = \"read again\"\n")
        };
        for (more, said) in [
            (entry("half-breadth sheer", "-0-1-0"), "entries, item 1.take: “-1 in” is out of range: 0 in to "),
            (entry("half-breadth sheer", "90-0-0"), "entries, item 1.take: “90-0-0” is out of range: 0 in to "),
            (entry("height sheer", "0-2-0"), "the sheer at 2 in would not be above the rabbet at 3 1/8 in there"),
            (
                entry("height sheer", "1-9-5") + &entry("Height Sheer", "1-9-4"),
                "entries, item 2.station: line 220 settles this entry already",
            ),
        ] {
            let texts = corncrake(&more);
            let line = 1 + texts.toml.lines().position(|l| l == "[[entries]]").unwrap();
            let found = refused(&texts);
            assert!(found.contains(&said.replace("line 220", &format!("line {line}"))), "{found}\n{said}");
        }
        // Both may have been wrong: what counts is how they stand when both are settled.
        let both = entry("height sheer", "0-3-0") + &entry("height rabbet", "0-2-0");
        let table = read(&corncrake(&both)).unwrap().table;
        assert_eq!(table.settled(Notation::FeetInchesEighths).len(), 2);
    }

    /// Two loads of one name are never aboard together, whatever company they are listed with.
    #[test]
    fn loads_of_one_name_are_never_aboard_together() {
        let load = |when: &str| {
            format!(
                "[[loads]]\nname = \"anchor\"\nmass = 8\nstation = \"3\"\nheight = \"0-6-0\"\nside = \"port\"\n{when}\n"
            )
        };
        for (a, b, apart) in [
            ("when = [\"one\"]", "when = [\"two\"]", true),
            ("", "when = [\"two\"]", false),
            ("when = [\"one\"]", "", false),
            ("when = [\"one\", \"two\"]", "when = [\"two\", \"three\"]", false),
        ] {
            let texts = corncrake(&(load(a) + &load(b)));
            match read(&texts) {
                Ok(input) => {
                    assert!(apart, "{a} {b}");
                    // On the centreline is on no side.
                    let out = input.spec.loads.iter().find(|l| l.name == "anchor").unwrap().out;
                    assert!(out == 0.0 && out.is_sign_positive());
                }
                Err(why) => assert!(!apart && why.to_string().contains("anchor"), "{a} {b}: {why}"),
            }
        }
    }

    /// Looking each key's line up from the beginning of the text, these took minutes.
    #[test]
    fn very_many_keys_are_read_or_refused() {
        let many = |one: &dyn Fn(u32) -> String| (0..20_000).map(one).collect::<String>();
        let diagonals = many(&|i| format!("d{i} = {{ height = 500, below_level = 40 }}\n"));
        let found = refused(&corncrake(&format!("[lines.diagonals]\n{diagonals}")));
        assert!(found.contains("20000; 0 to 40 are allowed"), "{found}");
        let point = format!("[bow_transom]\nfoot = [{}]\n", "0,\n".repeat(100_000));
        let toml = corncrake("").toml.replace("[stem]", "[moulds.stem]") + &point;
        assert!(refused(&BoatTexts { toml, ..corncrake("") }).contains("a point"));
        let loads = many(&|i| format!("[[loads]]\nname = \"n{i}\"\n"));
        assert_eq!(loads_as_typed(&loads).map(|l| l.len()), Some(20_000));
        let woods = many(&|i| format!("wood.w{i} = {{ per_m3 = 1, waste = 1 }}\n"));
        let found = read_rates(&format!("currency = \"pounds\"\n{woods}")).unwrap_err().to_string();
        assert!(found.contains("20000; 0 to 200 are allowed"), "{found}");
    }

    #[test]
    fn she_has_one_stem_however_it_is_spelt() {
        let taken = "station,at,mark,out,up\nStem,-20,1,15,400\nstem,-10,2,15,300\n1,0,1,300,400\n";
        let sections = read_taken(taken, Notation::Mm, On::Surface).unwrap();
        assert_eq!(
            sections.iter().map(|s| (s.part, s.points.len())).collect::<Vec<_>>(),
            [(Part::Stem, 2), (Part::Station, 1)]
        );
    }
}
