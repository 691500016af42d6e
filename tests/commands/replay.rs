//! `axlewright replay`.

use shop::journal::Journal;
use shop::{Bench, Change, Command, disk};

use crate::shell::{Shell, demo_setup};

#[test]
fn every_step_of_a_journal_is_gone_through_and_the_last_setup_written() {
    let shell = Shell::new();
    let folder = shell.path("journals");
    let mut journal = Journal::begin(&folder).expect("it begins");
    let mut bench = Bench::new(demo_setup(), None);
    for change in [None, Some("First"), Some("Second")] {
        if let Some(name) = change {
            bench.run(Command::Apply(Change::Rename(name.to_owned())));
        }
        journal.follow(bench.document()).expect("the disk has room");
    }
    bench.run(Command::Undo);
    journal.follow(bench.document()).expect("the disk has room");
    drop(journal);
    let file = std::fs::read_dir(&folder)
        .expect("it lists")
        .flatten()
        .next()
        .expect("a journal")
        .path();
    let file = file.to_string_lossy().into_owned();

    let told = shell.text(&["replay", &file, "--out", "last.ron"]);
    let steps: Vec<_> = told.lines().filter_map(|line| line.split(": ").next()).collect();
    let wanted = ["1. open", "2. name it \"First\"", "3. name it \"Second\"", "4. undo"];
    assert_eq!(steps, wanted, "{told}");
    assert_eq!(disk::load(&shell.path("last.ron")).expect("it reads").name, "First");
}

#[test]
fn a_file_that_is_no_journal_is_refused() {
    let shell = Shell::new();
    shell.put("notes.txt", "not a journal");
    let refused = shell.run(&["replay", "notes.txt"]);
    assert_eq!(refused.status.code(), Some(2));
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(said.contains("notes.txt holds no step of a journal"), "{said}");
}
