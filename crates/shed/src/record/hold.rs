//! The record's file: made, locked, looked through, opened for writing; or only read.

use super::{FILE, Kept, Kind, LOCK, Phone, RecordError, Stored, random_letters};
use crate::record::Entry;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, ErrorCode, OpenFlags, Row};
use std::fs::{self, File, TryLockError};
use std::io::{Read, Seek, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

/// Marks a database as a record of this program.
const APPLICATION: i32 = 0x5374_726b;

/// The schema's version.
const VERSION: i32 = 1;

/// How long another program's writing is waited for.
const PATIENCE: Duration = Duration::from_secs(5);

/// A record open for writing.
pub struct Held {
    /// The database.
    pub db: Connection,
    file: Option<Opened>,
}

/// The file behind an open record.
struct Opened {
    path: PathBuf,
    at: Option<Place>,
    /// The log beside it, where SQLite keeps one: commits stand there alone until they are brought over.
    log_at: Option<Place>,
    // Let go with the process, however that ends.
    _lock: File,
}

/// Which file of the disk it is.
type Place = (u64, u64);

impl Held {
    /// Opens the record of a folder for writing, and makes it where there is none; without a folder, one in memory. `address` is
    /// where this server is found.
    ///
    /// # Errors
    /// [`RecordError`]; what is there is then as it was.
    pub fn open(folder: Option<&Path>, address: &str) -> Result<Held, RecordError> {
        let Some(folder) = folder else {
            let trouble = |why| said(Path::new("the record in memory"), &why);
            let db = Connection::open_in_memory().map_err(trouble)?;
            made(&db).map_err(trouble)?;
            return Ok(Held { db, file: None });
        };
        let path = folder.join(FILE);
        let lock = lock(folder, &path, address)?;
        let trouble = |why| said(&path, &why);
        make_file(&path).map_err(|why| RecordError::Write { path: path.clone(), why: why.to_string() })?;
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let db = Connection::open_with_flags(&path, flags).map_err(trouble)?;
        db.busy_timeout(PATIENCE).map_err(trouble)?;
        // A record that is found damaged must not be written to, not even when it is closed.
        db.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true).map_err(trouble)?;
        sound(&db, &path)?;
        db.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false).map_err(trouble)?;
        durable(&db).and_then(|()| made(&db)).map_err(trouble)?;
        sync_folder(folder).map_err(|why| RecordError::Write { path: path.clone(), why: why.to_string() })?;
        let (at, log_at) = (place(&path), place(&log_of(&path)));
        Ok(Held { db, file: Some(Opened { path, at, log_at, _lock: lock }) })
    }

    /// That the file and its log are still those that were opened: what is written to one that was taken away is lost.
    ///
    /// # Errors
    /// [`RecordError::Gone`].
    pub fn still_there(&self) -> Result<(), RecordError> {
        let gone = |file: &&Opened| {
            let log_gone = file.log_at.is_some() && place(&log_of(&file.path)) != file.log_at;
            log_gone || place(&file.path) != file.at
        };
        let gone = self.file.as_ref().filter(gone);
        gone.map_or(Ok(()), |file| Err(RecordError::Gone { path: file.path.clone() }))
    }

    /// What SQLite says, as trouble of this record.
    pub fn trouble(&self, why: &rusqlite::Error) -> RecordError {
        said(self.file.as_ref().map_or(Path::new("the record in memory"), |f| &f.path), why)
    }
}

/// Reads the record of a folder, and nothing where there is none. Needs no lock and changes nothing in it.
///
/// # Errors
/// [`RecordError`].
pub fn read(folder: &Path) -> Result<Kept, RecordError> {
    let path = folder.join(FILE);
    match path.try_exists() {
        Ok(true) => {}
        Ok(false) => return Ok(Kept::default()),
        Err(why) => return Err(RecordError::Read { path, why: why.to_string() }),
    }
    let found = read_as(&path, "mode=ro");
    // In a folder that cannot be written SQLite reads only what is in the one file, and must be told that nobody writes to it.
    let locked_up = |why: &rusqlite::Error| {
        matches!(why.sqlite_error_code(), Some(ErrorCode::CannotOpen | ErrorCode::ReadOnly))
            && fs::metadata(log_of(&path)).map_or(true, |log| log.len() == 0)
    };
    match found {
        Err(why) if locked_up(&why) => read_as(&path, "mode=ro&immutable=1"),
        found => found,
    }
    .map_err(|why| match said(&path, &why) {
        RecordError::Write { path, why } => RecordError::Read { path, why },
        other => other,
    })
}

