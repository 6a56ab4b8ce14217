//! What the record says has been done on her.

use super::{Entry, Kind, Stored};
use boat::jobs::Job;
use boat::worked::Worked;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What has been done by the entries that count, on a boat with these jobs a side.
pub fn done_so_far(counts: &[Arc<Stored>], jobs: &[Job]) -> Worked {
    let mut worked = Worked::nothing(jobs);
    // The last count of each place stands for the earlier ones.
    let mut fastened: BTreeMap<(usize, usize, &str, &str), usize> = BTreeMap::new();
    for entry in counts.iter().map(|s| &s.entry) {
        let on = place(entry).filter(|(_, strake)| *strake < worked.strakes.len());
        let value = entry.value.unwrap_or(0.0);
        match (entry.kind, entry.what.as_str(), on) {
            (Kind::Reading, _, Some((side, strake))) | (Kind::Done, "hung", Some((side, strake))) => {
                worked.strakes[strake].hung[side] = true;
            }
            (Kind::Done, what @ ("riveted" | "riveted at the mould"), Some((side, strake))) => {
                let section = entry.section.as_deref().unwrap_or_default();
                fastened.insert((side, strake, what, section), value.max(0.0) as usize);
            }
            (Kind::Hours, "strake", Some((side, strake))) => worked.strakes[strake].hours[side] += value,
            (Kind::Hours, "timbers", _) => worked.timbers += value,
            (Kind::Hours, "rivets", _) => worked.rivets += value,
            (Kind::Hours, ..) => worked.other += value,
            _ => {}
        }
    }
    for ((side, strake, ..), count) in fastened {
        worked.strakes[strake].fastened[side] += count;
    }
    worked
}

/// Side, port first, and strake from 0.
fn place(entry: &Entry) -> Option<(usize, usize)> {
    let side = ["port", "starboard"].iter().position(|s| entry.side.as_deref() == Some(s))?;
    Some((side, usize::try_from(entry.strake?).ok()?.checked_sub(1)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use boat::jobs::jobs;

    fn entry(kind: Kind, what: &str, of: Option<(&str, i64)>, section: &str, value: f64) -> Arc<Stored> {
        let entry = Entry {
            id: String::new(),
            at: 0,
            kind,
            side: of.map(|o| o.0.to_owned()),
            strake: of.map(|o| o.1),
            section: Some(section.to_owned()),
            what: what.to_owned(),
            value: Some(value),
            against: None,
            typed: String::new(),
            corrects: None,
        };
        Arc::new(Stored { seq: 0, entry, device: String::new(), stored: 0 })
    }

    #[test]
    fn the_last_count_of_a_place_stands_and_hours_add_up() {
        let (toml, offsets) = (
            include_str!("../../../../boats/corncrake/boat.toml"),
            include_str!("../../../../boats/corncrake/offsets.csv"),
        );
        let texts =
            boat::folder::BoatTexts { toml: toml.to_owned(), offsets: offsets.to_owned(), ..Default::default() };
        let plan = boat::plan::plan(&boat::folder::read(&texts).unwrap()).unwrap();
        let all = [
            entry(Kind::Done, "riveted", Some(("port", 3)), "1", 4.0),
            entry(Kind::Done, "riveted", Some(("port", 3)), "1", 6.0),
            entry(Kind::Done, "riveted", Some(("port", 3)), "2", 5.0),
            entry(Kind::Done, "riveted at the mould", Some(("port", 3)), "1", 1.0),
            entry(Kind::Reading, "from the mark", Some(("starboard", 2)), "4", 1.0),
            entry(Kind::Hours, "strake", Some(("port", 3)), "", 2.5),
            entry(Kind::Hours, "strake", Some(("port", 3)), "", 1.0),
            entry(Kind::Hours, "timbers", None, "", 8.0),
            // She has no such strake any more.
            entry(Kind::Hours, "strake", Some(("port", 30)), "", 1.0),
        ];
        let worked = done_so_far(&all, &jobs(&plan, &[]));
        assert_eq!(worked.strakes[2].fastened, [12, 0]);
        assert_eq!(worked.strakes[1].hung, [false, true]);
        assert_eq!((worked.strakes[2].hours, worked.timbers, worked.other), ([3.5, 0.0], 8.0, 1.0));
        assert_eq!(worked.hours(), 12.5);
        let rivets = plan.rivets.iter().filter(|r| r.land == 2).count();
        assert!(worked.of[2] > rivets && worked.of[2] < rivets + 8, "{} of {rivets}", worked.of[2]);
    }
}
