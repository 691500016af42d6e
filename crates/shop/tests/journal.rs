//! The journal: whatever moment a program dies at, the last finished step is there.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[expect(dead_code, reason = "the other tests use the rest of it")]
mod support;

use std::fs;
use std::path::{Path, PathBuf};

use proptest::prelude::*;
use shop::journal::{Journal, entries, left_behind};
use shop::{Bench, Command, disk};
use support::{moves, setup};
use tempfile::TempDir;

fn folder() -> TempDir {
    tempfile::tempdir().expect("there is a temporary folder")
}

fn only_journal(folder: &Path) -> PathBuf {
    let mut files = fs::read_dir(folder).expect("the folder can be listed").flatten();
    let path = files.next().expect("there is a journal").path();
    assert!(files.next().is_none(), "there is one only");
    path
}

/// As the program does at the end of every frame.
fn follow(journal: &mut Journal, bench: &Bench) -> bool {
    journal.follow(bench.document()).expect("the disk has room")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whole drags are entries; what happens within one is none, and however the last line is torn, the one before it stands.
    #[test]
    fn cut_off_anywhere_it_holds_the_last_finished_step(moves in moves(3..20), cut in 0.0..1.0f64) {
        let folder = folder();
        let mut bench = Bench::new(setup(0), None);
        let mut journal = Journal::begin(folder.path()).expect("it begins");
        let mut states = Vec::new();
        follow(&mut journal, &bench);
        states.push(bench.setup().clone());
        for drag in moves.chunks(2) {
            bench.run(Command::BeginStep);
            for one in drag {
                bench.run(Command::Apply(one.change(bench.setup())));
                prop_assert!(!follow(&mut journal, &bench), "a drag in progress is no step");
            }
            bench.run(Command::EndStep);
            if follow(&mut journal, &bench) {
                states.push(bench.setup().clone());
            }
        }
        drop(journal);
        let path = only_journal(folder.path());
        let bytes = fs::read(&path).expect("it reads");
        let starts: Vec<_> = bytes.iter().enumerate().filter(|(_, b)| **b == b'\n').map(|(i, _)| i + 1).collect();
        prop_assert_eq!(starts.len(), states.len());
        // Cut within the last line.
        let last_starts = starts[starts.len() - 2];
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a part of a few kilobytes")]
        let keep = last_starts + (cut * (bytes.len() - 1 - last_starts) as f64) as usize;
        fs::write(&path, &bytes[..keep]).expect("it can be cut");
        let held: Vec<_> = entries(&path).expect("it reads").into_iter().map(|e| e.setup).collect();
        prop_assert_eq!(&held, &states[..states.len() - 1]);
    }
}

#[test]
fn undo_and_redo_are_steps_too_and_named() {
    let folder = folder();
    let mut bench = Bench::new(setup(0), None);
    let mut journal = Journal::begin(folder.path()).expect("it begins");
    follow(&mut journal, &bench);
    bench.run(Command::Apply(shop::Change::Rename("Another".to_owned())));
    follow(&mut journal, &bench);
    for command in [Command::Undo, Command::Redo] {
        bench.run(command);
        assert!(follow(&mut journal, &bench));
    }
    let steps: Vec<_> = entries(&only_journal(folder.path()))
        .expect("it reads")
        .into_iter()
        .map(|e| e.step)
        .collect();
    let name = "name it \"Another\"";
    assert_eq!(
        steps,
        ["open", name, &format!("undo: {name}"), &format!("redo: {name}")]
    );
}

#[test]
fn what_a_dead_program_left_is_offered_once_and_a_living_ones_is_not() {
    let folder = folder();
    let mut bench = Bench::new(setup(0), None);
    let mut journal = Journal::begin(folder.path()).expect("it begins");
    follow(&mut journal, &bench);
    bench.run(Command::Apply(shop::Change::Rename("Left behind".to_owned())));
    follow(&mut journal, &bench);
    assert!(left_behind(folder.path()).is_empty(), "its program lives");
    // Closing the file is what death does.
    drop(journal);
    let mut left = left_behind(folder.path());
    assert_eq!(left.len(), 1);
    assert!(left_behind(folder.path()).is_empty(), "it is being offered");
    let left = left.remove(0);
    assert_eq!(
        (left.last.setup.name.as_str(), left.last.step.as_str()),
        ("Left behind", "name it \"Left behind\"")
    );
    bench.run(Command::TakeUp(Box::new(left.last.clone())));
    assert!(bench.document().is_unsaved());
    left.forget();
    assert!(left_behind(folder.path()).is_empty());
    assert_eq!(fs::read_dir(folder.path()).expect("it lists").count(), 0);
}

#[test]
fn saved_work_is_not_offered_and_a_clean_end_leaves_nothing() {
    let folder = folder();
    let work = folder.path().join("truck.ron");
    let journals = folder.path().join("journals");
    let mut bench = Bench::new(setup(0), None);
    let mut journal = Journal::begin(&journals).expect("it begins");
    bench.run(Command::Apply(shop::Change::Rename("Saved".to_owned())));
    follow(&mut journal, &bench);
    bench.run(Command::SaveTo(work));
    assert!(follow(&mut journal, &bench), "that it is saved is written down");
    drop(journal);
    assert!(left_behind(&journals).is_empty());
    assert_eq!(
        fs::read_dir(&journals).expect("it lists").count(),
        0,
        "it is cleared away"
    );
    Journal::begin(&journals).expect("it begins").end();
    assert_eq!(fs::read_dir(&journals).expect("it lists").count(), 0);
}

