//! `axlewright sheet`, `axlewright brackets`, `axlewright compare`: what leaves the shop, and how it is refused.

use std::fs;
use std::process::Command;

use rearend::figures::CAUTION;

use crate::shell::{Shell, demo, demo_setup, demo_text};
use crate::table::Table;

/// Demo 01 with a panhard bar of two metres, which no rear end takes.
fn too_long() -> String {
    let text = demo_text();
    let bar = text.find("panhard bar").expect("the bar is there");
    let role = bar + text[bar..].find("role: Sideways,").expect("it has a role");
    let mut text = text;
    text.insert_str(role, "length: AsBuilt((length_mm: 2000.0)), ");
    text
}

fn words_of(pdf: &std::path::Path) -> String {
    let output = Command::new("pdftotext").arg(pdf).arg("-").output();
    let output = output.expect("pdftotext is installed");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

#[test]
fn a_sheet_is_a_pdf_and_does_not_take_the_place_of_a_file_unasked() {
    let shell = Shell::new();
    let sheet = [
        "sheet",
        &demo("01"),
        "--out",
        "sheet.pdf",
        "--shop",
        "Long Acre Fabrication",
    ];
    shell.text(&sheet);
    let words = words_of(&shell.path("sheet.pdf"));
    for wanted in [&demo_setup().name, "Long Acre Fabrication", "Cut list", "Order of work"] {
        assert!(words.contains(wanted), "\"{wanted}\" is missing");
    }
    // A line may break anywhere.
    let run_on = words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(run_on.contains(CAUTION), "the caution is on it");
    let before = fs::read(shell.path("sheet.pdf")).expect("it is there");
    shell.assert_refused(shell.program(&sheet), &["sheet.pdf", "already there", "--force"]);
    assert_eq!(fs::read(shell.path("sheet.pdf")).expect("it is there"), before);
    let forced = shell.run(&[&sheet[..], &["--force", "--paper", "letter"]].concat());
    assert!(forced.status.success());
}

#[test]
fn a_sheet_of_bars_that_do_not_fit_says_so_and_has_no_cut_list() {
    let shell = Shell::new();
    shell.put("long.ron", &too_long());
    let output = shell.run(&["sheet", "long.ron", "--out", "sheet.pdf"]);
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(
        told.contains("cannot be bolted in") && told.contains("no cut list"),
        "{told}"
    );
    let words = words_of(&shell.path("sheet.pdf"));
    assert!(words.contains("cannot be bolted in"), "page one says why");
    assert!(!words.contains("Cut to") && !words.contains("Parts to buy"), "{words}");
}

#[test]
fn what_a_sheet_cannot_use_is_named_and_nothing_is_written() {
    let shell = Shell::new();
    shell.put("logo.txt", "no picture");
    shell.put("broken.png", "no picture either");
    shell.put("broken.typ", "#let x = (");
    let with = |words: &[&str]| {
        let demo = demo("01");
        let all = [&["sheet", &demo, "--out", "sheet.pdf"], words].concat();
        shell.program(&all)
    };
    shell.assert_refused(
        with(&["--logo", "nowhere.png"]),
        &["logo", "nowhere.png", "no such file"],
    );
    shell.assert_refused(with(&["--logo", "logo.txt"]), &["logo.txt", "PNG, JPEG or SVG"]);
    shell.assert_refused(
        with(&["--logo", "broken.png"]),
        &["logo broken.png", "no picture that can be shown"],
    );
    shell.assert_refused(with(&["--template", "nowhere.typ"]), &["template", "nowhere.typ"]);
    shell.assert_refused(with(&["--template", "broken.typ"]), &["line 1"]);
    let demo = demo("01");
    let nowhere = shell.program(&["sheet", &demo, "--out", "nowhere/sheet.pdf"]);
    shell.assert_refused(nowhere, &["nowhere/sheet.pdf", "cannot be written"]);
}

#[test]
fn brackets_are_a_file_each_and_one_on_paper_and_those_that_cannot_be_drawn_are_named() {
    let shell = Shell::new();
    let whole = shell.run(&["brackets", &demo("01"), "--out", "all", "--units", "mm"]);
    assert_eq!(
        whole.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&whole.stderr)
    );
    let text = fs::read_to_string(demo("01")).expect("the demo reads");
    // The panhard bar's bolt nearer to the rail's flange than the edge distance.
    let nearer = text.replace("frame_mm: (-205.0, 340.0, 255.0)", "frame_mm: (-205.0, 352.0, 255.0)");
    assert_ne!(nearer, text);
    shell.put("nearer.ron", &nearer);
    let demo = "nearer.ron";
    let brackets = ["brackets", demo, "--out", "plates", "--units", "mm"];
    let output = shell.run(&brackets);
    let told = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{told}");
    assert!(
        told.contains("the panhard bar, on the frame") && told.contains("mm"),
        "{told}"
    );
    let files: Vec<_> = fs::read_dir(shell.path("plates"))
        .expect("the folder was made")
        .flatten()
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    assert!(files.contains(&"templates.pdf".to_owned()), "{files:?}");
    assert!(
        files.contains(&"lower-bar-on-the-axle-side-plate-mm.dxf".to_owned()),
        "{files:?}"
    );
    shell.assert_refused(shell.program(&brackets), &["already there", "--force"]);
    let again = shell.run(&[&brackets[..], &["--force", "--dxf", "r12"]].concat());
    assert_eq!(again.status.code(), Some(1));
    shell.put("file", "in the way");
    let in_the_way = shell.program(&["brackets", demo, "--out", "file"]);
    shell.assert_refused(in_the_way, &["file", "cannot be made"]);
}

#[test]
fn setups_side_by_side_are_a_table_with_the_best_marked() {
    let shell = Shell::new();
    let demos = ["01", "02", "03"].map(demo);
    let words: Vec<&str> = std::iter::once("compare")
        .chain(demos.iter().map(String::as_str))
        .collect();
    let text = shell.text(&words);
    let shift = text.lines().find(|line| line.starts_with("Largest sideways shift"));
    // A triangulated four-link has nothing that pulls it to one side.
    assert!(shift.is_some_and(|line| line.trim_end().ends_with("best")), "{text}");
    assert!(text.ends_with(&format!("{CAUTION}\n")), "{text}");

    shell.text(&[&words[..], &["--out", "table.csv"]].concat());
    let table = Table::read(&fs::read_to_string(shell.path("table.csv")).expect("it was written"));
    let names = [
        "figure",
        "unit",
        "Orchard hauler",
        "Night shift",
        "Salt flat special",
        "best",
    ];
    assert_eq!(table.columns, names);
    let demo = demo("01");
    let many: Vec<&str> = std::iter::once("compare").chain([demo.as_str(); 7]).collect();
    shell.assert_refused(shell.program(&many), &["7 setups", "up to 6"]);
    shell.assert_refused(shell.program(&["compare", "nowhere.ron"]), &["nowhere.ron"]);
}
