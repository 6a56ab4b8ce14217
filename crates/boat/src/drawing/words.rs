//! Setting words: a line at a place, a paragraph in a measure, and true fractions.
//!
//! A fraction such as `7/8` is composed: a small raised numerator, the solidus, a small denominator, close up to the
//! whole number before it. One that would come out smaller than [`LEAST_SIZE`] stays on the line at full size, since
//! a fraction read wrong is a plank cut wrong.

use super::typeface::Type;
use super::{Anchor, Colour, Face, Item, Run, Spot, Text};

/// No type is smaller than this, mm to the em: 8.5 points.
pub const LEAST_SIZE: f64 = 3.0;
/// Size of a fraction's figures against the type around it.
const FRACTION: f64 = 0.66;
/// How far the numerator is raised, so that its top is level with the whole number's, share of the em.
const RAISE: f64 = 0.65 * (1.0 - FRACTION);

/// Between a whole number and its fraction, share of em: far closer than words stand.
const HAIR: f64 = 0.11;

/// How a line of words looks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Style {
    /// mm to the em.
    pub size: f64,
    /// Face.
    pub face: Face,
    /// Colour.
    pub colour: Colour,
}

impl Style {
    /// The same in another face.
    #[must_use]
    pub const fn face(self, face: Face) -> Style {
        Style { face, ..self }
    }

    /// The same in another colour.
    #[must_use]
    pub const fn colour(self, colour: Colour) -> Style {
        Style { colour, ..self }
    }

    /// The same in another size, mm to the em.
    #[must_use]
    pub const fn size(self, size: f64) -> Style {
        Style { size, ..self }
    }
}

/// How long a line is when set, mm.
#[must_use]
pub fn width(t: &Type, style: Style, words: &str) -> f64 {
    runs(t, style, words).1
}

/// Sets one line with the given end of its base line at `at`.
#[must_use]
pub fn line(t: &Type, style: Style, at: Spot, anchor: Anchor, words: &str) -> Item {
    turned(t, style, at, anchor, 0.0, words)
}

/// Sets one line turned about `at` by `rotation` radians, + anticlockwise as seen.
#[must_use]
pub fn turned(t: &Type, style: Style, at: Spot, anchor: Anchor, rotation: f64, words: &str) -> Item {
    let (runs, width) = runs(t, style, words);
    let back = match anchor {
        Anchor::Left => 0.0,
        Anchor::Middle => width / 2.0,
        Anchor::Right => width,
    };
    let at = [at[0] - back * rotation.cos(), at[1] + back * rotation.sin()];
    Item::Text(Text { at, rotation, colour: style.colour, width, runs })
}

/// Somebody's own words, which may be long, to stand on one line of `measure` mm: set smaller if they must be, and cut
/// short if that will not do.
#[must_use]
pub fn within(t: &Type, style: Style, measure: f64, words: &str) -> (Style, String) {
    let wide = width(t, style, words);
    let size = if wide > measure { (style.size * measure / wide).max(LEAST_SIZE) } else { style.size };
    let style = style.size(size);
    let mut cut = words.to_owned();
    loop {
        let (wide, letters) = (width(t, style, &cut), cut.chars().count());
        // Words set smaller to fit are as long as the measure but for rounding.
        if wide <= measure + 1e-6 || letters < 3 {
            return (style, cut);
        }
        // About as many letters as should fit, and always fewer than before.
        let keep = ((letters as f64 * measure / wide) as usize).clamp(1, letters - 2);
        cut = cut.chars().take(keep).chain(['…']).collect();
    }
}

/// Breaks a paragraph into lines no longer than `measure` mm. A word longer than that is broken where it must be.
#[must_use]
pub fn wrap(t: &Type, style: Style, measure: f64, words: &str) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in words.split('\n') {
        let mut now = String::new();
        for word in paragraph.split(' ').filter(|w| !w.is_empty()) {
            let longer = if now.is_empty() { word.to_owned() } else { format!("{now} {word}") };
            if width(t, style, &longer) <= measure {
                now = longer;
                continue;
            }
            if !now.is_empty() {
                lines.push(std::mem::take(&mut now));
            }
            now = break_word(t, style, measure, word, &mut lines);
        }
        lines.push(now);
    }
    lines
}

/// Pushes whole lines of a word too long for the measure, and returns what is left of it.
fn break_word(t: &Type, style: Style, measure: f64, word: &str, lines: &mut Vec<String>) -> String {
    let mut now = String::new();
    for c in word.chars() {
        now.push(c);
        if width(t, style, &now) > measure && now.chars().count() > 1 {
            now.pop();
            lines.push(std::mem::take(&mut now));
            now.push(c);
        }
    }
    now
}

