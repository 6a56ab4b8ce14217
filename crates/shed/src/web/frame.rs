//! What every page has: her name, the way to the other pages, undo and redo, and what is wrong, if anything is.

use super::desk::{Refused, View};
use super::store::FileName;
use super::{Shared, phones, pins};
use axum::extract::{Form, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::{get, post};
use axum::{Json, Router};
use maud::{DOCTYPE, Markup, html};
use serde::Deserialize;
use serde_json::json;
use std::sync::Arc;

/// A page of the screen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Its address.
    pub path: &'static str,
    /// Its name.
    pub name: &'static str,
}

/// In the order of the work.
pub const PLACES: [Place; 16] = [
    Place { path: "/", name: "The boat" },
    Place { path: "/table", name: "Table" },
    Place { path: "/lines", name: "Lines" },
    Place { path: "/lands", name: "Lands" },
    Place { path: "/hull", name: "Hull" },
    Place { path: "/strakes", name: "Strakes" },
    Place { path: "/rivets", name: "Rivets" },
    Place { path: "/boards", name: "Boards" },
    Place { path: "/patterns", name: "Patterns" },
    Place { path: "/built", name: "As built" },
    Place { path: "/weights", name: "Weights" },
    Place { path: "/quote", name: "Quote" },
    Place { path: "/book", name: "Book" },
    Place { path: "/record", name: "Record" },
    Place { path: "/phones", name: "Phones" },
    Place { path: "/files", name: "Files" },
];

/// The head of every page.
pub fn head(title: &str, scripts: &[&str]) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="color-scheme" content="light dark";
            title { (title) }
            link rel="icon" href="/assets/mark.svg" type="image/svg+xml";
            link rel="stylesheet" href="/assets/style.css";
            @for script in scripts { script type="module" src={ "/assets/" (script) } {} }
        }
    }
}

/// A whole page; `scripts` are names of our own modules.
pub fn page(shed: &Shared, view: &View, at: &str, title: &str, scripts: &[&str], body: &Markup) -> Markup {
    let name = view.plan.as_ref().map_or("no boat yet", |p| p.spec.name.as_str());
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            (head(&format!("{title} \u{2013} {name}"), &[&["live.js"], scripts].concat()))
            body data-revision=(view.revision) {
                a.skip href="#main" { "To the page" }
                header.top {
                    p.boat { (name) small { (shed.from) } }
                    nav aria-label="Pages" {
                        @for place in PLACES {
                            a href=(place.path) aria-current=[(place.path == at).then_some("page")] { (place.name) }
                        }
                    }
                    div.history {
                        (step("/undo", "Undo", view.undo.as_deref()))
                        (step("/redo", "Redo", view.redo.as_deref()))
                    }
                }
                @let exposed = phones::exposed(shed);
                section #let-in.let-in aria-label="Phones that are let in" hidden[exposed.is_none()] {
                    span { (exposed.unwrap_or_default()) }
                    form method="post" action="/phones/shut" { button type="submit" { "Shut them out" } }
                }
                div #news role="status" aria-live="polite" {}
                @if view.texts.no_boat() && !["/", "/new", "/plan-picture"].contains(&at) {
                    p.trouble { "There is no boat in this folder yet: " a href="/" { "start one" } "." }
                }
                @if let Some(trouble) = &view.trouble {
                    div.trouble role="alert" {
                        strong { "No plan comes of this. " }
                        (trouble)
                        @if view.plan.is_some() { em { " What is drawn is as she was before." } }
                    }
                }
                main #main tabindex="-1" { h1 { (title) } (body) }
            }
        }
    }
}

/// A page without anything of the desk.
pub fn bare(title: &str, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en-GB" {
            (head(title, &[]))
            body { main { h1 { (title) } (body) } }
        }
    }
}

fn step(action: &str, word: &str, what: Option<&str>) -> Markup {
    html! {
        form method="post" action=(action) {
            button type="submit" disabled[what.is_none()] title=[what] aria-label={ (word) @if let Some(w) = what { ": " (w) } } {
                (word)
            }
        }
    }
}

