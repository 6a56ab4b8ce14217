//! What she weighs, part by part, and what is put aboard.

use crate::flotation::near;
use crate::paper::{PAPERS, sheets, words_of};
use crate::plans::{BOATS, input, planned, texts};
use boat::flotation::{FlotationError, Hull};
use boat::folder::read;
use boat::paper::{PaperSize, book};
use boat::plan::{Plan, plan};

/// Loads as they are read: a person to port heels her to port; company by company; what is wrong is named with its line.
#[test]
fn loads_are_read_and_put_aboard() {
    let mut t = texts("sandgrouse");
    // Her own loads are left out.
    let toml = t.toml.split("\n[[loads]]").next().unwrap().to_owned();
    t.toml = toml.clone()
        + r#"
[[loads]]
name = "oars"
mass = "11 lb"
at = 2000
height = 400

[[loads]]
name = "Ivo"
mass = 80
station = "5"
aft = 100
height = 550
out = 200
side = "port"
when = ["Ivo alone", "both"]

[[loads]]
name = "Edda"
mass = 62.5
at = 3300
height = 550
when = ["both"]

[[loads]]
name = "foam under the thwarts"
mass = 1.5
at = 2150
height = 250
litres = 40
"#;
    let plan = plan(&read(&t).unwrap()).unwrap();
    let found = plan.flotation().unwrap();
    let names: Vec<&str> = found.companies.iter().map(|c| c.company.name.as_str()).collect();
    assert_eq!(names, ["light", "Ivo alone", "both"]);
    let masses: Vec<f64> = found.companies.iter().map(|c| c.company.load.mass - plan.weights.total).collect();
    let own = 11.0 * 0.453_592_37 + 1.5;
    for (found, wanted) in masses.iter().zip([own, own + 80.0, own + 142.5]) {
        near(*found, wanted, "mass aboard");
    }
    let heel = |i: usize| found.companies[i].fresh.as_ref().unwrap().at.heel;
    assert!(heel(0).abs() < 1e-9 && heel(1) < -0.02, "{} {}", heel(0), heel(1));
    near(found.swamped.foam, 40.0, "foam");
    let x = plan.table.stations.iter().find(|s| s.name == "5").unwrap();
    let boat::offsets::StationAt::Square(x) = x.at else { panic!("station 5 stands square") };
    near(found.companies[1].company.aboard.iter().find(|a| a.name == "Ivo").unwrap().at.x, x + 100.0, "Ivo");

    for (load, wanted) in [
        ("name = \"x\"\nmass = -4\nat = 1000\nheight = 300", "mass: “-4” is out of range: 0 to 2000 is allowed"),
        ("name = \"x\"\nmass = \"-4 kg\"\nat = 1000\nheight = 300", "is out of range: 0 kg to 2000 kg"),
        ("name = \"x\"\nmass = \"four\"\nat = 1000\nheight = 300", "a mass, such as 75 (kg)"),
        ("name = \"x\"\nmass = 4\nstation = \"77\"\nheight = 300", "station: "),
        ("name = \"x\"\nmass = 4\nat = 1000\nheight = 300\nout = 50", "side: is missing"),
        ("name = \"x\"\nmass = 4\nat = 1000", "height: is missing"),
        ("name = \"x\"\nmass = 4\nheight = 300", "station: is missing"),
        ("mass = 4\nheight = 300\nat = 1", "name: is missing"),
        ("name = \"x\"\nmass = 4\nheight = 300\nat = 1\nweight = 3", "there is no such key"),
    ] {
        t.toml = format!("{toml}\n[[loads]]\n{load}\n");
        let said = read(&t).unwrap_err().to_string();
        assert!(said.contains("loads") && said.contains(wanted) && said.contains("line"), "{load}: {said}");
    }
    // Far outside her, or too much of it: the company says so itself, and the book goes on.
    t.toml = format!(
        "{toml}\n[[loads]]\nname = \"anvil\"\nmass = 2000\nat = 1500\nheight = 300\nwhen = [\"anvil\"]\n\
         [[loads]]\nname = \"kite\"\nmass = 900\nat = 9000\nheight = 300\nwhen = [\"kite\"]\n"
    );
    let plan = boat::plan::plan(&read(&t).unwrap()).unwrap();
    let found = plan.flotation().unwrap();
    assert!(matches!(found.companies[1].fresh, Err(FlotationError::TooHeavy { .. })));
    assert!(matches!(found.companies[2].fresh, Err(FlotationError::Outside { axis: 0, .. })));
    for paper in PAPERS {
        let sheets = sheets(&plan, paper);
        let words = words_of(&sheets, "How she floats");
        assert!(words.contains("take loads out"), "{words}");
    }
    assert!(book::write(&plan, PaperSize::A4).is_ok());
}

