//! A plan drawn by us, pictured aslant, and read off again.

use crate::plans::texts;
use boat::offsets::{Expected, RowKind, StationAt, Table, read_table};
use boat::plan_sheet::{
    Distance, Entry, Known, Marks, Pick, Pixel, PlanSheetError, View, added, laid, read_off, table,
};
use boat::units::{INCH, Notation};

/// Our 13 ft example drawn out to 14 ft: all lengths times 14/13.
const LONGER: f64 = 14.0 / 13.0;
/// 150 dots to the inch at 1:10: a pixel is 1.69 mm at full size.
const PIXEL: f64 = INCH / 150.0 * 10.0;

fn boat() -> (Table, Vec<(String, f64)>) {
    let text = texts("corncrake").offsets;
    let expected = Expected {
        lengths: Notation::FeetInchesEighths,
        spacing: Some(18.0 * INCH),
        diagonals: &[],
        transom: true,
        bow_transom: false,
    };
    let (mut table, _) = read_table(&text, &expected).unwrap();
    for row in &mut table.rows {
        match &mut row.kind {
            RowKind::HeightButtock(l) | RowKind::HalfBreadthWaterline(l) => *l *= LONGER,
            _ => {}
        }
        row.cells.iter_mut().flatten().for_each(|c| c.mm *= LONGER);
    }
    let at = |s: &boat::offsets::Station| match s.at {
        StationAt::Square(x) => x * LONGER,
        // Drawn at the end of the body plan's stations; no distance is read off there.
        _ => 3700.0,
    };
    let stations = table.stations.iter().map(|s| (s.name.clone(), at(s))).collect();
    (table, stations)
}

/// From the plan, mm at full size, to pixels: turned, with unlike scales, skew, and with or without perspective.
struct Camera {
    turned: f64,
    scales: [f64; 2],
    skew: f64,
    perspective: [f64; 2],
}

impl Camera {
    fn pixel(&self, place: [f64; 2]) -> Pixel {
        let (sin, cos) = self.turned.sin_cos();
        let [u, v] = [self.scales[0] * place[0] / PIXEL, self.scales[1] * place[1] / PIXEL];
        let u = u + self.skew * v;
        let [x, y] = [cos * u - sin * v, -(sin * u + cos * v)];
        let w = 1.0 + self.perspective[0] * x + self.perspective[1] * y;
        [1700.0 + x / w, 2100.0 + y / w]
    }
}

/// Evenly spread in ±`by`, the same every time.
struct Noise(u64);

impl Noise {
    fn next(&mut self, by: f64) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 / (1_u64 << 53) as f64 * 2.0 - 1.0) * by
    }

    fn pick(&mut self, p: Pixel, by: f64) -> Pixel {
        [p[0] + self.next(by), p[1] + self.next(by)]
    }
}

/// Marks on the body plan alone, or over the whole sheet, on which the profile stands beside it on the same base line: 4.2 m of boat;
/// each marked so many times.
fn marks_over(camera: &Camera, noise: &mut Noise, by: f64, points: bool, whole: bool, times: usize) -> Marks {
    let mut at = |p: [f64; 2]| noise.pick(camera.pixel(p), by);
    let [half, high] = if whole { [2100.0, 1400.0] } else { [750.0, 750.0] };
    let mut marks = Marks::default();
    for _ in 0..times {
        marks.level.extend([[-half, 0.0], [0.0, 0.0], [half, 0.0]].map(&mut at));
        marks.plumb.extend([[0.0, 40.0], [0.0, 0.5 * high], [0.0, high]].map(&mut at));
        let mut distance = |a, b, mm| marks.distances.push(Distance { from: at(a), to: at(b), mm });
        distance([-half, 0.0], [half, 0.0], 2.0 * half);
        distance([0.0, 0.0], [0.0, high], high);
        if whole {
            distance([-half, high], [half, high], 2.0 * half);
            distance([half, 0.0], [half, high], high);
        }
        let places = [[-half, 0.0], [half, 0.0], [-half, high], [half, high], [0.0, high], [0.0, 0.0]];
        if points {
            marks.points.extend(places.map(|place| Known { pixel: at(place), place }));
        }
    }
    marks
}

fn marks(camera: &Camera, noise: &mut Noise, by: f64, points: bool) -> Marks {
    marks_over(camera, noise, by, points, false, 1)
}

