//! Offsets taken off a hull, against the planned boats whose outsides were measured, and closed forms.

use crate::measure::off_line;
use crate::plans::{EXAMPLES, input};
use boat::folder::{self, BoatTexts, read_taken};
use boat::geom::Point;
use boat::lines::{self, Lines};
use boat::plan::{Plan, plan};
use boat::planks::Strake;
use boat::spec::{EndSpec, Transom};
use boat::taken_off::{EndFound, On, Section, Settings, TakenOff, TapesError, by_two_tapes, take_off};
use boat::units::{Notation, read_length};

use std::f64::consts::FRAC_PI_2;

const SIXTEENTH: f64 = 25.4 / 16.0;

fn planned(name: &str) -> (Plan, Lines) {
    let input = input(name);
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
        all.extend(section.points.iter().map(|p| off_line(p, &other.points)));
    }
    let most = all.iter().copied().fold(0.0, f64::max);
    [most, (all.iter().map(|d| d * d).sum::<f64>() / all.len() as f64).sqrt()]
}

fn sections(plan: &Plan, on: On, tape: f64, tapes: bool) -> Vec<Section> {
    read_taken(&written(plan, on, tape, tapes), plan.spec.lengths, on).unwrap()
}

/// How a tape is read, mm, and what is then allowed for it.
const READ: [(f64, f64); 3] = [(0.0, 0.5), (1.0, 1.0), (SIXTEENTH, SIXTEENTH)];

/// Bounds are what was measured and a little over. Source: none; the planned boats' own planks, which were measured.
#[test]
fn points_on_the_planks_give_the_planned_hull_back() {
    let mut worst = [[0.0_f64; 2]; 3];
    for name in EXAMPLES {
        let (plan, truth) = planned(name);
        for on in [On::Edge, On::Middle] {
            for ((read, allowed), worst) in READ.into_iter().zip(&mut worst) {
                for tapes in [false, true] {
                    let taken = take_off(&sections(&plan, on, read, tapes), &settings(&plan, allowed)).unwrap();
                    assert_eq!(taken.again, [], "{name} {on:?} {read}: a right point is doubted");
                    let [most, mean] = off(&taken, &plan, &truth);
                    *worst = [worst[0].max(most), worst[1].max(mean)];
                }
            }
        }
    }
    for ([most, mean], (at_most, on_the_mean)) in worst.into_iter().zip([(3.3, 1.1), (3.6, 1.25), (4.4, 1.85)]) {
        assert!(most < at_most && mean < on_the_mean, "{worst:.2?}");
    }
}

/// The folder made of them can be planned, with as many strakes as she has.
#[test]
fn a_boat_taken_off_with_a_tape_can_be_planned() {
    for name in EXAMPLES {
        let (plan, _) = planned(name);
        let taken = take_off(&sections(&plan, On::Edge, 1.0, false), &settings(&plan, 1.0)).unwrap();
        let texts = BoatTexts { toml: toml(&taken, &plan), offsets: taken.table.clone(), ..BoatTexts::default() };
        let again = boat::plan::plan(&folder::read(&texts).unwrap()).unwrap_or_else(|why| panic!("{name}: {why}"));
        assert_eq!(again.strakes.len(), plan.strakes.len());
    }
}

