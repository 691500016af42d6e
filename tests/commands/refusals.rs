//! What cannot be done is refused with one sentence, exit code 2, and nothing written.

use std::fs::{self, File};

use crate::shell::{Shell, demo, demo_text};

/// Line and column, from 1, of a text's first place with some words.
fn place_of(text: &str, words: &str) -> (usize, usize) {
    let mut lines = text.lines().enumerate();
    let place = lines.find_map(|(i, line)| Some((i + 1, line.find(words)? + 1)));
    place.expect("the words are there")
}

#[test]
fn a_file_that_is_not_there() {
    let shell = Shell::new();
    for words in [
        &["travel", "none.ron"][..],
        &["findings", "none.ron"],
        &["picture", "none.ron", "--out", "p.png"],
    ] {
        shell.assert_refused(shell.program(words), &["none.ron", "there is no such file"]);
    }
}

#[test]
fn a_misspelt_field_is_named_with_its_line_and_column() {
    let shell = Shell::new();
    let text = demo_text().replacen("rim_mm", "rimm_mm", 1);
    let (line, column) = place_of(&text, "rimm_mm");
    shell.put("broken.ron", &text);
    let travel = shell.program(&["travel", "broken.ron", "--out", "travel.csv"]);
    shell.assert_refused(
        travel,
        &[
            "broken.ron",
            &format!("line {line}, column {column}"),
            "\"rimm_mm\"",
            "rim_mm",
        ],
    );
}

#[test]
fn numbers_that_no_truck_has() {
    let shell = Shell::new();
    for number in ["NaN", "inf", "1e300", "-1e300"] {
        let text = demo_text().replacen("loaded_radius_mm: 318.0", &format!("loaded_radius_mm: {number}"), 1);
        let (line, _) = place_of(&text, &format!("loaded_radius_mm: {number}"));
        shell.put("odd.ron", &text);
        let refused = [
            "odd.ron",
            &format!("line {line}"),
            "field loaded_radius_mm",
            "out of range",
        ];
        shell.assert_refused(shell.program(&["travel", "odd.ron"]), &refused);
    }
}

#[test]
fn a_file_far_too_large_is_not_even_read() {
    let shell = Shell::new();
    let file = File::create(shell.path("large.ron")).expect("a file in a folder of one's own");
    file.set_len(100_000_000).expect("a file may have a hole");
    for command in ["travel", "findings"] {
        shell.assert_refused(shell.program(&[command, "large.ron"]), &["large.ron", "100 MB"]);
    }
}

#[test]
fn a_folder_in_place_of_a_file() {
    let shell = Shell::new();
    fs::create_dir(shell.path("folder")).expect("a folder in a folder of one's own");
    let travel = |out: &str| shell.program(&["travel", &demo("01"), "--out", out]);
    shell.assert_refused(travel("folder"), &["folder", "cannot be written"]);
    shell.assert_refused(
        travel("nowhere/travel.csv"),
        &["nowhere/travel.csv", "cannot be written"],
    );
    shell.assert_refused(shell.program(&["findings", "folder"]), &["folder", "cannot be read"]);
    let inside = fs::read_dir(shell.path("folder")).expect("the folder is still there");
    assert_eq!(inside.count(), 0);
}

#[test]
fn words_that_mean_nothing() {
    let shell = Shell::new();
    let demo = demo("01");
    let picture = ["picture", &demo, "--out", "p.png"];
    let with = |more: &[&'static str]| shell.program(&[&picture[..], more].concat());
    shell.assert_refused(
        shell.program(&["travel", &demo, "--steps", "1"]),
        &["--steps", "2 to 100000"],
    );
    shell.assert_refused(
        shell.program(&["travel", &demo, "--roll", "NaN"]),
        &["--roll", "-30 to 30"],
    );
    shell.assert_refused(with(&["--size", "10x10"]), &["--size", "320 to 4096"]);
    shell.assert_refused(with(&["--height", "5000"]), &["90 to 230 mm"]);
    shell.assert_refused(with(&["--view", "inside"]), &["--view"]);
    shell.assert_refused(shell.program(&["travel", &demo, "--nonsense"]), &["--nonsense"]);
    shell.assert_refused(shell.program(&["picture", &demo]), &["--out"]);
}

#[test]
fn without_a_display_the_window_says_what_works_without_one() {
    let shell = Shell::new();
    for words in [&[][..], &[demo("02").as_str()]] {
        shell.assert_refused(shell.program(words), &["no display", "travel", "findings", "picture"]);
    }
}

#[test]
fn a_display_that_does_not_answer_is_a_sentence_too() {
    let shell = Shell::new();
    let mut program = shell.program(&[]);
    program.env("DISPLAY", ":4242");
    let out = program.output().expect("the program starts");
    let told = String::from_utf8_lossy(&out.stderr);
    assert_eq!(out.status.code(), Some(2), "{told}");
    assert!(
        told.contains("does not answer") || told.contains("no graphics adapter"),
        "{told}"
    );
    assert!(!told.contains("panicked"), "{told}");
}

/// A disk that is full in the middle of a file: here, a limit on how long a file may become.
#[test]
fn a_disk_without_room_leaves_neither_half_a_file_nor_the_old_one_gone() {
    let shell = Shell::new();
    let program = shell.program(&["travel", &demo("01"), "--force", "--out", "travel.csv"]);
    shell.put("travel.csv", "what was there before");
    let line = std::iter::once(program.get_program())
        .chain(program.get_args())
        .map(|word| format!("'{}'", word.to_string_lossy()))
        .collect::<Vec<_>>()
        .join(" ");
    // Writing on is refused then, instead of ending the program.
    let limited = format!("trap '' XFSZ; ulimit -f 4; exec {line}");
    let mut bash = std::process::Command::new("bash");
    bash.args(["-c", &limited]).current_dir(shell.path(""));
    let output = bash.output().expect("bash runs");
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(
        said.contains("travel.csv") && said.contains("cannot be written"),
        "{said}"
    );
    assert_eq!(
        shell.files().into_iter().collect::<Vec<_>>(),
        ["travel.csv"],
        "nothing is left beside it"
    );
    assert_eq!(
        fs::read_to_string(shell.path("travel.csv")).expect("it reads"),
        "what was there before"
    );
}
