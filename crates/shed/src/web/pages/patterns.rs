//! Full-size patterns: all of them or some as one PDF, for an ordinary printer or a roll of paper, and each by itself.

use super::small::small;
use crate::arguments::{Sheet as Paper, What, width_of_roll};
use crate::web::desk::View;
use crate::web::{Shared, frame};
use axum::Router;
use axum::extract::{Path, Query, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use boat::paper::patterns::{self, Kind, Pattern};
use boat::paper::{PaperSize, write_dxf, write_svg};
use boat::units::Notation;
use clap::ValueEnum;
use maud::{Markup, html};
use std::sync::Arc;
use tokio::sync::Semaphore;

pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/patterns", get(list))
        .route("/patterns/all.pdf", get(all))
        .route("/patterns/small/{name}", get(picture))
        .route("/patterns/{file}", get(one))
}

/// Large drawings are made one at a time, so that whoever asks for many waits and nobody else does.
static DRAWING: Semaphore = Semaphore::const_new(1);
/// No roll's width takes more letters.
const LONGEST: usize = 40;

/// What the form asks for.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    kinds: Vec<What>,
    paper: Option<Paper>,
    /// As typed.
    width: String,
}

impl Asked {
    /// What the form begins with: all of them, on the paper that most people have.
    fn first(lengths: Notation) -> Asked {
        let width = if lengths == Notation::Mm { "914 mm" } else { "36 in" }.to_owned();
        Asked { kinds: What::value_variants().to_vec(), paper: Some(Paper::A4), width }
    }

    /// From the form's fields.
    fn read(fields: &[(String, String)], lengths: Notation) -> Result<Asked, String> {
        let mut asked = Asked { kinds: Vec::new(), ..Asked::first(lengths) };
        for (name, value) in fields {
            let unknown =
                || format!("there is no {name} \u{201c}{}\u{201d}", value.chars().take(LONGEST).collect::<String>());
            match name.as_str() {
                "what" => asked.kinds.push(What::from_str(value, false).map_err(|_| unknown())?),
                "paper" if value == "roll" => asked.paper = None,
                "paper" => asked.paper = Some(Paper::from_str(value, false).map_err(|_| unknown())?),
                "width" if value.chars().count() > LONGEST => return Err("that is no width of a roll".to_owned()),
                "width" => value.clone_into(&mut asked.width),
                _ => return Err("this page has no such field".to_owned()),
            }
        }
        Ok(asked)
    }

    fn wants(&self, kind: Kind) -> bool {
        self.kinds.iter().any(|what| what.kind() == kind)
    }
}

async fn list(State(shed): State<Shared>) -> Markup {
    let view = shed.desk.view();
    form(&shed, &view, &Asked::first(lengths(&view)), None).await
}

fn lengths(view: &View) -> Notation {
    view.plan.as_ref().map_or(Notation::Mm, |p| p.spec.lengths)
}

async fn form(shed: &Shared, view: &Arc<View>, asked: &Asked, why: Option<&str>) -> Markup {
    let (at, hers) = (Arc::clone(shed), Arc::clone(view));
    let named = tokio::task::spawn_blocking(move || cards(&at, &hers)).await.unwrap_or_default();
    let body = html! {
        @if named.is_empty() {
            p { "There is no plan to draw patterns of yet." }
        } @else {
            @if let Some(why) = why { p.trouble role="alert" { "Nothing drawn: " (why) "." } }
            form.asking method="get" action="/patterns/all.pdf" {
                fieldset {
                    legend { "What" }
                    div.row {
                        @for what in What::value_variants().iter().filter(|w| named.iter().any(|c| c.kind == w.kind())) {
                            label.pick {
                                input type="checkbox" name="what" value=(word(*what)) checked[asked.kinds.contains(what)];
                                span { (heading(what.kind())) }
                            }
                        }
                    }
                }
                div.row {
                    div {
                        label for="paper" { "Paper" }
                        select #paper name="paper" {
                            @for paper in Paper::value_variants() {
                                option value=(word(*paper)) selected[asked.paper == Some(*paper)] { (sheets_of(*paper)) }
                            }
                            option value="roll" selected[asked.paper.is_none()] { "A roll" }
                        }
                    }
                    div {
                        label for="width" { "Width of the roll" }
                        input.short #width type="text" name="width" value=(asked.width) maxlength=(LONGEST) autocomplete="off";
                    }
                    button.low type="submit" { "Draw them, PDF" }
                }
                p.quiet { "Print at 100 %, and measure the box on the first sheet before you cut. Many patterns on small paper take some seconds." }
            }
            @for kind in Kind::ALL {
                @let of_kind: Vec<&Card> = named.iter().filter(|c| c.kind == kind).collect();
                @if !of_kind.is_empty() {
                    h2 { (heading(kind)) }
                    ul.cards.long[matches!(kind, Kind::Plank | Kind::Tape | Kind::Keel)] { @for card in of_kind { li { (card.markup(view.revision)) } } }
                }
            }
        }
    };
    frame::page(shed, view, "/patterns", "Patterns", &[], &body)
}

