//! From readings to where each hung strake lies, and the readings that cannot be right.

use super::doubt::{Again, Doubt};
use super::judge::{self, Judged, Why};
use super::stiff::{self, Off};
use super::{BuiltMark, HungError, Measure, Reading, kept};
use crate::lines::Skin;
use crate::lining::{LandCurve, Lands, wishes};
use crate::plan::PlanError;
use crate::plan::rest::Rest;
use crate::planks;
use crate::spec::Spec;
use crate::units::Notation;

/// A height says where an edge is while a mm of it is no more than so many along the mould.
const FLATTEST: f64 = 1.5;
/// A reading nearer than this to what the others say is never doubted, mm.
const NEVER: f64 = 5.0;
/// One further off than so many standard deviations of what they say is.
const SURE: f64 = 4.0;
/// Two readings of a place that differ by no more than this are the same, mm.
const ALIKE: f64 = 1.0;
/// Rounds in which a width is brought to what was read, and how near is near enough, mm.
const WIDTH_ROUNDS: usize = 12;
const NEAR: f64 = 1e-3;

/// Where the hung strakes lie.
pub(super) struct Facts {
    /// Lands 0 (rabbet) to the last one hung, mm along the moulds: `[land][section]`.
    pub girths: Vec<Vec<f64>>,
    /// Where each was lined when it was its turn.
    lined: Vec<Vec<f64>>,
    /// How wide each was to be then: `[strake − 1][section]`, mm.
    widths: Vec<Vec<f64>>,
    /// Where the readings were used: `[land][section]`, the number of the reading.
    read: Vec<Vec<Option<usize>>>,
    pub again: Vec<Again>,
    pub own: Own,
}

/// How far this builder hangs strakes off their marks, square to the land.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Own {
    /// The furthest, mm.
    pub furthest: f64,
    /// How many places were read, and how many of them further off than [`CLOSE`].
    read: usize,
    further: usize,
}

/// Planks that hang no further than this off their marks leave room to line with, before jumps of [`judge::SEEN`] are seen,
/// mm: within 1 mm, and the quarter that a tape read to halves may be off.
pub(super) const CLOSE: f64 = 1.25;
/// One in so many may be further off: what the tape did not see of the strake below comes on top.
const ONE_IN: usize = 20;

impl Own {
    fn take(&mut self, off: f64) {
        self.furthest = self.furthest.max(off);
        self.read += 1;
        self.further += usize::from(off > CLOSE);
    }

    /// Whether he works so closely that no jump need be seen.
    pub fn close(&self) -> bool {
        self.further * ONE_IN <= self.read
    }
}

/// The last reading of a place.
#[derive(Clone, Copy)]
struct Placed<'a> {
    section: usize,
    /// Its number among all.
    number: usize,
    reading: &'a Reading,
    /// Read twice alike.
    believed: bool,
    girth: f64,
}

/// Where the strakes of `readings` lie.
pub(super) fn facts(rest: &Rest<'_>, planned: &[Vec<f64>], readings: &[&Reading]) -> Result<Facts, HungError> {
    let n = planned.len() - 1;
    let sections = sections(readings, n, rest)?;
    let top = readings.iter().map(|r| r.strake).max().unwrap_or(0);
    let none = vec![None; planned[0].len()];
    let spec = &rest.input.spec;
    let square = wishes::wishes(&rest.lines.skin, &spec.planking, &spec.lining, n).square;
    let mut facts = Facts {
        girths: vec![planned[0].clone()],
        lined: vec![planned[0].clone()],
        widths: Vec::new(),
        read: vec![none],
        again: Vec::new(),
        own: Own::default(),
    };
    for strake in 1..=top {
        let kept = kept(planned, &facts.girths, facts.own);
        let lined = if facts.girths == planned[..strake] {
            planned[strake].clone()
        } else {
            rest.marks(&kept).map_err(PlanError::from)?.girths(&rest.lines.skin)[strake].clone()
        };
        let curve = &rest.planned.lands.curves[strake];
        let mut hang = Hang { rest, strake, n, below: &facts.girths, lined: &lined, places: places(curve) };
        let (girths, read, again) = hang.up(&last(readings, &sections, strake))?;
        for (j, _) in read.iter().enumerate().filter(|(_, r)| r.is_some()) {
            facts.own.take(square[strake - 1][j] * (girths[j] - lined[j]).abs());
        }
        let as_planned = || rest.planned.strakes[strake - 1].at.iter().map(|a| a.width).collect();
        let widths = hang.laid(&lined).unwrap_or_else(as_planned);
        facts.widths.push(widths);
        facts.girths.push(girths);
        facts.lined.push(lined);
        facts.read.push(read);
        facts.again.extend(again);
    }
    Ok(facts)
}

