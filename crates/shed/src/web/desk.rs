//! The boat that lies open on the desk: her texts, what comes of them, and how to go back.
//!
//! A change is the new text of a file, or of several together. It is written to the folder first, whole, and only then
//! shown; whoever made it says which revision they had before them, so that nobody overwrites what they have not seen.
//! Changes made to the files by other programs are taken in the same way and can be undone like one's own.

use super::store::{FileName, Stamp, Store, Texts};
use crate::files::LARGEST;
use crate::trouble::Trouble;
use boat::drawing::Sheet;
use boat::drawing::typeface::Type;
use boat::folder::{self, BoatInput, BoatTexts};
use boat::lines::{self, Lines};
use boat::paper::patterns::{self, Kind, Pattern};
use boat::paper::{PaperSize, book};
use boat::plan::{self, Plan, PlanError};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, OnceLock, PoisonError};
use tokio::sync::watch;

/// Changes that can be undone; the oldest are forgotten.
const MOST_UNDO: usize = 500;

/// The texts at one time, and what comes of them.
pub struct View {
    /// Grows by one with every change.
    pub revision: u64,
    /// The files.
    pub texts: Texts,
    /// The folder as read.
    pub input: Option<Arc<BoatInput>>,
    /// Her lines.
    pub lines: Option<Arc<Lines>>,
    /// The plan; where there is none, the last there was.
    pub plan: Option<Arc<Plan>>,
    /// Why there is none of these texts.
    pub trouble: Option<String>,
    /// What the last change was, in words.
    pub what: String,
    /// What undoing would take back, and what redoing would bring again.
    pub undo: Option<String>,
    pub redo: Option<String>,
    book: OnceLock<Vec<Sheet>>,
    patterns: OnceLock<Vec<Pattern>>,
}

impl View {
    /// She as `before` has her, one of her files being unreadable now.
    fn unreadable(before: &View, why: String) -> View {
        View {
            revision: before.revision + 1,
            texts: before.texts.clone(),
            input: before.input.clone(),
            lines: before.lines.clone(),
            plan: before.plan.clone(),
            trouble: Some(why),
            what: "one of her files cannot be read".to_owned(),
            undo: None,
            redo: None,
            book: OnceLock::new(),
            patterns: OnceLock::new(),
        }
    }

    /// The bench book's sheets.
    pub fn book(&self, t: &Type) -> &[Sheet] {
        self.book.get_or_init(|| self.plan.as_ref().map_or_else(Vec::new, |p| book::sheets(t, p, PaperSize::A4)))
    }

    /// Her full-size patterns, all of them.
    pub fn patterns(&self, t: &Type) -> &[Pattern] {
        let all = |plan: &Arc<Plan>| patterns::patterns(t, plan, &Kind::ALL);
        self.patterns.get_or_init(|| self.plan.as_ref().map_or_else(Vec::new, all))
    }
}

/// Some files' texts before and after: one step to take back.
#[derive(Debug, Clone)]
struct Change {
    what: String,
    files: Vec<Was>,
}

/// One file's text before and after.
#[derive(Debug, Clone)]
struct Was {
    file: FileName,
    before: Option<String>,
    after: Option<String>,
}

/// A file's new text; `None` takes the file away.
pub type NewText = (FileName, Option<String>);

impl Change {
    /// From texts to texts; what is alike in both is left out.
    fn between(what: String, before: &Texts, after: &[NewText]) -> Change {
        let was = |(file, after): &NewText| {
            let before = before.get(*file).map(str::to_owned);
            (before != *after).then(|| Was { file: *file, before, after: after.clone() })
        };
        Change { what, files: after.iter().filter_map(was).collect() }
    }

    fn texts(&self, back: bool) -> Vec<NewText> {
        let text = |w: &Was| (w.file, if back { w.before.clone() } else { w.after.clone() });
        self.files.iter().map(text).collect()
    }
}

struct State {
    view: Arc<View>,
    undo: Vec<Change>,
    redo: Vec<Change>,
    /// Each file as it was when its text was read or written here.
    stamp: Stamp,
    unread: Unread,
}

/// What was found at the last look that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Unread {
    /// Nothing.
    No,
    /// Something, once: it may be in the middle of being written.
    Once(String),
    /// It was so at two looks running, and the view says so.
    Told,
}

impl State {
    /// A change that has been made: it can be undone, and nothing redone over it.
    fn made(&mut self, change: Change) {
        self.undo.push(change);
        let over = self.undo.len().saturating_sub(MOST_UNDO);
        self.undo.drain(..over);
        self.redo.clear();
    }
}

