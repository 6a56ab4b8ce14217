//! What is being done, for whoever waits: on a terminal only, and only after a second.

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::IsTerminal;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// Nobody minds waiting so long.
const PATIENCE: Duration = Duration::from_secs(1);

/// A spinner with the name of the stage beside it. Gone when dropped.
pub struct Progress {
    bar: ProgressBar,
    waiting: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// Begins to wait.
    pub fn new() -> Self {
        let bar = ProgressBar::with_draw_target(None, ProgressDrawTarget::hidden());
        if !std::io::stderr().is_terminal() {
            return Progress { bar, waiting: None };
        }
        if let Ok(style) = ProgressStyle::with_template("{spinner} {msg} ({elapsed})") {
            bar.set_style(style);
        }
        let (done, wait) = mpsc::channel();
        let late = bar.clone();
        let waiter = thread::spawn(move || {
            if wait.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
                late.set_draw_target(ProgressDrawTarget::stderr());
                late.enable_steady_tick(Duration::from_millis(100));
            }
        });
        Progress { bar, waiting: Some((done, waiter)) }
    }

    /// How far it has come.
    pub fn say(&self, words: String) {
        self.bar.set_message(words);
    }

    /// The next stage begins.
    pub fn stage(&self, name: &'static str) {
        self.bar.set_message(name);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((done, waiter)) = self.waiting.take() {
            drop(done);
            // The waiter only waits and draws; were it to fail, there would be nothing to clean up.
            let _ = waiter.join();
        }
        self.bar.finish_and_clear();
    }
}
