//! What `plan --json` promises (docs/plan-json.md).

use crate::plans::{BOATS, planned};
use boat::plan::json::to_json;
use serde_json::Value;

/// The promise of `docs/plan-json.md`: the keys are there, numbers are finite, arrays match.
#[test]
fn json_keeps_its_promise() {
    for name in BOATS {
        let p = planned(name);
        let json: Value = serde_json::from_str(&to_json(&p)).unwrap();
        let keys = |v: &Value| v.as_object().unwrap().keys().cloned().collect::<Vec<_>>();
        let mut found = keys(&json);
        // What goes inside her stands there only where it is asked for.
        let inside = !p.interior.is_empty();
        assert_eq!(found.last().map(String::as_str) == Some("interior"), inside);
        found.truncate(found.len() - usize::from(inside));
        assert_eq!(
            found,
            [
                "schema",
                "name",
                "units",
                "stations",
                "offsets",
                "fairness",
                "sections",
                "land_lines",
                "marks",
                "lands_look",
                "strakes",
                "backbone",
                "setting_up",
                "rivets",
                "bevels",
                "glue",
                "ends",
                "keel_fastenings",
                "waiting",
                "timbers",
                "timber_cut_list",
                "nails",
                "fastening_order",
                "swelling",
                "boards",
                "weights",
                "flotation",
                "findings"
            ]
        );
        let look = &json["lands_look"];
        assert_eq!(keys(look), ["lands", "humps", "steps", "worst"]);
        assert_eq!(look["lands"].as_array().unwrap().len(), p.strakes.len());
        assert!(look["lands"].as_array().unwrap().iter().all(|l| l["views"].as_array().unwrap().len() == 7));
        assert_eq!(look["steps"].as_array().unwrap().len(), p.sections.len());
        let first = |key: &str| keys(&json[key][0]);
        assert_eq!(first("stations"), ["name", "x_mm"]);
        assert_eq!(
            first("offsets"),
            [
                "row",
                "kind",
                "level_mm",
                "station",
                "given_mm",
                "fair_mm",
                "change_mm",
                "suspect",
                "reads_like",
                "look_first",
                "why",
                "or"
            ]
        );
        assert_eq!(first("sections"), ["station", "points_mm"]);
        assert_eq!(first("land_lines"), ["land", "points_mm"]);
        assert_eq!(first("marks"), ["land", "station", "girth_mm", "x_mm", "y_mm", "z_mm", "pinned"]);
        assert_eq!(
            first("strakes"),
            [
                "strake",
                "thickness_mm",
                "at",
                "left_long",
                "lower_edge_mm",
                "upper_edge_mm",
                "flat",
                "strain_max",
                "edge_set_mm",
                "twist_max_deg_per_m",
                "bend_radius_min_mm",
                "bend_strain_max",
                "twist_shear_max",
                "steam",
                "scarfs",
                "parts"
            ]
        );
        assert_eq!(
            keys(&json["strakes"][0]["at"][0]),
            ["station", "width_mm", "shows_mm", "lap_mm", "bevel_deg", "edge_left_mm", "gain_mm"]
        );
        assert_eq!(
            keys(&json["strakes"][0]["flat"]),
            [
                "lower_edge_mm",
                "upper_edge_mm",
                "length_mm",
                "board_width_mm",
                "stations",
                "batten_mm",
                "round_mm",
                "run_out"
            ]
        );
        assert_eq!(
            first("rivets"),
            [
                "land",
                "n",
                "x_mm",
                "y_mm",
                "z_mm",
                "axis",
                "lean_deg",
                "grip_mm",
                "nail_mm",
                "gauge",
                "head_edge_mm",
                "head_edge_square_mm",
                "timber",
                "blocked_by",
                "along_mm",
                "station",
                "from_station_mm",
                "rove_mm",
                "rove_edge_mm",
                "in_gain",
                "head_leans"
            ]
        );
        assert_eq!(first("ends"), ["strake", "end", "fastenings", "spacing_mm", "with", "from_end_mm", "places"]);
        assert_eq!(keys(&json["ends"][0]["places"][0]), ["up_mm", "wood_mm", "length_mm", "from_middle_mm"]);
        assert_eq!(
            first("keel_fastenings"),
            ["n", "x_mm", "y_mm", "z_mm", "along_mm", "station", "from_station_mm", "with", "length_mm"]
        );
        assert_eq!(first("waiting"), ["mould", "count", "lands"]);
        assert_eq!(keys(&json["waiting"][0]["lands"][0]), ["land", "rivets"]);
        assert_eq!(keys(&json["fastening_order"]), ["spare", "computed", "lines"]);
        assert_eq!(
            keys(&json["fastening_order"]["lines"][0]),
            [
                "kind",
                "gauge",
                "length_mm",
                "diameter_mm",
                "takes",
                "rivets",
                "ends",
                "keel",
                "with_spare",
                "each_g",
                "per_kg",
                "pack_pieces",
                "pack_kg",
                "packs_in_hand",
                "packs",
                "bought",
                "bought_kg"
            ]
        );
        assert_eq!(
            first("timbers"),
            [
                "n",
                "x_mm",
                "length_mm",
                "bend_radius_min_mm",
                "girth_mm",
                "pieces",
                "cant_deg",
                "head_land",
                "stopped",
                "rise_deg",
                "twist_deg",
                "turn",
                "mould",
                "thinned_to_mm",
                "layers",
                "moulds",
                "thinned",
                "points_mm"
            ]
        );
        assert_eq!(first("nails"), ["gauge", "length_mm", "count", "mass_kg"]);
        let weights = [
            "planking_kg",
            "fastenings_kg",
            "timbers_kg",
            "total_kg",
            "centre_mm",
            "backbone_kg",
            "paint_kg",
            "parts",
            "left_out",
            "planks_take_up_kg",
            "interior_kg",
        ];
        assert_eq!(keys(&json["weights"]), weights[..10 + usize::from(inside)]);
        let flotation = &json["flotation"];
        assert_eq!(keys(flotation), ["companies", "swamped", "load_33_cfr_183"]);
        let companies = flotation["companies"].as_array().unwrap();
        assert_eq!(companies[0]["name"], "light");
        for company in companies {
            let (mass, displaced) = (&company["mass_kg"], &company["sea"]["displaced_m3"]);
            let off = mass.as_f64().unwrap() - 1025.0 * displaced.as_f64().unwrap();
            assert!(off.abs() < 0.002, "{name}: {mass} {displaced}");
            assert_eq!(
                company["fresh"]["freeboards"].as_array().unwrap().len(),
                p.table.stations.iter().filter(|s| matches!(s.at, boat::offsets::StationAt::Square(_))).count()
            );
            assert_eq!(company["righting"]["arms"].as_array().unwrap().len(), 46);
        }
        if inside {
            interior_keys(&json["interior"]);
        }
        let n = p.strakes.len();
        assert_eq!(json["land_lines"].as_array().unwrap().len(), n + 1);
        assert_eq!(json["marks"].as_array().unwrap().len(), (n + 1) * p.sections.len());
        let nails: u64 = json["nails"].as_array().unwrap().iter().map(|n| n["count"].as_u64().unwrap()).sum();
        let own: usize = p.ends.iter().map(|e| e.own().len()).sum();
        assert_eq!(nails as usize, 2 * (p.rivets.len() + own + p.keel_fastenings.len()));
        assert!(json["strakes"][n - 1]["at"][0]["bevel_deg"].is_null(), "no land on the sheer strake");
    }
}

