//! Boats with one thing wrong: each is refused, and the message names the place, the value, the limit, what to do.

use crate::{bad_boat, bad_lists};
use boat::fastenings::stock::Pack;
use boat::folder::{BoatTexts, FolderError, read};
use proptest::prelude::*;

const TOML: &str = r#"strakewise = 1
name = "Dunlin"
kind = "clinker pram tender, 2.4 m"
lengths = "mm"

[lines]
drawn_to = "inside of plank"
fair_within = 1
[lines.diagonals.A]
height = 500
below_level = 40

[stem]
half_siding = 15
rabbet = [[-250, 620], [-230, 400], [-120, 150]]

[transom]
foot = [1700, 95]
head = [1850, 560]

[planking]
thickness = 8
lap = 18
strakes = 7
wood = "spruce, Sitka"

[timbers]
spacing = 150

[fastenings]
gauge = 14
nail_lengths = [16, 20, 25, 30]
"#;

pub const OFFSETS: &str = "\
# Dunlin
row,0,1,2,3,transom
at,0,500,1000,1500,
height sheer,600,550,520,530,560
height rabbet,90,80,80,85,
half-breadth sheer,300,480,520,450,350
half-breadth waterline 300,180,400,450,340,200
height buttock 200,320,150,120,160,300
diagonal A,250,400,440,360,
";

pub const MARKS: &str = "land,station,girth_mm\n1,stem,90\n2,stem,180\n1,2,100\n2,2,205.5\n3,transom,300\n";
pub const BOARDS: &str = "board,length,width,thickness,wood\nA1,4200,200,12,\"spruce, Sitka\"\nA2,3 m,8 in,12,\n";

/// With this one the lengths of nails stand here, and not in boat.toml.
pub const NAILS: &str = "kind,gauge,length,diameter,height,thickness,pack,in_hand,notes\n\
                     nail,14,20,,,,1 kg,,\nnail,14,25,,,,250,2,the blue tin\nnail,12,40,,,,500 g,,\n\
                     rove,14,,9.5,1.5,0.9,500,1,\nscrew,8,32,,,,100,,\n";

fn good() -> BoatTexts {
    BoatTexts {
        toml: TOML.to_owned(),
        offsets: OFFSETS.to_owned(),
        marks: Some(MARKS.to_owned()),
        boards: Some(BOARDS.to_owned()),
        nails: None,
    }
}

/// The same with its nails in a list of their own.
fn with_nails() -> BoatTexts {
    let toml = TOML.replace("nail_lengths = [16, 20, 25, 30]\n", "");
    BoatTexts { toml, nails: Some(NAILS.to_owned()), ..good() }
}

#[test]
fn the_boat_is_good_before_it_is_spoilt() {
    let input = read(&good()).unwrap();
    assert!(input.findings.is_empty(), "{:?}", input.findings);
    assert_eq!((input.spec.name.as_str(), input.table.rows.len(), input.table.stations.len()), ("Dunlin", 6, 5));
    assert_eq!((input.pins.len(), input.boards.len()), (5, 2));
    assert_eq!((input.pins[3].land, input.pins[3].station.as_str(), input.pins[3].girth), (2, "2", 205.5));
    assert!((input.boards[1].width - 203.2).abs() < 1e-9);
    // What is not given is as docs/boat-folder.md says.
    let spec = &input.spec;
    assert_eq!(
        (spec.lines.keel_half_siding, spec.planking.gain, spec.planking.transom_gain),
        (15.0, 304.8, Some(304.8))
    );
    assert_eq!((spec.planking.widest, spec.planking.garboard, spec.planking.edge_floor), (127.0, 1.0, 3.2));
    assert!((spec.planking.wood.density - 448.0).abs() < 1e-9 && (spec.timbers.wood.density - 761.6).abs() < 1e-9);
}

#[test]
fn a_list_of_nails_says_what_boat_toml_does_not() {
    let input = read(&with_nails()).unwrap();
    let f = &input.spec.fastenings;
    assert_eq!(
        (f.nail_lengths.as_slice(), f.rove_diameter, f.rove, f.rove_thickness),
        (&[20.0, 25.0][..], 9.5, 1.5, 0.9)
    );
    assert_eq!(input.nails.len(), 5);
    assert_eq!((input.nails[0].pack, input.nails[1].pack), (Some(Pack::Mass(1.0)), Some(Pack::Count(250))));
    assert_eq!((input.nails[1].in_hand, input.nails[3].in_hand, input.nails[4].pack), (2, 1, Some(Pack::Count(100))));
    // In any units, and by the piece.
    for (pack, grams) in [("1 lb", 453.592_37), ("8oz", 226.796_185), ("0.5 kg", 500.0), ("500g", 500.0)] {
        let nails = Some(NAILS.replacen("1 kg", pack, 1));
        let input = read(&BoatTexts { nails, ..with_nails() }).unwrap();
        assert!(matches!(input.nails[0].pack, Some(Pack::Mass(kg)) if (kg * 1000.0 - grams).abs() < 1e-9), "{pack}");
    }
    let loose = read(&BoatTexts { nails: Some(NAILS.replacen("1 kg", "", 1)), ..with_nails() }).unwrap();
    assert_eq!(loose.nails[0].pack, None);
    // A list of roves alone leaves the lengths to boat.toml, and one for another gauge changes nothing.
    let roves = "kind,gauge,diameter\nrove,12,11\n".to_owned();
    let input = read(&BoatTexts { nails: Some(roves), ..good() }).unwrap();
    assert_eq!((input.spec.fastenings.nail_lengths.len(), input.spec.fastenings.rove_diameter), (4, 9.5));
}

