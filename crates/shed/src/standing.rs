//! Both sides of a boat as her readings have them.

use boat::folder::BoatInput;
use boat::hung::{HungError, Planned, Reading, Side, Standing};
use boat::lines::Lines;

/// Port, starboard; `None` for a side without readings. `lines` are hers, faired.
pub fn sides(input: &BoatInput, lines: &Lines, readings: &[Reading]) -> [Result<Option<Standing>, HungError>; 2] {
    if readings.is_empty() {
        return [Ok(None), Ok(None)];
    }
    let planned = Planned::of(input, lines);
    Side::BOTH.map(|side| match &planned {
        Err(why) => Err(why.clone()),
        Ok(_) if readings.iter().all(|r| r.side != side) => Ok(None),
        Ok(planned) => planned.standing(readings, side).map(Some),
    })
}
