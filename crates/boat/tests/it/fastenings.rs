//! Nails, roves and screws: tables and masses against published and computed values, places and orders by sums of their own.

use boat::fastenings::stock::{COPPER, Kind, Pack, nail_mass, rove_mass};
use boat::fastenings::{self, OrderLine, rivet, waiting};
use boat::findings::{Finding, Measure};
use boat::folder::{self, BoatTexts, read_rates};
use boat::geom::Point;
use boat::plan::{Plan, json::to_json, plan};
use boat::planks::Strake;
use boat::quote::{Group, Rate, reckon};
use boat::spec::Fixing;
use boat::units::{GAUGES, INCH, POUND, swg_diameter};

use crate::plans::{BOATS, planned, texts};

/// Imperial standard wire gauge, sizes 1 to 30, inches. Source: [SWG], as read.
const WIRE: [(u32, f64); 30] = [
    (1, 0.300),
    (2, 0.276),
    (3, 0.252),
    (4, 0.232),
    (5, 0.212),
    (6, 0.192),
    (7, 0.176),
    (8, 0.160),
    (9, 0.144),
    (10, 0.128),
    (11, 0.116),
    (12, 0.104),
    (13, 0.092),
    (14, 0.080),
    (15, 0.072),
    (16, 0.064),
    (17, 0.056),
    (18, 0.048),
    (19, 0.040),
    (20, 0.036),
    (21, 0.032),
    (22, 0.028),
    (23, 0.024),
    (24, 0.022),
    (25, 0.020),
    (26, 0.018),
    (27, 0.0164),
    (28, 0.0148),
    (29, 0.0136),
    (30, 0.0124),
];

#[test]
fn nail_sides_are_the_wire_gauges() {
    for (gauge, inches) in WIRE {
        assert!((swg_diameter(gauge).unwrap() - inches * 25.4).abs() < 1e-12, "gauge {gauge}");
    }
    assert!(GAUGES.eq(WIRE.map(|w| w.0)));
    assert_eq!([swg_diameter(0), swg_diameter(31), swg_diameter(u32::MAX)], [None; 3]);
}

/// One inch of square shank: side × side × 25.4 mm × 8.96 g/cm³, by hand to the digits given.
#[test]
fn an_inch_of_nail_weighs_what_it_should() {
    assert_eq!(COPPER, 8960.0);
    for (gauge, cubic_mm, grams) in [(14, 104.88, 0.940), (12, 177.24, 1.588), (10, 268.48, 2.406)] {
        let kg = nail_mass(swg_diameter(gauge).unwrap(), 25.4);
        assert!((kg * 1000.0 - grams).abs() < 5e-4, "gauge {gauge}: {kg} kg");
        assert!((kg / COPPER * 1e9 - cubic_mm).abs() < 6e-3, "gauge {gauge}");
    }
    // A ring 10 mm across with a hole of 2, 1 thick: 24 π mm³.
    assert!((rove_mass(10.0, 2.0, 1.0) - 24.0 * std::f64::consts::PI * 8.96e-6).abs() < 1e-15);
}

/// The shortest that reaches; a length that just does is taken, and a hair more is not reached.
#[test]
fn nails_are_the_shortest_that_reach() {
    let stock = [16.0, 20.0, 25.0];
    for (grip, nail) in [
        (10.0, Some(16.0)),
        (13.5, Some(16.0)),
        (13.500_001, Some(20.0)),
        (17.5, Some(20.0)),
        (22.5, Some(25.0)),
        (22.51, None),
    ] {
        assert_eq!(rivet::nail(grip, 1.5, 1.0, &stock), nail, "{grip}");
    }
}

fn boat(name: &str, more: &str, nails: Option<&str>) -> Result<Plan, String> {
    let t = texts(name);
    let mut toml = t.toml.replace("[fastenings]\n", &format!("[fastenings]\n{more}\n"));
    if nails.is_some() {
        toml = toml.lines().filter(|l| !l.starts_with("nail_lengths")).map(|l| format!("{l}\n")).collect();
    }
    let t = BoatTexts { toml, nails: nails.map(str::to_owned), ..t };
    let input = folder::read(&t).map_err(|e| e.to_string())?;
    plan(&input).map_err(|e| e.to_string())
}

