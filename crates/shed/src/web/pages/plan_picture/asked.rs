//! What the page sends: marks and picks of each view as they were typed and picked, read into values.

use boat::offsets::RowKind;
use boat::plan_sheet::{Distance, Known, Marks, Pick, Pixel, View};
use boat::units::{Notation, read_length};
use serde::Deserialize;

/// Stations, and levels of one kind.
const MOST_STATIONS: usize = 60;
/// Picks of one view.
const MOST_PICKS: usize = 4000;
/// Letters in a name.
const MOST_LETTERS: usize = 40;

/// Everything that was typed and picked.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Asked {
    /// The revision of the boat that was before whoever asks.
    pub seen: u64,
    lengths: String,
    stations: Vec<StationTyped>,
    pub views: Vec<ViewTyped>,
    /// Numbers that stand in her table already give way to those picked.
    #[serde(default)]
    pub give_way: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StationTyped {
    name: String,
    at: String,
}

/// One view of the plan, pixels as they were picked.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ViewTyped {
    view: String,
    /// Aft is to the left in the picture.
    bow_right: bool,
    level: Vec<Pixel>,
    plumb: Vec<Pixel>,
    distances: Vec<DistanceTyped>,
    points: Vec<PointTyped>,
    pub picks: Vec<PickTyped>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DistanceTyped {
    from: Pixel,
    to: Pixel,
    length: String,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct PointTyped {
    pixel: Pixel,
    along: String,
    up: String,
}

/// A place picked on a station.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PickTyped {
    station: String,
    /// `sheer`, `rabbet`, `waterline` or `buttock`.
    what: String,
    level: String,
    pixel: Pixel,
}

/// A station: its name and how far aft of the first it stands, mm; a transom stands nowhere.
pub type Station = (String, f64);

impl Asked {
    pub fn lengths(&self) -> Result<Notation, String> {
        let short: String = self.lengths.chars().take(MOST_LETTERS).collect();
        Notation::of_word(&self.lengths).ok_or_else(|| format!("{short} is no way of writing lengths"))
    }

    /// The stations.
    ///
    /// # Errors
    /// None at all, too many, one without a name or twice, a distance that is no length.
    pub fn stations(&self, lengths: Notation) -> Result<Vec<Station>, String> {
        if self.stations.len() > MOST_STATIONS {
            return Err(format!("{} stations; {MOST_STATIONS} is the most", self.stations.len()));
        }
        let mut all: Vec<Station> = Vec::new();
        for (i, typed) in self.stations.iter().enumerate() {
            let (name, at) = (typed.name.trim().to_owned(), typed.at.trim());
            let line = format!("stations, line {}", i + 1);
            if name.is_empty() || name.chars().count() > MOST_LETTERS {
                return Err(format!(
                    "{line}: a name of 1 to {MOST_LETTERS} letters is wanted, then a comma, then how far aft of the first it stands"
                ));
            }
            if all.iter().any(|s| s.0 == name) {
                return Err(format!("{line}: there are two stations {name}; give each its own name"));
            }
            let mm = match (is_transom(&name), at) {
                (true, _) => f64::NAN,
                (false, "") => {
                    return Err(format!("{line}: say after a comma how far aft of the first station {name} stands"));
                }
                (false, at) => read_length(at, Some(lengths)).map_err(|why| format!("{line}: {why}"))?,
            };
            all.push((name, mm));
        }
        if all.is_empty() { Err("name the stations first".to_owned()) } else { Ok(all) }
    }
}

/// A transom's column has no distance.
pub fn is_transom(name: &str) -> bool {
    ["transom", "bow transom"].contains(&name.to_lowercase().as_str())
}

impl ViewTyped {
    pub fn view(&self) -> Result<View, String> {
        match self.view.as_str() {
            "body-plan" => Ok(View::BodyPlan),
            "profile" => Ok(View::Profile),
            "half-breadth" => Ok(View::HalfBreadth),
            _ => Err("there is no such view of a plan".to_owned()),
        }
    }

