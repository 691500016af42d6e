//! A program that dies in the middle of a drag, two windows on one file, a disk that cannot be written.

use std::fs;

use crate::drag::{PANHARD_ON_FRAME, assert_shift};
use crate::driver::Window;
use crate::files::nudge;

#[test]
fn what_was_finished_before_a_crash_is_taken_up_again() {
    let mut window = Window::open();
    let setup = nudge(&mut window);
    window.wait_for("a finished step", |shown| shown.unsaved);
    window.settle();
    window.pull_up(PANHARD_ON_FRAME, 60);

    window.crash_and_start_again();
    window.wait_for("the question", |shown| shown.dialog);
    window.settle();
    window.click("Take it up again");
    let taken_up = window.wait_for("the work", |shown| shown.unsaved && !shown.dialog);
    // The nudge, not the drag that was never let go.
    assert_shift(&taken_up, &setup);

    // What is thrown away is not offered again.
    window.crash_and_start_again();
    window.wait_for("the question again", |shown| shown.dialog);
    window.settle();
    window.click("Throw it away");
    let begun = window.wait_for("no question", |shown| !shown.dialog);
    assert!(!begun.unsaved, "the demo stands there untouched");
    let journals = window.path("state/axlewright/journals");
    let kept = fs::read_dir(journals).expect("it lists").count();
    assert_eq!(kept, 1, "its own, and nothing to offer at the next start");
}

#[test]
fn a_file_that_another_window_saved_is_not_saved_over_unasked() {
    let shelf = tempfile::tempdir().expect("a folder that outlasts the window");
    let path = shelf.path().join("truck.ron");
    fs::copy(tests::demo_scene("01"), &path).expect("a copy");
    let mut window = Window::open_file(&path);
    nudge(&mut window);
    window.wait_for("a change", |shown| shown.unsaved);
    window.settle();
    let theirs = fs::read_to_string(tests::demo_scene("03")).expect("a demo");
    fs::write(&path, &theirs).expect("another window saves");

    window.hands.key("ctrl+s");
    window.wait_for("the question", |shown| shown.dialog);
    window.settle();
    assert_eq!(
        fs::read_to_string(&path).expect("it reads"),
        theirs,
        "nothing is written yet"
    );
    window.click("Cancel");
    window.wait_for("the question taken back", |shown| !shown.dialog && shown.unsaved);
    window.settle();
    window.hands.key("ctrl+s");
    window.wait_for("the question again", |shown| shown.dialog);
    window.settle();
    window.click("Save over it");
    window.wait_for("it saved", |shown| !shown.unsaved);
    let ours = shop::disk::load(&path).expect("it reads");
    assert_eq!(ours.name, shop::demo::ALL[0].setup().expect("a demo reads").name);
}

#[test]
fn what_is_still_being_typed_is_saved_too() {
    let shelf = tempfile::tempdir().expect("a folder that outlasts the window");
    let path = shelf.path().join("truck.ron");
    fs::copy(tests::demo_scene("01"), &path).expect("a copy");
    let mut window = Window::open_file(&path);
    window.hands.key("r");
    window.click("Note");
    window.settle();
    window.hands.write("Brackets by Friday. ");
    window.settle();
    window.hands.key("ctrl+s");
    window.wait_for("it saved", |shown| shown.notice.is_some());
    let saved = shop::disk::load(&path).expect("it reads");
    assert!(saved.note.contains("Brackets by Friday."), "{}", saved.note);
}