/// The section of each reading; refused where the boat has none such.
fn sections(readings: &[&Reading], n: usize, rest: &Rest<'_>) -> Result<Vec<usize>, HungError> {
    let (skin, lengths) = (&rest.lines.skin, rest.input.spec.lengths);
    let of = |r: &&Reading| {
        let values = match r.measure {
            Measure::FromMark { off, mark } => [off, mark],
            Measure::Width(v) | Measure::Height(v) => [v, v],
        };
        if r.strake == 0 || r.strake > n {
            return Err(HungError::NoStrake { strake: r.strake, strakes: n });
        }
        if values.iter().any(|v| !v.is_finite()) {
            return Err(HungError::NoLength { reading: r.said(lengths) });
        }
        let section = skin.sections.iter().position(|s| s.name == r.section);
        section.ok_or_else(|| HungError::NoSection {
            section: r.section.clone(),
            known: skin.sections.iter().map(|s| s.name.as_str()).collect::<Vec<_>>().join(", "),
        })
    };
    readings.iter().map(of).collect()
}

/// How far along the strake each section stands, 0 to 1.
fn places(curve: &LandCurve) -> Vec<f64> {
    let at = &curve.at_section;
    let (first, last) = (at[0], at[at.len() - 1]);
    at.iter().map(|t| (t - first) / (last - first)).collect()
}

/// The last reading of each place of `strake`, in the order of the sections.
fn last<'a>(readings: &[&'a Reading], sections: &[usize], strake: usize) -> Vec<Placed<'a>> {
    let mut last: Vec<Placed<'a>> = Vec::new();
    for (number, (reading, &section)) in readings.iter().zip(sections).enumerate() {
        if reading.strake != strake {
            continue;
        }
        let mut placed = Placed { section, number, reading, believed: false, girth: f64::NAN };
        if let Some(i) = last.iter().position(|p| p.section == section) {
            placed.believed = alike(&last[i].reading.measure, &reading.measure);
            last[i] = placed;
        } else {
            last.push(placed);
        }
    }
    last.sort_by_key(|p| p.section);
    last
}

fn alike(a: &Measure, b: &Measure) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() <= ALIKE;
    match (a, b) {
        (Measure::FromMark { off, mark }, Measure::FromMark { off: again, mark: at }) => near(off + mark, again + at),
        (Measure::Width(a), Measure::Width(b)) | (Measure::Height(a), Measure::Height(b)) => near(*a, *b),
        _ => false,
    }
}

/// A strake to be hung on those below.
struct Hang<'a> {
    rest: &'a Rest<'a>,
    strake: usize,
    n: usize,
    /// Lands below as they lie, mm.
    below: &'a [Vec<f64>],
    /// Where this one was lined, mm.
    lined: &'a [f64],
    /// How far along it each section stands.
    places: Vec<f64>,
}

/// Girths, the reading used at each section, and those to be taken again.
type HungUp = (Vec<f64>, Vec<Option<usize>>, Vec<Again>);

