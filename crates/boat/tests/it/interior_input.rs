//! `[interior]` with one thing wrong: each is refused, and the message names the place, the value, the limit, what to do. And
//! whole boats with what goes inside them.

use crate::measure::off_run;
use crate::plans::{input, planned, texts};
use boat::folder::{BoatTexts, read};
use boat::geom::Point;
use boat::interior::{LiesOn, StripKind, StripPlace, pieces};
use boat::plan::{json::to_json, plan};
use boat::spec::Against;

fn good() -> BoatTexts {
    texts("corncrake")
}

/// A name, what is replaced by what in Corncrake's boat.toml, and what the message must say.
type Case = (&'static str, &'static str, &'static str, &'static [&'static str]);

const READ: &[Case] = &[
    ("misspelt section", "[interior.inwale]", "[interior.inwhale]", &["interior.inwhale", "did you mean inwale"]),
    ("misspelt key", "measured_to", "measured", &["interior.thwarts, item 3.measured", "measured_to"]),
    (
        "no wood of that name",
        "wood = \"oak, white\"\n\n[[interior.risings",
        "wood = \"oak, whit\"\n\n[[interior.risings",
        &["interior.wood", "oak, whit", "density"],
    ),
    (
        "width of nothing",
        "width = \"7 in\"",
        "width = 0",
        &["interior.thwarts, item 1.width", "“0”", "1 3/16 in", "4-11-0+"],
    ),
    ("no width", "width = \"7 in\"\n", "", &["interior.thwarts, item 1.width", "missing", "width = \"8 in\""]),
    (
        "thickness as a letter",
        "thickness = \"1/2 in\"\ndepth = \"1 in\"",
        "thickness = \"x\"\ndepth = \"1 in\"",
        &["interior.inwale.thickness"],
    ),
    (
        "unknown station",
        "station = \"3\"",
        "station = \"33\"",
        &["interior.thwarts, item 1.station", "“33”", "\"3\"", "\"8\""],
    ),
    (
        "the transom is no station",
        "station = \"3\"",
        "station = \"transom\"",
        &["item 1.station", "“transom”", "one of \"1\""],
    ),
    (
        "unknown station of a rising",
        "{ station = \"5\", h",
        "{ station = \"15\", h",
        &["interior.risings, item 1.line, item 2.station", "“15”"],
    ),
    ("no place", "station = \"3\"\naft = \"4 in\"\n", "", &["interior.thwarts, item 1.station", "missing", "at = "]),
    (
        "two places",
        "station = \"3\"\n",
        "station = \"3\"\nat = \"3-0-0\"\n",
        &["interior.thwarts, item 1.at", "take one out"],
    ),
    (
        "two heights",
        "name = \"middle thwart\"",
        "height = \"1-0-0\"\nbelow_sheer = \"8 in\"",
        &["interior.thwarts, item 2.height", "take one out"],
    ),
    (
        "a point without a height",
        ", below_sheer = \"9 in\" }",
        " }",
        &["line, item 3.height", "missing", "below_sheer"],
    ),
    (
        "a rising of one point",
        "    { station = \"5\", height = \"1-0-0\" },\n    { station = \"8\", below_sheer = \"9 in\" },\n",
        "",
        &["interior.risings, item 1.line", "the list has 1", "2 to 40"],
    ),
    (
        "a kind of knee",
        "kind = \"quarter\"",
        "kind = \"bosom\"",
        &["interior.knees, item 1.kind", "bosom", "\"thwart\""],
    ),
    (
        "an arm of another knee",
        "transom_arm = ",
        "thwart_arm = ",
        &["interior.knees, item 1.thwart_arm", "transom_arm"],
    ),
    (
        "an inwale to cut a thwart to",
        "against = \"planking\"            #",
        "against = \"inwale\" #",
        &["interior.thwarts, item 3.against", "\"timbers\""],
    ),
    (
        "an end",
        "arm = \"9 in\"",
        "end = \"bow\"\narm = \"9 in\"",
        &["interior.breasthooks, item 1.end", "\"sternpost\""],
    ),
    (
        "one breasthook as a table",
        "[[interior.breasthooks]]",
        "[interior.breasthooks]",
        &["interior.breasthooks", "[[interior.breasthooks]]"],
    ),
];

const PLANNED: &[Case] = &[
    (
        "a thwart off the boat",
        "station = \"3\"\naft = \"4 in\"",
        "at = \"14-0-0\"",
        &["interior.thwarts, item 1", "13-8-4", "off her planking"],
    ),
    (
        "a thwart over the sheer",
        "name = \"middle thwart\"",
        "height = \"2-2-0\"",
        &["its top", "2-2-0", "below_sheer"],
    ),
    (
        "a thwart under the planking",
        "name = \"middle thwart\"",
        "height = \"0-4-2\"",
        &["its underside", "3 1/2 in", "from what it lies against"],
    ),
    (
        "a thwart past the rising",
        "station = \"3\"\naft = \"4 in\"",
        "station = \"1\"",
        &["no rising", "interior.risings"],
    ),
    (
        "a breasthook longer than her side",
        "arm = \"9 in\"",
        "arm = \"6-6-0\"",
        &["interior.breasthooks, item 1", "arm is 6-6-0 long", "make it shorter"],
    ),
    (
        "a knee taller than its room",
        "side_arm = \"6 in\"",
        "side_arm = \"2-0-0\"",
        &["interior.knees, item 2", "side_arm is 2-0-0 long", "the sheer over its thwart"],
    ),
    (
        "a breasthook where there is no post",
        "arm = \"9 in\"",
        "end = \"sternpost\"\narm = \"9 in\"",
        &["sternpost", "transom"],
    ),
    ("no such thwart", "thwart = 2", "thwart = 9", &["interior.knees, item 2", "thwart 9", "there are 3"]),
    ("no throat", "throat = \"3 in\"", "throat = \"1/2 in\"", &["interior.knees, item 1", "1/2 in", "is the least"]),
    (
        "an inwale the wrong way round",
        "thickness = \"1/2 in\"\ndepth = \"1 in\"",
        "thickness = \"1/2 in\"\ndepth = \"1 in\"\nfrom = { station = \"6\" }\nto = { station = \"2\" }",
        &["interior.inwale", "from forward"],
    ),
    (
        "no such land",
        "depth = \"7/8 in\"",
        "depth = \"7/8 in\"\nland = 11",
        &["interior.rubbing_strakes, item 1", "land 11", "1 to 10"],
    ),
];

#[test]
fn one_thing_wrong_inside_her_is_named_with_its_place_value_limit_and_remedy() {
    let mut wrong = Vec::new();
    for (cases, planning) in [(READ, false), (PLANNED, true)] {
        for (name, from, to, words) in cases {
            let mut texts = good();
            assert!(texts.toml.contains(from), "{name}: the good boat has no {from:?}");
            texts.toml = texts.toml.replacen(from, to, 1);
            let said = match read(&texts) {
                Err(why) if !planning => why.to_string(),
                Err(why) => format!("not read: {why}"),
                Ok(input) if planning => {
                    // She is planned without what cannot stand, and told of it.
                    let found = plan(&input).unwrap().findings;
                    let left_out = found.iter().find(|f| f.hint.starts_with("left out"));
                    left_out.map_or_else(|| "planned".to_owned(), |f| format!("{}: {}", f.place, f.hint))
                }
                Ok(_) => "read".to_owned(),
            };
            let unsaid: Vec<_> = words.iter().chain(&["boat.toml"]).filter(|w| !said.contains(**w)).collect();
            if !unsaid.is_empty() {
                wrong.push(format!("{name}: {said}\n    does not say {unsaid:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

/// Without `[interior]` everything else of the plan is the same, and the JSON says nothing of it.
#[test]
fn a_boat_that_asks_for_nothing_is_as_before() {
    let with = planned("corncrake");
    let mut bare = input("corncrake");
    bare.spec.interior = Default::default();
    let mut bare = plan(&bare).unwrap();
    assert!(bare.interior.is_empty() && !to_json(&bare).contains("interior"));
    assert!(with.weights.interior > 0.0 && bare.weights.interior == 0.0);
    assert!((with.weights.total - with.weights.interior - bare.weights.total).abs() < 1e-9);
    bare.spec.interior = with.spec.interior.clone();
    bare.interior = with.interior.clone();
    bare.weights = with.weights.clone();
    assert_eq!(bare, with);
}

/// Where a line along her crosses the plane at x: its half-breadth and height; none where it does not.
fn at_x(line: &[Point], x: f64) -> Option<[f64; 2]> {
    let w = line.windows(2).find(|w| w[0].x <= x && x < w[1].x)?;
    let p = w[0] + (w[1] - w[0]) * ((x - w[0].x) / (w[1].x - w[0].x));
    Some([p.y, p.z])
}

/// In whole boats, from outside: a thwart's ends lie on the timbers or, notched round them, on the planks; strips are as long as the
/// sum of their pieces; every place of a strip stands where the plan has the timber and the station.
#[test]
fn what_goes_inside_whole_boats_lies_where_it_should() {
    for name in ["corncrake", "sandgrouse"] {
        let p = planned(name);
        let moulded = p.spec.timbers.moulded;
        assert!(!p.interior.thwarts.is_empty() && p.interior.strips.len() >= 3 && p.interior.knees.len() >= 3);
        for s in &p.interior.strips {
            let sum: f64 = s.points.windows(2).map(|w| (w[1] - w[0]).norm()).sum();
            // Chords of arcs: of a radius of 300 and 6 long they would be 6² / (24 · 300²) short.
            assert!((sum / s.length - 1.0).abs() < 2.2e-5, "{name} {}: {sum} of {}", s.name, s.length);
            let flat: f64 = s.flat.windows(2).map(|w| (w[1][0] - w[0][0]).hypot(w[1][1] - w[0][1])).sum();
            assert!((flat / s.length - 1.0).abs() < 1e-5);
            for a in &s.at {
                if let StripPlace::Timber(t) = a.place {
                    let t = &p.timbers[t];
                    assert!((a.at.x - t.x).abs() < 1e-6 || t.cant != 0.0);
                    if s.kind == StripKind::Rising {
                        // Within the timber's line by its moulding, square to it, and no nearer: its points are on the lands,
                        // whose chords lie within the line by up to 3 mm.
                        let off = t.points.windows(2).map(|w| {
                            let (u, v) = (w[1].y - w[0].y, w[1].z - w[0].z);
                            let share =
                                (((a.at.y - w[0].y) * u + (a.at.z - w[0].z) * v) / (u * u + v * v)).clamp(0.0, 1.0);
                            (a.at.y - w[0].y - share * u).hypot(a.at.z - w[0].z - share * v)
                        });
                        let off = off.fold(f64::MAX, f64::min);
                        // In the timber's own plane a moulding square to the planking is longer, by its turn.
                        assert!(
                            off > moulded - 3.5 && off < moulded / a.turn.cos() + 0.5,
                            "{name}: {off} of {moulded}"
                        );
                    }
                }
            }
            let inside = matches!(s.lies_on, LiesOn::Timbers);
            assert_eq!(inside, s.kind != StripKind::RubbingStrake);
            assert!(s.at.len() > 8 && s.at[0].along == 0.0 && (s.at[s.at.len() - 1].along - s.length).abs() < 1e-6);
        }
        for t in &p.interior.thwarts {
            assert!(t.end.iter().all(|e| e.top > 150.0 && e.under < e.top), "{name} {}", t.name);
            let (mut least, mut most) = (f64::MAX, 0.0_f64);
            for e in &t.end {
                // The chords of the section from land to land.
                let lands: Vec<[f64; 2]> = p.lands.iter().filter_map(|l| at_x(&l.points, e.x)).collect();
                for corner in [[e.top, t.top], [e.under, t.top - t.thickness]] {
                    let off = off_run(corner, &lands) - t.clear;
                    (least, most) = (least.min(off), most.max(off));
                }
            }
            // Square to the planking a moulding within the line of the lands, whose chords lie within it by up to 3 mm; where timbers
            // are canted or she widens it is longer. A plank's face lies outside its chord by its thickness at most.
            let [low, high] = match t.against {
                Against::Planking => [-3.0, p.spec.planking.thickness],
                _ => [moulded - 3.0, 1.2 * moulded],
            };
            assert!(least > low && most < high, "{name} {}: {least} to {most}", t.name);
            assert!(t.rests.len() == 1 && t.rests[0].gaps.iter().all(|g| g.abs() < 3.0), "{:?}", t.rests);
        }
        for piece in pieces(&p.interior) {
            assert!(piece.volume > 0.0 && piece.volume < piece.size.iter().product::<f64>(), "{}", piece.name);
        }
    }
}