/// Every rivet's distance from a station is to that station's mark on the edge, and none is nearer; along the land's own
/// length in space. What stands in a gain has a step less than the thickness.
#[test]
fn rivets_are_placed_from_the_nearest_station_and_know_their_gains() {
    for name in BOATS {
        let p = planned(name);
        let json: serde_json::Value = serde_json::from_str(&to_json(&p)).unwrap();
        let mut inside = 0;
        for (r, said) in p.rivets.iter().zip(json["rivets"].as_array().unwrap()) {
            let strake = &p.strakes[r.land - 1];
            let mark = |name: &str| {
                let at = strake.at.iter().find(|a| p.sections[a.section].name == name).unwrap();
                strake.rulings[at.ruling].along
            };
            let (station, off) = (said["station"].as_str().unwrap(), said["from_station_mm"].as_f64().unwrap());
            assert!((mark(station) + off - r.along).abs() < 1e-3, "{name} land {} rivet {}", r.land, r.n);
            assert!((said["along_mm"].as_f64().unwrap() - r.along).abs() < 1e-3);
            for mould in &p.moulds {
                assert!(
                    off.abs() < (r.along - mark(&mould.name)).abs() + 1e-3,
                    "{name}: {station} or {}",
                    mould.name
                );
            }
            let before = strake.rulings.partition_point(|x| x.along <= r.along);
            let steps = [before - 1, before].map(|i| strake.rulings[i.min(strake.rulings.len() - 1)].step);
            if r.in_gain {
                assert!(steps.into_iter().fold(f64::MAX, f64::min) < strake.thickness, "{name} {} {}", r.land, r.n);
            } else {
                assert!(steps.into_iter().fold(0.0, f64::max) > strake.thickness - 1e-9, "{name} {} {}", r.land, r.n);
            }
            assert_eq!(said["in_gain"], r.in_gain);
            // How far the axis, outward, leans up the plank square to the land, between the two nearest rulings.
            let at = before.min(strake.rulings.len() - 1);
            let [fore, aft] = [&strake.rulings[at - 1], &strake.rulings[at]];
            let part = (r.along - fore.along) / (aft.along - fore.along);
            let [tangent, normal] = [(fore.tangent, aft.tangent), (fore.normal, aft.normal)]
                .map(|(u, v)| (u + (v - u) * part).normalize());
            let up = r.axis.dot(&tangent.cross(&normal).normalize());
            assert!((up - r.lean.sin()).abs() < 1e-9, "{name} {} {}: {up} for {}", r.land, r.n, r.lean.sin());
            match said["head_leans"].as_str() {
                Some("up") => assert!(up > 0.0),
                Some("down") => assert!(up < 0.0),
                Some(other) => panic!("{other}"),
                None => assert!(up.abs() < 1e-3),
            }
            inside += usize::from(r.in_gain);
        }
        let gains =
            [&p.spec.fore, &p.spec.aft].iter().any(|end| p.spec.planking.gain_at(end).is_some_and(|g| g > 0.0));
        assert!((inside > 0) == gains && inside < p.rivets.len() / 2, "{name}: {inside}");
    }
}

#[test]
fn rivets_wait_mould_by_mould() {
    for name in BOATS {
        let p = planned(name);
        let all = waiting(&p.rivets);
        assert_eq!(
            all.iter().map(fastenings::Waiting::count).sum::<usize>(),
            p.rivets.iter().filter(|r| r.blocked_by.is_some()).count()
        );
        assert!(all.windows(2).all(|w| w[0].mould < w[1].mould));
        for w in &all {
            for (land, numbers) in &w.lands {
                for n in numbers {
                    let r = p.rivets.iter().find(|r| r.land == *land && r.n == *n).unwrap();
                    assert_eq!(r.blocked_by, Some(w.mould));
                }
            }
        }
    }
    assert!(waiting(&[]).is_empty());
}

