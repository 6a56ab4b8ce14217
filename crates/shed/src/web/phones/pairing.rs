//! The page that pairs a phone: opened by its code, with one button. Looking at it uses nothing up, so that programs which look
//! at addresses before people do have not taken the code away.

use super::codes::{No, digest};
use crate::record::random_letters;
use crate::web::entries::trouble;
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::{ConnectInfo, Path, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use maud::{Markup, html};
use std::net::SocketAddr;
use std::time::Instant;

/// Where codes are brought.
pub const PATH: &str = "/pair/";

/// Bytes of a phone's token.
const TOKEN: usize = 32;

/// How long a phone keeps its token, s: 400 days, the longest that browsers allow.
const KEEPS: u32 = 400 * 24 * 3600;

pub fn routes() -> Router<Shared> {
    Router::new().route("/pair/{code}", get(look).post(pair))
}

/// Phones keep one token for each boat: a boat's cookie is named after her record.
pub fn cookie_name(identity: &str) -> String {
    format!("strakewise-{identity}")
}

async fn look(
    State(shed): State<Shared>,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    Path(code): Path<String>,
) -> Response {
    let name = shed.phones.codes().look(&code, from.ip(), Instant::now());
    match name {
        Ok(name) => frame::bare("Pair this phone", &html! {
            p.lead { "It will be able to read what is planned, to read the record and to add to it, under the name " strong { (name) } "." }
            form method="post" action={ (PATH) (code) } { button.main type="submit" { "Pair this phone" } }
        })
        .into_response(),
        Err(no) => not_good(no),
    }
}

async fn pair(
    State(shed): State<Shared>,
    ConnectInfo(from): ConnectInfo<SocketAddr>,
    Path(code): Path<String>,
) -> Response {
    let taken = shed.phones.codes().take(&code, from.ip(), Instant::now());
    let code = match taken {
        Ok(code) => code,
        Err(no) => return not_good(no),
    };
    let Ok(token) = random_letters::<TOKEN>() else {
        shed.phones.codes().put_back(code);
        return (StatusCode::INTERNAL_SERVER_ERROR, "no token could be made: try again").into_response();
    };
    let identity = match shed.record.pair(&code.name, digest(&token)).await {
        Ok(_) => shed.record.kept().map(|kept| kept.identity.clone()),
        Err(why) => Err(why),
    };
    match identity {
        Ok(identity) => {
            let cookie =
                format!("{}={token}; Path=/; Max-Age={KEEPS}; HttpOnly; SameSite=Strict", cookie_name(&identity));
            let mut response = Redirect::to("/boat").into_response();
            if let Ok(cookie) = HeaderValue::from_str(&cookie) {
                response.headers_mut().insert(header::SET_COOKIE, cookie);
            }
            response
        }
        Err(why) => {
            shed.phones.codes().put_back(code);
            trouble(&why)
        }
    }
}

fn not_good(no: No) -> Response {
    let (code, title, what) = match no {
        No::NotGood => (
            StatusCode::NOT_FOUND,
            "This code is not good",
            "It was used, is older than five minutes, or was not read as it is. Show a new one: on the laptop, page Phones.",
        ),
        No::TooMany => (
            StatusCode::TOO_MANY_REQUESTS,
            "Too many wrong codes",
            "Wait a minute, then show a new code: on the laptop, page Phones.",
        ),
    };
    (code, frame::bare(title, &html! { p { (what) } })).into_response()
}

/// For whoever is not paired, or no more.
pub fn not_paired(headers: &HeaderMap) -> Response {
    let what = "This phone is not let in. Pair it: on the laptop, page Phones. What it has not sent yet stays on it until then.";
    let page = headers.get(header::ACCEPT).is_some_and(|a| a.to_str().is_ok_and(|a| a.contains("text/html")));
    let body: Markup = html! { p { (what) } };
    if page {
        (StatusCode::UNAUTHORIZED, frame::bare("Not let in", &body)).into_response()
    } else {
        (StatusCode::UNAUTHORIZED, what).into_response()
    }
}
