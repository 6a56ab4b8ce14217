//! What can happen to a record, and that nothing acknowledged is lost by it.

use super::*;
use crate::record::{Kind, Refusal, State, states};
use std::fs::{self, File};
use std::path::Path;
use std::sync::atomic::{AtomicI64, Ordering};

fn entry(n: u128) -> Entry {
    let text = format!(
        r#"{{"id": "{n:032x}", "at": 1700000000000, "kind": "hours", "what": "other", "value": 1.5, "typed": "1 1/2"}}"#
    );
    Entry::read(&text).unwrap()
}

fn withdrawn(n: u128, of: u128) -> Entry {
    let corrects = Some(format!("{of:032x}"));
    Entry { kind: Kind::Withdrawn, what: String::new(), value: None, corrects, ..entry(n) }
}

/// Opens the record of a folder, does something, and closes it.
fn with<T>(folder: &Path, work: impl AsyncFnOnce(&Record) -> T) -> T {
    let record = Record::of(Some(folder.to_owned()));
    let done = now(async {
        record.begin("http://127.0.0.1:4000/").await;
        work(&record).await
    });
    record.end();
    done
}

fn now<T>(work: impl Future<Output = T>) -> T {
    tokio::runtime::Builder::new_current_thread().build().unwrap().block_on(work)
}

fn ids(kept: &Kept) -> Vec<u128> {
    kept.entries.iter().map(|s| u128::from_str_radix(&s.entry.id, 16).unwrap()).collect()
}

/// Pairs of a message's parts that must be said.
fn says(why: &RecordError, parts: &[&str]) {
    let said = why.to_string();
    parts.iter().for_each(|part| assert!(said.contains(part), "{said:?} does not say {part:?}"));
}

#[test]
fn an_entry_is_stored_once_and_found_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path();
    with(path, async |record| {
        assert!(!path.join(FILE).exists(), "made before it was needed");
        assert!(record.kept().unwrap().entries.is_empty());
        let mut news = record.news();
        let first = record.store("Ada's phone", vec![entry(1), entry(2), entry(1)]).await.unwrap();
        assert_eq!((first.stored.len(), first.known.len(), first.refused.len()), (2, 1, 0));
        assert!(news.has_changed().unwrap() && *news.borrow_and_update() == 2);
        let again = record.store("another", vec![entry(2), entry(3)]).await.unwrap();
        assert_eq!((again.stored, again.known), (vec![entry(3).id], vec![entry(2).id]));
        let other = Entry { value: Some(2.0), ..entry(1) };
        let refused = record.store("Ada's phone", vec![other]).await.unwrap().refused;
        let why = format!(
            "id: {} is entry 1 of the record already, with other content; give this one an id of its own",
            entry(1).id
        );
        assert_eq!(refused, [Refusal { id: Some(entry(1).id), why }]);
    });
    // Closed in order, all of it is in the one file, which is this user's alone.
    let names: Vec<_> = fs::read_dir(path).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    assert!(!names.iter().any(|n| n.ends_with("-wal")), "{names:?}");
    #[cfg(unix)]
    assert_eq!(
        std::os::unix::fs::PermissionsExt::mode(&fs::metadata(path.join(FILE)).unwrap().permissions()) & 0o777,
        0o600
    );
    let kept = read(path).unwrap();
    assert_eq!((ids(&kept), kept.entries[1].device.as_str()), (vec![1, 2, 3], "Ada's phone"));
    assert_eq!(kept.entries[0].entry, entry(1));
    with(path, async |record| assert_eq!(*record.kept().unwrap(), kept));
}

