//! How the lands' wishes are weighed: what each choice of weights does to eight boats, and that the search ends at the same
//! lands from every start.
//!
//! `cargo bench -p boat --bench lining` prints the tables that `docs/lining.md` keeps.

mod example;
#[allow(dead_code, reason = "the fairing study uses all of it")]
mod hulls;

use boat::folder::BoatInput;
use boat::geom::Point;
use boat::lining::propose::{Ask, propose, strakes};
use boat::lining::{Weights, sweet};
use boat::planks::{self, limits};
use boat::{eyes, lines};
use std::time::Instant;

struct Boat {
    name: String,
    input: BoatInput,
    skin: lines::Skin,
}

fn boats() -> Vec<Boat> {
    let ours = ["Corncrake", "Sandgrouse", "Lapwing", "canoe"].into_iter().zip(example::BOATS);
    let mut all: Vec<(String, BoatInput)> =
        ours.map(|(name, known_by)| (name.to_owned(), example::input(known_by))).collect();
    for hull in &hulls::HULLS {
        let mut input = hull.input(&hulls::TWELVE);
        input.spec.planking.strakes = Some(10);
        all.push((hull.name.to_owned(), input));
    }
    all.into_iter()
        .map(|(name, input)| {
            let skin = lines::fair(&input.table, &input.spec).expect("fairs").skin;
            Boat { name, input, skin }
        })
        .collect()
}

/// How a point is seen.
type View<'a> = Box<dyn Fn(&Point) -> [f64; 2] + 'a>;

/// What is looked at.
#[derive(Default)]
struct Looks {
    inflections: [usize; 6],
    humps: usize,
    breaches: usize,
    /// What a builder sees of it (`boat::lands`): how far lands turn back where somebody sees it, the deepest of each land
    /// summed, and the deepest of all; how much strakes widen again towards an end, summed, and the most, mm.
    back: f64,
    deepest: f64,
    widens: f64,
    widest: f64,
    /// Most that a width differs from that wanted, mm, and the greatest step of width from a strake to the next.
    off: f64,
    uneven: f64,
    rounds: usize,
    ms: f64,
}

fn looks(boat: &Boat, weights: Weights) -> Option<Looks> {
    let (spec, skin) = (&boat.input.spec, &boat.skin);
    let n = strakes(skin, &spec.planking, &spec.lining);
    let ask = Ask { skin, planking: &spec.planking, lining: &spec.lining, pins: &[], weights };
    let first = limits::limits(spec, skin, n, None);
    let start = Instant::now();
    let lands = propose(&ask, &first, None).ok()?;
    let ms = start.elapsed().as_secs_f64() * 1e3;
    let laid = planks::lay(&lands, skin, &boat.input.table, spec).ok()?;
    let last = skin.curves.len() - 1;
    let level = 0.5 * (skin.at(last / 2, 0.0).z + skin.at(last / 2, 1.0).z);
    let eyes = eyes::eyes(&spec.lining, skin.at(0, 1.0).x, skin.at(last, 1.0).x, level);
    let mut found = Looks { rounds: lands.rounds, ms, ..Looks::default() };
    for line in &lands.lines()[1..n] {
        let mut views: Vec<View<'_>> = vec![Box::new(|p: &Point| [p.x, p.z]), Box::new(|p: &Point| [p.x, p.y])];
        for eye in &eyes {
            views.push(Box::new(move |p: &Point| eye.sees(p)));
        }
        for (i, view) in views.iter().enumerate() {
            found.inflections[i] += sweet::bends(&sweet::seen(&line.points, view)).len() - 1;
        }
    }
    for s in &laid {
        let shows: Vec<f64> = s.at.iter().map(|a| a.shows).collect();
        found.humps += sweet::humps(&shows, 2.0).len();
    }
    let report = boat::lands::lands(&laid, &spec.lining);
    for land in &report.lands[..n - 1] {
        let seen = land.seen.iter().filter(|s| s.view != boat::lands::View::Body);
        let deepest = seen.filter_map(|s| s.deepest()).map(|b| b.depth).fold(0.0, f64::max);
        found.back += deepest;
        found.deepest = found.deepest.max(deepest);
    }
    found.widens = report.humps.iter().map(|h| h.by).sum();
    found.widest = report.humps.iter().map(|h| h.by).fold(0.0, f64::max);
    if std::env::args().any(|a| a == "--widths") {
        for (i, section) in skin.sections.iter().enumerate() {
            print!("    {:>10} {:6.0} |", section.name, skin.girth(i));
            for s in &laid {
                print!(" {:5.1}", s.at[i].shows);
            }
            print!(" |");
            for k in 0..n {
                print!(" {:5.1}", (lands.u[k + 1][i] - lands.u[k][i]) * skin.girth(i));
            }
            println!();
        }
        for worst in &report.worst {
            println!("    {}", worst.words(n, &skin.sections, boat::units::Notation::Mm));
        }
    }
    found.breaches = limits::breaches(&laid, skin, spec).len();
    for j in 0..=last {
        let wide = |k: usize| (lands.u[k + 1][j] - lands.u[k][j]) * skin.girth(j);
        let mean = skin.girth(j) / (n as f64 - 1.0 + spec.planking.garboard);
        for k in 0..n {
            found.off = found.off.max((wide(k) - mean * if k == 0 { spec.planking.garboard } else { 1.0 }).abs());
            if k > 1 {
                found.uneven = found.uneven.max((wide(k) - wide(k - 1)).abs());
            }
        }
    }
    Some(found)
}