impl Hang<'_> {
    fn up(&mut self, placed: &[Placed<'_>]) -> Result<HungUp, HungError> {
        let mut again = Vec::new();
        let (mut good, mut wide): (Vec<Placed<'_>>, Vec<Placed<'_>>) = (Vec::new(), Vec::new());
        for p in placed {
            let found = match p.reading.measure {
                Measure::FromMark { off, mark } => Ok(mark + off),
                Measure::Height(height) => self.at_height(p.section, height),
                Measure::Width(_) => {
                    wide.push(*p);
                    continue;
                }
            };
            match found {
                Ok(girth) => good.push(Placed { girth, ..*p }),
                Err(doubt) => again.push((*p, doubt)),
            }
        }
        // Widths are judged by themselves: a reading that is not used must not turn the plank they are solved on.
        self.by_width(&mut wide, &mut again);
        good.extend(wide);
        good.sort_by_key(|p| p.section);
        let mut used = self.possible(good, &mut again)?;
        while let Some((i, doubt)) = self.doubtful(&used) {
            again.push((used.remove(i), doubt));
        }
        self.by_width(&mut used, &mut again);
        let used = self.possible(used, &mut again)?;
        let mut read = vec![None; self.lined.len()];
        let mut girths = self.filled(&used);
        for p in &used {
            (read[p.section], girths[p.section]) = (Some(p.number), p.girth);
        }
        again.sort_by_key(|(p, _)| p.section);
        let again =
            again.into_iter().map(|(p, doubt)| Again { reading: p.reading.clone(), section: p.section, doubt });
        Ok((girths, read, again.collect()))
    }

    /// Those that can be; the others go to `again`.
    fn possible<'p>(
        &self,
        all: Vec<Placed<'p>>,
        again: &mut Vec<(Placed<'p>, Doubt)>,
    ) -> Result<Vec<Placed<'p>>, HungError> {
        let mut can_be = Vec::new();
        for p in all {
            match self.impossible(&p) {
                None => can_be.push(p),
                Some(doubt) if p.believed => return Err(self.no_room(&p, doubt)),
                Some(doubt) => again.push((p, doubt)),
            }
        }
        Ok(can_be)
    }

    /// Where the section has that height, by its tangent from the mark on.
    fn at_height(&self, section: usize, height: f64) -> Result<f64, Doubt> {
        let skin = &self.rest.lines.skin;
        let (curve, whole) = (&skin.curves[section], skin.girth(section));
        let mut girth = self.lined[section];
        for _ in 0..30 {
            let up = curve.tangent(girth)[2];
            if up.abs() < 1.0 / FLATTEST {
                return Err(Doubt::Flat { each: up.abs().max(1e-3).recip() });
            }
            let step = (height - curve.at(girth)[2]) / up;
            if step.abs() < 1e-9 {
                return Ok(girth);
            }
            girth = (girth + step).clamp(-0.2 * whole, 1.2 * whole);
        }
        Err(Doubt::Nowhere)
    }

    /// Brings each width to what was read, the strake laid on the one below as that lies. One that takes its mark where none
    /// can be stays there to be told, and the strake is laid without it; where none can be laid at all, they go to `again`.
    fn by_width<'p>(&self, good: &mut Vec<Placed<'p>>, again: &mut Vec<(Placed<'p>, Doubt)>) {
        let is_width = |p: &Placed<'_>| matches!(p.reading.measure, Measure::Width(_));
        let mut wide: Vec<usize> = (0..good.len()).filter(|&i| is_width(&good[i])).collect();
        for &i in &wide {
            good[i].girth = self.lined[good[i].section];
        }
        let known = (0..good.len()).filter(|i| !wide.contains(i));
        let mut impossible: Vec<usize> = known.filter(|&i| self.impossible(&good[i]).is_some()).collect();
        for _ in 0..WIDTH_ROUNDS {
            if wide.is_empty() {
                return;
            }
            let possible = good.iter().enumerate().filter(|(i, _)| !impossible.contains(i)).map(|(_, p)| *p);
            let Some(laid) = self.laid(&self.with_read(&possible.collect::<Vec<_>>())) else { break };
            let mut far = 0.0_f64;
            for &i in &wide {
                let Measure::Width(read) = good[i].reading.measure else { continue };
                let p = &mut good[i];
                // On a post a mm along it is less than that square to the land; a smaller step there takes longer.
                let step = read - laid[p.section];
                p.girth += step;
                far = far.max(step.abs());
            }
            if far < NEAR {
                return;
            }
            let (stay, gone) = wide.into_iter().partition(|&i| self.impossible(&good[i]).is_none());
            wide = stay;
            impossible.extend::<Vec<usize>>(gone);
        }
        // No such strake can be laid.
        for i in wide.into_iter().rev() {
            again.push((good.remove(i), Doubt::Nowhere));
        }
    }

    /// The widths of this strake with its land at `girths`; `None` where it cannot be laid.
    fn laid(&self, girths: &[f64]) -> Option<Vec<f64>> {
        let (skin, input) = (&self.rest.lines.skin, self.rest.input);
        let row = |row: &[f64]| row.iter().enumerate().map(|(j, s)| s / skin.girth(j)).collect::<Vec<f64>>();
        let mut u: Vec<Vec<f64>> = self.below.iter().map(|r| row(r)).collect();
        u.push(row(girths));
        let pinned = vec![vec![false; skin.curves.len()]; u.len()];
        let lands = Lands::through(skin, u, pinned).ok()?;
        let strakes = planks::lay(&lands, skin, &input.table, &input.spec).ok()?;
        Some(strakes.last()?.at.iter().map(|a| a.width).collect())
    }

    fn with_read(&self, placed: &[Placed<'_>]) -> Vec<f64> {
        let mut girths = self.filled(placed);
        for p in placed {
            girths[p.section] = p.girth;
        }
        girths
    }

    fn off(&self, placed: &[Placed<'_>]) -> Vec<Off> {
        placed.iter().map(|p| Off { at: self.places[p.section], off: p.girth - self.lined[p.section] }).collect()
    }

    /// The whole land by what was read of it.
    fn filled(&self, placed: &[Placed<'_>]) -> Vec<f64> {
        let off = stiff::between(&self.off(placed), &self.places);
        self.lined.iter().zip(off).map(|(mark, off)| mark + off).collect()
    }

    /// What is wrong with a place on the mould where the strake's upper edge cannot be.
    fn impossible(&self, p: &Placed<'_>) -> Option<Doubt> {
        let (skin, spec) = (&self.rest.lines.skin, &self.rest.input.spec);
        let (whole, girth) = (skin.girth(p.section), p.girth);
        let beyond = if self.strake == self.n { whole + spec.planking.lap } else { whole };
        if girth <= 0.0 || girth > beyond {
            return Some(Doubt::OffMould { girth, whole });
        }
        let planned = &self.rest.planned.lands;
        let below = girth - self.below[self.strake - 1][p.section];
        // Where the planned strake itself is narrower than a land, on a post, by half of that.
        let was = (planned.u[self.strake][p.section] - planned.u[self.strake - 1][p.section]) * whole;
        let needed = if self.strake == 1 { 0.0 } else { spec.planking.lap.min(0.5 * was) };
        if below <= needed {
            return Some(Doubt::NoLap { room: below, needed });
        }
        let (above, left) = (whole - girth, (1.0 - planned.u[self.strake][p.section]) * whole);
        let needed = (spec.planking.lap * (self.n - self.strake) as f64).min(0.5 * left);
        (self.strake < self.n && above <= needed).then_some(Doubt::NoLap { room: above, needed })
    }

    fn no_room(&self, p: &Placed<'_>, doubt: Doubt) -> HungError {
        let again = Again { reading: p.reading.clone(), section: p.section, doubt };
        HungError::NoRoom { again: Box::new(again) }
    }

    /// The reading that fits the others least, where it cannot be right. A believed one that does not fit says nothing of
    /// the others.
    fn doubtful(&self, placed: &[Placed<'_>]) -> Option<(usize, Doubt)> {
        let off = self.off(placed);
        let mut heard: Vec<usize> = (0..placed.len()).collect();
        loop {
            let said: Vec<Off> = heard.iter().map(|&i| off[i]).collect();
            let differs = stiff::against_others(&said).into_iter().enumerate();
            let past = differs.filter(|(_, [by, sure])| by.abs() > NEVER.max(SURE * sure));
            let (worst, [by, _]) = past.max_by(|a, b| (a.1[0].abs() / a.1[1]).total_cmp(&(b.1[0].abs() / b.1[1])))?;
            let i = heard.remove(worst);
            if !placed[i].believed {
                return Some((i, Doubt::Stiff { off: off[i].off, others: off[i].off - by }));
            }
        }
    }
}

impl Facts {
    /// The hung marks with what comes of each.
    pub(super) fn marks(&self, planned: &[Vec<f64>], side: &judge::Side<'_>) -> Vec<BuiltMark> {
        let judged: Vec<Vec<(Judged, Option<Why>)>> = side.judged();
        let at = |strake: usize, section: usize| {
            let (judged, why) = judged[strake - 1][section];
            let mark = self.lined[strake][section];
            BuiltMark {
                strake,
                section,
                planned: planned[strake][section],
                mark,
                height: side.rest.lines.skin.curves[section].at(mark)[2],
                width: self.widths[strake - 1][section],
                built: self.girths[strake][section],
                read: self.read[strake][section].is_some(),
                judged,
                why,
            }
        };
        let sections = planned[0].len();
        (1..self.girths.len()).flat_map(|k| (0..sections).map(move |j| (k, j))).map(|(k, j)| at(k, j)).collect()
    }

    /// Pinned marks above what hangs must have room for the strakes between.
    pub(super) fn pins_above(&self, rest: &Rest<'_>, readings: &[&Reading]) -> Result<(), HungError> {
        let hung = self.girths.len() - 1;
        let spec: &Spec = &rest.input.spec;
        for pin in rest.pins.iter().filter(|p| p.land > hung) {
            let room = pin.girth - self.girths[hung][pin.section];
            let needed = spec.planking.lap * (pin.land - hung) as f64;
            let before = (rest.planned.lands.u[pin.land][pin.section] - rest.planned.lands.u[hung][pin.section])
                * rest.lines.skin.girth(pin.section);
            if room <= needed.min(0.5 * before) {
                return Err(HungError::Pin {
                    reading: self.nearest(hung, pin.section, readings, spec.lengths),
                    line: pin.line,
                    land: pin.land,
                    room,
                    needed,
                });
            }
        }
        Ok(())
    }

    /// The reading nearest to a strake and section, in words.
    fn nearest(&self, strake: usize, section: usize, readings: &[&Reading], lengths: Notation) -> String {
        let used =
            self.read.iter().enumerate().flat_map(|(k, row)| row.iter().enumerate().map(move |(j, r)| (k, j, r)));
        let used = used.filter_map(|(k, j, r)| Some((k, j, (*r)?)));
        let near = used.min_by_key(|&(k, j, _)| (k.abs_diff(strake), j.abs_diff(section)));
        let said = near.and_then(|(_, _, number)| readings.get(number)).map(|r| r.said(lengths));
        said.unwrap_or_else(|| "no reading".to_owned())
    }

    /// Why there is no plan, with the reading that is nearest to the trouble where a strake cannot be laid.
    pub(super) fn no_boat(&self, why: PlanError, rest: &Rest<'_>, readings: &[&Reading]) -> HungError {
        let PlanError::Planks { why: planks, .. } = &why else { return HungError::Plan(Box::new(why)) };
        let (strake, place) = planks.place();
        let skin: &Skin = &rest.lines.skin;
        let section = (0..skin.sections.len()).find(|&j| skin.place(j) == place).unwrap_or(0);
        let strake = strake.min(self.girths.len() - 1);
        let reading = self.nearest(strake, section, readings, rest.input.spec.lengths);
        HungError::NoBoat { reading, why: Box::new(why) }
    }
}