#[test]
fn what_is_taken_back_stays_in_the_record() {
    let folder = tempfile::tempdir().unwrap();
    with(folder.path(), async |record| {
        let all = vec![
            entry(1),
            withdrawn(2, 1),
            withdrawn(3, 2),
            withdrawn(4, 99),
            Entry { corrects: Some(entry(1).id), kind: Kind::Reading, ..entry(5) },
        ];
        let answer = record.store("a phone", all).await.unwrap();
        assert_eq!(answer.stored.len(), 3);
        let why: Vec<&str> = answer.refused.iter().map(|r| r.why.as_str()).collect();
        assert!(why[0].starts_with("corrects: there is no entry"), "{}", why[0]);
        assert_eq!(why[1], "corrects: \"reading\" cannot correct entry 1, which is \"hours\"");
        assert_eq!(states(&record.kept().unwrap().entries), [State::Stands, State::TakenBack, State::Stands]);
        for change in ["update entries set value = 0", "delete from entries"] {
            let done = record.ask(move |db| db.execute(change, []).map(|n| (n, Change::default()))).await;
            assert!(done.is_err(), "{change}");
        }
        let other =
            "9, id, at_ms, kind, side, strake, section, what, 7, against_mm, typed, corrects, device, stored_ms";
        for columns in ["*", other] {
            let text = format!("insert or replace into entries select {columns} from entries");
            let changed = record.ask(move |db| db.execute(&text, []).map(|n| (n, Change::default()))).await.unwrap();
            assert_eq!(changed, 0);
        }
        assert_eq!(ids(&record.kept().unwrap()), [1, 2, 3]);
    });
}

#[test]
fn an_example_s_record_is_in_memory() {
    let record = Record::of(None);
    now(async {
        record.begin("").await;
        record.store("a phone", vec![entry(1)]).await.unwrap();
        assert!(record.ask(|db| db.execute("nonsense", []).map(|_| ((), Change::default()))).await.is_err());
        record.store("a phone", vec![entry(2)]).await.unwrap();
        assert_eq!(ids(&record.kept().unwrap()), [1, 2]);
    });
    record.end();
    assert!(matches!(now(record.store("a phone", vec![entry(3)])), Err(RecordError::Ending)));
}

#[test]
fn order_is_that_of_storing_whatever_the_clock_says() {
    static CLOCK: AtomicI64 = AtomicI64::new(1_000_000);
    let folder = tempfile::tempdir().unwrap();
    let record = Record::by(Some(folder.path().to_owned()), || CLOCK.fetch_sub(60_000, Ordering::SeqCst));
    now(async {
        for n in [5, 3, 9] {
            record.store("a phone", vec![Entry { at: 10_000 - 1000 * n as i64, ..entry(n) }]).await.unwrap();
        }
    });
    record.end();
    let kept = read(folder.path()).unwrap();
    assert_eq!(ids(&kept), [5, 3, 9]);
    let stored: Vec<i64> = kept.entries.iter().map(|s| s.stored).collect();
    assert_eq!(stored, [1_000_000, 940_000, 880_000]);
}

#[test]
fn a_full_disk_loses_nothing_and_is_written_to_again_when_there_is_room() {
    let folder = tempfile::tempdir().unwrap();
    with(folder.path(), async |record| {
        let pages = async |most: i64| {
            let set =
                move |db: &Connection| db.query_row(&format!("pragma max_page_count = {most}"), [], |r| r.get(0));
            record.ask(move |db| set(db).map(|n: i64| (n, Change::default()))).await.unwrap()
        };
        record.store("a phone", vec![entry(1)]).await.unwrap();
        pages(1).await;
        let mut last = 1;
        let why = loop {
            match record.store("a phone", (last..last + 100).map(|n| entry(n + 1)).collect()).await {
                Ok(answer) => last += answer.stored.len() as u128,
                Err(why) => break why,
            }
            assert!(last < 100_000, "it was never full");
        };
        assert!(matches!(why, RecordError::Full { .. }), "{why:?}");
        says(&why, &["the disk is full: nothing was stored", "Make room and send it again"]);
        assert_eq!(ids(&record.kept().unwrap()).len() as u128, last);
        // Opened anew there is no limit: there is room.
        record.store("a phone", vec![entry(last + 1)]).await.unwrap();
        assert_eq!(ids(&record.kept().unwrap()), (1..=last + 1).collect::<Vec<_>>());
    });
}

