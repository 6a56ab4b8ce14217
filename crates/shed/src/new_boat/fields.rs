//! What is asked of a new boat, field by field: what it means, where it stands in boat.toml, and an example.
//!
//! The examples are one boat, invented, so that somebody who copies them all has a boat that can be planned.

use std::collections::BTreeMap;

/// How a field is filled in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// One line of words.
    Words,
    /// A length, or a number.
    Length,
    /// Along and up: two lengths.
    Point,
    /// A point to a line.
    Points,
    /// A choice: what is written in boat.toml, and its words.
    Choice(&'static [(&'static str, &'static str)]),
    /// A table's text.
    Table,
}

/// When a field is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum When {
    Always,
    /// Only where that choice has been made.
    Chosen(&'static str, &'static str),
}

/// One field.
#[derive(Debug, Clone, Copy)]
pub struct Field {
    /// As it stands in boat.toml with its section, `planking.lap`; `table` for offsets.csv; what only chooses begins with `which`.
    pub key: &'static str,
    pub label: &'static str,
    /// In a line.
    pub means: &'static str,
    pub example: &'static str,
    pub kind: Kind,
    pub when: When,
    /// It may be left empty.
    pub may_be_empty: bool,
}

/// Fields that are shown together.
pub struct Step {
    pub title: &'static str,
    pub fields: &'static [Field],
}

const fn field(
    key: &'static str,
    label: &'static str,
    means: &'static str,
    example: &'static str,
    kind: Kind,
) -> Field {
    Field { key, label, means, example, kind, when: When::Always, may_be_empty: false }
}

const fn may(field: Field) -> Field {
    Field { may_be_empty: true, ..field }
}

const fn with(key: &'static str, chosen: &'static str, field: Field) -> Field {
    Field { when: When::Chosen(key, chosen), ..field }
}

const STEM: &str = "stem";
const BOW: &str = "bow_transom";
const TRANSOM: &str = "transom";
const POST: &str = "sternpost";
/// Which end she has.
pub const FORE: &str = "which.fore";
pub const AFT: &str = "which.aft";
/// How lengths are written.
pub const LENGTHS: &str = "lengths";
/// The table's text.
pub const TABLE: &str = "table";