/// What stands in nails.csv and in boat.toml too is refused, and the message names the line of boat.toml.
#[test]
fn nails_said_twice_are_refused() {
    for (line, key, nails) in [
        ("nail_lengths = [16, 20]", "fastenings.nail_lengths", NAILS.to_owned()),
        ("rove_diameter = 9", "fastenings.rove_diameter", NAILS.to_owned()),
        ("rove = 2", "fastenings.rove", NAILS.to_owned()),
    ] {
        let toml = with_nails().toml.replace("gauge = 14", &format!("gauge = 14\n{line}"));
        let said = read(&BoatTexts { toml, nails: Some(nails), ..good() }).unwrap_err().to_string();
        let at = TOML.lines().position(|l| l == "gauge = 14").unwrap() + 2;
        assert!(said.starts_with(&format!("boat.toml, line {at}, {key}: nails.csv says")), "{said}");
        assert!(said.contains("take this line out"), "{said}");
    }
    // A rove's height that the list leaves out may be said.
    let toml = with_nails().toml.replace("gauge = 14", "gauge = 14\nrove = 2");
    let nails = Some(NAILS.replace("9.5,1.5", "9.5,"));
    assert_eq!(read(&BoatTexts { toml, nails, ..good() }).unwrap().spec.fastenings.rove, 2.0);
}

/// A name, the file, what is replaced by what, and what the message must say.
pub type Case = (&'static str, &'static str, &'static str, &'static str, &'static [&'static str]);

/// All of them.
fn cases() -> impl Iterator<Item = &'static Case> {
    bad_boat::CASES.iter().chain(bad_lists::CASES)
}

fn spoilt((name, file, from, to, _): &Case) -> BoatTexts {
    let mut texts = good();
    let replace = |text: &mut String| {
        assert!(text.contains(from), "{name}: the good boat has no {from:?}");
        *text = text.replacen(from, to, 1);
    };
    match *file {
        "boat" | "both" => replace(&mut texts.toml),
        "offsets" => replace(&mut texts.offsets),
        "marks" => replace(texts.marks.get_or_insert_default()),
        "nails" => {
            texts = with_nails();
            replace(texts.nails.get_or_insert_default());
        }
        _ => replace(texts.boards.get_or_insert_default()),
    }
    texts
}

#[test]
fn one_thing_wrong_is_named_with_its_place_value_limit_and_remedy() {
    let mut wrong = Vec::new();
    for case in cases() {
        let message = match read(&spoilt(case)) {
            Ok(_) => "read without complaint".to_owned(),
            Err(error) => error.to_string(),
        };
        let unsaid: Vec<&&str> = case.4.iter().filter(|part| !message.contains(**part)).collect();
        if !unsaid.is_empty() {
            wrong.push(format!("{}: {message}\n    does not say {unsaid:?}", case.0));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases().count(), wrong.join("\n"));
    assert!(cases().count() >= 150);
}

#[test]
fn errors_tell_which_file() {
    for (file, name) in [
        ("boat", "boat.toml"),
        ("offsets", "offsets.csv"),
        ("marks", "marks.csv"),
        ("boards", "boards.csv"),
        ("nails", "nails.csv"),
    ] {
        let case = cases().find(|c| c.1 == file).unwrap();
        let error = read(&spoilt(case)).unwrap_err();
        assert!(error.to_string().starts_with(name), "{error}");
        assert_eq!(matches!(error, FolderError::Table(_)), file == "offsets");
    }
}

#[test]
fn a_station_without_points_or_entries() {
    let sparse: String =
        OFFSETS.lines().filter(|l| !l.starts_with("height buttock")).map(|l| format!("{l}\n")).collect();
    let two_points = sparse.replace("300,180,400", "300,180,").replace("250,400", "250,");
    let message = read(&BoatTexts { offsets: two_points, ..good() }).unwrap_err().to_string();
    assert!(message.contains("station “1”") && message.contains("2 points") && message.contains('3'), "{message}");

    let nothing = "row,0,1,2,3,4\nat,0,500,1000,1500,1600\nheight sheer,6,6,6,6,\nhb sheer,3,3,3,3,\nwl 4,2,2,2,2,\n";
    let message = read(&BoatTexts { offsets: nothing.to_owned(), ..good() }).unwrap_err().to_string();
    assert!(message.contains("station “4”") && message.contains("no entries"), "{message}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// A good folder with some bytes of one file replaced: an answer or an error, never a panic.
    #[test]
    fn spoilt_folders_never_panic(
        file in 0..5_usize,
        spoilt in proptest::collection::vec((any::<proptest::sample::Index>(), any::<u8>()), 1..8),
    ) {
        let mut texts = if file == 4 { with_nails() } else { good() };
        let text = match file {
            4 => texts.nails.get_or_insert_default(),
            0 => &mut texts.toml,
            1 => &mut texts.offsets,
            2 => texts.marks.get_or_insert_default(),
            _ => texts.boards.get_or_insert_default(),
        };
        let mut bytes = std::mem::take(text).into_bytes();
        for (at, byte) in spoilt {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        *text = String::from_utf8_lossy(&bytes).into_owned();
        if let Err(error) = read(&texts) {
            prop_assert!(error.to_string().contains(".csv") || error.to_string().contains(".toml"));
        }
    }

    #[test]
    fn any_texts_at_all_never_panic(
        toml in any::<String>(),
        marks in any::<String>(),
        boards in any::<String>(),
        nails in any::<String>(),
    ) {
        let read_toml = read(&BoatTexts { toml, ..good() });
        prop_assert!(read_toml.is_err());
        let _ = read(&BoatTexts { marks: Some(marks), ..good() });
        let _ = read(&BoatTexts { boards: Some(boards), ..good() });
        let _ = read(&BoatTexts { nails: Some(nails), ..with_nails() });
    }
}