/// From how many starts the search ended, rounds it took at most, and how far apart the marks it ended at lie at most, mm.
/// Near starts are a fifth of a strake either way from even ones; wild ones are anywhere, but in order.
fn starts(boat: &Boat, wild: bool) -> (usize, usize, f64) {
    let (spec, skin) = (&boat.input.spec, &boat.skin);
    let n = strakes(skin, &spec.planking, &spec.lining);
    let ask = Ask { skin, planking: &spec.planking, lining: &spec.lining, pins: &[], weights: Weights::default() };
    let limits = limits::limits(spec, skin, n, None);
    let first = propose(&ask, &limits, None).expect("lines off");
    let (mut seed, mut apart, mut rounds) = (1, 0.0_f64, 0);
    for _ in 0..STARTS {
        let mut girths = vec![vec![0.0; skin.curves.len()]; n + 1];
        for j in 0..skin.curves.len() {
            let wide = skin.girth(j) / n as f64;
            let mut places: Vec<f64> = (1..n)
                .map(|k| match wild {
                    false => wide * (k as f64 + 0.4 * (hulls::uniform(&mut seed) - 0.5)),
                    true => skin.girth(j) * (0.02 + 0.96 * hulls::uniform(&mut seed)),
                })
                .collect();
            places.sort_by(f64::total_cmp);
            // Touching marks are no start.
            for k in 1..places.len() {
                places[k] = places[k].max(places[k - 1] + 1.0);
            }
            for (row, place) in girths[1..].iter_mut().zip(places.into_iter().chain([skin.girth(j)])) {
                row[j] = place;
            }
        }
        let lands = propose(&ask, &limits, Some(girths)).expect("lines off");
        rounds = rounds.max(lands.rounds);
        for (a, b) in first.u.iter().zip(&lands.u) {
            for j in 0..a.len() {
                apart = apart.max((a[j] - b[j]).abs() * skin.girth(j));
            }
        }
    }
    (STARTS, rounds, apart)
}

const STARTS: usize = 40;

fn main() {
    let boats = boats();
    let only = |part: &str| std::env::args().any(|a| a == part);
    as_planned(&boats);
    if !only("--looks") {
        every_start(&boats);
    }
    if !only("--starts") {
        every_weight(&boats);
    }
}

fn every_start(boats: &[Boat]) {
    println!("boat: starts, most rounds, most that a mark differs from the first search's");
    for boat in boats {
        for wild in [false, true] {
            let (starts, rounds, apart) = starts(boat, wild);
            println!(
                "  {:12} {}, {starts}, {rounds}, {apart:.1e} mm",
                boat.name,
                if wild { "anywhere" } else { "near" }
            );
        }
    }
}

