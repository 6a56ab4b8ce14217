//! Fairing against hulls of closed form, the benches'.

use boat::folder::BoatInput;
use boat::lines;
use boat::offsets::RowKind;
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
        assert!(r != row || off.abs() < 1.0, "{off}");
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
