//! Her files changed by pages and by other programs: whole, in turn, and so that nobody writes over what they have not seen.

use super::*;
use crate::examples::Example;
use std::fs;

fn files(example: Example) -> Vec<NewText> {
    let texts = Texts::of(&example.files());
    FileName::ALL.map(|f| (f, texts.get(f).map(str::to_owned))).into()
}

fn desk(folder: &std::path::Path) -> Desk {
    Desk::open(Some(folder.to_owned()), Texts::default(), Type::embedded().unwrap()).unwrap()
}

#[test]
fn several_files_are_changed_and_undone_as_one() {
    let folder = tempfile::tempdir().unwrap();
    let desk = desk(folder.path());
    let here = || FileName::ALL.into_iter().filter(|f| folder.path().join(f.word()).exists()).count();
    assert!(desk.view().plan.is_none() && desk.view().trouble.is_none());
    let made = desk.change_all(1, "a new boat", &files(Example::Pram)).unwrap();
    assert_eq!((made.revision, made.undo.as_deref(), here()), (2, Some("a new boat"), 3));
    assert!(made.plan.is_some());
    assert!(matches!(desk.change_all(1, "from an old page", &files(Example::Dinghy)), Err(Refused::Stale)));
    let undone = desk.undo().unwrap();
    assert!(undone.undo.is_none() && undone.plan.is_none() && here() == 0);
    assert_eq!((desk.redo().unwrap().texts.clone(), here()), (made.texts.clone(), 3));
    // What is as it was is no change.
    assert_eq!(desk.change_all(4, "again", &files(Example::Pram)).unwrap().revision, 4);
}

#[cfg(unix)]
#[test]
fn a_change_that_cannot_be_written_whole_is_not_made() {
    let folder = tempfile::tempdir().unwrap();
    // Where the second file should go stands what can be read and must not be replaced.
    std::os::unix::fs::symlink("/dev/null", folder.path().join("offsets.csv")).unwrap();
    let desk = desk(folder.path());
    assert!(matches!(desk.change_all(1, "a new boat", &files(Example::Pram)), Err(Refused::Trouble(_))));
    assert!(!folder.path().join("boat.toml").exists(), "half a boat was left");
    assert!(desk.view().texts.get(FileName::Boat).is_none() && desk.view().undo.is_none());
    desk.look();
    assert_eq!(desk.view().revision, 1, "what went back is taken for another program's");
}

#[test]
fn files_written_together_by_another_program_are_one_step_back() {
    let folder = tempfile::tempdir().unwrap();
    let desk = desk(folder.path());
    for (name, text) in Example::Pram.files() {
        fs::write(folder.path().join(name), text).unwrap();
    }
    desk.look();
    let said = "boat.toml, offsets.csv, rates.toml written by another program";
    assert_eq!(desk.view().undo.as_deref(), Some(said));
    assert!(desk.undo().unwrap().undo.is_none() && !folder.path().join("boat.toml").exists());
}

/// Whoever comes upon it first, a page that is refused for it or the next look: everybody is told, and it can be undone.
#[test]
fn what_another_program_has_written_is_told_even_where_a_change_is_refused_for_it() {
    let folder = tempfile::tempdir().unwrap();
    let desk = desk(folder.path());
    let mut news = desk.news();
    fs::write(folder.path().join("rates.toml"), "currency = \"EUR\"\n").unwrap();
    assert!(matches!(desk.change(1, "nails", FileName::Nails, Some("x".to_owned())), Err(Refused::Stale)));
    assert!(news.has_changed().unwrap() && *news.borrow_and_update() == 2, "nobody was told");
    assert_eq!(desk.view().undo.as_deref(), Some("rates.toml written by another program"));
    desk.undo().unwrap();
    fs::write(folder.path().join("rates.toml"), "currency = \"GBP\"\n").unwrap();
    assert!(matches!(desk.redo(), Err(Refused::Nothing(_))));
    assert_eq!((*news.borrow_and_update(), desk.view().revision), (4, 4));
}

/// In the moment between the look and the writing.
#[test]
fn what_another_program_writes_beside_a_change_is_not_passed_over() {
    let folder = tempfile::tempdir().unwrap();
    let desk = desk(folder.path());
    fs::write(folder.path().join("rates.toml"), "currency = \"EUR\"\n").unwrap();
    let own = [(FileName::Nails, Some("kind,gauge,length,pack\n".to_owned()))];
    desk.put(&mut desk.lock(), &own, "nails").unwrap();
    assert!(desk.view().texts.get(FileName::Rates).is_none());
    desk.look();
    assert!(desk.view().texts.get(FileName::Rates).is_some(), "it is never seen");
    assert_eq!(desk.view().revision, 3);
}

#[test]
fn no_more_steps_are_kept_than_can_be_undone_whoever_makes_them() {
    let folder = tempfile::tempdir().unwrap();
    let desk = desk(folder.path());
    for n in 0..MOST_UNDO + 3 {
        // Each longer than the last: two may be written within one tick of the disk's clock.
        fs::write(folder.path().join("rates.toml"), "#".repeat(n + 1)).unwrap();
        desk.look();
    }
    assert_eq!((desk.view().revision, desk.lock().undo.len()), (MOST_UNDO as u64 + 4, MOST_UNDO));
}

/// A spreadsheet may save in letters that are none: what it has saved is told, and neither shown nor written over.
#[test]
fn what_another_program_has_written_and_cannot_be_read_is_told_and_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let desk = desk(folder.path());
    let rates = folder.path().join("rates.toml");
    desk.change(1, "rates", FileName::Rates, Some("currency = \"EUR\"\n".to_owned())).unwrap();
    let theirs = b"currency = \"\xa3\"\n";
    fs::write(&rates, theirs).unwrap();
    let own = || desk.change(2, "other rates", FileName::Rates, Some("currency = \"GBP\"\n".to_owned()));
    let Err(Refused::Trouble(why)) = own() else { panic!("it was written over") };
    assert!(why.to_string().contains("UTF-8"), "{why}");
    assert!(matches!(desk.undo(), Err(Refused::Trouble(_))));
    assert_eq!(fs::read(&rates).unwrap(), theirs);
    // It may be in the middle of being written: told at the second look, and once.
    desk.look();
    assert!(desk.view().trouble.is_none());
    (0..3).for_each(|_| desk.look());
    assert!(desk.view().trouble.as_ref().is_some_and(|t| t.contains("rates.toml, line 1") && t.contains("UTF-8")));
    assert_eq!((desk.view().revision, desk.view().undo.as_deref()), (3, Some("rates")));
    fs::write(&rates, "currency = \"EUR\"\n").unwrap();
    desk.look();
    assert_eq!((desk.view().revision, desk.view().trouble.as_deref()), (4, None));
    desk.undo().unwrap();
    assert!(!rates.exists());
}

#[test]
fn a_text_that_could_not_be_read_again_is_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let desk = desk(folder.path());
    let long = |bytes: u64| Some("#".repeat(usize::try_from(bytes).unwrap()));
    let why = desk.change(1, "nails", FileName::Nails, long(LARGEST + 1)).err().unwrap();
    assert_eq!(why.to_string(), "nails.csv would be larger than 4194304 bytes, the limit");
    assert!(!folder.path().join("nails.csv").exists());
    desk.change(1, "nails", FileName::Nails, long(LARGEST)).unwrap();
}
