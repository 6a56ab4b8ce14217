//! What she may carry by a rule, step by step, and the cautions.

use super::look;
use super::page::{Book, Frame, Page};
use super::tables;
use super::weighs::too_light;
use crate::drawing::table::{Cell, Row};
use crate::flotation::Flotation;
use crate::load::{self, CATEGORIES, CAUTIONS, Moved, Step};
use crate::units::POUND;

/// The first so many steps are measures.
const MEASURED: usize = 3;

/// A step of the arithmetic.
fn row(step: &Step) -> Row {
    let value = match step.unit {
        "ft" => format!("{:.1}", step.value),
        // 7.5 stays what it is.
        "hp" => step.value.to_string(),
        _ => format!("{:.0}", step.value),
    };
    tables::row([step.what, &step.how, &value, step.unit, step.section, step.known.word()])
}

/// One page; none where she cannot be measured.
pub fn page<'a>(book: &Book<'a>, found: &Flotation) -> Option<Page<'a>> {
    let light = found.companies.first()?.company.load.mass;
    let measures = load::measures(&found.hull, light, book.plan.spec.stern_is_transom())?;
    let mut page = book.page("What she may carry", "arithmetic with a rule\u{2019}s formulas, and no certificate");
    let frame = page.frame;
    let left = Frame { right: frame.left + 0.60 * frame.width(), ..frame };
    let right = Frame { left: left.right + 9.0, ..frame };
    let mut table = tables::table(
        vec![
            tables::text("", 1.75),
            tables::text("how", 3.2),
            tables::counts("", 0.9),
            tables::text("", 0.75),
            tables::text("33 CFR", 1.0),
            tables::text("known", 1.1),
        ],
        5.2,
    );
    for column in &mut table.columns {
        column.style.size = 3.4;
    }
    if measures.short_enough() {
        for (i, moved) in [Moved::ByHand, Moved::SmallMotor, Moved::Outboard].into_iter().enumerate() {
            let allowed = load::allowed(&measures, moved);
            let (common, own) = allowed.steps.split_at(MEASURED.min(allowed.steps.len()));
            // The measures are the same for all three.
            if i == 0 {
                table.rows.extend(common.iter().map(row));
            }
            table.stay.push(table.rows.len());
            let head = Cell { text: moved.said().to_owned(), style: Some(look::NUMBER.size(3.6)), ..Cell::default() };
            table.rows.push(Row { cells: vec![head] });
            table.rows.extend(own.iter().map(row));
            if moved == Moved::Outboard {
                let how = match allowed.persons {
                    None => "she has no transom to hang one on",
                    Some((pounds, _)) if pounds < load::TESTED_BELOW => {
                        "or fewer: a test with weights along one side decides, which is not reckoned here"
                    }
                    Some(_) => continue,
                };
                table.rows.push(tables::row(["persons", how, "\u{2013}", "", "183.41 (a)", "read"]));
            }
        }
    } else {
        let how = format!("she is {:.1} ft; the rule is for boats under {:.0} ft", measures.length, load::UNDER);
        table.rows.push(tables::row(["not for her".to_owned(), how]));
    }
    table.draw(page.t, &mut page.sheet, [left.left, left.top], left.width(), left.height(), 0);

    let cautions = CAUTIONS.join(" ");
    let categories: Vec<String> =
        CATEGORIES.iter().map(|(name, wind, sea)| format!("{name}: wind {wind} Beaufort, waves {sea}")).collect();
    let categories = format!(
        "For boats from 2.5 to 24 m that are sold there, directive 2013/53/EU names four categories by significant wave height and \
         wind: {}. Which one a boat is given is found by standards and often by a notified body. Nothing here says which she would be.",
        categories.join("; ")
    );
    let pounds =
        format!("The rule counts in pounds and feet: 1 lb is {POUND:.4} kg, and 100 lb {:.0} kg.", 100.0 * POUND);
    let heavier = too_light(
        book,
        "What they weigh is missing in the boat\u{2019}s weight, so every capacity here is too great, by three tenths of it or, with a \
         larger motor, a fifth. Rely on none of them before their sizes are given, or they are put in as loads.",
    );
    let mut sections = vec![
        ("No certificate", cautions.as_str()),
        ("The European categories", categories.as_str()),
        ("Units", pounds.as_str()),
    ];
    if !heavier.is_empty() {
        sections.insert(0, ("She is heavier than that", heavier.trim_end()));
    }
    let size = page.prose_size(right, &sections);
    page.prose(right, size, &sections);
    Some(page)
}
