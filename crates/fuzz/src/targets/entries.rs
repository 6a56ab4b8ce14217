//! Entries of the record as phones send them.

use super::told;
use crate::{Spoilt, Target};

/// The program's own reader, which depends on nothing else of it.
#[path = "../../../shed/src/record/entry.rs"]
#[allow(dead_code, reason = "the program uses all of it; here it is only read")]
mod entry;

pub const ENTRY: Target =
    Target { name: "entry", spoilt: Spoilt::Anything, seeds: entries, run: read_entry, short: 20_000 };

fn entries() -> Vec<Vec<u8>> {
    let start = r#"{"id":"0123456789abcdef0123456789abcdef","at":1700000000000,"#;
    let all = [
        r#""kind":"reading","side":"port","strake":3,"section":"4","what":"from the mark","value":-2.5,"against":512.0,"typed":"2 1/2 down","corrects":null}"#,
        r#""kind":"done","side":"starboard","strake":9,"section":"stem","what":"riveted","value":12}"#,
        r#""kind":"hours","what":"timbers","value":3.25,"typed":"3 1/4"}"#,
        r#""kind":"withdrawn","corrects":"ffffffffffffffffffffffffffffffff"}"#,
    ];
    all.map(|rest| format!("{start}{rest}").into_bytes()).to_vec()
}

fn read_entry(input: &[u8]) {
    match entry::Entry::read(&String::from_utf8_lossy(input)) {
        Ok(entry) => {
            // What is kept is sent on, and read by others as what it was.
            let sent = serde_json::to_string(&entry).expect("an entry is plain text and numbers");
            assert_eq!(entry::Entry::read(&sent).as_ref(), Ok(&entry));
        }
        Err(refusal) => told(&refusal.why, input),
    }
}
