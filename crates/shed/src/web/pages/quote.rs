//! What she costs at the builder's own rates: the page for a customer, and the builder's sheets.

use crate::web::desk::View;
use crate::web::store::FileName;
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::{Path, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::drawing::Sheet;
use boat::folder;
use boat::paper::{PaperSize, book, write_svg};
use boat::plan::Plan;
use boat::quote::{self, Quote};
use boat::rates::Rates;
use maud::{Markup, html};
use std::sync::Arc;

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/quote", get(page))
        .route("/quote.pdf", get(|State(shed): State<Shared>| pdf(shed, For::Builder)))
        .route("/quote/customer.pdf", get(|State(shed): State<Shared>| pdf(shed, For::Customer)))
        .route("/quote/{page}/sheet.svg", get(sheet))
}

/// A plan reckoned.
struct Reckoned {
    plan: Arc<Plan>,
    rates: Rates,
    quote: Quote,
}

/// Why there is no quote.
enum Lacks {
    /// There is nothing to reckon with yet.
    Rates,
    /// Nothing to reckon.
    Plan,
    /// In words.
    Why(String),
}

fn reckoned(view: &View) -> Result<Reckoned, Lacks> {
    let text = view.texts.get(FileName::Rates).ok_or(Lacks::Rates)?;
    let rates = folder::read_rates(text).map_err(|why| Lacks::Why(why.to_string()))?;
    let (plan, input) = view.plan.clone().zip(view.input.as_ref()).ok_or(Lacks::Plan)?;
    let quote = quote::reckon(&plan, &input.boards, &rates).map_err(|why| Lacks::Why(why.to_string()))?;
    Ok(Reckoned { plan, rates, quote })
}

impl Reckoned {
    /// The builder's sheets, and the customer's page last.
    fn sheets(&self, shed: &Shared) -> Vec<Sheet> {
        book::quote_sheets(&shed.desk.t, &self.plan, &self.rates, &self.quote, PaperSize::A4)
    }
}

async fn page(State(shed): State<Shared>) -> Response {
    let view = shed.desk.view();
    let (at, hers) = (Arc::clone(&shed), Arc::clone(&view));
    let body = tokio::task::spawn_blocking(move || body(&at, &hers)).await;
    match body {
        Ok(body) => frame::page(&shed, &view, "/quote", "Quote", &[], &body).into_response(),
        Err(_) => (StatusCode::INTERNAL_SERVER_ERROR, "the quote could not be reckoned").into_response(),
    }
}

fn body(shed: &Shared, view: &View) -> Markup {
    let file = html! { a href="/files/rates.toml" { "rates.toml" } };
    let found = match reckoned(view) {
        Ok(found) => found,
        Err(Lacks::Rates) => {
            return html! {
                p.lead { "There are no rates yet. Write what wood, copper and an hour cost you into " (file) ", and she is reckoned here." }
                p { "It begins like this, with the words that boat.toml has for her woods:" }
                pre { "currency = \"EUR\"\n\n[wood.\"larch\"]\nper_m3 = 1200\nwaste = 60\n\n[fastenings]\ncopper_per_kg = 25.00" }
            };
        }
        Err(Lacks::Plan) => return html! { p { "There is no plan to reckon yet." } },
        Err(Lacks::Why(why)) => {
            return html! { p.trouble role="alert" { (why) } p { "Mend it in " (file) "." } };
        }
    };
    let quote = &found.quote;
    let titles: Vec<String> = found.sheets(shed).into_iter().map(|s| s.title).collect();
    let last = titles.len();
    let figure = |page: usize, title: &str| {
        html! {
            figure.leaf.upright { img src={ "/quote/" (page) "/sheet.svg?" (view.revision) } alt=(title) loading="lazy"; }
        }
    };
    html! {
        p.lead { "Reckoned from the plan at your rates in " (file) "." }
        dl.figures {
            div { dt { "Before tax" } dd { (quote.before_tax()) " " (quote.currency) } }
            div { dt { "Total" } dd #total { (quote.total()) " " (quote.currency) } }
        }
        p.row {
            a.button href="/quote/customer.pdf" { "The page for the customer, PDF" }
            a.button href="/quote.pdf" { "All of it, PDF" }
        }
        @if !quote.left_out.is_empty() {
            h2 { "In the plan and not in the sum" }
            ul { @for left in &quote.left_out { li { (left) } } }
        }
        h2 { "For the customer" }
        (figure(last, &format!("The customer's page: price {} {}", quote.total(), quote.currency)))
        h2 { "Your own sheets" }
        @for (i, title) in titles.iter().enumerate().take(last.saturating_sub(1)) { (figure(i + 1, title)) }
    }
}

async fn sheet(State(shed): State<Shared>, Path(page): Path<usize>) -> Response {
    let drawn = tokio::task::spawn_blocking(move || {
        let found = reckoned(&shed.desk.view()).ok()?;
        let sheets = found.sheets(&shed);
        Some(write_svg(&shed.desk.t, sheets.get(page.checked_sub(1)?)?))
    })
    .await;
    match drawn {
        Ok(Some(svg)) => ([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response(),
        _ => (StatusCode::NOT_FOUND, "the quote has no such page").into_response(),
    }
}

/// Whom sheets are for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum For {
    /// All of them.
    Builder,
    /// The last one alone.
    Customer,
}

async fn pdf(shed: Shared, reader: For) -> Response {
    let written = tokio::task::spawn_blocking(move || {
        let found = reckoned(&shed.desk.view()).ok()?;
        let sheets = found.sheets(&shed);
        let name = &found.plan.spec.name;
        let (title, subject, sheets) = match reader {
            For::Customer => {
                (format!("{name}: quotation"), "What she costs", sheets.get(sheets.len().checked_sub(1)?..)?)
            }
            For::Builder => (format!("{name}: quote"), "What she costs, and a page for the customer", &sheets[..]),
        };
        book::write_titled(&shed.desk.t, &title, subject, sheets).ok()
    })
    .await;
    match written {
        Ok(Some(bytes)) => {
            let name = match reader {
                For::Customer => "inline; filename=\"quotation.pdf\"",
                For::Builder => "inline; filename=\"quote.pdf\"",
            };
            ([(header::CONTENT_TYPE, "application/pdf"), (header::CONTENT_DISPOSITION, name)], bytes).into_response()
        }
        _ => (StatusCode::NOT_FOUND, "there is no quote").into_response(),
    }
}
