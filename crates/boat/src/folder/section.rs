//! Walking through a TOML document, remembering where everything stands.

use super::{BoatError, BoatProblem as Problem, VERSION, range_said};
use crate::units::{Notation, read_length};
use crate::words::nearest;
use std::ops::Range;
use toml::de::{DeTable, DeValue};

/// What a range error advises when there is nothing better to say.
pub const CHECK: &str = "check its digits and its unit";

/// What to write instead of `line`, where it has what a length is often mistyped with: a stroke that leans back, marks of quotation
/// that a word processor bent, or none.
fn to_write(line: &str) -> Option<&'static str> {
    let code = line.split('#').next().unwrap_or_default();
    let (_, value) = code.split_once('=')?;
    let bare = |c: char| c.is_ascii_digit() && value.contains(['/', '-', ' ']);
    let slipped =
        value.contains(['\\', '\u{201c}', '\u{201d}', '\u{201e}', '\u{2018}', '\u{2019}', '\u{2032}', '\u{2033}']);
    (slipped || value.trim_start().starts_with(bare)).then_some("; write lengths as \"3/4 in\", with straight quotes")
}

/// A TOML text as parsed, and where its lines end.
pub struct Document<'a> {
    text: &'a str,
    table: toml::Spanned<DeTable<'a>>,
    /// Bytes at which its lines end: a line is looked up for every key, and a text may have very many keys.
    ends: Vec<usize>,
}

impl<'a> Document<'a> {
    /// Parses `text`; a byte order mark before it is passed over.
    pub fn of(text: &'a str) -> Result<Self, BoatError> {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let ends: Vec<usize> = text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(at, _)| at).collect();
        let table = DeTable::parse(text).map_err(|e| {
            let line = line_of(&ends, e.span().map_or(0, |s| s.start));
            let written = text.lines().nth(line.saturating_sub(1)).unwrap_or_default();
            let parsed = e.message().replace('\n', ", ");
            let problem = Problem::Syntax(format!("{parsed}{}", to_write(written).unwrap_or_default()));
            BoatError { line, key: String::new(), problem }
        })?;
        Ok(Document { text, table, ends })
    }

    /// The whole of it, of whatever form.
    pub fn root(&self) -> Section<'_> {
        Section { document: self, path: String::new(), line: 1, table: self.table.get_ref() }
    }

    /// The whole of it, where it says that it is of the form that this program reads.
    pub fn root_of_form(&self) -> Result<Section<'_>, BoatError> {
        let root = self.root();
        let version = root.need("strakewise", "strakewise = 1")?;
        if version.integer() != Some(VERSION) {
            return Err(version.trouble(Problem::Version { found: version.raw.to_owned() }));
        }
        Ok(root)
    }

    /// The line on which a byte of the text stands, from 1.
    fn line(&self, offset: usize) -> usize {
        line_of(&self.ends, offset)
    }
}

fn line_of(ends: &[usize], offset: usize) -> usize {
    1 + ends.partition_point(|end| *end < offset)
}

/// A table of the document.
pub struct Section<'a> {
    document: &'a Document<'a>,
    path: String,
    line: usize,
    table: &'a DeTable<'a>,
}

/// A value and the key it stands under.
pub struct Value<'a> {
    document: &'a Document<'a>,
    /// With its section.
    pub key: String,
    /// From 1.
    pub line: usize,
    /// As it stands in the file.
    pub raw: &'a str,
    value: &'a DeValue<'a>,
}

impl<'a> Section<'a> {
    /// Refuses keys other than `known`.
    pub fn only(&self, known: &[&str]) -> Result<(), BoatError> {
        for key in self.table.keys() {
            if !known.contains(&key.get_ref().as_ref()) {
                let problem = Problem::Unknown {
                    nearest: nearest(key.get_ref(), known.iter().copied()).map(str::to_owned),
                    known: known.join(", "),
                };
                return Err(BoatError {
                    line: self.document.line(key.span().start),
                    key: self.name(key.get_ref()),
                    problem,
                });
            }
        }
        Ok(())
    }

