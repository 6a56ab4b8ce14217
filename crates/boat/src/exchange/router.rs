//! A sheet to DXF for a router or a laser: AutoCAD 2000's form (AC1015), which says its unit and has arcs in its polylines.
//!
//! Every closed run is a closed LWPOLYLINE, every open one an open one, of straight lines and of arcs within 0.05 mm of it (`arcs`);
//! circles are circles. Each layer of the sheet keeps its name in capitals; all words stand on one layer, TEXT, so that they
//! are turned off at once. y runs up; one unit is 1 mm, and the header says so ($INSUNITS 4, $MEASUREMENT 1).
//!
//! The patterns' own DXF ([`crate::paper::write_dxf`]) is R12, which older programs read; what both need is shared.
//!
//! Source: the public description of the form, from memory; ezdxf's audit in the tests.

use super::arcs::fitted;
use crate::drawing::typeface::CAP_HEIGHT;
use crate::drawing::{Dash, Item, Layer, Outline, Sheet, Spot, Text};
use crate::paper::dxf::{INK, Pairs, ascii, colour_of, layer_name, line_type};
use crate::paper::plain;

/// The layer of all words.
const WORDS: &str = "TEXT";

/// Handles of what every file has; what is drawn follows from [`FIRST`] on.
const MODEL: u32 = 0x10;
const PAPER: u32 = 0x11;
const DICTIONARY: u32 = 0x12;
const GROUPS: u32 = 0x13;
const FIRST: u32 = 0x100;

/// Writes a sheet.
#[must_use]
pub fn write(sheet: &Sheet) -> String {
    let mut body = File { out: Pairs::default(), handle: FIRST, height: sheet.height };
    let layers: Vec<&Layer> = sheet.layers.iter().filter(|l| !l.items.is_empty()).collect();
    tables(&mut body, &layers);
    blocks(&mut body);
    body.out.section("ENTITIES");
    for layer in &layers {
        for item in &layer.items {
            body.item(&layer_name(layer.name), item);
        }
    }
    body.out.put(0, "ENDSEC");
    objects(&mut body.out);
    body.out.put(0, "EOF");
    // The header names the next free handle, so it is written last.
    let mut whole = Pairs::default();
    header(&mut whole, sheet, body.handle);
    whole.append(body.out);
    whole.finish()
}

fn header(out: &mut Pairs, sheet: &Sheet, next: u32) {
    out.put(
        999,
        format_args!("{}: full size, lengths in mm (one unit is 1 mm). Written by strakewise.", ascii(&sheet.title)),
    );
    out.section("HEADER");
    out.put(9, "$ACADVER");
    out.put(1, "AC1015");
    out.put(9, "$DWGCODEPAGE");
    out.put(3, "ANSI_1252");
    out.put(9, "$HANDSEED");
    out.put(5, format_args!("{next:X}"));
    for (name, corner) in [("$EXTMIN", [0.0, 0.0]), ("$EXTMAX", [sheet.width, sheet.height])] {
        out.put(9, name);
        out.spot(10, corner);
    }
    // Millimetres; metric; decimal lengths, four places; broken lines at their own size.
    for (name, code, value) in [
        ("$INSUNITS", 70, "4"),
        ("$MEASUREMENT", 70, "1"),
        ("$LUNITS", 70, "2"),
        ("$LUPREC", 70, "4"),
        ("$LTSCALE", 40, "1.0"),
    ] {
        out.put(9, name);
        out.put(code, value);
    }
    out.put(0, "ENDSEC");
    out.section("CLASSES");
    out.put(0, "ENDSEC");
}

/// A file being written.
struct File {
    out: Pairs,
    /// The next free one.
    handle: u32,
    /// Of the sheet, whose y runs down.
    height: f64,
}

impl File {
    /// Begins an entry with its own handle, owned by another.
    fn begin(&mut self, kind: &str, owner: u32) -> u32 {
        let handle = self.handle;
        self.handle += 1;
        self.out.put(0, kind);
        self.out.put(if kind == "DIMSTYLE" { 105 } else { 5 }, format_args!("{handle:X}"));
        self.out.put(330, format_args!("{owner:X}"));
        handle
    }