    /// What the two lines of the view are called on the plan: the level one and the one square to it.
    pub fn names(&self) -> [&'static str; 2] {
        match self.view.as_str() {
            "body-plan" => ["base line", "centreline"],
            "profile" => ["base line", "first station"],
            _ => ["centreline", "first station"],
        }
    }

    pub fn is_empty(&self) -> bool {
        self.level.is_empty()
            && self.plumb.is_empty()
            && self.distances.is_empty()
            && self.points.is_empty()
            && self.picks.is_empty()
    }

    /// Aft is to the right for the map: a plan with the bow to the right is looked at in a mirror.
    fn seen(&self, p: Pixel) -> Pixel {
        if self.bow_right && self.view != "body-plan" { [-p[0], p[1]] } else { p }
    }

    /// The marks.
    ///
    /// # Errors
    /// A length that is none, at its mark.
    pub fn marks(&self, lengths: Notation) -> Result<Marks, String> {
        let read = |text: &str, mark: &dyn Fn() -> String| {
            read_length(text.trim(), Some(lengths)).map_err(|why| format!("{}: {why}", mark()))
        };
        let all = |places: &[Pixel]| places.iter().map(|p| self.seen(*p)).collect();
        let distance = |(i, d): (usize, &DistanceTyped)| {
            let mm = read(&d.length, &|| format!("known distance {}", i + 1))?;
            Ok(Distance { from: self.seen(d.from), to: self.seen(d.to), mm })
        };
        let point = |(i, p): (usize, &PointTyped)| {
            let along = read(&p.along, &|| format!("known point {}, along", i + 1))?;
            let up = read(&p.up, &|| format!("known point {}, up", i + 1))?;
            Ok(Known { pixel: self.seen(p.pixel), place: [along, up] })
        };
        Ok(Marks {
            level: all(&self.level),
            plumb: all(&self.plumb),
            distances: self.distances.iter().enumerate().map(distance).collect::<Result<_, String>>()?,
            points: self.points.iter().enumerate().map(point).collect::<Result<_, String>>()?,
        })
    }

    /// Each pick as what it tells: the sheer of a body plan tells a height and a half-breadth at once, its rabbet a height.
    pub fn picked(&self, view: View, lengths: Notation) -> Vec<Result<Vec<Pick>, String>> {
        let one = |pick: &PickTyped| {
            let rows = pick.rows(view, lengths)?;
            if view != View::BodyPlan && is_transom(&pick.station) {
                return Err("the transom is read off the body plan: elsewhere its face is seen on edge".to_owned());
            }
            let pixel = self.seen(pick.pixel);
            Ok(rows.into_iter().map(|row| Pick { station: pick.station.clone(), row, pixel }).collect())
        };
        self.picks.iter().take(MOST_PICKS).map(one).collect()
    }

    /// Why there are too many picks.
    pub fn too_many(&self) -> Option<String> {
        let found = self.picks.len();
        (found > MOST_PICKS)
            .then(|| format!("{found} places were picked; {MOST_PICKS} in one view is the most: take some out"))
    }
}

impl PickTyped {
    fn rows(&self, view: View, lengths: Notation) -> Result<Vec<RowKind>, String> {
        let level = || {
            read_length(self.level.trim(), Some(lengths))
                .map_err(|why| format!("{} {}: {why}", self.what, self.level))
        };
        Ok(match (self.what.as_str(), view) {
            ("sheer", View::BodyPlan) => vec![RowKind::HeightSheer, RowKind::HalfBreadthSheer],
            ("sheer", View::Profile) => vec![RowKind::HeightSheer],
            ("sheer", View::HalfBreadth) => vec![RowKind::HalfBreadthSheer],
            ("rabbet", View::HalfBreadth) => vec![RowKind::HalfBreadthRabbet],
            ("rabbet", _) => vec![RowKind::HeightRabbet],
            ("waterline", _) => vec![RowKind::HalfBreadthWaterline(level()?)],
            ("buttock", _) => vec![RowKind::HeightButtock(level()?)],
            _ => return Err("a place is picked on the sheer, the rabbet, a waterline or a buttock".to_owned()),
        })
    }
}