/// A keel, stem and sternpost whose sizes are given are weighed and displace water; those that are not are named.
#[test]
fn sizes_that_are_given_are_weighed_and_float() {
    let mut input = input("sandgrouse");
    input.spec.keel = boat::spec::KeelSpec {
        half_siding: None,
        wood_outside: None,
        hog_half_breadth: None,
        hog_thickness: None,
        ..input.spec.keel
    };
    for end in [&mut input.spec.fore, &mut input.spec.aft] {
        if let boat::spec::EndSpec::Post(post) = end {
            (post.wood_outside, post.wood_inside, post.head) = (None, None, None);
        }
    }
    let bare = plan(&input).unwrap();
    let named = |w: &boat::weights::Weights, what: &str| w.left_out.iter().any(|l| l.contains(what));
    for what in ["the keel", "the stem", "the sternpost"] {
        assert!(named(&bare.weights, what), "{what}: {:?}", bare.weights.left_out);
    }
    input.spec.keel.half_siding = Some(25.0);
    input.spec.keel.wood_outside = Some(40.0);
    let plan = plan(&input).unwrap();
    assert!(!named(&plan.weights, "the keel"));
    // Along the rabbet 50 by 40 mm, and between the garboards 9 mm as broad as the rabbet's bottom, oak of 761.6 kg/m³.
    let keel = plan.weights.parts.iter().find(|p| p.name == "keel").unwrap();
    let piece = |w: &[boat::backbone::RabbetAt]| {
        (w[1].inner - w[0].inner).norm() * (50.0 * 40.0 + (w[0].inner.y + w[1].inner.y) * 9.0)
    };
    let by_hand = plan.backbone.keel.windows(2).map(piece).sum::<f64>() * 1e-9 * 761.6;
    assert!((keel.mass - by_hand).abs() < 0.0015 * by_hand, "{} {by_hand}", keel.mass);
    near(plan.weights.total - bare.weights.total, keel.mass, "the rest is as before");
    let hull = |p: &Plan| Hull::of(&p.strakes, &p.sections, &p.table, &p.spec);
    let (with, without) = (hull(&plan), hull(&bare));
    assert_eq!(with.solid.gaps(), 0);
    assert!(with.solid.whole().0 > without.solid.whole().0);
    near(without.solid.bounds()[2][0] - with.solid.bounds()[2][0], 40.0, "deeper by the keel");
}

/// Too light a boat floats too high and may carry too much: the pages say so, and no more when every part has its size.
#[test]
fn what_is_not_weighed_is_told_where_it_flatters_her() {
    let whole = planned("corncrake");
    assert_eq!(whole.weights.left_out, Vec::<String>::new(), "our own boat is weighed whole");
    let mut bare = whole.clone();
    bare.weights.left_out.push("the keel (its size is not given)".to_owned());
    let words = |plan: &Plan, title: &str| -> String { words_of(&sheets(plan, PaperSize::A4), title) };
    for (title, said) in
        [("How she floats", "lies deeper than is shown"), ("What she may carry", "heavier than that")]
    {
        assert!(words(&bare, title).contains(said), "{title}: {}", words(&bare, title));
        assert!(!words(&whole, title).contains(said), "{title}");
    }
}

/// Each company's sum is on the page, however much is aboard, and what is always aboard stands there once.
#[test]
fn every_company_is_summed_on_the_page() {
    let sums = |toml: &str| -> String {
        let mut t = texts("sandgrouse");
        t.toml += toml;
        let plan = plan(&read(&t).unwrap()).unwrap();
        words_of(&sheets(&plan, PaperSize::A4), "What she weighs")
    };
    let crates: String = (0..30)
        .map(|i| {
            format!("\n[[loads]]\nname = \"crate {i}\"\nmass = 1\nat = 2000\nheight = 300\nwhen = [\"Ivo alone\"]\n")
        })
        .collect();
    for (toml, oars, crate_7) in [("", 1, 0), (crates.as_str(), 0, 0)] {
        let words = sums(toml);
        for company in ["light", "Ivo alone", "two rowing, one astern"] {
            assert!(words.contains(&format!("all told, {company} ")), "{company}: {words}");
        }
        assert_eq!((words.matches(" oars ").count(), words.matches(" crate 7 ").count()), (oars, crate_7), "{words}");
    }
}

