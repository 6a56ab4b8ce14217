//! Boats made for the tests.

use boat::geom::Point;
use boat::geom::arc::ArcCurve;
use boat::lines::{Section, SectionAt, Skin};
use boat::lining::Lands;
use boat::offsets::{Station, StationAt, Table};
use boat::spec::{
    BendSpec, Bent, Construction, DrawnTo, EndSpec, FairWithinBy, FasteningSpec, KeelSpec, LinesSpec, MouldSpec,
    PlankingSpec, Post, ScarfSpec, Spec, Stand, TimberSpec, TransomEnds, Wood,
};
use boat::units::Notation;

/// A spec with planks `thickness` thick and lands `lap` wide, no gains.
pub fn spec(thickness: f64, lap: f64) -> Spec {
    let wood = Wood { name: "larch".to_string(), density: 580.0 };
    let post = |x: f64| EndSpec::Post(Post::new(10.0, vec![[x, 500.0], [x, 0.0]]));
    Spec {
        name: "Test".to_string(),
        kind: String::new(),
        drawn_by: String::new(),
        built_at: String::new(),
        lengths: Notation::Mm,
        lines: LinesSpec {
            drawn_to: DrawnTo::Inside,
            fair_within: 0.0,
            fair_within_by: FairWithinBy::default(),
            keel_half_siding: 10.0,
            diagonals: Vec::new(),
        },
        fore: post(0.0),
        aft: post(4000.0),
        keel: KeelSpec {
            hog_half_breadth: None,
            hog_thickness: None,
            wood_outside: None,
            half_siding: None,
            wood: wood.clone(),
        },
        lining: boat::spec::LiningSpec::default(),
        planking: PlankingSpec {
            thickness,
            lap,
            strakes: None,
            widest: 120.0,
            garboard: 1.0,
            edge_floor: 0.4 * thickness,
            gain: 0.0,
            transom_gain: None,
            transom_ends: TransomEnds::Notched,
            left_long: [0.0; 2],
            transom_overhang: 0.0,
            sheer_proud: 0.0,
            bevel_every: 150.0,
            spile_every: None,
            construction: Construction::Riveted,
            glue_rate: None,
            paint: 0.0,
            wood: wood.clone(),
        },
        timbers: TimberSpec {
            fitted: true,
            spacing: 150.0,
            sided: 20.0,
            moulded: 12.0,
            spare: 75.0,
            halves_over: 0.5,
            at: Vec::new(),
            cant_fore: Vec::new(),
            cant_aft: Vec::new(),
            stopped: Vec::new(),
            steamed_radius: 12.0,
            cold_radius: 60.0,
            layers: 1,
            bent: Bent::Steamed,
            extra: 0.1,
            wood,
        },
        fastenings: FasteningSpec {
            nail_lengths: vec![20.0, 25.0, 30.0, 40.0],
            end_spacing: 32.0,
            end_row: 10.0,
            end_clear: 38.0,
            ..FasteningSpec::default()
        },
        moulds: MouldSpec {
            thickness: 19.0,
            clearance: 19.0,
            stand: Stand::Upright,
            base_above_floor: None,
            leg: 75.0,
            level: None,
        },
        bending: BendSpec::default(),
        scarfs: ScarfSpec::default(),
        sawing: boat::spec::SawSpec::default(),
        moisture: boat::spec::MoistureSpec::default(),
        interior: boat::spec::InteriorSpec::default(),
        loads: Vec::new(),
    }
}

/// A skin whose sections stand at the stations `x`, each a curve through `section(x)`; and the table of its stations.
pub fn skin(x: &[f64], section: impl Fn(f64) -> Vec<Point>) -> (Skin, Table) {
    let curves: Vec<ArcCurve<3>> = x
        .iter()
        .map(|&x| ArcCurve::through(&section(x).into_iter().map(Into::into).collect::<Vec<[f64; 3]>>()).unwrap())
        .collect();
    let sections = curves
        .iter()
        .enumerate()
        .map(|(i, c)| Section {
            name: format!("{i}"),
            at: SectionAt::Station(i),
            points: (0..=40).map(|p| Point::from(c.at(c.length() * f64::from(p) / 40.0))).collect(),
            girth: c.length(),
        })
        .collect();
    let stations =
        x.iter().enumerate().map(|(i, &x)| Station { name: format!("{i}"), at: StationAt::Square(x) }).collect();
    (Skin { curves, sections }, Table { stations, rows: Vec::new() })
}

/// Lands at the same shares of the girth on every section.
pub fn lands(skin: &Skin, shares: &[f64]) -> Lands {
    let u: Vec<Vec<f64>> = shares.iter().map(|&s| vec![s; skin.curves.len()]).collect();
    let pinned = vec![vec![true; skin.curves.len()]; shares.len()];
    Lands::through(skin, u, pinned).unwrap()
}
