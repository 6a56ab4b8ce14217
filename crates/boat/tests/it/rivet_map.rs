//! The rivet maps of the book, measured on the sheet.

use boat::drawing::{Outline, Sheet};
use boat::paper::PaperSize;
use boat::plan::Plan;
use boat::planks::Strake;

use crate::paper::{PAPERS, boats, check_sheet, sheets};

/// Copper dots, rings and squares of a map: dots as rows of places across, mm of paper, from the top.
struct Marks {
    rows: Vec<Vec<f64>>,
    rings: Vec<[f64; 2]>,
    squares: Vec<[f64; 2]>,
}

fn marks(sheet: &Sheet) -> Marks {
    let mut marks = Marks { rows: Vec::new(), rings: Vec::new(), squares: Vec::new() };
    let mut height = f64::NAN;
    let mut dots: Vec<[f64; 2]> = Vec::new();
    for shape in sheet.shapes() {
        match &shape.outline {
            Outline::Circle { at, .. } if shape.fill.is_some() => dots.push(*at),
            Outline::Circle { at, .. } => marks.rings.push(*at),
            Outline::Polygon(p) if p.len() == 4 && shape.fill.is_none() && shape.stroke.is_some() => {
                let square = (p[1][0] - p[0][0] - (p[2][1] - p[1][1])).abs() < 1e-9;
                if square {
                    marks.squares.push([0.5 * (p[0][0] + p[1][0]), 0.5 * (p[1][1] + p[2][1])]);
                }
            }
            _ => {}
        }
    }
    dots.sort_by(|a, b| a[1].total_cmp(&b[1]).then(a[0].total_cmp(&b[0])));
    for [u, v] in dots {
        if (v - height).abs() > 1e-6 || height.is_nan() {
            marks.rows.push(Vec::new());
            height = v;
        }
        marks.rows.last_mut().unwrap().push(u);
    }
    marks
}

fn scale(sheet: &Sheet) -> f64 {
    let words: String = sheet.texts().map(|t| t.string() + " ").collect();
    let after = words.split("scale 1 : ").nth(1).expect("a scale");
    after.split([' ', ';', ',']).next().unwrap().parse().unwrap()
}

fn maps(plan: &Plan, paper: PaperSize) -> Vec<(&Strake, Sheet)> {
    let all = sheets(plan, paper);
    let of = |s: &Strake| all.iter().find(|p| p.title == format!("Rivet map of land {}", s.strake)).cloned();
    plan.strakes.iter().filter_map(|s| Some((s, of(s)?))).collect()
}

/// In a gain both planks give up wood, so the step is less than the thickness; by definition of a gain
/// (docs/closed-forms.md). Whether the rulings before and after a place are in one.
fn in_gain(strake: &Strake, along: f64) -> [bool; 2] {
    let i = strake.rulings.partition_point(|r| r.along <= along).clamp(1, strake.rulings.len() - 1);
    [i - 1, i].map(|i| strake.rulings[i].step < strake.thickness - 1e-9)
}

#[test]
fn dots_stand_where_the_rivets_do_and_none_is_left_out() {
    for plan in boats() {
        for paper in PAPERS {
            let maps = maps(plan, paper);
            assert_eq!(maps.len(), plan.strakes.len() - 1, "{}", plan.spec.name);
            for (strake, sheet) in maps {
                let place = format!("{}, land {}", plan.spec.name, strake.strake);
                let rivets: Vec<_> = plan.rivets.iter().filter(|r| r.land == strake.strake).collect();
                let (marks, scale) = (marks(&sheet), scale(&sheet));
                let mut seen = 0;
                for (row, dots) in marks.rows.iter().enumerate() {
                    // A row begins with the last few of the row before.
                    let from = (0..=seen)
                        .find(|from| {
                            *from + dots.len() <= rivets.len()
                                && dots
                                    .windows(2)
                                    .zip(rivets[*from..].windows(2))
                                    .all(|(d, r)| ((d[1] - d[0]) * scale - (r[1].along - r[0].along)).abs() < 1e-6)
                                && (row == 0) == (*from == 0)
                        })
                        .unwrap_or_else(|| panic!("{place}: row {row} is of no rivets"));
                    seen = seen.max(from + dots.len());
                }
                assert_eq!(seen, rivets.len(), "{place}");
                let rings = rivets.iter().filter(|r| r.blocked_by.is_some()).count();
                let gained: Vec<[bool; 2]> = rivets.iter().map(|r| in_gain(strake, r.along)).collect();
                let sure = gained.iter().filter(|[fore, aft]| *fore && *aft).count();
                let may = gained.iter().filter(|[fore, aft]| *fore || *aft).count();
                assert!(
                    may - sure <= 2 && (sure > 4) == (plan.spec.name != "Lapwing"),
                    "{place}: {sure} to {may} in gains"
                );
                let shared = marks.rows.iter().map(Vec::len).sum::<usize>() - rivets.len();
                assert!((rings..=rings + shared).contains(&marks.rings.len()), "{place}: {rings} wait");
                let squares = marks.squares.len();
                assert!(
                    (sure..=may + shared).contains(&squares),
                    "{place}: {squares} squares, {sure} to {may} in gains"
                );
            }
        }
    }
}

#[test]
fn the_rows_fit_the_page_and_every_timber_is_named() {
    for plan in boats() {
        for (strake, sheet) in PAPERS.into_iter().flat_map(|paper| maps(plan, paper)) {
            check_sheet(&plan.spec.name, &sheet);
            let words: Vec<String> = sheet.texts().map(|t| t.string()).collect();
            for timber in plan.timbers.iter().filter(|t| strake.strake <= t.head) {
                let through = plan
                    .rivets
                    .iter()
                    .any(|r| r.land == strake.strake && r.timber.is_some_and(|i| plan.timbers[i].n == timber.n));
                assert_eq!(words.contains(&format!("t {}", timber.n)), through, "timber {}", timber.n);
            }
        }
    }
}