    /// A table of entries, each its name and what else it says.
    fn table(&mut self, name: &str, entries: &[Entry<'_>]) {
        let handle = self.handle;
        self.handle += 1;
        self.out.put(0, "TABLE");
        self.out.put(2, name);
        self.out.put(5, format_args!("{handle:X}"));
        self.out.put(330, "0");
        self.out.put(100, "AcDbSymbolTable");
        self.out.put(70, entries.len());
        if name == "DIMSTYLE" {
            self.out.put(100, "AcDbDimStyleTable");
        }
        for entry in entries {
            let kind = if name == "BLOCK_RECORD" { entry.handle } else { None };
            match kind {
                Some(fixed) => {
                    self.out.put(0, name);
                    self.out.put(5, format_args!("{fixed:X}"));
                    self.out.put(330, format_args!("{handle:X}"));
                }
                None => {
                    self.begin(name, handle);
                }
            }
            self.out.put(100, "AcDbSymbolTableRecord");
            self.out.put(100, entry.class);
            self.out.put(2, &entry.name);
            for (code, value) in &entry.says {
                self.out.put(*code, value);
            }
        }
        self.out.put(0, "ENDTAB");
    }

    fn up(&self, [x, y]: Spot) -> Spot {
        [x, self.height - y]
    }

    fn entity(&mut self, kind: &str, layer: &str, dash: Dash, class: &str) {
        self.begin(kind, MODEL);
        self.out.put(100, "AcDbEntity");
        self.out.put(8, layer);
        if dash != Dash::Solid {
            self.out.put(6, line_type(dash));
        }
        self.out.put(100, class);
    }

    fn item(&mut self, layer: &str, item: &Item) {
        let shape = match item {
            Item::Text(text) => return self.text(text),
            Item::Shape(shape) => shape,
        };
        let Some(stroke) = shape.stroke else { return };
        match &shape.outline {
            Outline::Circle { at, radius } => {
                let at = self.up(*at);
                self.entity("CIRCLE", layer, stroke.dash, "AcDbCircle");
                self.out.spot(10, at);
                self.out.number(40, *radius);
            }
            Outline::Line(points) | Outline::Polygon(points) => {
                let closed = matches!(shape.outline, Outline::Polygon(_));
                let points: Vec<Spot> = points.iter().map(|p| self.up(*p)).collect();
                let run = fitted(&points, closed);
                if run.len() < 2 {
                    return;
                }
                self.entity("LWPOLYLINE", layer, stroke.dash, "AcDbPolyline");
                self.out.put(90, run.len());
                self.out.put(70, u8::from(closed));
                self.out.put(43, "0.0");
                for vertex in run {
                    self.out.number(10, vertex.at[0]);
                    self.out.number(20, vertex.at[1]);
                    if vertex.bulge != 0.0 {
                        // A ten-thousandth of a bulge moves the middle of a 4 m arc by a fifth of a mm.
                        self.out.put(42, format_args!("{:.12}", vertex.bulge));
                    }
                }
            }
        }
    }

    fn text(&mut self, text: &Text) {
        let words = ascii(&plain(text));
        if words.trim().is_empty() || text.width <= 0.0 {
            return;
        }
        let size = text.runs.iter().map(|r| r.size).fold(0.0, f64::max);
        let (sin, cos) = text.rotation.sin_cos();
        let [x, y] = self.up(text.at);
        self.entity("TEXT", WORDS, Dash::Solid, "AcDbText");
        self.out.spot(10, [x, y]);
        self.out.number(40, CAP_HEIGHT * size);
        self.out.put(1, words);
        self.out.number(50, text.rotation.to_degrees());
        self.out.put(7, "STANDARD");
        // Set to fit between the two points.
        self.out.put(72, 5);
        self.out.spot(11, [x + text.width * cos, y + text.width * sin]);
        self.out.put(100, "AcDbText");
    }
}

/// An entry of a table.
struct Entry<'a> {
    name: String,
    class: &'a str,
    handle: Option<u32>,
    says: Vec<(u16, String)>,
}

impl<'a> Entry<'a> {
    fn new(class: &'a str, name: impl Into<String>, says: Vec<(u16, String)>) -> Self {
        Entry { name: name.into(), class, handle: None, says }
    }
}

fn says<const N: usize>(pairs: [(u16, &str); N]) -> Vec<(u16, String)> {
    pairs.map(|(code, value)| (code, value.to_owned())).into()
}

