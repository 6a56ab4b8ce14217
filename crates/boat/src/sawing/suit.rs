//! Scarfs where they suit the boards.
//!
//! The plan parts a plank where no board of the rack holds it whole, as though each board were there for every plank. Where the
//! laying out then finds no room for some, those planks are parted once more, no part as long as the longest of theirs: scarfs
//! move, or there is one more. The rules of the module `scarfs` hold for all of them. What leaves less without room is kept; and where
//! all have room and some are scarfed, a somewhat shorter longest part is tried for those, and kept where clearly less is cut.
//!
//! Tries, not seconds, are counted: the same rack gives the same scarfs.

use super::{Effort, Progress, Sawing, leaves, saw_out};
use crate::plan::Plan;
use crate::stock::Board;
use crate::units::{Notation, inches};
use std::ops::ControlFlow;

/// A plank that is parted otherwise than the plan had it.
#[derive(Debug, Clone, PartialEq)]
pub struct Parted {
    /// 1 to n.
    pub strake: usize,
    /// Longest that its parts may be, mm: for `scarfs.longest_of`.
    pub longest: f64,
    /// Middles of its scarfs, mm aft of the first station, as the plan had them and as they are.
    pub scarfs: [Vec<f64>; 2],
}

/// A plan, and its layout.
#[derive(Debug, Clone, PartialEq)]
pub struct Suited {
    /// With scarfs where they suit the boards.
    pub plan: Plan,
    /// What comes out of which board.
    pub sawing: Sawing,
    /// The planks that are parted otherwise; none where the plan's scarfs were the best that was found.
    pub parted: Vec<Parted>,
}

/// Tries where something has no room.
const TRIES: usize = 4;
/// Parts are not made shorter than that share of their plank to suit the boards: better buy a board than glue four scarfs.
const LEAST_PART: f64 = 0.35;
/// Longest parts tried where all have room, as a share of the longest there is.
const SHORTER: [f64; 2] = [0.92, 0.8];
/// Less of a board that must be cut for scarfs to be moved, as a share.
const WORTH: f64 = 0.02;

/// Lays the plan's parts out on `boards`, as [`saw_out`], with scarfs where they suit them.
///
/// # Errors
/// As [`saw_out`].
pub fn suit(
    plan: &Plan,
    boards: &[Board],
    effort: Effort,
    tell: &mut dyn FnMut(&Progress<'_>) -> ControlFlow<()>,
) -> Result<Suited, layout::LayoutError> {
    let mut stopped = false;
    let mut lay = |plan: &Plan, effort: Effort, stopped: &mut bool| {
        saw_out(plan, boards, effort, &mut |now| {
            let go = tell(now);
            *stopped |= go.is_break();
            go
        })
    };
    let mut best = (plan.clone(), lay(plan, effort, &mut stopped)?);
    let less = Effort { rounds: effort.rounds.div_ceil(2), ..effort };
    let mut now = best.clone();
    for _ in 0..TRIES {
        if stopped || best.1.short.is_empty() || !could_hold(&best.1, boards, plan) {
            break;
        }
        let strakes: Vec<usize> = now.1.short.iter().map(|s| s.piece.strake).collect();
        let Some(next) = shorter(&now.0, boards, &strakes, None) else { break };
        let sawing = lay(&next, less, &mut stopped)?;
        now = (next, sawing);
        if missing(&now.1) < missing(&best.1) - 1.0 {
            best = now.clone();
        }
    }
    if best.1.short.is_empty() && best.0 == *plan {
        for share in SHORTER {
            let scarfed: Vec<usize> = plan.made.iter().filter(|m| !m.scarfs.is_empty()).map(|m| m.strake).collect();
            let Some(next) = shorter(plan, boards, &scarfed, Some(share)).filter(|_| !stopped) else { continue };
            let sawing = lay(&next, less, &mut stopped)?;
            if sawing.short.is_empty() && sawing.cut_area < (1.0 - WORTH) * best.1.cut_area {
                best = (next, sawing);
            }
        }
    }
    let parted = parted(plan, &best.0);
    Ok(Suited { plan: best.0, sawing: best.1, parted })
}

/// Area that found no room, mm².
fn missing(sawing: &Sawing) -> f64 {
    sawing.short.iter().map(|s| s.count as f64 * s.takes[0] * s.takes[1]).sum()
}

/// Whether what is left of the boards has as much wood as is missing: else something must be bought in any case.
fn could_hold(sawing: &Sawing, boards: &[Board], plan: &Plan) -> bool {
    let all: f64 = boards.iter().map(|b| leaves(b, &plan.spec) as f64 * b.length * b.width).sum();
    all - sawing.cut_area > 0.5 * missing(sawing)
}

/// The plan with shorter parts in these strakes: of the next length of board, or where there is none, or `share` says so, of a
/// share of what they are. `None` where nothing changes, or some plank cannot be parted so.
fn shorter(plan: &Plan, boards: &[Board], strakes: &[usize], share: Option<f64>) -> Option<Plan> {
    let step = if plan.spec.lengths == Notation::Mm { 10.0 } else { inches(1.0) };
    let usable: Vec<f64> = boards.iter().filter(|b| leaves(b, &plan.spec) > 0).map(|b| b.length).collect();
    let mut longest_of = plan.spec.scarfs.longest_of.clone();
    for made in plan.made.iter().filter(|m| strakes.contains(&m.strake)) {
        let has = made.parts.iter().map(|p| p.left.board[0]).fold(0.0, f64::max);
        let board = usable.iter().copied().filter(|l| *l < has - step).fold(0.0, f64::max);
        let to = share.map_or_else(|| board.max(0.7 * has), |share| share * has);
        let to = (to / step).floor() * step;
        if to < LEAST_PART * made.left.board[0] {
            continue;
        }
        longest_of.retain(|(strake, _)| *strake != made.strake);
        longest_of.push((made.strake, to));
    }
    longest_of.sort_by_key(|l| l.0);
    let next = plan.parted_anew(&longest_of, boards);
    let stuck = |plan: &Plan| plan.made.iter().filter(|m| m.stuck).count();
    (next.made != plan.made && stuck(&next) <= stuck(plan)).then_some(next)
}

fn parted(before: &Plan, after: &Plan) -> Vec<Parted> {
    let places = |made: &crate::scarfs::Made| made.scarfs.iter().map(|s| s.x).collect::<Vec<f64>>();
    let pairs = before.made.iter().zip(&after.made);
    pairs
        .filter(|(b, a)| places(b) != places(a))
        .map(|(b, a)| {
            let limit = after.spec.scarfs.longest_of.iter().find(|l| l.0 == a.strake);
            Parted { strake: a.strake, longest: limit.map_or(0.0, |l| l.1), scarfs: [places(b), places(a)] }
        })
        .collect()
}
