//! Setups kept beside the open one: each stays as it is, and none is lost.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[expect(dead_code, reason = "the other tests use the rest of it")]
mod support;

use std::fs;
use std::path::PathBuf;

use nalgebra::Vector3;
use rearend::setup::Setup;
use rearend::tape::Units;
use shop::{Bench, Change, Command, Document, MOST_BESIDE, Notice, Stand, disk};
use support::{frame_mount, moved, setup};
use tempfile::TempDir;

fn folder() -> TempDir {
    tempfile::tempdir().expect("there is a temporary folder")
}

/// A demo scene in a file of its own.
fn saved(folder: &TempDir, which: usize) -> PathBuf {
    let path = folder.path().join(format!("truck-{which}.ron"));
    disk::save(&path, &setup(which)).expect("the folder can be written");
    path
}

fn beside(bench: &Bench) -> Vec<&str> {
    let documents = bench.beside().documents().iter();
    documents.map(|d| d.setup().name.as_str()).collect()
}

/// Moves the frame mount of a bar up by so many millimetres.
fn lift(bench: &mut Bench, bar: usize, mm: f64) {
    let change = moved(bench.setup(), frame_mount(bar), Vector3::z() * mm * 1e-3);
    let before = bench.setup().clone();
    bench.run(Command::Apply(change));
    assert_ne!(*bench.setup(), before, "{:?}", bench.notice());
}

/// Everything of a document that the user could miss.
fn belongings(document: &Document) -> (Setup, Option<PathBuf>, bool, Vec<String>, Vec<String>) {
    (
        document.setup().clone(),
        document.path.clone(),
        document.is_unsaved(),
        document.undo_names().map(str::to_owned).collect(),
        document.redo_names().map(str::to_owned).collect(),
    )
}

#[track_caller]
fn assert_refused(bench: &Bench, part: &str) {
    match bench.notice() {
        Some(Notice::Refused(sentence)) => assert!(sentence.contains(part) && sentence.ends_with('.'), "{sentence}"),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_copy_stays_as_the_open_setup_was_when_it_was_put_there() {
    let mut bench = Bench::new(setup(0), None);
    let was = bench.setup().clone();
    bench.run(Command::PutBeside);
    lift(&mut bench, 2, 20.0);
    let copy = &bench.beside().documents()[0];
    let mut renamed = copy.setup().clone();
    renamed.name.clone_from(&was.name);
    assert_eq!(renamed, was);
    let shift = |document: &Document| {
        let rows = document.answers().level_rows();
        rows.last().expect("it is solved").shift_m
    };
    assert_ne!(shift(copy), shift(bench.document()));
    assert_eq!(*bench.setup().name, *was.name, "the open one keeps its name");
}

#[test]
fn copies_have_names_of_their_own() {
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::Apply(Change::Rename("Hauler".to_owned())));
    bench.run(Command::PutBeside);
    bench.run(Command::PutBeside);
    assert_eq!(beside(&bench), ["Hauler, copy 1", "Hauler, copy 2"]);
    bench.run(Command::SwapWith(0));
    bench.run(Command::PutBeside);
    assert_eq!(beside(&bench), ["Hauler", "Hauler, copy 2", "Hauler, copy 3"]);
    let long = "x".repeat(60);
    bench.run(Command::Apply(Change::Rename(long.clone())));
    assert_eq!(bench.setup().name, long);
    bench.run(Command::PutBeside);
    let name = beside(&bench)[3].to_owned();
    assert_eq!(shop::usable_name(&name).expect("it can be typed again"), name);
}

#[test]
fn a_file_comes_beside_with_its_path_and_nothing_to_save() {
    let folder = folder();
    let path = saved(&folder, 1);
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::OpenBeside(path.clone()));
    let document = &bench.beside().documents()[0];
    assert_eq!(document.setup(), &setup(1));
    assert_eq!(document.path.as_ref(), Some(&path));
    assert!(!document.is_unsaved() && !document.is_changed_on_disk());
    assert_eq!(bench.setup(), &setup(0));
}

