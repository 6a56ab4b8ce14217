//! nails.csv: the nails, roves and screws the builder can lay hands on, and how they are packed.

use super::columns::{Column, List, ListError, ListProblem};
use super::fastenings::{LENGTHS, ROVE_HEIGHTS, ROVE_METAL, ROVES, SCREWS, StockKey};
use super::{BoatError, FolderError};
use crate::fastenings::stock::{Item, Kind, Pack, SAME};
use crate::offsets::sheet::Record;
use crate::spec::FasteningSpec;
use crate::units::{GAUGES, Notation, POUND};

const FILE: &str = "nails.csv";

const COLUMNS: [Column; 9] = [
    Column { name: "kind", required: true, length: false },
    Column { name: "gauge", required: true, length: false },
    Column { name: "length", required: false, length: true },
    Column { name: "diameter", required: false, length: true },
    Column { name: "height", required: false, length: true },
    Column { name: "thickness", required: false, length: true },
    Column { name: "pack", required: false, length: false },
    Column { name: "in_hand", required: false, length: false },
    Column { name: "notes", required: false, length: false },
];

/// Pieces in a pack; its mass, kg; packs in hand.
const PIECES: [u32; 2] = [1, 100_000];
const MASSES: [f64; 2] = [0.01, 100.0];
const IN_HAND: [u32; 2] = [0, 10_000];

/// Reads the list and lets it say what boat.toml does not: the lengths of nails of the boat's gauge, and her rove.
pub fn read(
    text: &str,
    lengths: Notation,
    spec: &mut FasteningSpec,
    keys: &[StockKey],
) -> Result<Vec<Item>, FolderError> {
    let list = List::read(FILE, &COLUMNS, text)?;
    let mut items: Vec<Item> = Vec::new();
    for record in &list.lines {
        let item = item(&list, record, lengths)?;
        let same = |i: &Item| {
            i.kind == item.kind
                && i.gauge == item.gauge
                && (item.kind == Kind::Rove || (i.size - item.size).abs() <= SAME)
        };
        if let Some(first) = items.iter().position(same) {
            let first = list.lines.get(first).map_or(0, |r| r.line);
            let what = match item.kind {
                Kind::Rove => format!("a rove for gauge {}", item.gauge),
                kind => format!("a {} of gauge {} and {}", kind.word(), item.gauge, lengths.said_fine(item.size)),
            };
            return Err(list.trouble(record, "kind", ListProblem::Twice { what, first }).into());
        }
        items.push(item);
    }
    settle(&items, spec, keys)?;
    Ok(items)
}

/// What the list says of the boat's own gauge goes into her settings.
fn settle(items: &[Item], spec: &mut FasteningSpec, keys: &[StockKey]) -> Result<(), FolderError> {
    let said_twice = |key: &str| -> Result<(), BoatError> {
        keys.iter().find(|k| k.key == key).map_or(Ok(()), |k| Err(k.trouble.clone()))
    };
    let mut gauges: Vec<u32> = items.iter().filter(|i| i.kind == Kind::Nail).map(|i| i.gauge).collect();
    gauges.sort_unstable();
    gauges.dedup();
    if !gauges.is_empty() {
        said_twice("nail_lengths")?;
        if !gauges.contains(&spec.gauge) {
            let known = gauges.iter().map(u32::to_string).collect::<Vec<_>>().join(", ");
            let problem = ListProblem::NoNails { gauge: spec.gauge, known };
            return Err(ListError { file: FILE, line: None, column: Some("gauge".to_owned()), problem }.into());
        }
        let nails = items.iter().filter(|i| i.kind == Kind::Nail && i.gauge == spec.gauge);
        spec.nail_lengths = nails.map(|i| i.size).collect();
        spec.nail_lengths.sort_by(f64::total_cmp);
    }
    if let Some(rove) = items.iter().find(|i| i.kind == Kind::Rove && i.gauge == spec.gauge) {
        said_twice("rove_diameter")?;
        spec.rove_diameter = rove.size;
        spec.rove_thickness = rove.thickness.unwrap_or(FasteningSpec::metal_of(rove.size));
        if let Some(height) = rove.height {
            said_twice("rove")?;
            spec.rove = height;
        }
    }
    Ok(())
}