/// Along the keel: on the garboard's lower edge, evenly, at the rivets' spacing and never wider than `apart` asks, the row of
/// each end's first fastening carried on.
#[test]
fn the_garboard_is_fastened_along_the_rabbet() {
    for (name, more, apart) in
        [("corncrake", "", f64::MAX), ("sandgrouse", "apart = 4.5", 4.5), ("lapwing", "apart = 3", 3.0)]
    {
        let p = boat(name, more, None).unwrap();
        let f = &p.spec.fastenings;
        let rulings = &p.strakes[0].rulings;
        let whole: f64 = rulings.windows(2).map(|w| (w[1].lower - w[0].lower).norm()).sum();
        let mut places: Vec<f64> = p.keel_fastenings.iter().map(|k| k.along).collect();
        places.insert(0, f.end_row);
        places.push(whole - f.end_row);
        let gaps: Vec<f64> = places.windows(2).map(|w| w[1] - w[0]).collect();
        let usual = p.spec.timbers.spacing / f64::from(f.between + 1);
        for gap in &gaps {
            assert!(
                (gap - gaps[0]).abs() < 1e-6 && *gap <= apart * p.spec.planking.thickness + 1e-6,
                "{name}: {gap}"
            );
            assert!((gap / usual - 1.0).abs() < 0.02 || *gap < usual, "{name}: {gap} for {usual}");
        }
        for (i, k) in p.keel_fastenings.iter().enumerate() {
            let off = rulings.windows(2).map(|w| {
                let run = w[1].lower - w[0].lower;
                let part = ((k.at - w[0].lower).dot(&run) / run.norm_squared()).clamp(0.0, 1.0);
                (k.at - (w[0].lower + run * part)).norm()
            });
            assert!(off.fold(f64::MAX, f64::min) < 1e-9 && k.n == i + 1);
            // Through the plank and twice its thickness into the keel.
            let t = p.spec.planking.thickness;
            assert_eq!(k.length, f.nail_lengths.iter().copied().find(|l| *l >= 3.0 * t - 1e-9), "{name}");
        }
        let said = p.rest.iter().find(|r| r.what == "garboard to keel").unwrap();
        assert_eq!((said.count as usize, said.with), (2 * p.keel_fastenings.len(), Some(Fixing::Nails)));
    }
}

/// She weighs her nails and roves, one by one.
#[test]
fn nails_and_roves_are_weighed() {
    for name in BOATS {
        let p = planned(name);
        let f = &p.spec.fastenings;
        let driven = p.ends.iter().flat_map(|e| e.own()).map(|e| e.length);
        let lengths = p.rivets.iter().map(|r| r.nail).chain(driven).chain(p.keel_fastenings.iter().map(|k| k.length));
        let nails: f64 = lengths.map(|l| nail_mass(f.side(), l.expect("a nail long enough"))).sum();
        let roves = p.rivets.len() as f64 * rove_mass(f.rove_diameter, f.side(), f.rove_thickness);
        assert!((p.weights.fastenings - 2.0 * (nails + roves)).abs() < 1e-9, "{name}");
    }
}

/// Places up an end: half a land up, evenly, half a land down; nails through a land are longer by what the step adds.
#[test]
fn ends_are_fastened_by_the_builders_rule() {
    for (more, transom, spacing) in [
        ("", [3, 4], 30.0),
        ("transom_fastenings = [4, 6]", [4, 6], 30.0),
        ("transom_fastenings = [2, 9]\ntransom_spacing = 12", [2, 9], 12.0),
    ] {
        let p = boat("lapwing", more, None).unwrap();
        let (mut fewest, mut most) = (u32::MAX, 0);
        for e in &p.ends {
            let s = &p.strakes[e.strake - 1];
            let at = if e.end == "bow transom" { s.at.first() } else { s.at.last() }.unwrap();
            let r = &s.rulings[at.ruling];
            let long = (r.upper - r.lower).norm();
            assert_eq!(e.places.len(), e.fastenings as usize);
            let [first, last] = [e.places[0].up, e.places[e.places.len() - 1].up];
            assert!(first > 0.0 && last < long);
            // As many as the width asks for and no more.
            let asked = ((last - first) / spacing).ceil() as u32 + 1;
            assert_eq!(e.fastenings, asked.clamp(transom[0], transom[1]), "{more}: strake {} {}", e.strake, e.end);
            (fewest, most) = (fewest.min(e.fastenings), most.max(e.fastenings));
            for (i, place) in e.places.iter().enumerate() {
                let alone = i > 0 && i + 1 < e.places.len();
                assert!(if alone { place.wood == s.thickness } else { place.wood > 0.8 * s.thickness });
                let stock = &p.spec.fastenings.nail_lengths;
                let wanted = place.wood + 2.0 * s.thickness;
                assert_eq!(place.length, stock.iter().copied().find(|l| *l >= wanted - 1e-9));
            }
        }
        assert!(fewest >= transom[0] && most <= transom[1] && most > 2, "{more}: {fewest} to {most}");
    }
    for (more, said) in [("transom_fastenings = [3, 4]", "sandgrouse"), ("transom_spacing = 30", "sandgrouse")] {
        assert!(boat(said, more, None).unwrap_err().contains("transom"), "{more}");
    }
}