#[test]
fn a_file_that_cannot_be_read_is_refused_with_its_name() {
    let folder = folder();
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::OpenBeside(folder.path().join("nowhere.ron")));
    assert_refused(&bench, "nowhere.ron");
    let torn = folder.path().join("torn.ron");
    fs::write(&torn, "(format: 1, name:").expect("the folder can be written");
    bench.run(Command::OpenBeside(torn));
    assert_refused(&bench, "torn.ron");
    assert!(beside(&bench).is_empty());
}

#[test]
fn a_sixth_is_refused_and_nothing_is_pushed_out() {
    let folder = folder();
    let path = saved(&folder, 1);
    let mut bench = Bench::new(setup(0), None);
    for which in 1..=MOST_BESIDE {
        assert!(bench.beside().has_room());
        bench.run(Command::PutDemoBeside(which));
    }
    let there: Vec<String> = beside(&bench).into_iter().map(str::to_owned).collect();
    assert_eq!(there, [1, 2, 3, 4, 5].map(|which| setup(which).name));
    for command in [Command::PutBeside, Command::PutDemoBeside(7), Command::OpenBeside(path)] {
        bench.run(Command::Dismiss);
        bench.run(command);
        assert_refused(&bench, "Five setups are beside this one");
        assert_eq!(beside(&bench), there);
    }
    // A swap needs no room.
    bench.run(Command::SwapWith(4));
    assert_eq!(bench.setup(), &setup(5));
    assert_eq!(bench.beside().documents()[4].setup(), &setup(0));
}

#[test]
fn a_swap_loses_neither_work_nor_file_nor_history_of_either() {
    let folder = folder();
    let (first, second) = (saved(&folder, 0), saved(&folder, 1));
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::Open(first.clone()));
    lift(&mut bench, 2, 10.0);
    lift(&mut bench, 2, 5.0);
    bench.run(Command::Undo);
    bench.run(Command::OpenBeside(second.clone()));
    let open = belongings(bench.document());
    assert!(open.2, "the lifted mount is not saved");
    assert_eq!((open.3.len(), open.4.len()), (1, 1));
    let other = belongings(&bench.beside().documents()[0]);

    let revision = bench.document().revision();
    bench.run(Command::SwapWith(0));
    assert!(
        bench.document().revision() > revision,
        "nothing drawn of the one passes for the other"
    );
    assert_eq!(belongings(bench.document()), other);
    assert_eq!(belongings(&bench.beside().documents()[0]), open);
    let unsaved: Vec<_> = bench.beside().unsaved().map(|d| d.path.clone()).collect();
    assert_eq!(unsaved, [Some(first.clone())], "who closes the program can be asked");

    // Saving writes the open one and to its own file.
    lift(&mut bench, 0, 3.0);
    bench.run(Command::SaveTo(second.clone()));
    assert_eq!(&disk::load(&second).expect("it reads"), bench.setup());
    assert_eq!(disk::load(&first).expect("it reads"), setup(0));

    bench.run(Command::SwapWith(0));
    assert_eq!(belongings(bench.document()), open);
    bench.run(Command::Redo);
    bench.run(Command::Undo);
    bench.run(Command::Undo);
    assert_eq!(bench.setup(), &setup(0), "all steps can still be taken back");
}

#[test]
fn a_drag_that_goes_on_while_setups_are_swapped_is_one_step_of_its_own_setup() {
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::PutDemoBeside(1));
    bench.run(Command::BeginStep);
    lift(&mut bench, 2, 10.0);
    lift(&mut bench, 2, 10.0);
    bench.run(Command::SwapWith(0));
    bench.run(Command::CancelStep);
    assert_eq!(bench.setup(), &setup(1));
    bench.run(Command::SwapWith(0));
    assert_eq!(bench.document().undo_names().len(), 1);
    bench.run(Command::Undo);
    assert_eq!(bench.setup(), &setup(0));
}

