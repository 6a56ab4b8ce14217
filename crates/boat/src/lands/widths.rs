//! What shows of each strake, station by station.

use crate::lining::sweet;

/// Wider again by less than this is no hump, mm. Common practice, no source.
const HUMP: f64 = 2.0;

/// A place where a strake shows wider than nearer to its widest place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hump {
    /// 1 to n.
    pub strake: usize,
    /// Where it is wider again: index of the section.
    pub section: usize,
    /// The narrowest section between that and the strake's widest.
    pub narrowest: usize,
    /// By how much, mm.
    pub by: f64,
}

/// Two neighbours at a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// The lower of the two strakes.
    pub strake: usize,
    /// Index of the section.
    pub section: usize,
    /// What the upper one shows less what the lower one does, mm.
    pub by: f64,
}

/// Humps of widths `[strake][section]`, keel to sheer.
pub(super) fn humps(shows: &[Vec<f64>]) -> Vec<Hump> {
    let mut found = Vec::new();
    for (i, widths) in shows.iter().enumerate() {
        let widest = (0..widths.len()).max_by(|&a, &b| widths[a].total_cmp(&widths[b])).unwrap_or(0);
        for section in sweet::humps(widths, HUMP) {
            let between = if section > widest { widest..section } else { section + 1..widest + 1 };
            let narrowest = between.min_by(|&a, &b| widths[a].total_cmp(&widths[b])).unwrap_or(section);
            found.push(Hump { strake: i + 1, section, narrowest, by: widths[section] - widths[narrowest] });
        }
    }
    found
}

/// The greatest step between neighbours at each section.
pub(super) fn steps(shows: &[Vec<f64>]) -> Vec<Step> {
    let sections = shows.iter().map(Vec::len).min().unwrap_or(0);
    let at = |section: usize| {
        let steps = shows.windows(2).enumerate().map(move |(i, pair)| Step {
            strake: i + 1,
            section,
            by: pair[1][section] - pair[0][section],
        });
        steps.max_by(|a, b| a.by.abs().total_cmp(&b.by.abs()))
    };
    (0..sections).filter_map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hump_is_named_with_what_is_narrower_before_it() {
        let shows = [vec![64.0, 53.0, 78.0, 88.0, 80.0, 70.0, 75.0], vec![50.0, 60.0, 70.0, 80.0, 70.0, 60.0, 50.0]];
        assert_eq!(
            humps(&shows),
            [
                Hump { strake: 1, section: 0, narrowest: 1, by: 11.0 },
                Hump { strake: 1, section: 6, narrowest: 5, by: 5.0 }
            ]
        );
        let steps = steps(&shows);
        assert_eq!(steps[0], Step { strake: 1, section: 0, by: -14.0 });
        assert_eq!(steps[6], Step { strake: 1, section: 6, by: -25.0 });
        assert_eq!(steps.len(), 7);
    }
}