/// The end fastening through two planks stands half a land from the upper edge of the lower one, square to that edge, however
/// raked the end, and both planks' numbers give that hole. Common practice, no source.
#[test]
fn ends_are_fastened_in_the_middle_of_their_lands() {
    for (name, p) in BOATS.map(|b| (b, planned(b))) {
        let half = 0.5 * p.spec.planking.lap;
        for (i, e) in p.ends.iter().enumerate() {
            let ruling = |s: &Strake| {
                let at = if i % 2 == 0 { s.at.first() } else { s.at.last() };
                s.rulings[at.unwrap().ruling].clone()
            };
            let s = &p.strakes[e.strake - 1];
            let r = ruling(s);
            let edge: Vec<Point> = s.rulings.iter().map(|r| r.upper).collect();
            // On the face whose edge it is.
            let from_edge = |hole: Point| {
                let off = hole - r.upper;
                from_line(&(r.upper + off - r.normal * off.dot(&r.normal)), &edge)
            };
            let last = e.places[e.places.len() - 1].up;
            let mut holes = vec![r.lower + r.up() * last];
            if let (Some(next), Some(above)) = (p.strakes.get(e.strake), p.ends.get(i + 2)) {
                assert_eq!((above.strake, above.end), (e.strake + 1, e.end));
                let own = ruling(next);
                holes.push(own.lower + own.up() * above.places[0].up);
            }
            for hole in holes {
                let off = from_edge(hole);
                assert!((off - half).abs() < 0.3, "{name}, strake {} at the {}: {off} for {half}", e.strake, e.end);
            }
        }
    }
}

/// Distance of a point from a polyline, carried on straight at both ends, mm.
fn from_line(p: &Point, line: &[Point]) -> f64 {
    let last = line.len() - 2;
    line.windows(2).enumerate().fold(f64::INFINITY, |best, (i, w)| {
        let (along, off) = (w[1] - w[0], p - w[0]);
        let part = off.dot(&along) / along.norm_squared();
        let part = part.max(if i == 0 { part } else { 0.0 }).min(if i == last { part } else { 1.0 });
        best.min((off - along * part).norm())
    })
}