#[test]
fn a_swap_keeps_the_height_the_roll_and_the_units_and_lets_go_of_the_mount() {
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::SetUnits(Units::Millimetres));
    bench.run(Command::PutBeside);
    bench.run(Command::PutDemoBeside(2));
    let stand = Stand {
        height_m: 0.2,
        roll_rad: 0.02,
    };
    bench.run(Command::StandAt(stand));
    bench.run(Command::Select(Some(frame_mount(0))));
    bench.run(Command::SwapWith(0));
    assert_eq!((bench.stand(), bench.units()), (stand, Units::Millimetres));
    assert_eq!(bench.selected(), None);
    let now = bench.now().expect("it is reached");
    assert!((now.height_m - stand.height_m).abs() < 1e-9);
    // The third demo goes no higher than this.
    bench.run(Command::StandAt(Stand {
        height_m: 0.23,
        roll_rad: 0.0,
    }));
    bench.run(Command::SwapWith(1));
    assert_eq!(bench.stand().height_m, bench.setup().travel.full_lift_m);
}

#[test]
fn what_is_taken_away_can_be_put_back_with_all_that_is_its_own() {
    let folder = folder();
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::Open(saved(&folder, 0)));
    lift(&mut bench, 2, 10.0);
    bench.run(Command::PutDemoBeside(1));
    bench.run(Command::PutDemoBeside(2));
    bench.run(Command::SwapWith(0));
    let worked_on = belongings(&bench.beside().documents()[0]);
    bench.run(Command::TakeAway(0));
    assert_eq!(beside(&bench), [setup(2).name]);
    assert!(bench.beside().taken_away().is_some_and(|d| belongings(d) == worked_on));
    bench.run(Command::PutBack);
    assert_eq!(belongings(&bench.beside().documents()[1]), worked_on);
    assert!(bench.beside().taken_away().is_none());
    bench.run(Command::PutBack);
    assert_eq!(beside(&bench).len(), 2, "once");
}

#[test]
fn there_is_nothing_to_take_away_or_swap_with_beyond_the_last() {
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::PutDemoBeside(1));
    for command in [
        Command::TakeAway(1),
        Command::SwapWith(1),
        Command::PutDemoBeside(99),
        Command::PutBack,
    ] {
        bench.run(command);
    }
    assert_eq!(
        (bench.setup(), beside(&bench)),
        (&setup(0), vec![setup(1).name.as_str()])
    );
}

#[test]
fn opening_something_else_leaves_those_beside() {
    let folder = folder();
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::PutDemoBeside(1));
    bench.run(Command::PutDemoBeside(2));
    bench.run(Command::TakeAway(1));
    let path = saved(&folder, 3);
    for command in [Command::Open(path), Command::OpenDemo(4), Command::New, Command::Copy] {
        bench.run(command);
        assert_eq!(beside(&bench), [setup(1).name]);
        assert!(bench.beside().taken_away().is_some());
    }
}

#[test]
fn the_open_setup_is_the_first_of_those_compared() {
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::PutDemoBeside(1));
    bench.run(Command::PutDemoBeside(0));
    let comparison = bench.comparison();
    assert_eq!(comparison.names, bench.compared_names());
    let twice = format!("{} (2)", setup(0).name);
    assert_eq!(comparison.names, [setup(0).name, setup(1).name, twice]);
    for row in &comparison.rows {
        assert_eq!(row.values[0], row.values[2], "{}", row.label);
    }
    lift(&mut bench, 2, 10.0);
    let after = bench.comparison();
    assert_ne!(
        after.rows[0].values[0], comparison.rows[0].values[0],
        "the open one follows"
    );
    assert_eq!(
        after.rows[0].values[1..],
        comparison.rows[0].values[1..],
        "those beside stay"
    );
}
