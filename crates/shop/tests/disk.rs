//! Setups on disk: what is saved reads back, what cannot be saved harms nothing, what cannot be read is named.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use std::fs;
use std::path::Path;

use nalgebra::Vector3;
use proptest::prelude::*;
use shop::disk::{self, DiskError};
use shop::{Bench, Command, Notice};
use support::{frame_mount, moved, moves, setup};
use tempfile::TempDir;

fn folder() -> TempDir {
    tempfile::tempdir().expect("there is a temporary folder")
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("the folder can be listed");
    entries
        .map(|e| {
            e.expect("the folder can be listed")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_was_moved_and_saved_reads_back_equal(which in 0..3usize, moves in moves(1..40)) {
        let folder = folder();
        let path = folder.path().join("moved.ron");
        let mut bench = Bench::new(setup(which), None);
        for one in moves {
            bench.run(Command::Apply(one.change(bench.setup())));
        }
        bench.run(Command::SaveTo(path.clone()));
        prop_assert!(!bench.document().is_unsaved());
        prop_assert_eq!(&disk::load(&path).expect("a saved setup reads"), bench.setup());
    }
}

#[test]
fn a_save_takes_the_place_of_the_old_file_and_leaves_nothing_beside_it() {
    let folder = folder();
    let path = folder.path().join("truck.ron");
    fs::write(&path, "something longer than a setup ".repeat(1000)).expect("the folder can be written");
    disk::save(&path, &setup(0)).expect("it can be saved over");
    assert_eq!(disk::load(&path).expect("it reads"), setup(0));
    assert_eq!(names_in(folder.path()), ["truck.ron"]);
}

#[cfg(unix)]
#[test]
fn a_save_keeps_who_may_read_the_file() {
    use std::os::unix::fs::PermissionsExt;
    let folder = folder();
    let path = folder.path().join("truck.ron");
    let mode = |path: &Path| fs::metadata(path).expect("it is there").permissions().mode() & 0o777;
    disk::save(&path, &setup(0)).expect("it can be saved");
    assert_eq!(mode(&path), 0o644, "a new file is readable for everybody");
    fs::set_permissions(&path, fs::Permissions::from_mode(0o660)).expect("its owner may");
    disk::save(&path, &setup(1)).expect("it can be saved over");
    assert_eq!(mode(&path), 0o660);
}

/// Refused, in a sentence that names the path and what to do.
#[track_caller]
fn cannot_be_written(path: &Path, because: &str) {
    let error = disk::save(path, &setup(0)).expect_err("it cannot be written");
    assert!(matches!(error, DiskError::Write { .. }), "{error:?}");
    let sentence = error.to_string();
    assert!(sentence.contains(&path.display().to_string()), "{sentence}");
    assert!(sentence.contains(because), "{sentence}");
    assert!(
        sentence.contains("Save it somewhere else; nothing is lost"),
        "{sentence}"
    );
}

#[test]
fn a_folder_that_is_not_there_is_named() {
    cannot_be_written(
        &folder().path().join("gone/truck.ron"),
        "there is no such file or folder",
    );
}

#[test]
fn a_file_is_no_folder_to_save_in() {
    let folder = folder();
    let file = folder.path().join("old.ron");
    fs::write(&file, "old").expect("the folder can be written");
    cannot_be_written(&file.join("truck.ron"), "part of the path is not a folder");
    assert_eq!(fs::read_to_string(&file).expect("it is there"), "old");
}

#[test]
fn a_folder_is_no_file_to_save_to() {
    let folder = folder();
    let target = folder.path().join("truck.ron");
    fs::create_dir(&target).expect("the folder can be written");
    fs::write(target.join("inside"), "old").expect("the folder can be written");
    cannot_be_written(&target, "it is a folder");
    assert_eq!(fs::read_to_string(target.join("inside")).expect("it is there"), "old");
    assert_eq!(names_in(folder.path()), ["truck.ron"], "nothing is left beside it");
}

/// The temporary file is written by then: it is the last step that fails.
#[test]
fn a_save_that_fails_at_the_last_step_leaves_nothing_behind() {
    let folder = folder();
    fs::write(folder.path().join("old.ron"), "old").expect("the folder can be written");
    cannot_be_written(&folder.path().join("x".repeat(300)), "name too long");
    assert_eq!(names_in(folder.path()), ["old.ron"]);
}

/// The kernel's own files can be read by everybody and replaced by nobody.
#[cfg(target_os = "linux")]
#[test]
fn a_file_that_cannot_be_replaced_keeps_its_content() {
    let path = Path::new("/proc/version");
    let before = fs::read_to_string(path).expect("it can be read");
    cannot_be_written(path, "cannot be written");
    assert_eq!(fs::read_to_string(path).expect("it can be read"), before);
}

#[test]
fn a_bench_that_could_not_save_says_so_and_still_has_everything_to_save() {
    let folder = folder();
    let mut bench = Bench::new(setup(0), None);
    bench.run(Command::Apply(moved(
        bench.setup(),
        frame_mount(2),
        Vector3::z() * 0.01,
    )));
    let changed = bench.setup().clone();
    bench.run(Command::SaveTo(folder.path().join("gone/truck.ron")));
    assert!(
        matches!(bench.notice(), Some(Notice::Refused(s)) if s.contains("gone/truck.ron")),
        "{:?}",
        bench.notice()
    );
    assert!(bench.document().is_unsaved());
    assert_eq!((bench.setup(), bench.document().path.as_deref()), (&changed, None));
}

#[track_caller]
fn cannot_be_read(path: &Path, says: &[&str]) {
    let sentence = disk::load(path).expect_err("it cannot be read").to_string();
    let name = path.file_name().expect("it has a name").to_string_lossy();
    assert!(sentence.contains(&*name), "{sentence}");
    for part in says {
        assert!(sentence.contains(part), "\"{sentence}\" does not say \"{part}\"");
    }
}

/// The file is a hole: a hundred gigabytes that take no room on the disk. Reading it would take minutes and more memory than there is.
#[test]
fn a_huge_file_is_refused_without_being_read() {
    let folder = folder();
    let path = folder.path().join("huge.ron");
    let file = fs::File::create(&path).expect("the folder can be written");
    file.set_len(100_000_000_000).expect("the disk keeps holes");
    cannot_be_read(
        &path,
        &["is not a setup", "it is 100000 MB", "nothing over 1 MB is read"],
    );
    file.set_len(1_000_001).expect("the disk keeps holes");
    cannot_be_read(&path, &["it is 2 MB"]);
    file.set_len(1_000_000).expect("the disk keeps holes");
    cannot_be_read(&path, &["line 1, column 1"]);
}

/// A device that never ends says it has no size; reading stops with the first byte over 1 MB.
#[cfg(unix)]
#[test]
fn an_endless_file_is_not_read_to_its_end() {
    cannot_be_read(Path::new("/dev/zero"), &["it is 2 MB", "nothing over 1 MB is read"]);
}

#[test]
fn what_is_no_setup_is_named_with_its_line() {
    let folder = folder();
    let path = folder.path().join("broken.ron");
    let text = shop::demo::ALL[0]
        .text
        .replace("pinion_angle_deg: 2.5", "pinion_angle_deg: steep");
    let line = text.lines().position(|l| l.contains("steep")).expect("it is there") + 1;
    fs::write(&path, text).expect("the folder can be written");
    cannot_be_read(
        &path,
        &[
            "is not a setup that can be opened",
            &format!("line {line}"),
            "pinion_angle_deg",
            "a number",
        ],
    );
}

#[test]
fn what_is_no_text_or_not_there_is_said_so() {
    let folder = folder();
    let path = folder.path().join("picture.ron");
    fs::write(&path, [0x89, b'P', 0xff, 0xfe, 0x00]).expect("the folder can be written");
    cannot_be_read(&path, &["it is not text"]);
    cannot_be_read(&folder.path().join("gone.ron"), &["there is no such file or folder"]);
    fs::create_dir(folder.path().join("folder.ron")).expect("the folder can be written");
    cannot_be_read(&folder.path().join("folder.ron"), &["it is a folder"]);
}
