//! The plan as JSON, which spreadsheets, checks and other programs read. The keys are a promise, documented in
//! `docs/plan-json.md`: versioned, only added to.
//!
//! Lengths in mm, angles in degrees, masses in kg; numbers rounded to a thousandth (unit vectors to a millionth), so
//! that the same boat gives the same bytes; what does not apply is null.

mod backbone;
mod fastenings;
mod flotation;
mod interior;
mod lands;
mod scarfs;
mod timbers;

use crate::findings::Measure;
use crate::geom::Point;
use crate::lines::fairness::{Moved, Spot};
use crate::offsets::{RowKind, StationAt};
use crate::plan::Plan;
use crate::planks::BevelPlace;
use crate::scarfs::Made;
use crate::spec::{Allowance, EndSpec};
use crate::swelling;
use serde_json::{Value, json};

/// The form of the JSON; keys may be added to it, and it is raised should one go or change its meaning.
pub const SCHEMA: u32 = 1;

/// What the JSON is made of, as a JSON Schema of draft 2020-12: strict, so that a key that it does not name is refused.
pub const JSON_SCHEMA: &str = include_str!("../../../../../docs/plan.schema.json");

/// The plan as one JSON value, ended by a line break.
#[must_use]
pub fn to_json(plan: &Plan) -> String {
    let mut value = json!({
        "schema": SCHEMA,
        "name": plan.spec.name,
        "units": plan.spec.lengths.word(),
        "stations": stations(plan),
        "offsets": offsets(plan),
        "fairness": fairness(plan),
        "sections": sections(plan),
        "land_lines": plan.lands.iter()
            .map(|l| json!({ "land": l.land, "points_mm": l.points.iter().map(xyz).collect::<Vec<_>>() }))
            .collect::<Vec<_>>(),
        "marks": marks(plan),
        "lands_look": lands::lands(plan),
        "strakes": strakes(plan),
        "backbone": backbone::backbone(plan),
        "setting_up": backbone::setting_up(plan),
        "rivets": fastenings::rivets(plan),
        "bevels": bevels(plan),
        "glue": glue(plan),
        "ends": fastenings::ends(plan),
        "keel_fastenings": fastenings::keel(plan),
        "waiting": fastenings::waiting(plan),
        "timbers": timbers::timbers(plan),
        "timber_cut_list": timbers::cut_list(plan),
        "nails": fastenings::nails(plan),
        "fastening_order": fastenings::order(plan),
        "swelling": swelling(plan),
        "boards": [],
        "weights": flotation::weights(plan),
        "flotation": flotation::flotation(plan),
        "findings": plan.findings.iter()
            .map(|f| json!({
                "stage": f.stage.word(), "place": f.place, "measured": measure(f.measured),
                "limit": measure(f.limit), "hint": f.hint,
            }))
            .collect::<Vec<_>>(),
    });
    // A boat of which nothing of it is asked for reads as it ever did.
    if !plan.interior.is_empty() {
        value["weights"]["interior_kg"] = num(plan.weights.interior);
        value["interior"] = interior::interior(plan);
    }
    let mut text = serde_json::to_string_pretty(&value).unwrap_or_default();
    text.push('\n');
    text
}

/// Null where nothing is known of the wood.
fn swelling(plan: &Plan) -> Value {
    let Some(shrinkage) = plan.spec.moisture.across().filter(|_| !plan.swelling.is_empty()) else {
        return Value::Null;
    };
    let m = plan.spec.moisture;
    let strakes: Vec<Value> = plan
        .swelling
        .iter()
        .map(|s| {
            let between = s.between();
            json!({
                "strake": s.strake, "width_mm": num(s.width), "afloat_mm": num(s.afloat), "ashore_mm": num(s.ashore),
                "between_afloat_mm": maybe(between.map(|b| b[0])), "between_ashore_mm": maybe(between.map(|b| b[1])),
            })
        })
        .collect();
    json!({
        "shop_percent": num(m.shop), "afloat_percent": num(m.afloat), "ashore_percent": num(m.ashore),
        "shrinkage_percent": num(shrinkage), "strakes": strakes,
        "at_lands": swelling::at_lands(&plan.spec).map(|l| json!({
            "edge_afloat_mm": num(l.edge[0]), "edge_ashore_mm": num(l.edge[1]),
            "grip_afloat_mm": num(l.grip[0]), "grip_ashore_mm": num(l.grip[1]),
        })),
    })
}

/// A number to a thousandth; null where it is not finite.
fn num(v: f64) -> Value {
    rounded(v, 1e3)
}

fn rounded(v: f64, per_unit: f64) -> Value {
    let r = (v * per_unit).round() / per_unit;
    // −0 and 0 are the same number and should be the same bytes.
    if r.is_finite() { json!(if r == 0.0 { 0.0 } else { r }) } else { Value::Null }
}