/// The skins of the example boats as if they were the outsides of smooth hulls: what stands in the table is where they pass.
#[test]
fn offsets_of_a_smooth_hull_are_where_her_skin_passes() {
    for name in EXAMPLES {
        let (plan, truth) = planned(name);
        for (read, allowed) in READ {
            let tape = |mm: f64| if read > 0.0 { (mm / read).round() * read } else { mm };
            let mut text = String::from("station,at,mark,in,straightedge,up\n");
            let stations: Vec<_> =
                truth.skin.sections.iter().filter(|s| matches!(s.at, lines::SectionAt::Station(_))).collect();
            for s in &stations {
                for i in 0..=12 {
                    let p = s.points[i * 8];
                    let mark = ["rabbet", "sheer"].get(usize::from(i > 0)).filter(|_| i % 12 == 0);
                    let mark = mark.map_or_else(|| i.to_string(), |m| (*m).to_owned());
                    // The straightedge's place is said once at a station.
                    let edge = if i == 0 { "1000 mm" } else { "" };
                    text +=
                        &format!("{},{} mm,{mark},{} mm,{edge},{} mm\n", s.name, p.x, tape(1000.0 - p.y), tape(p.z));
                }
            }
            let sections = read_taken(&text, plan.spec.lengths, On::Surface).unwrap();
            let taken = take_off(&sections, &settings(&plan, allowed)).unwrap();
            assert_eq!((taken.again.len(), &taken.fore, &taken.aft), (0, &None, &None));
            let (entries, most) = entries(&taken.table, plan.spec.lengths, |s, up, level| {
                let points = &stations[s].points;
                let d = |p: &Point| if up { [p.z, p.y] } else { [p.y, p.z] };
                points.windows(2).find_map(|w| {
                    let ([a, b], [c, e]) = (d(&w[0]), d(&w[1]));
                    ((a > level) != (c > level)).then(|| b + (e - b) * (level - a) / (c - a))
                })
            });
            // Out and up each off by half of what is read to and moved by what is allowed; at 30 degrees that is twice as much.
            assert!(
                entries > 40 && most < 2.0 * (allowed + 0.5 * read) + 0.5 * plan.spec.lengths.unit_of_table(),
                "{most}"
            );
        }
    }
}

/// How many waterlines and buttocks stand in a table, and the most that one is off `truth` of station, way and level, mm.
fn entries(table: &str, lengths: Notation, truth: impl Fn(usize, bool, f64) -> Option<f64>) -> (usize, f64) {
    let (mut count, mut most) = (0, 0.0_f64);
    for (_, cells) in boat::offsets::cells(table) {
        let waterline = cells[0].strip_prefix("half-breadth waterline ").map(|l| (true, l));
        let Some((up, level)) = waterline.or(cells[0].strip_prefix("height buttock ").map(|l| (false, l))) else {
            continue;
        };
        let level = read_length(level, Some(lengths)).unwrap();
        for (s, cell) in cells[1..].iter().enumerate().filter(|(_, c)| !c.is_empty()) {
            let says = read_length(cell, Some(lengths)).unwrap();
            most = most.max((says - truth(s, up, level).unwrap()).abs());
            count += 1;
        }
    }
    (count, most)
}

/// Sections that are arcs of circles about a point on the centreline. Closed form: y² + (700 − z)² = R².
#[test]
fn circular_sections_come_back_as_circles() {
    let radius = |s: usize| 380.0 + 60.0 * s as f64 - 10.0 * (s * s) as f64;
    let mut text = String::from("station,at,mark,out,up\n");
    for s in 0..6 {
        let r = radius(s);
        let from = (20.0 / r).asin();
        for i in 0..=10 {
            let turn = from + (FRAC_PI_2 - from) * f64::from(i) / 10.0;
            let mark = if i == 0 {
                "rabbet".to_owned()
            } else if i == 10 {
                "sheer".to_owned()
            } else {
                i.to_string()
            };
            text += &format!("{s},{},{mark},{},{}\n", 500 * s, r * turn.sin(), 700.0 - r * turn.cos());
        }
    }
    let sections = read_taken(&text, Notation::Mm, On::Surface).unwrap();
    let settings = Settings { lengths: Notation::Mm, thickness: 8.0, lap: 16.0, gains: [0.0; 2], tape: 0.5 };
    let taken = take_off(&sections, &settings).unwrap();
    let (count, most) = entries(&taken.table, Notation::Mm, |s, up, level| {
        let off = if up { 700.0 - level } else { level };
        let other = (radius(s).powi(2) - off * off).sqrt();
        Some(if up { other } else { 700.0 - other })
    });
    // The table is rounded to 1 mm, and the fair line may leave the arc by a tape's half millimetre.
    assert!(count > 30 && most < 1.2, "{count} {most}");
}

