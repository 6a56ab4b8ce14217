//! Every table of the plan, row by row, for a spreadsheet.
//!
//! Rows stand in the order of the work: keel to sheer, bow to stern. One side where both are alike; what is ordered or weighed is
//! of both.

use super::csv::{Cell, Table, Unit};
use crate::fastenings::place::{along_lower, from_station, from_station_below};
use crate::interior;
use crate::offsets::{RowKind, Station, StationAt};
use crate::plan::Plan;
use crate::planks::BevelPlace;
use crate::timbers;

use Unit::{Angle, Length, Mass, Plain};

/// The tables that have something in them.
#[must_use]
pub fn tables(plan: &Plan) -> Vec<Table> {
    let all = [
        offsets(plan),
        moulds(plan),
        marks(plan),
        strake_widths(plan),
        bevels(plan),
        planks(plan),
        plank_stations(plan),
        plank_parts(plan),
        rivets(plan),
        ends(plan),
        keel(plan),
        timbers_table(plan),
        timber_cut(plan),
        pieces(plan),
        order(plan),
        swelling(plan),
        weights(plan),
    ];
    all.into_iter().filter(|t| !t.rows.is_empty()).collect()
}

/// A row of cells of whatever they are.
macro_rules! row {
    ($($cell:expr),* $(,)?) => { vec![$(Cell::from($cell)),*] };
}

fn place(plan: &Plan, section: usize) -> Cell {
    plan.sections.get(section).map_or(Cell::Empty, |s| s.place().into())
}

/// With the word before it: a station may be called `1/2`, which a spreadsheet would take for a day.
fn named_station(station: &Station) -> String {
    match station.at {
        StationAt::Square(_) => format!("station {}", station.name),
        StationAt::Transom | StationAt::BowTransom => station.name.clone(),
    }
}

fn named_mould(name: &str) -> String {
    format!("mould {name}")
}

/// The table as faired; its doubtful entries are said.
fn offsets(plan: &Plan) -> Table {
    let columns = vec![
        ("row", Plain),
        ("measures", Plain),
        ("level", Length),
        ("station", Plain),
        ("given", Length),
        ("fair", Length),
        ("change", Length),
        ("doubtful", Plain),
        ("reads like", Plain),
    ];
    let mut rows = Vec::new();
    for (row, fair) in plan.table.rows.iter().zip(&plan.fair) {
        let (measures, level) = match row.kind {
            RowKind::HeightSheer | RowKind::HeightRabbet => ("height", None),
            RowKind::HeightButtock(y) => ("height", Some(y)),
            RowKind::HalfBreadthSheer | RowKind::HalfBreadthRabbet => ("half-breadth", None),
            RowKind::HalfBreadthWaterline(z) => ("half-breadth", Some(z)),
            RowKind::Diagonal(_) => ("along the diagonal", None),
        };
        for ((station, given), fair) in plan.table.stations.iter().zip(&row.cells).zip(&fair.cells) {
            if given.is_none() && fair.is_none() {
                continue;
            }
            let fair = fair.as_ref();
            rows.push(row![
                row.name.as_str(),
                measures,
                level,
                named_station(station),
                given.as_ref().map(|c| c.mm),
                fair.map(|f| f.fair),
                fair.map(|f| f.change),
                fair.is_some_and(|f| f.suspect),
                fair.and_then(|f| f.reads_like.clone()),
            ]);
        }
    }
    Table { name: "table-offsets", columns, rows }
}

fn moulds(plan: &Plan) -> Table {
    let columns = vec![
        ("mould", Plain),
        ("aft of the first station", Length),
        ("from the mould before", Length),
        ("station line on its", Plain),
        ("rabbet over floor", Length),
        ("level line over floor", Length),
        ("sheer over floor", Length),
        ("half-breadth at the level line", Length),
        ("across at the sheer", Length),
        ("bow to the sheer", Length),
        ("diagonal to the next", Length),
        ("notch half-breadth", Length),
        ("notch top over base", Length),
    ];
    let rows = (plan.setting_up.moulds.iter())
        .map(|m| {
            let face =
                plan.moulds.iter().find(|p| p.section == m.section).map(|p| format!("{} face", p.station_face()));
            row![
                named_mould(&m.name),
                m.x,
                m.from_before,
                face,
                m.heights.rabbet,
                m.heights.level,
                m.heights.sheer,
                m.level,
                m.across_sheer,
                m.from_bow,
                m.diagonal,
                m.notch.half_breadth,
                m.notch.top,
            ]
        })
        .collect();
    Table { name: "table-moulds", columns, rows }
}

