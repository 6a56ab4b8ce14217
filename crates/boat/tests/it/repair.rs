//! Planks made from readings, against the planned boats whose neighbours the readings were taken on, and closed forms.

use crate::common;
use boat::folder::{self, BoatTexts};
use boat::geom::{Point, Vector};
use boat::plan::{Plan, plan};
use boat::planks::Strake;
use boat::planks::lay::RULINGS_PER_SPAN;
use boat::repair::{Above, Below, End, Job, Mended, Place, RepairError, Spot, mend};
use boat::spec::{EndSpec, Transom};

const BOATS: [&str; 3] = ["corncrake", "sandgrouse", "lapwing"];

fn planned(name: &str) -> Plan {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../boats").join(name);
    let text = |file: &str| std::fs::read_to_string(folder.join(file)).unwrap();
    let texts = BoatTexts { toml: text("boat.toml"), offsets: text("offsets.csv"), ..BoatTexts::default() };
    plan(&folder::read(&texts).unwrap()).unwrap()
}

/// Where the line is stretched: outside her, at some height, mm.
const LINE: [f64; 2] = [1100.0, 300.0];

/// What stands on a plank's outside along its rulings: at `share` of the way up.
fn outside(s: &Strake, share: impl Fn(usize) -> f64) -> Vec<Point> {
    let one = |(i, r): (usize, &boat::planks::Ruling)| {
        let v = share(i);
        let normal = (r.lower_normal * (1.0 - v) + r.normal * v).normalize();
        r.lower + (r.upper - r.lower) * v + normal * s.thickness
    };
    s.rulings.iter().enumerate().map(one).collect()
}

/// The bevelled upper outer corner of a plank with the next one off it.
fn bevelled_corner(s: &Strake, lap: f64) -> Vec<Point> {
    let one = |r: &boat::planks::Ruling| {
        let left = 0.5 * (s.thickness + r.step) - lap * r.bevel.unwrap_or(0.0).tan().max(0.0);
        r.upper + r.normal * left
    };
    s.rulings.iter().map(one).collect()
}

/// Where a line crosses the plane at x; run straight on past its ends.
fn at_x(line: &[Point], x: f64) -> Point {
    let i = line.partition_point(|p| p.x <= x).clamp(1, line.len() - 1);
    let (a, b) = (line[i - 1], line[i]);
    a + (b - a) * ((x - a.x) / (b.x - a.x))
}

/// Where a line, run straight on, goes through a transom's face, which all wood is cut flush with.
fn on_transom(t: &Transom, line: &[Point]) -> f64 {
    let past = |p: &Point| p.x - t.x_at(p.y, p.z);
    let i = (1..line.len() - 1).find(|&i| past(&line[i - 1]) <= 0.0 && past(&line[i]) > 0.0);
    let i = i.unwrap_or(if t.bow { 1 } else { line.len() - 1 });
    let (a, b) = (line[i - 1], line[i]);
    a.x - past(&a) * (b.x - a.x) / (past(&b) - past(&a))
}

/// A section's name, or the ruling's number.
fn name(plan: &Plan, ruling: usize) -> String {
    let section = ruling / RULINGS_PER_SPAN;
    if ruling % RULINGS_PER_SPAN == 0 { plan.sections[section].name.clone() } else { format!("ruling {ruling}") }
}

/// How a tape reads.
#[derive(Clone, Copy)]
struct Tape {
    /// It is read to the nearest of these, mm; 0: exactly.
    step: f64,
}

impl Tape {
    fn read(self, mm: f64) -> f64 {
        if self.step > 0.0 { (mm / self.step).round() * self.step } else { mm }
    }
}