/// Law of cosines: with sides a, b and c, cos of the angle at the first nail is (a² + c² − b²) / 2ac.
#[test]
fn two_tapes_meet_where_the_law_of_cosines_has_them() {
    // Sides 3, 4, 5 with the right angle at the point: its foot on the hypotenuse is 9/5 from the first nail, 12/5 off.
    let p = by_two_tapes([[0.0, 0.0], [500.0, 0.0]], 300.0, 400.0).unwrap();
    assert!((p[0] - 180.0).abs() < 1e-9 && (p[1] - 240.0).abs() < 1e-9, "{p:?}");
    // Nails plumb over each other: the hull is inboard of them.
    let p = by_two_tapes([[900.0, 0.0], [900.0, 500.0]], 300.0, 400.0).unwrap();
    assert!((p[0] - 660.0).abs() < 1e-9 && (p[1] - 180.0).abs() < 1e-9, "{p:?}");
    for (a, b, c) in [(700.0, 900.0, 1100.0), (500.0, 1200.0, 1500.0), (640.0, 640.0, 400.0_f64)] {
        let turn = 0.3_f64;
        let nails = [[50.0, -200.0], [50.0 + c * turn.cos(), -200.0 + c * turn.sin()]];
        let at = ((a * a + c * c - b * b) / (2.0 * a * c)).acos() + turn;
        let p = by_two_tapes(nails, a, b).unwrap();
        assert!((p[0] - 50.0 - a * at.cos()).hypot(p[1] + 200.0 - a * at.sin()) < 1e-9, "{p:?}");
    }
}

/// A tape of no length has no way to cross the other at.
#[test]
fn a_tape_of_no_length_fixes_no_point() {
    for (a, b) in [(0.0, 500.0), (500.0, 0.0)] {
        let found = by_two_tapes([[0.0, 0.0], [500.0, 0.0]], a, b);
        assert_eq!(found, Err(TapesError::Sharp(0.0)), "{a}, {b}");
    }
}

/// One reading an inch or so off, at every point of a boat in turn: what is named, and that it is the right one.
#[test]
fn most_slips_of_an_inch_are_named_and_nothing_else_is() {
    let (plan, _) = planned("sandgrouse");
    let right = sections(&plan, On::Edge, 1.0, false);
    let settings = settings(&plan, 1.0);
    let (mut slips, mut named, mut wrong) = (0, 0, 0);
    for (s, section) in right.iter().enumerate().filter(|(_, s)| s.part == boat::taken_off::Part::Station) {
        for p in 1..section.points.len() - 1 {
            for (d, by) in [(0, 25.0), (0, -25.0), (1, 25.0), (1, -25.0)] {
                let mut slipped = right.clone();
                slipped[s].points[p].place[d] += by;
                let Ok(taken) = take_off(&slipped, &settings) else { continue };
                let line = section.points[p].line;
                slips += 1;
                named += usize::from(taken.again.iter().any(|a| a.line == line));
                wrong += taken.again.iter().filter(|a| a.line != line).count();
            }
        }
    }
    // Measured: 238. The rest lie next to rabbet or sheer, or along the skin, where a slip hardly moves it.
    assert!(slips == 288 && named >= 238 && wrong == 0);
}