/// Every entry of the body plan picked `times` times; fore stations to the right, after ones to the left.
fn picks(boat: &Table, camera: &Camera, noise: &mut Noise, by: f64, times: usize) -> Vec<Pick> {
    let mut all = Vec::new();
    for (s, station) in boat.stations.iter().enumerate() {
        let side = if s < 4 { 1.0 } else { -1.0 };
        let mm = |kind: &RowKind| {
            boat.rows.iter().find(|r| r.kind == *kind).and_then(|r| r.cells[s].as_ref()).map(|c| c.mm)
        };
        for row in &boat.rows {
            let Some(value) = mm(&row.kind) else { continue };
            let place = match row.kind {
                RowKind::HeightSheer => [mm(&RowKind::HalfBreadthSheer).unwrap(), value],
                RowKind::HalfBreadthSheer => [value, mm(&RowKind::HeightSheer).unwrap()],
                RowKind::HeightRabbet => [20.0, value],
                RowKind::HeightButtock(y) => [y, value],
                RowKind::HalfBreadthWaterline(z) => [value, z],
                _ => continue,
            };
            for _ in 0..times {
                let pixel = noise.pick(camera.pixel([side * place[0], place[1]]), by);
                all.push(Pick { station: station.name.clone(), row: row.kind.clone(), pixel });
            }
        }
    }
    all
}

/// Root mean square and worst of the entries, mm; and how many in a hundred lie within what is said of them.
fn off(boat: &Table, entries: &[Entry]) -> (f64, f64, f64) {
    let (mut squares, mut worst, mut within) = (0.0, 0.0_f64, 0);
    for entry in entries {
        let s = boat.stations.iter().position(|s| s.name == entry.station).unwrap();
        let row = boat.rows.iter().find(|r| r.kind == entry.row).unwrap();
        let off = (entry.mm - row.cells[s].as_ref().unwrap().mm).abs();
        squares += off * off;
        worst = worst.max(off);
        within += usize::from(off <= entry.within);
    }
    let n = entries.len() as f64;
    ((squares / n).sqrt(), worst, 100.0 * f64::from(within as u32) / n)
}

/// 20 pictures of each kind, every place picked within half a pixel (0.85 mm) of where it is: scans turned by up to 3 degrees with unlike
/// scales and skew, and photographs aslant. The root mean square of the
/// worst picture and the worst entry of all, mm, and how many of a hundred come within 1 mm.
#[test]
fn a_plan_of_14_ft_comes_back_from_its_picture() {
    let (boat, stations) = boat();
    let mut measured = Vec::new();
    for (name, aslant, points, whole, times, most) in [
        ("scan, marks on the body plan, once", 0.0, false, false, 1, [0.9, 2.2, 85.0]),
        ("scan, marks over the sheet, once", 0.0, false, true, 1, [0.85, 1.9, 90.0]),
        ("scan, marks over the sheet, thrice", 0.0, false, true, 3, [0.5, 1.3, 97.0]),
        ("scan, marks over the sheet, five times", 0.0, false, true, 5, [0.4, 1.0, 100.0]),
        ("with points over the sheet, once", 0.0, true, true, 1, [0.7, 1.6, 90.0]),
        ("with points over the sheet, five times", 0.0, true, true, 5, [0.4, 1.0, 100.0]),
        ("photograph, points over the sheet, once", 5e-5, true, true, 1, [0.7, 1.6, 90.0]),
        ("photograph, points over the sheet, five times", 5e-5, true, true, 5, [0.4, 1.0, 100.0]),
    ] {
        let mut near = 0;
        let (mut all, mut worst, mut least) = (0.0_f64, 0.0_f64, 100.0_f64);
        for seed in 0..20 {
            let mut noise = Noise(seed + 1);
            let turn = noise.next(0.05);
            let camera = Camera {
                turned: turn,
                scales: [1.0 + noise.next(0.004), 1.0 + noise.next(0.004)],
                skew: noise.next(0.01),
                perspective: [noise.next(aslant), noise.next(aslant)],
            };
            let marks = marks_over(&camera, &mut noise, 0.5, points, whole, times);
            let laid = laid(&marks).unwrap_or_else(|e| panic!("{name} {seed}: {e}"));
            assert_eq!(laid.perspective, points);
            let picks = picks(&boat, &camera, &mut noise, 0.5, times);
            let entries =
                read_off(&laid, View::BodyPlan, &stations, &picks).unwrap_or_else(|e| panic!("{name}: {e}"));
            assert_eq!(entries.len(), 87);
            let (rms, far, within) = off(&boat, &entries);
            near += entries.iter().filter(|e| off(&boat, std::slice::from_ref(e)).1 <= 1.0).count();
            (all, worst, least) = (all.max(rms), worst.max(far), least.min(within));
        }
        let near = 100.0 * near as f64 / (20.0 * 87.0);
        println!(
            "{name}: rms {all:.3} mm, worst {worst:.3} mm, within 1 mm {near:.1} %, within what is said {least:.0} %"
        );
        measured.push((name, [all, worst, near], most, least));
    }
    for (name, found, most, least) in measured {
        assert!(found[0] < most[0] && found[1] <= most[1] && found[2] >= most[2], "{name}: {found:?}");
        assert!(least >= 90.0, "{name}: {least} in 100 within what is said");
    }
}

