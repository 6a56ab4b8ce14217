//! Sheets to PDF.
//!
//! One page a sheet, one transform a page: everything on it is written in the sheet's own mm under a single scale of
//! 72/25.4, so a drawing cannot lose its size on the way. The writer below is f32, which at 1000 mm still tells a
//! ten-thousandth of a mm.
//!
//! No date and no machine's name is written, and the file's identifier comes from its contents: the same sheets give
//! the same bytes.

use std::ops::Range;

use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{Path, PathBuilder, Point, Transform};
use krilla::metadata::Metadata;
use krilla::outline::{Outline as Bookmarks, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, LineCap, LineJoin, Stroke as Pen, StrokeDash};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId};
use krilla::{Document, SerializeSettings};

use super::PaperError;
use crate::drawing::typeface::{Glyph, Type};
use crate::drawing::{Colour, Face, Item, Outline, Shape, Sheet, Stroke, Text};

/// Points to the mm.
const POINTS: f64 = 72.0 / 25.4;
/// A cubic that goes a quarter round a circle has its handles this share of the radius off; 0.03 % out at most.
const QUARTER: f64 = 0.552_284_75;

/// What the file says of itself.
#[derive(Debug, Clone, PartialEq)]
pub struct About {
    /// Title, shown by a reader in its title bar.
    pub title: String,
    /// A line on what it is.
    pub subject: String,
    /// Language of the words, as `en-GB`.
    pub language: String,
}

/// Writes sheets as the pages of a PDF, with a bookmark to each; sheets of one title in a row share it.
///
/// # Errors
/// `Size` for a sheet that no page can be, `Pdf` if the writer refuses.
pub fn write(t: &Type, sheets: &[Sheet], about: &About) -> Result<Vec<u8>, PaperError> {
    let mut document =
        Document::new_with(SerializeSettings { enable_tagging: false, ..SerializeSettings::default() });
    let fonts = Fonts::new(t)?;
    let mut bookmarks = Bookmarks::new();
    let mut last_title = None;
    for (i, sheet) in sheets.iter().enumerate() {
        let no_size = PaperError::Size { sheet: i + 1, width: sheet.width, height: sheet.height };
        let settings = PageSettings::from_wh(points(sheet.width), points(sheet.height)).ok_or(no_size)?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        surface.push_transform(&Transform::from_scale(POINTS as f32, POINTS as f32));
        for item in sheet.layers.iter().flat_map(|layer| &layer.items) {
            match item {
                Item::Shape(shape) => draw_shape(&mut surface, shape),
                Item::Text(text) => draw_text(&mut surface, t, &fonts, text),
            }
        }
        surface.pop();
        surface.finish();
        page.finish();
        if last_title != Some(&sheet.title) {
            let top = XyzDestination::new(i, Point::from_xy(0.0, 0.0));
            bookmarks.push_child(OutlineNode::new(sheet.title.clone(), top));
            last_title = Some(&sheet.title);
        }
    }
    document.set_outline(bookmarks);
    document.set_metadata(
        Metadata::new()
            .title(about.title.clone())
            .description(about.subject.clone())
            .language(about.language.clone())
            .creator("strakewise".to_owned()),
    );
    document.finish().map_err(|e| PaperError::Pdf(format!("{e:?}")))
}

fn points(mm: f64) -> f32 {
    (mm * POINTS) as f32
}

struct Fonts([Font; 4]);

impl Fonts {
    fn new(t: &Type) -> Result<Self, PaperError> {
        let font = |face| {
            Font::new(t.bytes(face).into(), 0)
                .ok_or_else(|| PaperError::Pdf(format!("the face {face:?} was refused")))
        };
        Ok(Fonts([font(Face::Regular)?, font(Face::Semibold)?, font(Face::Bold)?, font(Face::Italic)?]))
    }

    fn get(&self, face: Face) -> Font {
        let at = match face {
            Face::Regular => 0,
            Face::Semibold => 1,
            Face::Bold => 2,
            Face::Italic => 3,
        };
        self.0[at].clone()
    }
}

fn fill(colour: Colour) -> Fill {
    Fill { paint: rgb::Color::new(colour.0, colour.1, colour.2).into(), ..Fill::default() }
}

