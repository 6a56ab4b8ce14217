//! Laying her planks out on her rack while somebody looks on: one search for the whole program, on a thread of its own.
//!
//! It is told to stop by whoever thinks it good enough, by another that begins, by a change of the boat, and by the program's end.
//! What it finds is kept with the texts it was found for, so that it is there again when a change is undone.

use super::desk::View;
use super::store::{FileName, Texts};
use super::{Shared, desk::Desk};
use boat::sawing::{self, Effort, Progress, Sawn, Suited};
use boat::stock::Board;
use std::ops::ControlFlow;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::{Builder, JoinHandle};
use std::time::{Duration, Instant};
use tokio::sync::watch;

/// No answer is shown sooner after the last.
const APART: Duration = Duration::from_millis(250);
/// Answers that are kept.
const MOST_KEPT: usize = 16;
const CHANGED: &str = "She was changed while her planks were being laid out, so that was stopped.";

/// The best so far.
#[derive(Debug, Clone)]
pub struct Seen {
    /// The boards that are cut.
    pub boards: Vec<Sawn>,
    /// Planks and parts without room.
    pub without: usize,
    /// Area of what is laid out over that of what is cut.
    pub share: f64,
    /// Pairs that come out of two boards.
    pub apart: usize,
}

/// The answer.
#[derive(Debug)]
pub struct Done {
    /// The layout, scarfs where they suit it.
    pub suited: Suited,
    /// The rack.
    pub boards: Vec<Board>,
    /// Somebody thought it good enough.
    pub stopped: bool,
    /// What was left to chance came of this.
    pub seed: u64,
    /// How long it took.
    pub took: Duration,
}

/// A search that is going on.
#[derive(Debug, Clone)]
pub struct Going {
    /// Since when.
    pub began: Instant,
    /// Rounds done, all told.
    pub rounds: usize,
    /// The best so far, where there is any.
    pub seen: Option<Arc<Seen>>,
}

/// What there is for one state of the boat.
#[derive(Debug, Clone, Default)]
pub struct Look {
    /// Counts what there was to be seen; another number: look again.
    pub tick: u64,
    /// The search, if it is hers as she is now.
    pub going: Option<Going>,
    /// The answer.
    pub done: Option<Arc<Done>>,
    /// How the last search ended, where it found nothing to keep.
    pub why: Option<String>,
}

struct Run {
    id: u64,
    stop: Arc<AtomicBool>,
    texts: Texts,
    going: Going,
    thread: Option<JoinHandle<()>>,
}

struct Kept {
    texts: Texts,
    done: Arc<Done>,
    /// Searches that were made for these texts.
    times: u64,
}

#[derive(Default)]
struct State {
    run: Option<Run>,
    ids: u64,
    kept: Vec<Kept>,
    /// How the last search ended where it found nothing new to keep, and for which texts that is to be said.
    why: Option<(Texts, String)>,
    ended: bool,
}

/// The one search.
pub struct Laying {
    state: Mutex<State>,
    news: watch::Sender<u64>,
}

/// The texts that a layout hangs on.
fn hangs_on(texts: &Texts) -> Texts {
    let mut texts = texts.clone();
    texts.put(FileName::Nails, None);
    texts.put(FileName::Rates, None);
    texts
}

impl Laying {
    /// None yet.
    pub fn new() -> Laying {
        Laying { state: Mutex::new(State::default()), news: watch::Sender::new(0) }
    }

    /// Tells whenever there is something new to be seen.
    pub fn news(&self) -> watch::Receiver<u64> {
        self.news.subscribe()
    }

    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn tell(&self) {
        self.news.send_modify(|n| *n += 1);
    }

    /// What there is for the boat as `view` has her.
    pub fn look(&self, view: &View) -> Look {
        let tick = *self.news.borrow();
        let texts = hangs_on(&view.texts);
        let state = self.lock();
        Look {
            tick,
            going: state.run.as_ref().filter(|r| r.texts == texts).map(|r| r.going.clone()),
            done: state.kept.iter().find(|k| k.texts == texts).map(|k| Arc::clone(&k.done)),
            why: state.why.as_ref().filter(|w| w.0 == texts).map(|w| w.1.clone()),
        }
    }

