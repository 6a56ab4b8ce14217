//! Offsets off a picture of a plan: marks and picks as lines of words, since the screen sends them as numbers.

use super::told;
use crate::{Spoilt, Target};
use boat::offsets::RowKind;
use boat::plan_sheet::{Distance, Known, Marks, Pick, View, laid, read_off, table};
use boat::units::{LONGEST, Notation};

pub const PLAN_SHEET: Target =
    Target { name: "plan-sheet", spoilt: Spoilt::Anything, seeds: sheets, run: read_sheet, short: 3000 };

fn sheets() -> Vec<Vec<u8>> {
    let level = "level 100 2000\nlevel 1500 2010\nlevel 2900 2021\n";
    let plumb = "plumb 1700 300\nplumb 1686 2400\n";
    let distances = "distance 200 2000 2200 2014 2000\ndistance 1700 400 1688 2000 1600\n";
    let points = "point 1690 2010 0 0\npoint 2690 2020 1000 0\npoint 1697 1010 0 1000\npoint 2697 1019 1000 1000\npoint 700 2003 -990 0\n";
    let picks = "station 1 0\nstation 2 500\nstation 3 1000\nstation 4 1500\npick 1 sheer 1990 1400\npick 1 sheer-half 1990 1400\npick 2 \
                 sheer 2090 1420\npick 2 waterline-300 2000 1712\npick 3 buttock-200 1890 1890\npick 4 rabbet 1711 1950\n";
    [[level, plumb, distances, picks].concat(), [level, plumb, points, picks].concat(), [points, picks].concat()]
        .map(String::into_bytes)
        .to_vec()
}

#[derive(Default)]
struct Sheet {
    marks: Marks,
    stations: Vec<(String, f64)>,
    picks: Vec<Pick>,
}

impl Sheet {
    fn of(text: &str) -> Sheet {
        let mut sheet = Sheet { marks: Marks::default(), ..Sheet::default() };
        for line in text.lines() {
            // A line that is none is passed over.
            let _ = sheet.take(line);
        }
        sheet
    }

    /// Takes a line of words, if it is one.
    fn take(&mut self, line: &str) -> Option<()> {
        let words: Vec<&str> = line.split_whitespace().collect();
        // As JSON has them: what is no number is none there either.
        let number = |i: usize| words.get(i)?.parse::<f64>().ok().filter(|v| v.is_finite());
        // A level is typed as a length, which is read before this.
        let level = |text: &str| text.parse::<f64>().ok().filter(|l| l.abs() <= LONGEST);
        match *words.first()? {
            "level" => self.marks.level.push([number(1)?, number(2)?]),
            "plumb" => self.marks.plumb.push([number(1)?, number(2)?]),
            "distance" => {
                let (from, to) = ([number(1)?, number(2)?], [number(3)?, number(4)?]);
                self.marks.distances.push(Distance { from, to, mm: number(5)? });
            }
            "point" => {
                self.marks.points.push(Known { pixel: [number(1)?, number(2)?], place: [number(3)?, number(4)?] })
            }
            "station" => self.stations.push(((*words.get(1)?).to_owned(), level(words.get(2)?)?)),
            "pick" => {
                let (name, at) = words.get(2)?.split_once('-').unwrap_or((words.get(2)?, ""));
                let row = match (name, at) {
                    ("sheer", "half") => RowKind::HalfBreadthSheer,
                    ("sheer", _) => RowKind::HeightSheer,
                    ("waterline", text) => RowKind::HalfBreadthWaterline(level(text)?),
                    ("buttock", text) => RowKind::HeightButtock(level(text)?),
                    _ => RowKind::HeightRabbet,
                };
                self.picks.push(Pick { station: (*words.get(1)?).to_owned(), row, pixel: [number(3)?, number(4)?] });
            }
            _ => return None,
        }
        Some(())
    }
}

fn read_sheet(input: &[u8]) {
    let sheet = Sheet::of(&String::from_utf8_lossy(input));
    let laid = match laid(&sheet.marks) {
        Ok(laid) => laid,
        Err(why) => return told(&why, input),
    };
    for view in [View::BodyPlan, View::Profile, View::HalfBreadth] {
        // The body plan gets all, the others what they show: one pick of something else and nothing would be read off them.
        let shown = |p: &&Pick| view == View::BodyPlan || p.row.is_height() == (view == View::Profile);
        let picks: Vec<Pick> = sheet.picks.iter().filter(shown).cloned().collect();
        let entries = match read_off(&laid, view, &sheet.stations, &picks) {
            Ok(entries) => entries,
            Err(why) => {
                told(&why, input);
                continue;
            }
        };
        assert!(entries.iter().all(|e| e.mm.is_finite()), "{entries:?}");
        for lengths in [Notation::Mm, Notation::FeetInchesEighths] {
            if let Err(why) = table(&entries, &sheet.stations, lengths) {
                told(&why, input);
            }
        }
    }
}