fn read_as(path: &Path, how: &str) -> rusqlite::Result<Kept> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let db = Connection::open_with_flags(format!("{}?{how}", address_of(path)), flags)?;
    db.busy_timeout(PATIENCE)?;
    // One that was killed before it had made its tables has nothing in it yet.
    if tables(&db)? == 0 { Ok(Kept::default()) } else { load(&db) }
}

/// A file as SQLite takes it in an address: signs that mean something there, and letters that not every name can be told in,
/// as the numbers of their bytes.
fn address_of(path: &Path) -> String {
    let bytes = path.as_os_str().as_encoded_bytes();
    // Two strokes would begin the name of a machine: none is said, and the path follows whole.
    let machine = if bytes.starts_with(b"/") { "//" } else { "" };
    let plain = |b: u8| b.is_ascii_alphanumeric() || matches!(b, b'/' | b'\\' | b':' | b'.' | b'-' | b'_');
    let sign = |b: &u8| if plain(*b) { char::from(*b).to_string() } else { format!("%{b:02x}") };
    format!("file:{machine}{}", bytes.iter().map(sign).collect::<String>())
}

/// Where SQLite keeps the log of a database.
fn log_of(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push("-wal");
    PathBuf::from(name)
}

/// Takes the lock beside the record, or says who has it.
fn lock(folder: &Path, path: &Path, address: &str) -> Result<File, RecordError> {
    let write = |why: std::io::Error| RecordError::Write { path: path.to_owned(), why: why.to_string() };
    let mut file =
        File::options().read(true).write(true).create(true).truncate(false).open(folder.join(LOCK)).map_err(write)?;
    match file.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => {
            let mut at = String::new();
            // Where a locked file cannot be read, the other's address is not known.
            let _ = file.take(200).read_to_string(&mut at);
            let at = if at.trim().is_empty() { "another window" } else { at.trim() }.to_owned();
            return Err(RecordError::Elsewhere { path: path.to_owned(), at });
        }
        Err(TryLockError::Error(why)) => return Err(write(why)),
    }
    file.set_len(0).and_then(|()| file.rewind()).map_err(write)?;
    // Only a help for whoever comes second: on a full disk it is done without.
    let _ = file.write_all(address.as_bytes());
    Ok(file)
}

/// Makes an empty file where there is none, for this user alone.
fn make_file(path: &Path) -> std::io::Result<()> {
    let mut options = File::options();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    match options.open(path) {
        Err(why) if why.kind() == std::io::ErrorKind::AlreadyExists => Ok(()),
        made => made.map(drop),
    }
}