fn degrees(radians: f64) -> Value {
    num(radians.to_degrees())
}

fn maybe(v: Option<f64>) -> Value {
    v.map_or(Value::Null, num)
}

fn xyz(p: &Point) -> Value {
    json!([num(p.x), num(p.y), num(p.z)])
}

fn xy(p: &[f64; 2]) -> Value {
    json!([num(p[0]), num(p[1])])
}

fn measure(m: Measure) -> Value {
    match m {
        Measure::Length(v) | Measure::Count(v) => num(v),
        Measure::Angle(v) => degrees(v),
        Measure::Ratio(v) => rounded(v, 1e6),
    }
}

/// Stations of the table; the transom stands where its foot is.
fn stations(plan: &Plan) -> Vec<Value> {
    let foot = |end: &EndSpec| if let EndSpec::Transom(t) = end { t.foot[0] } else { f64::NAN };
    let x = |at: StationAt| match at {
        StationAt::Square(x) => x,
        StationAt::Transom => foot(&plan.spec.aft),
        StationAt::BowTransom => foot(&plan.spec.fore),
    };
    plan.table.stations.iter().map(|s| json!({ "name": s.name, "x_mm": num(x(s.at)) })).collect()
}

fn offsets(plan: &Plan) -> Vec<Value> {
    let mut out = Vec::new();
    for (row, fair) in plan.table.rows.iter().zip(&plan.fair) {
        let (kind, level) = match row.kind {
            RowKind::HeightSheer | RowKind::HeightRabbet => ("height", None),
            RowKind::HeightButtock(y) => ("height", Some(y)),
            RowKind::HalfBreadthSheer | RowKind::HalfBreadthRabbet => ("half-breadth", None),
            RowKind::HalfBreadthWaterline(z) => ("half-breadth", Some(z)),
            RowKind::Diagonal(_) => ("distance", None),
        };
        for ((station, cell), fair) in plan.table.stations.iter().zip(&row.cells).zip(&fair.cells) {
            out.push(json!({
                "row": row.name,
                "kind": kind,
                "level_mm": maybe(level),
                "station": station.name,
                "given_mm": maybe(cell.as_ref().map(|c| c.mm)),
                "fair_mm": maybe(fair.as_ref().map(|f| f.fair)),
                "change_mm": maybe(fair.as_ref().map(|f| f.change)),
                "suspect": fair.as_ref().is_some_and(|f| f.suspect),
                "reads_like": fair.as_ref().and_then(|f| f.reads_like.clone()),
                "look_first": fair.as_ref().is_some_and(|f| f.look_first),
                "why": fair.as_ref().and_then(|f| f.why.clone()),
                "or": fair.as_ref().map(|f| f.or.clone()).unwrap_or_default(),
            }));
        }
    }
    out
}

