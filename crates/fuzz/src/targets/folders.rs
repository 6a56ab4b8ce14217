//! The folders that a builder types: a boat's, her rates, a repair's, points taken off.

use super::{Texts, together, told};
use crate::{Spoilt, Target};
use boat::folder::{
    BoatTexts, RepairFolderError, RepairTexts, loads_as_typed, read, read_rates, read_repair, read_taken,
};
use boat::repair::mend;
use boat::taken_off::{On, Settings, take_off};
use boat::units::Notation;

pub const BOAT: Target = Target { name: "boat", spoilt: Spoilt::Anything, seeds: boats, run: read_boat, short: 1500 };
pub const RATES: Target =
    Target { name: "rates", spoilt: Spoilt::Anything, seeds: rates, run: rates_read, short: 2000 };
pub const REPAIR: Target =
    Target { name: "repair", spoilt: Spoilt::Anything, seeds: repairs, run: mend_it, short: 400 };
pub const REPAIR_NUMBERS: Target =
    Target { name: "repair-numbers", spoilt: Spoilt::Numbers, seeds: repairs, run: mend_it, short: 150 };
pub const TAKEN: Target = Target { name: "taken", spoilt: Spoilt::Anything, seeds: taken, run: take, short: 1000 };

macro_rules! boat {
    ($name:literal, $file:literal) => {
        include_str!(concat!("../../../../boats/", $name, "/", $file))
    };
}

const MARKS: &str = "land,station,girth_mm\n4,3,300\n5,stem,300\n6,transom,400\n";

/// The examples with every file that a boat's folder may have.
pub fn boats() -> Vec<Vec<u8>> {
    let corncrake = [
        ("boat.toml", boat!("corncrake", "boat.toml")),
        ("offsets.csv", boat!("corncrake", "offsets.csv")),
        ("marks.csv", MARKS),
        ("boards.csv", boat!("corncrake", "boards.csv")),
        ("nails.csv", boat!("corncrake", "nails.csv")),
    ];
    let two = |toml, offsets| [("boat.toml", toml), ("offsets.csv", offsets)];
    vec![
        together(&corncrake),
        together(&corncrake[..2]),
        together(&two(boat!("sandgrouse", "boat.toml"), boat!("sandgrouse", "offsets.csv"))),
        together(&two(boat!("lapwing", "boat.toml"), boat!("lapwing", "offsets.csv"))),
    ]
}

/// The boat's folder that is in `input`.
pub fn texts(input: &[u8]) -> BoatTexts {
    let files = Texts::of(input);
    BoatTexts {
        toml: files.get("boat.toml").unwrap_or_default(),
        offsets: files.get("offsets.csv").unwrap_or_default(),
        marks: files.get("marks.csv"),
        boards: files.get("boards.csv"),
        nails: files.get("nails.csv"),
    }
}

fn read_boat(input: &[u8]) {
    let texts = texts(input);
    let _ = loads_as_typed(&texts.toml);
    if let Err(why) = read(&texts) {
        told(&why, input);
        let said = why.to_string();
        assert!(said.contains(".toml") || said.contains(".csv"), "names no file: {said}");
    }
}

fn rates() -> Vec<Vec<u8>> {
    let all = [boat!("corncrake", "rates.toml"), boat!("sandgrouse", "rates.toml"), boat!("lapwing", "rates.toml")];
    all.map(|text| text.as_bytes().to_vec()).to_vec()
}

fn rates_read(input: &[u8]) {
    if let Err(why) = read_rates(&String::from_utf8_lossy(input)) {
        told(&why, input);
    }
}

const HOLES: &str = "land,along\nlower,1050\nlower,1200\nupper,1100\n";

fn repairs() -> Vec<Vec<u8>> {
    let files = [
        ("repair.toml", boat!("sandgrouse-repair", "repair.toml")),
        ("readings.csv", boat!("sandgrouse-repair", "readings.csv")),
        ("holes.csv", HOLES),
    ];
    vec![together(&files), together(&files[..2])]
}

fn mend_it(input: &[u8]) {
    let files = Texts::of(input);
    let texts = RepairTexts {
        toml: files.get("repair.toml").unwrap_or_default(),
        readings: files.get("readings.csv").unwrap_or_default(),
        holes: files.get("holes.csv"),
    };
    match read_repair(&texts) {
        Ok(job) => match mend(&job) {
            Ok(mended) => assert!(mended.flat.length.is_finite()),
            Err(why) => told(&why, input),
        },
        Err(why @ (RepairFolderError::Toml(_) | RepairFolderError::List(_))) => told(&why, input),
    }
}

/// A hull of closed form measured at six planks' edges, in both ways of measuring, mm and feet.
fn taken() -> Vec<Vec<u8>> {
    let mut mm = "station,at,mark,on,out,up\n".to_owned();
    let mut feet = mm.clone();
    for s in 0..6 {
        for k in 0..7 {
            let (x, share) = (f64::from(s), f64::from(k) / 6.0);
            let out = (420.0 + 60.0 * x - 10.0 * x * x) * (0.05 + share).sqrt();
            let up = 90.0 + 420.0 * share * share + 6.0 * (x - 2.5).powi(2);
            let mark = ["rabbet", "1", "2", "3", "4", "5", "sheer"][k as usize];
            mm.push_str(&format!("{s},{},{mark},,{out:.0},{up:.0}\n", 500 * s));
            let eighths = |v: f64| Notation::FeetInchesEighths.long(v);
            feet.push_str(&format!("{s},{},{mark},,{},{}\n", eighths(500.0 * x), eighths(out), eighths(up)));
        }
    }
    let tapes = "station,at,mark,from_inner,from_outer,inner_out,inner_up,outer_out,outer_up\n\
                 1,0,rabbet,700,900,-20,800,600,800\n1,0,1,600,700,,,,\n1,0,2,620,500,,,,\n1,0,sheer,640,300,,,,\n";
    vec![mm.into_bytes(), feet.into_bytes(), tapes.as_bytes().to_vec()]
}

fn take(input: &[u8]) {
    let text = String::from_utf8_lossy(input);
    for (lengths, on) in [(Notation::Mm, On::Edge), (Notation::FeetInchesEighths, On::Middle)] {
        let settings = Settings { lengths, thickness: 9.0, lap: 18.0, gains: [300.0, 0.0], tape: 1.0 };
        match read_taken(&text, lengths, on) {
            Ok(sections) => {
                if let Err(why) = take_off(&sections, &settings) {
                    told(&why, input);
                }
            }
            Err(why) => told(&why, input),
        }
    }
}