/// The file's name is on the disk, too.
fn sync_folder(folder: &Path) -> std::io::Result<()> {
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

#[cfg(unix)]
fn place(path: &Path) -> Option<Place> {
    use std::os::unix::fs::MetadataExt;
    fs::metadata(path).ok().map(|m| (m.dev(), m.ino()))
}

// Elsewhere an open file cannot be taken away.
#[cfg(not(unix))]
fn place(path: &Path) -> Option<Place> {
    path.exists().then_some((0, 0))
}

/// Looks the whole file through.
fn sound(db: &Connection, path: &Path) -> Result<(), RecordError> {
    let trouble = |why| said(path, &why);
    let found: String = db.query_row("pragma integrity_check(1)", [], |row| row.get(0)).map_err(trouble)?;
    if found != "ok" {
        return Err(RecordError::Damaged { path: path.to_owned(), why: found });
    }
    let number = |pragma: &str| db.query_row(pragma, [], |row| row.get::<_, i32>(0)).map_err(trouble);
    let (application, version) = (number("pragma application_id")?, number("pragma user_version")?);
    let strange = |why: String| Err(RecordError::Strange { path: path.to_owned(), why });
    if tables(db).map_err(trouble)? > 0 && application != APPLICATION {
        return strange("this is another program's database, and no record of a boat".to_owned());
    }
    if version > VERSION {
        return strange(format!("this record is of version {version}, and this program knows {VERSION} and earlier"));
    }
    Ok(())
}

fn tables(db: &Connection) -> rusqlite::Result<i64> {
    db.query_row("select count(*) from sqlite_schema", [], |row| row.get(0))
}

/// A commit comes back when it is on the disk, and not before.
fn durable(db: &Connection) -> rusqlite::Result<()> {
    let mode: String = db.query_row("pragma journal_mode = wal", [], |row| row.get(0))?;
    if mode != "wal" {
        // On some disks of other machines; a commit is as safe without.
        db.query_row("pragma journal_mode = delete", [], |_| Ok(()))?;
    }
    db.execute_batch("pragma synchronous = full; pragma fullfsync = on; pragma checkpoint_fullfsync = on;")
}

/// Makes the tables where there are none.
fn made(db: &Connection) -> rusqlite::Result<()> {
    db.execute_batch("pragma foreign_keys = on;")?;
    if tables(db)? > 0 {
        return Ok(());
    }
    let identity = random_letters::<8>().map_err(|why| rusqlite::Error::ToSqlConversionFailure(Box::new(why)))?;
    let made = db.unchecked_transaction()?;
    made.execute_batch(include_str!("schema.sql"))?;
    made.execute("insert into about values ('identity', ?1)", [identity])?;
    made.pragma_update(None, "application_id", APPLICATION)?;
    made.pragma_update(None, "user_version", VERSION)?;
    made.commit()
}

/// Everything in it.
pub fn load(db: &Connection) -> rusqlite::Result<Kept> {
    let mut all = db.prepare("select * from entries order by seq")?;
    let entries = all.query_map([], |row| stored(row).map(Arc::new))?.collect::<rusqlite::Result<_>>()?;
    let mut all =
        db.prepare("select phone, name, token_sha256, paired_ms, shut_out_ms from phones order by phone")?;
    let phone = |row: &Row| {
        Ok(Phone {
            number: row.get(0)?,
            name: row.get(1)?,
            token_sha256: row.get(2)?,
            paired: row.get(3)?,
            shut_out: row.get(4)?,
        })
    };
    let phones = all.query_map([], phone)?.collect::<rusqlite::Result<_>>()?;
    let about = |key: &str| {
        let mut found = db.prepare("select value from about where key = ?1")?;
        found.query_map([key], |row| row.get::<_, String>(0))?.next().transpose()
    };
    let port = about("port")?.and_then(|p| p.parse().ok());
    Ok(Kept { entries, phones, identity: about("identity")?.unwrap_or_default(), port })
}

/// A row of `entries`.
pub fn stored(row: &Row) -> rusqlite::Result<Stored> {
    let kind: String = row.get("kind")?;
    // The table takes no other.
    let kind = Kind::find(&kind).ok_or(rusqlite::Error::InvalidQuery)?;
    let entry = Entry {
        id: row.get("id")?,
        at: row.get("at_ms")?,
        kind,
        side: row.get("side")?,
        strake: row.get("strake")?,
        section: row.get("section")?,
        what: row.get("what")?,
        value: row.get("value")?,
        against: row.get("against_mm")?,
        typed: row.get("typed")?,
        corrects: row.get("corrects")?,
    };
    Ok(Stored { seq: row.get("seq")?, entry, device: row.get("device")?, stored: row.get("stored_ms")? })
}

/// What SQLite says, in words that help.
fn said(path: &Path, why: &rusqlite::Error) -> RecordError {
    let path = path.to_owned();
    let text = why.to_string();
    match why.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => RecordError::Full { path },
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => RecordError::Damaged { path, why: text },
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => RecordError::Busy { path },
        Some(_) => RecordError::Write { path, why: text },
        // The file is sound, and what it holds is not what this program writes.
        None => RecordError::Damaged { path, why: text },
    }
}