fn interior_keys(json: &Value) {
    let keys = |v: &Value| v.as_object().unwrap().keys().cloned().collect::<Vec<_>>();
    assert_eq!(keys(json), ["strips", "thwarts", "knees", "pieces"]);
    let first = |key: &str| keys(&json[key][0]);
    assert_eq!(
        first("strips").join(" "),
        "kind name lies_on strake thickness_mm depth_mm wood length_mm cut_length_mm board_width_mm sny_mm \
         bend_radius_min_mm edge_radius_min_mm twist_max_deg_per_m fore_end aft_end at points_mm flat_mm"
    );
    assert_eq!(
        keys(&json["strips"][0]["at"][0]).join(" "),
        "end station timber at_mm along_mm lean_deg turn_deg off_top_mm flat_mm"
    );
    assert_eq!(keys(&json["strips"][0]["fore_end"]).join(" "), "on across_deg down_deg between_deg");
    assert_eq!(
        first("thwarts").join(" "),
        "n name fore_edge_mm aft_edge_mm top_mm thickness_mm against clear_mm wood end round_mm land_steps rests notches \
         board_mm"
    );
    assert_eq!(keys(&json["thwarts"][0]["end"][0]).join(" "), "x_mm half_top_mm half_under_mm bevel_deg plan_deg");
    assert_eq!(
        first("knees").join(" "),
        "kind at_stern thwart name pieces against thickness_mm wood corner_mm pitch_deg angle_deg arms tip_mm throat_mm \
         nose_mm under_sheer_mm outline_mm board_mm area_m2"
    );
    assert_eq!(
        keys(&json["knees"][0]["arms"][0]).join(" "),
        "on length_mm bevel_corner_deg bevel_tip_deg round_mm edge_mm"
    );
    assert_eq!(first("pieces").join(" "), "name count length_mm width_mm thickness_mm wood mass_kg");
}
