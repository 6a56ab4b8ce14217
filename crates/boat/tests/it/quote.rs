//! The quote: its quantities against the plan by sums of their own, its sums to the hundredth, and rates that are refused.

use crate::measure::area;
use crate::paper::{PAPERS, boats, check_sheet};
use boat::drawing::typeface::Type;
use boat::fastenings::OrderLine;
use boat::fastenings::stock::{Kind, Pack};
use boat::folder::read_rates;
use boat::paper::book;
use boat::plan::Plan;
use boat::quote::{Group, Quote, QuoteError, Rate, reckon};
use boat::rates::{Decimal, Money, Rates, VolumeUnit, WoodRate};
use boat::spec::Bent;

const RATES: &str = include_str!("../../../../boats/corncrake/rates.toml");

/// The rates, with the woods of the plan for the example's.
fn rates(plan: &Plan) -> Rates {
    let mut rates = read_rates(RATES).unwrap();
    let timbers = &plan.spec.timbers.wood.name;
    if timbers != "oak, white" {
        let waste = Decimal { units: 5000, places: 2 };
        rates.wood.push(WoodRate {
            name: timbers.clone(),
            unit: VolumeUnit::CubicMetre,
            price: Money(200_000),
            waste,
        });
    }
    let larch = rates.wood.iter_mut().find(|w| w.name == "larch, western").unwrap();
    larch.name.clone_from(&plan.spec.planking.wood.name);
    rates
}

fn quantity(quote: &Quote, group: Group, what: &str) -> f64 {
    let line = quote.lines.iter().find(|l| l.group == group && l.what.starts_with(what)).unwrap();
    match line.rate {
        Rate::Each { quantity, .. } => quantity.value(),
        Rate::Percent { percent, .. } => percent.value(),
    }
}

/// Every sum done again in whole numbers from the quantity and rate as they are printed, and the column added up.
#[test]
fn the_column_adds_up_to_the_hundredth() {
    let whole = |text: &str| -> (i128, u32) {
        let plain = text.replace(',', "");
        let places = plain.split_once('.').map_or(0, |(_, part)| part.len() as u32);
        (plain.replace('.', "").parse().unwrap(), places)
    };
    for plan in boats().iter().filter(|p| !p.spec.glued()) {
        let quote = reckon(plan, &[], &rates(plan)).unwrap();
        let mut total = 0;
        let mut before_overhead = 0;
        for line in &quote.lines {
            let (a, b, by) = match line.rate {
                Rate::Each { quantity, rate } => (whole(&quantity.to_string()), whole(&rate.to_string()), 1),
                Rate::Percent { of, percent } => (whole(&of.to_string()), whole(&percent.to_string()), 100),
            };
            // To hundredths, halves up: doubled, and half of what is divided by added.
            let over = by * 10_i128.pow(a.1 + b.1);
            let sum = (2 * 100 * a.0 * b.0 + over) / (2 * over);
            assert_eq!(i128::from(line.sum.0), sum, "{}: {}", plan.spec.name, line.what);
            if line.group < Group::Overhead {
                before_overhead += sum;
            }
            total += sum;
        }
        assert_eq!(i128::from(quote.total().0), total, "{}", plan.spec.name);
        let groups: i64 = Group::ALL.into_iter().map(|g| quote.group(g).0).sum();
        assert_eq!(groups, quote.total().0);
        let of = |group| {
            quote.lines.iter().find_map(|l| match l.rate {
                Rate::Percent { of, .. } if l.group == group => Some(i128::from(of.0)),
                _ => None,
            })
        };
        assert_eq!(of(Group::Overhead), Some(before_overhead));
        assert_eq!(of(Group::Tax), Some(i128::from(quote.before_tax().0)));
    }
}

/// Wood from the flat outlines' corners and the timbers' lengths, copper from the rivets one by one, hours from counts: none of
/// them through the sums that the quote takes.
#[test]
fn quantities_are_the_plans() {
    for plan in boats().iter().filter(|p| !p.spec.glued()) {
        let name = &plan.spec.name;
        let quote = reckon(plan, &[], &rates(plan)).unwrap();
        let flat: f64 = plan
            .flats
            .iter()
            .map(|f| area(&f.lower.iter().chain(f.upper.iter().rev()).copied().collect::<Vec<_>>()))
            .sum();
        // 85 % over, in board feet of 144 cubic inches.
        let wanted = 2.0 * flat * plan.spec.planking.thickness / (144.0 * 16_387.064) * 1.85;
        let found = quantity(&quote, Group::Wood, "Planking");
        assert!((found - wanted).abs() < 0.005 * wanted, "{name}: {found} bd ft of planking for {wanted}");

        let t = &plan.spec.timbers;
        let cubic: f64 = plan.timbers.iter().map(|x| f64::from(x.pieces) * x.length * t.sided * t.moulded).sum();
        let found = quantity(&quote, Group::Wood, "Timbers");
        let wanted =
            if t.wood.name == "oak, white" { cubic / (144.0 * 16_387.064) * 1.4 } else { cubic * 1e-9 * 1.5 };
        let last = if t.wood.name == "oak, white" { 0.005 } else { 0.000_05 };
        assert!((found - wanted).abs() <= last + 1e-9, "{name}: {found} of timbers for {wanted}");

        // Nails one by one, then the spares: each length's order is rounded up by itself, so up to one nail a length more.
        let nails: Vec<_> = plan.order.iter().filter(|l| l.kind == Kind::Nail).collect();
        let net: f64 = nails.iter().map(|n| n.mass()).sum();
        let found = quantity(&quote, Group::Fastenings, "Copper nails");
        let least = net * (1.0 + plan.spec.fastenings.spare);
        // Where they come in packs, up to a pack a length, and in each what is not a whole nail.
        let over = |l: &&OrderLine| {
            let each = l.each.unwrap();
            let pack = match l.pack {
                Some(Pack::Mass(kg)) => kg,
                Some(Pack::Count(n)) => f64::from(n) * each,
                None => 0.0,
            };
            pack + f64::from(l.packs_wanted + 1) * each
        };
        let most = least + nails.iter().map(over).sum::<f64>();
        assert!((least - 0.0005..=most + 0.0005).contains(&found), "{name}: {found} kg of nails");

        let hours = |what| quantity(&quote, Group::Work, what);
        assert!((hours("Planks") - 2.0 * plan.strakes.len() as f64 * 6.5).abs() < 0.005);
        assert!((hours("Rivets") - 2.0 * plan.rivets.len() as f64 * 0.0425).abs() <= 0.005 + 1e-9);
        assert!((hours("Moulds") - plan.moulds.len() as f64 * 3.5).abs() < 0.005);
        assert!((hours("Timbers") - plan.timbers.len() as f64 * 0.75).abs() < 0.005);
    }
}