/// What is wrong, and what of the message must be there.
#[test]
fn a_list_that_cannot_be_read_says_where_and_what_to_do() {
    let head =
        "station,at,mark,on,out,in,straightedge,up,from_inner,from_outer,inner_out,inner_up,outer_out,outer_up\n";
    for (row, said) in [
        (
            "1,0,rabbet,,20,,,100,,,,,,\n1,0,rabbet,,20,,,100,,,,,,",
            "line 3, “mark”: mark rabbet of this station already stands on line 2; keep one of the two",
        ),
        (",0,rabbet,,20,,,100,,,,,,", "line 2, “station”: the cell is empty; fill it in"),
        ("1,,rabbet,,20,,,100,,,,,,", "line 2, “at”: "),
        ("1,0,,,20,,,100,,,,,,", "line 2, “mark”: the cell is empty; fill it in"),
        ("1,0,3,corner,20,,,100,,,,,,", "line 2, “on”: “corner” stands here; write surface, edge or middle"),
        ("1,0,3,,,,,100,,,,,,", "line 2, “out”: no place is given; fill in out and up, or in and up"),
        (
            "1,0,3,,20,30,900,100,,,,,,",
            "line 2, “in”: “30” stands here, which a point measured out from the centreline does not have",
        ),
        (
            "1,0,3,,20,,,100,500,600,0,0,900,0",
            "line 2, “out”: “20” stands here, which a point taken by two tapes does not have",
        ),
        ("1,0,3,,,30,,100,,,,,,", "line 2, “straightedge”: the cell is empty"),
        ("1,0,3,,,950,900,100,,,,,,", "line 2, “in”: “950” is out of range: 0 mm to 900 mm is allowed"),
        (
            "1,0,3,,-4,,,100,,,,,,",
            "line 2, “out”: “-4” is out of range: 0 mm to 5000 mm is allowed; check its digits and its unit",
        ),
        ("1,0,3,,20,,,high,,,,,,", "line 2, “up”: "),
        ("1,0,3,,20,,,,,,,,,", "line 2, “up”: "),
        ("1,0,3,,,,,,500,,0,0,900,0", "line 2, “from_outer”: "),
        ("1,0,3,,,,,,500,600,0,0,900,", "line 2, “outer_up”: the cell is empty"),
        ("1,0,3,,,,,,500,600,900,0,900,0", "the inner and the outer nail stand at one place; set them well apart"),
        (
            "1,0,3,,,,,,300,400,0,0,900,0",
            "line 2, “from_outer”: 400 mm from the outer nail does not meet 300 mm from the inner one: 600 mm to 1200 mm would; measure both again",
        ),
        (
            "1,0,3,,,,,,2000,2010,0,0,300,0",
            "the two tapes cross at 9 degrees, and 15 is the least that fixes a point; set a nail elsewhere",
        ),
        (
            "1,0,3,,,,,,600,600,0,0,0,900",
            "the two tapes meet at -396.9 mm out, out of range: 0 mm to 5000 mm is allowed; are the nails the right way about?",
        ),
        ("1,0,3,,20,,,100,,,,,", "line 2: the line has 13 cells where the first line has 14"),
    ] {
        let why = read_taken(&format!("{head}{row}\n"), Notation::Mm, On::Edge).unwrap_err().to_string();
        assert!(why.starts_with("taken.csv") && why.contains(said), "{row}: {why}");
    }
    let why = read_taken("station,at,mrk\n", Notation::Mm, On::Edge).unwrap_err().to_string();
    assert!(why.contains("“mrk”: there is no such column (did you mean mark?)"), "{why}");
    let why = read_taken("", Notation::Mm, On::Edge).unwrap_err().to_string();
    assert!(why.contains("taken.csv: the file is empty"), "{why}");
}

/// Lists that can be read and give no hull.
#[test]
fn points_that_give_no_hull_say_what_is_wanting() {
    let row =
        |s: usize, at: f64, mark: &str, i: usize| format!("{s},{at},{mark},{},{}\n", 20 + 60 * i, 100 + 10 * i * i);
    let whole = |stations: usize| -> String {
        let all = (0..stations).flat_map(|s| {
            ["rabbet", "1", "2", "3", "4", "sheer"]
                .iter()
                .enumerate()
                .map(move |(i, m)| row(s, 500.0 * s as f64, m, i))
        });
        format!("station,at,mark,out,up\n{}", all.collect::<String>())
    };
    let tried = |text: String| {
        let settings = Settings { lengths: Notation::Mm, thickness: 8.0, lap: 16.0, gains: [0.0; 2], tape: 1.0 };
        take_off(&read_taken(&text, Notation::Mm, On::Surface).unwrap(), &settings)
    };
    assert!(tried(whole(4)).is_ok());
    for (text, said) in [
        (whole(3), "points were taken at 3 stations; 4 is the least a hull is faired from: take more"),
        (
            whole(4).replace("1,500,sheer", "1,500,9"),
            "line 8, station 1: 0 points are marked sheer, and each station needs one",
        ),
        (
            whole(4) + &(5..40).map(|i| format!("1,500,{i},{},{}\n", 300 + i, 300 + 4 * i)).collect::<String>(),
            "line 8, station 1: 41 points stand there; 40 is the most that is read: take some out",
        ),
        (whole(61), "line 362, station 60: 61 stations and ends; 60 is the most that is read: take some out"),
        (
            whole(4).replace("1,500,3,200,190\n", "").replace("1,500,4,260,260\n", ""),
            "line 8, station 1: 4 points stand there; 5 is the least a section is drawn through",
        ),
        (
            whole(4).replace("1,500,2,", "1,520,2,"),
            "line 10, station 1: the point stands 520.0 mm aft and the station's first 500.0 mm",
        ),
    ] {
        let why = tried(text).unwrap_err().to_string();
        assert!(why.contains(said), "{why}");
    }
}
