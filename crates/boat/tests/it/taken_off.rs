//! Offsets taken off a hull, against the planned boats whose outsides were measured, and closed forms.

use boat::folder::{self, BoatTexts, read_taken};
use boat::geom::Point;
use boat::lines::{self, Lines};
use boat::plan::{Plan, plan};
use boat::planks::Strake;
use boat::spec::{EndSpec, Transom};
use boat::taken_off::{EndFound, On, Section, Settings, TakenOff, by_two_tapes, take_off};

const BOATS: [&str; 3] = ["corncrake", "sandgrouse", "lapwing"];
const SIXTEENTH: f64 = 25.4 / 16.0;

fn planned(name: &str) -> (Plan, Lines) {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats").join(name);
    let text = |file: &str| std::fs::read_to_string(folder.join(file)).unwrap();
    let texts = BoatTexts { toml: text("boat.toml"), offsets: text("offsets.csv"), ..BoatTexts::default() };
    let input = folder::read(&texts).unwrap();
    (plan(&input).unwrap(), lines::fair(&input.table, &input.spec).unwrap())
}

/// The outside of a plank at `v` of its width, along the boat.
fn outside(s: &Strake, v: f64) -> Vec<Point> {
    let one = |r: &boat::planks::Ruling| {
        let normal = (r.lower_normal * (1.0 - v) + r.normal * v).normalize();
        r.lower + (r.upper - r.lower) * v + normal * s.thickness
    };
    s.rulings.iter().map(one).collect()
}

/// Where a line crosses the plane at x.
fn at_x(line: &[Point], x: f64) -> Point {
    let i = line.partition_point(|p| p.x <= x).clamp(1, line.len() - 1);
    let (a, b) = (line[i - 1], line[i]);
    a + (b - a) * ((x - a.x) / (b.x - a.x))
}

/// Where a line, run straight on, goes through a transom's face.
fn on_transom(t: &Transom, line: &[Point]) -> Point {
    let past = |p: &Point| p.x - t.x_at(p.y, p.z);
    let i = (1..line.len() - 1).find(|&i| past(&line[i - 1]) <= 0.0 && past(&line[i]) > 0.0);
    let i = i.unwrap_or(if t.bow { 1 } else { line.len() - 1 });
    let (a, b) = (line[i - 1], line[i]);
    a + (b - a) * (past(&a) / (past(&a) - past(&b)))
}

/// Lines along the planks, from the rabbet to the sheer, as they are marked.
fn marks(plan: &Plan, on: On) -> Vec<(String, Vec<Point>)> {
    let mut all = vec![("rabbet".to_owned(), outside(&plan.strakes[0], 0.0))];
    let last = plan.strakes.len() - 1;
    for (k, s) in plan.strakes.iter().enumerate() {
        let (low, high) = (outside(s, 0.0), outside(s, 1.0));
        match on {
            On::Edge if k > 0 => all.push((format!("{k}"), low)),
            On::Middle => {
                // What shows ends where the next plank's inner edge lies on it.
                let top: Vec<Point> =
                    plan.strakes.get(k + 1).map_or(high.clone(), |n| n.rulings.iter().map(|r| r.lower).collect());
                let middle = low.iter().zip(&top).map(|(a, b)| nalgebra::center(a, b)).collect();
                all.push((format!("{}", k + 1), middle));
            }
            _ => {}
        }
        if k == last {
            all.push(("sheer".to_owned(), high));
        }
    }
    all
}

/// Nails of the two tapes: over and inboard of the line through them lies the hull.
const NAILS: [[f64; 2]; 2] = [[0.0, -400.0], [1500.0, -300.0]];

/// What is written in taken.csv for one boat.
fn written(plan: &Plan, on: On, tape: f64, tapes: bool) -> String {
    let read = |mm: f64| if tape > 0.0 { (mm / tape).round() * tape } else { mm };
    let mut text = String::from(if tapes {
        "station,at,mark,from_inner,from_outer,inner_out,inner_up,outer_out,outer_up\n"
    } else {
        "station,at,mark,out,up\n"
    });
    let mut row = |station: &str, mark: &str, p: &Point| {
        let place = if tapes {
            let [a, b] = NAILS.map(|n| read((p.y - n[0]).hypot(p.z - n[1])));
            let [n, m] = NAILS;
            format!("{a} mm,{b} mm,{} mm,{} mm,{} mm,{} mm", n[0], n[1], m[0], m[1])
        } else {
            format!("{} mm,{} mm", read(p.y), read(p.z))
        };
        text.push_str(&format!("{station},{} mm,{mark},{place}\n", read(p.x)));
    };
    let lines = marks(plan, on);
    for (aft, end) in [(false, &plan.spec.fore), (true, &plan.spec.aft)] {
        for (mark, line) in &lines {
            let p = match end {
                EndSpec::Transom(t) => on_transom(t, line),
                EndSpec::Post(_) => line[if aft { line.len() - 1 } else { 0 }],
            };
            row(end.word(aft), mark, &p);
        }
    }
    for section in &plan.sections[1..plan.sections.len() - 1] {
        let lines::SectionAt::Station(_) = section.at else { continue };
        let x = section.points[0].x;
        for (mark, line) in &lines {
            row(&section.name, mark, &at_x(line, x));
        }
    }
    text
}