/// Without noise the map is exact, whatever the camera; and the table is read by the table's own reader.
#[test]
fn without_noise_the_picture_is_taken_out_exactly() {
    let (boat, stations) = boat();
    let camera = Camera { turned: 0.4, scales: [1.03, 0.98], skew: 0.05, perspective: [8e-5, -1.1e-4] };
    let mut noise = Noise(1);
    let laid_on = laid(&marks(&camera, &mut noise, 0.0, true)).unwrap();
    assert!(laid_on.spread.unwrap() < 1e-6 && laid_on.to_spare > 10, "{:?}", laid_on.spread);
    let picks = picks(&boat, &camera, &mut noise, 0.0, 1);
    let entries = read_off(&laid_on, View::BodyPlan, &stations, &picks).unwrap();
    let (_, worst, _) = off(&boat, &entries);
    assert!(worst < 1e-6, "{worst}");
    for (lengths, round) in [(Notation::Mm, 0.051), (Notation::FeetInchesEighths, INCH / 32.0 + 1e-6)] {
        let of_plan = table(&entries, &stations, lengths).unwrap();
        let expected = Expected { lengths, spacing: None, diagonals: &[], transom: true, bow_transom: false };
        let (read, _) = read_table(&of_plan.table, &expected).unwrap_or_else(|e| panic!("{e}\n{}", of_plan.table));
        let mut most = 0.0_f64;
        for row in &read.rows {
            let near = |k: &RowKind| match (k, &row.kind) {
                (RowKind::HeightButtock(a), RowKind::HeightButtock(b))
                | (RowKind::HalfBreadthWaterline(a), RowKind::HalfBreadthWaterline(b)) => (a - b).abs() < 1.0,
                (a, b) => a == b,
            };
            let truth = boat.rows.iter().find(|r| near(&r.kind)).unwrap();
            for (a, b) in row.cells.iter().zip(&truth.cells) {
                assert_eq!(a.is_some(), b.is_some(), "{}", row.name);
                most = a.iter().zip(b).map(|(a, b)| (a.mm - b.mm).abs()).fold(most, f64::max);
            }
        }
        assert!(most < round, "{most}");
        assert_eq!(of_plan.accuracy.lines().count(), of_plan.table.lines().count() - 1);
        assert!(of_plan.table.starts_with("# Read off a picture of the plan. Entries are good to "));
    }
}

/// A profile and a half-breadth plan on one sheet each; where both views have an entry the better is kept.
#[test]
fn each_view_gives_what_it_shows() {
    let camera = Camera { turned: 0.01, scales: [1.0, 1.0], skew: 0.0, perspective: [0.0; 2] };
    let mut noise = Noise(3);
    let stations: Vec<(String, f64)> = (0..5).map(|s| (s.to_string(), 300.0 * f64::from(s))).collect();
    let on = laid(&marks(&camera, &mut noise, 0.0, false)).unwrap();
    let pick = |row: RowKind, place: [f64; 2], station: &str| Pick {
        station: station.to_owned(),
        row,
        pixel: camera.pixel(place),
    };
    let entries =
        read_off(&on, View::Profile, &stations, &[pick(RowKind::HeightSheer, [600.0, 512.0], "2")]).unwrap();
    assert!((entries[0].mm - 512.0).abs() < 1e-6, "{entries:?}");
    // Below the centreline of the half-breadth plan.
    let entries =
        read_off(&on, View::HalfBreadth, &stations, &[pick(RowKind::HalfBreadthSheer, [300.0, -405.0], "1")])
            .unwrap();
    assert!((entries[0].mm - 405.0).abs() < 1e-6, "{entries:?}");
    let fails = |view, p: Pick| read_off(&on, view, &stations, &[p]).unwrap_err().to_string();
    let why = fails(View::Profile, pick(RowKind::HalfBreadthSheer, [600.0, 512.0], "2"));
    assert!(why.contains("half-breadth sheer at station 2 cannot be read off the profile: pick it in the half-breadth plan or the body plan"), "{why}");
    let why = fails(View::Profile, pick(RowKind::HeightSheer, [630.0, 512.0], "2"));
    assert!(why.contains("was picked 30.0 mm off its line"), "{why}");
    let why = fails(View::Profile, pick(RowKind::HeightSheer, [600.0, 512.0], "9"));
    assert!(why.contains("station 9, and there is no such station; the stations are 0, 1, 2, 3, 4"), "{why}");
    let twice = [pick(RowKind::HeightSheer, [600.0, 512.0], "2"), pick(RowKind::HeightSheer, [600.0, 540.0], "2")];
    let why = read_off(&on, View::Profile, &stations, &twice).unwrap_err().to_string();
    assert!(why.contains("was picked at 512.0 mm and at 540.0 mm"), "{why}");
    assert_eq!(read_off(&on, View::Profile, &stations, &[]), Err(PlanSheetError::Nothing));
}

