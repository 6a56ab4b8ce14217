//! What the tape read on the planks that hang.

use super::told;
use crate::{Spoilt, Target};
use boat::folder::{BoatInput, read};
use boat::hung::{Measure, Planned, Reading, Side};
use boat::lines::{Lines, fair};
use std::sync::OnceLock;

pub const HUNG: Target = Target { name: "hung", spoilt: Spoilt::Anything, seeds: readings, run: hang, short: 150 };

fn readings() -> Vec<Vec<u8>> {
    let some = "port 1 2 mark 1 110\nport 1 4 mark -2 120\nport 2 stem mark 0.5 160\nport 2 5 width 105\nport 3 6 height 210\nport 3 \
                transom mark 3 380\nport 4 1 mark 0 300\n";
    vec![some.as_bytes().to_vec(), some.replace("port", "starboard").into_bytes()]
}

fn reading(line: &str) -> Option<Reading> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let number = |i: usize| words.get(i)?.parse::<f64>().ok();
    let side = Side::BOTH.into_iter().find(|s| s.word() == words[0])?;
    let measure = match *words.get(3)? {
        "width" => Measure::Width(number(4)?),
        "height" => Measure::Height(number(4)?),
        _ => Measure::FromMark { off: number(4)?, mark: number(5)? },
    };
    Some(Reading { side, strake: words.get(1)?.parse().ok()?, section: (*words.get(2)?).to_owned(), measure })
}

/// The first example, faired once.
fn boat() -> Option<&'static (BoatInput, Lines)> {
    static BOAT: OnceLock<Option<(BoatInput, Lines)>> = OnceLock::new();
    let faired = || {
        let input = read(&super::folders::texts(super::folders::boats().first()?)).ok()?;
        let lines = fair(&input.table, &input.spec).ok()?;
        Some((input, lines))
    };
    BOAT.get_or_init(faired).as_ref()
}

fn hang(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    let readings: Vec<Reading> = text.lines().filter(|l| !l.trim().is_empty()).filter_map(reading).collect();
    let (boat, lines) = boat().expect("the example is read and fairs");
    let planned = Planned::of(boat, lines).expect("the example is planned");
    for side in Side::BOTH {
        match planned.lie(&readings, side) {
            Ok(lie) => {
                assert!(lie.girths.iter().flatten().all(|g| g.is_finite()));
                lie.again.iter().for_each(|a| told(&a.said(boat.spec.lengths), input));
            }
            Err(why) => told(&why, input),
        }
    }
}
