//! Phones: lets them in on the local network, pairs them, and shuts them out.

use crate::record::{Phone, said};
use crate::web::phones::{self, NotLetIn, Reach};
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::{Form, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use maud::{Markup, html};
use serde::Deserialize;
use std::net::{Ipv4Addr, SocketAddr};

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/phones", get(show))
        .route("/phones/open", post(open))
        .route("/phones/shut", post(shut))
        .route("/phones/pair", post(pair))
        .route("/phones/out", post(out))
}

async fn show(State(shed): State<Shared>) -> Markup {
    page(&shed, None)
}

fn page(shed: &Shared, why: Option<&str>) -> Markup {
    let view = shed.desk.view();
    let open = shed.phones.open_at();
    let (phones, trouble) = match shed.record.kept() {
        Ok(kept) => (kept.phones.clone(), None),
        Err(why) => (Vec::new(), Some(why.to_string())),
    };
    let body = html! {
        @if let Some(why) = why { p.trouble role="alert" { (why) } }
        @if let Some(why) = trouble { p.trouble role="alert" { (why) } }
        p.lead {
            "A phone at the boat shows what is planned there, and takes what you measure into her record. It reaches this machine over \
             your own network, and only while you let phones in."
        }
        @match open {
            Some(at) => (opened(shed, at)),
            None => (shut_now()),
        }
        (paired(shed, &phones))
    };
    frame::page(shed, &view, "/phones", "Phones", &["phones.js"], &body)
}

fn shut_now() -> Markup {
    let all = phones::addresses();
    let first = all.iter().position(|a| a.reach == Reach::Local);
    html! {
        form method="post" action="/phones/open" {
            fieldset {
                legend { "Where this machine can be found" }
                @for (i, address) in all.iter().enumerate() {
                    div.one {
                        input type="radio" id={ "at-" (i) } name="ip" value=(address.ip) required checked[first == Some(i)];
                        label for={ "at-" (i) } { (address.ip) " " span.quiet { (address.means()) } }
                    }
                }
            }
            p {
                "Phones will see the page at the boat and her record, and nothing else of her: not this screen, not her files. Whoever \
                 is not paired sees nothing. What goes over the network is not encrypted: let phones in on a network of your own."
            }
            button.main type="submit" { "Let phones in" }
        }
    }
}

fn opened(shed: &Shared, at: SocketAddr) -> Markup {
    let invited = shed.phones.invited();
    html! {
        p { "Phones are let in at " strong { "http://" (at) "/" } ". Paired ones open " strong { "http://" (at) "/boat" } "." }
        h2 { "One more phone" }
        @if let Some((code, address)) = invited {
            p { "For " strong { (code.name) } ": hold it up to this, or type the address. Good for one phone, and for five minutes." }
            @if let Some(drawing) = phones::drawing(&address) { figure.leaf { (drawing) } }
            p.address { (address) }
        }
        form.row method="post" action="/phones/pair" {
            label for="name" { "What to call it" }
            input.name #name name="name" type="text" required maxlength="40" autocomplete="off" placeholder="Ada's phone";
            button type="submit" { "Pair a phone" }
        }
    }
}

fn paired(shed: &Shared, phones: &[Phone]) -> Markup {
    let (out, here): (Vec<&Phone>, Vec<&Phone>) = phones.iter().partition(|p| p.shut_out.is_some());
    html! {
        h2 { "Paired phones" }
        @if here.is_empty() { p { "None." } } @else {
            ul.pins {
                @for phone in here {
                    li {
                        span { strong { (phone.name) } " " span.quiet { (shed.phones.last_seen(phone.number)) ", paired " (said(phone.paired)) " UTC" } }
                        form method="post" action="/phones/out" {
                            input type="hidden" name="phone" value=(phone.number);
                            button type="submit" aria-label={ "Shut out " (phone.name) } { "Shut out" }
                        }
                    }
                }
            }
            p.quiet { "Shut out a phone that is lost. What it has sent stays in the record; what it has not sent stays on it." }
        }
        @if !out.is_empty() {
            p.quiet { "Shut out: " (out.iter().map(|p| p.name.as_str()).collect::<Vec<_>>().join(", ")) "." }
        }
    }
}

#[derive(Debug, Deserialize)]
struct Where {
    ip: Ipv4Addr,
}

async fn open(State(shed): State<Shared>, Form(asked): Form<Where>) -> Response {
    answer(&shed, phones::let_in(&shed, Some(asked.ip)).await.map(drop))
}

async fn shut(State(shed): State<Shared>) -> Response {
    shed.phones.shut().await;
    Redirect::to("/phones").into_response()
}

#[derive(Debug, Deserialize)]
struct Name {
    name: String,
}

async fn pair(State(shed): State<Shared>, Form(asked): Form<Name>) -> Response {
    answer(&shed, shed.phones.invite(&asked.name).map(drop))
}

#[derive(Debug, Deserialize)]
struct Out {
    phone: i64,
}

async fn out(State(shed): State<Shared>, Form(asked): Form<Out>) -> Response {
    answer(&shed, shed.record.shut_out(asked.phone).await.map_err(NotLetIn::from))
}

fn answer(shed: &Shared, done: Result<(), NotLetIn>) -> Response {
    match done {
        Ok(()) => Redirect::to("/phones").into_response(),
        Err(why) => {
            let code = match &why {
                NotLetIn::Name(_) => StatusCode::UNPROCESSABLE_ENTITY,
                NotLetIn::Record(_) | NotLetIn::Shut | NotLetIn::NoAddress { .. } => StatusCode::CONFLICT,
                NotLetIn::Listen { .. } | NotLetIn::Random(_) => StatusCode::INTERNAL_SERVER_ERROR,
            };
            (code, page(shed, Some(&why.to_string()))).into_response()
        }
    }
}