    /// Begins, and has another that is going on stop. Each time for the same boat it looks in another order.
    ///
    /// # Errors
    /// In words, why there is nothing to lay out.
    pub fn start(shed: &Shared) -> Result<(), String> {
        let view = shed.desk.view();
        let plan = view.plan.clone().filter(|_| view.trouble.is_none()).ok_or("no plan comes of her files")?;
        let boards = view.input.as_ref().map(|i| i.boards.clone()).filter(|b| !b.is_empty());
        let boards = boards.ok_or("there is no rack to get planks out of")?;
        let texts = hangs_on(&view.texts);
        let laying = &shed.laying;
        let mut state = laying.lock();
        if state.ended {
            return Err("the program is ending".to_owned());
        }
        let before = state.run.take().and_then(|run| {
            run.stop.store(true, Ordering::SeqCst);
            run.thread
        });
        state.ids += 1;
        state.why = None;
        let id = state.ids;
        let seed = 1 + state.kept.iter().find(|k| k.texts == texts).map_or(0, |k| k.times);
        let stop = Arc::new(AtomicBool::new(false));
        let (for_thread, halt, hers) = (Arc::clone(shed), Arc::clone(&stop), texts.clone());
        let thread = Builder::new().name("laying out".to_owned()).spawn(move || {
            // Two at a time would be no faster.
            let _ = before.map(JoinHandle::join);
            let shed = for_thread;
            let began = Instant::now();
            let mut watch = Watch::new(&shed, id, &halt, hers, view.revision);
            let effort = Effort { seed, ..Effort::default() };
            let found =
                catch_unwind(AssertUnwindSafe(|| sawing::suit(&plan, &boards, effort, &mut |now| watch.hear(now))));
            let found = match found {
                Ok(Ok(suited)) => {
                    let stopped = halt.load(Ordering::SeqCst);
                    Ok(Done { suited, boards, stopped, seed, took: began.elapsed() })
                }
                Ok(Err(why)) => Err(why.to_string()),
                Err(_) => Err("the search failed; the boards are as they were".to_owned()),
            };
            shed.laying.finish(&shed.desk, id, found);
        });
        let thread = thread.map_err(|why| format!("no search could be begun: {why}"))?;
        let going = Going { began: Instant::now(), rounds: 0, seen: None };
        state.run = Some(Run { id, stop, texts, going, thread: Some(thread) });
        drop(state);
        laying.tell();
        Ok(())
    }

    /// Has the search stop: the best so far is the answer.
    pub fn stop(&self) {
        if let Some(run) = &self.lock().run {
            run.stop.store(true, Ordering::SeqCst);
        }
    }

    /// Has the search stop for good.
    pub fn end(&self) {
        let mut state = self.lock();
        state.ended = true;
        let thread = state.run.take().and_then(|run| {
            run.stop.store(true, Ordering::SeqCst);
            run.thread
        });
        drop(state);
        let _ = thread.map(JoinHandle::join);
    }

    /// Something better, perhaps.
    fn show(&self, id: u64, rounds: usize, seen: Option<Seen>) {
        if let Some(run) = self.lock().run.as_mut().filter(|r| r.id == id) {
            run.going.rounds = rounds;
            if let Some(seen) = seen {
                run.going.seen = Some(Arc::new(seen));
            }
        }
        self.tell();
    }

    /// Keeps what was found, unless another has begun or she is another boat by now.
    fn finish(&self, desk: &Desk, id: u64, found: Result<Done, String>) {
        let now = hangs_on(&desk.view().texts);
        let mut state = self.lock();
        let Some(run) = state.run.take_if(|run| run.id == id) else { return };
        state.why = match found {
            _ if run.texts != now => Some((now, CHANGED.to_owned())),
            Ok(done) => state.keep(run.texts, done),
            Err(why) => Some((run.texts, why)),
        };
        drop(state);
        self.tell();
    }
}

impl State {
    /// Keeps the better of the answers for these texts; says so where that is not the new one.
    fn keep(&mut self, texts: Texts, done: Done) -> Option<(Texts, String)> {
        let at = self.kept.iter().position(|k| k.texts == texts);
        let (kept, said) = match at.map(|i| self.kept.remove(i)) {
            Some(old) if cost(&old.done) < cost(&done) => {
                let said = (texts, "Looked again and found nothing better.".to_owned());
                (Kept { times: old.times + 1, ..old }, Some(said))
            }
            old => (Kept { texts, done: Arc::new(done), times: 1 + old.map_or(0, |k| k.times) }, None),
        };
        self.kept.push(kept);
        let over = self.kept.len().saturating_sub(MOST_KEPT);
        self.kept.drain(..over);
        said
    }
}

/// Planks and parts without room before wood cut.
fn cost(done: &Done) -> (usize, u64) {
    let sawing = &done.suited.sawing;
    (sawing.short.iter().map(|s| s.count).sum(), sawing.cut_area as u64)
}