/// How fair the lines run. Curvatures are per metre: per mm a thousandth would be too coarse.
fn fairness(plan: &Plan) -> Value {
    let correction = |m: &Moved| {
        json!({
            "entries": m.entries,
            "doubtful": m.doubtful,
            "rms_mm": num(m.rms),
            "largest_mm": maybe(m.largest.as_ref().map(|l| l.change)),
            "row": m.largest.as_ref().map(|l| &l.row),
            "station": m.largest.as_ref().map(|l| &l.station),
        })
    };
    let spots = |spots: &[Spot]| -> Vec<Value> {
        spots.iter().map(|s| json!({ "at_mm": xy(&s.at), "place": s.place.words(plan.spec.lengths) })).collect()
    };
    let views: serde_json::Map<String, Value> =
        plan.fairness.moved.iter().map(|(view, m)| (view.word().to_owned(), correction(m))).collect();
    let lines: Vec<Value> = (plan.fairness.combs.iter())
        .map(|c| {
            json!({
                "line": c.line,
                "view": c.view.word(),
                "inflections_before": spots(&c.before),
                "inflections": spots(&c.after),
                "radius_min_mm": maybe(c.hardest.as_ref().map(|h| h.radius)),
                "radius_min_place": c.hardest.as_ref().map(|h| h.spot.place.words(plan.spec.lengths)),
                "corrections": correction(&c.moved),
                "comb": c.teeth.iter()
                    .map(|t| json!([num(t.at[0]), num(t.at[1]), rounded(t.curvature * 1000.0, 1e6)]))
                    .collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({ "corrections": views, "lines": lines })
}

fn sections(plan: &Plan) -> Vec<Value> {
    plan.sections
        .iter()
        .map(|s| {
            json!({
                "station": s.name,
                "points_mm": s.points.iter().map(|p| json!([num(p.y), num(p.z)])).collect::<Vec<_>>(),
            })
        })
        .collect()
}

fn marks(plan: &Plan) -> Vec<Value> {
    plan.marks
        .iter()
        .map(|m| {
            json!({
                "land": m.land,
                "station": plan.sections[m.section].name,
                "girth_mm": num(m.girth),
                "x_mm": num(m.at.x),
                "y_mm": num(m.at.y),
                "z_mm": num(m.at.z),
                "pinned": m.pinned,
            })
        })
        .collect()
}

fn strakes(plan: &Plan) -> Vec<Value> {
    plan.strakes
        .iter()
        .zip(&plan.flats)
        .map(|(s, f)| {
            let at: Vec<Value> =
                s.at.iter()
                    .map(|a| {
                        json!({
                            "station": plan.sections[a.section].name,
                            "width_mm": num(a.width),
                            "shows_mm": num(a.shows),
                            "lap_mm": maybe(a.lap),
                            "bevel_deg": a.bevel.map_or(Value::Null, degrees),
                            "edge_left_mm": maybe(a.edge_left),
                            "gain_mm": maybe(a.gain),
                        })
                    })
                    .collect();
            let stations: Vec<Value> = f
                .stations
                .iter()
                .map(|t| {
                    json!({
                        "name": plan.sections[t.section].name,
                        "lower_mm": xy(&t.lower),
                        "upper_mm": xy(&t.upper),
                    })
                })
                .collect();
            let left = plan.spec.allowance(s.strake == plan.strakes.len());
            json!({
                "strake": s.strake,
                "thickness_mm": num(s.thickness),
                "at": at,
                "left_long": left_long(left, plan.made.iter().find(|m| m.strake == s.strake)),
                "lower_edge_mm": s.rulings.iter().map(|r| xyz(&r.lower)).collect::<Vec<_>>(),
                "upper_edge_mm": s.rulings.iter().map(|r| xyz(&r.upper)).collect::<Vec<_>>(),
                "flat": {
                    "lower_edge_mm": f.lower.iter().map(xy).collect::<Vec<_>>(),
                    "upper_edge_mm": f.upper.iter().map(xy).collect::<Vec<_>>(),
                    "length_mm": num(f.length),
                    "board_width_mm": num(f.board_width),
                    "stations": stations,
                    "batten_mm": num(f.batten),
                    "round_mm": num(f.round),
                    "run_out": rounded(f.run_out.slope, 1e6),
                },
                "strain_max": rounded(f.strain_max, 1e7),
                "edge_set_mm": num(f.edge_set),
                "twist_max_deg_per_m": num(f.twist_max.to_degrees() * 1000.0),
                "bend_radius_min_mm": num(f.bend_radius_min),
                "bend_strain_max": rounded(0.5 * s.thickness / f.bend_radius_min, 1e7),
                "twist_shear_max": rounded(s.thickness * f.twist_max, 1e7),
                "steam": f.steam.iter()
                    .map(|[from, to]| json!({ "from_ruling": from, "to_ruling": to }))
                    .collect::<Vec<_>>(),
                "scarfs": scarfs::scarfs(plan, s.strake),
                "parts": scarfs::parts(plan, s.strake),
            })
        })
        .collect()
}

/// What a plank is left long by, the least board with it, and the lines it is sawn to.
fn left_long(left: Allowance, made: Option<&Made>) -> Value {
    let mut value = made.map_or_else(|| json!({}), |m| scarfs::left(&m.left));
    for (key, mm) in [("fore_mm", left.fore), ("aft_mm", left.aft), ("upper_mm", left.upper)] {
        value[key] = num(mm);
    }
    value
}

fn bevels(plan: &Plan) -> Vec<Value> {
    plan.bevels
        .iter()
        .map(|b| {
            let (station, timber) = match b.place {
                BevelPlace::Section(j) => (Some(plan.sections[j].name.clone()), None),
                BevelPlace::Timber(i) => (None, Some(i)),
                BevelPlace::Step => (None, None),
            };
            json!({
                "land": b.land, "along_mm": num(b.along), "station": station, "timber": timber,
                "bevel_deg": degrees(b.bevel), "off_mm": num(b.off), "edge_left_mm": num(b.edge_left),
                "gain_mm": num(b.gain),
            })
        })
        .collect()
}

/// What the glue of a glued boat takes; null where she is riveted.
fn glue(plan: &Plan) -> Value {
    if !plan.spec.glued() {
        return Value::Null;
    }
    let area = plan.glue_area * 1e-6;
    json!({ "land_area_m2": num(area), "rate_g_per_m2": maybe(plan.spec.planking.glue_rate),
            "mass_kg": maybe(plan.spec.planking.glue_rate.map(|rate| area * rate * 1e-3)) })
}
