//! The type: four cuts of Libertinus Serif, embedded in the program, and how wide words are in them.
//!
//! Text is shaped here (kerning, ligatures) and the same glyphs are handed to the writers, so measured and drawn widths
//! cannot differ. The figures of this family are lining and all of one width, so columns of numbers stand straight;
//! a test below holds it to that.
//!
//! Source of the faces: crate `typst-assets`, SIL Open Font License; `build.rs` picks these four out of it.
//! Cannot do: scripts the family has not got; their letters come out as the face's box for a missing one.

use rustybuzz::{Direction, ShapePlan, UnicodeBuffer, script};
use std::collections::HashMap;
use std::sync::{Arc, Mutex, PoisonError};

use super::Face;

/// Why the type cannot be used.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TypeError {
    /// An embedded file is not a typeface.
    #[error("the embedded face {0} cannot be read")]
    Unreadable(&'static str),
}

/// A glyph of a shaped text. Lengths are shares of the em.
#[derive(Debug, Clone, PartialEq)]
pub struct Glyph {
    /// Number in the face.
    pub id: u32,
    /// How far the next one stands to the right.
    pub advance: f64,
    /// Moved right from its place.
    pub dx: f64,
    /// Moved up from its place.
    pub dy: f64,
    /// The bytes of the text it stands for.
    pub bytes: std::ops::Range<usize>,
}

/// The family, ready to measure with.
pub struct Type {
    cuts: [Cut; 4],
}

struct Cut {
    data: &'static [u8],
    face: rustybuzz::Face<'static>,
    plan: ShapePlan,
    /// Texts shaped already: each is measured some times before it is drawn, and numbers come again and again.
    shaped: Mutex<HashMap<Box<str>, Arc<[Glyph]>>>,
}

/// So many texts are kept of a cut, a book's and more; then it begins anew.
const MOST_KEPT: usize = 8192;

/// The files that the build picked out of the font crate, upright first, in the order of `cuts`.
const FILES: [(&str, &[u8]); 4] = [
    ("Libertinus Serif Regular", include_bytes!(concat!(env!("OUT_DIR"), "/regular.otf"))),
    ("Libertinus Serif Semibold", include_bytes!(concat!(env!("OUT_DIR"), "/semibold.otf"))),
    ("Libertinus Serif Bold", include_bytes!(concat!(env!("OUT_DIR"), "/bold.otf"))),
    ("Libertinus Serif Italic", include_bytes!(concat!(env!("OUT_DIR"), "/italic.otf"))),
];

impl Type {
    /// The faces embedded in the program.
    ///
    /// # Errors
    /// `Unreadable` if one is not a typeface, which only a different build of the font crate could bring about.
    pub fn embedded() -> Result<Self, TypeError> {
        let cut = |(name, data): (&'static str, &'static [u8])| Cut::of(data).ok_or(TypeError::Unreadable(name));
        Ok(Type { cuts: [cut(FILES[0])?, cut(FILES[1])?, cut(FILES[2])?, cut(FILES[3])?] })
    }

    /// The font file of a face.
    #[must_use]
    pub fn bytes(&self, face: Face) -> &'static [u8] {
        self.cut(face).data
    }

    /// The glyphs of `text`, left to right.
    #[must_use]
    pub fn shape(&self, face: Face, text: &str) -> Arc<[Glyph]> {
        let cut = self.cut(face);
        // What is kept is whole whenever it is let go of, whatever became of who held it.
        let kept = || cut.shaped.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(glyphs) = kept().get(text) {
            return Arc::clone(glyphs);
        }
        let glyphs: Arc<[Glyph]> = cut.shape(text).into();
        let mut kept = kept();
        if kept.len() >= MOST_KEPT {
            kept.clear();
        }
        kept.insert(text.into(), Arc::clone(&glyphs));
        glyphs
    }

    /// How long `text` is in type of `size` mm to the em, mm.
    #[must_use]
    pub fn width(&self, face: Face, size: f64, text: &str) -> f64 {
        self.shape(face, text).iter().map(|g| g.advance).sum::<f64>() * size
    }

    /// The outline of a glyph as the data of an SVG path, its origin on the base line, y down, in thousandths of the em;
    /// empty for a space.
    #[must_use]
    pub fn outline(&self, face: Face, id: u32) -> String {
        let face = &self.cut(face).face;
        let mut outline = OutlineData { data: String::new(), scale: 1000.0 / f64::from(face.units_per_em()) };
        if let Ok(id) = u16::try_from(id) {
            // `None` is a glyph that draws nothing.
            let _ = face.outline_glyph(rustybuzz::ttf_parser::GlyphId(id), &mut outline);
        }
        outline.data
    }

    fn cut(&self, face: Face) -> &Cut {
        match face {
            Face::Regular => &self.cuts[0],
            Face::Semibold => &self.cuts[1],
            Face::Bold => &self.cuts[2],
            Face::Italic => &self.cuts[3],
        }
    }
}