/// One of our own files.
macro_rules! asset {
    ($name:literal, $kind:literal) => {
        ($name, $kind, include_str!(concat!("assets/", $name)))
    };
}

/// Everything that pages load.
const ASSETS: [(&str, &str, &str); 20] = [
    asset!("style.css", "text/css; charset=utf-8"),
    asset!("live.js", "text/javascript; charset=utf-8"),
    asset!("draw.js", "text/javascript; charset=utf-8"),
    asset!("eye.js", "text/javascript; charset=utf-8"),
    asset!("seen.js", "text/javascript; charset=utf-8"),
    asset!("beside.js", "text/javascript; charset=utf-8"),
    asset!("lines.js", "text/javascript; charset=utf-8"),
    asset!("lands.js", "text/javascript; charset=utf-8"),
    asset!("hull.js", "text/javascript; charset=utf-8"),
    asset!("boards.js", "text/javascript; charset=utf-8"),
    asset!("table.js", "text/javascript; charset=utf-8"),
    asset!("plan-picture.js", "text/javascript; charset=utf-8"),
    asset!("plan-view.js", "text/javascript; charset=utf-8"),
    asset!("record.js", "text/javascript; charset=utf-8"),
    asset!("phones.js", "text/javascript; charset=utf-8"),
    asset!("boat.js", "text/javascript; charset=utf-8"),
    asset!("kept.js", "text/javascript; charset=utf-8"),
    asset!("keypad.js", "text/javascript; charset=utf-8"),
    asset!("aloud.js", "text/javascript; charset=utf-8"),
    asset!("mark.svg", "image/svg+xml"),
];

/// Those of them that pages on a phone load.
pub const PHONE_ASSETS: [&str; 6] = ["style.css", "mark.svg", "boat.js", "kept.js", "keypad.js", "aloud.js"];

/// Some of our own files, by their names.
pub fn assets(names: &[&str]) -> Router<Shared> {
    let some = ASSETS.into_iter().filter(|(name, ..)| names.contains(name));
    some.fold(Router::new(), |router, (name, kind, text)| {
        let answer = move || async move { ([(header::CONTENT_TYPE, kind)], text) };
        router.route(&format!("/assets/{name}"), get(answer))
    })
}

pub fn routes() -> Router<Shared> {
    assets(&ASSETS.map(|(name, ..)| name))
        .route("/undo", post(|State(shed): State<Shared>, headers: HeaderMap| stepped(shed, headers, false)))
        .route("/redo", post(|State(shed): State<Shared>, headers: HeaderMap| stepped(shed, headers, true)))
        .route("/pin", post(pin))
}

async fn stepped(shed: Shared, headers: HeaderMap, redo: bool) -> Response {
    let done = worked(move || if redo { shed.desk.redo() } else { shed.desk.undo() }).await;
    match done {
        Ok(_) => Redirect::to(&pressed_on(&headers)).into_response(),
        Err(why) => refusal(&why),
    }
}

/// Addresses that show a page only as the answer to a form, each with the page that the form stands on; and the page of a new
/// boat, which has nothing to show of one that is there.
const NOT_TO_GO_BACK_TO: [(&str, &str); 8] = [
    ("new", ""),
    ("new/table", ""),
    ("new/example", ""),
    ("phones/open", "phones"),
    ("phones/pair", "phones"),
    ("phones/out", "phones"),
    ("record/back", "record"),
    ("weights/aboard/out", "weights/aboard"),
];

/// The page that a form was sent from, to go back to; the first where the browser does not say.
fn pressed_on(headers: &HeaderMap) -> String {
    let from = headers.get(header::REFERER).and_then(|from| from.to_str().ok());
    let path = from.and_then(|from| from.strip_prefix("http://")?.split_once('/'));
    let path = path.map_or("", |(_, path)| path.trim_start_matches('/'));
    let other = NOT_TO_GO_BACK_TO.iter().find(|(at, _)| *at == path);
    format!("/{}", other.map_or(path, |(_, page)| page))
}

/// Does something that takes a while where nobody waits for it.
pub async fn worked<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Refused> + Send + 'static,
) -> Result<T, Refused> {
    tokio::task::spawn_blocking(work)
        .await
        .unwrap_or_else(|_| Err(Refused::Wrong("that could not be worked out".to_owned())))
}

