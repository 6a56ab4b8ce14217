//! Planks on boards, and the rack as it is typed.

use crate::measure::area;
use crate::plans;
use boat::folder::{self, BoatInput, BoatTexts};
use boat::plan::{Plan, plan};
use boat::sawing::{self, Effort, Sawing, Suited};
use std::ops::ControlFlow;

const HEAD: &str = "board,length,width,middle_width,end_width,thickness,sapwood,knots,faults";

/// Corncrake with a rack.
fn input(rack: &str) -> BoatInput {
    folder::read(&texts(rack)).unwrap()
}

fn texts(rack: &str) -> BoatTexts {
    BoatTexts { boards: Some(format!("{HEAD}\n{rack}\n")), ..plans::texts("corncrake") }
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

fn with_key(rack: &str, section: &str) -> BoatInput {
    let texts = texts(rack);
    let toml = format!("{}\n{section}\n", texts.toml);
    folder::read(&BoatTexts { toml, ..texts }).unwrap()
}

fn quick() -> Effort {
    Effort { rounds: 6, good_enough: 6, seed: 1 }
}

fn suited(input: &BoatInput) -> (Plan, Suited) {
    let plan = plan(input).unwrap();
    let found = sawing::suit(&plan, &input.boards, quick(), &mut |_| ControlFlow::Continue(())).unwrap();
    (plan, found)
}

/// Out of 1 in come two leaves of 3/8 in and 1/4 in between: 1 in. A hair less, or without being asked to, and it is one; and a
/// sheet always. Leaves of 2 in: 3/8 · 3 + 1/4 · 2 = 1 5/8 in, and a fourth would take 2 1/4 in.
#[test]
fn thick_boards_open_into_leaves() {
    let key = "[sawing]\nresaw = true\nresaw_loss = \"1/4 in\"";
    let leaves = |thick: &str, key: &str| {
        let input = with_key(&format!("A,16 ft,8 in,,,{thick},,,"), key);
        sawing::leaves(&input.boards[0], &input.spec)
    };
    let got = ["1/4 in", "3/8 in", "15/16 in", "1 in", "2 in"].map(|t| leaves(t, key));
    assert_eq!(got, [0, 1, 1, 2, 3]);
    assert_eq!(leaves("2 in", ""), 1);
    let mut sheet = with_key("A,16 ft,8 in,,,2 in,,,", key);
    sheet.boards[0].sheet = true;
    assert_eq!(sawing::leaves(&sheet.boards[0], &sheet.spec), 1);
}

/// Seven boards of 1 in hold her twenty planks only in leaves. Every leaf is told with its board, and port and starboard on two
/// leaves of one board are not apart.
#[test]
fn leaves_of_one_board_are_one_wood() {
    let rack: Vec<String> = (1..=7).map(|i| format!("T{i},16 ft,15 in,,,1 in,1/2 in,,")).collect();
    let input = with_key(&rack.join("\n"), "[sawing]\nresaw = true\nresaw_loss = \"1/4 in\"");
    let (plan, found) = sawn(&input, 8);
    assert!(found.short.is_empty(), "{:?}", found.short);
    assert!(found.boards.iter().all(|s| s.leaf[1] == 2 && (1..=2).contains(&s.leaf[0])));
    let of = |strake: usize| {
        let on = found.boards.iter().filter(move |s| s.laid.iter().any(|l| l.piece.strake == strake));
        on.map(|s| s.board).collect::<std::collections::BTreeSet<_>>().len()
    };
    assert_eq!((1..=plan.strakes.len()).filter(|s| of(*s) == 2).count(), found.apart);
    let thick = input.boards.len() * 2;
    assert_eq!(found.boards.len() + found.spare.len() + 2 * found.whole.len(), thick);
    assert!(!sawn(&self::input(&rack.join("\n")), 2).1.short.is_empty());
}

/// Ten boards are long enough for a plank and narrow enough to hold but one; twenty-four are short. The plan has every plank whole,
/// for one board would hold it; the rack does not hold them all. Scarfs that suit it leave less out, and the line of boat.toml that
/// keeps them gives the very same parts.
#[test]
fn scarfs_move_to_suit_the_boards() {
    let long = (1..=10).map(|i| format!("L{i},15 ft,8 1/2 in,,,1/2 in,,,"));
    let short = (1..=24).map(|i| format!("S{i},9 ft,8 in,,,1/2 in,,,"));
    let input = input(&long.chain(short).collect::<Vec<_>>().join("\n"));
    let (plan, found) = suited(&input);
    assert!(plan.made.iter().all(|m| m.scarfs.is_empty()));
    let alone = sawing::saw_out(&plan, &input.boards, quick(), &mut |_| ControlFlow::Continue(())).unwrap();
    let missing = |s: &Sawing| s.short.iter().map(|s| s.count as f64 * s.takes[0] * s.takes[1]).sum::<f64>();
    assert!(missing(&alone) > 0.0 && missing(&found.sawing) < 0.5 * missing(&alone));
    assert!(!found.parted.is_empty());
    for p in &found.parted {
        let made = &found.plan.made[p.strake - 1];
        assert!(p.scarfs[0].is_empty() && p.scarfs[1].len() == made.scarfs.len() && !made.scarfs.is_empty());
        assert!(made.parts.iter().all(|part| part.left.board[0] <= p.longest + 0.05), "strake {}", p.strake);
    }
    let one = |(strake, mm): &(usize, f64)| format!("{{ strake = {strake}, longest = \"{mm} mm\" }}");
    let list: Vec<String> = found.plan.spec.scarfs.longest_of.iter().map(one).collect();
    let texts = BoatTexts {
        toml: format!("{}\n[scarfs]\nlongest_of = [{}]\n", texts("").toml, list.join(", ")),
        boards: Some(format!("{HEAD}\n{}\n", rack_lines(&input))),
        ..texts("")
    };
    let again = boat::plan::plan(&folder::read(&texts).unwrap()).unwrap();
    assert_eq!(again.made, found.plan.made);
    assert_eq!(again.findings, found.plan.findings);
}

/// The rack of an input, as it is typed.
fn rack_lines(input: &BoatInput) -> String {
    let line =
        |b: &boat::stock::Board| format!("{},{} mm,{} mm,,,{} mm,,,", b.name, b.length, b.widths[0], b.thickness);
    input.boards.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// What is to be bought holds what it is for, by less than one step of 3 in and of ½ in, in the planking's thickness; one board for
/// each plank without room. And so many more like the board in the rack do as well: with them there is room for all.
#[test]
fn what_is_bought_is_enough() {
    let rack = |n: usize| (1..=n).map(|i| format!("W{i},16 ft,15 in,,,1/2 in,,,")).collect::<Vec<_>>().join("\n");
    let few = input(&rack(4));
    let (plan, found) = sawn(&few, 6);
    let count = |pieces: &mut dyn Iterator<Item = usize>| pieces.sum::<usize>();
    let short = count(&mut found.short.iter().map(|s| s.count));
    assert!(short > 0 && short == count(&mut found.buy.iter().map(|b| b.count)));
    for s in &found.short {
        let buy = found.buy.iter().find(|b| b.pieces.contains(&s.piece)).unwrap();
        for (axis, step) in [76.2, 12.7].into_iter().enumerate() {
            let over = buy.size[axis] - s.takes[axis];
            assert!((-1e-6..step).contains(&over), "{over}");
        }
        assert!((buy.thickness - plan.spec.planking.thickness).abs() < 1e-9);
    }
    let more = found.more.unwrap();
    assert!(more.like < 4 && more.count <= short, "{more:?}");
    let (_, enough) = sawn(&self::input(&rack(4 + more.count)), 8);
    assert!(enough.short.is_empty() && enough.buy.is_empty() && enough.more.is_none());
}

/// Out of sheets: a glued boat's parts, two or more abreast, each within its sheet and along its grain; and where there are too few
/// sheets, how many more.
#[test]
fn planks_come_out_of_sheets() {
    let glued = |sheets: usize| {
        let row = |i: usize| format!("S{i},sheet,8-0-0,4-0-0,1/4 in,okoume plywood");
        let list: Vec<String> = (1..=sheets).map(row).collect();
        let boards = Some(format!("board,kind,length,width,thickness,wood\n{}\n", list.join("\n")));
        let texts = BoatTexts { boards, ..plans::glued_texts() };
        folder::read(&texts).unwrap()
    };
    let input = glued(6);
    let (plan, found) = sawn(&input, 3);
    assert!(found.short.is_empty(), "{:?}", found.short);
    let parts: usize = plan.made.iter().map(|m| m.parts.len()).sum();
    let laid: Vec<_> = found.boards.iter().flat_map(|s| &s.laid).collect();
    assert_eq!(laid.len(), 2 * parts);
    let abreast = found.boards.iter().map(|s| s.laid.len()).max().unwrap();
    assert!(abreast >= 4, "{abreast}");
    for l in laid {
        assert!(l.outline.iter().all(|[x, y]| (-0.02..=2438.42).contains(x) && (-0.02..=1219.22).contains(y)));
        let ends = |axis: usize| {
            let of = l.outline.iter().map(|p| p[axis]);
            of.clone().fold(f64::MIN, f64::max) - of.fold(f64::MAX, f64::min)
        };
        assert!(ends(0) > 2.0 * ends(1), "it lies along the grain");
    }
    assert!(found.laid_area / found.cut_area > 0.5, "{}", found.laid_area / found.cut_area);
    // Drawn, the words neither touch nor run off; the figures of many parts take several lines.
    let t = boat::drawing::typeface::Type::embedded().unwrap();
    let suited = Suited { plan: plan.clone(), sawing: found, parted: Vec::new() };
    for paper in crate::paper::PAPERS {
        let sheets = boat::paper::book::sawing_sheets(&t, &plan, &input.boards, &suited, paper);
        assert!(!sheets.is_empty());
        sheets.iter().for_each(|sheet| crate::paper::check_sheet("sheets", sheet));
    }
    let (_, few) = sawn(&glued(1), 3);
    let more = few.more.unwrap();
    assert!(!few.short.is_empty() && (1..=5).contains(&more.count), "{more:?}");
}

/// The search tells every round the best so far, which never gets worse, and ends at once when it is told to.
#[test]
fn progress_is_told_and_the_search_can_be_stopped() {
    let input = input(&wide());
    let plan = plan(&input).unwrap();
    let mut heard: Vec<(usize, f64)> = Vec::new();
    let mut drawn = Vec::new();
    let found = sawing::suit(&plan, &input.boards, Effort::default(), &mut |now| {
        drawn = now.boards();
        let laid: usize = drawn.iter().map(|sawn| sawn.laid.len()).sum();
        assert_eq!(laid + now.without_room(), 20);
        assert_eq!(now.missing() > 0.0, now.without_room() > 0);
        heard.push((now.best.places.iter().flatten().count(), now.best.cut));
        if heard.len() < 5 { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
    })
    .unwrap();
    assert_eq!(heard.len(), 5);
    let last = heard.last().unwrap();
    assert!((found.sawing.cut_area - last.1).abs() < 1e-9 && last.0 == 20);
    assert_eq!(found.sawing.boards, drawn);
}

/// New keys and what is said of them.
#[test]
fn keys_of_leaves_and_parts_are_named() {
    let said = |section: &str| {
        let texts = texts("A,16 ft,8 in,,,1/2 in,,,");
        let toml = format!("{}\n{section}\n", texts.toml);
        folder::read(&BoatTexts { toml, ..texts }).unwrap_err().to_string()
    };
    let wrong: [(&str, &[&str]); 7] = [
        ("[sawing]\nresaw = 1", &["sawing.resaw", "true or false"]),
        ("[sawing]\nresaw = \"yes\"", &["sawing.resaw", "yes", "true or false"]),
        ("[sawing]\nresaw_loss = \"2 in\"", &["sawing.resaw_loss", "2 in"]),
        ("[scarfs]\nlongest_of = \"9 ft\"", &["scarfs.longest_of", "list"]),
        ("[scarfs]\nlongest_of = [{ strake = 5, longest = \"1 in\" }]", &["longest", "1 in", "six scarfs"]),
        ("[scarfs]\nlongest_of = [{ strake = 5 }]", &["longest", "missing"]),
        (
            "[scarfs]\nlongest_of = [{ strake = 5, longest = \"9 ft\" }, { strake = 5, longest = \"8 ft\" }]",
            &["scarfs.longest_of, item 2", "strake 5", "twice"],
        ),
    ];
    for (section, words) in wrong {
        let said = said(section);
        assert!(words.iter().all(|w| said.contains(w)), "{section}: {said}");
    }
    let input = with_key("A,16 ft,8 in,,,1/2 in,,,", "[scarfs]\nlongest_of = [{ strake = 30, longest = \"9 ft\" }]");
    let plan = plan(&input).unwrap();
    let told = plan.findings.iter().find(|f| f.place == "strake 30").unwrap();
    assert!(told.hint.contains("longest_of") && told.hint.contains("fewer strakes"));
}
