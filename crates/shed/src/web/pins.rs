//! marks.csv written again with one mark pinned or freed; everything else in it stays as it is.

use boat::units::Notation;

/// `text` with land `land` pinned at `station`, `girth` mm from the rabbet, or freed; `None` where nothing is left in it but
/// the head.
pub fn set(text: Option<&str>, land: usize, station: &str, girth: Option<f64>, lengths: Notation) -> Option<String> {
    let text = text.unwrap_or("land,station,girth\n");
    let separator = ['\t', ';'].into_iter().find(|s| text.lines().any(|l| l.contains(*s))).unwrap_or(',');
    let said = girth.map(|mm| lengths.long(mm));
    let mut lines: Vec<String> = Vec::new();
    let mut place: Option<[usize; 3]> = None;
    let mut done = false;
    for line in text.lines() {
        let cells: Vec<&str> = line.split(separator).collect();
        let bare = |i: usize| cells.get(i).map_or("", |c| c.trim().trim_matches('"').trim());
        let comment = line.trim_start().trim_start_matches('"').starts_with('#') || line.trim().is_empty();
        if comment {
            lines.push(line.to_owned());
            continue;
        }
        let Some([land_at, station_at, girth_at]) = place else {
            let find = |name: &str| (0..cells.len()).find(|&i| bare(i).to_lowercase().starts_with(name));
            place = Some([find("land").unwrap_or(0), find("station").unwrap_or(1), find("girth").unwrap_or(2)]);
            lines.push(line.to_owned());
            continue;
        };
        let this = bare(land_at).parse() == Ok(land) && bare(station_at).to_lowercase() == station.to_lowercase();
        match (&said, this) {
            (_, false) => lines.push(line.to_owned()),
            (None, true) => {}
            (Some(said), true) => {
                let mut cells: Vec<String> = cells.iter().map(|c| (*c).to_owned()).collect();
                if let Some(cell) = cells.get_mut(girth_at) {
                    said.clone_into(cell);
                }
                lines.push(cells.join(&separator.to_string()));
                done = true;
            }
        }
    }
    if let (Some(said), false) = (said, done) {
        let [land_at, station_at, girth_at] = place.unwrap_or([0, 1, 2]);
        let mut cells = vec![String::new(); land_at.max(station_at).max(girth_at) + 1];
        cells[land_at] = land.to_string();
        cells[station_at] = station.to_owned();
        cells[girth_at] = said;
        lines.push(cells.join(&separator.to_string()));
    }
    let rows = lines.iter().filter(|l| !l.trim().is_empty() && !l.trim_start().starts_with('#')).count();
    (rows > 1).then(|| lines.join("\n") + "\n")
}

#[cfg(test)]
mod tests {
    use super::set;
    use boat::units::Notation::{FeetInchesEighths, Mm};

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
    }
}
