//! No input may take longer or more memory than this.
//!
//! The input at hand is written to a file before it is run. Where it ends the process, by a panic, a stack that is full, memory that is
//! refused or time that is up, that file has it.

use crate::Target;
use cap::Cap;
use std::alloc::System;
use std::io::Write as _;
use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

#[global_allocator]
static MEMORY: Cap<System> = Cap::new(System, usize::MAX);

/// All memory of the process, bytes.
pub const MOST_MEMORY: usize = 500_000_000;
/// One input, by what the process has had of the processors, so that others at work do not count.
pub const MOST_TIME: Duration = Duration::from_secs(5);
/// One input, by the clock: for what waits, and where what the process has had cannot be told.
const MOST_BY_CLOCK: Duration = Duration::from_secs(60);
/// What a thread of the program has, bytes.
const STACK: usize = 2 << 20;

/// Number of the input at hand, from 1; 0 while none is.
static AT_HAND: AtomicU64 = AtomicU64::new(0);

/// What a run came to.
#[derive(Debug, Clone, Copy, Default)]
pub struct Ran {
    /// Inputs.
    pub inputs: u64,
    /// In all.
    pub time: Duration,
    /// The longest that one took.
    pub longest: Duration,
    /// Memory of the process at most so far, bytes.
    pub memory: usize,
}

/// Runs `target` on `inputs`, each written to `at_hand` first. Ends the process where one takes too long or too much memory.
///
/// # Errors
/// What cannot be written; or that an input ended in a panic.
pub fn run(target: &Target, inputs: impl Iterator<Item = Vec<u8>> + Send, at_hand: &Path) -> Result<Ran, String> {
    MEMORY.set_limit(MOST_MEMORY).map_err(|()| format!("more than {MOST_MEMORY} bytes are in use already"))?;
    let (done, watched) = std::sync::mpsc::channel::<()>();
    let watch = std::thread::spawn(move || watch(&watched));
    let run = target.run;
    let all = move || -> Result<Ran, String> {
        let mut ran = Ran::default();
        let start = Instant::now();
        for input in inputs {
            std::fs::write(at_hand, &input).map_err(|why| format!("{}: {why}", at_hand.display()))?;
            let begun = Instant::now();
            AT_HAND.store(ran.inputs + 1, Ordering::SeqCst);
            run(&input);
            AT_HAND.store(0, Ordering::SeqCst);
            ran.inputs += 1;
            ran.longest = ran.longest.max(begun.elapsed());
        }
        Ok(Ran { time: start.elapsed(), memory: MEMORY.max_allocated(), ..ran })
    };
    let ran = std::thread::scope(|scope| {
        let runner = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, all);
        let ran = runner.map_err(|why| why.to_string())?.join();
        ran.map_err(|_| format!("{}: the input in {} ends in a panic", target.name, at_hand.display()))?
    });
    AT_HAND.store(0, Ordering::SeqCst);
    drop(done);
    let _ = watch.join();
    ran
}

/// Ends the process where the same input is at hand too long. Ends itself when the other end of `until` goes.
fn watch(until: &std::sync::mpsc::Receiver<()>) {
    let (mut seen, mut since, mut had) = (0, Instant::now(), worked());
    while let Err(std::sync::mpsc::RecvTimeoutError::Timeout) = until.recv_timeout(Duration::from_millis(50)) {
        let now = AT_HAND.load(Ordering::SeqCst);
        if now != seen {
            (seen, since, had) = (now, Instant::now(), worked());
        }
        let at_work = worked().zip(had).map_or(Duration::ZERO, |(now, then)| now.saturating_sub(then));
        if now != 0 && (at_work > MOST_TIME || since.elapsed() > MOST_BY_CLOCK) {
            let _ = writeln!(std::io::stderr(), "input {now} has taken more than {} s", MOST_TIME.as_secs());
            std::process::exit(124);
        }
    }
}

/// What the process has had of the processors so far; `None` where that cannot be told.
fn worked() -> Option<Duration> {
    // Hundredths of a second, the 14th and 15th word; the 2nd is the program's name in brackets.
    let text = std::fs::read_to_string("/proc/self/stat").ok()?;
    let rest = text.rsplit_once(')')?.1;
    let hundredths: u64 = rest.split_whitespace().skip(11).take(2).filter_map(|w| w.parse::<u64>().ok()).sum();
    Some(Duration::from_millis(10 * hundredths))
}
