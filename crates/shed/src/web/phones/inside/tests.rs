//! What a phone may ask for, route by route, as it comes over the network.

use super::*;
use crate::web::shed_for_tests;
use axum::body::Body;
use axum::extract::ConnectInfo;
use std::collections::BTreeSet;
use tower::ServiceExt;

const AT: SocketAddr = SocketAddr::new(std::net::IpAddr::V4(std::net::Ipv4Addr::new(192, 168, 1, 7)), 4747);
const METHODS: [&str; 7] = ["GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"];
const CODE: &str = "0123456789abcdef0123456789abcdef";

/// Every address of a router, and one that it has not: as axum prints them, so that none is forgotten here.
fn paths(router: &Router) -> BTreeSet<String> {
    let printed = format!("{router:?}");
    // Where nothing is found axum has addresses of its own.
    let quoted = printed.split('"').filter(|t| t.starts_with('/') && !t.contains(' ') && !t.contains("__private"));
    let found: BTreeSet<String> = quoted.map(|path| path.replace("{code}", CODE)).collect();
    assert!(found.contains("/boat/entries") || found.contains("/lands"), "axum prints its routes no more: {printed}");
    found
}

struct Net {
    shed: Shared,
    router: Router,
}

struct Got {
    code: u16,
    cookie: Option<String>,
    text: String,
}

impl Net {
    fn new() -> Net {
        let shed = shed_for_tests();
        shed.phones.open.send_replace(Some(AT));
        let router =
            router(&shed, AT).layer(axum::Extension(ConnectInfo(SocketAddr::from(([192, 168, 1, 20], 50_000)))));
        Net { shed, router }
    }

    async fn ask(&self, method: &str, path: &str, cookie: Option<&str>, body: &str) -> Got {
        self.ask_with(
            method,
            path,
            cookie,
            body,
            &[("host", "192.168.1.7:4747"), ("origin", "http://192.168.1.7:4747")],
        )
        .await
    }

    async fn ask_with(
        &self,
        method: &str,
        path: &str,
        cookie: Option<&str>,
        body: &str,
        head: &[(&str, &str)],
    ) -> Got {
        let mut request = Request::builder().method(method).uri(path);
        for (name, value) in head.iter().copied().chain(cookie.map(|c| ("cookie", c))) {
            request = request.header(name, value);
        }
        let response = self.router.clone().oneshot(request.body(Body::from(body.to_owned())).unwrap()).await.unwrap();
        let code = response.status().as_u16();
        let cookie = response.headers().get(header::SET_COOKIE).map(|c| c.to_str().unwrap().to_owned());
        let text = axum::body::to_bytes(response.into_body(), 1 << 20).await.unwrap();
        Got { code, cookie, text: String::from_utf8_lossy(&text).into_owned() }
    }

    /// Pairs a phone; its cookie.
    async fn pair(&self, name: &str) -> String {
        let address = self.shed.phones.invite(name).unwrap();
        let path = address.strip_prefix("http://192.168.1.7:4747").unwrap();
        assert_eq!(self.ask("GET", path, None, "").await.code, 200);
        let got = self.ask("POST", path, None, "").await;
        assert_eq!(got.code, 303);
        let cookie = got.cookie.unwrap();
        assert!(cookie.contains("; HttpOnly; SameSite=Strict"), "{cookie}");
        cookie.split(';').next().unwrap().to_owned()
    }
}

const ENTRY: &str = r#"[{"id": "0123456789abcdef0123456789abcdef", "at": 1, "kind": "hours", "what": "other", "value": 1, "typed": "1"}]"#;