/// What is wrong with the marks, and what the message must say.
#[test]
fn marks_that_cannot_be_right_are_named() {
    let camera = Camera { turned: 0.02, scales: [1.0, 1.0], skew: 0.0, perspective: [0.0; 2] };
    let good = |points| marks(&camera, &mut Noise(5), 0.3, points);
    let fails = |change: &dyn Fn(&mut Marks), points: bool| {
        let mut marks = good(points);
        change(&mut marks);
        laid(&marks).map(|l| format!("laid: {:?}", l.left)).unwrap_or_else(|e| e.to_string())
    };
    assert!(laid(&good(false)).is_ok() && laid(&good(true)).is_ok());
    let known = |u: f64, v: f64| Known { pixel: camera.pixel([u, v]), place: [u, v] };
    for (change, points, said) in [
        (
            &(|m: &mut Marks| m.level.truncate(1)) as &dyn Fn(&mut Marks),
            false,
            "1 places are marked on the level line; mark two",
        ),
        (
            &|m: &mut Marks| m.level.iter_mut().for_each(|p| *p = [900.0 + p[0] / 100.0, p[1]]),
            false,
            "place 1 of the level line spans 20 pixels, 100 is the least",
        ),
        (&|m: &mut Marks| m.plumb = m.level.clone(), false, "the two lines cross at 0 degrees"),
        (
            &|m: &mut Marks| m.distances.truncate(1),
            false,
            "give the scale along the level line only: mark a distance that runs square to the level line too",
        ),
        (
            &|m: &mut Marks| m.distances = m.distances[1..].to_vec(),
            false,
            "mark a distance that runs along the level line too",
        ),
        (&|m: &mut Marks| m.distances[0].mm = f64::NAN, false, "known distance 1: NaN is no place or length"),
        (&|m: &mut Marks| m.distances[0].mm = -5.0, false, "known distance 1: -5 is no place or length"),
        (&|m: &mut Marks| m.distances[1].to = m.distances[1].from, false, "known distance 2 spans 0 pixels"),
        (&|m: &mut Marks| m.points.truncate(4), true, "laid"),
        // A typed 1400 that should be 1500: a third distance shows which of the two is wrong.
        (
            &|m: &mut Marks| {
                m.distances.push(Distance {
                    from: camera.pixel([-700.0, 0.0]),
                    to: camera.pixel([600.0, 700.0]),
                    mm: 1476.48,
                });
                m.distances.push(Distance {
                    from: camera.pixel([-600.0, 0.0]),
                    to: camera.pixel([600.0, 0.0]),
                    mm: 1200.0,
                });
                m.distances[0].mm = 1400.0;
            },
            false,
            "known distance 1 contradicts the others: it is off by 99.",
        ),
        (&|m: &mut Marks| m.points[3].place[0] += 60.0, true, "known point 4"),
        (&|m: &mut Marks| m.level[1][1] += 30.0, true, "place 2 of the level line contradicts the others"),
        (
            &|m: &mut Marks| {
                m.points = [0.0, 300.0, 600.0].map(|u| known(u, 0.0)).into_iter().chain([known(0.0, 600.0)]).collect()
            },
            true,
            "known points 1, 2 and 3 lie on one line",
        ),
        (&|m: &mut Marks| m.points = vec![known(0.0, 0.0); 41], true, "41 points are marked; 40 is the most"),
        (&|m: &mut Marks| m.plumb[0][0] = 1e9, true, "place 1 of the line square to it: 1000000000 is no place"),
    ] {
        let why = fails(change, points);
        assert!(why.contains(said), "{why}\nwanted {said}");
    }
    // A photograph aslant, laid without points, says what would mend it. With two distances alone nothing would show it.
    let aslant = Camera { perspective: [2e-4, 1e-4], ..camera };
    let why = laid(&marks_over(&aslant, &mut Noise(5), 0.3, false, true, 1))
        .map(|l| format!("{:?}", l.left))
        .unwrap_or_else(|e| e.to_string());
    assert!(why.contains("the picture was taken aslant: mark four known points and more"), "{why}");
}