/// Everything that is asked, in order.
pub const STEPS: [Step; 5] = [
    Step {
        title: "Who she is",
        fields: &[
            field("name", "Name", "Stands on every page of her book; up to 40 letters.", "Whinchat", Kind::Words),
            may(field("kind", "Kind", "What she is, in a few words.", "clinker skiff, 3.2 m", Kind::Words)),
            field(
                LENGTHS,
                "Lengths",
                "What a bare number means, and how her book is printed. Any length may still be typed in another notation with its unit beside it.",
                "mm",
                Kind::Choice(&[
                    ("mm", "millimetres: 394"),
                    ("in", "inches: 15 1/2"),
                    ("ft-in-8ths", "feet-inches-eighths: 1-3-4"),
                ]),
            ),
        ],
    },
    Step {
        title: "Her bow",
        fields: &[
            field(
                FORE,
                "Planks end forward on",
                "A pram has a transom there.",
                STEM,
                Kind::Choice(&[(STEM, "a stem"), (BOW, "a bow transom")]),
            ),
            with(
                FORE,
                STEM,
                field(
                    "stem.half_siding",
                    "Stem, half siding",
                    "Half its thickness at the rabbet.",
                    "16",
                    Kind::Length,
                ),
            ),
            with(
                FORE,
                STEM,
                field(
                    "stem.rabbet",
                    "Stem, points of its rabbet",
                    "A point to a line: how far aft of the first station (less than 0: forward of it), a comma, how high above the base line. From \
                     the head at the sheer down to the fore-foot.",
                    "-300, 600\n-290, 480\n-262, 360\n-210, 250\n-130, 165\n-60, 126",
                    Kind::Points,
                ),
            ),
            with(
                FORE,
                BOW,
                field(
                    "bow_transom.foot",
                    "Bow transom, foot",
                    "Where its fore face meets the keel's rabbet: aft of the first station, a comma, height above base.",
                    "-179, 239",
                    Kind::Point,
                ),
            ),
            with(
                FORE,
                BOW,
                field("bow_transom.head", "Bow transom, head", "The same about the sheer.", "-300, 500", Kind::Point),
            ),
            with(
                FORE,
                BOW,
                field(
                    "lines.keel_half_siding",
                    "Keel, half siding",
                    "Half its thickness at the rabbet.",
                    "22",
                    Kind::Length,
                ),
            ),
        ],
    },
    Step {
        title: "Her stern",
        fields: &[
            field(
                AFT,
                "Planks end aft on",
                "A double-ender has a sternpost there.",
                TRANSOM,
                Kind::Choice(&[(TRANSOM, "a transom"), (POST, "a sternpost")]),
            ),
            with(
                AFT,
                TRANSOM,
                field(
                    "transom.foot",
                    "Transom, foot",
                    "Where its after face meets the keel's rabbet: aft of the first station, a comma, height above base.",
                    "2843, 165",
                    Kind::Point,
                ),
            ),
            with(
                AFT,
                TRANSOM,
                field("transom.head", "Transom, head", "The same about the sheer.", "2930, 505", Kind::Point),
            ),
            with(
                AFT,
                POST,
                field(
                    "sternpost.half_siding",
                    "Sternpost, half siding",
                    "Half its thickness at the rabbet.",
                    "16",
                    Kind::Length,
                ),
            ),
            with(
                AFT,
                POST,
                field(
                    "sternpost.rabbet",
                    "Sternpost, points of its rabbet",
                    "As the stem's, from the head at the sheer down to the heel.",
                    "2980, 560\n2970, 450\n2940, 340\n2890, 230\n2840, 165",
                    Kind::Points,
                ),
            ),
        ],
    },
    Step {
        title: "Her planking",
        fields: &[
            field(
                "lines.drawn_to",
                "Lines drawn to",
                "The face of the planking that the table's figures give: her plan says it.",
                "inside of plank",
                Kind::Choice(&[("inside of plank", "the inside"), ("outside of plank", "the outside")]),
            ),
            field("planking.thickness", "Plank", "How thick the planks are.", "8", Kind::Length),
            may(field(
                "planking.lap",
                "Lap",
                "How far one plank lies over the next. Empty: twice the plank.",
                "16",
                Kind::Length,
            )),
            may(field(
                "planking.strakes",
                "Strakes a side",
                "How many planks on each side. Empty: as few as the limits and your boards allow.",
                "10",
                Kind::Length,
            )),
            may(field(
                "planking.gain",
                "Gain",
                "Length over which a land runs out flush at an end. Empty: 12 in.",
                "250",
                Kind::Length,
            )),
            with(
                AFT,
                TRANSOM,
                may(field(
                    "planking.transom_gain",
                    "Gain at a transom",
                    "The same at a transom. Empty: as the gain.",
                    "200",
                    Kind::Length,
                )),
            ),
        ],
    },
    Step {
        title: "Her table of offsets",
        fields: &[
            may(field(
                "lines.spacing",
                "Stations apart",
                "Where all are alike. Empty: the table has a row \u{201c}at\u{201d}.",
                "600",
                Kind::Length,
            )),
            field(
                TABLE,
                "Table",
                "Paste it from a spreadsheet or a CSV file, stations across or down. A cell may be left empty. A transom's column comes last and is called \
                 \u{201c}transom\u{201d}.",
                EXAMPLE_TABLE,
                Kind::Table,
            ),
        ],
    },
];

/// The example's table.
const EXAMPLE_TABLE: &str = "row,1,2,3,4,5,transom
at,0,600,1200,1800,2400,
height sheer,552,487,452,443,459,500
height rabbet,112,100,97,105,130,165
half-breadth sheer,196,430,545,574,545,468
half-breadth waterline 180,60,220,334,359,265,102
half-breadth waterline 260,106,309,441,480,413,276
half-breadth waterline 340,143,374,510,550,496,376
half-breadth waterline 420,171,415,542,572,539,439
";

/// All fields.
pub fn all() -> impl Iterator<Item = &'static Field> {
    STEPS.iter().flat_map(|s| s.fields)
}

/// What has been typed, by key.
#[derive(Debug, Clone, Default)]
pub struct Typed(pub BTreeMap<String, String>);

impl Typed {
    /// As typed, without the spaces about it; a choice not made yet is the first.
    pub fn get(&self, key: &str) -> &str {
        let typed = self.0.get(key).map_or("", |t| t.trim());
        match all().find(|f| f.key == key).map(|f| f.kind) {
            Some(Kind::Choice(of)) => of.iter().find(|c| c.0 == typed).map_or(of[0].0, |c| c.0),
            _ => typed,
        }
    }

    /// Whether a field is asked for, as the choices stand.
    pub fn wants(&self, field: &Field) -> bool {
        match field.when {
            When::Always => true,
            When::Chosen(key, chosen) => self.get(key) == chosen,
        }
    }
}