    /// The keys of the section in order.
    pub fn keys(&self) -> Vec<&'a str> {
        self.table.keys().map(|k| k.get_ref().as_ref()).collect()
    }

    fn name(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    /// The value of `key`, if it is there.
    pub fn get(&self, key: &str) -> Option<Value<'a>> {
        let (at, value) = self.table.get_key_value(key)?;
        Some(Value {
            document: self.document,
            key: self.name(key),
            line: self.document.line(at.span().start),
            raw: raw(self.document.text, value.span()),
            value: value.get_ref(),
        })
    }

    /// The value of `key`, which must be there; `example` is a line to copy.
    pub fn need(&self, key: &str, example: &'static str) -> Result<Value<'a>, BoatError> {
        self.get(key).ok_or_else(|| self.trouble(key, Problem::Missing { example }))
    }

    /// Trouble with a key that need not be there.
    pub fn trouble(&self, key: &str, problem: Problem) -> BoatError {
        let line = self.get(key).map_or(self.line, |v| v.line);
        BoatError { line, key: self.name(key), problem }
    }

    /// The section under `key`, if it is there.
    pub fn section(&self, key: &str) -> Result<Option<Section<'a>>, BoatError> {
        let Some(value) = self.get(key) else { return Ok(None) };
        match value.value {
            DeValue::Table(table) => {
                Ok(Some(Section { document: self.document, path: value.key, line: value.line, table }))
            }
            _ => Err(value.kind("a [section] of its own")),
        }
    }

    /// A length within `range`, mm.
    pub fn length(&self, key: &str, lengths: Notation, range: [f64; 2]) -> Result<Option<f64>, BoatError> {
        self.get(key).map(|v| v.length_in(lengths, range)).transpose()
    }

    /// A plain number within `range`.
    pub fn number(&self, key: &str, range: [f64; 2]) -> Result<Option<f64>, BoatError> {
        self.get(key).map(|v| v.number(range)).transpose()
    }

    /// A whole number within `range`.
    pub fn count(&self, key: &str, range: [u32; 2]) -> Result<Option<u32>, BoatError> {
        self.get(key).map(|v| v.count(range)).transpose()
    }

    /// A text of 1 to `most` letters; empty where the key is not there.
    pub fn words(&self, key: &str, most: usize) -> Result<String, BoatError> {
        self.get(key).map_or(Ok(String::new()), |v| v.words(most))
    }
}

/// The first line of what stands in `span`: enough to quote.
fn raw(text: &str, span: Range<usize>) -> &str {
    let whole = text.get(span).unwrap_or_default();
    whole.lines().next().unwrap_or_default()
}

impl<'a> Value<'a> {
    /// Trouble here.
    pub fn trouble(&self, problem: Problem) -> BoatError {
        BoatError { line: self.line, key: self.key.clone(), problem }
    }

    /// The wrong kind of value.
    pub fn kind(&self, wanted: &'static str) -> BoatError {
        self.trouble(Problem::Kind { found: self.raw.to_owned(), wanted })
    }

    /// A whole number, whatever its size.
    pub fn integer(&self) -> Option<i64> {
        match self.value {
            DeValue::Integer(i) => i64::from_str_radix(i.as_str(), i.radix()).ok(),
            _ => None,
        }
    }

    fn float(&self) -> Option<f64> {
        match self.value {
            DeValue::Float(f) => f.as_str().parse::<f64>().ok().filter(|v| v.is_finite()),
            _ => self.integer().map(|i| i as f64),
        }
    }

