//! Rivets, nails and keel on the book's sheets: every one in its place.

use crate::paper::{PAPERS, boats, check_sheet, sheets, table_rows, words_of};
use boat::drawing::{Sheet, Text};
use boat::fastenings::stock::Kind;
use boat::fastenings::{KeelFastening, OrderLine, Rivet};
use boat::paper::PaperSize;
use boat::plan::Plan;
use boat::planks::{Strake, StrakeAt};

#[test]
fn the_nail_page_says_what_its_order_leaves_out() {
    let mut plan = boats()[0].clone();
    let page_says = |plan: &Plan, words: &str| {
        let sheets = sheets(plan, PaperSize::Letter);
        let nails = sheets.iter().find(|s| s.title == "Nails and roves").expect("a page of nails");
        check_sheet("nails left out", nails);
        nails.texts().map(Text::string).collect::<Vec<_>>().join(" ").contains(words)
    };
    assert!(!page_says(&plan, "take a longer nail"));
    plan.rivets.iter_mut().take(3).for_each(|r| r.nail = None);
    assert!(page_says(&plan, "6 more rivets take a longer nail than any in stock and are not in this order"));
}

/// A place as it is told from the nearest station, `off` how far it stands aft of one, mm.
fn from_station(plan: &Plan, strake: &Strake, off: impl Fn(&StrakeAt) -> f64) -> String {
    let stations = strake.at.iter().filter(|a| plan.moulds.iter().any(|m| m.section == a.section));
    let near = stations.min_by(|a, b| off(a).abs().total_cmp(&off(b).abs())).expect("a station");
    let name = &plan.sections[near.section].name;
    match off(near).round() {
        0.0 => name.clone(),
        mm if mm < 0.0 => format!("{name} \u{2212} {}", -mm),
        mm => format!("{name} + {mm}"),
    }
}

/// The row that a rivet should have: its number, marked inside a gain, its place along the land and from the nearest station, its nail, lean,
/// grip and edges, and its timber and mould where it has them. In millimetres.
fn rivet_row(plan: &Plan, strake: &Strake, r: &Rivet) -> Vec<String> {
    let from = from_station(plan, strake, |a| r.along - strake.rulings[a.ruling].along);
    let nail = r.nail.map_or("\u{2013}".to_owned(), |n| n.to_string());
    let number = format!("{}{}", if r.in_gain { "g " } else { "" }, r.n);
    let lean = format!("{:.1}°", r.lean.to_degrees()).replace('-', "\u{2212}").replace("\u{2212}0.0", "0.0");
    let tenths = |mm: f64| format!("{mm:.1}");
    let [grip, edge, square] = [r.grip, r.head_edge, r.head_edge_square].map(tenths);
    let mut row = vec![number, r.along.round().to_string(), from, nail, lean, grip, edge, square];
    row.extend(r.timber.map(|i| plan.timbers[i].n.to_string()));
    row.extend(r.blocked_by.map(|i| plan.moulds[i].name.clone()));
    row
}

#[test]
fn every_rivet_has_its_place() {
    let plan = &boats()[1];
    for paper in PAPERS {
        let sheets = sheets(plan, paper);
        for strake in &plan.strakes[..plan.strakes.len() - 1] {
            let title = format!("Rivets of land {}", strake.strake);
            let found: Vec<Vec<String>> = sheets
                .iter()
                .filter(|s| s.title == title)
                .flat_map(|s| table_rows(s, "rivet", "mould"))
                .filter(|row| row.len() > 1)
                .collect();
            let of_land = plan.rivets.iter().filter(|r| r.land == strake.strake);
            let expected: Vec<Vec<String>> = of_land.map(|r| rivet_row(plan, strake, r)).collect();
            assert!(expected.len() > 60 && expected.iter().any(|row| row.len() == 10));
            assert_eq!(found, expected, "{title}");
        }
    }
}

/// An order too long for a sheet runs on over the next, screws and packs in it, and what is said of it follows the last line.
#[test]
fn a_long_order_runs_on() {
    let mut plan = boats()[0].clone();
    let line = plan.order[0].clone();
    let first = u32::try_from(plan.order.len()).expect("few");
    for i in first..44 {
        plan.order.push(OrderLine { wanted: 5000 + i, ..line.clone() });
    }
    let screw =
        OrderLine { kind: Kind::Screw, gauge: 8, wanted: 7001, each: None, pack: None, bought_mass: None, ..line };
    plan.order.push(screw);
    for paper in PAPERS {
        let sheets = sheets(&plan, paper);
        let pages: Vec<&Sheet> = sheets.iter().filter(|s| s.title == "Nails and roves").collect();
        assert!(pages.len() > 1, "{}", pages.len());
        pages.iter().for_each(|page| check_sheet("a long order", page));
        let words: Vec<String> = pages.iter().flat_map(|s| s.texts()).map(Text::string).collect();
        for n in (5000 + first..5044).chain([7001]) {
            assert_eq!(words.iter().filter(|w| **w == n.to_string()).count(), 1, "{n}");
        }
        let last = pages[pages.len() - 1].texts().map(Text::string).collect::<Vec<_>>().join(" ");
        assert!(last.contains("computed, not weighed") && last.contains("Not in this order, both sides"), "{last}");
        assert!(last.contains("Screws go by the number they are sold by"), "{last}");
    }
}