/// A refusal as an answer.
pub fn refusal(why: &Refused) -> Response {
    let code = match why {
        Refused::Stale | Refused::Nothing(_) => StatusCode::CONFLICT,
        Refused::Wrong(_) => StatusCode::UNPROCESSABLE_ENTITY,
        Refused::Trouble(_) => StatusCode::INTERNAL_SERVER_ERROR,
    };
    (code, why.to_string()).into_response()
}

/// A mark to be pinned, or freed where there is no girth.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Pinning {
    /// The revision it was made from.
    seen: u64,
    land: usize,
    section: usize,
    girth: Option<f64>,
}

async fn pin(State(shed): State<Shared>, Json(asked): Json<Pinning>) -> Response {
    let done = worked(move || {
        let view = shed.desk.view();
        let plan = view.plan.as_ref().ok_or(Refused::Wrong("there is no plan to pin a mark in".to_owned()))?;
        let lengths = plan.spec.lengths;
        let section = plan.sections.get(asked.section).filter(|_| (1..plan.strakes.len()).contains(&asked.land));
        let Some(section) = section else { return Err(Refused::Wrong("there is no such mark".to_owned())) };
        let girth = asked.girth.filter(|g| g.is_finite()).map(|g| g.clamp(0.0, section.girth));
        let text = pins::set(view.texts.get(FileName::Marks), asked.land, &section.name, girth, lengths);
        let what = match girth {
            Some(girth) => format!("land {} pinned at {}, {}", asked.land, section.place(), lengths.said(girth)),
            None => format!("land {} freed at {}", asked.land, section.place()),
        };
        shed.desk.change(asked.seen, &what, FileName::Marks, text)
    })
    .await;
    answer(done)
}

/// A change made by a script: the new revision, or why not.
pub fn answer(done: Result<Arc<View>, Refused>) -> Response {
    match done {
        Ok(view) => {
            Json(json!({ "revision": view.revision, "what": view.what, "trouble": view.trouble })).into_response()
        }
        Err(why) => refusal(&why),
    }
}

/// A form's field with the revision it was made from.
#[derive(Debug, Deserialize)]
pub struct FileText {
    /// The revision.
    pub seen: u64,
    /// The new text.
    pub text: String,
}

/// The form of a changed file.
pub type FileForm = Form<FileText>;

#[cfg(test)]
mod tests {
    use super::*;
    use axum::body::Body;
    use axum::http::{HeaderValue, Request};
    use tower::ServiceExt;

    #[test]
    fn a_step_goes_back_to_the_page_it_was_asked_on_and_nowhere_else() {
        let back = |from: &'static str| {
            pressed_on(&HeaderMap::from_iter([(header::REFERER, HeaderValue::from_static(from))]))
        };
        assert_eq!(back("http://127.0.0.1:4000/lands"), "/lands");
        assert_eq!(back("http://127.0.0.1:4000/"), "/");
        assert_eq!(back("http://127.0.0.1:4000//boats.example/"), "/boats.example/");
        assert_eq!(back("http://127.0.0.1:4000/new"), "/");
        assert_eq!(back("http://127.0.0.1:4000/new/table"), "/");
        assert_eq!(back("http://127.0.0.1:4000/record/back"), "/record");
        assert_eq!(back("http://127.0.0.1:4000/record?before=7"), "/record?before=7");
        assert_eq!(back("about:blank"), "/");
        assert_eq!(pressed_on(&HeaderMap::new()), "/");
    }

    #[tokio::test]
    async fn where_a_step_goes_back_to_can_be_looked_at() {
        let router = crate::web::router(crate::web::shed_for_tests(), 4000);
        for (at, page) in NOT_TO_GO_BACK_TO {
            let asked = Request::builder().uri(format!("/{page}")).header("host", "127.0.0.1:4000");
            let answer = router.clone().oneshot(asked.body(Body::empty()).unwrap()).await.unwrap();
            assert_eq!(answer.status(), StatusCode::OK, "from {at} to {page}");
        }
    }
}