/// Why a change was not made; nothing has been written.
#[derive(Debug, thiserror::Error)]
pub enum Refused {
    /// Somebody else was quicker.
    #[error("she has changed since this was shown: look at her as she is now, and do it again")]
    Stale,
    /// There is nothing to take back or to bring again.
    #[error("there is nothing to {0}")]
    Nothing(&'static str),
    /// It would be no text of such a file.
    #[error("{0}")]
    Wrong(String),
    /// The folder.
    #[error(transparent)]
    Trouble(#[from] Trouble),
}

/// The open boat.
pub struct Desk {
    /// Where she is kept.
    pub store: Store,
    /// The type that drawings are set in.
    pub t: Type,
    state: Mutex<State>,
    news: watch::Sender<u64>,
}

impl Desk {
    /// Opens the boat of a folder, or an example in memory.
    ///
    /// # Errors
    /// A folder whose files cannot be read. Texts that make no sense are no error: the pages say what is wrong.
    pub fn open(folder: Option<PathBuf>, example: Texts, t: Type) -> Result<Desk, Trouble> {
        let (store, texts) = match folder {
            Some(folder) => {
                let texts = Store::read(&folder)?;
                (Store::Folder(folder), texts)
            }
            None => (Store::Memory, example),
        };
        let stamp = store.stamp();
        let view = Arc::new(view(texts, 1, String::new(), None));
        let state = State { view, undo: Vec::new(), redo: Vec::new(), stamp, unread: Unread::No };
        Ok(Desk { store, t, state: Mutex::new(state), news: watch::Sender::new(1) })
    }

    /// Tells of every new revision.
    pub fn news(&self) -> watch::Receiver<u64> {
        self.news.subscribe()
    }

    /// She as she is now.
    pub fn view(&self) -> Arc<View> {
        Arc::clone(&self.lock().view)
    }

    // What is behind the lock is replaced whole, so a thread that died in between has left nothing half done.
    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Puts `text` in place of a file. `seen` is the revision it was made from.
    ///
    /// # Errors
    /// [`Refused`], and then nothing has changed.
    pub fn change(&self, seen: u64, what: &str, file: FileName, text: Option<String>) -> Result<Arc<View>, Refused> {
        self.change_all(seen, what, &[(file, text)])
    }

    /// The same for several files, which are undone together.
    ///
    /// # Errors
    /// [`Refused`], and then nothing has changed.
    pub fn change_all(&self, seen: u64, what: &str, files: &[NewText]) -> Result<Arc<View>, Refused> {
        let mut state = self.lock();
        self.take_in(&mut state)?;
        if state.view.revision != seen {
            return Err(Refused::Stale);
        }
        let too_long = files.iter().find(|(_, text)| text.as_ref().is_some_and(|t| t.len() as u64 > LARGEST));
        if let Some((file, _)) = too_long {
            return Err(Refused::Wrong(format!("{} would be larger than {LARGEST} bytes, the limit", file.word())));
        }
        let change = Change::between(what.to_owned(), &state.view.texts, files);
        if change.files.is_empty() {
            return Ok(Arc::clone(&state.view));
        }
        self.put(&mut state, &change.texts(false), what)?;
        state.made(change);
        Ok(self.told(&mut state))
    }

    /// Takes the last change back.
    ///
    /// # Errors
    /// [`Refused`].
    pub fn undo(&self) -> Result<Arc<View>, Refused> {
        let mut state = self.lock();
        self.take_in(&mut state)?;
        let change = state.undo.last().cloned().ok_or(Refused::Nothing("undo"))?;
        self.put(&mut state, &change.texts(true), &format!("undone: {}", change.what))?;
        state.undo.pop();
        state.redo.push(change);
        Ok(self.told(&mut state))
    }

    /// Brings back what was undone last.
    ///
    /// # Errors
    /// [`Refused`].
    pub fn redo(&self) -> Result<Arc<View>, Refused> {
        let mut state = self.lock();
        self.take_in(&mut state)?;
        let change = state.redo.last().cloned().ok_or(Refused::Nothing("redo"))?;
        self.put(&mut state, &change.texts(false), &change.what)?;
        state.redo.pop();
        state.undo.push(change);
        Ok(self.told(&mut state))
    }

    /// Looks whether another program has written to the folder, and takes it in; what stays unreadable is told.
    pub fn look(&self) {
        let mut state = self.lock();
        let Err(why) = self.take_in(&mut state) else { return };
        let why = why.to_string();
        state.unread = match std::mem::replace(&mut state.unread, Unread::Told) {
            Unread::Once(before) if before == why => {
                let view = View::unreadable(&state.view, why);
                state.view = Arc::new(view);
                self.told(&mut state);
                Unread::Told
            }
            Unread::Told if state.view.trouble.as_ref() == Some(&why) => Unread::Told,
            _ => Unread::Once(why),
        };
    }

    /// Writes, and makes the view of what is now there; it has still to be told.
    fn put(&self, state: &mut State, files: &[NewText], what: &str) -> Result<(), Refused> {
        for (i, (file, text)) in files.iter().enumerate() {
            if let Err(why) = self.write(state, *file, text.as_deref()) {
                // Those already written go back, so that the folder never holds half a change. What cannot go back is taken in
                // as any other program's at the next look: its stamp is not the one that is known.
                for (file, _) in &files[..i] {
                    state.stamp[*file as usize] = None;
                    let before = state.view.texts.get(*file).map(str::to_owned);
                    let _ = self.write(state, *file, before.as_deref());
                }
                return Err(why.into());
            }
        }
        let mut texts = state.view.texts.clone();
        for (file, text) in files {
            texts.put(*file, text.clone());
        }
        state.view = Arc::new(view(texts, state.view.revision + 1, what.to_owned(), Some(&state.view)));
        Ok(())
    }

    /// Writes one file. Only its own stamp is known anew: what another program has written meanwhile is found at the next look.
    fn write(&self, state: &mut State, file: FileName, text: Option<&str>) -> Result<(), Trouble> {
        self.store.write(file, text)?;
        state.stamp[file as usize] = self.store.stamp_of(file);
        Ok(())
    }

    /// Takes changes from outside in and tells of them, if there are any: those found together are undone together.
    ///
    /// # Errors
    /// What another program has written and cannot be read: it must not be written over.
    fn take_in(&self, state: &mut State) -> Result<(), Trouble> {
        let Store::Folder(folder) = &self.store else { return Ok(()) };
        let stamp = self.store.stamp();
        if stamp == state.stamp && state.unread == Unread::No {
            return Ok(());
        }
        let texts = Store::read(folder)?;
        state.stamp = stamp;
        let was_unread = std::mem::replace(&mut state.unread, Unread::No);
        let files = state.view.texts.differing(&texts);
        let what = if !files.is_empty() {
            let names: Vec<&str> = files.iter().map(|f| f.word()).collect();
            let what = format!("{} written by another program", names.join(", "));
            let after: Vec<NewText> = files.iter().map(|f| (*f, texts.get(*f).map(str::to_owned))).collect();
            state.made(Change::between(what.clone(), &state.view.texts, &after));
            what
        } else if was_unread == Unread::Told {
            "her files can be read again".to_owned()
        } else {
            return Ok(());
        };
        state.view = Arc::new(view(texts, state.view.revision + 1, what, Some(&state.view)));
        self.told(state);
        Ok(())
    }

    /// Says what can be undone, and tells everybody.
    fn told(&self, state: &mut State) -> Arc<View> {
        let name = |changes: &[Change]| changes.last().map(|c| c.what.clone());
        let (undo, redo) = (name(&state.undo), name(&state.redo));
        if let Some(view) = Arc::get_mut(&mut state.view) {
            (view.undo, view.redo) = (undo, redo);
        }
        self.news.send_replace(state.view.revision);
        Arc::clone(&state.view)
    }
}

/// What comes of texts; of `before`, what need not be worked out again.
fn view(texts: Texts, revision: u64, what: String, before: Option<&Arc<View>>) -> View {
    let (mut input, mut lines) = (None, None);
    let (plan, trouble) = if texts.no_boat() {
        (None, None)
    } else {
        match worked_out(&texts, before.map(Arc::as_ref), &mut input, &mut lines) {
            Ok(plan) => (Some(plan), None),
            Err(why) => (before.and_then(|b| b.plan.clone()), Some(why)),
        }
    };
    let (book, patterns) = (OnceLock::new(), OnceLock::new());
    View { revision, texts, input, lines, plan, trouble, what, undo: None, redo: None, book, patterns }
}

fn worked_out(
    texts: &Texts,
    before: Option<&View>,
    input: &mut Option<Arc<BoatInput>>,
    lines: &mut Option<Arc<Lines>>,
) -> Result<Arc<Plan>, String> {
    let read = folder::read(&boat_texts(texts)?).map_err(|why| why.to_string())?;
    let read = input.insert(Arc::new(read));
    let same = |f: FileName| before.is_some_and(|b| b.texts.get(f) == texts.get(f));
    let kept = before.and_then(|b| b.lines.clone()).filter(|_| same(FileName::Boat) && same(FileName::Offsets));
    let said = |why: PlanError| why.said(read.spec.lengths);
    let planned = match kept {
        Some(kept) => plan::plan_from(read, (**lines.insert(kept)).clone()),
        None => {
            let fair = lines::fair(&read.table, &read.spec).map_err(|why| said(why.into()))?;
            plan::plan_faired(read, (**lines.insert(Arc::new(fair))).clone(), &mut |_| {})
        }
    };
    planned.map(Arc::new).map_err(said)
}

/// The texts that a plan is made of.
pub fn boat_texts(texts: &Texts) -> Result<BoatTexts, String> {
    let needed = |file: FileName| {
        let none = || format!("there is no {} yet", file.word());
        texts.get(file).map(str::to_owned).ok_or_else(none)
    };
    let text = |file: FileName| texts.get(file).map(str::to_owned);
    Ok(BoatTexts {
        toml: needed(FileName::Boat)?,
        offsets: needed(FileName::Offsets)?,
        marks: text(FileName::Marks),
        boards: text(FileName::Boards),
        nails: text(FileName::Nails),
    })
}

#[cfg(test)]
mod tests;
