//! The shed's screen: the open boat as pages on this machine.
//!
//! One `Desk` holds the boat (`desk`), kept in her folder (`store`); pages are made here in full (`pages`), so that they can be
//! read, printed and gone back to without any script. Scripts, served from this one binary, only bring what moves: a websocket
//! (`live`) tells of changes and answers while a mark is dragged. `laying` lays her planks out on her boards; `guard` decides
//! who is let in. What is measured at the boat comes in over `entries`, from this machine or from `phones`.

mod boat_live;
mod boatside;
mod browser;
mod caller;
mod desk;
mod entries;
mod frame;
mod guard;
mod laying;
mod live;
mod numbers;
mod pages;
mod phones;
mod pins;
mod stands;
mod store;

pub use phones::NotLetIn;

use crate::examples::Example;
use crate::output::{remark, result};
use crate::record::Record;
use crate::trouble::Trouble;
use axum::Router;
use axum::extract::DefaultBodyLimit;
use boat::drawing::typeface::Type;
use boat::paper::PaperError;
use desk::Desk;
use guard::{Guard, LARGEST, guard};
use laying::Laying;
use phones::Phones;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use std::time::Duration;
use store::Texts;

/// How often the folder is looked at for files that another program has written.
const LOOK: Duration = Duration::from_millis(400);

/// What the pages need.
pub struct Shed {
    /// The open boat.
    pub desk: Desk,
    /// Her planks on her boards.
    pub laying: Laying,
    /// What was measured and done.
    pub record: Record,
    /// The phones at the boat.
    pub phones: Phones,
    /// How she stands, as it was worked out last.
    pub stands: stands::Last,
    /// Where she comes from, in words.
    pub from: String,
}

/// What every handler is given.
pub type Shared = Arc<Shed>;

/// How to open the screen.
pub struct Asked {
    /// The boat's folder; `None`: an example, in memory.
    pub folder: Option<PathBuf>,
    /// Which example.
    pub example: Example,
    /// The port; 0: any that is free.
    pub port: u16,
    /// Open the browser, too.
    pub browse: bool,
    /// Let phones in from the start, at an address or at the likeliest.
    pub phones: Option<Option<Ipv4Addr>>,
}

/// Serves until it is interrupted.
///
/// # Errors
/// A folder that cannot be read, a port that is taken.
pub fn run(asked: Asked) -> Result<ExitCode, Trouble> {
    let t = Type::embedded().map_err(PaperError::from)?;
    let from =
        asked.folder.as_ref().map_or_else(|| "in memory only".to_owned(), |folder| folder.display().to_string());
    let example = Texts::of(&asked.example.files());
    let desk = Desk::open(asked.folder.clone(), example, t)?;
    let record = Record::of(asked.folder.clone());
    let shed: Shared = Arc::new(Shed {
        desk,
        laying: Laying::new(),
        record,
        phones: Phones::new(),
        stands: stands::Last::default(),
        from,
    });
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(|why| Trouble::Serve { port: asked.port, why })?;
    runtime.block_on(serve(shed, asked))
}

/// Titles of the book's sheets.
pub async fn sheets_of(shed: &Shared, view: &Arc<desk::View>) -> Vec<String> {
    let (view, shed) = (Arc::clone(view), Arc::clone(shed));
    let titles = move || view.book(&shed.desk.t).iter().map(|s| s.title.clone()).collect();
    tokio::task::spawn_blocking(titles).await.unwrap_or_default()
}

async fn serve(shed: Shared, asked: Asked) -> Result<ExitCode, Trouble> {
    let trouble = |why| Trouble::Serve { port: asked.port, why };
    let address = SocketAddr::from((Ipv4Addr::LOCALHOST, asked.port));
    let listener = tokio::net::TcpListener::bind(address).await.map_err(trouble)?;
    let port = listener.local_addr().map_err(trouble)?.port();
    let at = format!("http://127.0.0.1:{port}/");
    shed.record.begin(&at).await;
    // Whoever cannot be let in is told before anything else is.
    if let Some(address) = asked.phones {
        phones::let_in(&shed, address).await?;
    }
    result(format!("{at}\n").as_bytes())?;
    let what = match &asked.folder {
        Some(_) => shed.from.clone(),
        None => format!("the example {}, in memory only,", asked.example.name()),
    };
    remark(&format!("{what} is open there; end with Ctrl-C"));
    if let Some(address) = asked.phones {
        invite(&shed, address).await?;
    }
    if asked.browse {
        browser::open(&at);
    }
    let looking = Arc::clone(&shed);
    tokio::spawn(async move {
        let mut tick = tokio::time::interval(LOOK);
        loop {
            tick.tick().await;
            let shed = Arc::clone(&looking);
            let _ = tokio::task::spawn_blocking(move || shed.desk.look()).await;
        }
    });
    let ending = Arc::clone(&shed);
    let stop = async move {
        let _ = tokio::signal::ctrl_c().await;
        let _ = tokio::task::spawn_blocking(move || ending.laying.end()).await;
    };
    axum::serve(listener, router(Arc::clone(&shed), port)).with_graceful_shutdown(stop).await.map_err(trouble)?;
    shed.phones.shut().await;
    let _ = tokio::task::spawn_blocking(move || shed.record.end()).await;
    Ok(ExitCode::SUCCESS)
}

/// Lets phones in and shows the first the way.
async fn invite(shed: &Shared, address: Option<Ipv4Addr>) -> Result<(), Trouble> {
    phones::let_in(shed, address).await?;
    let at = shed.phones.invite("Phone")?;
    if let Some(exposed) = phones::exposed(shed) {
        remark(&exposed);
    }
    remark(&format!("pair a phone within {} minutes: {at}", phones::GOOD_FOR.as_secs() / 60));
    if let Some(lines) = phones::lines(&at) {
        remark(&format!("or hold it up to this; the page Phones shows one for each more\n{lines}"));
    }
    Ok(())
}

/// All there is to ask for.
fn router(shed: Shared, port: u16) -> Router {
    pages::routes()
        .merge(live::routes())
        .merge(frame::routes())
        .merge(boatside::routes())
        .merge(entries::routes())
        .merge(boat_live::routes())
        .layer(axum::middleware::from_fn(caller::this_machine))
        .layer(DefaultBodyLimit::max(LARGEST))
        .layer(axum::middleware::from_fn_with_state(Arc::new(Guard::of_this_machine(port)), guard))
        .with_state(shed)
}

/// The example, in memory.
#[cfg(test)]
pub fn shed_for_tests() -> Shared {
    let texts = Texts::of(&Example::Dinghy.files());
    let desk = Desk::open(None, texts, Type::embedded().expect("the program's own type")).expect("an example");
    let (record, phones) = (Record::of(None), Phones::new());
    Arc::new(Shed {
        desk,
        laying: Laying::new(),
        record,
        phones,
        stands: stands::Last::default(),
        from: String::new(),
    })
}
