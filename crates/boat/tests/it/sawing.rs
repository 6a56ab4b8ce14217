//! Planks on boards, and the rack as it is typed.

use boat::folder::{self, BoatInput, BoatTexts};
use boat::plan::{Plan, plan};
use boat::sawing::{self, Effort, Sawing};
use std::ops::ControlFlow;

const HEAD: &str = "board,length,width,middle_width,end_width,thickness,sapwood,knots,faults";

/// Corncrake with a rack.
fn input(rack: &str) -> BoatInput {
    folder::read(&texts(rack)).unwrap()
}

fn texts(rack: &str) -> BoatTexts {
    BoatTexts {
        toml: include_str!("../../../../boats/corncrake/boat.toml").to_owned(),
        offsets: include_str!("../../../../boats/corncrake/offsets.csv").to_owned(),
        marks: None,
        boards: Some(format!("{HEAD}\n{rack}\n")),
    }
}

fn refused(row: &str) -> String {
    folder::read(&texts(row)).unwrap_err().to_string()
}

fn sawn(input: &BoatInput, rounds: usize) -> (Plan, Sawing) {
    let plan = plan(input).unwrap();
    let effort = Effort { rounds, ..Effort::default() };
    let found = sawing::saw_out(&plan, &input.boards, effort, &mut |_| ControlFlow::Continue(())).unwrap();
    (plan, found)
}

fn area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().cycle().skip(1);
    0.5 * outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - a[1] * b[0]).sum::<f64>().abs()
}

/// Fourteen wide boards, two planks to a board at most.
fn wide() -> String {
    let board = |i: usize| format!("W{i},16 ft,15 in,,,1/2 in,1/2 in,,");
    (1..=14).map(board).collect::<Vec<_>>().join("\n")
}

/// Every plank is there twice, each on a board and off its sapwood, longer than the flat plank's board by what is left long,
/// and with the flat plank's area and that of what is left long.
#[test]
fn every_plank_comes_out_twice_as_large_as_it_is() {
    let input = input(&wide());
    let (plan, found) = sawn(&input, 4);
    assert!(found.short.is_empty() && found.thin.is_empty());
    let mut seen = vec![0; plan.strakes.len()];
    for sawn in &found.boards {
        let board = &input.boards[sawn.board];
        for laid in &sawn.laid {
            seen[laid.piece.strake - 1] += 1;
            let flat = &plan.flats[laid.piece.strake - 1];
            let left = plan.spec.allowance(laid.piece.strake == plan.strakes.len());
            for [x, y] in &laid.outline {
                assert!((-0.02..=board.length + 0.02).contains(x) && *x <= sawn.used + 0.02);
                assert!((board.sapwood - 0.02..=board.widths[0] - board.sapwood + 0.02).contains(y));
            }
            let whole = flat.area + 60.0 * (left.fore + left.aft);
            let own = area(&laid.outline);
            // Ends are 1½ to 4 in wide: what is left there is known to so much.
            assert!((own - whole).abs() < 40.0 * (left.fore + left.aft) + 0.002 * flat.area, "{own} {whole}");
            let long = |axis: usize| {
                let of = laid.outline.iter().map(|p| p[axis]);
                of.clone().fold(f64::MIN, f64::max) - of.fold(f64::MAX, f64::min)
            };
            // Turned by up to 2 degrees it is not longer by more than its width's share of that.
            let most = plan.made[laid.piece.strake - 1].left.board[0];
            assert!(long(0) <= most + flat.board_width * 0.035 && long(0) > 0.998 * most, "{} {most}", long(0));
        }
    }
    assert!(seen.iter().all(|n| *n == 2), "{seen:?}");
    let laid: f64 = found.boards.iter().flat_map(|s| &s.laid).map(|l| area(&l.outline)).sum();
    assert!((laid - found.laid_area).abs() < 1e-6 * laid);
    assert!(found.laid_area < found.cut_area);
}

