//! Points from PLY, XYZ and CSV.
//!
//! Source: [PLY] the format as its author describes it: a header of elements and properties, then text or binary numbers.

use crate::read_in::bare::with_point;
use crate::read_in::problem::{ReadInError, ReadInProblem as Problem};
use crate::words::quoted;

/// Which form a file has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CloudForm {
    /// PLY, text or binary.
    Ply,
    /// Three numbers to a line or more, or columns called x, y and z.
    Text,
}

/// Points that are read.
pub const MOST_POINTS: usize = 3_000_000;
/// No coordinate is larger, whatever the unit.
const LARGEST: f64 = 1e7;
/// Elements and properties of a PLY header.
const MOST_HEADER: usize = 200;

pub struct Read {
    pub points: Vec<[f64; 3]>,
    pub said: Vec<String>,
}

pub fn read(bytes: &[u8], form: CloudForm) -> Result<Read, ReadInError> {
    match form {
        CloudForm::Ply => ply(bytes),
        CloudForm::Text => text(bytes),
    }
}

fn too_many(found: usize) -> ReadInError {
    let remedy = "thin the cloud in the program that made it";
    Problem::TooMany { what: "points", found, most: MOST_POINTS, remedy }.nowhere()
}

fn checked(p: [f64; 3], line: usize) -> Result<[f64; 3], ReadInError> {
    match p.iter().find(|n| !n.is_finite() || n.abs() > LARGEST) {
        Some(n) => {
            Err(Problem::NoNumber { found: n.to_string(), wanted: "a number of less than ten million" }.on(line))
        }
        None => Ok(p),
    }
}

fn text(bytes: &[u8]) -> Result<Read, ReadInError> {
    let mut points = Vec::new();
    let mut said = Vec::new();
    let mut columns: Option<[usize; 3]> = None;
    // Some old programs end lines with a carriage return alone.
    let end = if bytes.contains(&b'\n') { b'\n' } else { b'\r' };
    for (i, line) in bytes.split(|b| *b == end).enumerate() {
        let line = std::str::from_utf8(line).map_err(|_| {
            let found = "bytes that are no text".to_owned();
            let remedy = "save the points as text, or as PLY";
            Problem::NotSo { wanted: "a list of points", found, remedy }.on(i + 1)
        })?;
        let line = line.trim_start_matches('\u{feff}').trim();
        if line.is_empty() || line.starts_with('#') || line.starts_with("//") {
            continue;
        }
        let cells = cells(line);
        if columns.is_none() && points.is_empty() {
            let plain: Vec<String> = cells.iter().map(|c| c.trim_matches('"').to_lowercase()).collect();
            let find =
                |name: &str| plain.iter().position(|c| c.split(['(', '[']).next().map(str::trim) == Some(name));
            if let (Some(x), Some(y), Some(z)) = (find("x"), find("y"), find("z")) {
                columns = Some([x, y, z]);
                said.push(format!("columns x, y and z, named on line {}", i + 1));
                continue;
            }
            // The count that some programs write over the points.
            if cells.len() == 1 && cells[0].parse::<usize>().is_ok() {
                continue;
            }
        }
        let at = columns.unwrap_or([0, 1, 2]);
        let number = |c: usize| {
            let cell = cells.get(c).map(|t| with_point(t.trim_matches('"'))).unwrap_or_default();
            cell.parse::<f64>().map_err(|_| {
                let problem = Problem::NoNumber { found: cell.clone(), wanted: "a coordinate" };
                ReadInError { cell: Some(c + 1), ..problem.on(i + 1) }
            })
        };
        points.push(checked([number(at[0])?, number(at[1])?, number(at[2])?], i + 1)?);
        if points.len() > MOST_POINTS {
            return Err(too_many(points.len()));
        }
    }
    Ok(Read { points, said })
}

/// Parted by semicolons or tabs, by commas, or by spaces.
fn cells(line: &str) -> Vec<&str> {
    for mark in [';', '\t'] {
        if line.contains(mark) {
            return line.split(mark).map(str::trim).collect();
        }
    }
    // A decimal comma has no space after it, and three numbers have no more than three of them.
    if line.contains(',')
        && !(line.contains(' ') && line.split_whitespace().all(|w| w.matches(',').count() <= 1 && !w.ends_with(',')))
    {
        return line.split(',').map(str::trim).collect();
    }
    line.split_whitespace().collect()
}

#[derive(Clone, Copy)]
enum Kind {
    Int(usize, bool),
    Float(usize),
}

