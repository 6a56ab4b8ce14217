//! Her picture in ink: what is drawn is seen, what is not drawn is hidden.

use boat::eyes::Eye;
use boat::geom::{Point, Vector};
use boat::ink::{Fine, Hider, Kind, Line, OFF, Run, Scene, runs, scene};
use boat::lands::eyes;
use boat::plan::Plan;

use crate::paper::boats;

const FINE: Fine = Fine { step: 5.0, edge: 0.01, least: 1.0, beside: 2.0 };

fn of(plan: &Plan) -> (Scene, [Eye; 4]) {
    (scene(&plan.strakes, &plan.sections, &plan.spec), eyes(&plan.strakes, &plan.spec.lining).unwrap())
}

fn drawn(scene: &Scene, eye: &Eye, fine: &Fine) -> Vec<Run> {
    runs(&Hider::new(scene, eye).unwrap(), &scene.lines_for(eye), fine)
}

/// A box about `middle`, its twelve edges with the ways out of it.
fn a_box(middle: Point, half: Vector) -> Scene {
    let corner = |i: usize| {
        let sign = |bit: usize| if i >> bit & 1 == 1 { 1.0 } else { -1.0 };
        Vector::new(sign(0), sign(1), sign(2))
    };
    let at = |i: usize| middle + corner(i).component_mul(&half);
    let mut scene = Scene::default();
    for axis in 0..3 {
        let others = [1 << ((axis + 1) % 3), 1 << ((axis + 2) % 3)];
        for side in [0, 1 << axis] {
            let [a, b, c, d] = [side, side + others[0], side + others[0] + others[1], side + others[1]].map(at);
            scene.faces.extend([[a, b, c], [a, c, d]]);
        }
        for i in [0, others[0], others[1], others[0] + others[1]] {
            let (from, to) = (i, i + (1 << axis));
            let free = corner(from) + corner(to);
            scene.lines.push(Line { kind: Kind::Land, points: vec![at(from), at(to)], free: vec![free; 2] });
        }
    }
    scene
}

fn long(run: &Run) -> f64 {
    run.points.windows(2).map(|w| (w[1] - w[0]).norm()).sum()
}

/// From before a corner nine edges of a box are seen, whole; six of them are its outline. From before a face, four.
#[test]
fn a_box_shows_the_edges_known_by_hand() {
    let half = Vector::new(500.0, 300.0, 200.0);
    let solid = a_box(Point::origin(), half);
    assert_eq!((solid.faces.len(), solid.lines.len()), (12, 12));
    for signs in [[1.0, 1.0, 1.0], [-1.0, 1.0, 1.0], [-1.0, 1.0, -1.0]] {
        let at = Point::new(3000.0 * signs[0], 4000.0 * signs[1], 2000.0 * signs[2]);
        let eye = Eye::new("", at, Point::origin(), 0.0);
        let found = drawn(&solid, &eye, &FINE);
        assert_eq!(found.len(), 9, "from {at}");
        assert_eq!(found.iter().filter(|r| r.outline).count(), 6);
        let whole: f64 = found.iter().map(long).sum();
        assert!((whole - 3.0 * 2.0 * (half.x + half.y + half.z)).abs() < 1e-9, "{whole}");
        // The three hidden edges meet in the corner furthest off.
        let furthest = Point::new(-half.x * signs[0], -half.y * signs[1], -half.z * signs[2]);
        assert!(found.iter().flat_map(|r| &r.points).all(|p| (p - furthest).norm() > 1.0));
    }
    let before = Eye::new("", Point::new(0.0, 5000.0, 0.0), Point::origin(), 0.0);
    let found = drawn(&solid, &before, &FINE);
    assert_eq!((found.len(), found.iter().filter(|r| r.outline).count()), (4, 4));
    assert!(found.iter().flat_map(|r| &r.points).all(|p| (p.y - half.y).abs() < 1e-9));
}

/// A plate hides of a rod behind it what lies in its shadow: by like triangles a D / (D − d) to each side.
#[test]
fn a_plate_hides_its_shadow() {
    let (far, near, half) = (6000.0, 700.0, 150.0);
    let plate = [[-half, -90.0], [half, -90.0], [half, 90.0], [-half, 90.0]].map(|[x, z]| Point::new(x, near, z));
    let rod = Line {
        kind: Kind::Sheer,
        points: vec![Point::new(-800.0, 0.0, 0.0), Point::new(900.0, 0.0, 0.0)],
        free: vec![Vector::zeros(); 2],
    };
    let scene = Scene {
        faces: vec![[plate[0], plate[1], plate[2]], [plate[0], plate[2], plate[3]]],
        lines: vec![rod],
        strips: Vec::new(),
    };
    let eye = Eye::new("", Point::new(0.0, far, 0.0), Point::origin(), 0.0);
    for fine in [FINE, Fine { step: 40.0, ..FINE }, Fine { step: 1.0, edge: 1e-4, ..FINE }] {
        let found = drawn(&scene, &eye, &fine);
        assert_eq!(found.len(), 2);
        let shadow = half * far / (far - near);
        let ends = [found[0].points.last().unwrap().x, found[1].points[0].x];
        assert!((ends[0] + shadow).abs() <= fine.edge && (ends[1] - shadow).abs() <= fine.edge, "{ends:?}");
    }
}