struct OutlineData {
    data: String,
    scale: f64,
}

impl OutlineData {
    fn put(&mut self, command: char, numbers: &[f32]) {
        self.data.push(command);
        for (i, n) in numbers.iter().enumerate() {
            let sign = if i % 2 == 0 { 1.0 } else { -1.0 };
            let n = (sign * f64::from(*n) * self.scale).round() as i64;
            self.data.push_str(&format!("{}{n}", if i > 0 && n >= 0 { " " } else { "" }));
        }
    }
}

impl rustybuzz::ttf_parser::OutlineBuilder for OutlineData {
    fn move_to(&mut self, x: f32, y: f32) {
        self.put('M', &[x, y]);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.put('L', &[x, y]);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        self.put('Q', &[x1, y1, x, y]);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        self.put('C', &[x1, y1, x2, y2, x, y]);
    }

    fn close(&mut self) {
        self.data.push('Z');
    }
}

impl Cut {
    fn of(data: &'static [u8]) -> Option<Cut> {
        let face = rustybuzz::Face::from_slice(data, 0)?;
        let plan = ShapePlan::new(&face, Direction::LeftToRight, Some(script::LATIN), None, &[]);
        Some(Cut { data, face, plan, shaped: Mutex::default() })
    }

    fn shape(&self, text: &str) -> Vec<Glyph> {
        let mut buffer = UnicodeBuffer::new();
        buffer.push_str(text);
        buffer.set_direction(Direction::LeftToRight);
        buffer.set_script(script::LATIN);
        let shaped = rustybuzz::shape_with_plan(&self.face, &self.plan, buffer);
        let em = f64::from(self.face.units_per_em());
        let (infos, places) = (shaped.glyph_infos(), shaped.glyph_positions());
        let mut glyphs = Vec::with_capacity(infos.len());
        for (i, (info, place)) in infos.iter().zip(places).enumerate() {
            let start = info.cluster as usize;
            let next = infos[i..].iter().map(|later| later.cluster as usize).find(|&c| c > start);
            glyphs.push(Glyph {
                id: info.glyph_id,
                advance: f64::from(place.x_advance) / em,
                dx: f64::from(place.x_offset) / em,
                dy: f64::from(place.y_offset) / em,
                bytes: start..next.unwrap_or(text.len()),
            });
        }
        glyphs
    }
}

/// Height of a capital or a figure, as a share of the em.
pub const CAP_HEIGHT: f64 = 0.65;
/// How far letters such as p and g hang below the base line, as a share of the em.
pub const DESCENT: f64 = 0.24;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_all_of_one_width() {
        let t = Type::embedded().expect("embedded faces");
        for face in [Face::Regular, Face::Semibold, Face::Bold] {
            let zero = t.width(face, 1.0, "0");
            for text in ["11", "71", "47", "90"] {
                assert!((t.width(face, 1.0, text) - 2.0 * zero).abs() < 1e-9, "{face:?} {text}");
            }
        }
    }

    #[test]
    fn bold_is_wider_and_glyphs_cover_the_text() {
        let t = Type::embedded().expect("embedded faces");
        assert!(t.width(Face::Bold, 4.0, "1234") > t.width(Face::Regular, 4.0, "1234") + 0.5);
        let text = "fit the office";
        let glyphs = t.shape(Face::Regular, text);
        assert_eq!(glyphs.first().map(|g| g.bytes.start), Some(0));
        for pair in glyphs.windows(2) {
            assert_eq!(pair[0].bytes.end, pair[1].bytes.start);
        }
        assert_eq!(glyphs.last().map(|g| g.bytes.end), Some(text.len()));
    }
}
