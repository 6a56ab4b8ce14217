//! Fairing against hulls of closed form, the benches'.

use boat::findings::Measure;
use boat::folder::{BoatInput, BoatTexts, read};
use boat::lines::{self, fairness::Tooth};
use boat::offsets::RowKind;
use boat::spec::EndSpec;
use hulls::{HULLS, SIXTEENTH, TWELVE, noisy};

#[path = "../../benches/hulls/mod.rs"]
#[allow(dead_code, reason = "the benches ask for more")]
mod hulls;

/// Fair less true, entry by entry, with its row.
fn off(truth: &BoatInput, given: &BoatInput) -> Vec<(usize, f64)> {
    let fair = lines::fair(&given.table, &given.spec).unwrap().fair;
    let mut all = Vec::new();
    for (r, (row, true_row)) in fair.iter().zip(&truth.table.rows).enumerate() {
        for (cell, true_cell) in row.cells.iter().zip(&true_row.cells) {
            all.extend(cell.as_ref().zip(true_cell.as_ref()).map(|(f, t)| (r, f.fair - t.mm)));
        }
    }
    all
}

fn rms(all: impl IntoIterator<Item = f64>) -> f64 {
    let squares: Vec<f64> = all.into_iter().map(|v| v * v).collect();
    (squares.iter().sum::<f64>() / squares.len() as f64).sqrt()
}

/// Wigley's parabolas as an exact table, faired within 1/16 in: fairing takes entries to be rounded to 1/16 in, 0.46 mm root
/// mean square, and moves exact ones by a third of that at most.
#[test]
fn a_hull_of_parabolas_is_left_nearly_alone() {
    let mut truth = HULLS[3].input(&TWELVE);
    truth.spec.lines.fair_within = SIXTEENTH;
    let moved = off(&truth, &truth);
    let moved = rms(moved.into_iter().map(|m| m.1));
    assert!(moved < 0.15, "{moved}");
}

/// Her 577 mm waterline has an entry at the first and the last station alone, 4800 mm apart: the posts, 120 mm beyond, are
/// not theirs.
#[test]
fn a_row_with_entries_at_both_ends_alone_is_not_tied_to_the_posts() {
    let mut truth = HULLS[3].input(&TWELVE);
    truth.spec.lines.fair_within = 25.0;
    let row = truth.table.rows.iter().position(|r| r.cells.iter().flatten().count() == 2).unwrap();
    for (r, off) in off(&truth, &truth) {
        assert!(r != row || off.abs() < 0.5, "{off}");
    }
}

/// Errors of 0.8 mm, then rounded to 1/16 in; four tables of each hull. The study has twelve: docs/fairing.md.
#[test]
fn noisy_tables_come_nearer_the_truth() {
    for hull in &HULLS {
        let truth = hull.input(&TWELVE);
        let mut seed = 19;
        for _ in 0..4 {
            let given = noisy(&truth, 0.8, SIXTEENTH, &mut seed);
            let pairs = given.table.values().into_iter().flatten().zip(truth.table.values().into_iter().flatten());
            let before = rms(pairs.filter_map(|(g, t)| Some(g? - t?)));
            let after = rms(off(&truth, &given).into_iter().map(|o| o.1));
            assert!(after < 0.8 * before, "{}: {after} after {before}", hull.name);
        }
    }
}

/// Heights are as printed where they may not be moved; half-breadths keep to their own, up to four times it along the skin.
#[test]
fn each_kind_of_row_keeps_to_its_own_tolerance() {
    let truth = HULLS[0].input(&TWELVE);
    let mut given = noisy(&truth, 1.5, SIXTEENTH, &mut 23);
    given.spec.lines.fair_within_by.heights = Some(0.0);
    given.spec.lines.fair_within_by.half_breadths = Some(0.5);
    let fair = lines::fair(&given.table, &given.spec).unwrap().fair;
    let most = |of: fn(&RowKind) -> bool| {
        let rows = given.table.rows.iter().zip(&fair).filter(|(row, _)| of(&row.kind));
        let cells = rows.flat_map(|(_, row)| row.cells.iter().flatten()).filter(|c| !c.suspect);
        cells.map(|c| c.change.abs()).fold(0.0, f64::max)
    };
    assert!(most(|k| matches!(k, RowKind::HeightSheer | RowKind::HeightRabbet)) < 1e-9);
    let half = most(|k| matches!(k, RowKind::HalfBreadthSheer | RowKind::HalfBreadthWaterline(_)));
    assert!(half > 0.45 && half < 2.0 + 1e-9, "{half}");
    let others = most(|k| matches!(k, RowKind::HeightButtock(_) | RowKind::Diagonal(_)));
    assert!(others > 2.1, "{others}");
}