/// Parts make the whole, and the pieces that bear her when she is swamped weigh what the parts do.
#[test]
fn parts_make_the_whole() {
    for name in BOATS {
        let plan = planned(name);
        let w = &plan.weights;
        near(w.parts.iter().map(|p| p.mass).sum(), w.total, "total");
        let groups = w.planking + w.fastenings + w.timbers + w.interior + w.backbone + w.paint;
        near(groups, w.total, "groups");
        let moment = w.parts.iter().fold(0.0, |sum, p| sum + p.centre.x * p.mass);
        near(moment / w.total, w.centre.x, "centre");
        let pieces: f64 = w.pieces.iter().map(boat::weights::Bit::mass).sum();
        near(pieces, w.timbers + w.interior + w.backbone, "pieces");
        // As solids they hold the same wood.
        let wood = boat::flotation::wood(&[], &w.pieces);
        let volume: f64 = w.pieces.iter().map(|b| b.volume).sum();
        near(wood.whole().0, volume, "volume of the boxes");
        assert_eq!(boat::flotation::wood(&plan.strakes, &[]).gaps(), 0);
    }
}

/// Screws are weighed: number 8 is 0.060 + 0.013 × 8 = 0.164 in thick (from memory), so one of 25 mm holds 340.7 mm³ of bronze, 2.906 g.
#[test]
fn screws_are_weighed() {
    let mut t = texts("sandgrouse");
    t.toml =
        t.toml.replace("[fastenings]\n", "[fastenings]\nends = \"screws\"\nscrew_gauge = 8\nscrew_length = 25\n");
    let plan = plan(&read(&t).unwrap()).unwrap();
    let w = &plan.weights;
    let count: u32 =
        plan.order.iter().filter(|l| l.kind == boat::fastenings::stock::Kind::Screw).map(|l| l.count()).sum();
    assert!(count > 50, "{count}");
    let screws = w.parts.iter().find(|p| p.name.starts_with("screws")).unwrap();
    let by_hand = f64::from(count) * 2.906e-3;
    assert!((screws.mass - by_hand).abs() < 2e-4 * by_hand, "{} {by_hand}", screws.mass);
    assert_eq!(w.left_out, Vec::<String>::new());
    near(w.parts.iter().map(|p| p.mass).sum(), w.total, "total");
}

/// Knees stand where they lie: a breasthook's arms end where they were cut, everything is within the boat, and the middle is off the
/// corner towards where the wood is.
#[test]
fn knees_are_weighed_where_their_wood_is() {
    use boat::interior::KneeKind;
    let mut kinds = [false; 3];
    for name in ["corncrake", "sandgrouse"] {
        for knee in planned(name).interior.knees {
            let tip = knee.in_boat(*knee.arms[0].edge.last().unwrap());
            let middle = knee.middle();
            let off = middle - knee.corner;
            match knee.kind {
                KneeKind::Breasthook { aft } => {
                    kinds[0] = true;
                    assert!((tip.x - knee.reach).abs() < 1e-6, "{}: {} {}", knee.name, tip.x, knee.reach);
                    assert!(middle.y.abs() < 1e-6 && (off.x < 0.0) == aft, "{}: {middle}", knee.name);
                }
                KneeKind::Quarter { aft } => {
                    kinds[1] = true;
                    assert!(off.y < 0.0 && (off.x < 0.0) == aft, "{}: {middle}", knee.name);
                }
                KneeKind::Thwart { .. } => {
                    kinds[2] = true;
                    assert!(off.x == 0.0 && off.y < 0.0 && off.z > 0.0, "{}: {middle}", knee.name);
                }
            }
            let reach = knee.arms.iter().map(|a| a.length).fold(0.0, f64::max);
            assert!(off.norm() > 0.15 * knee.throat && off.norm() < reach, "{}: {off}", knee.name);
        }
    }
    assert_eq!(kinds, [true; 3]);
}