#[test]
fn what_has_no_rate_is_named_and_not_in_the_sum() {
    let plan = &boats()[0];
    let mut few = rates(plan);
    few.other_each = None;
    few.hours.mould = None;
    let quote = reckon(plan, &[], &few).unwrap();
    assert!(quote.left_out.iter().any(|l| l.contains("fastenings.other_each")), "{:?}", quote.left_out);
    assert!(quote.left_out.iter().any(|l| l.contains("labour.hours_per_mould")), "{:?}", quote.left_out);
    assert!(quote.total() < reckon(plan, &[], &rates(plan)).unwrap().total());
    few.copper_kg = None;
    assert!(matches!(reckon(plan, &[], &few), Err(QuoteError::NoCopper { grams }) if grams > 100));
    few.wood.clear();
    let said = reckon(plan, &[], &few).unwrap_err().to_string();
    assert!(said.contains(&plan.spec.planking.wood.name) && said.contains("planking.wood"), "{said}");
}

#[test]
fn bad_rates_are_refused_with_line_key_value_limit_and_remedy() {
    for (from, to, said) in [
        (
            "per_board_foot = 8.40",
            "per_board_foot = -8.40",
            "rates.toml, line 17, wood.larch, western.per_board_foot: “-8.40” is out of range: 0 to 1,000,000 is allowed; check its digits",
        ),
        ("per_board_foot = 8.40", "per_board_foot = 8.405", "more than 2 places after its point; round it"),
        ("per_board_foot = 8.40", "per_board_foot = \"8.40\"", "a plain number such as 12.50, without quotes"),
        ("per_board_foot = 8.40", "per_board_foot = 8.4e3", "a plain number such as 12.50"),
        ("per_board_foot = 8.40", "per_board_foot = 99999999999999999999.0", "0 to 1,000,000 is allowed"),
        (
            "per_board_foot = 8.40",
            "per_board_foot = 8\nper_m3 = 900",
            "two prices; give exactly one of per_m3 and per_board_foot",
        ),
        ("per_board_foot = 8.40", "", "no price; give exactly one of"),
        ("waste = 85", "waste = 9000", "0 to 900 is allowed"),
        ("waste = 85", "#", "waste: is missing; write for example waste = 50"),
        ("oak, white", "Western Larch", "already stands there as"),
        ("per_hour = 31.00", "per_hours = 31.00", "did you mean per_hour?"),
        ("sum = 118.50", "sum = 118.50\neach = 3", "each: stands beside a sum"),
        ("\"knees\"", "\"kneees\"", "knees, perhaps, or another of keel"),
        ("percent = 20", "percent = 120", "0 to 100 is allowed"),
        ("currency = \"pounds\"", "", "currency: is missing; write for example currency = \"pounds\""),
        ("[builder]", "[builder", "is not in the form it should be"),
    ] {
        assert!(RATES.contains(from), "{from}");
        let message = read_rates(&RATES.replacen(from, to, 1)).unwrap_err().to_string();
        assert!(message.starts_with("rates.toml, line ") && message.contains(said), "{message}");
    }
}

#[test]
fn the_quotes_pages_hold_their_words_and_the_last_stands_upright() {
    let t = Type::embedded().unwrap();
    for plan in boats().iter().filter(|p| !p.spec.glued()) {
        let rates = rates(plan);
        let quote = reckon(plan, &[], &rates).unwrap();
        for paper in PAPERS {
            let sheets = book::quote_sheets(&t, plan, &rates, &quote, paper);
            for sheet in &sheets {
                check_sheet(&plan.spec.name, sheet);
            }
            assert!(sheets[sheets.len() - 1].height > sheets[sheets.len() - 1].width);
        }
    }
}

/// What a customer is told of the timbers is how they are bent.
#[test]
fn timbers_are_called_what_they_are() {
    let mut plan = boats().iter().find(|p| !p.spec.glued() && !p.timbers.is_empty()).unwrap().clone();
    for (bent, layers, word) in [
        (Bent::Steamed, 1, " steam-bent timbers"),
        (Bent::Cold, 1, " cold-bent timbers"),
        (Bent::Cold, 3, " laminated timbers"),
    ] {
        (plan.spec.timbers.bent, plan.spec.timbers.layers) = (bent, layers);
        let quote = reckon(&plan, &[], &rates(&plan)).unwrap();
        assert!(quote.included.iter().any(|line| line.contains(word)), "{:?}", quote.included);
    }
}
