//! Wood that swells, against the Wood Handbook's own tables.

use boat::folder::woods;
use boat::spec::{Construction, MoistureSpec, Rings};
use boat::swelling::{SATURATED, at_lands, gain};

use crate::paper::boats;

/// WoodHandbook table 4-3, percent from green to ovendry, radial and tangential: read in a stored transcription.
const SHRINKAGE: [(&str, f64, f64); 15] = [
    ("ash, black", 5.0, 7.8),
    ("ash, green", 4.6, 7.1),
    ("ash, white", 4.9, 7.8),
    ("elm, American", 4.2, 9.5),
    ("elm, rock", 4.8, 8.1),
    ("elm, slippery", 4.9, 8.9),
    ("oak, white", 5.6, 10.5),
    ("cedar, Alaska", 2.8, 6.0),
    ("cedar, Atlantic white", 2.9, 5.4),
    ("cedar, northern white", 2.2, 4.9),
    ("cedar, Port-Orford", 4.6, 6.9),
    ("redcedar, western", 2.4, 5.0),
    ("Douglas-fir, coast", 4.8, 7.6),
    ("beech, American", 5.5, 11.9),
    ("yellow-poplar", 4.6, 8.2),
];

/// WoodHandbook table 5-3a, specific gravity at 12 %: the rows read in a stored transcription.
const GRAVITY: [(&str, f64); 13] = [
    ("ash, white", 0.60),
    ("ash, black", 0.49),
    ("ash, green", 0.56),
    ("elm, American", 0.50),
    ("elm, rock", 0.63),
    ("elm, slippery", 0.53),
    ("beech, American", 0.64),
    ("maple, black", 0.57),
    ("pine, red", 0.46),
    ("pine, slash", 0.59),
    ("pine, sugar", 0.36),
    ("redwood, old-growth", 0.40),
    ("hemlock, western", 0.45),
];

/// WoodHandbook table 13-5, change of dimension for each percent of moisture between 6 and 14, radial and tangential: read in
/// a stored transcription. Its green ash has white ash's figures, which its own shrinkage does not give, and is left out.
const COEFFICIENTS: [(&str, f64, f64); 6] = [
    ("ash, black", 0.00172, 0.00274),
    ("ash, white", 0.00169, 0.00274),
    ("beech, American", 0.00190, 0.00431),
    ("elm, American", 0.00144, 0.00338),
    ("elm, rock", 0.00165, 0.00285),
    ("elm, slippery", 0.00169, 0.00315),
];

#[test]
fn woods_are_as_the_handbook_has_them() {
    for (name, radial, tangential) in SHRINKAGE {
        assert_eq!(woods::find(name).unwrap().shrinkage, Some([radial, tangential]), "{name}");
    }
    for (name, gravity) in GRAVITY {
        assert_eq!(woods::find(name).unwrap().specific_gravity, gravity, "{name}");
    }
}

/// The handbook's coefficients are the change from 10 %, the middle of their range, to one more: to the last digit printed.
#[test]
fn a_percent_of_moisture_moves_wood_by_the_handbooks_coefficients() {
    for (name, radial, tangential) in COEFFICIENTS {
        let shrinkage = woods::find(name).unwrap().shrinkage.unwrap();
        for (shrinkage, printed) in shrinkage.into_iter().zip([radial, tangential]) {
            let found = gain(1.0, shrinkage, 10.0, 11.0);
            assert!((found - printed).abs() < 0.6e-5, "{name}: {found:.6}, printed {printed}");
        }
    }
}

/// Straight from the definition: a width that is D green is D (1 - S / 100) ovendry, and moves evenly between.
#[test]
fn there_and_back_is_nothing_and_over_saturation_nothing_moves() {
    let (green, s) = (100.0, 9.1);
    let at = |m: f64| green * (1.0 - s / 100.0 * (SATURATED - m) / SATURATED);
    for (from, to) in [(12.0, 25.0), (0.0, 30.0), (30.0, 0.0), (14.0, 6.0)] {
        assert!((gain(at(from), s, from, to) - (at(to) - at(from))).abs() < 1e-12, "{from} to {to}");
    }
    assert_eq!(gain(100.0, s, 30.0, 80.0), 0.0);
    assert_eq!(gain(100.0, s, 12.0, 30.0), gain(100.0, s, 12.0, 60.0));
    let quarter = MoistureSpec { shrinkage: Some([4.5, 9.1]), rings: Rings::Quarter, ..MoistureSpec::default() };
    assert_eq!(quarter.across(), Some(4.5));
}