/// A knot is where the list says: measured from the end and from the lower edge there, on a board that tapers. At half-way
/// between the end, 10 in wide, and the middle, 8 in wide, it is 9 in wide.
#[test]
fn a_board_tapers_about_its_middle_line() {
    let input =
        input("T,16 ft,10 in,8 in,8 in,1/2 in,,\"4 ft, 3 in, 1/2 in; 8 ft, 1 in, 3/4 in\",\"15 ft, 4 in, 6 in\"");
    let board = &input.boards[0];
    let inch = 25.4;
    assert!((board.width_at(48.0 * inch) - 9.0 * inch).abs() < 1e-9);
    assert!((board.width_at(0.0) - 10.0 * inch).abs() < 1e-9 && (board.width - 8.0 * inch).abs() < 1e-9);
    assert_eq!(board.spoilt.iter().map(|s| s.sound).collect::<Vec<_>>(), [true, true, false]);
    assert!(
        (board.spoilt[0].from_end - 48.0 * inch).abs() < 1e-9 && (board.spoilt[2].across - 6.0 * inch).abs() < 1e-9
    );
}

/// One board holds one or two planks: the others are short, each with the board it takes.
#[test]
fn a_rack_too_small_says_what_to_buy() {
    let input = input("W1,16 ft,10 in,,,1/2 in,,,\nthin,16 ft,10 in,,,1/4 in,,,");
    let (plan, found) = sawn(&input, 2);
    assert_eq!(found.thin, [1]);
    let short: usize = found.short.iter().map(|s| s.count).sum();
    let laid: usize = found.boards.iter().map(|b| b.laid.len()).sum();
    assert_eq!(short + laid, 2 * plan.strakes.len());
    assert!((1..=2).contains(&laid));
    let room = plan.spec.sawing.cut + 2.0 * plan.spec.sawing.planing;
    for s in &found.short {
        let whole = plan.made[s.piece.strake - 1].left.board;
        assert!((s.takes[0] - whole[0] - room).abs() < 1e-6 && (s.takes[1] - whole[1] - room).abs() < 1e-6);
    }
}

/// Same rack, same seed, same layout.
#[test]
fn the_same_rack_gives_the_same_layout() {
    let input = input(&wide());
    assert_eq!(sawn(&input, 2).1, sawn(&input, 2).1);
}

/// What a builder may mistype, and what is said of it.
#[test]
fn racks_that_cannot_be_are_named() {
    let wrong: [(&str, &[&str]); 8] = [
        ("A,16 ft,8 in,,,1/2 in,4 in,,", &["line 2", "sapwood", "4 in", "the most"]),
        ("A,16 ft,8 in,,,1/2 in,,\"17 ft, 3 in, 1 in\",", &["line 2", "knots", "17 ft, 3 in, 1 in", "16-0-0"]),
        ("A,16 ft,8 in,,,1/2 in,,\"7 ft, 9 in, 1 in\",", &["line 2", "knots", "9 in", "8 in"]),
        ("A,16 ft,10 in,6 in,6 in,1/2 in,,\"15 ft, 7 in, 1 in\",", &["knots", "7 in", "6 in"]),
        ("A,16 ft,8 in,,,1/2 in,,,\"7 ft, 3 in\"", &["line 2", "faults", "2 lengths", "three"]),
        ("A,16 ft,8 in,,,1/2 in,,,\"7 ft, 3 in, knot\"", &["line 2", "faults", "knot"]),
        ("A,16 ft,8 in,,,1/2 in,,,\"7 ft, 3 in, 0 in\"", &["faults", "across", "1 mm"]),
        ("A,16 ft,8 in,90 in,,1/2 in,,,", &["middle_width", "90 in"]),
    ];
    for (row, words) in wrong {
        let said = refused(row);
        assert!(words.iter().all(|w| said.contains(w)), "{row}: {said}");
    }
    let toml = |key: &str| {
        let texts = texts("A,16 ft,8 in,,,1/2 in,,,");
        let toml = format!("{}\n[sawing]\n{key}\n", texts.toml);
        folder::read(&BoatTexts { toml, ..texts }).unwrap_err().to_string()
    };
    for (key, words) in [
        ("cut = \"1 in\"", ["sawing.cut", "1 in"]),
        ("off_grain = 20", ["sawing.off_grain", "20"]),
        ("knot_clear = \"-1 in\"", ["sawing.knot_clear", "-1 in"]),
        ("kerf = \"1/8 in\"", ["sawing.kerf", "cut"]),
    ] {
        let said = toml(key);
        assert!(words.iter().all(|w| said.contains(w)), "{key}: {said}");
    }
}
