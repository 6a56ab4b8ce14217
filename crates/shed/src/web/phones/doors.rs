//! The second server: listens on the local network as long as phones are let in.

use axum::Router;
use axum::extract::ConnectInfo;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::service::TowerToHyperService;
use std::collections::HashMap;
use std::net::{IpAddr, SocketAddr};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::watch;

/// Connections at the same time, from one address and over all; more are hung up on.
const MOST_OF_ONE: usize = 128;
const MOST: usize = 512;

/// How long a head may take to come, and a connection be idle.
const HEAD: Duration = Duration::from_secs(20);

/// How long what is under way may go on when the doors are shut.
const LAST_WORDS: Duration = Duration::from_secs(3);

/// After the system has refused a connection.
const BREATH: Duration = Duration::from_millis(100);

type Open = watch::Receiver<Option<SocketAddr>>;

/// Serves as long as phones are let in at this address.
pub async fn serve(listener: TcpListener, at: SocketAddr, inside: Router, mut open: Open) {
    let counts = Arc::new(Counts::default());
    loop {
        tokio::select! {
            came = listener.accept() => match came {
                Ok((stream, from)) => {
                    if let Some(place) = Counts::place(&counts, from.ip()) {
                        tokio::spawn(talk(stream, from, at, inside.clone(), open.clone(), place));
                    }
                }
                Err(_) => tokio::time::sleep(BREATH).await,
            },
            () = shut(&mut open, at) => return,
        }
    }
}

/// Comes back when phones are let in at this address no longer.
async fn shut(open: &mut Open, at: SocketAddr) {
    let _ = open.wait_for(|now| *now != Some(at)).await;
}

async fn talk(stream: TcpStream, from: SocketAddr, at: SocketAddr, inside: Router, mut open: Open, _place: Place) {
    let inside = inside.layer(axum::Extension(ConnectInfo(from)));
    let inside = TowerToHyperService::new(inside.into_service::<Incoming>());
    let mut builder = http1::Builder::new();
    builder.timer(TokioTimer::new()).header_read_timeout(HEAD);
    let talk = builder.serve_connection(TokioIo::new(stream), inside).with_upgrades();
    tokio::pin!(talk);
    tokio::select! {
        _ = talk.as_mut() => {}
        () = shut(&mut open, at) => {
            talk.as_mut().graceful_shutdown();
            let _ = tokio::time::timeout(LAST_WORDS, talk).await;
        }
    }
}

/// Connections there are, by address.
#[derive(Debug, Default)]
struct Counts(Mutex<HashMap<IpAddr, usize>>);

/// The place of one connection.
struct Place {
    counts: Arc<Counts>,
    of: IpAddr,
}

impl Counts {
    fn place(counts: &Arc<Counts>, of: IpAddr) -> Option<Place> {
        let mut all = counts.0.lock().unwrap_or_else(PoisonError::into_inner);
        let here = all.get(&of).copied().unwrap_or_default();
        if here >= MOST_OF_ONE || all.values().sum::<usize>() >= MOST {
            return None;
        }
        all.insert(of, here + 1);
        drop(all);
        Some(Place { counts: Arc::clone(counts), of })
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut all = self.counts.0.lock().unwrap_or_else(PoisonError::into_inner);
        match all.get_mut(&self.of) {
            Some(here) if *here > 1 => *here -= 1,
            _ => drop(all.remove(&self.of)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn connections_are_counted_and_given_back() {
        let counts = Arc::new(Counts::default());
        let place = |n: u8| Counts::place(&counts, IpAddr::from([10, 0, 0, n]));
        let mut all: Vec<Place> = (0..MOST_OF_ONE).map(|_| place(1).unwrap()).collect();
        assert!(place(1).is_none());
        all.pop();
        all.push(place(1).unwrap());
        all.extend((2..5).flat_map(|n| (0..MOST_OF_ONE).map(move |_| n)).map(|n| place(n).unwrap()));
        assert!(place(9).is_none(), "more than {MOST}");
        drop(all);
        assert!(counts.0.lock().unwrap().is_empty());
    }
}
