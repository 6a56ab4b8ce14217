//! Good inputs spoilt, the same way for the same seed.

use crate::Spoilt;
use std::ops::Range;

/// What texts are spoilt with: the ends of ranges, what is no number, and the signs that files are made of.
const WORDS: [&str; 54] = [
    "0",
    "-0",
    "-1",
    "1",
    "0.5",
    "1e-9",
    "1e308",
    "-1e308",
    "1e999",
    "NaN",
    "nan",
    "inf",
    "-inf",
    "2147483648",
    "4294967295",
    "-9223372036854775808",
    "18446744073709551616",
    "99999999999999999999999",
    "0.1e",
    "1-11-7+",
    "7/8",
    "1/0",
    "½",
    "−",
    "′",
    "\"",
    "'",
    "\"\"\"",
    "[",
    "]",
    "[[",
    "{",
    "}",
    ",",
    ";",
    "\t",
    "\n",
    "\r\n",
    "\r",
    "=",
    "#",
    "\u{0}",
    "\u{feff}",
    "\u{200b}",
    "é",
    "🪵",
    "true",
    "null",
    "<",
    "&",
    "&#0;",
    "</g>",
    "0\nLINE\n",
    "M0 0 A1 1 0 0 0",
];
/// Factors of numbers: a little, or so much that they leave what can be.
const LITTLE: f64 = 0.3;
const MUCH: [f64; 8] = [-1.0, 0.0, 0.01, 0.1, 3.0, 10.0, 1000.0, 1e9];
/// A piece is repeated so often, and no input grows longer than this, bytes.
const MOST_TIMES: usize = 200;
const LONGEST: usize = 200_000;

/// Makes inputs from good ones.
pub struct Spoiler {
    state: u64,
    seeds: Vec<Vec<u8>>,
    what: Spoilt,
}

impl Spoiler {
    /// One that spoils `what` of `seeds`; what it makes comes of `seed` alone.
    #[must_use]
    pub fn new(seed: u64, seeds: Vec<Vec<u8>>, what: Spoilt) -> Spoiler {
        Spoiler { state: seed, seeds, what }
    }

    /// The next input.
    pub fn input(&mut self) -> Vec<u8> {
        let which = self.below(self.seeds.len());
        let mut input = self.seeds.get(which).cloned().unwrap_or_default();
        // As a rule a few changes; now and then many.
        let changes = if self.below(8) == 0 { 1 + self.below(60) } else { 1 + self.below(6) };
        for _ in 0..changes {
            match self.what {
                Spoilt::Anything => self.change(&mut input),
                Spoilt::Numbers => self.move_number(&mut input),
            }
        }
        input.truncate(LONGEST);
        input
    }

    /// Source: [splitmix64].
    fn draw(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to `count` - 1; 0 where there are none.
    fn below(&mut self, count: usize) -> usize {
        let count = u64::try_from(count).unwrap_or(u64::MAX);
        usize::try_from(self.draw().checked_rem(count).unwrap_or(0)).unwrap_or(0)
    }

    /// From 0 to 1.
    fn share(&mut self) -> f64 {
        self.below(1 << 20) as f64 / f64::from(1 << 20)
    }

    fn pick<T: Copy>(&mut self, of: &[T], otherwise: T) -> T {
        let which = self.below(of.len());
        of.get(which).copied().unwrap_or(otherwise)
    }

    /// A short piece of `of`, or now and then a long one.
    fn piece(&mut self, of: &[u8]) -> Range<usize> {
        let from = self.below(of.len() + 1);
        let most = if self.below(6) == 0 { of.len() } else { 12 };
        from..(from + self.below(most + 1)).min(of.len())
    }

    fn change(&mut self, input: &mut Vec<u8>) {
        match self.below(10) {
            0 => {
                let (at, byte) = (self.below(input.len()), self.draw().to_le_bytes()[0]);
                if let Some(old) = input.get_mut(at) {
                    *old = byte;
                }
            }
            1 => {
                let piece = self.piece(input);
                input.drain(piece);
            }
            2 => {
                let piece = self.piece(input);
                let times = if self.below(4) == 0 { self.below(MOST_TIMES) } else { 1 };
                let more = input[piece.clone()].repeat(times);
                input.splice(piece.end..piece.end, more);
            }
            3 => {
                let (at, word) = (self.below(input.len() + 1), self.pick(&WORDS, ""));
                input.splice(at..at, word.bytes());
            }
            4 => {
                let which = self.below(self.seeds.len());
                let other = self.seeds.get(which).cloned().unwrap_or_default();
                let (piece, at) = (self.piece(&other), self.below(input.len() + 1));
                input.splice(at..at, other[piece].iter().copied());
            }
            5 => self.change_lines(input),
            6 => {
                if let Some(number) = self.number(input) {
                    let word = self.pick(&WORDS, "");
                    input.splice(number, word.bytes());
                }
            }
            _ => self.move_number(input),
        }
        input.truncate(LONGEST);
    }

    /// A line left out, written twice, or exchanged for another.
    fn change_lines(&mut self, input: &mut Vec<u8>) {
        let mut lines: Vec<&[u8]> = input.split_inclusive(|b| *b == b'\n').collect();
        let (a, b) = (self.below(lines.len()), self.below(lines.len()));
        if lines.is_empty() {
            return;
        }
        match self.below(3) {
            0 => drop(lines.remove(a)),
            1 => lines.insert(b, lines[a]),
            _ => lines.swap(a, b),
        }
        *input = lines.concat();
    }

    /// Where some number of `input` stands: digits, and the decimals of them.
    fn number(&mut self, input: &[u8]) -> Option<Range<usize>> {
        let begin = self.below(input.len());
        let from = begin + input.get(begin..)?.iter().position(u8::is_ascii_digit)?;
        let long = input[from..].iter().take_while(|b| b.is_ascii_digit() || **b == b'.').count();
        Some(from..from + long)
    }

    /// Some number made another: a little more or less, as a rule.
    fn move_number(&mut self, input: &mut Vec<u8>) {
        let Some(place) = self.number(input) else { return };
        let text = String::from_utf8_lossy(&input[place.clone()]).into_owned();
        let Ok(value) = text.parse::<f64>() else { return };
        let by = if self.below(6) == 0 { self.pick(&MUCH, 1.0) } else { 1.0 + LITTLE * (2.0 * self.share() - 1.0) };
        let moved = if text.contains('.') {
            format!("{:.4}", value * by)
        } else {
            // Whole numbers stay whole and move at least by one.
            let moved = (value * by).round();
            format!("{}", if moved == value { value + if self.below(2) == 0 { 1.0 } else { -1.0 } } else { moved })
        };
        input.splice(place, moved.bytes());
    }
}
