//! Opens the builder's browser.

use std::process::{Command, Stdio};

/// Asks the system to show a page. Where it cannot, the address has been printed.
pub fn open(address: &str) {
    let (program, arguments): (&str, &[&str]) = if cfg!(target_os = "windows") {
        ("cmd", &["/C", "start", ""])
    } else if cfg!(target_os = "macos") {
        ("open", &[])
    } else {
        ("xdg-open", &[])
    };
    let quiet = || Stdio::null();
    let _ = Command::new(program).args(arguments).arg(address).stdin(quiet()).stdout(quiet()).stderr(quiet()).spawn();
}
