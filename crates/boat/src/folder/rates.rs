//! Reading rates.toml.

use super::section::{Document, Section, Value};
use super::woods::same;
use super::{BoatError, BoatProblem as Problem};
use crate::rates::{Decimal, DecimalError, Hours, Money, OUTSIDE, Rates, Share, Sundry, VolumeUnit, WoodRate, Work};
use crate::words::nearest;

/// Why `rates.toml` cannot be read.
#[derive(Debug, Clone, PartialEq)]
pub struct RatesError(pub BoatError);

impl std::error::Error for RatesError {}

impl std::fmt::Display for RatesError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.said_of("rates.toml", f)
    }
}

impl From<BoatError> for RatesError {
    fn from(e: BoatError) -> Self {
        RatesError(e)
    }
}

const ROOT: [&str; 10] =
    ["currency", "builder", "customer", "wood", "fastenings", "labour", "work", "sundries", "overhead", "tax"];

/// Letters in what a line is called, in the currency's word and a unit's, and in a paragraph.
const WHAT_LETTERS: usize = 60;
const WORD_LETTERS: usize = 12;
const PARAGRAPH_LETTERS: usize = 240;
/// Lines of one kind, and woods.
const MOST_LINES: usize = 40;
const MOST_WOODS: usize = 200;
/// Largest price, in hundredths: a million.
const MOST_MONEY: i64 = 100_000_000;
/// Most hours for one thing, and of one thing bought.
const MOST_HOURS: i64 = 10_000;
const MOST_QUANTITY: i64 = 100_000;
/// Most waste and most that is put on top, in the hundred.
const MOST_WASTE: i64 = 900;
const MOST_PERCENT: i64 = 100;

/// Reads rates.toml.
///
/// # Errors
/// [`RatesError`] with the first trouble found: its line, key, value, limit and what to do.
pub fn read_rates(text: &str) -> Result<Rates, RatesError> {
    let document = Document::of(text)?;
    let root = document.root();
    root.only(&ROOT)?;
    let mut rates = Rates {
        currency: root.need("currency", "currency = \"pounds\"")?.words(WORD_LETTERS)?,
        wood: woods(&root)?,
        work: each(&root, "work", work)?,
        sundries: each(&root, "sundries", sundry)?,
        overhead: each(&root, "overhead", share)?,
        tax: each(&root, "tax", share)?,
        ..Rates::default()
    };
    if let Some(builder) = root.section("builder")? {
        builder.only(&["name", "address"])?;
        rates.builder.push(builder.need("name", "name = \"Pell Quay Boatshed\"")?.words(WHAT_LETTERS)?);
        rates.builder.extend(texts(&builder, "address", 4, WHAT_LETTERS)?);
    }
    if let Some(customer) = root.section("customer")? {
        customer.only(&["terms", "not_included"])?;
        rates.terms = texts(&customer, "terms", 6, PARAGRAPH_LETTERS)?;
        rates.not_included = texts(&customer, "not_included", 10, WHAT_LETTERS)?;
    }
    if let Some(section) = root.section("fastenings")? {
        section.only(&["copper_per_kg", "rove_grams", "screw_each", "other_each", "glue_per_kg"])?;
        rates.copper_kg = money(&section, "copper_per_kg")?;
        let rove = section.get("rove_grams").map(|v| decimal(&v, 3, [0, 100])).transpose()?;
        rates.rove_milligrams = rove.map(|d| d.units);
        rates.screw_each = money(&section, "screw_each")?;
        rates.other_each = money(&section, "other_each")?;
        rates.glue_kg = money(&section, "glue_per_kg")?;
    }
    if let Some(section) = root.section("labour")? {
        labour(&section, &mut rates)?;
    }
    if rates.hour.is_none() && !rates.work.is_empty() {
        let example = "[labour] with per_hour = 30.00, which [[work]] is reckoned at";
        return Err(root.trouble("labour", Problem::Missing { example }).into());
    }
    Ok(rates)
}

fn labour(section: &Section<'_>, rates: &mut Rates) -> Result<(), BoatError> {
    section.only(&[
        "per_hour",
        "hours_per_plank",
        "hours_per_scarf",
        "hours_per_timber",
        "hours_per_hundred_rivets",
        "hours_per_hundred_others",
        "hours_per_mould",
        "hours_per_glued_metre",
    ])?;
    rates.hour = Some(price(&section.need("per_hour", "per_hour = 30.00")?)?);
    let hours = |key: &str| section.get(key).map(|v| decimal(&v, 2, [0, MOST_HOURS])).transpose();
    rates.hours = Hours {
        plank: hours("hours_per_plank")?,
        scarf: hours("hours_per_scarf")?,
        timber: hours("hours_per_timber")?,
        hundred_rivets: hours("hours_per_hundred_rivets")?,
        hundred_others: hours("hours_per_hundred_others")?,
        mould: hours("hours_per_mould")?,
        glued_metre: hours("hours_per_glued_metre")?,
    };
    Ok(())
}

