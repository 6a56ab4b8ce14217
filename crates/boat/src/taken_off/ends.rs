//! Stem, sternpost and transoms, as far as their points tell.

use super::{EndFound, Part, Section};

/// The two ends.
pub struct Ends {
    pub fore: Option<EndFound>,
    pub aft: Option<EndFound>,
}

/// Points of a rabbet stand lower by this at least, mm, one after the other.
const LOWER: f64 = 1.0;

impl Ends {
    pub fn of(sections: &[Section]) -> Ends {
        let find = |parts: [Part; 2]| sections.iter().find(|s| parts.contains(&s.part)).and_then(end);
        Ends { fore: find([Part::Stem, Part::BowTransom]), aft: find([Part::Sternpost, Part::Transom]) }
    }

    /// How far from the fore end and from the after end a place lies along the boat, mm; far from an end that is not known.
    pub fn from(&self, x: f64, up: f64) -> [f64; 2] {
        let fore = self.fore.as_ref().map_or(f64::MAX, |e| x - along(e, up));
        let aft = self.aft.as_ref().map_or(f64::MAX, |e| along(e, up) - x);
        [fore.max(0.0), aft.max(0.0)]
    }
}

/// Where an end stands at a height, mm aft of the first station.
fn along(end: &EndFound, up: f64) -> f64 {
    let points: &[[f64; 2]] = match end {
        EndFound::Post { rabbet, .. } => rabbet,
        EndFound::Transom { foot, head, .. } => &[*head, *foot],
    };
    let i = points.partition_point(|p| p[1] > up).clamp(1, points.len() - 1);
    let ([x0, z0], [x1, z1]) = (points[i - 1], points[i]);
    // Below the fore-foot and above the head the end stands where it ends.
    x0 + (x1 - x0) * ((z0 - up) / (z0 - z1)).clamp(0.0, 1.0)
}

fn end(section: &Section) -> Option<EndFound> {
    let mut points: Vec<[f64; 2]> = section.points.iter().map(|p| [p.at, p.place[1]]).collect();
    points.sort_by(|a, b| b[1].total_cmp(&a[1]));
    points.dedup_by(|a, b| (b[1] - a[1]).abs() < LOWER);
    if points.len() < 2 {
        return None;
    }
    if section.part.is_post() {
        let half_siding = section.points.iter().map(|p| p.place[0]).sum::<f64>() / section.points.len() as f64;
        return Some(EndFound::Post { half_siding, rabbet: points });
    }
    // The straight line by least squares, along over up.
    let n = points.len() as f64;
    let [x, z] = [0, 1].map(|d| points.iter().map(|p| p[d]).sum::<f64>() / n);
    let lean = points.iter().map(|p| (p[0] - x) * (p[1] - z)).sum::<f64>()
        / points.iter().map(|p| (p[1] - z).powi(2)).sum::<f64>();
    let on = |up: f64| x + lean * (up - z);
    let [head, foot] = [points[0], points[points.len() - 1]].map(|p| [on(p[1]), p[1]]);
    let off = points.iter().map(|p| (p[0] - on(p[1])).abs()).fold(0.0, f64::max);
    Some(EndFound::Transom { foot, head, off })
}
