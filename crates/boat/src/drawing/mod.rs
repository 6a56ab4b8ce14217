//! A finished sheet in mm: lines and text; knows no file format.
//!
//! Whatever goes on paper is composed here first, and every writer (PDF, SVG, DXF) sees only this. So a drawing looks
//! the same in all of them, and a test can measure it before any bytes are written.
//!
//! A sheet's x runs right and its y runs *down* from the top left corner, as one reads. Text is already set: each
//! [`Text`] holds its words run by run with their places, measured with the face they are drawn in ([`typeface`]),
//! so that a writer has nothing left to decide.

pub mod clip;
pub mod place;
pub mod table;
pub mod typeface;
pub mod words;

/// A place on a sheet, mm from its left and from its top edge.
pub type Spot = [f64; 2];

/// One finished sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Across, mm.
    pub width: f64,
    /// Down, mm.
    pub height: f64,
    /// What the sheet is, as its bookmark says.
    pub title: String,
    /// Whether a rule laid on the paper means anything.
    pub scale: Scale,
    /// What is drawn, the undermost first.
    pub layers: Vec<Layer>,
}

/// Whether a sheet is drawn to scale.
#[derive(Debug, Clone, PartialEq)]
pub enum Scale {
    /// Words and diagrams only.
    None,
    /// Some part of it can be measured: the sheet carries a box of this size, its corner nearest the sheet's origin at
    /// `at`. The test in `tests/it/paper.rs` finds the box in the finished bytes.
    Measured {
        /// Top left corner.
        at: Spot,
        /// Width and height, mm.
        size: [f64; 2],
    },
}

/// Things that belong together; exchange writers keep the name.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// A plain word: `ink`, `words`.
    pub name: &'static str,
    /// In drawing order.
    pub items: Vec<Item>,
}

/// One thing on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A shape, stroked, filled or both.
    Shape(Shape),
    /// Set text.
    Text(Text),
}

/// A shape and how it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// Its outline.
    pub outline: Outline,
    /// The pen, if it is stroked.
    pub stroke: Option<Stroke>,
    /// The tint, if it is filled.
    pub fill: Option<Colour>,
}

/// The outline of a shape. Curves come as dense points: on paper a chord of a few tenths of a mm is a curve.
#[derive(Debug, Clone, PartialEq)]
pub enum Outline {
    /// An open run of points.
    Line(Vec<Spot>),
    /// A closed run of points; the last is joined to the first.
    Polygon(Vec<Spot>),
    /// A circle.
    Circle {
        /// Centre.
        at: Spot,
        /// mm.
        radius: f64,
    },
}

/// A pen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// How wide.
    pub weight: Weight,
    /// Its colour.
    pub colour: Colour,
    /// Unbroken, or how broken.
    pub dash: Dash,
}

impl Stroke {
    /// An unbroken line.
    #[must_use]
    pub const fn solid(weight: Weight, colour: Colour) -> Self {
        Stroke { weight, colour, dash: Dash::Solid }
    }

    /// A broken line.
    #[must_use]
    pub const fn broken(weight: Weight, colour: Colour, dash: Dash) -> Self {
        Stroke { weight, colour, dash }
    }
}

/// Line widths: the series of ISO 128, each the next thinner times √2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// 0.13 mm: grids, hatching.
    Hair,
    /// 0.18 mm: ordinates, rulings.
    Fine,
    /// 0.25 mm: measures, rules of a table.
    Thin,
    /// 0.35 mm: lesser outlines.
    Medium,
    /// 0.5 mm: outlines.
    Thick,
    /// 0.7 mm: what the eye should find first.
    Heavy,
}

impl Weight {
    /// Width of the line, mm.
    #[must_use]
    pub const fn mm(self) -> f64 {
        match self {
            Weight::Hair => 0.13,
            Weight::Fine => 0.18,
            Weight::Thin => 0.25,
            Weight::Medium => 0.35,
            Weight::Thick => 0.5,
            Weight::Heavy => 0.7,
        }
    }
}

/// How a line is broken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Dash {
    /// Not at all.
    Solid,
    /// Short strokes: an edge behind something.
    Hidden,
    /// Long and short: a centre line or the batten line.
    Centre,
}

