//! The planned boat for other people's programs: solids (glTF, STL), flat shapes (DXF for a router, SVG) and tables (CSV).
//!
//! Everything in them comes from the plan; each form has one small writer. What is on paper is `paper`'s; here is what others go
//! on working with, so that each file says its unit and keeps its parts apart by name. What each holds, its frame and how near
//! it is to the plan: `docs/files.md`.

mod arcs;
mod csv;
mod flats;
mod glb;
mod planks;
mod router;
mod solid;
mod stl;
mod tables;
mod wood;

pub use arcs::{Vertex, WITHIN, fitted};
pub use csv::cell;
pub use solid::{Solid, Stuff};

use crate::drawing::typeface::{Type, TypeError};
use crate::ink;
use crate::paper::write_svg;
use crate::plan::Plan;

/// A form of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// All of her as glTF, one file.
    Glb,
    /// Each solid by itself, and her outside.
    Stl,
    /// Flat shapes for a router.
    Dxf,
    /// The same for a screen or a plotter.
    Svg,
    /// Tables.
    Csv,
}

impl Kind {
    /// All of them, in the order in which they are written.
    pub const ALL: [Kind; 5] = [Kind::Glb, Kind::Stl, Kind::Dxf, Kind::Svg, Kind::Csv];
}

/// A file to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct File {
    /// Its name with its ending: small letters, digits and hyphens; no two are the same, and none is that of a boat's own.
    pub name: String,
    /// All of it.
    pub bytes: Vec<u8>,
}

/// The files of the kinds asked for.
///
/// # Errors
/// If the type for the drawings' words is not there, which does not depend on the boat.
pub fn files(plan: &Plan, kinds: &[Kind]) -> Result<Vec<File>, TypeError> {
    let wants = |kind: Kind| kinds.contains(&kind);
    let mut found: Vec<File> = Vec::new();
    if wants(Kind::Glb) || wants(Kind::Stl) {
        let solids = solids(plan);
        if wants(Kind::Glb) && !solids.is_empty() {
            put(&mut found, "boat", "glb", glb::write(&plan.spec.name, &solids));
        }
        if wants(Kind::Stl) {
            solids.iter().for_each(|s| put(&mut found, &s.name, "stl", stl::write(s)));
            let outside = ink::closed(&plan.strakes, &plan.sections, &plan.spec).faces;
            if !outside.is_empty() {
                put(&mut found, "outside", "stl", stl::write_faces("her outside, closed at the sheer", &outside));
            }
        }
    }
    if wants(Kind::Dxf) || wants(Kind::Svg) {
        let t = Type::embedded()?;
        let flats = flats::flats(&t, plan);
        if wants(Kind::Dxf) {
            flats.iter().for_each(|f| put(&mut found, f.name, "dxf", router::write(&f.sheet).into_bytes()));
        }
        if wants(Kind::Svg) {
            flats.iter().for_each(|f| put(&mut found, f.name, "svg", write_svg(&t, &f.sheet).into_bytes()));
        }
    }
    if wants(Kind::Csv) {
        let lengths = plan.spec.lengths;
        tables::tables(plan).iter().for_each(|t| put(&mut found, t.name, "csv", csv::write(t, lengths).into_bytes()));
    }
    Ok(found)
}

/// Her parts as closed solids: planks of both sides (of a boat that is planned for one side alone, that side's), then keel, stem
/// and transoms, timbers, moulds.
#[must_use]
pub fn solids(plan: &Plan) -> Vec<Solid> {
    let mut found = Vec::new();
    for plank in planks::planks(plan) {
        let name = |side: &str| format!("{} {side}", plank.name);
        let wanted = |side: &str| plan.side.is_none_or(|only| only == side);
        if wanted("port") {
            found.push(plank.mirrored(name("port")));
        }
        if wanted("starboard") {
            found.push(Solid { name: name("starboard"), ..plank.clone() });
        }
    }
    found.extend(wood::backbone(plan));
    found.extend(wood::timbers(plan));
    found.extend(wood::moulds(plan));
    found
}

/// Adds a file named after what is in it; a name taken already gets a number.
fn put(files: &mut Vec<File>, what: &str, ending: &str, bytes: Vec<u8>) {
    let letters: String =
        what.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { ' ' }).collect();
    let single = |w: &str| w.len() == 1 && w.chars().all(|c| c.is_ascii_digit());
    let words: Vec<String> =
        letters.split_whitespace().map(|w| if single(w) { format!("0{w}") } else { w.to_owned() }).collect();
    let plain: String = words.join("-").chars().take(LONGEST_NAME).collect();
    let numbered = (2..).map(|i| format!("{plain}-{i}"));
    let named = std::iter::once(plain.clone()).chain(numbered).map(|name| format!("{name}.{ending}"));
    let free = |name: &String| !files.iter().any(|f| f.name == *name);
    let name = named.into_iter().find(free).unwrap_or_default();
    files.push(File { name, bytes });
}

/// Most letters of a file's name.
const LONGEST_NAME: usize = 60;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_named_after_what_is_in_them_and_no_two_are_one() {
        let mut files = Vec::new();
        for what in ["strake 3 port", "mould ½ A", "mould A", "strake 12 starboard"] {
            put(&mut files, what, "stl", Vec::new());
        }
        let names: Vec<&str> = files.iter().map(|f| f.name.as_str()).collect();
        assert_eq!(names, ["strake-03-port.stl", "mould-a.stl", "mould-a-2.stl", "strake-12-starboard.stl"]);
    }
}