/// Looks on, says now and then what is there, and has it stop.
struct Watch<'a> {
    shed: &'a Shared,
    id: u64,
    halt: &'a AtomicBool,
    texts: Texts,
    revision: u64,
    rounds: usize,
    round: usize,
    last: Option<Instant>,
    /// What the last that was shown lacks and cuts, mm².
    shown: [f64; 2],
}

impl<'a> Watch<'a> {
    fn new(shed: &'a Shared, id: u64, halt: &'a AtomicBool, texts: Texts, revision: u64) -> Watch<'a> {
        let shown = [f64::INFINITY; 2];
        Watch { shed, id, halt, texts, revision, rounds: 0, round: 0, last: None, shown }
    }

    fn hear(&mut self, now: &Progress<'_>) -> ControlFlow<()> {
        if self.halt.load(Ordering::SeqCst) || self.changed() {
            return ControlFlow::Break(());
        }
        self.rounds += usize::from(now.round != self.round);
        self.round = now.round;
        if self.last.is_none_or(|last| last.elapsed() >= APART) {
            self.last = Some(Instant::now());
            self.shed.laying.show(self.id, self.rounds, self.better(now));
        }
        ControlFlow::Continue(())
    }

    /// What is there now, if it is better than what was shown.
    fn better(&mut self, now: &Progress<'_>) -> Option<Seen> {
        let (missing, cut) = (now.missing(), now.best.cut);
        let [lacked, was] = self.shown;
        // Parts of other lengths differ a little in area where as much has room.
        let better = missing < lacked - 1.0 || (missing < lacked + 1.0 && cut < was);
        better.then(|| {
            self.shown = [missing, cut];
            let (without, share, apart) = (now.without_room(), now.best.share(), now.best.apart);
            Seen { boards: now.boards(), without, share, apart }
        })
    }

    /// Whether she is another boat by now.
    fn changed(&mut self) -> bool {
        let revision = *self.shed.desk.news().borrow();
        if revision == self.revision {
            return false;
        }
        self.revision = revision;
        hangs_on(&self.shed.desk.view().texts) != self.texts
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::web::shed_for_tests;

    fn until(what: impl Fn() -> bool, say: &str) {
        let began = Instant::now();
        while !what() {
            assert!(began.elapsed() < Duration::from_secs(120), "{say}");
            std::thread::sleep(Duration::from_millis(10));
        }
    }

    #[test]
    fn one_search_at_a_time_told_of_now_and_then_and_its_answer_kept_with_the_boat() {
        let shed = shed_for_tests();
        let look = || shed.laying.look(&shed.desk.view());
        let began = Instant::now();
        Laying::start(&shed).unwrap();
        let first = Arc::clone(&shed.laying.lock().run.as_ref().unwrap().stop);
        Laying::start(&shed).unwrap();
        assert!(first.load(Ordering::SeqCst), "two searches go on");
        until(|| look().going.is_some_and(|g| g.seen.is_some()), "nothing is shown");
        shed.laying.stop();
        until(|| look().done.is_some(), "it does not stop");
        let done = look().done.unwrap();
        assert!(done.stopped && look().going.is_none() && !done.suited.sawing.boards.is_empty());
        let most = began.elapsed().as_secs_f64() * 4.0 + 6.0;
        assert!((look().tick as f64) < most, "told {} times, {most:.0} at most", look().tick);

        shed.desk.change(1, "no rack", FileName::Boards, None).unwrap();
        assert!(look().done.is_none(), "an answer for another rack is shown");
        assert_eq!(Laying::start(&shed).unwrap_err(), "there is no rack to get planks out of");
        shed.desk.undo().unwrap();
        assert!(Arc::ptr_eq(&look().done.unwrap(), &done), "the answer is not there again");

        Laying::start(&shed).unwrap();
        until(|| look().going.is_some_and(|g| g.rounds > 0), "it does not begin");
        let revision = shed.desk.view().revision;
        shed.desk.change(revision, "no rates", FileName::Rates, None).unwrap();
        assert!(look().going.is_some(), "rates have nothing to do with boards");
        shed.desk.change(revision + 1, "no rack", FileName::Boards, None).unwrap();
        until(|| look().why.is_some(), "it goes on with another boat");
        assert_eq!(look().why.unwrap(), CHANGED);
        assert!(look().done.is_none());
        shed.laying.end();
        assert!(Laying::start(&shed).is_err());
    }
}