fn item(list: &List, record: &Record, lengths: Notation) -> Result<Item, ListError> {
    let kind = match list.text(record, "kind")? {
        "nail" => Kind::Nail,
        "rove" => Kind::Rove,
        "screw" => Kind::Screw,
        found => return Err(list.trouble(record, "kind", ListProblem::Fastening { found: found.to_owned() })),
    };
    let gauges = if kind == Kind::Screw { SCREWS } else { [*GAUGES.start(), *GAUGES.end()] };
    let gauge = count(list, record, "gauge", gauges)?;
    // What belongs to the other kinds must stay empty.
    let (own, range, stray): (_, _, &[&str]) = match kind {
        Kind::Rove => ("diameter", ROVES, &["length"]),
        Kind::Nail | Kind::Screw => ("length", LENGTHS, &["diameter", "height", "thickness"]),
    };
    for column in stray {
        let found = list.text(record, column)?;
        if !found.is_empty() {
            let problem = ListProblem::Stray { found: found.to_owned(), kind: kind.word() };
            return Err(list.trouble(record, column, problem));
        }
    }
    let Some(size) = list.length_if_there(record, own, lengths, range)? else {
        return Err(list.trouble(record, own, ListProblem::EmptyCell));
    };
    let mut item = Item {
        kind,
        gauge,
        size,
        height: list.length_if_there(record, "height", lengths, ROVE_HEIGHTS)?,
        thickness: list.length_if_there(record, "thickness", lengths, ROVE_METAL)?,
        pack: pack(list, record)?,
        in_hand: 0,
    };
    holds_some(list, record, &item, lengths)?;
    if !list.text(record, "in_hand")?.is_empty() {
        if item.pack.is_none() {
            return Err(list.trouble(record, "in_hand", ListProblem::InHandOfNoPack));
        }
        item.in_hand = count(list, record, "in_hand", IN_HAND)?;
    }
    Ok(item)
}

/// A rove is wider than its nail, and a pack by mass holds one piece or more.
fn holds_some(list: &List, record: &Record, item: &Item, lengths: Notation) -> Result<(), ListError> {
    let side = crate::units::swg_diameter(item.gauge).unwrap_or(0.0);
    if item.kind == Kind::Rove && item.size <= side {
        let [found, side] = lengths.said_apart(item.size, side);
        return Err(list.trouble(record, "diameter", ListProblem::NarrowRove { found, side }));
    }
    match (item.pack, item.each()) {
        (Some(Pack::Mass(_)), None) => Err(list.trouble(record, "pack", ListProblem::ScrewsByMass)),
        (Some(pack), Some(each)) if pack.pieces(each) == 0 => {
            let found = list.text(record, "pack")?.to_owned();
            let each = format!("{:.1} g", each * 1000.0);
            Err(list.trouble(record, "pack", ListProblem::LightPack { found, each }))
        }
        _ => Ok(()),
    }
}

/// `250`, `1 kg`, `500 g`, `1 lb`, `8 oz`; empty: by the piece.
fn pack(list: &List, record: &Record) -> Result<Option<Pack>, ListError> {
    let text = list.text(record, "pack")?;
    if text.is_empty() {
        return Ok(None);
    }
    if text.bytes().all(|b| b.is_ascii_digit()) {
        return count(list, record, "pack", PIECES).map(|n| Some(Pack::Count(n)));
    }
    let bad = || list.trouble(record, "pack", ListProblem::Pack { found: text.to_owned() });
    let units = [("kg", 1.0), ("g", 0.001), ("lb", POUND), ("oz", POUND / 16.0)];
    let (number, unit) =
        units.into_iter().find_map(|(word, kg)| Some((text.strip_suffix(word)?.trim_end(), kg))).ok_or_else(bad)?;
    let plain = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let kg = number.parse::<f64>().ok().filter(|_| plain).ok_or_else(bad)? * unit;
    if (MASSES[0]..=MASSES[1]).contains(&kg) {
        return Ok(Some(Pack::Mass(kg)));
    }
    let range = "10 g to 100 kg".to_owned();
    Err(list.trouble(record, "pack", ListProblem::Range { found: text.to_owned(), range }))
}

fn count(list: &List, record: &Record, column: &str, [least, most]: [u32; 2]) -> Result<u32, ListError> {
    let text = list.text(record, column)?;
    let found = || text.to_owned();
    let value: i64 = text.parse().map_err(|_| list.trouble(record, column, ListProblem::Count { found: found() }))?;
    u32::try_from(value).ok().filter(|v| (least..=most).contains(v)).ok_or_else(|| {
        let range = format!("{least} to {most}");
        list.trouble(record, column, ListProblem::Range { found: found(), range })
    })
}
