//! Opening files, and leaving with work unsaved.

use std::fs;
use std::path::Path;

use nalgebra::Point3;
use rearend::file;
use rearend::setup::Setup;

use crate::drag::{PANHARD_ON_FRAME, assert_shift, whole};
use crate::driver::Window;
use crate::shown::Shown;

/// Demo 01 with a field misspelt; and the line and column, from 1, where the misspelt name stands.
fn broken() -> (String, usize, usize) {
    let text = fs::read_to_string(tests::demo_scene("01")).expect("the demo is there");
    let text = text.replacen("loaded_radius_mm", "loaded_radious_mm", 1);
    let (line, column) = text
        .lines()
        .enumerate()
        .find_map(|(i, line)| Some((i + 1, line.find("loaded_radious_mm")? + 1)))
        .expect("the misspelt field is there");
    (text, line, column)
}

#[test]
fn a_broken_file_leaves_the_old_setup() {
    let mut window = Window::open();
    let before = window.now();
    let path = window.path("broken.ron");
    let (text, line, column) = broken();
    fs::write(&path, text).expect("a file in a folder of one's own");

    window.hands.key("ctrl+o");
    window.wait_for("the box for a path", |shown| shown.dialog);
    window.settle();
    window.hands.enter(&path.display().to_string());
    let told = window.wait_for("a notice", |shown| shown.notice.is_some());
    let notice = told.notice.clone().unwrap_or_default();
    for word in [
        "broken.ron",
        &format!("line {line}"),
        &format!("column {column}"),
        "loaded_radious_mm",
    ] {
        assert!(notice.contains(word), "\"{word}\" is missing in: {notice}");
    }
    assert_eq!(
        told,
        Shown {
            notice: told.notice.clone(),
            ..before
        }
    );

    window.settle();
    assert_eq!(window.now(), told, "a notice leaves the stage the room it has");
    window.hands.key("2");
    window.wait_for("the view from the side", Shown::is_from_the_side);
}

/// Selects a mount and moves it one step up; gives back demo 01 with that done.
pub fn nudge(window: &mut Window) -> Setup {
    let [x, y] = window.look_from_behind().handle(PANHARD_ON_FRAME).map(whole);
    window.click_at([x, y]);
    window.wait_for("the mount selected", |shown| {
        shown.selected.as_deref() == Some(PANHARD_ON_FRAME)
    });
    window.settle();
    window.hands.key("Up");
    let mut setup = shop::demo::ALL[0].setup().expect("a demo reads");
    setup.bars[2].mount_in_frame += Point3::new(0.0, 0.0, 0.0254 / 16.0).coords;
    setup
}

#[test]
fn unsaved_work_is_asked_about() {
    let mut window = Window::open();
    let setup = nudge(&mut window);
    let nudged = window.wait_for("unsaved work", |shown| shown.unsaved);
    assert_shift(&nudged, &setup);

    window.hands.key("ctrl+q");
    window.wait_for("the question", |shown| shown.dialog);
    window.settle();
    assert!(window.runs());
    window.hands.key("Escape");
    window.wait_for("the question taken back", |shown| !shown.dialog);
    window.settle();
    assert!(window.runs() && window.now().unsaved);

    window.hands.key("ctrl+q");
    window.wait_for("the question again", |shown| shown.dialog);
    // The buttons: save, go on without saving, cancel.
    for key in ["Tab", "Tab", "Return"] {
        window.settle();
        window.hands.key(key);
    }
    let status = window.wait_for_end();
    assert_eq!(status.code(), Some(0), "{status}");
}

/// What cannot be saved is still there to be saved somewhere else, and no half file is left behind.
#[test]
fn a_full_disk_and_a_read_only_folder_lose_nothing() {
    let Some(mut window) = Window::open_with_poor_disks() else {
        eprintln!("nothing can be mounted here: saving to a full disk is not tried");
        return;
    };
    let setup = nudge(&mut window);
    window.wait_for("unsaved work", |shown| shown.unsaved);
    for (folder, why, files) in [
        ("full", "the disk is full", 1),
        ("read-only", "the folder is read-only", 0),
    ] {
        let path = window.path(folder).join("kept.ron");
        save_as(&mut window, &path);
        let told = window.wait_for("a refusal", |shown| {
            shown.notice.as_deref().is_some_and(|n| n.contains(why))
        });
        assert!(told.unsaved && !told.dialog, "{told:?}");
        assert_shift(&told, &setup);
        let inside = window.inside(&window.path(folder));
        let count = fs::read_dir(inside).expect("the folder is mounted").count();
        assert_eq!(count, files, "no half file is in {folder}");
        window.settle();
    }
    let path = window.path("kept.ron");
    save_as(&mut window, &path);
    window.wait_for("saved work", |shown| !shown.unsaved);
    // As fine as a file is.
    let setup = file::read(&file::write(&setup)).expect("it reads back");
    assert_eq!(shop::disk::load(&path).expect("it was saved whole"), setup);
}

fn save_as(window: &mut Window, path: &Path) {
    window.hands.key("ctrl+shift+s");
    window.wait_for("the box for a path", |shown| shown.dialog);
    window.settle();
    window.hands.enter(&path.display().to_string());
}