fn woods(root: &Section<'_>) -> Result<Vec<WoodRate>, BoatError> {
    let Some(all) = root.section("wood")? else { return Ok(Vec::new()) };
    let names = all.keys();
    if names.len() > MOST_WOODS {
        return Err(root.trouble("wood", Problem::ListLength { found: names.len(), least: 0, most: MOST_WOODS }));
    }
    let mut woods: Vec<WoodRate> = Vec::new();
    for name in names {
        let Some(section) = all.section(name)? else { continue };
        section.only(&["per_m3", "per_board_foot", "waste"])?;
        let (unit, price) = match (money(&section, "per_m3")?, money(&section, "per_board_foot")?) {
            (Some(price), None) => (VolumeUnit::CubicMetre, price),
            (None, Some(price)) => (VolumeUnit::BoardFoot, price),
            (both, _) => {
                let found = if both.is_some() { "two prices" } else { "no price" };
                return Err(all.trouble(name, Problem::OnePrice { found }));
            }
        };
        let waste = decimal(&section.need("waste", "waste = 50, for half as much again")?, 2, [0, MOST_WASTE])?;
        if let Some(first) = woods.iter().find(|w| same(&w.name, name)) {
            return Err(all.trouble(name, Problem::SameWood { first: first.name.clone() }));
        }
        woods.push(WoodRate { name: name.to_owned(), unit, price, waste });
    }
    Ok(woods)
}

/// The `[[key]]` sections, each read by `read`.
fn each<T>(
    root: &Section<'_>,
    key: &str,
    read: fn(&Section<'_>) -> Result<T, BoatError>,
) -> Result<Vec<T>, BoatError> {
    let wanted = "a [[section]] for each line";
    let Some(value) = root.get(key) else { return Ok(Vec::new()) };
    value.list([0, MOST_LINES], wanted)?.iter().map(|v| read(&v.section(wanted)?)).collect()
}

fn work(section: &Section<'_>) -> Result<Work, BoatError> {
    section.only(&["what", "hours"])?;
    Ok(Work { what: what(section)?, hours: decimal(&section.need("hours", "hours = 12")?, 2, [0, MOST_HOURS])? })
}

fn sundry(section: &Section<'_>) -> Result<Sundry, BoatError> {
    section.only(&["what", "sum", "quantity", "unit", "each", "covers"])?;
    let what = what(section)?;
    let (quantity, unit, each) = match section.get("sum") {
        Some(sum) => {
            if let Some(beside) = ["quantity", "unit", "each"].iter().find_map(|key| section.get(key)) {
                return Err(beside.trouble(Problem::BesideSum));
            }
            (Decimal::whole(1), String::new(), price(&sum)?)
        }
        None => {
            let each = section.need("each", "each = 4.50 with quantity = 12 and unit = \"tins\"; or sum = 54.00")?;
            let quantity = section.need("quantity", "quantity = 12")?;
            let unit = section.need("unit", "unit = \"tins\"")?;
            (decimal(&quantity, 2, [0, MOST_QUANTITY])?, unit.words(WORD_LETTERS)?, price(&each)?)
        }
    };
    let covers = match section.get("covers") {
        Some(list) => {
            list.list([0, OUTSIDE.len()], "a list of texts")?.iter().map(covered).collect::<Result<_, _>>()?
        }
        None => Vec::new(),
    };
    Ok(Sundry { what, quantity, unit, each, covers })
}

fn covered(value: &Value<'_>) -> Result<String, BoatError> {
    let word = value.words(WHAT_LETTERS)?;
    if OUTSIDE.contains(&word.as_str()) {
        return Ok(word);
    }
    let near = nearest(&word, OUTSIDE).map_or_else(String::new, |n| format!("{n}, perhaps, or another of "));
    Err(value.trouble(Problem::Word { found: word, known: format!("{near}{}", OUTSIDE.join(", ")) }))
}

fn share(section: &Section<'_>) -> Result<Share, BoatError> {
    section.only(&["what", "percent"])?;
    Ok(Share {
        what: what(section)?,
        percent: decimal(&section.need("percent", "percent = 10")?, 2, [0, MOST_PERCENT])?,
    })
}

fn what(section: &Section<'_>) -> Result<String, BoatError> {
    section.need("what", "what = \"Paint and varnish\"")?.words(WHAT_LETTERS)
}

fn texts(section: &Section<'_>, key: &str, most: usize, letters: usize) -> Result<Vec<String>, BoatError> {
    let Some(value) = section.get(key) else { return Ok(Vec::new()) };
    value.list([0, most], "a list of texts")?.iter().map(|v| v.words(letters)).collect()
}

fn money(section: &Section<'_>, key: &str) -> Result<Option<Money>, BoatError> {
    section.get(key).map(|v| price(&v)).transpose()
}

fn price(value: &Value<'_>) -> Result<Money, BoatError> {
    decimal(value, 2, [0, MOST_MONEY / 100]).map(|d| Money(d.units))
}

/// A number with at most `places` after its point, within `range`.
fn decimal(value: &Value<'_>, places: u32, range: [i64; 2]) -> Result<Decimal, BoatError> {
    let out =
        || value.out_of(format!("{} to {}", Decimal::whole(range[0]), Decimal::whole(range[1])), "check its digits");
    let found = match Decimal::parse(value.raw, places) {
        Ok(found) => found,
        Err(DecimalError::Form) => return Err(value.kind("a plain number such as 12.50, without quotes,")),
        Err(DecimalError::Places) => {
            return Err(value.trouble(Problem::Places { found: value.raw.to_owned(), most: places }));
        }
        Err(DecimalError::Large) => return Err(out()),
    };
    let one = 10_i64.pow(places);
    if (range[0] * one..=range[1] * one).contains(&found.units) { Ok(found) } else { Err(out()) }
}