/// What the list says of a pattern.
struct Card {
    kind: Kind,
    name: String,
    file: String,
    size: [f64; 2],
    lengths: Notation,
}

fn cards(shed: &Shared, view: &View) -> Vec<Card> {
    let lengths = lengths(view);
    let card = |p: &Pattern| Card {
        kind: p.kind,
        name: p.name.clone(),
        file: p.file_name.clone(),
        size: [p.sheet.width, p.sheet.height],
        lengths,
    };
    view.patterns(&shed.desk.t).iter().map(card).collect()
}

impl Card {
    fn markup(&self, revision: u64) -> Markup {
        let at = |ending: &str| format!("/patterns/{}.{ending}", self.file);
        let [wide, high] = self.size.map(|mm| self.lengths.said(mm.round()));
        html! {
            img src={ "/patterns/small/" (self.file) ".svg?" (revision) } alt={ (self.name) ", drawn small" } width=(self.size[0].round()) height=(self.size[1].round())
                loading="lazy";
            p { strong { (self.name) } br; span.quiet { (wide) " × " (high) } }
            p.row {
                @for (ending, word) in [("pdf", "A4, PDF"), ("svg", "SVG"), ("dxf", "DXF")] {
                    a.button href=(at(ending)) download aria-label={ (self.name) ", " (word) } { (word) }
                }
            }
        }
    }
}

fn word(value: impl ValueEnum) -> String {
    value.to_possible_value().map_or_else(String::new, |v| v.get_name().to_owned())
}

fn sheets_of(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "A4 sheets",
        Paper::A3 => "A3 sheets",
        Paper::A2 => "A2 sheets",
        Paper::Letter => "Letter sheets",
        Paper::Tabloid => "Tabloid sheets",
    }
}

fn heading(kind: Kind) -> &'static str {
    match kind {
        Kind::Mould => "Moulds",
        Kind::Stem => "Stem and sternpost",
        Kind::Keel => "Keel",
        Kind::Transom => "Transom",
        Kind::Plank => "Planks",
        Kind::Tape => "Tapes of the lands",
        Kind::Interior => "Thwarts and knees",
    }
}

async fn all(State(shed): State<Shared>, Query(fields): Query<Vec<(String, String)>>) -> Response {
    let view = shed.desk.view();
    let (asked, width) = match Asked::read(&fields, lengths(&view)) {
        Ok(asked) if asked.kinds.is_empty() => {
            return refused(&shed, &view, &asked, "choose what is to be drawn").await;
        }
        Ok(asked) if asked.paper.is_none() => match width_of_roll(&asked.width) {
            Ok(mm) => (asked, mm),
            Err(why) => return refused(&shed, &view, &asked, &why).await,
        },
        Ok(asked) => (asked, 0.0),
        Err(why) => return refused(&shed, &view, &Asked::first(lengths(&view)), &why).await,
    };
    let name = format!("patterns-{}.pdf", asked.paper.map_or_else(|| "roll".to_owned(), word));
    let wanted = asked.clone();
    let (at, hers) = (Arc::clone(&shed), Arc::clone(&view));
    let drawn = drawn(move || {
        let (t, plan) = (&at.desk.t, hers.plan.as_ref()?);
        let all = hers.patterns(t).iter().filter(|p| wanted.wants(p.kind)).cloned().collect::<Vec<_>>();
        if all.is_empty() {
            return None;
        }
        match wanted.paper {
            Some(paper) => patterns::write_tiles(t, plan, &all, paper.size()).ok(),
            None => patterns::write_roll(t, plan, &all, width).ok(),
        }
    })
    .await;
    match drawn {
        Some(bytes) => file(&name, "application/pdf", bytes),
        None => refused(&shed, &view, &asked, "she has none of these").await,
    }
}