/// Both sheer lines of a pram end where her skin has the transoms' corners, though the faces rake and the after one is curved,
/// and a diagonal ends on the face at its own height. The corner is 1100 − √(1100² − 498²) = 119 mm before the middle of the
/// face, square to it.
#[test]
fn lines_end_on_the_transoms_faces() {
    let mut toml =
        include_str!("../../../../boats/lapwing/boat.toml").replace("fair_within = 1\n", "fair_within = 0\n");
    toml.push_str("\n[lines.diagonals.A]\nheight = 480\nbelow_level = 35\n");
    let across = "diagonal A,200,300,400,480,510,500,470,400\n";
    let offsets = include_str!("../../../../boats/lapwing/offsets.csv").to_owned() + across;
    let input = read(&BoatTexts { toml, offsets, ..BoatTexts::default() }).unwrap();
    let lines = lines::fair(&input.table, &input.spec).unwrap();
    let end = |row: &str, of: fn(&[Tooth]) -> Option<&Tooth>| {
        let comb = lines.fairness.combs.iter().find(|c| c.line == row).unwrap();
        of(&comb.teeth).unwrap().at[0]
    };
    let sections = &lines.skin.sections;
    for (of, section) in [
        (<[Tooth]>::first as fn(&[Tooth]) -> Option<&Tooth>, &sections[0]),
        (<[Tooth]>::last, &sections[sections.len() - 1]),
    ] {
        let corner = section.points[section.points.len() - 1].x;
        for row in ["height sheer", "half-breadth sheer"] {
            let x = end(row, of);
            assert!((x - corner).abs() < 0.1, "{row}: {x} against {corner} at the {}", section.name);
        }
    }
    let EndSpec::Transom(face) = &input.spec.aft else { panic!("no transom") };
    assert!(face.x_at(0.0, 453.0) - end("height sheer", <[Tooth]>::last) > 110.0);
    let (sin, cos) = 35.0_f64.to_radians().sin_cos();
    let x = face.x_at(400.0 * cos, 480.0 - 400.0 * sin);
    assert!((end("diagonal A", <[Tooth]>::last) - x).abs() < 1e-9);
}

/// A station so near a curved transom that the transom's entries, with another station's figures, would stand before it: put to
/// the trial as exchanged they are out of order, and that is no fault of the table's.
#[test]
fn a_station_close_before_a_curved_transom_is_no_trouble() {
    let columns = ["7", "2225", "452", "150", "188", "253", "335", "501", "", "183", "293", "376", "438", "477"];
    let mut columns = columns.iter();
    let mut with_seven = String::new();
    for line in include_str!("../../../../boats/lapwing/offsets.csv").lines() {
        match line.rsplit_once(',') {
            Some((before, last)) if !line.starts_with('#') => {
                with_seven += &format!("{before},{},{last}\n", columns.next().unwrap());
            }
            _ => with_seven += &format!("{line}\n"),
        }
    }
    let toml = include_str!("../../../../boats/lapwing/boat.toml").to_owned();
    let input = read(&BoatTexts { toml, offsets: with_seven, ..BoatTexts::default() }).unwrap();
    let lines = lines::fair(&input.table, &input.spec).unwrap();
    assert!(lines.weighed, "{:?}", lines.findings);
}

/// A table that may not be moved is rounded all the same: her stem typed 0.4 mm out is no dent, and a section that dips under its
/// rabbet is held to the millimetre that is named.
#[test]
fn shapes_of_a_table_that_is_not_faired_are_held_to_its_rounding() {
    let swap = |text: &str, from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    };
    let toml = swap(include_str!("../../../../boats/sandgrouse/boat.toml"), "fair_within = 1\n", "fair_within = 0\n");
    let offsets = include_str!("../../../../boats/sandgrouse/offsets.csv");
    let found = |toml: &str, offsets: &str| {
        let texts = BoatTexts { toml: toml.to_owned(), offsets: offsets.to_owned(), ..BoatTexts::default() };
        let input = read(&texts).unwrap();
        lines::fair(&input.table, &input.spec).unwrap().findings
    };
    let dent = |toml: &str| found(toml, offsets).iter().any(|f| f.hint.contains("it makes a dent"));
    assert!(!dent(&swap(&toml, "[-332, 542]", "[-328.2, 542]")));
    assert!(dent(&swap(&toml, "[-332, 542]", "[-325, 542]")));
    let low = found(&toml, &swap(offsets, "347,136,", "347,60,"));
    let low = low.iter().find(|f| f.hint.contains("below its rabbet")).expect("a section below its rabbet");
    assert_eq!(low.limit, Measure::Length(1.0));
}
