//! What is done to the record inside a transaction.

use super::hold::stored;
use super::{Answer, Entry, Kind, Phone, Refusal, Stored};
use rusqlite::{Connection, OptionalExtension, Result, params};
use std::sync::Arc;

/// What a job has changed.
#[derive(Debug, Default)]
pub struct Change {
    /// Entries that are new.
    pub added: Vec<Arc<Stored>>,
    /// Phones, or what is known about the record.
    pub others: bool,
}

impl Change {
    /// Adds another job's.
    pub fn take(&mut self, other: Change) {
        self.added.extend(other.added);
        self.others |= other.others;
    }
}

/// Stores entries of a device at a time of this machine's clock, each once, in their order.
pub fn store(db: &Connection, device: &str, entries: &[Entry], now: i64) -> Result<(Answer, Change)> {
    let (mut answer, mut change) = (Answer::default(), Change::default());
    for entry in entries {
        if let Some(there) = find(db, &entry.id)? {
            if there.entry == *entry {
                answer.known.push(entry.id.clone());
            } else {
                answer.refused.push(other_content(&there));
            }
        } else if let Some(why) = speaks_of_nothing(db, entry)? {
            answer.refused.push(Refusal { id: Some(entry.id.clone()), why });
        } else if let Some(stored) = insert(db, device, entry, now)? {
            change.added.push(Arc::new(stored));
            answer.stored.push(entry.id.clone());
        }
    }
    Ok((answer, change))
}

fn find(db: &Connection, id: &str) -> Result<Option<Stored>> {
    db.prepare_cached("select * from entries where id = ?1")?.query_row([id], stored).optional()
}

fn other_content(there: &Stored) -> Refusal {
    let id = there.entry.id.clone();
    let why = format!(
        "id: {id} is entry {} of the record already, with other content; give this one an id of its own",
        there.seq
    );
    Refusal { id: Some(id), why }
}

/// Why what an entry says of an earlier one makes no sense.
fn speaks_of_nothing(db: &Connection, entry: &Entry) -> Result<Option<String>> {
    let Some(id) = &entry.corrects else { return Ok(None) };
    Ok(match find(db, id)? {
        None => Some(format!("corrects: there is no entry {id} in the record; store that one first")),
        Some(there) if entry.kind != Kind::Withdrawn && there.entry.kind != entry.kind => {
            let kinds = [entry.kind, there.entry.kind].map(Kind::word);
            Some(format!("corrects: \"{}\" cannot correct entry {}, which is \"{}\"", kinds[0], there.seq, kinds[1]))
        }
        Some(_) => None,
    })
}

fn insert(db: &Connection, device: &str, e: &Entry, now: i64) -> Result<Option<Stored>> {
    let text = "insert into entries (id, at_ms, kind, side, strake, section, what, value, against_mm, typed, corrects, device, \
                stored_ms) values (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13) on conflict (id) do nothing returning *";
    let kind = e.kind.word();
    let row = params![
        e.id, e.at, kind, e.side, e.strake, e.section, e.what, e.value, e.against, e.typed, e.corrects, device, now
    ];
    db.prepare_cached(text)?.query_row(row, stored).optional()
}

/// Lets a phone in.
pub fn pair(db: &Connection, name: &str, token_sha256: [u8; 32], now: i64) -> Result<(Phone, Change)> {
    let mut taken = db.prepare("select count(*) from phones where name = ?1")?;
    let mut own = name.to_owned();
    let mut number = 1;
    while taken.query_row([&own], |row| row.get::<_, i64>(0))? > 0 {
        number += 1;
        own = format!("{name} ({number})");
    }
    db.execute(
        "insert into phones (name, token_sha256, paired_ms) values (?1, ?2, ?3)",
        params![own, token_sha256, now],
    )?;
    let phone = Phone { number: db.last_insert_rowid(), name: own, token_sha256, paired: now, shut_out: None };
    Ok((phone, Change { others: true, ..Change::default() }))
}

/// Shuts a phone out.
pub fn shut_out(db: &Connection, phone: i64, now: i64) -> Result<((), Change)> {
    db.execute("update phones set shut_out_ms = ?2 where phone = ?1 and shut_out_ms is null", [phone, now])?;
    Ok(((), Change { others: true, ..Change::default() }))
}

/// Remembers the port that phones are let in at.
pub fn remember_port(db: &Connection, port: u16) -> Result<((), Change)> {
    let text = "insert into about values ('port', ?1) on conflict (key) do update set value = excluded.value";
    db.execute(text, [port.to_string()])?;
    Ok(((), Change { others: true, ..Change::default() }))
}
