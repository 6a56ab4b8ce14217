//! The one thread that writes the record, and what everybody else asks of it.

use super::hold::{Held, load, read};
use super::work::{self, Change};
use super::{Answer, Entry, FILE, Kept, Phone, RecordError, now_ms};
use rusqlite::Connection;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex, OnceLock, PoisonError, RwLock};
use std::thread::JoinHandle;
use tokio::sync::{oneshot, watch};

/// Jobs in one commit.
const MOST_AT_ONCE: usize = 500;

/// The record of the open boat.
pub struct Record {
    folder: Option<PathBuf>,
    clock: fn() -> i64,
    jobs: Sender<Option<Box<dyn Job>>>,
    writer: Mutex<Option<JoinHandle<()>>>,
    shared: Arc<Shared>,
}

/// What the writer and everybody else have together.
struct Shared {
    /// Where this server is found.
    address: OnceLock<String>,
    /// What the record holds, while it is open for writing. Replaced whole: whoever died in between has left nothing half done.
    open: RwLock<Option<Arc<Kept>>>,
    entries: watch::Sender<i64>,
    phones: watch::Sender<u64>,
}

impl Record {
    /// The record of a folder, or of an example in memory. Nothing is opened or made yet.
    pub fn of(folder: Option<PathBuf>) -> Record {
        Record::by(folder, now_ms)
    }

    fn by(folder: Option<PathBuf>, clock: fn() -> i64) -> Record {
        let shared = Arc::new(Shared {
            address: OnceLock::new(),
            open: RwLock::new(None),
            entries: watch::Sender::new(0),
            phones: watch::Sender::new(0),
        });
        let (jobs, asked) = channel();
        let writer = Writer { folder: folder.clone(), held: None, shared: Arc::clone(&shared) };
        let writer = std::thread::spawn(move || writer.run(&asked));
        Record { folder, clock, jobs, writer: Mutex::new(Some(writer)), shared }
    }

    /// Opens a record that is there already, so that others are kept from it. `address` is where this server is found. One that
    /// cannot be opened for writing is only read; why is told to whoever wants to write.
    pub async fn begin(&self, address: &str) {
        let _ = self.shared.address.set(address.to_owned());
        if self.folder.as_ref().is_some_and(|f| f.join(FILE).exists()) {
            let _ = self.hold().await;
        }
    }

    /// Opens the record for writing, and makes it where there is none.
    ///
    /// # Errors
    /// [`RecordError`].
    pub async fn hold(&self) -> Result<(), RecordError> {
        self.ask(|_| Ok(((), Change::default()))).await
    }

    /// Stores entries, those that can be; comes back when they are on the disk.
    ///
    /// # Errors
    /// [`RecordError`], and then none of them is acknowledged.
    pub async fn store(&self, device: &str, entries: Vec<Entry>) -> Result<Answer, RecordError> {
        let (device, clock) = (device.to_owned(), self.clock);
        self.ask(move |db| work::store(db, &device, &entries, clock())).await
    }

    /// Lets a phone in for good. Where there is one of that name already, the new one gets a number behind it.
    ///
    /// # Errors
    /// [`RecordError`].
    pub async fn pair(&self, name: &str, token_sha256: [u8; 32]) -> Result<Phone, RecordError> {
        let (name, clock) = (name.to_owned(), self.clock);
        self.ask(move |db| work::pair(db, &name, token_sha256, clock())).await
    }

    /// Shuts a phone out for good.
    ///
    /// # Errors
    /// [`RecordError`].
    pub async fn shut_out(&self, phone: i64) -> Result<(), RecordError> {
        let clock = self.clock;
        self.ask(move |db| work::shut_out(db, phone, clock())).await
    }

    /// Remembers the port that phones are let in at: they come back to the same address.
    ///
    /// # Errors
    /// [`RecordError`].
    pub async fn remember_port(&self, port: u16) -> Result<(), RecordError> {
        self.ask(move |db| work::remember_port(db, port)).await
    }

    /// All that the record holds. While it is not open for writing it is read from the disk.
    ///
    /// # Errors
    /// [`RecordError`].
    pub fn kept(&self) -> Result<Arc<Kept>, RecordError> {
        let open = self.shared.open.read().unwrap_or_else(PoisonError::into_inner).clone();
        match (open, &self.folder) {
            (Some(kept), _) => Ok(kept),
            (None, Some(folder)) => read(folder).map(Arc::new),
            (None, None) => Ok(Arc::default()),
        }
    }

    /// Tells the number of the last entry whenever some have been stored.
    pub fn news(&self) -> watch::Receiver<i64> {
        self.shared.entries.subscribe()
    }

    /// Tells whenever a phone has been let in or shut out.
    pub fn phones_news(&self) -> watch::Receiver<u64> {
        self.shared.phones.subscribe()
    }