#[test]
fn a_damaged_record_is_left_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(FILE);
    with(folder.path(), async |record| record.store("a phone", (1..=400).map(entry).collect()).await.unwrap());
    let good = fs::read(&path).unwrap();
    let mut middle = good.clone();
    middle[4096 * 3..4096 * 5].fill(0xa5);
    for (bad, what) in [
        (b"this is a text, and no database of any kind whatever it is called".repeat(40), "no database"),
        (middle, "in the middle"),
        (good[..good.len() / 2].to_vec(), "half"),
    ] {
        fs::write(&path, &bad).unwrap();
        let why = with(folder.path(), async |record| record.store("a phone", vec![entry(1000)]).await.unwrap_err());
        assert!(matches!(why, RecordError::Damaged { .. }), "{what}: {why:?}");
        says(&why, &["the record is damaged", "is left as it is", "move record.sqlite"]);
        assert_eq!(fs::read(&path).unwrap(), bad, "{what}");
        // What was moved on makes room for a new one.
        fs::rename(&path, folder.path().join("old")).unwrap();
        with(folder.path(), async |record| record.store("a phone", vec![entry(1)]).await.unwrap());
        assert_eq!(ids(&read(folder.path()).unwrap()), [1]);
        fs::remove_file(&path).unwrap();
    }
}

#[test]
fn another_program_s_database_and_a_later_version_are_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(FILE);
    let run = |text: &str| Connection::open(&path).unwrap().execute_batch(text).unwrap();
    run("create table songs (title text)");
    let why = with(folder.path(), async |record| record.store("a phone", vec![entry(1)]).await.unwrap_err());
    says(&why, &["another program's database", "left as it is"]);
    assert!(matches!(why, RecordError::Strange { .. }));
    fs::remove_file(&path).unwrap();
    with(folder.path(), async |record| record.store("a phone", vec![entry(1)]).await.unwrap());
    run("pragma user_version = 2");
    let why = with(folder.path(), async |record| record.store("a phone", vec![entry(2)]).await.unwrap_err());
    says(&why, &["version 2, and this program knows 1"]);
}

#[test]
fn one_that_was_killed_before_its_tables_were_made_is_begun_again() {
    let folder = tempfile::tempdir().unwrap();
    File::create(folder.path().join(FILE)).unwrap();
    assert_eq!(read(folder.path()).unwrap(), Kept::default());
    with(folder.path(), async |record| record.store("a phone", vec![entry(1)]).await.unwrap());
    assert_eq!(ids(&read(folder.path()).unwrap()), [1]);
}

#[test]
fn of_two_servers_one_writes_and_the_other_says_where() {
    let folder = tempfile::tempdir().unwrap();
    with(folder.path(), async |first| {
        first.store("a phone", vec![entry(1)]).await.unwrap();
        let second = Record::of(Some(folder.path().to_owned()));
        second.begin("http://127.0.0.1:4001/").await;
        let why = second.store("a phone", vec![entry(2)]).await.unwrap_err();
        says(&why, &["open for writing at http://127.0.0.1:4000/", "end that program first"]);
        // It reads what the first writes all the same, and writes as soon as that has ended.
        first.store("a phone", vec![entry(3)]).await.unwrap();
        assert_eq!(ids(&second.kept().unwrap()), [1, 3]);
        first.end();
        second.store("a phone", vec![entry(2)]).await.unwrap();
        assert_eq!(ids(&second.kept().unwrap()), [1, 3, 2]);
        second.end();
    });
}

#[cfg(unix)]
#[test]
fn a_record_that_is_taken_away_while_open_is_not_written_into_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (path, aside) = (folder.path().join(FILE), folder.path().join("aside"));
    with(folder.path(), async |record| {
        record.store("a phone", vec![entry(1)]).await.unwrap();
        fs::rename(&path, &aside).unwrap();
        let why = record.store("a phone", vec![entry(2)]).await.unwrap_err();
        assert!(matches!(why, RecordError::Gone { .. }), "{why:?}");
        fs::rename(&aside, &path).unwrap();
        record.store("a phone", vec![entry(2)]).await.unwrap();
    });
    assert_eq!(ids(&read(folder.path()).unwrap()), [1, 2]);
}