#[tokio::test]
async fn whoever_is_not_paired_sees_nothing_and_writes_nothing_on_any_route() {
    let net = Net::new();
    net.pair("Ada's phone").await;
    let mut paths = paths(&net.router);
    assert!(paths.len() >= 7, "{paths:?}");
    paths.extend(
        ["/", "/none", "/boat/entries?after=0", "/boat//entries", "/assets/../boat", "/pair", "/assets/live.js"]
            .map(str::to_owned),
    );
    let name = pairing::cookie_name(&net.shed.record.kept().unwrap().identity);
    let wrong = [None, Some(format!("{name}={}", "0".repeat(64))), Some(format!("{name}=")), Some("x=y".to_owned())];
    for path in &paths {
        for method in METHODS {
            for cookie in &wrong {
                let got = net.ask(method, path, cookie.as_deref(), ENTRY).await;
                let seen = FOR_ALL.contains(&path.as_str());
                let good = match (method, path) {
                    ("GET" | "HEAD", _) if seen => got.code == 200,
                    (_, _) if seen => got.code == 405,
                    (_, path) if path.starts_with("/pair/") => [404, 405, 429].contains(&got.code),
                    _ => got.code == 401,
                };
                assert!(good, "{method} {path}: {} {}", got.code, got.text);
                let plan = net.shed.desk.view().plan.as_ref().unwrap().spec.name.clone();
                assert!(!got.text.contains(&plan) && got.cookie.is_none(), "{method} {path} tells {}", got.text);
            }
        }
    }
    assert!(net.shed.record.kept().unwrap().entries.is_empty());
    assert_eq!(net.shed.record.kept().unwrap().phones.len(), 1);
}

#[tokio::test]
async fn a_paired_phone_reaches_the_boat_and_nothing_of_the_desk() {
    let net = Net::new();
    let phone = net.pair("Ada's phone").await;
    let phone = Some(phone.as_str());
    let stored = net.ask("POST", "/boat/entries", phone, ENTRY).await;
    assert_eq!(stored.code, 200, "{}", stored.text);
    assert!(net.ask("GET", "/boat/entries", phone, "").await.text.contains("\"device\":\"Ada's phone\""));
    assert_eq!(net.ask("GET", "/boat", phone, "").await.code, 200);
    let mut inside = paths(&net.router);
    // That too is where nothing is found.
    inside.remove("/");
    let desk = paths(&crate::web::router(std::sync::Arc::clone(&net.shed), 4000));
    let both = [
        "/boat",
        "/assets/style.css",
        "/assets/mark.svg",
        "/assets/boat.js",
        "/assets/kept.js",
        "/assets/keypad.js",
        "/assets/aloud.js",
    ];
    let only_desk = desk.iter().filter(|p| !inside.contains(*p));
    let shared: Vec<&String> = desk.iter().filter(|p| inside.contains(*p)).collect();
    assert!(shared.iter().all(|p| both.iter().any(|b| p.starts_with(b))), "{shared:?}");
    let mut count = 0;
    for path in only_desk.filter(|p| !p.starts_with("/boat")) {
        for method in ["GET", "POST"] {
            assert_eq!(net.ask(method, path, phone, "").await.code, 404, "{method} {path}");
            count += 1;
        }
    }
    assert!(count > 60, "{count} addresses of the desk");
    let frame = frame::PLACES.map(|p| p.path);
    assert!(frame.iter().all(|p| desk.contains(*p)), "a page of the desk was not tried");
}

#[tokio::test]
async fn a_phone_that_is_shut_out_is_refused_at_once_and_so_is_everybody_when_the_doors_are_shut() {
    let net = Net::new();
    let (ada, ben) = (net.pair("Ada's phone").await, net.pair("Ben's phone").await);
    let code = async |who: &str| net.ask("POST", "/boat/entries", Some(who), ENTRY).await.code;
    assert_eq!((code(&ada).await, code(&ben).await), (200, 200));
    let number = net.shed.record.kept().unwrap().phones[0].number;
    net.shed.record.shut_out(number).await.unwrap();
    assert_eq!((code(&ada).await, code(&ben).await), (401, 200));
    // Paired again it sends what it still has under the same name of its own, and nothing is doubled.
    let again = net.pair("Ada's phone").await;
    assert!(net.ask("POST", "/boat/entries", Some(&again), ENTRY).await.text.contains("\"known\":[\"0123"));
    net.shed.phones.shut().await;
    assert_eq!((code(&again).await, code(&ben).await), (503, 503));
    assert!(matches!(net.shed.phones.invite("Cid's phone"), Err(crate::web::NotLetIn::Shut)));
}