    /// Does what was asked for until now, and closes the file.
    pub fn end(&self) {
        let _ = self.jobs.send(None);
        if let Some(writer) = self.writer.lock().unwrap_or_else(PoisonError::into_inner).take() {
            let _ = writer.join();
        }
    }

    async fn ask<T: Send + 'static>(
        &self,
        work: impl FnMut(&Connection) -> rusqlite::Result<(T, Change)> + Send + 'static,
    ) -> Result<T, RecordError> {
        let (reply, answer) = oneshot::channel();
        let job = Box::new(Asked { work, found: None, reply });
        self.jobs.send(Some(job)).map_err(|_| RecordError::Ending)?;
        answer.await.map_err(|_| RecordError::Ending)?
    }
}

/// Something to be done in a transaction, and whoever waits for it.
trait Job: Send {
    fn work(&mut self, db: &Connection) -> rusqlite::Result<Change>;
    /// Tells what became of it, once the commit is on the disk or has failed.
    fn tell(self: Box<Self>, committed: Result<(), RecordError>);
}

struct Asked<T, W> {
    work: W,
    found: Option<T>,
    reply: oneshot::Sender<Result<T, RecordError>>,
}

impl<T: Send, W: FnMut(&Connection) -> rusqlite::Result<(T, Change)> + Send> Job for Asked<T, W> {
    fn work(&mut self, db: &Connection) -> rusqlite::Result<Change> {
        let (found, change) = (self.work)(db)?;
        self.found = Some(found);
        Ok(change)
    }

    fn tell(self: Box<Self>, committed: Result<(), RecordError>) {
        let Asked { found, reply, .. } = *self;
        // Whoever has gone will send it again.
        let _ = reply.send(committed.and_then(|()| found.ok_or(RecordError::Ending)));
    }
}

/// What the writing thread has.
struct Writer {
    folder: Option<PathBuf>,
    held: Option<Held>,
    shared: Arc<Shared>,
}

impl Writer {
    /// Takes what has come together meanwhile into one commit, again and again.
    fn run(mut self, asked: &Receiver<Option<Box<dyn Job>>>) {
        while let Ok(Some(first)) = asked.recv() {
            let mut jobs = vec![first];
            let mut last = false;
            while jobs.len() < MOST_AT_ONCE && !last {
                match asked.try_recv() {
                    Ok(Some(job)) => jobs.push(job),
                    Ok(None) => last = true,
                    Err(_) => break,
                }
            }
            let committed = self.commit(&mut jobs);
            if committed.is_err() {
                // Before anything more is written, what is on the disk is read anew.
                self.let_go();
            }
            jobs.into_iter().for_each(|job| job.tell(committed.clone()));
            if last {
                return;
            }
        }
    }

    /// Does the jobs in one transaction: all of them, or none.
    fn commit(&mut self, jobs: &mut [Box<dyn Job>]) -> Result<(), RecordError> {
        let held = match self.held.take() {
            Some(held) => held,
            None => self.open()?,
        };
        let held = self.held.insert(held);
        held.still_there()?;
        let mut change = Change::default();
        let mut all = || {
            let transaction = held.db.unchecked_transaction()?;
            for job in &mut *jobs {
                change.take(job.work(&transaction)?);
            }
            // Read before it is committed: one that cannot be read is not stored either, as is said then.
            let anew = if change.others { Some(load(&transaction)?) } else { None };
            transaction.commit()?;
            Ok(anew)
        };
        let anew = all().map_err(|why| held.trouble(&why))?;
        self.told(anew, change);
        Ok(())
    }

    fn open(&self) -> Result<Held, RecordError> {
        let address = self.shared.address.get().map_or("", String::as_str);
        let held = Held::open(self.folder.as_deref(), address)?;
        let kept = load(&held.db).map_err(|why| held.trouble(&why))?;
        let last = kept.entries.last().map_or(0, |s| s.seq);
        *self.shared.open.write().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(kept));
        self.shared.entries.send_if_modified(|seq| std::mem::replace(seq, last) != last);
        Ok(held)
    }

    fn let_go(&mut self) {
        // What is in memory only stays as the commit that failed has left it.
        if self.folder.is_some() {
            self.held = None;
            *self.shared.open.write().unwrap_or_else(PoisonError::into_inner) = None;
        }
    }

    /// What everybody sees from now on.
    fn told(&self, anew: Option<Kept>, change: Change) {
        let last = change.added.last().map(|s| s.seq);
        {
            let mut open = self.shared.open.write().unwrap_or_else(PoisonError::into_inner);
            match (anew, open.as_mut()) {
                (Some(kept), _) => *open = Some(Arc::new(kept)),
                (None, Some(kept)) => Arc::make_mut(kept).entries.extend(change.added),
                (None, None) => {}
            }
        }
        if let Some(last) = last {
            self.shared.entries.send_replace(last);
        }
        if change.others {
            self.shared.phones.send_modify(|n| *n += 1);
        }
    }
}

#[cfg(test)]
mod tests;