#[test]
fn a_file_that_another_program_wrote_to_is_known_for_it() {
    let folder = folder();
    let path = folder.path().join("truck.ron");
    disk::save(&path, &setup(0)).expect("it saves");
    let mut bench = Bench::new(setup(1), None);
    bench.run(Command::Open(path.clone()));
    assert!(!bench.document().is_changed_on_disk());
    disk::save(&path, &setup(2)).expect("it saves");
    assert!(bench.document().is_changed_on_disk());
    bench.run(Command::SaveTo(path.clone()));
    assert!(
        !bench.document().is_changed_on_disk(),
        "what was saved is what is there"
    );
    fs::remove_file(&path).expect("it goes");
    assert!(!bench.document().is_changed_on_disk(), "what is gone is not in the way");
}

#[test]
fn the_last_eight_files_are_remembered() {
    let folder = folder();
    let list = folder.path().join("recent");
    let mut recent = shop::recent::Recent::kept_in(list.clone());
    let paths: Vec<_> = (0..10).map(|i| folder.path().join(format!("{i}.ron"))).collect();
    for path in &paths {
        fs::write(path, "").expect("it writes");
        recent.add(path);
    }
    recent.add(&paths[5]);
    let again = shop::recent::Recent::kept_in(list.clone());
    let names: Vec<_> = again
        .files()
        .iter()
        .filter_map(|f| f.file_stem())
        .map(|s| s.to_string_lossy().into_owned())
        .collect();
    assert_eq!(names, ["5", "9", "8", "7", "6", "4", "3", "2"]);
    fs::remove_file(&paths[9]).expect("it goes");
    let later = shop::recent::Recent::kept_in(list);
    assert_eq!(later.files().len(), 7, "what is gone is not offered");
}

#[test]
fn a_new_truck_solves_and_every_layout_on_it_too() {
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::New);
    assert!(!bench.document().is_unsaved(), "nothing is lost yet");
    for layout in rearend::layouts::Layout::ALL {
        bench.run(Command::Apply(shop::Change::Hang(layout)));
        let answers = bench.document().answers();
        let solved = answers.solved.as_ref().expect("it solves");
        assert_eq!(
            (solved.level.low_end, solved.level.high_end),
            (None, None),
            "{}",
            layout.title()
        );
    }
}

/// Longer than it may be, it begins anew with what there is now; whatever moment the program dies at, the last step is there.
#[test]
fn a_journal_that_grows_too_long_begins_anew_and_loses_nothing() {
    let folder = folder();
    let mut bench = Bench::new(setup(0), None);
    let mut journal = Journal::begin(folder.path()).expect("it begins").no_longer_than(20_000);
    for number in 0..40 {
        bench.run(Command::Apply(shop::Change::Rename(format!("Number {number}"))));
        follow(&mut journal, &bench);
        let held = entries(&only_journal(folder.path())).expect("it reads");
        let last = held.last().expect("there is a last one");
        assert_eq!(last.setup.name, format!("Number {number}"));
        let bytes = fs::metadata(only_journal(folder.path())).expect("it is there").len();
        assert!(bytes < 40_000, "{bytes}");
    }
    assert!(
        left_behind(folder.path()).is_empty(),
        "the new file is locked as the old one was"
    );
    drop(journal);
    assert_eq!(left_behind(folder.path())[0].last.setup.name, "Number 39");
}

/// Only what holds nothing to lose is taken away.
#[test]
fn a_journal_that_cannot_be_read_is_left_where_it_is() {
    let folder = folder();
    let path = folder.path().join("work-x.journal");
    fs::write(&path, "\0\0\0 half a line").expect("it writes");
    assert!(left_behind(folder.path()).is_empty());
    assert!(path.is_file());
}

/// Taken up from elsewhere, work still knows its file, and that somebody has written to it since.
#[test]
fn what_is_taken_up_knows_its_file_and_its_stamp() {
    let folder = folder();
    let path = folder.path().join("truck.ron");
    disk::save(&path, &setup(0)).expect("it saves");
    let journals = folder.path().join("journals");
    let mut journal = Journal::begin(&journals).expect("it begins");
    let mut bench = Bench::new(setup(1), None);
    bench.run(Command::Open(path.clone()));
    bench.run(Command::Apply(shop::Change::Rename("Mine".to_owned())));
    follow(&mut journal, &bench);
    drop(journal);
    disk::save(&path, &setup(2)).expect("somebody else saves");
    let left = left_behind(&journals).remove(0);
    bench.run(Command::TakeUp(Box::new(left.last.clone())));
    assert!(bench.document().is_unsaved() && bench.document().is_changed_on_disk());
    assert_eq!(bench.document().path.as_deref(), Some(path.as_path()));
}

/// Nothing of what nobody has typed yet is wrong.
#[test]
fn a_new_truck_has_nothing_that_will_not_work() {
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::New);
    let surveyed = shop::Surveyed::of(bench.setup(), bench.document().answers()).expect("it solves");
    let wrong: Vec<_> = surveyed
        .findings
        .iter()
        .filter(|f| f.grade == rearend::findings::Grade::WontWork)
        .map(|f| f.sentence(bench.setup(), bench.units()))
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}