/// Screws at one end and along the keel, nails at the other: counted one by one, ordered, on the cards' words, in the quote.
#[test]
fn screws_take_the_place_of_nails_where_the_builder_says_so() {
    let more = "fore_ends = \"screws\"\nkeel = \"screws\"\nscrew_gauge = 8\nscrew_length = 32";
    let p = boat("sandgrouse", more, None).unwrap();
    let own = |end: &str| p.ends.iter().filter(|e| e.end == end).map(|e| e.own().len() as u32).sum::<u32>();
    assert!(p.ends.iter().all(|e| (e.end == "stem") == (e.fixing == Fixing::Screws)));
    for e in p.ends.iter().filter(|e| e.end == "stem") {
        assert!(e.places.iter().all(|place| place.length == Some(32.0)));
    }
    let screws: Vec<&OrderLine> = p.order.iter().filter(|l| l.kind == Kind::Screw).collect();
    assert_eq!(screws.len(), 1);
    let keel = p.keel_fastenings.len() as u32;
    assert_eq!((screws[0].gauge, screws[0].size, screws[0].takes), (8, 32.0, [0, 2 * own("stem"), 2 * keel]));
    assert_eq!((screws[0].each, screws[0].bought_mass), (None, None));
    let nailed: u32 = p.order.iter().filter(|l| l.kind == Kind::Nail).map(|l| l.takes[1] + l.takes[2]).sum();
    assert_eq!(nailed, 2 * own("sternpost"));

    let text = include_str!("../../../../boats/sandgrouse/rates.toml");
    let mut rates = read_rates(text).unwrap();
    let quote = reckon(&p, &[], &rates).unwrap();
    assert!(quote.left_out.iter().any(|l| l.contains("fastenings.screw_each")), "{:?}", quote.left_out);
    rates = read_rates(&text.replace("copper_per_kg", "screw_each = 2.50\ncopper_per_kg")).unwrap();
    let priced = reckon(&p, &[], &rates).unwrap();
    let line = priced.lines.iter().find(|l| l.what == "Screws").unwrap();
    assert_eq!(line.group, Group::Fastenings);
    assert_eq!(line.sum.0, 250 * i64::from(screws[0].wanted));
}

/// Orders of a list with packs of every sort: as many as the boat takes by counts of our own, whole packs, and no pack too many.
#[test]
fn orders_come_in_whole_packs() {
    let nails = include_str!("../../../../boats/corncrake/nails.csv");
    let p = boat("corncrake", "", Some(nails)).unwrap();
    assert!(p.order.iter().any(|l| matches!(l.pack, Some(Pack::Mass(_)))));
    assert!(p.order.iter().any(|l| matches!(l.pack, Some(Pack::Count(_))) && l.in_hand > 0));
    let (mut nails, mut roves) = (0, 0);
    for l in &p.order {
        let driven = p.ends.iter().flat_map(|e| e.own()).filter_map(|e| e.length);
        let lengths = p
            .rivets
            .iter()
            .filter_map(|r| r.nail)
            .chain(driven)
            .chain(p.keel_fastenings.iter().filter_map(|k| k.length));
        match l.kind {
            Kind::Nail => {
                assert_eq!(l.count() as usize, 2 * lengths.filter(|n| *n == l.size).count());
                nails += l.count();
            }
            Kind::Rove => roves += l.count(),
            Kind::Screw => panic!("nothing is screwed"),
        }
        assert_eq!(l.wanted, l.count() + l.count().div_ceil(10));
        let each = match l.kind {
            Kind::Rove => rove_mass(3.0 / 8.0 * INCH, 0.08 * INCH, INCH / 32.0),
            _ => nail_mass(0.08 * INCH, l.size),
        };
        assert!((l.each.unwrap() - each).abs() < 1e-15);
        let pieces = match l.pack.unwrap() {
            Pack::Count(n) => n,
            Pack::Mass(kg) => {
                assert!((kg - POUND).abs() < 1e-12);
                (kg / each) as u32
            }
        };
        assert!(l.packs_wanted * pieces >= l.wanted && (l.packs_wanted - 1) * pieces < l.wanted, "{l:?}");
        assert_eq!((l.packs, l.bought), (l.packs_wanted - l.in_hand.min(l.packs_wanted), l.packs * pieces));
    }
    assert_eq!(roves as usize, 2 * p.rivets.len());
    assert!(nails > roves);

    // The quote pays for every pack, those in hand too: a pound is a pound, and roves by count as the builder weighed them.
    let rates = read_rates(include_str!("../../../../boats/corncrake/rates.toml")).unwrap();
    let quote = reckon(&p, &[], &rates).unwrap();
    let quantity = |what: &str| {
        let line = quote.lines.iter().find(|l| l.what == what).unwrap();
        match line.rate {
            Rate::Each { quantity, .. } => quantity.value(),
            Rate::Percent { .. } => panic!("{what} is no share"),
        }
    };
    let of = |kind| p.order.iter().filter(move |l| l.kind == kind);
    let kg: f64 = of(Kind::Nail)
        .map(|l| match l.pack.unwrap() {
            Pack::Mass(kg) => f64::from(l.packs_wanted) * kg,
            Pack::Count(n) => f64::from(l.packs_wanted * n) * l.each.unwrap(),
        })
        .sum();
    assert!((quantity("Copper nails") - kg).abs() <= 0.0005, "{kg}");
    let roves: u32 = of(Kind::Rove).map(|l| l.packs_wanted * 500).sum();
    assert!((quantity("Copper roves") - f64::from(roves) * 0.42e-3).abs() <= 0.0005);
}

