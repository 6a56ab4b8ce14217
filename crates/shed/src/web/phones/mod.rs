//! Phones at the boat: which are let in, where, and what they see.
//!
//! By default nobody is let in: the server of her pages listens on this machine alone. Letting phones in starts a second one
//! (`doors`) on an address of the local network, with what is needed at the boat (`inside`) and nothing of the desk. A phone is
//! paired with a code that is good once (`codes`, `pairing`), and shut out for good with one press.

mod addresses;
mod codes;
mod doors;
mod inside;
mod pairing;
mod qr;

pub use addresses::{Reach, addresses};
pub use codes::{Code, GOOD_FOR};
pub use qr::{drawing, lines};

use super::Shared;
use super::guard::Bucket;
use crate::record::{Phone, RecordError, now_ms};
use codes::{Codes, digest, same};
use std::collections::HashMap;
use std::net::{Ipv4Addr, SocketAddr};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::Instant;
use tokio::sync::watch;

/// Where phones find her if nothing else is there: always the same, because what a phone has not sent yet is kept under the
/// address it had.
const FIRST_PORT: u16 = 4747;

/// Ports tried after that one.
const MORE_PORTS: u16 = 10;

/// Longest name of a phone, letters.
const LONGEST_NAME: usize = 40;

/// Why phones cannot be let in.
#[derive(Debug, thiserror::Error)]
pub enum NotLetIn {
    /// There is nowhere to keep what they send.
    #[error("what phones send could not be kept. {0}")]
    Record(#[from] RecordError),
    /// The machine is in no network, or not at that address.
    #[error(
        "this machine {}: join the network that the phones are in, and try again, or say which address to use (--phones=ADDRESS, or \
         on the page Phones). It has {has}",
        .asked.map_or("has no address on a network of one's own".to_owned(), |ip| format!("has no address {ip}"))
    )]
    NoAddress {
        /// The address asked for.
        asked: Option<Ipv4Addr>,
        /// Those it has.
        has: String,
    },
    /// The address cannot be listened on.
    #[error("nobody can be let in at {ip}: {why}")]
    Listen {
        /// The address.
        ip: Ipv4Addr,
        /// What the system says.
        why: std::io::Error,
    },
    /// The system gives no random bytes.
    #[error("no code could be made: {0}")]
    Random(#[from] getrandom::Error),
    /// A name that is none.
    #[error("name: \"{0}\" is no name for a phone; give it 1 to {LONGEST_NAME} letters, such as Ada's phone")]
    Name(String),
    /// Doors that are shut.
    #[error("no phone can be paired while none are let in: let them in first")]
    Shut,
}

/// What is known about phones while the program runs.
pub struct Phones {
    open: watch::Sender<Option<SocketAddr>>,
    /// One at a time opens or shuts.
    turn: tokio::sync::Mutex<()>,
    codes: Mutex<Codes>,
    seen: Mutex<HashMap<i64, Seen>>,
}

/// When a phone was here last, and how much it changes.
struct Seen {
    at_ms: i64,
    changes: Bucket,
}

impl Phones {
    /// Nobody is let in.
    pub fn new() -> Phones {
        Phones {
            open: watch::Sender::new(None),
            turn: tokio::sync::Mutex::new(()),
            codes: Mutex::new(Codes::new(Instant::now())),
            seen: Mutex::default(),
        }
    }

    /// Where phones are let in.
    pub fn open_at(&self) -> Option<SocketAddr> {
        *self.open.borrow()
    }

    /// Tells when phones are let in or shut out.
    pub fn news(&self) -> watch::Receiver<Option<SocketAddr>> {
        self.open.subscribe()
    }

    /// Nobody is let in any more.
    pub async fn shut(&self) {
        let _turn = self.turn.lock().await;
        self.codes().clear();
        self.open.send_replace(None);
    }

    /// Makes a code for one more phone: the address that it is to open.
    ///
    /// # Errors
    /// [`NotLetIn`].
    pub fn invite(&self, name: &str) -> Result<String, NotLetIn> {
        let name = name.trim();
        let long = name.chars().count();
        if !(1..=LONGEST_NAME).contains(&long) || name.chars().any(char::is_control) {
            let short = name.chars().filter(|c| !c.is_control()).take(LONGEST_NAME).collect();
            return Err(NotLetIn::Name(short));
        }
        let at = self.open_at().ok_or(NotLetIn::Shut)?;
        let code = self.codes().make(name, Instant::now())?;
        Ok(pairing_address(at, &code))
    }