/// Whether any triangle stands between `p` and the eye: every one of them asked, in space.
fn brute(scene: &Scene, eye: &Point, p: &Point) -> bool {
    let way = eye - p;
    scene.faces.iter().any(|[a, b, c]| {
        let (u, v) = (b - a, c - a);
        let across = way.cross(&v);
        let det = u.dot(&across);
        if det.abs() < 1e-9 {
            return false;
        }
        let from = p - a;
        let s = from.dot(&across) / det;
        let up = from.cross(&u);
        let t = way.dot(&up) / det;
        let far = v.dot(&up) / det;
        s >= 0.0 && t >= 0.0 && s + t <= 1.0 && far > 1e-9 && far < 1.0
    })
}

fn outside(p: &Point, free: &Vector) -> Point {
    p + free.normalize() * OFF
}

/// What is drawn has no triangle before it; what is not drawn has one, but for pieces too short to draw. All triangles
/// are asked, without grid and picture.
#[test]
fn what_is_drawn_is_seen_and_the_rest_is_hidden() {
    for plan in boats() {
        let (scene, eyes) = of(plan);
        for eye in &eyes {
            let hider = Hider::new(&scene, eye).unwrap();
            let lines = scene.lines_for(eye);
            let found = runs(&hider, &lines, &Fine::at_scale(16.0));
            assert!(found.len() > 20, "{}, {}", plan.spec.name, eye.name);
            let points: Vec<(&Point, &Vector)> = found.iter().flat_map(|r| r.points.iter().zip(&r.free)).collect();
            for (p, free) in points.iter().step_by(points.len() / 60) {
                assert!(!brute(&scene, &eye.place(), &outside(p, free)), "{}, {}: {p}", plan.spec.name, eye.name);
            }
            let all: Vec<(&Point, &Vector)> = lines.iter().flat_map(|l| l.points.iter().zip(&l.free)).collect();
            for (p, free) in all.iter().step_by(all.len() / 60) {
                let hidden = brute(&scene, &eye.place(), &outside(p, free));
                assert_eq!(hider.sees(p, free), !hidden, "{}, {}: {p}", plan.spec.name, eye.name);
            }
        }
    }
}

