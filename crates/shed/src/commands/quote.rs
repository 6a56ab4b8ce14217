//! `strakewise quote`.

use super::tell;
use super::write::is_standard_output;
use crate::arguments::Quote as Asked;
use crate::files;
use crate::progress::Progress;
use crate::trouble::Trouble;
use boat::drawing::typeface::Type;
use boat::paper::{PaperError, book as bench_book};
use boat::plan::Plan;
use boat::quote::{self, Group, Line, Quote, ROUNDING, Rate};
use std::process::ExitCode;

/// Plans, reckons, tells and perhaps writes.
pub fn run(asked: &Asked) -> Result<ExitCode, Trouble> {
    if asked.output.as_deref().is_some_and(is_standard_output) {
        return Err(Trouble::Usage("the quote is told on standard output: give a file after -o".to_owned()));
    }
    let (text, drawn) = {
        let progress = Progress::new();
        let (texts, folder) = files::boat(&asked.which)?;
        let input =
            boat::folder::read(&texts).map_err(|problem| Trouble::Folder { folder: folder.clone(), problem })?;
        // The rates are read first: a slip in them should not wait for the planning.
        let rates = files::rates(&asked.which)?.ok_or_else(|| {
            Trouble::Usage(format!(
                "{}: there are no rates to reckon with: write rates.toml there, what wood, copper and an hour cost \
                 (docs/quote.md says how; strakewise new ANOTHER_FOLDER makes one to copy and type over)",
                folder.display()
            ))
        })?;
        let rates =
            boat::folder::read_rates(&rates).map_err(|problem| Trouble::Rates { folder: folder.clone(), problem })?;
        let lengths = input.spec.lengths;
        let plan = boat::plan::plan_telling(&input, &mut |stage| progress.stage(stage))
            .map_err(|problem| Trouble::Plan { folder: folder.clone(), problem, lengths })?;
        let found =
            quote::reckon(&plan, &input.boards, &rates).map_err(|problem| Trouble::Quote { folder, problem })?;
        let drawn = match &asked.output {
            Some(path) => {
                let t = Type::embedded().map_err(PaperError::from)?;
                let sheets = bench_book::quote_sheets(&t, &plan, &rates, &found, asked.paper.size());
                let title = format!("{}: quote", plan.spec.name);
                let bytes =
                    bench_book::write_titled(&t, &title, "What she costs, and a page for the customer", &sheets)?;
                Some((path.clone(), bytes))
            }
            None => None,
        };
        (told(&plan, &found), drawn)
    };
    tell(&text, drawn)
}

fn told(plan: &Plan, quote: &Quote) -> String {
    let mut text = format!("{}: what she costs, in {}.\n", plan.spec.name, quote.currency);
    let width = quote.lines.iter().map(|l| l.what.chars().count()).max().unwrap_or(0);
    for group in Group::ALL {
        let lines: Vec<&Line> = quote.lines.iter().filter(|l| l.group == group).collect();
        if lines.is_empty() {
            continue;
        }
        text.push_str(&format!("\n{}\n", group.word()));
        for line in &lines {
            let (quantity, rate) = match line.rate {
                Rate::Each { quantity, rate } => {
                    (format!("{quantity} {}", line.unit).trim_end().to_owned(), format!("× {rate}"))
                }
                Rate::Percent { of, .. } => (String::new(), format!("of {of}")),
            };
            let sum = line.sum.to_string();
            text.push_str(&format!("  {:<width$}  {quantity:>13}  {rate:>12}  {sum:>12}\n", line.what));
            text.push_str(&format!("      {}\n", line.how));
        }
        if lines.len() > 1 {
            let all = quote.group(group).to_string();
            text.push_str(&format!("  {:<width$}  {:>13}  {:>12}  {all:>12}\n", "together", "", ""));
        }
    }
    if quote.lines.iter().any(|l| l.group == Group::Tax) {
        let all = quote.before_tax().to_string();
        text.push_str(&format!("\n  {:<width$}  {:>13}  {:>12}  {all:>12}\n", "All before tax", "", ""));
    } else {
        text.push('\n');
    }
    let all = quote.total().to_string();
    text.push_str(&format!("  {:<width$}  {:>13}  {:>12}  {all:>12}\n", "Total", "", ""));
    text.push_str(&format!("\n{ROUNDING}\n"));
    if !quote.left_out.is_empty() {
        text.push_str("\nIn the plan and not in the sum:\n");
        text.extend(quote.left_out.iter().map(|l| format!("  {l}\n")));
    }
    text.push_str(&format!("\nNot in the plan, and in no line: {}.\n", quote.not_included.join(", ")));
    text
}