    /// The code made last, while it is good, and the address a phone opens with it.
    pub fn invited(&self) -> Option<(Code, String)> {
        let at = self.open_at()?;
        let code = self.codes().newest(Instant::now())?.clone();
        let address = pairing_address(at, &code.text);
        Some((code, address))
    }

    /// The phone that has this token.
    fn who<'a>(&self, phones: &'a [Phone], token: &str) -> Option<&'a Phone> {
        let token = digest(token);
        phones.iter().fold(None, |found, phone| {
            if same(&phone.token_sha256, &token) && phone.shut_out.is_none() { Some(phone) } else { found }
        })
    }

    /// Notes that a phone is here; whether it may change something now.
    fn saw(&self, phone: i64, changes: bool) -> bool {
        let now = Instant::now();
        let mut seen = self.seen.lock().unwrap_or_else(PoisonError::into_inner);
        let seen = seen.entry(phone).or_insert_with(|| Seen { at_ms: 0, changes: Bucket::of_changes(now) });
        seen.at_ms = now_ms();
        !changes || seen.changes.take(now)
    }

    /// When a phone was seen last since the program began, in words.
    pub fn last_seen(&self, phone: i64) -> String {
        let at = self.seen.lock().unwrap_or_else(PoisonError::into_inner).get(&phone).map(|s| s.at_ms);
        let Some(at) = at else { return "not seen yet".to_owned() };
        match (now_ms() - at).max(0) / 60_000 {
            0 => "seen just now".to_owned(),
            1 => "seen a minute ago".to_owned(),
            minutes @ 2..60 => format!("seen {minutes} minutes ago"),
            minutes => format!("seen {} h ago", minutes / 60),
        }
    }

    fn codes(&self) -> MutexGuard<'_, Codes> {
        self.codes.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

fn pairing_address(at: SocketAddr, code: &str) -> String {
    format!("http://{at}/pair/{code}")
}

/// Lets phones in at an address of this machine, or at the likeliest; where that is.
///
/// # Errors
/// [`NotLetIn`]; then it is as it was.
pub async fn let_in(shed: &Shared, asked: Option<Ipv4Addr>) -> Result<SocketAddr, NotLetIn> {
    let _turn = shed.phones.turn.lock().await;
    let all = addresses();
    let ip = match asked {
        Some(ip) => all.iter().find(|a| a.ip == ip),
        None => all.iter().find(|a| a.reach == Reach::Local),
    };
    let ip = match ip {
        Some(address) => address.ip,
        None => {
            let has = all.iter().map(|a| format!("{} ({})", a.ip, a.means())).collect::<Vec<_>>().join(", ");
            return Err(NotLetIn::NoAddress { asked, has });
        }
    };
    if let Some(at) = shed.phones.open_at().filter(|at| at.ip() == ip) {
        return Ok(at);
    }
    // Whoever is let in writes: it must be possible.
    shed.record.hold().await?;
    let before = shed.record.kept()?.port;
    let ports = before.into_iter().chain(FIRST_PORT..=FIRST_PORT + MORE_PORTS).chain([0]);
    let mut listening = Err(std::io::Error::other("no port is free"));
    for port in ports {
        listening = tokio::net::TcpListener::bind((ip, port)).await;
        if listening.is_ok() {
            break;
        }
    }
    let listener = listening.map_err(|why| NotLetIn::Listen { ip, why })?;
    let at = listener.local_addr().map_err(|why| NotLetIn::Listen { ip, why })?;
    if before != Some(at.port()) {
        shed.record.remember_port(at.port()).await?;
    }
    shed.phones.open.send_replace(Some(at));
    tokio::spawn(doors::serve(listener, at, inside::router(shed, at), shed.phones.news()));
    Ok(at)
}

/// What is exposed, where and to whom, in words; nothing where nobody is let in.
pub fn exposed(shed: &Shared) -> Option<String> {
    let at = shed.phones.open_at()?;
    let who = match shed.record.kept() {
        Ok(kept) => {
            let here = kept.phones.iter().filter(|p| p.shut_out.is_none());
            let here: Vec<String> =
                here.map(|p| format!("{} ({})", p.name, shed.phones.last_seen(p.number))).collect();
            if here.is_empty() { "no phone yet".to_owned() } else { here.join(", ") }
        }
        Err(why) => why.to_string(),
    };
    let what = "Phones are let in: the page at the boat, and reading and adding to her record";
    Some(format!("{what}, at http://{at}/, for {who}."))
}
