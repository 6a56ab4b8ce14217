//! `strakewise plan`.

use super::{planned, say};
use crate::arguments::Plan as Asked;
use crate::output;
use crate::progress::Progress;
use crate::said::count;
use crate::trouble::Trouble;
use boat::fastenings::stock::COMPUTED;
use boat::plan::Plan;
use boat::plan::json::{JSON_SCHEMA, to_json};
use std::process::ExitCode;

/// Plans and tells.
pub fn run(asked: &Asked) -> Result<ExitCode, Trouble> {
    if asked.schema {
        output::result(JSON_SCHEMA.as_bytes())?;
        return Ok(ExitCode::SUCCESS);
    }
    let text = {
        let progress = Progress::new();
        let plan = planned(&asked.which, &progress)?;
        if asked.json { to_json(&plan) } else { summary(&plan) }
    };
    output::result(text.as_bytes())?;
    Ok(ExitCode::SUCCESS)
}

fn summary(plan: &Plan) -> String {
    let (spec, lengths) = (&plan.spec, plan.spec.lengths);
    let mut text = spec.name.clone();
    if !spec.kind.is_empty() {
        text.push_str(&format!(", {}", spec.kind));
    }
    text.push_str(&format!(
        "\n{} a side, {} thick, lands {} wide; {}, {}\n\n",
        count(plan.strakes.len(), "strake", "strakes"),
        lengths.said(spec.planking.thickness),
        lengths.said(spec.planking.lap),
        count(plan.moulds.len(), "mould", "moulds"),
        count(plan.timbers.len(), "timber", "timbers"),
    ));
    text.push_str(&strakes(plan));
    if spec.glued() {
        text.push_str(&format!("\nGlued lands, both sides: {:.2} m² of faying face.\n", plan.glue_area * 1e-6));
    } else {
        text.push_str(&rivets(plan));
    }
    text.push_str(&weights(plan));
    if plan.findings.is_empty() {
        text.push_str("\nNothing to look at.\n");
    } else {
        text.push_str(&format!("\n{} to look at:\n", count(plan.findings.len(), "thing", "things")));
        plan.findings.iter().for_each(|f| text.push_str(&say::finding(f, lengths)));
    }
    text
}

/// What her parts weigh, those that are there.
fn weights(plan: &Plan) -> String {
    let (w, lengths) = (&plan.weights, plan.spec.lengths);
    let parts = [
        ("planking", w.planking),
        ("timbers", w.timbers),
        ("thwarts, knees and the like", w.interior),
        ("keel, ends and transoms", w.backbone),
        ("paint", w.paint),
        ("fastenings, without spare ones", w.fastenings),
    ];
    let parts = parts.into_iter().filter(|p| p.1 > 0.0).map(|(name, kg)| format!("{name} {}", lengths.mass(kg, 1)));
    let mut text = format!(
        "\nShe weighs {}: {}. Glue, bedding, fittings, rudder and gear are not in it.\n",
        lengths.mass(w.total, 1),
        parts.collect::<Vec<_>>().join(", "),
    );
    if !w.left_out.is_empty() {
        text.push_str(&format!("Nor are these: {}.\n", w.left_out.join("; ")));
    }
    text
}

fn rivets(plan: &Plan) -> String {
    let (spec, lengths) = (&plan.spec, plan.spec.lengths);
    let mut text = String::new();
    text.push_str(&format!(
        "\n{} a side through the lands. To order for both sides, {:.0} in the hundred over:\n",
        count(plan.rivets.len(), "rivet", "rivets"),
        spec.fastenings.spare * 100.0,
    ));
    let mut rows = Vec::new();
    for line in &plan.order {
        let buy = match (line.pack, line.in_hand) {
            (None, _) => String::new(),
            (Some(_), 0) => format!("{} of {}", count(line.packs as usize, "pack", "packs"), line.pieces(1)),
            (Some(_), n) => {
                let packs = count(line.packs as usize, "pack", "packs");
                format!("{packs} of {} besides {n} in hand", line.pieces(1))
            }
        };
        rows.push(vec![
            format!("  {} of gauge {}, {}", line.kind.word(), line.gauge, lengths.said_fine(line.size)),
            line.wanted.to_string(),
            line.bought_mass.map_or_else(|| "·".to_owned(), |kg| lengths.mass(kg, 2)),
            buy,
        ]);
    }
    text.push_str(&say::columns(&rows));
    text.push_str(&format!("{COMPUTED}\n"));
    let left_out = boat::fastenings::left_out(&plan.rivets, &plan.ends, &plan.keel_fastenings);
    if !left_out.is_empty() {
        text.push_str(&format!("{left_out}\n"));
    }
    let rest: Vec<String> =
        plan.rest.iter().filter(|r| r.with.is_none()).map(|r| format!("{} {}", r.what, r.count)).collect();
    if !rest.is_empty() {
        text.push_str(&format!("Not in this order: {}.\n", rest.join(", ")));
    }
    text
}

fn strakes(plan: &Plan) -> String {
    let lengths = plan.spec.lengths;
    let head = ["strake", "shows at most", "greatest bevel", "board length", "board width"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for (strake, flat) in plan.strakes.iter().zip(&plan.flats) {
        let shows = strake.at.iter().map(|a| a.shows).fold(0.0, f64::max);
        let bevels = plan.bevels.iter().filter(|b| b.land == strake.strake).map(|b| b.bevel);
        let bevel = bevels.max_by(|a, b| a.abs().total_cmp(&b.abs()));
        rows.push(vec![
            strake.strake.to_string(),
            lengths.short(shows),
            bevel.map_or(String::from("·"), |b| format!("{:.1}°", b.to_degrees())),
            lengths.long(lengths.to_have(flat.length)),
            lengths.short(lengths.to_have(flat.board_width)),
        ]);
    }
    say::columns(&rows)
}