    /// A text as it stands.
    pub fn string(&self) -> Option<&'a str> {
        match self.value {
            DeValue::String(s) => Some(s.as_ref()),
            _ => None,
        }
    }

    /// True or false.
    pub fn yes(&self) -> Result<bool, BoatError> {
        match self.value {
            DeValue::Boolean(yes) => Ok(*yes),
            _ => Err(self.kind("true or false")),
        }
    }

    /// A text of 1 to `most` letters that can be printed on one line.
    pub fn words(&self, most: usize) -> Result<String, BoatError> {
        let text = self.string().ok_or_else(|| self.kind("a text in quotes"))?.trim();
        let found = text.chars().count();
        if found == 0 || found > most || text.chars().any(char::is_control) {
            return Err(self.trouble(Problem::Text { found, most }));
        }
        Ok(text.to_owned())
    }

    /// A length in mm: a text in any notation, or a number in the declared one.
    pub fn length(&self, lengths: Notation) -> Result<f64, BoatError> {
        let text = match (self.string(), self.float()) {
            (Some(text), _) => text.to_owned(),
            (None, Some(number)) => format!("{number}"),
            (None, None) => return Err(self.kind("a length, such as 10 or \"3/8 in\",")),
        };
        read_length(&text, Some(lengths)).map_err(|e| self.trouble(Problem::Length(e)))
    }

    /// The same within `range`, mm.
    pub fn length_in(&self, lengths: Notation, range: [f64; 2]) -> Result<f64, BoatError> {
        let mm = self.length(lengths)?;
        if (range[0]..=range[1]).contains(&mm) { Ok(mm) } else { Err(self.out_of(range_said(lengths, range), CHECK)) }
    }

    /// A plain number within `range`.
    pub fn number(&self, range: [f64; 2]) -> Result<f64, BoatError> {
        let value = self.float().ok_or_else(|| self.kind("a number"))?;
        if (range[0]..=range[1]).contains(&value) {
            return Ok(value);
        }
        Err(self.out_of(format!("{} to {}", range[0], range[1]), "check its digits"))
    }

    /// A whole number within `range`.
    pub fn count(&self, range: [u32; 2]) -> Result<u32, BoatError> {
        let value = self.integer().ok_or_else(|| self.kind("a whole number"))?;
        u32::try_from(value)
            .ok()
            .filter(|v| (range[0]..=range[1]).contains(v))
            .ok_or_else(|| self.out_of(format!("{} to {}", range[0], range[1]), "check its digits"))
    }

    /// Out of `range`.
    pub fn out_of(&self, range: String, hint: &'static str) -> BoatError {
        self.trouble(Problem::Range { found: self.raw.trim_matches('"').to_owned(), range, hint })
    }

    /// The values of a list.
    pub fn list(&self, [least, most]: [usize; 2], wanted: &'static str) -> Result<Vec<Value<'a>>, BoatError> {
        let DeValue::Array(array) = self.value else { return Err(self.kind(wanted)) };
        if array.len() < least || array.len() > most {
            return Err(self.trouble(Problem::ListLength { found: array.len(), least, most }));
        }
        let value = |(i, v): (usize, &'a toml::Spanned<DeValue<'a>>)| Value {
            document: self.document,
            key: format!("{}, item {}", self.key, i + 1),
            line: self.document.line(v.span().start),
            raw: raw(self.document.text, v.span()),
            value: v.get_ref(),
        };
        Ok(array.iter().enumerate().map(value).collect())
    }

    /// The value as a section of its own.
    pub fn section(&self, wanted: &'static str) -> Result<Section<'a>, BoatError> {
        match self.value {
            DeValue::Table(table) => {
                Ok(Section { document: self.document, path: self.key.clone(), line: self.line, table })
            }
            _ => Err(self.kind(wanted)),
        }
    }

    /// A point `[aft of the first station, above base]`, each within its range, mm.
    pub fn point(&self, lengths: Notation, x: [f64; 2], z: [f64; 2]) -> Result<[f64; 2], BoatError> {
        let wanted = "a point, [aft of the first station, above base],";
        if !matches!(self.value, DeValue::Array(array) if array.len() == 2) {
            return Err(self.kind(wanted));
        }
        let list = self.list([2, 2], wanted)?;
        let [first, second] = &list[..] else { return Err(self.kind(wanted)) };
        Ok([first.length_in(lengths, x)?, second.length_in(lengths, z)?])
    }
}