impl Kind {
    fn of(word: &str) -> Option<Kind> {
        Some(match word {
            "char" | "int8" => Kind::Int(1, true),
            "uchar" | "uint8" => Kind::Int(1, false),
            "short" | "int16" => Kind::Int(2, true),
            "ushort" | "uint16" => Kind::Int(2, false),
            "int" | "int32" => Kind::Int(4, true),
            "uint" | "uint32" => Kind::Int(4, false),
            "float" | "float32" => Kind::Float(4),
            "double" | "float64" => Kind::Float(8),
            _ => return None,
        })
    }

    fn size(self) -> usize {
        match self {
            Kind::Int(n, _) | Kind::Float(n) => n,
        }
    }

    fn number(self, bytes: &[u8], little: bool) -> f64 {
        let mut all = [0_u8; 8];
        for (to, from) in all.iter_mut().zip(bytes.iter().take(self.size())) {
            *to = *from;
        }
        let mut own = all[..self.size()].to_vec();
        if !little {
            own.reverse();
        }
        let mut low = [0_u8; 8];
        low[..own.len()].copy_from_slice(&own);
        let bits = u64::from_le_bytes(low);
        match self {
            Kind::Float(4) => f64::from(f32::from_bits(bits as u32)),
            Kind::Float(_) => f64::from_bits(bits),
            Kind::Int(n, signed) => {
                let unused = 64 - 8 * n as u32;
                if signed { (((bits << unused) as i64) >> unused) as f64 } else { bits as f64 }
            }
        }
    }
}

enum Property {
    One(String, Kind),
    List(Kind, Kind),
}

struct Element {
    name: String,
    count: usize,
    properties: Vec<Property>,
}

#[derive(PartialEq)]
enum Numbers {
    Text,
    Little,
    Big,
}

fn ply(bytes: &[u8]) -> Result<Read, ReadInError> {
    let not_so = |line: usize, found: String| {
        Problem::NotSo { wanted: "a PLY file", found, remedy: "save it again as PLY, text or binary" }.on(line)
    };
    let mut at = 0;
    let mut line_number = 0;
    let mut next_line = |at: &mut usize| -> Option<(usize, String)> {
        let rest = bytes.get(*at..)?;
        let end = rest.iter().position(|b| *b == b'\n')?;
        *at += end + 1;
        line_number += 1;
        Some((line_number, String::from_utf8_lossy(&rest[..end]).trim().to_owned()))
    };
    match next_line(&mut at) {
        Some((_, first)) if first == "ply" => {}
        Some((line, first)) => return Err(not_so(line, format!("it begins with {}", quoted(&first)))),
        None => return Err(Problem::Empty.nowhere()),
    }
    let mut numbers = None;
    let mut elements: Vec<Element> = Vec::new();
    let mut header = 0;
    loop {
        let Some((line, text)) = next_line(&mut at) else {
            return Err(not_so(1, "its header does not end".to_owned()));
        };
        header += 1;
        if header > MOST_HEADER {
            return Err(not_so(line, format!("its header has more than {MOST_HEADER} lines")));
        }
        let words: Vec<&str> = text.split_whitespace().collect();
        match words[..] {
            ["end_header"] => break,
            ["format", form, _] => {
                numbers = Some(match form {
                    "ascii" => Numbers::Text,
                    "binary_little_endian" => Numbers::Little,
                    "binary_big_endian" => Numbers::Big,
                    other => return Err(not_so(line, format!("its format is {}", quoted(other)))),
                });
            }
            ["element", name, count] => {
                let count = count.parse().map_err(|_| {
                    Problem::NoNumber { found: count.to_owned(), wanted: "how many elements there are" }.on(line)
                })?;
                elements.push(Element { name: name.to_owned(), count, properties: Vec::new() });
            }
            ["property", "list", count, kind, _] => match (Kind::of(count), Kind::of(kind), elements.last_mut()) {
                (Some(count), Some(kind), Some(e)) => e.properties.push(Property::List(count, kind)),
                _ => return Err(not_so(line, quoted(&text))),
            },
            ["property", kind, name] => match (Kind::of(kind), elements.last_mut()) {
                (Some(kind), Some(e)) => e.properties.push(Property::One(name.to_owned(), kind)),
                _ => return Err(not_so(line, quoted(&text))),
            },
            ["comment" | "obj_info", ..] | [] => {}
            _ => return Err(not_so(line, quoted(&text))),
        }
    }
    let Some(numbers) = numbers else { return Err(not_so(1, "its header names no format".to_owned())) };
    let body = bytes.get(at..).unwrap_or_default();
    let points = if numbers == Numbers::Text {
        text_elements(body, header + 1, &elements)?
    } else {
        binary_elements(body, numbers == Numbers::Little, &elements)?
    };
    let form = match numbers {
        Numbers::Text => "text",
        Numbers::Little => "binary, little end first",
        Numbers::Big => "binary, big end first",
    };
    Ok(Read { points, said: vec![format!("PLY, {form}")] })
}