fn marks(plan: &Plan) -> Table {
    let columns = vec![
        ("land", Plain),
        ("at", Plain),
        ("girth from the rabbet", Length),
        ("aft of the first station", Length),
        ("half-breadth", Length),
        ("over base", Length),
        ("pinned", Plain),
    ];
    let rows = (plan.marks.iter())
        .map(|m| row![m.land, place(plan, m.section), m.girth, m.at.x, m.at.y, m.at.z, m.pinned])
        .collect();
    Table { name: "table-marks", columns, rows }
}

fn strake_widths(plan: &Plan) -> Table {
    let columns = vec![
        ("strake", Plain),
        ("at", Plain),
        ("width", Length),
        ("shows", Length),
        ("land", Length),
        ("bevel", Angle),
        ("wood left at the edge", Length),
        ("gain", Length),
    ];
    let at = |s: &crate::planks::Strake| -> Vec<Vec<Cell>> {
        (s.at.iter())
            .map(|a| row![s.strake, place(plan, a.section), a.width, a.shows, a.lap, a.bevel, a.edge_left, a.gain])
            .collect()
    };
    Table { name: "table-widths", columns, rows: plan.strakes.iter().flat_map(at).collect() }
}

fn bevels(plan: &Plan) -> Table {
    let columns = vec![
        ("land", Plain),
        ("along the land", Length),
        ("at", Plain),
        ("bevel", Angle),
        ("planed off over the land", Length),
        ("wood left at the edge", Length),
        ("gain", Length),
    ];
    let rows = (plan.bevels.iter())
        .map(|b| {
            let at = match b.place {
                BevelPlace::Section(j) => place(plan, j),
                BevelPlace::Timber(i) => plan.timbers.get(i).map(|t| format!("timber {}", t.n)).into(),
                BevelPlace::Step => Cell::Empty,
            };
            row![b.land, b.along, at, b.bevel, b.off, b.edge_left, b.gain]
        })
        .collect();
    Table { name: "table-bevels", columns, rows }
}

fn planks(plan: &Plan) -> Table {
    let columns = vec![
        ("strake", Plain),
        ("wood", Plain),
        ("thickness", Length),
        ("length", Length),
        ("board width", Length),
        ("batten over the board's edge", Length),
        ("round", Length),
        ("edge-set", Length),
        ("least bend radius", Length),
        ("area square metres", Plain),
        ("pieces", Plain),
    ];
    let rows = (plan.strakes.iter().zip(&plan.flats))
        .map(|(s, f)| {
            let parts = plan.made.iter().find(|m| m.strake == s.strake).map_or(1, |m| m.parts.len());
            row![
                s.strake,
                plan.spec.planking.wood.name.as_str(),
                s.thickness,
                f.length,
                f.board_width,
                f.batten,
                f.round,
                f.edge_set,
                f.bend_radius_min,
                f.area * 1e-6,
                parts,
            ]
        })
        .collect();
    Table { name: "table-planks", columns, rows }
}

/// Both edges of every plank laid flat where the sections cross: along its least board and up from its lower edge.
fn plank_stations(plan: &Plan) -> Table {
    let columns = vec![
        ("strake", Plain),
        ("at", Plain),
        ("lower edge along", Length),
        ("lower edge up", Length),
        ("lower edge from the batten", Length),
        ("upper edge along", Length),
        ("upper edge up", Length),
        ("upper edge from the batten", Length),
    ];
    let mut rows = Vec::new();
    for flat in &plan.flats {
        for s in &flat.stations {
            rows.push(row![
                flat.strake,
                place(plan, s.section),
                s.lower[0],
                s.lower[1],
                s.lower[1] - flat.batten,
                s.upper[0],
                s.upper[1],
                s.upper[1] - flat.batten,
            ]);
        }
    }
    Table { name: "table-plank-stations", columns, rows }
}