#[tokio::test]
async fn other_hosts_other_people_s_pages_and_large_requests_are_refused() {
    let net = Net::new();
    let phone = net.pair("Ada's phone").await;
    let code = async |method: &str, head: &[(&str, &str)]| {
        net.ask_with(method, "/boat/entries", Some(&phone), "[]", head).await.code
    };
    let (host, own) = (("host", "192.168.1.7:4747"), ("origin", "http://192.168.1.7:4747"));
    assert_eq!(code("POST", &[host, own]).await, 200);
    for other in ["boats.example:4747", "127.0.0.1:4747", "192.168.1.7", "192.168.1.7:4000"] {
        assert_eq!(code("GET", &[("host", other)]).await, 421, "{other}");
    }
    assert_eq!(code("POST", &[host]).await, 403);
    assert_eq!(code("POST", &[host, ("origin", "http://boats.example")]).await, 403);
    let upgrade = ("upgrade", "websocket");
    assert_eq!(code("GET", &[host, upgrade, ("origin", "http://boats.example")]).await, 403);
    assert_eq!(code("POST", &[host, own, ("content-length", "1048577")]).await, 413);
    let long = format!("[{}]", "1,".repeat(600_000));
    assert_eq!(net.ask("POST", "/boat/entries", Some(&phone), &long).await.code, 413);
}

/// Two boats are open at the same address, one after the other, and a phone is paired with both.
#[tokio::test]
async fn what_was_put_down_at_another_boat_is_not_taken() {
    let net = Net::new();
    let phone = net.pair("Ada's phone").await;
    let send = async |path: &str| net.ask("POST", path, Some(&phone), ENTRY).await;
    let other = send("/boat/entries?record=0123456789abcdef").await;
    assert_eq!(other.code, 412, "{}", other.text);
    assert!(net.shed.record.kept().unwrap().entries.is_empty());
    let own = format!("/boat/entries?record={}", net.shed.record.kept().unwrap().identity);
    assert_eq!(send(&own).await.code, 200);
    assert_eq!(send("/boat/entries?record=").await.code, 200);
    assert_eq!(net.shed.record.kept().unwrap().entries.len(), 1);
}

#[tokio::test]
async fn each_phone_has_room_for_its_own_changes() {
    let net = Net::new();
    let mut phones = Vec::new();
    for n in 0..50 {
        phones.push(net.pair(&format!("Phone {n}")).await);
    }
    for (n, phone) in phones.iter().enumerate() {
        for m in 0..10 {
            let entry = ENTRY.replace("0123456789abcdef0123456789abcdef", &format!("{n:016x}{m:016x}"));
            assert_eq!(net.ask("POST", "/boat/entries", Some(phone), &entry).await.code, 200);
        }
    }
    assert_eq!(net.shed.record.kept().unwrap().entries.len(), 500);
    let mut refused = 0;
    for _ in 0..400 {
        refused += usize::from(net.ask("POST", "/boat/entries", Some(&phones[0]), "[]").await.code == 429);
    }
    assert!(refused > 100, "{refused} of 400");
    assert_eq!(net.ask("POST", "/boat/entries", Some(&phones[1]), "[]").await.code, 200);
}

#[tokio::test]
async fn wrong_codes_are_stemmed_and_tell_nothing() {
    let net = Net::new();
    let good = net.shed.phones.invite("Ada's phone").unwrap();
    let good = good.strip_prefix("http://192.168.1.7:4747").unwrap();
    let mut codes = Vec::new();
    for n in 0..12 {
        codes.push(net.ask(if n % 2 == 0 { "GET" } else { "POST" }, &format!("/pair/{n:032x}"), None, "").await.code);
    }
    assert_eq!((codes[..10].to_vec(), codes[10]), (vec![404; 10], 429));
    assert_eq!(net.ask("POST", good, None, "").await.code, 429);
    let net = Net::new();
    let good = net.shed.phones.invite("Ada's phone").unwrap();
    let good = good.strip_prefix("http://192.168.1.7:4747").unwrap();
    let used = [net.ask("POST", good, None, "").await.code, net.ask("POST", good, None, "").await.code];
    assert_eq!(used, [303, 404], "a code was good twice");
}