/// Roves by the kilogram are paid by it, whatever the builder's rates say of one.
#[test]
fn roves_packed_by_mass_weigh_what_their_packs_say() {
    let list = "kind,gauge,diameter,pack\nrove,14,9.5,1 kg\n";
    let t = BoatTexts { nails: Some(list.to_owned()), ..texts("sandgrouse") };
    let p = plan(&folder::read(&t).unwrap()).unwrap();
    let rates = read_rates(include_str!("../../../../boats/sandgrouse/rates.toml")).unwrap();
    let quote = reckon(&p, &[], &rates).unwrap();
    let line = quote.lines.iter().find(|l| l.what == "Copper roves").unwrap();
    assert!(rates.rove_milligrams.is_some() && line.how.contains("packs as heavy as they say"), "{}", line.how);
    assert!(matches!(line.rate, Rate::Each { quantity, .. } if (quantity.value() - 1.0).abs() < 1e-9), "{line:?}");
}

/// What no length in stock reaches is left out of the order and said, with a finding for it.
#[test]
fn what_no_nail_reaches_is_said() {
    let p = boat("sandgrouse", "", Some("kind,gauge,length\nnail,14,16\nnail,14,25\n")).unwrap();
    let long = p.rivets.iter().filter(|r| r.nail.is_none()).count();
    let driven = p.keel_fastenings.len() + p.ends.iter().map(|e| e.own().len()).sum::<usize>();
    assert!(long > 0 && p.keel_fastenings.iter().all(|k| k.length.is_none()));
    let said = fastenings::left_out(&p.rivets, &p.ends, &p.keel_fastenings);
    assert!(
        said.starts_with(&format!("{} more rivets and {} more nails at the ends", 2 * long, 2 * driven)),
        "{said}"
    );
    let ordered: u32 = p.order.iter().map(|l| if l.kind == Kind::Nail { l.count() } else { 0 }).sum();
    assert_eq!(ordered as usize, 2 * (p.rivets.len() - long));
    assert!(
        p.findings.iter().any(|f| f.hint.contains("nails a side at ends and keel") && f.hint.contains("nails.csv"))
    );
}

/// A head so wide that it just passes on the bisector and not drilled square: the worst rivet of the land, how many, and what to
/// do; a hair narrower and nothing is said; wider still and the lap is what is wrong.
#[test]
fn a_drill_that_must_lean_is_told() {
    let p = planned("corncrake");
    let mut spec = p.spec.clone();
    let on = |land: usize| p.rivets.iter().filter(move |r| r.land == land);
    let land = 9;
    let least = |edge: fn(&fastenings::Rivet) -> f64| on(land).map(edge).fold(f64::MAX, f64::min);
    let (bisector, square) = (least(|r| r.head_edge), least(|r| r.head_edge_square));
    assert!(square < bisector - 0.5, "{square} and {bisector}");
    let mut told = |radius: f64| -> Vec<Finding> {
        spec.fastenings.head_diameter = 2.0 * radius;
        fastenings::check(&p.rivets, &p.ends, &p.keel_fastenings, &spec)
            .into_iter()
            .filter(|f| f.place.starts_with("land 9,") && f.hint.contains("head"))
            .collect()
    };
    assert_eq!(told(square - 1e-6), []);
    let limit = bisector - 1e-6;
    let found = told(limit);
    assert_eq!(found.len(), 1, "{found:?}");
    let worst = on(land).min_by(|a, b| a.head_edge_square.total_cmp(&b.head_edge_square)).unwrap();
    let many = on(land).filter(|r| r.head_edge_square < limit).count();
    assert_eq!(found[0].place, format!("land 9, rivet {}", worst.n));
    assert!(many > 1 && found[0].hint.starts_with(&format!("{many} rivets of this land would")), "{}", found[0].hint);
    assert!(found[0].hint.ends_with("lean the drill"), "{}", found[0].hint);
    assert!(told(bisector + 1e-6).iter().any(|f| f.hint.contains("planking.lap")));
}

