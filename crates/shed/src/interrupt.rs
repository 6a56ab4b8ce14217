//! Ctrl-C while something is searched for: the best so far is taken. A second one ends the program.

use std::sync::atomic::{AtomicBool, Ordering};

static ASKED: AtomicBool = AtomicBool::new(false);

/// What a program ends with that Ctrl-C ended.
const INTERRUPTED: i32 = 130;

/// From now on Ctrl-C only asks.
pub fn listen() {
    // Where the system will not have it, Ctrl-C ends the program as ever.
    let _ = ctrlc::set_handler(|| {
        if ASKED.swap(true, Ordering::SeqCst) {
            std::process::exit(INTERRUPTED);
        }
    });
}

/// Whether somebody has asked.
pub fn asked() -> bool {
    ASKED.load(Ordering::SeqCst)
}