/// Rows of a sheet's tables: mould by mould, every rivet that one is in the way of, and no other.
#[test]
fn rivets_that_wait_stand_mould_by_mould() {
    for plan in boats() {
        for paper in PAPERS {
            let mut wanted: Vec<(String, usize, Vec<usize>)> = Vec::new();
            for (i, mould) in plan.moulds.iter().enumerate() {
                for land in 1..plan.strakes.len() {
                    let of = plan.rivets.iter().filter(|r| r.land == land && r.blocked_by == Some(i));
                    let rivets: Vec<usize> = of.map(|r| r.n).collect();
                    if !rivets.is_empty() {
                        wanted.push((mould.name.clone(), land, rivets));
                    }
                }
            }
            let mut found: Vec<(String, usize, Vec<usize>)> = Vec::new();
            let mut mould = String::new();
            for sheet in sheets(plan, paper).iter().filter(|s| s.title == "Rivets that wait") {
                for row in table_rows(sheet, "mould", "starb.").iter().filter(|r| r.len() > 1) {
                    let numbers: Vec<usize> =
                        row[row.len() - 1].split(", ").map(|n| n.parse().expect("a rivet's number")).collect();
                    if row.len() == 3 {
                        mould.clone_from(&row[0]);
                    }
                    found.push((mould.clone(), row[row.len() - 2].parse().expect("a land"), numbers));
                }
            }
            assert!(wanted.len() > 10);
            assert_eq!(found, wanted, "{}", plan.spec.name);
        }
    }
}

/// The sheet of the garboard's fastenings, in millimetres: each with its place along the rabbet, from the nearest station's
/// mark by its own sum, and its nail.
#[test]
fn every_fastening_along_the_keel_has_its_place() {
    let plan = &boats()[1];
    let garboard = &plan.strakes[0];
    let along: Vec<f64> = std::iter::once(0.0)
        .chain(garboard.rulings.windows(2).scan(0.0, |sum, w| {
            *sum += (w[1].lower - w[0].lower).norm();
            Some(*sum)
        }))
        .collect();
    let row = |k: &KeelFastening| {
        let from = from_station(plan, garboard, |a| k.along - along[a.ruling]);
        vec![k.n.to_string(), k.along.round().to_string(), from, k.length.expect("long enough").to_string()]
    };
    let wanted: Vec<Vec<String>> = plan.keel_fastenings.iter().map(row).collect();
    assert!(wanted.len() > 40);
    for paper in PAPERS {
        let found: Vec<Vec<String>> = sheets(plan, paper)
            .iter()
            .filter(|s| s.title == "Garboard to keel")
            .flat_map(|s| table_rows(s, "number", "nail"))
            .filter(|row| row.len() > 1)
            .collect();
        assert_eq!(found, wanted);
    }
}

#[test]
fn the_back_of_a_card_says_which_rivets_take_which_nail() {
    for plan in boats() {
        let sheets = sheets(plan, PaperSize::A4);
        for strake in &plan.strakes[..plan.strakes.len() - 1] {
            let words = words_of(&sheets, &format!("Strake {} of {}", strake.strake, plan.strakes.len()));
            let rivets: Vec<_> = plan.rivets.iter().filter(|r| r.land == strake.strake).collect();
            let (first, last) = (rivets[0], rivets[rivets.len() - 1]);
            let long = |mm: f64| plan.spec.lengths.long(mm);
            assert!(words.contains(&format!("Rivet {} is {}", first.n, long(first.along))), "{words}");
            assert!(words.contains(&format!("rivet {} is {}", last.n, long(last.along))), "{words}");
            let (_, nails) = words.split_once("Through the timbers: nail").expect("nails in words");
            let (through, others) = nails.split_once("The others: nail").expect("nails of both kinds");
            for rivet in rivets {
                let of = if rivet.timber.is_some() { through } else { others };
                let nail = plan.spec.lengths.short(rivet.nail.expect("a nail that is long enough"));
                assert!(of.contains(&format!(" {nail} {} for ", plan.spec.lengths.unit())), "{nail}: {of}");
            }
        }
    }
}