/// What a builder would measure with strake `k` of `plan` off her, at every section.
fn readings(plan: &Plan, k: usize, tape: Tape) -> Job {
    let (strakes, lap) = (&plan.strakes, plan.spec.planking.lap);
    let own = &strakes[k - 1];
    let (below, above) = (k.checked_sub(2).map(|i| &strakes[i]), strakes.get(k));
    // As far from the edge as the plank allows there, 80 mm at most.
    let length = |s: &Strake, i: usize| (s.rulings[i].upper - s.rulings[i].lower).norm();
    let face = |s: &Strake, i: usize| (0.85 * length(s, i)).min(80.0);
    let lower: [Option<Vec<Point>>; 2] = match below {
        Some(s) => [Some(outside(s, |i| 1.0 - face(s, i) / length(s, i))), Some(bevelled_corner(s, lap))],
        None => [None, Some(own.rulings.iter().map(|r| r.lower).collect())],
    };
    let upper: [Option<Vec<Point>>; 2] = match above {
        Some(s) => [Some(outside(s, |_| 0.0)), Some(outside(s, |i| face(s, i) / length(s, i)))],
        None => [Some(own.rulings.iter().map(|r| r.upper).collect()), None],
    };
    let [face_below, edge_below] = lower;
    let [edge_above, face_above] = upper;
    let (edge_below, edge_above) = (edge_below.unwrap(), edge_above.unwrap());
    let last = plan.sections.len() - 1;
    // Closer together towards the ends, where the edges bend most: half-way and at the quarter next to the end.
    let between = [8, 24];
    let whole = last * RULINGS_PER_SPAN;
    let mut at: Vec<usize> = (0..=last).map(|j| j * RULINGS_PER_SPAN).collect();
    at.extend(between.iter().flat_map(|i| [*i, whole - i]));
    at.sort_unstable();
    // Along a garboard's hood a tape finds no second place before the next station.
    at.retain(|&i| i % RULINGS_PER_SPAN == 0 || (edge_below[i].x > edge_below[0].x + 50.0 && edge_below[i].x < edge_below[whole].x - 50.0));
    at.retain(|&i| i == 0 || i == whole || (edge_below[i].x > edge_below[0].x + 30.0 && edge_above[i].x > edge_above[0].x + 30.0));
    let places = at
        .into_iter()
        .enumerate()
        .map(|(j, ruling)| {
            let end = ruling == 0 || ruling == whole;
            // No spot where the plank is hardly wider than its land.
            let wide = |s: Option<&Strake>| s.is_some_and(|s| face(s, ruling) > 2.2 * lap && s.rulings[ruling].squareness() > 0.8);
            // Between a raked end and the next station the line above is parted as the one below.
            let near = end || ruling % RULINGS_PER_SPAN != 0;
            let on = |line: &[Point]| match (ruling, &plan.spec.fore, &plan.spec.aft) {
                (0, EndSpec::Transom(t), _) => on_transom(t, line),
                (i, _, EndSpec::Transom(t)) if i == whole => on_transom(t, line),
                _ => line[ruling].x,
            };
            let x = if near { on(&edge_below) } else { own.rulings[ruling].upper.x };
            let x_above = if near { on(&edge_above) } else { x };
            let spot = |line: &Vec<Point>, x: f64| {
                let p = at_x(line, x);
                [tape.read(p.z - LINE[1]), tape.read(LINE[0] - p.y)]
            };
            Place {
                name: name(plan, ruling),
                line: j + 2,
                along: tape.read(x),
                along_above: tape.read(x_above),
                spots: [
                    face_below.as_ref().filter(|_| wide(below)).map(|l| spot(l, x)),
                    Some(spot(&edge_below, x)),
                    Some(spot(&edge_above, x_above)),
                    face_above.as_ref().filter(|_| wide(above)).map(|l| spot(l, x_above)),
                ],
            }
        })
        .collect();
    let mut spec = plan.spec.clone();
    spec.timbers.at = plan.timbers.iter().map(|t| t.x).collect();
    let end = |e: &EndSpec| if matches!(e, EndSpec::Post(_)) { End::Hood } else { End::Transom };
    let gain = |e: &EndSpec| plan.spec.planking.gain_at(e).unwrap_or(0.0);
    Job {
        plank: format!("strake {k}"),
        below: if below.is_some() { Below::Plank } else { Below::Rabbet },
        above: if above.is_some() { Above::Plank } else { Above::Sheer },
        ends: [end(&spec.fore), end(&spec.aft)],
        gains: [gain(&spec.fore), gain(&spec.aft)],
        thickness_above: spec.planking.thickness,
        tape: if tape.step > 0.0 { tape.step } else { 0.0 },
        places,
        holes: Vec::new(),
        spec,
    }
}

/// How far the repaired plank is from the planned one.
#[derive(Debug, Default, Clone, Copy)]
struct Off {
    /// Edges of the flat plank, laid over one another as well as they go, mm.
    edge: f64,
    /// Length of the edges, mm.
    length: f64,
    /// Bevels at the sections, degrees: clear of the ends, and anywhere.
    bevel: f64,
    bevel_ends: f64,
    bevel_rms: f64,
    /// Grips, mm.
    grip: f64,
    /// Places of rivets along the land, mm.
    rivet: f64,
    /// Rivets that take another nail.
    nails: usize,
}

impl Off {
    fn most(self, o: Off) -> Off {
        Off {
            edge: self.edge.max(o.edge),
            length: self.length.max(o.length),
            bevel: self.bevel.max(o.bevel),
            bevel_ends: self.bevel_ends.max(o.bevel_ends),
            bevel_rms: self.bevel_rms.max(o.bevel_rms),
            grip: self.grip.max(o.grip),
            rivet: self.rivet.max(o.rivet),
            nails: self.nails + o.nails,
        }
    }
}

fn length(run: &[[f64; 2]]) -> f64 {
    run.windows(2).map(|w| (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1])).sum()
}

/// Distance from a point to a run of points.
fn to_run(p: [f64; 2], run: &[[f64; 2]]) -> f64 {
    let one = |w: &[[f64; 2]]| {
        let (dx, dy) = (w[1][0] - w[0][0], w[1][1] - w[0][1]);
        let s = (((p[0] - w[0][0]) * dx + (p[1] - w[0][1]) * dy) / (dx * dx + dy * dy)).clamp(0.0, 1.0);
        (p[0] - w[0][0] - s * dx).hypot(p[1] - w[0][1] - s * dy)
    };
    run.windows(2).map(one).fold(f64::MAX, f64::min)
}