fn plank_parts(plan: &Plan) -> Table {
    let columns =
        vec![("strake", Plain), ("part", Plain), ("of", Plain), ("board length", Length), ("board width", Length)];
    let mut rows = Vec::new();
    for made in plan.made.iter().filter(|m| m.parts.len() > 1) {
        for part in &made.parts {
            let [length, width] = part.left.board;
            rows.push(row![made.strake, part.part, made.parts.len(), length, width]);
        }
    }
    Table { name: "table-plank-parts", columns, rows }
}

fn rivets(plan: &Plan) -> Table {
    let columns = vec![
        ("land", Plain),
        ("rivet", Plain),
        ("along the land", Length),
        ("from", Plain),
        ("abaft it", Length),
        ("aft of the first station", Length),
        ("half-breadth", Length),
        ("over base", Length),
        ("lean", Angle),
        ("head leans", Plain),
        ("head to the edge", Length),
        ("head to the edge if drilled square", Length),
        ("rove to the edge", Length),
        ("grip", Length),
        ("nail", Length),
        ("gauge", Plain),
        ("rove across", Length),
        ("timber", Plain),
        ("waits for mould", Plain),
        ("in a gain", Plain),
    ];
    let fastenings = &plan.spec.fastenings;
    let rows = (plan.rivets.iter())
        .map(|r| {
            let strake = plan.strakes.iter().find(|s| s.strake == r.land);
            let from = strake.and_then(|s| from_station(s, &plan.sections, r.along));
            row![
                r.land,
                r.n,
                r.along,
                from.map(|f| place(plan, f.0)),
                from.map(|f| f.1),
                r.at.x,
                r.at.y,
                r.at.z,
                r.lean,
                r.head_leans(),
                r.head_edge,
                r.head_edge_square,
                r.rove_edge,
                r.grip,
                r.nail,
                fastenings.gauge,
                fastenings.rove_diameter,
                r.timber.and_then(|i| plan.timbers.get(i)).map(|t| t.n),
                r.blocked_by.and_then(|i| plan.moulds.get(i)).map(|m| named_mould(&m.name)),
                r.in_gain,
            ]
        })
        .collect();
    Table { name: "table-rivets", columns, rows }
}

/// Fastenings at hood ends and transom, each strake's own.
fn ends(plan: &Plan) -> Table {
    let columns = vec![
        ("strake", Plain),
        ("end", Plain),
        ("fastening", Plain),
        ("with", Plain),
        ("up the end", Length),
        ("from the plank's end", Length),
        ("planking gone through", Length),
        ("length", Length),
    ];
    let mut rows = Vec::new();
    for e in &plan.ends {
        let from = plan.spec.fastenings.end_row;
        for (i, p) in e.places.iter().enumerate() {
            rows.push(row![e.strake, e.end, i + 1, e.fixing.word(), p.up, from, p.wood, p.length]);
        }
    }
    Table { name: "table-end-fastenings", columns, rows }
}

fn keel(plan: &Plan) -> Table {
    let columns = vec![
        ("fastening", Plain),
        ("along the garboard's lower edge", Length),
        ("from", Plain),
        ("abaft it", Length),
        ("with", Plain),
        ("length", Length),
    ];
    let lower = plan.strakes.first().map(|garboard| (garboard, along_lower(garboard)));
    let rows = (plan.keel_fastenings.iter())
        .map(|k| {
            let from = lower.as_ref().and_then(|(g, lower)| from_station_below(g, &plan.sections, lower, k.along));
            let with = plan.spec.fastenings.keel.word();
            row![k.n, k.along, from.map(|f| place(plan, f.0)), from.map(|f| f.1), with, k.length]
        })
        .collect();
    Table { name: "table-keel-fastenings", columns, rows }
}