/// The runs of a line and how long it is.
fn runs(t: &Type, style: Style, words: &str) -> (Vec<Run>, f64) {
    let clean: String = words.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let mut set = Setter { t, style, runs: Vec::new(), x: 0.0 };
    if style.size * FRACTION < LEAST_SIZE {
        set.plain(&clean);
        return (set.runs, set.x);
    }
    let mut plain = String::new();
    let mut rest = clean.as_str();
    while let Some((before, fraction, after)) = next_fraction(rest) {
        plain.push_str(before);
        // Close up `3 7/8`: a hair of space stands in for the one typed.
        let close = plain.ends_with(' ') && plain.trim_end().ends_with(|c: char| c.is_ascii_digit());
        if close {
            plain.truncate(plain.trim_end().len());
        }
        set.plain(&std::mem::take(&mut plain));
        if close {
            set.x += HAIR * style.size;
        }
        set.fraction(fraction);
        rest = after;
    }
    plain.push_str(rest);
    set.plain(&plain);
    (set.runs, set.x)
}

struct Setter<'a> {
    t: &'a Type,
    style: Style,
    runs: Vec<Run>,
    x: f64,
}

impl Setter<'_> {
    fn plain(&mut self, text: &str) {
        self.run(text, self.style.size, 0.0);
    }

    fn fraction(&mut self, fraction: (&str, &str)) {
        let size = self.style.size;
        self.run(fraction.0, size * FRACTION, RAISE * size);
        self.run("\u{2044}", size, 0.0);
        self.run(fraction.1, size * FRACTION, 0.0);
    }

    fn run(&mut self, text: &str, size: f64, rise: f64) {
        if text.is_empty() {
            return;
        }
        let face = self.style.face;
        self.runs.push(Run { dx: self.x, rise, size, face, text: text.to_owned() });
        self.x += self.t.width(face, size, text);
    }
}

/// Finds the first `digits/digits` that stands by itself: text before, its two parts, text after.
fn next_fraction(text: &str) -> Option<(&str, (&str, &str), &str)> {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    for (slash, _) in text.match_indices('/') {
        let mut start = slash;
        while start > 0 && digit(start - 1) {
            start -= 1;
        }
        let mut end = slash + 1;
        while digit(end) {
            end += 1;
        }
        let alone_before =
            start == 0 || matches!(bytes[start - 1], b' ' | b'(' | b'+' | b'-') || !bytes[start - 1].is_ascii();
        let alone_after = bytes.get(end).is_none_or(|&b| !b.is_ascii_alphanumeric() && b != b'/');
        if start < slash && end > slash + 1 && alone_before && alone_after {
            return Some((&text[..start], (&text[start..slash], &text[slash + 1..end]), &text[end..]));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    const INK: Style = Style { size: 5.0, face: Face::Bold, colour: Colour(0, 0, 0) };

    fn texts(t: &Type, style: Style, words: &str) -> Vec<String> {
        runs(t, style, words).0.into_iter().map(|r| r.text).collect()
    }

    #[test]
    fn fractions_are_composed_close_to_their_whole_number() {
        let t = Type::embedded().expect("embedded faces");
        assert_eq!(texts(&t, INK, "3 7/8"), ["3", "7", "\u{2044}", "8"]);
        assert_eq!(texts(&t, INK, "15/16 in"), ["15", "\u{2044}", "16", " in"]);
        assert_eq!(texts(&t, INK, "from 3 1/2 to 4"), ["from 3", "1", "\u{2044}", "2", " to 4"]);
        let parts = runs(&t, INK, "3 7/8").0;
        assert!(parts[1].rise > 0.0 && parts[3].rise == 0.0);
        assert!(parts[1].size < 0.7 * INK.size && parts[1].size >= LEAST_SIZE);
        assert!(width(&t, INK, "3 7/8") < t.width(INK.face, INK.size, "3 7/8"));
    }

    #[test]
    fn what_is_no_fraction_is_left_alone() {
        let t = Type::embedded().expect("embedded faces");
        for words in ["and/or", "a/8", "1/2/3", "1-3-4+", "x7/8", "7/8ths"] {
            assert_eq!(texts(&t, INK, words), [words]);
        }
        assert_eq!(texts(&t, INK.size(3.2), "3 7/8"), ["3 7/8"], "too small to compose");
    }

    #[test]
    fn lines_keep_to_the_measure_and_lose_no_words() {
        let t = Type::embedded().expect("embedded faces");
        let words = "The next strake lies on the land of this one, so plane it until a straightedge beds flat.";
        let lines = wrap(&t, INK, 60.0, words);
        assert!(lines.len() > 2);
        assert!(lines.iter().all(|l| width(&t, INK, l) <= 60.0));
        assert_eq!(lines.join(" "), words);
        let long = wrap(&t, INK, 20.0, "Wrackgrassbankensis");
        assert!(long.len() > 1 && long.concat() == "Wrackgrassbankensis");
    }

    #[test]
    fn anchors_and_turns_move_the_start() {
        let t = Type::embedded().expect("embedded faces");
        let Item::Text(right) = line(&t, INK, [100.0, 10.0], Anchor::Right, "1024") else { panic!("text") };
        assert!((right.at[0] + right.width - 100.0).abs() < 1e-9);
        let up = turned(&t, INK, [100.0, 10.0], Anchor::Middle, std::f64::consts::FRAC_PI_2, "1024");
        let Item::Text(up) = up else { panic!("text") };
        assert!((up.at[1] - (10.0 + up.width / 2.0)).abs() < 1e-9 && (up.at[0] - 100.0).abs() < 1e-9);
    }
}