fn settings(plan: &Plan, tape: f64) -> Settings {
    let planking = &plan.spec.planking;
    Settings {
        lengths: plan.spec.lengths,
        thickness: planking.thickness,
        lap: planking.lap,
        gains: [&plan.spec.fore, &plan.spec.aft].map(|end| planking.gain_at(end).unwrap_or(0.0)),
        tape,
    }
}

/// boat.toml of what was taken off.
fn toml(taken: &TakenOff, plan: &Plan) -> String {
    let (spec, p) = (&plan.spec, &plan.spec.planking);
    let point = |p: &[f64; 2]| format!("[\"{} mm\", \"{} mm\"]", p[0], p[1]);
    let end = |aft: bool, found: &Option<EndFound>| match found.as_ref().unwrap() {
        EndFound::Post { half_siding, rabbet } => format!(
            "[{}]\nhalf_siding = \"{half_siding} mm\"\nrabbet = [{}]\n",
            if aft { "sternpost" } else { "stem" },
            rabbet.iter().map(point).collect::<Vec<_>>().join(", ")
        ),
        EndFound::Transom { foot, head, .. } => format!(
            "[{}]\nfoot = {}\nhead = {}\n",
            if aft { "transom" } else { "bow_transom" },
            point(foot),
            point(head)
        ),
    };
    format!(
        "strakewise = 1\nname = \"Taken\"\nlengths = \"{}\"\n[lines]\ndrawn_to = \"outside of plank\"\nkeel_half_siding = \
         \"{} mm\"\n{}{}[planking]\nthickness = \"{} mm\"\nlap = \"{} mm\"\nstrakes = {}\n",
        spec.lengths.word(),
        taken.half_siding,
        end(false, &taken.fore),
        end(true, &taken.aft),
        p.thickness,
        p.lap,
        plan.strakes.len()
    )
}

/// How far the inside of the boat taken off lies from the planned one's, clear of the ends: most, and root mean square, mm.
fn off(taken: &TakenOff, plan: &Plan, truth: &Lines) -> [f64; 2] {
    let texts = BoatTexts { toml: toml(taken, plan), offsets: taken.table.clone(), ..BoatTexts::default() };
    let input = folder::read(&texts).unwrap_or_else(|why| panic!("{why}\n{}", taken.table));
    let mine = lines::fair(&input.table, &input.spec).unwrap();
    let mut all = Vec::new();
    for section in &truth.skin.sections {
        let lines::SectionAt::Station(_) = section.at else { continue };
        let other = mine.skin.sections.iter().find(|s| s.name == section.name).unwrap();
        if std::env::var("SHOW").is_ok() {
            println!(
                "  {} {:?}",
                section.name,
                section
                    .points
                    .iter()
                    .step_by(12)
                    .map(|p| (to_line(p, &other.points) * 10.0).round() / 10.0)
                    .collect::<Vec<_>>()
            );
        }
        all.extend(section.points.iter().map(|p| to_line(p, &other.points)));
    }
    let most = all.iter().copied().fold(0.0, f64::max);
    [most, (all.iter().map(|d| d * d).sum::<f64>() / all.len() as f64).sqrt()]
}

/// Distance from a point to a line of points.
fn to_line(p: &Point, line: &[Point]) -> f64 {
    let one = |w: &[Point]| {
        let d = w[1] - w[0];
        let s = ((p - w[0]).dot(&d) / d.norm_squared()).clamp(0.0, 1.0);
        (p - (w[0] + d * s)).norm()
    };
    line.windows(2).map(one).fold(f64::MAX, f64::min)
}

fn sections(plan: &Plan, on: On, tape: f64, tapes: bool) -> Vec<Section> {
    read_taken(&written(plan, on, tape, tapes), plan.spec.lengths, on).unwrap()
}

/// Every example boat measured on her planks.
#[test]
fn points_on_the_planks_give_the_planned_hull_back() {
    for name in BOATS {
        let (plan, truth) = planned(name);
        for on in [On::Edge, On::Middle] {
            for (tape, tapes) in
                [(0.0, false), (0.0, true), (1.0, false), (1.0, true), (SIXTEENTH, false), (SIXTEENTH, true)]
            {
                let taken = take_off(&sections(&plan, on, tape, tapes), &settings(&plan, tape)).unwrap();
                println!(
                    "{name} {on:?} {tape:.2} {tapes} {:.2?} again {} moved {:.2?}",
                    off(&taken, &plan, &truth),
                    taken.again.len(),
                    taken.moved.iter().map(|m| m.most).fold(0.0, f64::max)
                );
            }
        }
    }
}