/// Each triangle as four.
fn finer(scene: &Scene) -> Scene {
    let split = |[a, b, c]: &[Point; 3]| {
        let middle = |p: &Point, q: &Point| Point::from(0.5 * (p.coords + q.coords));
        let [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
        [[*a, ab, ca], [ab, *b, bc], [ca, bc, *c], [ab, bc, ca]]
    };
    Scene { faces: scene.faces.iter().flat_map(split).collect(), ..scene.clone() }
}

/// The ends of runs, in an order of their own.
fn ends(found: &[Run]) -> Vec<(Kind, bool, [f64; 2], [f64; 2])> {
    let mut ends: Vec<_> = found.iter().map(|r| (r.kind, r.outline, r.seen[0], r.seen[r.seen.len() - 1])).collect();
    ends.sort_by(|a, b| {
        let key = |e: &(Kind, bool, [f64; 2], [f64; 2])| [e.0 as u8 as f64, e.2[0], e.2[1], e.3[0], e.3[1]];
        key(a).partial_cmp(&key(b)).unwrap()
    });
    ends
}

/// Triangles four times as many, or in another order, and lines in another order: the same picture.
#[test]
fn the_picture_depends_on_neither_grid_nor_order() {
    let plan = &boats()[0];
    let (scene, eyes) = of(plan);
    for eye in &eyes {
        let first = drawn(&scene, eye, &FINE);
        let second = drawn(&finer(&scene), eye, &FINE);
        assert_eq!(first.len(), second.len(), "{}", eye.name);
        for (a, b) in first.iter().zip(&second) {
            assert_eq!((a.kind, a.outline), (b.kind, b.outline));
            for (p, q) in [(a.seen[0], b.seen[0]), (a.seen[a.seen.len() - 1], b.seen[b.seen.len() - 1])] {
                assert!((p[0] - q[0]).hypot(p[1] - q[1]) <= 2.0 * FINE.edge, "{}: {p:?} and {q:?}", eye.name);
            }
        }
        let mut turned = scene.clone();
        turned.faces.reverse();
        turned.lines.reverse();
        turned.faces.iter_mut().for_each(|f| f.swap(0, 2));
        assert_eq!(ends(&drawn(&turned, eye, &FINE)).len(), first.len());
        for (a, b) in ends(&drawn(&turned, eye, &FINE)).iter().zip(ends(&first)) {
            assert_eq!((a.0, a.1), (b.0, b.1));
            assert!((a.2[0] - b.2[0]).hypot(a.2[1] - b.2[1]) <= 2.0 * FINE.edge, "{}", eye.name);
        }
    }
}

/// From the beam the far side's lands outside are behind her planks, upright and heeled away: nothing leaks through between
/// two faces. Every land of the near side is seen all along when she is heeled, and none of her inside.
#[test]
fn nothing_leaks_through_her() {
    for plan in boats() {
        let (scene, eyes) = of(plan);
        // Heeled far enough, a flat bottom is seen under her keel on the far side too.
        let heights = || scene.faces.iter().flatten().map(|p| p.z);
        let (bottom, top) = (heights().fold(f64::MAX, f64::min), heights().fold(f64::MIN, f64::max));
        for (eye, low) in [(&eyes[0], f64::MIN), (&eyes[3], bottom + 0.2 * (top - bottom))] {
            let found = drawn(&scene, eye, &Fine::at_scale(16.0));
            let outside = found.iter().filter(|r| matches!(r.kind, Kind::Land | Kind::Step | Kind::Rabbet));
            let far = outside.flat_map(|r| &r.points).filter(|p| p.y < -1.0 && p.z > low).count();
            assert_eq!(far, 0, "{}, {}", plan.spec.name, eye.name);
        }
        let heeled = drawn(&scene, &eyes[3], &Fine::at_scale(16.0));
        assert!(heeled.iter().all(|r| r.kind != Kind::Inside), "{}", plan.spec.name);
        for strake in &plan.strakes[1..] {
            let edge = |r: &boat::planks::Ruling| r.lower + r.lower_normal * strake.thickness;
            let whole: f64 = strake.rulings.windows(2).map(|w| (edge(&w[1]) - edge(&w[0])).norm()).sum();
            let on_it = |r: &&Run| {
                let middle = r.points[r.points.len() / 2];
                r.kind == Kind::Land && strake.rulings.iter().any(|q| (edge(q) - middle).norm() < 14.0)
            };
            let seen: f64 = heeled.iter().filter(on_it).map(long).sum();
            assert!(seen > 0.97 * whole, "{}, strake {}: {seen:.0} of {whole:.0}", plan.spec.name, strake.strake);
        }
    }
}

/// Amidships every land steps out: a wall as high as the land's step stands between the strake below and the next one's
/// lower outer edge.
#[test]
fn every_land_has_its_step() {
    for plan in boats() {
        let (scene, _) = of(plan);
        for pair in plan.strakes.windows(2) {
            let i = pair[1].rulings.len() / 2;
            let (on, r) = (&pair[0].rulings[i], &pair[1].rulings[i]);
            // A little way to the next ruling, where no side of a triangle runs.
            let beside = 0.3 * (pair[1].rulings[i + 1].lower - r.lower);
            let half_way = r.lower + beside + r.lower_normal * (pair[1].thickness - 0.5 * on.step);
            let (below, above) = (half_way - r.up() * 3.0, half_way + r.up() * 3.0);
            assert!(brute(&scene, &above, &below), "{}, strake {}", plan.spec.name, pair[1].strake);
            // Past its edge there is none.
            let out = r.lower_normal * on.step;
            assert!(!brute(&scene, &(above + out), &(below + out)), "{}, strake {}", plan.spec.name, pair[1].strake);
        }
    }
}

/// The picture fills the box that is kept for it, and her outermost points are on the outline.
#[test]
fn the_outline_goes_all_round() {
    for plan in boats() {
        let (scene, eyes) = of(plan);
        for eye in &eyes {
            let [left, right, low, high] = Hider::new(&scene, eye).unwrap().extent();
            let found = drawn(&scene, eye, &Fine::at_scale(16.0));
            let outline = || found.iter().filter(|r| r.outline).flat_map(|r| &r.seen);
            let most = |axis: usize, sign: f64| outline().map(|p| sign * p[axis]).fold(f64::MIN, f64::max);
            let found = [-most(0, -1.0), most(0, 1.0), -most(1, -1.0), most(1, 1.0)];
            for (a, b) in found.into_iter().zip([left, right, low, high]) {
                assert!((a - b).abs() < 1e-9, "{}, {}: {a:.1} and not {b:.1}", plan.spec.name, eye.name);
            }
        }
    }
}

#[test]
fn an_eye_among_her_planks_has_no_picture() {
    let mut plan = boats()[0].clone();
    plan.spec.lining.eye_distance = Some(300.0);
    plan.spec.lining.eye_height = 350.0;
    let (scene, eyes) = of(&plan);
    assert!(eyes.iter().all(|eye| Hider::new(&scene, eye).is_none()));
    assert!(Hider::new(&Scene::default(), &eyes[0]).is_none());
    let t = boat::drawing::typeface::Type::embedded().unwrap();
    assert!(boat::paper::pictures::pictures(&t, &plan).is_empty());
    let sheets = boat::paper::book::sheets(&t, &plan, boat::paper::PaperSize::A4);
    assert!(!sheets.is_empty());
}