/// What was committed last stands in the log alone: without it more is not acknowledged, and what was is brought over first.
#[cfg(unix)]
#[test]
fn a_log_that_is_taken_away_while_open_loses_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join(format!("{FILE}-wal"));
    with(folder.path(), async |record| {
        record.store("a phone", vec![entry(1)]).await.unwrap();
        fs::remove_file(&log).unwrap();
        let why = record.store("a phone", vec![entry(2)]).await.unwrap_err();
        assert!(matches!(why, RecordError::Gone { .. }), "{why:?}");
        // The file is sound and has all that was acknowledged before anything more is.
        assert_eq!(ids(&read(folder.path()).unwrap()), [1]);
        record.store("a phone", vec![entry(2)]).await.unwrap();
    });
    assert_eq!(ids(&read(folder.path()).unwrap()), [1, 2]);
}

/// A record that is there and cannot be looked at is not an empty one.
#[cfg(unix)]
#[test]
fn a_record_that_cannot_be_reached_is_told() {
    let folder = tempfile::tempdir().unwrap();
    std::os::unix::fs::symlink(FILE, folder.path().join(FILE)).unwrap();
    let why = read(folder.path()).unwrap_err();
    assert!(matches!(why, RecordError::Read { .. }), "{why:?}");
    says(&why, &[FILE, "cannot be read"]);
}

#[test]
fn a_folder_that_is_not_there_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let why =
        with(&folder.path().join("none"), async |record| record.store("a phone", vec![entry(1)]).await.unwrap_err());
    says(&why, &["cannot be written", "nothing was stored"]);
}

#[test]
fn phones_are_let_in_by_names_of_their_own_and_shut_out() {
    let folder = tempfile::tempdir().unwrap();
    with(folder.path(), async |record| {
        let mut news = record.phones_news();
        let (one, two) =
            (record.pair("Ada's phone", [1; 32]).await.unwrap(), record.pair("Ada's phone", [2; 32]).await.unwrap());
        assert_eq!((one.name.as_str(), two.name.as_str()), ("Ada's phone", "Ada's phone (2)"));
        record.shut_out(one.number).await.unwrap();
        record.remember_port(4747).await.unwrap();
        assert!(news.has_changed().unwrap() && *news.borrow_and_update() == 4);
    });
    let kept = read(folder.path()).unwrap();
    assert_eq!(kept.phones.iter().map(|p| p.shut_out.is_some()).collect::<Vec<_>>(), [true, false]);
    assert_eq!((kept.port, kept.identity.len(), kept.phones[1].token_sha256), (Some(4747), 16, [2; 32]));
}

#[test]
fn a_folder_may_have_signs_in_its_name_that_mean_something_in_an_address() {
    let folder = tempfile::tempdir().unwrap();
    let odd = folder.path().join("my boat #2 100%20?mode=rw");
    fs::create_dir(&odd).unwrap();
    with(&odd, async |record| record.store("a phone", vec![entry(1)]).await.unwrap());
    assert_eq!(ids(&read(&odd).unwrap()), [1]);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}

/// Two strokes at the beginning of a path, and a name of letters as they were before there was Unicode.
#[cfg(unix)]
#[test]
fn a_folder_may_be_named_in_any_bytes_and_by_two_strokes() {
    use std::os::unix::ffi::OsStrExt;
    let folder = tempfile::tempdir().unwrap();
    let old = folder.path().join(std::ffi::OsStr::from_bytes(b"b\xf6te"));
    // Not every system's disks take such a name.
    if fs::create_dir(&old).is_ok() {
        with(&old, async |record| record.store("a phone", vec![entry(1)]).await.unwrap());
        assert_eq!(ids(&read(&old).unwrap()), [1]);
    }
    with(folder.path(), async |record| record.store("a phone", vec![entry(2)]).await.unwrap());
    let twice = format!("/{}", folder.path().display());
    assert_eq!(ids(&read(Path::new(&twice)).unwrap()), [2]);
}
