//! What follows when lands move, with no more of the plan than that.

use boat::development::{self, FlatPlank};
use boat::folder::BoatInput;
use boat::lines::{Skin, profile::Ends};
use boat::lining::Lands;
use boat::{fastenings, moulds, planks, timbers};

/// What was made again.
pub struct Again {
    pub flats: Vec<FlatPlank>,
    pub bevels: usize,
    pub rivets: usize,
}

/// Strakes, bevels, flat planks marked out, timbers and rivets.
pub fn from_lands(lands: &Lands, skin: &Skin, input: &BoatInput) -> Again {
    let (spec, table) = (&input.spec, &input.table);
    let strakes = planks::lay(lands, skin, table, spec).expect("lays");
    let flats = strakes.iter().map(|s| {
        let flat = development::hood_ends(development::unroll(s).expect("lies flat"), s, &skin.sections);
        development::marked_out(flat, spec.planking.thickness, &spec.bending)
    });
    let flats: Vec<FlatPlank> = flats.collect();
    let moulds = moulds::moulds(skin, table, &spec.moulds);
    let ends = Ends::new(spec).expect("has ends");
    let (timbers, _) = timbers::timbers(lands, &moulds, &spec.timbers, ends.fore_foot()[0], ends.aft_foot()[0])
        .expect("timbers stand");
    let stand =
        |land| -> Vec<Option<f64>> { timbers.iter().map(|t| t.x_on(land).filter(|_| land <= t.head)).collect() };
    let p = &spec.planking;
    let bevels =
        strakes.iter().map(|s| planks::bevels::bevels(s, p.lap, &stand(s.strake), p.bevel_every).len()).sum();
    let rivets = fastenings::rivets(&strakes, &timbers, &moulds, spec).len();
    Again { flats, bevels, rivets }
}