/// `moved` turned and shifted over `still`, least squares point by point.
fn laid_over(moved: &[[f64; 2]], still: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let n = moved.len() as f64;
    let mean = |all: &[[f64; 2]]| [0, 1].map(|a| all.iter().map(|p| p[a]).sum::<f64>() / n);
    let (m, s) = (mean(moved), mean(still));
    let (mut dot, mut cross) = (0.0, 0.0);
    for (p, q) in moved.iter().zip(still) {
        let (px, py, qx, qy) = (p[0] - m[0], p[1] - m[1], q[0] - s[0], q[1] - s[1]);
        dot += px * qx + py * qy;
        cross += px * qy - py * qx;
    }
    let (sin, cos) = cross.atan2(dot).sin_cos();
    moved
        .iter()
        .map(|p| {
            let (x, y) = (p[0] - m[0], p[1] - m[1]);
            [s[0] + cos * x - sin * y, s[1] + sin * x + cos * y]
        })
        .collect()
}

/// Points on a run of points, evenly along it.
fn evenly(run: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let whole = length(run);
    let mut along = vec![0.0];
    for w in run.windows(2) {
        along.push(along[along.len() - 1] + (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1]));
    }
    (0..EVEN)
        .map(|i| {
            let a = whole * i as f64 / (EVEN - 1) as f64;
            let j = along.partition_point(|x| *x <= a).clamp(1, run.len() - 1);
            let s = (a - along[j - 1]) / (along[j] - along[j - 1]);
            [0, 1].map(|k| run[j - 1][k] + s * (run[j][k] - run[j - 1][k]))
        })
        .collect()
}

const EVEN: usize = 400;

fn compared(plan: &Plan, k: usize, job: &Job, made: &Mended) -> Off {
    let theirs = boat::development::unroll(&plan.strakes[k - 1]).unwrap();
    let all = |f: &boat::development::FlatPlank| [evenly(&f.lower), evenly(&f.upper)].concat();
    let theirs_even = all(&theirs);
    let over = laid_over(&all(&made.flat), &theirs_even);
    let (lower, upper) = over.split_at(EVEN);
    let mut off = Off::default();
    for i in EVEN / 50..EVEN - EVEN / 50 {
        off.edge = off.edge.max(to_run(theirs_even[i], lower)).max(to_run(theirs_even[EVEN + i], upper));
    }
    off.length = (length(&made.flat.lower) - length(&theirs.lower))
        .abs()
        .max((length(&made.flat.upper) - length(&theirs.upper)).abs());
    let mut squares = Vec::new();
    for (mine, number) in made.below.iter().map(|b| (b, k - 1)).chain([(&made.plank, k)]) {
        let planned = &plan.strakes[number - 1];
        for a in &planned.at {
            let place = job.places.iter().position(|p| p.name == name(plan, a.ruling)).unwrap();
            let (Some(p), Some(m)) = (a.bevel, mine.rulings[place * RULINGS_PER_SPAN].bevel) else { continue };
            let by = (p - m).to_degrees().abs();
            off.bevel_ends = off.bevel_ends.max(by);
            squares.push(by * by);
            if a.section > 0 && a.section + 1 < planned.at.len() {
                off.bevel = off.bevel.max(by);
            }
        }
    }
    off.bevel_rms = (squares.iter().sum::<f64>() / squares.len().max(1) as f64).sqrt();
    for (mine, land) in made.rivets.iter().zip([k - 1, k]) {
        let planned: Vec<_> = plan.rivets.iter().filter(|r| r.land == land).collect();
        if false { println!("strake {k}, land {land}: {} against {}, {:.0?} against {:.0?}", mine.len(), planned.len(), mine.iter().map(|r| r.along).collect::<Vec<_>>(), planned.iter().map(|r| r.along).collect::<Vec<_>>()); }
        for m in mine {
            let p = planned.iter().min_by(|a, b| (a.along - m.along).abs().total_cmp(&(b.along - m.along).abs())).unwrap();
            if p.timber.is_some() != m.timber.is_some() { continue; }
            off.grip = off.grip.max((p.grip - m.grip).abs());
            off.rivet = off.rivet.max((p.along - m.along).abs());
            off.nails += usize::from(p.nail != m.nail);
        }
    }
    off
}

fn every_strake(tape: f64) -> Vec<(&'static str, Off)> {
    BOATS
        .into_iter()
        .map(|name| {
            let plan = planned(name);
            let mut most = Off::default();
            for k in 1..=plan.strakes.len() {
                let job = readings(&plan, k, Tape { step: tape });
                let made = match mend(&job) { Ok(m) => m, Err(why) => { println!("{name} strake {k} FAILED: {why}"); continue; } };
                let off = compared(&plan, k, &job, &made);
                println!("{name} {k} tape {tape}: {off:.2?} again {:?}", made.again);
                most = most.most(off);
            }
            (name, most)
        })
        .collect()
}

#[test]
fn probe() {
    for tape in [0.0, 1.0, 25.4 / 16.0] {
        for (name, most) in every_strake(tape) {
            println!("ALL {name} tape {tape}: {most:.2?}");
        }
    }
}