async fn refused(shed: &Shared, view: &Arc<View>, asked: &Asked, why: &str) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, form(shed, view, asked, Some(why)).await).into_response()
}

/// A pattern drawn small.
async fn picture(State(shed): State<Shared>, Path(name): Path<String>) -> Response {
    let drawn = tokio::task::spawn_blocking(move || {
        let view = shed.desk.view();
        let stem = name.strip_suffix(".svg")?;
        view.patterns(&shed.desk.t).iter().find(|p| p.file_name == stem).map(|p| small(&p.sheet))
    })
    .await;
    match drawn {
        Ok(Some(svg)) => ([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response(),
        _ => (StatusCode::NOT_FOUND, "she has no such pattern").into_response(),
    }
}

/// A pattern by itself.
async fn one(State(shed): State<Shared>, Path(name): Path<String>) -> Response {
    let none = || (StatusCode::NOT_FOUND, "she has no such pattern").into_response();
    let Some((stem, ending)) = name.rsplit_once('.').map(|(s, e)| (s.to_owned(), e.to_owned())) else {
        return none();
    };
    let kind = match ending.as_str() {
        "svg" => "image/svg+xml",
        "dxf" => "image/vnd.dxf",
        "pdf" => "application/pdf",
        _ => return none(),
    };
    let view = shed.desk.view();
    let drawn = drawn(move || {
        let t = &shed.desk.t;
        let found = view.patterns(t).iter().find(|p| p.file_name == stem)?;
        match ending.as_str() {
            "svg" => Some(write_svg(t, &found.sheet).into_bytes()),
            "dxf" => Some(write_dxf(&found.sheet).into_bytes()),
            _ => patterns::write_tiles(t, view.plan.as_ref()?, std::slice::from_ref(found), PaperSize::A4).ok(),
        }
    })
    .await;
    match drawn {
        Some(bytes) if kind == "image/svg+xml" => ([(header::CONTENT_TYPE, kind)], bytes).into_response(),
        Some(bytes) => file(&name, kind, bytes),
        None => none(),
    }
}

/// Draws when it is its turn.
pub(super) async fn drawn(draw: impl FnOnce() -> Option<Vec<u8>> + Send + 'static) -> Option<Vec<u8>> {
    let turn = DRAWING.acquire().await.ok()?;
    let work = move || {
        // Held until it is drawn, even if whoever asked has gone away.
        let _turn = turn;
        draw()
    };
    tokio::task::spawn_blocking(work).await.ok().flatten()
}

/// A file to be saved.
pub(super) fn file(name: &str, kind: &'static str, bytes: Vec<u8>) -> Response {
    let kept = format!("attachment; filename=\"{name}\"");
    ([(header::CONTENT_TYPE, kind.to_owned()), (header::CONTENT_DISPOSITION, kept)], bytes).into_response()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(fields: &[(&str, &str)]) -> Result<Asked, String> {
        let fields: Vec<_> = fields.iter().map(|(n, v)| ((*n).to_owned(), (*v).to_owned())).collect();
        Asked::read(&fields, Notation::Inches)
    }

    #[test]
    fn the_form_is_read_or_refused() {
        let asked = read(&[("what", "moulds"), ("what", "tapes"), ("paper", "a3"), ("width", "36 in")]).unwrap();
        assert_eq!(
            asked,
            Asked { kinds: vec![What::Moulds, What::Tapes], paper: Some(Paper::A3), width: "36 in".to_owned() }
        );
        assert!(asked.wants(Kind::Tape) && !asked.wants(Kind::Plank));
        assert_eq!(read(&[("paper", "roll")]).unwrap().paper, None);
        for wrong in [("what", "rudder"), ("paper", "a0"), ("colour", "red"), ("width", &"9".repeat(41))] {
            assert!(read(&[wrong]).is_err(), "{wrong:?}");
        }
    }
}
