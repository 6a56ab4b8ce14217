//! The record as a table for spreadsheets.

use super::{Kind, State, Stored, states};
use boat::exchange::cell;
use std::collections::HashMap;
use std::sync::Arc;

const COLUMNS: [&str; 14] = [
    "number",
    "when (UTC)",
    "stored (UTC)",
    "who",
    "kind",
    "side",
    "strake",
    "section",
    "what",
    "value as typed",
    "value",
    "unit",
    "state",
    "speaks of number",
];

/// All entries, in the order of the record, as CSV with a head.
///
/// A cell that a spreadsheet would take for a formula or a day has an apostrophe before it, unless it is a plain number.
pub fn csv(entries: &[Arc<Stored>]) -> String {
    let head = COLUMNS.map(cell).join(",");
    let numbers: HashMap<&str, i64> = entries.iter().map(|s| (s.entry.id.as_str(), s.seq)).collect();
    let rows =
        entries.iter().zip(states(entries)).map(|(s, state)| row(&numbers, s, state).map(|c| cell(&c)).join(","));
    std::iter::once(head).chain(rows).map(|line| line + "\r\n").collect()
}

fn row(numbers: &HashMap<&str, i64>, s: &Stored, state: State) -> [String; COLUMNS.len()] {
    let e = &s.entry;
    let number = |id: &String| numbers.get(id.as_str()).map(i64::to_string);
    let text = |t: &Option<String>| t.clone().unwrap_or_default();
    [
        s.seq.to_string(),
        iso(e.at),
        iso(s.stored),
        s.device.clone(),
        e.kind.word().to_owned(),
        text(&e.side),
        e.strake.map(|n| n.to_string()).unwrap_or_default(),
        text(&e.section),
        e.what.clone(),
        e.typed.clone(),
        e.value.map(|v| v.to_string()).unwrap_or_default(),
        e.value.map_or("", |_| s.unit()).to_owned(),
        state.word().to_owned(),
        e.corrects.as_ref().and_then(number).unwrap_or_default(),
    ]
}

impl Stored {
    /// What its value counts.
    pub fn unit(&self) -> &'static str {
        match self.entry.kind {
            Kind::Reading => "mm",
            Kind::Hours => "h",
            Kind::Done if self.entry.counts_rivets() => "rivets",
            Kind::Done | Kind::Withdrawn => "",
        }
    }
}

/// A time, ms since 1970, as ISO 8601 in UTC to the second: `2026-05-04T07:30:00Z`.
pub fn iso(ms: i64) -> String {
    let seconds = ms.div_euclid(1000);
    let (days, second) = (seconds.div_euclid(86_400), seconds.rem_euclid(86_400));
    let (year, month, day) = date(days);
    let (hour, minute) = (second / 3600, second / 60 % 60);
    format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{:02}Z", second % 60)
}

/// The same for people, to the minute: `2026-05-04 07:30`.
pub fn said(ms: i64) -> String {
    iso(ms).replace('T', " ").chars().take("2026-05-04 07:30".len()).collect()
}

/// Year, month and day of a day counted from 1 January 1970, in the calendar of today.
///
/// Years are taken to begin in March, so that the odd day comes last; 400 of them have 146,097 days, and five months from March
/// or August on 153. From memory; the tests set it beside dates that are known.
fn date(days: i64) -> (i64, i64, i64) {
    let from_march_of_0 = days + 719_468;
    let (era, day_of_era) = (from_march_of_0.div_euclid(146_097), from_march_of_0.rem_euclid(146_097));
    let year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
    (era * 400 + year_of_era + i64::from(month <= 2), month, day)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Entry;

    #[test]
    fn every_value_has_its_unit() {
        let of = |kind: &str, what: &str| {
            let text = format!(
                r#"{{"id": "0123456789abcdef0123456789abcdef", "at": 0, "kind": "{kind}", "side": "port", "strake": 3, "section": "4",
                    "what": "{what}", "value": 3, "against": 3, "typed": "3"}}"#
            );
            let entry = Entry::read(&text).unwrap();
            let kept = [Arc::new(Stored { seq: 1, entry, device: "a phone".to_owned(), stored: 0 })];
            csv(&kept).lines().nth(1).unwrap().split(',').rev().nth(2).unwrap().to_owned()
        };
        let done = ["riveted", "riveted at the mould"].map(|what| of("done", what));
        assert_eq!(done, ["rivets", "rivets"]);
        assert_eq!([of("reading", "width"), of("hours", "timbers"), of("done", "hung")], ["mm", "h", ""]);
    }

    #[test]
    fn times_are_those_of_the_calendar() {
        // Dates of `date -u -d @SECONDS`, GNU coreutils.
        for (seconds, said) in [
            (0, "1970-01-01T00:00:00Z"),
            (951_782_399, "2000-02-28T23:59:59Z"),
            (951_782_400, "2000-02-29T00:00:00Z"),
            (951_868_800, "2000-03-01T00:00:00Z"),
            (1_709_164_800, "2024-02-29T00:00:00Z"),
            (1_735_689_599, "2024-12-31T23:59:59Z"),
            (4_107_542_400, "2100-03-01T00:00:00Z"),
            (253_402_300_799, "9999-12-31T23:59:59Z"),
        ] {
            assert_eq!(iso(seconds * 1000 + 999), said);
            assert_eq!(super::said(seconds * 1000), said[..16].replace('T', " "));
        }
    }
}
