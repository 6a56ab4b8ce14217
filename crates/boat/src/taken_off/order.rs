//! The points of each station in order from rabbet to sheer, and whether there are enough.

use super::{Part, Point, Section, TakeOffError};

/// A section in order.
#[derive(Debug, Clone)]
pub struct Ordered {
    pub name: String,
    pub part: Part,
    pub at: f64,
    pub points: Vec<Point>,
}

/// Stations besides the ends.
const LEAST_STATIONS: usize = 4;
/// Points of a station.
pub const LEAST_POINTS: usize = 5;
/// Sections and points of one, at most.
const MOST_SECTIONS: usize = 60;
const MOST_POINTS: usize = 40;
/// How far a station's points may lie off its plane, mm.
const OFF_PLANE: f64 = 1.0;
/// Nearer than this two points are one, mm.
const ONE: f64 = 3.0;

/// Stations and transoms from forward, each from rabbet to sheer. Posts are left out.
pub fn ordered(sections: &[Section]) -> Result<Vec<Ordered>, TakeOffError> {
    let stations = sections.iter().filter(|s| s.part == Part::Station).count();
    if stations < LEAST_STATIONS {
        return Err(TakeOffError::Stations { found: stations, least: LEAST_STATIONS });
    }
    if let Some(section) = sections.get(MOST_SECTIONS) {
        return Err(too_many(section, "stations and ends", sections.len(), MOST_SECTIONS));
    }
    let mut all = sections.iter().filter(|s| !s.part.is_post()).map(one).collect::<Result<Vec<_>, _>>()?;
    let rank = |part| match part {
        Part::Stem | Part::BowTransom => 0,
        Part::Station => 1,
        Part::Transom | Part::Sternpost => 2,
    };
    all.sort_by(|a, b| rank(a.part).cmp(&rank(b.part)).then(a.at.total_cmp(&b.at)));
    Ok(all)
}

fn too_many(section: &Section, what: &'static str, found: usize, most: usize) -> TakeOffError {
    let line = section.points.first().map_or(0, |p| p.line);
    TakeOffError::TooMany { station: section.name.clone(), line, what, found, most }
}

fn one(section: &Section) -> Result<Ordered, TakeOffError> {
    if section.points.len() > MOST_POINTS {
        return Err(too_many(section, "points stand there", section.points.len(), MOST_POINTS));
    }
    let (station, line) = (section.name.clone(), section.points.first().map_or(0, |p| p.line));
    let only = |mark: &'static str| {
        let found: Vec<&Point> = section.points.iter().filter(|p| p.mark == mark).collect();
        match found[..] {
            [point] => Ok(point),
            _ => Err(TakeOffError::Mark { station: station.clone(), line, mark, found: found.len() }),
        }
    };
    let (rabbet, sheer) = (only("rabbet")?, only("sheer")?);
    if section.part == Part::Station
        && let Some(p) = section.points.iter().find(|p| (p.at - rabbet.at).abs() > OFF_PLANE)
    {
        return Err(TakeOffError::NotSquare {
            station,
            line: p.line,
            found: p.at,
            first: rabbet.at,
            most: OFF_PLANE,
        });
    }
    // About the centreline at the height of the sheer every section of a boat is seen turning one way.
    let turn = |p: &Point| p.place[0].atan2(sheer.place[1] - p.place[1]);
    let mut between: Vec<&Point> =
        section.points.iter().filter(|p| p.mark != "rabbet" && p.mark != "sheer").collect();
    between.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
    let mut points = vec![rabbet.clone()];
    let apart = |a: &Point, b: &Point| (a.place[0] - b.place[0]).hypot(a.place[1] - b.place[1]);
    for p in between {
        if points.last().is_some_and(|last| apart(last, p) >= ONE) && apart(p, sheer) >= ONE {
            points.push(p.clone());
        }
    }
    points.push(sheer.clone());
    if points.len() < LEAST_POINTS {
        return Err(TakeOffError::Points { station, line, found: points.len(), least: LEAST_POINTS });
    }
    let at = match section.part {
        Part::Station => rabbet.at,
        _ => points.iter().map(|p| p.at).sum::<f64>() / points.len() as f64,
    };
    Ok(Ordered { name: section.name.clone(), part: section.part, at, points })
}
