//! marks.csv written again with one mark pinned or freed; everything else in it stays as it is typed, but for what ends a line.

use boat::offsets::{cells, with_cells};
use boat::units::Notation;

/// The head of a file that has none yet.
const HEAD: &str = "land,station,girth\n";

/// `text` with land `land` pinned at `station`, `girth` mm from the rabbet, or freed; `None` where nothing is left in it but
/// the head.
pub fn set(text: Option<&str>, land: usize, station: &str, girth: Option<f64>, lengths: Notation) -> Option<String> {
    // Without a byte order mark, lines ended by a line feed alone.
    let mut text = with_cells(text.unwrap_or_default(), &[]);
    if text.lines().all(|line| line.trim().is_empty() || line.trim_start().starts_with('#')) {
        text.push_str(HEAD);
    }
    let rows = cells(&text);
    let head: Vec<String> =
        rows.first().map_or_else(Vec::new, |(_, names)| names.iter().map(|n| n.to_lowercase()).collect());
    let place = |name: &str, usual: usize| head.iter().position(|n| n.starts_with(name)).unwrap_or(usual);
    let [land_at, station_at, girth_at] = [place("land", 0), place("station", 1), place("girth", 2)];
    let is_mark = |row: &[String]| {
        let cell = |at: usize| row.get(at).map_or("", String::as_str);
        cell(land_at).parse() == Ok(land) && cell(station_at).to_lowercase() == station.to_lowercase()
    };
    let marks = rows.iter().skip(1);
    let own: Vec<usize> = marks.clone().filter(|(_, row)| is_mark(row)).map(|(line, _)| *line).collect();
    let Some(girth) = girth else {
        let left = text.lines().enumerate().filter(|(i, _)| !own.contains(&(i + 1)));
        let left: String = left.map(|(_, line)| format!("{line}\n")).collect();
        return (marks.count() > own.len()).then_some(left);
    };
    // A column of the name `girth_mm` has its numbers in mm, whatever her own notation is.
    let in_mm = head.get(girth_at).is_some_and(|name| name.ends_with("mm"));
    let said = if in_mm { Notation::Mm } else { lengths }.long(girth);
    Some(match own.first() {
        Some(line) => with_cells(&text, &[(*line, girth_at + 1, said)]),
        None => {
            let line = text.lines().count() + 1;
            let row = [(land_at, land.to_string()), (station_at, station.to_owned()), (girth_at, said)];
            with_cells(&format!("{text}\n"), &row.map(|(at, cell)| (line, at + 1, cell)))
        }
    })
}

#[cfg(test)]
mod tests {
    use super::set;
    use boat::units::Notation::{FeetInchesEighths, Inches, Mm};

    #[test]
    fn a_mark_is_pinned_moved_and_freed_and_notes_stay() {
        let first = set(None, 3, "4", Some(310.2), Mm).unwrap();
        assert_eq!(first, "land,station,girth\n3,4,310\n");
        let two = set(Some(&first), 2, "stem", Some(101.6), Mm).unwrap();
        assert_eq!(two, "land,station,girth\n3,4,310\n2,stem,102\n");
        assert_eq!(set(Some(&two), 3, "4", Some(290.0), Mm).unwrap(), two.replace("310", "290"));
        let noted = "# mine\nland;station;girth;notes\n3;4;1-0-2;batten says so\n2;stem;0-4-0;\n";
        let moved = set(Some(noted), 3, "4", Some(25.4 * 12.5), FeetInchesEighths).unwrap();
        assert_eq!(moved, noted.replace("1-0-2", "1-0-4"));
        let freed = set(Some(noted), 3, "4", None, FeetInchesEighths).unwrap();
        assert_eq!(freed, "# mine\nland;station;girth;notes\n2;stem;0-4-0;\n");
        assert_eq!(set(Some(&first), 3, "4", None, Mm), None);
        assert_eq!(set(None, 3, "4", None, Mm), None);
        assert_eq!(set(Some("# mine\n"), 3, "4", Some(310.2), Mm).unwrap(), format!("# mine\n{first}"));
    }

    /// What parts the cells is said by the head alone, and what stands in quotation marks parts none.
    #[test]
    fn signs_in_notes_part_no_cells() {
        let noted = "# by eye; to be tried\nnotes,land,station,girth\n\"fair; at last, nearly\",3,4,310\n";
        let moved = set(Some(noted), 3, "4", Some(290.0), Mm).unwrap();
        assert_eq!(moved, noted.replace("310", "290"));
        let more = set(Some(noted), 2, "4", Some(200.0), Mm).unwrap();
        assert_eq!(more, format!("{noted},2,4,200\n"));
        let windows = format!("\u{feff}{}", noted.replace('\n', "\r\n"));
        assert_eq!(set(Some(&windows), 3, "4", Some(290.0), Mm).unwrap(), moved);
    }

    /// In inches a bare number there would be read as so many mm.
    #[test]
    fn a_column_in_mm_stays_in_mm() {
        let text = "land,station,girth_mm\n3,4,310\n";
        for lengths in [Mm, Inches, FeetInchesEighths] {
            assert_eq!(set(Some(text), 3, "4", Some(290.4), lengths).unwrap(), text.replace("310", "290"));
            assert_eq!(set(Some(text), 2, "4", Some(200.0), lengths).unwrap(), format!("{text}2,4,200\n"));
        }
    }
}