fn entry(station: &str, row: RowKind, mm: f64) -> Entry {
    Entry { station: station.to_owned(), row, mm, within: 0.8, off_line: 0.0, times: 5 }
}

const ACROSS: &str = "# hers\nrow,1,2,3,4\nat,0,600,1200,1800\nheight sheer,552,487,452,443\nheight rabbet,112,100,97,105\n\
    half-breadth sheer,196,430,545,574\nhalf-breadth waterline 260,106,309,441,480\nhalf-breadth waterline 420,171,,542,572\n";
const DOWN: &str = "station;at;height sheer;height rabbet;half-breadth sheer;half-breadth waterline 260;half-breadth waterline 420\n\
    1;0;552;112;196;106;171\n2;600;487;100;430;309;\n3;1200;452;97;545;441;542\n4;1800;443;105;574;480;572\n";

fn hers(text: &str) -> Table {
    let expected =
        Expected { lengths: Notation::Mm, spacing: None, diagonals: &[], transom: false, bow_transom: false };
    read_table(text, &expected).unwrap().0
}

#[test]
fn entries_are_added_to_a_table_whichever_way_it_runs_and_what_stands_there_stays_unless_asked() {
    let picked = [
        entry("2", RowKind::HalfBreadthWaterline(420.0), 415.04),
        entry("3", RowKind::HalfBreadthSheer, 546.0),
        entry("1", RowKind::HalfBreadthWaterline(340.0), 143.26),
        entry("4", RowKind::HalfBreadthWaterline(340.0), 550.26),
        entry("2", RowKind::HeightButtock(150.0), 120.0),
    ];
    for text in [ACROSS, DOWN] {
        let table = hers(text);
        for give_way in [false, true] {
            let new = added(text, &table, &picked, Notation::Mm, give_way).unwrap();
            let changed = usize::from(give_way);
            assert_eq!((new.filled, new.changed, new.kept), (4, changed, 1 - changed), "{}", new.text);
            let read = hers(&new.text);
            let at = |kind: &RowKind, s: usize| {
                read.rows.iter().find(|r| r.kind == *kind).and_then(|r| r.cells[s].as_ref()).map(|c| c.mm)
            };
            assert_eq!(at(&RowKind::HalfBreadthWaterline(420.0), 1), Some(415.0));
            assert_eq!(at(&RowKind::HalfBreadthSheer, 2), Some(if give_way { 546.0 } else { 545.0 }));
            assert_eq!(at(&RowKind::HalfBreadthWaterline(340.0), 0), Some(143.3));
            assert_eq!(at(&RowKind::HalfBreadthWaterline(340.0), 1), None);
            assert_eq!(at(&RowKind::HalfBreadthWaterline(340.0), 3), Some(550.3));
            assert_eq!(at(&RowKind::HeightButtock(150.0), 1), Some(120.0));
            assert_eq!(at(&RowKind::HeightSheer, 3), Some(443.0));
            assert!(new.text.contains("good to 0.8 mm as a rule and 0.8 mm at worst"), "{}", new.text);
        }
    }
}

#[test]
fn nothing_is_added_at_a_station_that_she_has_not_or_where_two_views_quarrel() {
    let table = hers(ACROSS);
    let known = "1, 2, 3, 4".to_owned();
    let off = added(ACROSS, &table, &[entry("5", RowKind::HeightSheer, 440.0)], Notation::Mm, false);
    assert_eq!(off, Err(PlanSheetError::NoStation { found: "5".to_owned(), known }));
    let quarrel = [entry("2", RowKind::HeightSheer, 440.0), entry("2", RowKind::HeightSheer, 480.0)];
    let unlike = added(ACROSS, &table, &quarrel, Notation::Mm, false);
    assert!(matches!(unlike, Err(PlanSheetError::Unlike { .. })));
    assert_eq!(added(ACROSS, &table, &[], Notation::Mm, true), Err(PlanSheetError::Nothing));
}