fn timbers_table(plan: &Plan) -> Table {
    let columns = vec![
        ("timber", Plain),
        ("aft of the first station", Length),
        ("turn", Plain),
        ("pieces", Plain),
        ("length of each", Length),
        ("girth of one side", Length),
        ("head at land", Plain),
        ("cant", Angle),
        ("rise at the keel", Angle),
        ("twist", Angle),
        ("least bend radius", Length),
        ("thinned to", Length),
        ("stands in mould", Plain),
    ];
    let rows = (plan.timbers.iter())
        .map(|t| {
            let mould = t.moulds.first().and_then(|&m| plan.moulds.get(m)).map(|m| named_mould(&m.name));
            row![
                t.n,
                t.x,
                t.turn,
                t.pieces,
                t.length,
                t.girth,
                t.head,
                t.cant,
                t.rise,
                t.twist,
                t.bend_radius_min,
                t.thin.map(|thin| thin.thickness),
                mould,
            ]
        })
        .collect();
    Table { name: "table-timbers", columns, rows }
}

fn timber_cut(plan: &Plan) -> Table {
    let columns = vec![("count", Plain), ("length", Length), ("for timbers", Plain)];
    let list = timbers::cut_list(&plan.timbers, &plan.spec.timbers, plan.timber_step());
    let numbers = |of: &[usize]| of.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    let mut rows: Vec<Vec<Cell>> =
        list.of.iter().map(|l| row![l.count, l.length, format!("no. {}", numbers(&l.timbers))]).collect();
    if let Some(longest) = list.of.first().filter(|_| list.extra > 0) {
        rows.push(row![list.extra, longest.length, "more, for those that break"]);
    }
    Table { name: "table-timber-stock", columns, rows }
}

/// What to get out for thwarts, risings, knees and the like.
fn pieces(plan: &Plan) -> Table {
    let columns = vec![
        ("piece", Plain),
        ("count", Plain),
        ("length", Length),
        ("width", Length),
        ("thickness", Length),
        ("wood", Plain),
        ("of all", Mass),
    ];
    let rows = interior::pieces(&plan.interior)
        .iter()
        .map(|p| {
            let [length, width, thickness] = p.size;
            let mass = f64::from(p.count) * p.volume * 1e-9 * p.wood.density;
            row![p.name, p.count, length, width, thickness, p.wood.name.as_str(), mass]
        })
        .collect();
    Table { name: "table-pieces", columns, rows }
}

/// Nails, roves and screws to order, both sides.
fn order(plan: &Plan) -> Table {
    let columns = vec![
        ("what", Plain),
        ("gauge", Plain),
        ("length or diameter", Length),
        ("for rivets", Plain),
        ("for plank ends", Plain),
        ("for the keel", Plain),
        ("with spare ones", Plain),
        ("packs in hand", Plain),
        ("packs to buy", Plain),
        ("pieces to buy", Plain),
        ("to buy", Mass),
    ];
    let rows = (plan.order.iter())
        .map(|l| {
            let [rivets, ends, keel] = l.takes;
            row![
                l.kind.word(),
                l.gauge,
                l.size,
                rivets,
                ends,
                keel,
                l.wanted,
                l.in_hand,
                l.packs,
                l.bought,
                l.bought_mass
            ]
        })
        .collect();
    Table { name: "table-order", columns, rows }
}

fn swelling(plan: &Plan) -> Table {
    let columns =
        vec![("strake", Plain), ("width where widest", Length), ("gains afloat", Length), ("gains ashore", Length)];
    let rows = plan.swelling.iter().map(|s| row![s.strake, s.width, s.afloat, s.ashore]).collect();
    Table { name: "table-swelling", columns, rows }
}

/// Both sides, the parts planned.
fn weights(plan: &Plan) -> Table {
    let columns = vec![
        ("part", Plain),
        ("weighs", Mass),
        ("centre aft of the first station", Length),
        ("centre over base", Length),
    ];
    let w = &plan.weights;
    let mut rows: Vec<Vec<Cell>> =
        w.parts.iter().map(|p| row![p.name.as_str(), p.mass, p.centre.x, p.centre.z]).collect();
    if !rows.is_empty() {
        rows.push(row!["all of these", w.total, w.centre.x, w.centre.z]);
    }
    rows.extend(
        w.left_out.iter().map(|what| row![format!("not in it: {what}"), Cell::Empty, Cell::Empty, Cell::Empty]),
    );
    Table { name: "table-weights", columns, rows }
}
