//! Scarfs and parts of planks as JSON.

use super::{maybe, num, rounded, xy};
use crate::development::LeftLong;
use crate::plan::Plan;
use crate::scarfs::{GaveWay, Made, Part, Scarf};
use serde_json::{Value, json};

fn of(plan: &Plan, strake: usize) -> Option<&Made> {
    plan.made.iter().find(|m| m.strake == strake)
}

/// The scarfs of a strake, on its flat plank.
pub fn scarfs(plan: &Plan, strake: usize) -> Vec<Value> {
    let spec = &plan.spec;
    let one = |s: &Scarf| {
        let gave_way: Vec<Value> = s
            .gave_way
            .iter()
            .map(|g| match g {
                GaveWay::Neighbour { strake, apart, least } => {
                    json!({ "wish": "neighbour", "strake": strake, "apart_mm": num(*apart), "least_mm": num(*least) })
                }
                GaveWay::Mould { section, clear, least } => json!({
                    "wish": "mould", "station": plan.sections[*section].name, "clear_mm": num(*clear),
                    "least_mm": num(*least),
                }),
                GaveWay::Bend { share } => json!({ "wish": "bend", "share": rounded(*share, 1e4) }),
                GaveWay::Timber { off } => json!({ "wish": "timber", "off_mm": num(*off) }),
            })
            .collect();
        json!({
            "n": s.n,
            "x_mm": num(s.x),
            "timber": s.timber,
            "length_mm": num(spec.scarfs.ratio * spec.planking.thickness),
            "middle_mm": xy(&s.middle),
            "fore_mm": [xy(&s.fore.lower), xy(&s.fore.upper)],
            "aft_mm": [xy(&s.aft.lower), xy(&s.aft.upper)],
            "gave_way": gave_way,
        })
    };
    of(plan, strake).map_or_else(Vec::new, |m| m.scarfs.iter().map(one).collect())
}

/// The parts of a strake, each on its own board.
pub fn parts(plan: &Plan, strake: usize) -> Vec<Value> {
    let feather =
        |lines: &Option<[[[f64; 2]; 2]; 2]>| lines.map_or(Value::Null, |l| json!(l.map(|line| line.map(|p| xy(&p)))));
    let one = |p: &Part| {
        json!({
            "part": p.part,
            "length_mm": num(p.board.length),
            "board_width_mm": num(p.board.width),
            "outline_mm": p.outline.iter().map(xy).collect::<Vec<_>>(),
            "fore_feather_mm": feather(&p.fore),
            "aft_feather_mm": feather(&p.aft),
            "batten_mm": num(p.batten),
            "run_out": rounded(p.run_out.slope, 1e6),
            "left_long": left(&p.left),
            "turned_deg": maybe(Some(p.board.along[1].atan2(p.board.along[0]).to_degrees())),
        })
    };
    of(plan, strake).map_or_else(Vec::new, |m| m.parts.iter().map(one).collect())
}

/// The least board with what is left long, where its lower left corner stands, and the lines that are sawn to.
pub fn left(left: &LeftLong) -> Value {
    let line = |run: &[[f64; 2]]| run.iter().map(xy).collect::<Vec<_>>();
    json!({
        "board_length_mm": num(left.board[0]),
        "board_width_mm": num(left.board[1]),
        "corner_mm": xy(&left.corner),
        "fore_line_mm": line(&left.fore),
        "upper_line_mm": line(&left.upper),
        "aft_line_mm": line(&left.aft),
    })
}