fn tables(file: &mut File, layers: &[&Layer]) {
    file.out.section("TABLES");
    file.table("VPORT", &[]);
    let flat = |name: &str| {
        Entry::new("AcDbLinetypeTableRecord", name, says([(70, "0"), (3, ""), (72, "65"), (73, "0"), (40, "0.0")]))
    };
    let broken = [Dash::Hidden, Dash::Centre].map(|dash| {
        let pattern = dash.pattern();
        let mut says = says([(70, "0"), (3, "Broken line"), (72, "65")]);
        says.push((73, pattern.len().to_string()));
        says.push((40, format!("{:?}", pattern.iter().sum::<f64>())));
        for (i, length) in pattern.iter().enumerate() {
            says.push((49, format!("{:?}", if i % 2 == 0 { *length } else { -length })));
            says.push((74, "0".to_owned()));
        }
        Entry::new("AcDbLinetypeTableRecord", line_type(dash), says)
    });
    let lines: Vec<Entry<'_>> = ["BYBLOCK", "BYLAYER", "CONTINUOUS"].map(flat).into_iter().chain(broken).collect();
    file.table("LTYPE", &lines);
    let layer = |name: String, colour: u16| {
        let mut says = says([(70, "0")]);
        says.push((62, colour.to_string()));
        says.push((6, "CONTINUOUS".to_owned()));
        Entry::new("AcDbLayerTableRecord", name, says)
    };
    let mut named = vec![layer("0".to_owned(), INK), layer(WORDS.to_owned(), INK)];
    let shapes = layers.iter().filter(|l| l.items.iter().any(|i| matches!(i, Item::Shape(_))));
    named.extend(shapes.map(|l| layer(layer_name(l.name), colour_of(l))));
    file.table("LAYER", &named);
    let style = says([(70, "0"), (40, "0.0"), (41, "1.0"), (50, "0.0"), (71, "0"), (42, "3.0"), (3, "txt"), (4, "")]);
    file.table("STYLE", &[Entry::new("AcDbTextStyleTableRecord", "STANDARD", style)]);
    file.table("VIEW", &[]);
    file.table("UCS", &[]);
    file.table("APPID", &[Entry::new("AcDbRegAppTableRecord", "ACAD", says([(70, "0")]))]);
    file.table("DIMSTYLE", &[Entry::new("AcDbDimStyleTableRecord", "STANDARD", says([(70, "0")]))]);
    let record =
        |name: &str, handle| Entry { handle: Some(handle), ..Entry::new("AcDbBlockTableRecord", name, Vec::new()) };
    file.table("BLOCK_RECORD", &[record("*Model_Space", MODEL), record("*Paper_Space", PAPER)]);
    file.out.put(0, "ENDSEC");
}

fn blocks(file: &mut File) {
    file.out.section("BLOCKS");
    for (name, owner) in [("*Model_Space", MODEL), ("*Paper_Space", PAPER)] {
        for (kind, class) in [("BLOCK", "AcDbBlockBegin"), ("ENDBLK", "AcDbBlockEnd")] {
            file.begin(kind, owner);
            file.out.put(100, "AcDbEntity");
            if owner == PAPER {
                file.out.put(67, 1);
            }
            file.out.put(8, "0");
            file.out.put(100, class);
            if kind == "BLOCK" {
                file.out.put(2, name);
                file.out.put(70, 0);
                file.out.spot(10, [0.0, 0.0]);
                file.out.put(3, name);
                file.out.put(1, "");
            }
        }
    }
    file.out.put(0, "ENDSEC");
}

/// The dictionary that every file must have.
fn objects(out: &mut Pairs) {
    out.section("OBJECTS");
    for (handle, owner, entry) in [(DICTIONARY, 0, Some(("ACAD_GROUP", GROUPS))), (GROUPS, DICTIONARY, None)] {
        out.put(0, "DICTIONARY");
        out.put(5, format_args!("{handle:X}"));
        out.put(330, format_args!("{owner:X}"));
        out.put(100, "AcDbDictionary");
        out.put(281, 1);
        if let Some((name, of)) = entry {
            out.put(3, name);
            out.put(350, format_args!("{of:X}"));
        }
    }
    out.put(0, "ENDSEC");
}