/// How the boats look and keep their limits as they are planned, lined again until the limits hold.
fn as_planned(boats: &[Boat]) {
    println!(
        "as planned: strakes; how far lands turn back and strakes widen, all and most, mm; limits passed, and the most, mm"
    );
    for boat in boats {
        let spec = &boat.input.spec;
        let start = Instant::now();
        let plan = boat::plan::plan(&boat.input).expect("plans");
        let ms = start.elapsed().as_secs_f64() * 1e3;
        let (mut back, mut widens) = (Vec::new(), Vec::new());
        let report = boat::lands::lands(&plan.strakes, &spec.lining);
        for land in &report.lands[..plan.strakes.len() - 1] {
            let seen = land.seen.iter().filter(|s| s.view != boat::lands::View::Body);
            back.push(seen.filter_map(|s| s.deepest()).map(|b| b.depth).fold(0.0, f64::max));
        }
        widens.extend(report.humps.iter().map(|h| h.by));
        let breaches = limits::breaches(&plan.strakes, &boat.skin, spec);
        let most = |of: &[f64]| of.iter().copied().fold(0.0, f64::max);
        let past: Vec<f64> = breaches.iter().map(limits::Breach::past).collect();
        println!(
            "  {:12} {}; {:.1}, {:.1}; {:.1}, {:.1}; {}, {:.2}; {ms:.0} ms",
            boat.name,
            plan.strakes.len(),
            back.iter().sum::<f64>(),
            most(&back),
            widens.iter().sum::<f64>(),
            most(&widens),
            past.len(),
            most(&past)
        );
    }
}

fn every_weight(boats: &[Boat]) {
    let base = Weights::default();
    let tried = [
        ("as it is", base),
        ("space alone", Weights { seen: 0.0, ..base }),
        ("eyes alone", Weights { fair: 0.0, ..base }),
        ("turning back let be", Weights { back: 0.0, ..base }),
        ("turning back at a tenth", Weights { back: 0.1 * base.back, ..base }),
        ("turning back at ten times", Weights { back: 10.0 * base.back, ..base }),
        ("taper let be", Weights { taper: 0.0, ..base }),
        ("taper at a half", Weights { taper: 0.5 * base.taper, ..base }),
        ("taper at five times", Weights { taper: 5.0 * base.taper, ..base }),
        ("eyes at a quarter", Weights { seen: 0.25 * base.seen, ..base }),
        ("eyes at four times", Weights { seen: 4.0 * base.seen, ..base }),
        ("space at four times", Weights { fair: 4.0 * base.fair, ..base }),
        ("shares at a third", Weights { share: base.share / 3.0, ..base }),
        ("shares at three times", Weights { share: 3.0 * base.share, ..base }),
        ("steps at a quarter", Weights { step: 0.25 * base.step, ..base }),
        ("steps at four times", Weights { step: 4.0 * base.step, ..base }),
        ("ends at a fifth", Weights { ends: 0.2, ..base }),
    ]
    .map(|(name, weights)| (name.to_owned(), weights));
    for (name, weights) in tried {
        if std::env::args().any(|a| a == "--default") && weights != base {
            continue;
        }
        println!("{name}");
        let mut sum = Looks::default();
        for boat in boats {
            match looks(boat, weights) {
                Some(l) => {
                    if std::env::args().any(|a| a == "--each") || name == "as it is" {
                        println!(
                            "  {:12} inflections {:?}, back {:.1} ({:.1}), humps {} {:.1} ({:.1}), breaches {}, off {:.1}, uneven {:.1}, rounds {}, {:.2} ms",
                            boat.name,
                            l.inflections,
                            l.back,
                            l.deepest,
                            l.humps,
                            l.widens,
                            l.widest,
                            l.breaches,
                            l.off,
                            l.uneven,
                            l.rounds,
                            l.ms
                        );
                    }
                    if l.rounds > 30 && name != "as it is" {
                        println!("  {}: {} rounds", boat.name, l.rounds);
                    }
                    for (a, b) in sum.inflections.iter_mut().zip(l.inflections) {
                        *a += b;
                    }
                    sum.humps += l.humps;
                    sum.back += l.back;
                    sum.widens += l.widens;
                    sum.deepest = sum.deepest.max(l.deepest);
                    sum.widest = sum.widest.max(l.widest);
                    sum.breaches += l.breaches;
                    sum.off += l.off;
                    sum.uneven += l.uneven;
                    sum.rounds = sum.rounds.max(l.rounds);
                    sum.ms = sum.ms.max(l.ms);
                }
                None => println!("  {:12} cannot be laid", boat.name),
            }
        }
        println!(
            "  all          inflections {:?}, back {:.1} ({:.1}), humps {} {:.1} ({:.1}), breaches {}, off {:.1}, uneven {:.1}, rounds {}, {:.2} ms",
            sum.inflections,
            sum.back,
            sum.deepest,
            sum.humps,
            sum.widens,
            sum.widest,
            sum.breaches,
            sum.off,
            sum.uneven,
            sum.rounds,
            sum.ms
        );
    }
}