fn pen(stroke: Stroke) -> Pen {
    let dash = stroke.dash.pattern();
    Pen {
        paint: rgb::Color::new(stroke.colour.0, stroke.colour.1, stroke.colour.2).into(),
        width: stroke.weight.mm() as f32,
        line_cap: if dash.is_empty() { LineCap::Round } else { LineCap::Butt },
        line_join: LineJoin::Round,
        dash: (!dash.is_empty()).then(|| StrokeDash { array: dash.iter().map(|d| *d as f32).collect(), offset: 0.0 }),
        ..Pen::default()
    }
}

fn draw_shape(surface: &mut Surface<'_>, shape: &Shape) {
    // With neither, the writer below would fill in black.
    if shape.fill.is_none() && shape.stroke.is_none() {
        return;
    }
    let Some(path) = path(&shape.outline) else { return };
    surface.set_fill(shape.fill.map(fill));
    surface.set_stroke(shape.stroke.map(pen));
    surface.draw_path(&path);
}

/// `None` for an outline that draws nothing: no points, or a point that is not a number.
fn path(outline: &Outline) -> Option<Path> {
    let mut builder = PathBuilder::new();
    match outline {
        Outline::Line(points) | Outline::Polygon(points) => {
            if points.len() < 2 || points.iter().flatten().any(|v| !v.is_finite()) {
                return None;
            }
            for (i, [x, y]) in points.iter().enumerate() {
                let (x, y) = (rounded(*x), rounded(*y));
                if i == 0 { builder.move_to(x, y) } else { builder.line_to(x, y) }
            }
            if matches!(outline, Outline::Polygon(_)) {
                builder.close();
            }
        }
        Outline::Circle { at: [x, y], radius: r } => {
            if ![*x, *y, *r].iter().all(|v| v.is_finite()) {
                return None;
            }
            let k = r * QUARTER;
            let p = |dx: f64, dy: f64| (rounded(x + dx), rounded(y + dy));
            let start = p(*r, 0.0);
            builder.move_to(start.0, start.1);
            for (a, b, c) in [
                (p(*r, k), p(k, *r), p(0.0, *r)),
                (p(-k, *r), p(-r, k), p(-r, 0.0)),
                (p(-r, -k), p(-k, -r), p(0.0, -r)),
                (p(k, -r), p(*r, -k), start),
            ] {
                builder.cubic_to(a.0, a.1, b.0, b.1, c.0, c.1);
            }
            builder.close();
        }
    }
    builder.finish()
}

/// To a thousandth of a mm: finer than any printer, and shorter in the file.
fn rounded(mm: f64) -> f32 {
    ((mm * 1000.0).round() / 1000.0) as f32
}

fn draw_text(surface: &mut Surface<'_>, t: &Type, fonts: &Fonts, text: &Text) {
    surface.set_fill(Some(fill(text.colour)));
    surface.set_stroke(None);
    let turned = text.rotation != 0.0;
    let [x, y] = text.at;
    if turned {
        let (sin, cos) = (text.rotation.sin() as f32, text.rotation.cos() as f32);
        surface.push_transform(&Transform::from_row(cos, -sin, sin, cos, x as f32, y as f32));
    }
    let (x, y) = if turned { (0.0, 0.0) } else { (x, y) };
    for run in &text.runs {
        let glyphs: Vec<Placed> = t.shape(run.face, &run.text).iter().cloned().map(Placed).collect();
        let start = Point::from_xy(rounded(x + run.dx), rounded(y - run.rise));
        surface.draw_glyphs(start, &glyphs, fonts.get(run.face), &run.text, run.size as f32, false);
    }
    if turned {
        surface.pop();
    }
}

struct Placed(Glyph);

impl krilla::text::Glyph for Placed {
    fn glyph_id(&self) -> GlyphId {
        GlyphId::new(self.0.id)
    }

    fn text_range(&self) -> Range<usize> {
        self.0.bytes.clone()
    }

    fn x_advance(&self, size: f32) -> f32 {
        self.0.advance as f32 * size
    }

    fn x_offset(&self, size: f32) -> f32 {
        self.0.dx as f32 * size
    }

    fn y_offset(&self, size: f32) -> f32 {
        self.0.dy as f32 * size
    }

    fn y_advance(&self, _size: f32) -> f32 {
        0.0
    }

    fn location(&self) -> Option<krilla::surface::Location> {
        None
    }
}