/// Points of nails from both sides meet in a slim post: told where the plan drives them so far (Sandgrouse, 19 mm into posts 17 mm
/// to a side), and not where it does not.
#[test]
fn nails_that_meet_in_a_post_are_told() {
    let meet = |p: &Plan| {
        let found = p.findings.iter().filter(|f| f.hint.contains("where those of the other side come against them"));
        found.map(|f| f.place.clone()).collect::<Vec<_>>()
    };
    let places = meet(&planned("sandgrouse"));
    assert!(places.len() == 2 && places[0].ends_with("stem") && places[1].ends_with("sternpost"), "{places:?}");
    let screws = "ends = \"screws\"\nscrew_gauge = 6\nscrew_length = 18";
    let short = boat("sandgrouse", screws, None).unwrap();
    assert_eq!(meet(&short), Vec::<String>::new());
    // A screw of 12 is 0.060 + 0.013 × 12 = 0.216 in thick: half of that has to be left. From memory.
    let thick = boat("sandgrouse", &screws.replace('6', "12"), None).unwrap();
    let told = thick.findings.iter().find(|f| f.hint.contains("come against them"));
    let left = thick.ends.iter().flat_map(|e| e.own()).filter_map(|p| p.from_middle).fold(f64::INFINITY, f64::min);
    assert!(left < 0.108 * INCH, "{left}");
    assert_eq!(told.map(|f| f.limit), Some(Measure::Length(0.108 * INCH)));
    let corncrake = planned("corncrake");
    let all = corncrake.ends.iter().filter(|e| e.end == "stem").flat_map(|e| e.own());
    let clear: Vec<f64> = all.filter_map(|p| p.from_middle).collect();
    assert!(clear.len() > 20 && clear.iter().all(|c| *c > 1.0), "{clear:?}");
    let transom = || corncrake.ends.iter().filter(|e| e.end == "transom").flat_map(|e| &e.places);
    assert!(transom().count() > 20 && transom().all(|p| p.from_middle.is_none()));
}

/// Rivets and roves that leave no wood are found where only the plan knows of them.
#[test]
fn crowded_rivets_and_roves_over_the_edge_are_told() {
    let p = planned("sandgrouse");
    let mut spec = p.spec.clone();
    let found = |spec: &boat::spec::Spec, rivets: &[fastenings::Rivet]| -> Vec<String> {
        fastenings::check(rivets, &p.ends, &p.keel_fastenings, spec)
            .into_iter()
            .filter(|f| !f.hint.contains("come against them"))
            .map(|f| format!("{}: {}", f.place, f.hint))
            .collect()
    };
    assert!(found(&spec, &p.rivets).is_empty());
    let mut near = p.rivets.clone();
    near[5].along = near[4].along + spec.fastenings.nearest() - 0.1;
    let said = found(&spec, &near);
    assert!(
        said.len() == 1 && said[0].starts_with("land 1, rivet 6: 1 rivet of this land stands so near"),
        "{said:?}"
    );
    // Roves wider than the land.
    spec.fastenings.rove_diameter = 1.5 * spec.planking.lap;
    let said = found(&spec, &p.rivets);
    assert!(said.len() == p.strakes.len() - 1 && said[0].contains("roves over the inner plank's edge"), "{said:?}");
    // Thick nails at narrow ends.
    let mut spec = p.spec.clone();
    spec.fastenings.gauge = 1;
    let said = found(&spec, &p.rivets);
    assert!(said.iter().any(|s| s.contains("strake") && s.contains("hood_fastenings")), "{said:?}");
}
