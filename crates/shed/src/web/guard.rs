//! Who is let in.
//!
//! The server of her pages listens on this machine alone; what phones may ask for is another's (`phones`). But a page from
//! anywhere may ask the browser to call it, so every request must name this very host (against names that are made to point
//! here), and whatever changes something, the websocket too, must come from one of our own pages. Pages may load nothing but
//! what this server sends.

use axum::extract::{Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

/// Changes in a second, and so many at once: more than a hand makes that drags or types, and few enough to be worked out.
const RATE: f64 = 40.0;
const BURST: f64 = 160.0;

/// The port that browsers leave out of a host's name.
const UNSAID_PORT: u16 = 80;

/// No request is larger, bytes.
pub const LARGEST: usize = 4 << 20;

/// What pages may do: load from here, and nothing else from anywhere.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; \
    connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'";

/// So many at once, and so many more a second.
#[derive(Debug)]
pub struct Bucket {
    rate: f64,
    burst: f64,
    left: f64,
    at: Instant,
}

impl Bucket {
    /// `rate` a second, and `burst` at once.
    pub fn new(rate: f64, burst: f64, now: Instant) -> Bucket {
        Bucket { rate, burst, left: burst, at: now }
    }

    /// For changes that one of ours makes.
    pub fn of_changes(now: Instant) -> Bucket {
        Bucket::new(RATE, BURST, now)
    }

    /// Whether there is room for one more.
    pub fn has_room(&mut self, now: Instant) -> bool {
        self.left = (self.left + self.rate * now.duration_since(self.at).as_secs_f64()).min(self.burst);
        self.at = now;
        self.left >= 1.0
    }

    /// Takes one, where there is room.
    pub fn take(&mut self, now: Instant) -> bool {
        let room = self.has_room(now);
        if room {
            self.left -= 1.0;
        }
        room
    }
}

/// What is said to whoever asks too often.
pub const TOO_MANY: &str = "too many changes at once: wait a second";

/// Knows the hosts that may be asked for, and counts.
pub struct Guard {
    hosts: Vec<String>,
    largest: usize,
    bucket: Option<Mutex<Bucket>>,
}

impl Guard {
    /// For the server of this machine, on that port.
    pub fn of_this_machine(port: u16) -> Guard {
        let hosts = ["127.0.0.1", "localhost", "[::1]"].iter().flat_map(|name| named(name, port)).collect();
        Guard { hosts, largest: LARGEST, bucket: Some(Mutex::new(Bucket::of_changes(Instant::now()))) }
    }

    /// For a server at that address, whose requests are at most `largest` bytes and counted elsewhere.
    pub fn at(at: SocketAddr, largest: usize) -> Guard {
        Guard { hosts: named(&at.ip().to_string(), at.port()), largest, bucket: None }
    }

    /// Why a request is not let in.
    fn refuses(&self, method: &Method, headers: &HeaderMap) -> Option<(StatusCode, &'static str)> {
        let text = |name| headers.get(name).and_then(|v: &HeaderValue| v.to_str().ok());
        let Some(host) = text(header::HOST).filter(|h| self.hosts.iter().any(|own| own == h)) else {
            return Some((StatusCode::MISDIRECTED_REQUEST, "this is not the host that was asked for"));
        };
        let safe = *method == Method::GET || *method == Method::HEAD;
        let upgrade = headers.contains_key(header::UPGRADE);
        if !safe || upgrade {
            let own = text(header::ORIGIN) == Some(format!("http://{host}").as_str());
            if !own {
                return Some((StatusCode::FORBIDDEN, "this came from a page of somebody else's"));
            }
        }
        if text(header::CONTENT_LENGTH).and_then(|l| l.parse::<usize>().ok()).is_some_and(|long| long > self.largest)
        {
            return Some((StatusCode::PAYLOAD_TOO_LARGE, "nothing of a boat's is so large"));
        }
        let cross =
            matches!(text(header::HeaderName::from_static("sec-fetch-site")), Some("cross-site" | "same-site"));
        let visit = text(header::HeaderName::from_static("sec-fetch-mode")) == Some("navigate");
        if cross && !(safe && visit) {
            return Some((StatusCode::FORBIDDEN, "this came from a page of somebody else's"));
        }
        if !safe && !self.has_room() {
            return Some((StatusCode::TOO_MANY_REQUESTS, TOO_MANY));
        }
        None
    }

    fn has_room(&self) -> bool {
        let take = |b: &Mutex<Bucket>| b.lock().unwrap_or_else(PoisonError::into_inner).take(Instant::now());
        self.bucket.as_ref().is_none_or(take)
    }
}

/// What a browser calls a host on a port.
fn named(host: &str, port: u16) -> Vec<String> {
    let whole = format!("{host}:{port}");
    if port == UNSAID_PORT { vec![host.to_owned(), whole] } else { vec![whole] }
}

/// Lets a request in or not, and says on every answer what pages may do.
pub async fn guard(State(guard): State<Arc<Guard>>, request: Request, next: Next) -> Response {
    let refused = guard.refuses(request.method(), request.headers());
    let mut response = match refused {
        Some((code, why)) => (code, why).into_response(),
        None => next.run(request).await,
    };
    let headers = response.headers_mut();
    for (name, value) in [
        ("content-security-policy", POLICY),
        ("x-content-type-options", "nosniff"),
        ("referrer-policy", "same-origin"),
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
        ("x-frame-options", "DENY"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}

#[cfg(test)]
mod tests {
    use super::*;

    fn headers(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        pairs.iter().map(|(n, v)| (header::HeaderName::from_static(n), HeaderValue::from_static(v))).collect()
    }

    #[test]
    fn only_this_host_and_our_own_pages_are_let_in() {
        let guard = Guard::of_this_machine(4000);
        let code = |method: Method, pairs: &[(&'static str, &'static str)]| {
            guard.refuses(&method, &headers(pairs)).map(|r| r.0.as_u16())
        };
        assert_eq!(code(Method::GET, &[("host", "127.0.0.1:4000")]), None);
        assert_eq!(code(Method::GET, &[("host", "localhost:4000")]), None);
        for host in ["evil.example:4000", "127.0.0.1", "127.0.0.1:4001", "localhost.evil.example:4000"] {
            assert_eq!(code(Method::GET, &[("host", host)]), Some(421), "{host}");
        }
        assert_eq!(code(Method::GET, &[]), Some(421));
        let own = ("origin", "http://127.0.0.1:4000");
        let host = ("host", "127.0.0.1:4000");
        assert_eq!(code(Method::POST, &[host, own]), None);
        assert_eq!(code(Method::POST, &[host]), Some(403));
        assert_eq!(code(Method::POST, &[host, own, ("content-length", "4194305")]), Some(413));
        assert_eq!(code(Method::POST, &[host, own, ("content-length", "4194304")]), None);
        assert_eq!(code(Method::POST, &[host, ("origin", "null")]), Some(403));
        assert_eq!(code(Method::POST, &[host, ("origin", "http://localhost:4000")]), Some(403));
        assert_eq!(
            code(Method::GET, &[host, ("upgrade", "websocket"), ("origin", "http://evil.example")]),
            Some(403)
        );
        assert_eq!(code(Method::GET, &[host, ("upgrade", "websocket"), own]), None);
        let cross = ("sec-fetch-site", "cross-site");
        assert_eq!(code(Method::GET, &[host, cross, ("sec-fetch-mode", "no-cors")]), Some(403));
        assert_eq!(code(Method::GET, &[host, cross, ("sec-fetch-mode", "navigate")]), None);
        assert_eq!(code(Method::POST, &[host, own, cross, ("sec-fetch-mode", "navigate")]), Some(403));
    }

    #[test]
    fn the_port_that_browsers_leave_out_may_be_left_out() {
        let phones = SocketAddr::from(([192, 168, 1, 7], 80));
        for (guard, host, origin) in [
            (Guard::of_this_machine(80), "127.0.0.1", "http://127.0.0.1"),
            (Guard::of_this_machine(80), "localhost", "http://localhost"),
            (Guard::of_this_machine(80), "127.0.0.1:80", "http://127.0.0.1:80"),
            (Guard::at(phones, LARGEST), "192.168.1.7", "http://192.168.1.7"),
        ] {
            assert_eq!(guard.refuses(&Method::POST, &headers(&[("host", host), ("origin", origin)])), None, "{host}");
            assert!(guard.refuses(&Method::GET, &headers(&[("host", "boats.example")])).is_some());
        }
    }

    #[test]
    fn a_flood_of_changes_is_stemmed() {
        let guard = Guard::of_this_machine(4000);
        let all = headers(&[("host", "127.0.0.1:4000"), ("origin", "http://127.0.0.1:4000")]);
        let refused = (0..1000).filter(|_| guard.refuses(&Method::POST, &all).is_some()).count();
        assert!(refused > 500, "{refused} of 1000");
    }
}