/// Where x, y and z stand among an element's properties.
fn columns(element: &Element) -> Result<[usize; 3], ReadInError> {
    let find = |name: &str| element.properties.iter().position(|p| matches!(p, Property::One(n, _) if n == name));
    match (find("x"), find("y"), find("z")) {
        (Some(x), Some(y), Some(z)) => Ok([x, y, z]),
        _ => Err(Problem::NotSo {
            wanted: "a PLY file of points",
            found: "its element vertex has no x, y and z".to_owned(),
            remedy: "save the points with their coordinates",
        }
        .nowhere()),
    }
}

fn cut_short(found: usize, wanted: usize) -> ReadInError {
    let found = format!("it is cut short: {found} of {wanted} points are in it");
    Problem::NotSo { wanted: "a whole PLY file", found, remedy: "save it again" }.nowhere()
}

fn no_vertex() -> ReadInError {
    let found = "it has no element vertex".to_owned();
    Problem::NotSo { wanted: "a PLY file of points", found, remedy: "save the points, not only faces" }.nowhere()
}

fn text_elements(body: &[u8], header: usize, elements: &[Element]) -> Result<Vec<[f64; 3]>, ReadInError> {
    let mut lines = body.split(|b| *b == b'\n').enumerate().filter(|(_, l)| !l.iter().all(u8::is_ascii_whitespace));
    for element in elements {
        if element.name != "vertex" {
            // A count that no file has lines for ends the loop with them.
            for _ in 0..element.count {
                if lines.next().is_none() {
                    break;
                }
            }
            continue;
        }
        if element.count > MOST_POINTS {
            return Err(too_many(element.count));
        }
        let at = columns(element)?;
        let mut points = Vec::new();
        for _ in 0..element.count {
            let Some((i, line)) = lines.next() else { return Err(cut_short(points.len(), element.count)) };
            let line_number = header + i + 1;
            let text = String::from_utf8_lossy(line);
            let words: Vec<&str> = text.split_whitespace().collect();
            let number = |c: usize| {
                let word = words.get(c).copied().unwrap_or_default();
                word.parse::<f64>().map_err(|_| {
                    let problem = Problem::NoNumber { found: word.to_owned(), wanted: "a coordinate" };
                    ReadInError { cell: Some(c + 1), ..problem.on(line_number) }
                })
            };
            points.push(checked([number(at[0])?, number(at[1])?, number(at[2])?], line_number)?);
        }
        return Ok(points);
    }
    Err(no_vertex())
}

fn binary_elements(body: &[u8], little: bool, elements: &[Element]) -> Result<Vec<[f64; 3]>, ReadInError> {
    let mut at = 0;
    for element in elements {
        let wanted = element.name == "vertex";
        if wanted && element.count > MOST_POINTS {
            return Err(too_many(element.count));
        }
        let columns = if wanted { columns(element)? } else { [0; 3] };
        let mut points = Vec::new();
        for i in 0..element.count {
            let mut place = [0.0; 3];
            let before = at;
            for (k, property) in element.properties.iter().enumerate() {
                let cut = || cut_short(i, element.count);
                match property {
                    Property::One(_, kind) => {
                        let own = body.get(at..at + kind.size()).ok_or_else(cut)?;
                        for (d, column) in columns.iter().enumerate() {
                            if *column == k {
                                place[d] = kind.number(own, little);
                            }
                        }
                        at += kind.size();
                    }
                    Property::List(count, kind) => {
                        let own = body.get(at..at + count.size()).ok_or_else(cut)?;
                        let items = count.number(own, little);
                        let long = items.max(0.0) as usize;
                        at = long
                            .checked_mul(kind.size())
                            .and_then(|n| n.checked_add(at + count.size()))
                            .ok_or_else(cut)?;
                        if at > body.len() {
                            return Err(cut());
                        }
                    }
                }
            }
            if wanted {
                points.push(checked(place, i + 1)?);
            } else if at == before {
                // An element without properties takes no room, however many there are.
                break;
            }
        }
        if wanted {
            return Ok(points);
        }
    }
    Err(no_vertex())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_read_whatever_ends_their_lines() {
        for head in ["x,y,z\n", ""] {
            let unix = format!("{head}1,2,3\n4,5,6\n");
            for text in [unix.clone(), unix.replace('\n', "\r\n"), unix.replace('\n', "\r")] {
                let read = read(text.as_bytes(), CloudForm::Text).unwrap_or_else(|why| panic!("{why}: {text:?}"));
                assert_eq!(read.points, [[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]], "{text:?}");
            }
        }
    }
}