impl Dash {
    /// Stroke and gap lengths by turns, mm; empty for an unbroken line.
    #[must_use]
    pub const fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Hidden => &[1.6, 1.0],
            Dash::Centre => &[6.0, 1.2, 1.0, 1.2],
        }
    }
}

/// A colour as red, green and blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// This colour moved towards `other` by `share` (0 keeps it, 1 gives `other`).
    #[must_use]
    pub fn towards(self, other: Colour, share: f64) -> Colour {
        let mix = |a: u8, b: u8| {
            let (a, b) = (f64::from(a), f64::from(b));
            (a + (b - a) * share.clamp(0.0, 1.0)).round() as u8
        };
        Colour(mix(self.0, other.0), mix(self.1, other.1), mix(self.2, other.2))
    }
}

/// A line of set text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// Start of the base line, before `rotation`.
    pub at: Spot,
    /// Turned about `at`, radians, + anticlockwise as seen.
    pub rotation: f64,
    /// Colour.
    pub colour: Colour,
    /// Length of the whole line, mm.
    pub width: f64,
    /// The pieces, from the left.
    pub runs: Vec<Run>,
}

/// A piece of a line in one face and size.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Along the base line from the line's start, mm.
    pub dx: f64,
    /// Raised above the base line, mm.
    pub rise: f64,
    /// Size of the type, mm to the em.
    pub size: f64,
    /// Face.
    pub face: Face,
    /// The words.
    pub text: String,
}

/// A cut of the one family of type.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// Running text.
    Regular,
    /// Numbers.
    Semibold,
    /// Numbers to be read at arm's length, heads.
    Bold,
    /// Notes.
    Italic,
}

/// Which end of a line of text stands at the given place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// The text starts there.
    Left,
    /// The text is centred there.
    Middle,
    /// The text ends there.
    Right,
}

impl Sheet {
    /// An empty sheet.
    #[must_use]
    pub fn new(width: f64, height: f64, title: impl Into<String>) -> Self {
        Sheet { width, height, title: title.into(), scale: Scale::None, layers: Vec::new() }
    }

    /// Puts an item on the layer of that name, which is made above the others if it is new.
    pub fn put(&mut self, layer: &'static str, item: Item) {
        if let Some(found) = self.layers.iter_mut().find(|l| l.name == layer) {
            found.items.push(item);
        } else {
            self.layers.push(Layer { name: layer, items: vec![item] });
        }
    }

    /// Every text on the sheet.
    pub fn texts(&self) -> impl Iterator<Item = &Text> {
        self.layers.iter().flat_map(|l| &l.items).filter_map(|item| match item {
            Item::Text(text) => Some(text),
            Item::Shape(_) => None,
        })
    }

    /// Every shape on the sheet.
    pub fn shapes(&self) -> impl Iterator<Item = &Shape> {
        self.layers.iter().flat_map(|l| &l.items).filter_map(|item| match item {
            Item::Shape(shape) => Some(shape),
            Item::Text(_) => None,
        })
    }
}

impl Shape {
    /// A stroked run of points.
    #[must_use]
    pub fn line(points: Vec<Spot>, stroke: Stroke) -> Item {
        Item::Shape(Shape { outline: Outline::Line(points), stroke: Some(stroke), fill: None })
    }

    /// A filled area, perhaps with an outline.
    #[must_use]
    pub fn area(points: Vec<Spot>, fill: Colour, stroke: Option<Stroke>) -> Item {
        Item::Shape(Shape { outline: Outline::Polygon(points), stroke, fill: Some(fill) })
    }

    /// A closed outline.
    #[must_use]
    pub fn polygon(points: Vec<Spot>, stroke: Stroke) -> Item {
        Item::Shape(Shape { outline: Outline::Polygon(points), stroke: Some(stroke), fill: None })
    }

    /// A circle, filled, stroked or both.
    #[must_use]
    pub fn circle(at: Spot, radius: f64, stroke: Option<Stroke>, fill: Option<Colour>) -> Item {
        Item::Shape(Shape { outline: Outline::Circle { at, radius }, stroke, fill })
    }
}

impl Text {
    /// The words as one string.
    #[must_use]
    pub fn string(&self) -> String {
        self.runs.iter().map(|r| r.text.as_str()).collect()
    }
}