/// In a boat: a strake's gain is that of its widest place, and between its lands of what is left without one land.
#[test]
fn strakes_gain_by_their_width() {
    for plan in boats() {
        let m = plan.spec.moisture;
        let Some(shrinkage) = m.across() else {
            assert!(plan.swelling.is_empty());
            continue;
        };
        assert_eq!(plan.swelling.len(), plan.strakes.len());
        for (s, strake) in plan.swelling.iter().zip(&plan.strakes) {
            let widest = strake.at.iter().map(|a| a.width).fold(0.0, f64::max);
            let each = (m.afloat - m.shop) / (3000.0 / shrinkage - 30.0 + m.shop);
            assert!((s.afloat - widest * each).abs() < 1e-12 && s.afloat > 0.0 && s.ashore < 0.0);
            match s.between() {
                Some([afloat, _]) => assert!((afloat - (widest - plan.spec.planking.lap) * each).abs() < 1e-12),
                None => assert_eq!(strake.strake, plan.strakes.len()),
            }
        }
    }
    assert!(boats().iter().any(|p| !p.swelling.is_empty()));
}

/// At a land: white ash by table 13-5 (read), for one percent about 10. Half a land of 18 mm across the rings' width, tangential, and
/// two planks of 9 mm through, radial; quarter-sawn the other way round. Ovendry from green it is table 4-3 itself.
#[test]
fn lands_close_and_open_by_the_handbooks_coefficients() {
    let mut spec = boats()[0].spec.clone();
    (spec.planking.lap, spec.planking.thickness) = (18.0, 9.0);
    let ash = woods::find("ash, white").unwrap().shrinkage;
    let set = |rings, [shop, afloat, ashore]: [f64; 3]| MoistureSpec { shop, afloat, ashore, shrinkage: ash, rings };
    for (rings, edge, grip) in [(Rings::Flat, 0.00274, 0.00169), (Rings::Quarter, 0.00169, 0.00274)] {
        spec.moisture = set(rings, [10.0, 11.0, 9.0]);
        let found = at_lands(&spec).unwrap();
        for (found, wanted) in [(found.edge, 9.0 * edge), (found.grip, 18.0 * grip)] {
            assert!(
                (found[0] - wanted).abs() < 18.0 * 0.6e-5 && (found[0] + found[1]).abs() < 1e-12,
                "{found:?} {wanted}"
            );
        }
        let [dry, crushed] = found.slack();
        assert!((dry + found.grip[1]).abs() < 1e-12 && (crushed - 2.0 * dry).abs() < 1e-12);
    }
    // Fitted drier than she will ever be again, a land is never slack but for what was crushed.
    spec.moisture = set(Rings::Flat, [10.0, 25.0, 12.0]);
    let found = at_lands(&spec).unwrap();
    assert_eq!(found.slack()[0], 0.0);
    assert!((found.slack()[1] - (found.grip[0] - found.grip[1])).abs() < 1e-12);
    // Green to ovendry: 4.9 percent of 18 mm.
    spec.moisture = set(Rings::Flat, [30.0, 60.0, 0.0]);
    let found = at_lands(&spec).unwrap();
    assert!(found.grip[0] == 0.0 && (found.grip[1] + 18.0 * 0.049).abs() < 1e-12, "{found:?}");
    // A glued land has no rivet to stand off.
    spec.planking.construction = Construction::Glued;
    assert_eq!(at_lands(&spec), None);
    spec.planking.construction = Construction::Riveted;
    spec.moisture.shrinkage = None;
    assert_eq!(at_lands(&spec), None);
}
