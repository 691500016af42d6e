//! What the shop builds with, in the parts drawer.

use egui::accesskit::Role as Kind;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;
use panels::parts_drawer_ui;
use rearend::setup::{Setup, Steel};
use rearend::tape::Units;
use shop::{Bench, Command};

use crate::support::{Window, bench, click, commands, is_ticked, key, painted, says, settle, window, write, written};

const INCH_M: f64 = 0.0254;

const TO_SUIT: &str = "Inserts to suit each tube's bore";

/// A drawer so tall that nothing of it scrolls away, with all of the steel unfolded.
fn opened(bench: Bench, units: Units) -> Window {
    let mut window = window(bench, vec2(420.0, 3000.0), parts_drawer_ui);
    window.state_mut().bench.run(Command::SetUnits(units));
    settle(&mut window);
    for header in ["Steel, ", "Rod end and insert"] {
        let is_it = |label: Option<String>| label.is_some_and(|l| l.starts_with(header));
        window
            .get_by(|node| node.role() == Kind::Button && is_it(node.label()))
            .click();
        // It unfolds by and by.
        window.run_steps(30);
    }
    window
}

#[track_caller]
fn enter(window: &mut Window, label: &str, text: &str) {
    write(window, label, text);
    key(window, Key::Enter);
}

fn setup(window: &Window) -> &Setup {
    window.state().bench.setup()
}

fn steel(window: &Window) -> Steel {
    setup(window).steel
}

fn undo_name(window: &Window) -> Option<String> {
    window.state().bench.document().undo_name().map(str::to_owned)
}

fn undo(window: &mut Window) {
    window.state_mut().bench.run(Command::Undo);
    settle(window);
}

#[track_caller]
fn close(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-9, "{a} is not {b}");
}

type Read = fn(&Steel) -> f64;

/// Every box: what it is called, what stands in it to begin with, what is typed, what that is, SI, and what undo calls it.
const BOXES: [(&str, &str, &str, f64, Read, &str); 11] = [
    (
        "Plate",
        "1/4",
        "5/16",
        0.3125 * INCH_M,
        |s| s.plate_m,
        "change the plate",
    ),
    ("Bolt", "3/4", "16 mm", 0.016, |s| s.bolt_m, "change the bolts"),
    (
        "Hole over",
        "0.0315",
        "1/16",
        0.0625 * INCH_M,
        |s| s.hole_over_m,
        "change the room in the bolts' holes",
    ),
    (
        "Edge, in bolts",
        "1.5",
        "1.75",
        1.75,
        |s| s.edge_in_bolts,
        "change the edge around the holes",
    ),
    (
        "Gap",
        "1 3/4",
        "2 1/8 - 1/4",
        1.875 * INCH_M,
        |s| s.gap_m,
        "change the gap between the plates",
    ),
    (
        "Eye of a bush",
        "2",
        "2 1/4",
        2.25 * INCH_M,
        |s| s.bush_eye_m,
        "change the eyes of the bushes",
    ),
    (
        "Eye to end",
        "2 7/8",
        "3",
        3.0 * INCH_M,
        |s| s.rod_end.eye_to_end_m,
        "change the length of the rod ends",
    ),
    (
        "Thread",
        "1 3/4",
        "2",
        2.0 * INCH_M,
        |s| s.rod_end.thread_m,
        "change the thread of the rod ends",
    ),
    (
        "Jam nut",
        "3/8",
        "1/2",
        0.5 * INCH_M,
        |s| s.rod_end.jam_nut_m,
        "change the jam nuts",
    ),
    (
        "Insert stands out",
        "1/4",
        "0",
        0.0,
        |s| s.rod_end.insert_out_m,
        "change how far the inserts stand out",
    ),
    (
        "Insert's depth",
        "1 1/2",
        "1 3/4",
        1.75 * INCH_M,
        |s| s.rod_end.insert_depth_m,
        "change the depth of the inserts",
    ),
];

#[test]
fn every_number_is_typed_undone_and_put_back_to_the_usual() {
    let mut window = opened(bench(0), Units::Sixteenths);
    for (label, usual, typed, value, read, name) in BOXES {
        assert_eq!(written(&window, label), usual, "{label}");
        let button = format!("Usual for {label}");
        assert!(!says(&window, &button), "{label} is as usual");
        enter(&mut window, label, typed);
        close(read(&steel(&window)), value);
        assert_eq!(undo_name(&window).as_deref(), Some(name));
        undo(&mut window);
        assert_eq!(setup(&window), bench(0).setup());
        assert_eq!(written(&window, label), usual, "{label}");
        enter(&mut window, label, typed);
        click(&mut window, Kind::Button, &button);
        assert_eq!(setup(&window), bench(0).setup(), "{label}");
        assert_eq!(undo_name(&window).as_deref(), Some(name));
    }
}

/// Every box has a sentence below it that says what it is.
#[test]
fn every_number_says_what_it_is() {
    let window = opened(bench(0), Units::Sixteenths);
    let sentences = painted(&window).into_iter().filter(|text| text.ends_with('.'));
    // And the section as a whole, and the gussets.
    assert!(sentences.count() >= BOXES.len() + 2);
}

#[test]
fn millimetres_are_typed_as_well() {
    let mut window = opened(bench(0), Units::Millimetres);
    assert_eq!(written(&window, "Plate"), "6.35");
    assert_eq!(written(&window, "Hole over"), "0.8");
    enter(&mut window, "Plate", "8");
    close(steel(&window).plate_m, 0.008);
    assert!(says(&window, "Usual for Plate"));
    let header = "Steel, plate 8 mm, bolts 19.05 mm";
    assert!(painted(&window).iter().any(|text| text == header));
}

#[test]
fn what_cannot_be_built_is_told_at_its_box_and_kept_there_to_be_mended() {
    let nothing = "a length of more than nothing is expected";
    let through = "the edge of a plate would run through its holes: leave more than half a hole from the middle of a hole to the edge";
    let narrow =
        "the gap between the plates is less than the joint that goes in: any joint is wider than its bolt is thick";
    let mut window = opened(bench(0), Units::Sixteenths);
    commands(&mut window);
    for (label, typed, sentence) in [
        ("Plate", "0", nothing),
        ("Bolt", "-3/4", nothing),
        (
            "Hole over",
            "-1/32",
            "nothing or more is expected, not less than nothing",
        ),
        ("Edge, in bolts", "0.5", through),
        ("Gap", "5/8", narrow),
        (
            "Thread",
            "3",
            "the thread of a rod end is as long as the whole rod end: measure it from the end of the shank",
        ),
        (
            "Jam nut",
            "2",
            "the jam nut is as thick as the thread of the rod end is long",
        ),
    ] {
        enter(&mut window, label, typed);
        assert!(says(&window, sentence), "{label} of {typed}");
        assert_eq!(written(&window, label), typed, "to be mended");
        assert_eq!(commands(&mut window), [], "{label} of {typed}");
        // Esc drops it.
        window.get_by_role_and_label(Kind::TextInput, label).focus();
        settle(&mut window);
        key(&mut window, Key::Escape);
        assert!(!says(&window, sentence), "{label}");
    }
    for (label, typed) in [("Plate", "NaN"), ("Edge, in bolts", "nan"), ("Gap", "thick")] {
        enter(&mut window, label, typed);
        assert_eq!(written(&window, label), typed, "to be mended");
        assert_eq!(commands(&mut window), [], "{label} of {typed}");
    }
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn gussets_are_left_out_and_put_in_again() {
    let mut window = opened(bench(0), Units::Sixteenths);
    assert!(is_ticked(&window, Kind::CheckBox, "Gussets"));
    click(&mut window, Kind::CheckBox, "Gussets");
    assert!(!steel(&window).gussets);
    assert_eq!(undo_name(&window).as_deref(), Some("leave out the gussets"));
    click(&mut window, Kind::CheckBox, "Gussets");
    assert!(steel(&window).gussets);
    assert_eq!(undo_name(&window).as_deref(), Some("put in the gussets"));
}

/// A third more than a bolt of three quarters is an inch.
#[test]
fn inserts_are_to_suit_each_tube_or_have_one_shank() {
    let mut window = opened(bench(0), Units::Sixteenths);
    assert!(is_ticked(&window, Kind::CheckBox, TO_SUIT));
    assert!(!says(&window, "Insert's shank"));
    click(&mut window, Kind::CheckBox, TO_SUIT);
    let shank_m = |window: &Window| steel(window).rod_end.insert_shank_m.expect("a shank");
    close(shank_m(&window), INCH_M);
    assert_eq!(undo_name(&window).as_deref(), Some("change the shank of the inserts"));
    enter(&mut window, "Insert's shank", "7/8");
    close(shank_m(&window), 0.875 * INCH_M);
    let thin = "the shank of an insert is no thicker than the thread inside it";
    enter(&mut window, "Insert's shank", "3/4");
    assert!(says(&window, thin));
    close(shank_m(&window), 0.875 * INCH_M);
    click(&mut window, Kind::Button, "Usual for Insert's shank");
    close(shank_m(&window), INCH_M);
    click(&mut window, Kind::CheckBox, TO_SUIT);
    assert_eq!(setup(&window), bench(0).setup());
}

#[test]
fn all_of_it_goes_back_to_the_usual_in_one_step() {
    let mut window = opened(bench(0), Units::Sixteenths);
    let all = "All steel as usual";
    assert!(!says(&window, all));
    enter(&mut window, "Plate", "3/8");
    enter(&mut window, "Jam nut", "1/2");
    click(&mut window, Kind::Button, all);
    assert_eq!(setup(&window), bench(0).setup());
    assert_eq!(undo_name(&window).as_deref(), Some("build with the usual steel"));
    assert!(!says(&window, all));
}

/// With Tab from box to box, and what was typed before is entered on the way.
#[test]
fn the_keyboard_goes_from_box_to_box() {
    let mut window = opened(bench(0), Units::Sixteenths);
    let has_keyboard = |window: &Window, label: &str| window.get_by_role_and_label(Kind::TextInput, label).is_focused();
    write(&mut window, "Hole over", "1/16");
    key(&mut window, Key::Tab);
    close(steel(&window).hole_over_m, 0.0625 * INCH_M);
    // The button that has come between is passed.
    if !has_keyboard(&window, "Edge, in bolts") {
        key(&mut window, Key::Tab);
    }
    assert!(has_keyboard(&window, "Edge, in bolts"));
}

#[test]
fn a_wall_is_typed_and_undone() {
    let mut window = opened(bench(0), Units::Millimetres);
    let is_panhard = |label: Option<String>| label.is_some_and(|l| l.starts_with("Panhard bar, "));
    window.get_by(|node| is_panhard(node.label())).click();
    window.run_steps(30);
    let label = "Wall of the panhard bar";
    assert_eq!(written(&window, label), "4.8");
    enter(&mut window, label, "1/8 in");
    close(setup(&window).bars[2].wall_m, INCH_M / 8.0);
    assert_eq!(
        undo_name(&window).as_deref(),
        Some("change the wall of the panhard bar")
    );
    undo(&mut window);
    assert_eq!(setup(&window), bench(0).setup());
    commands(&mut window);
    // Half of 31.8 leaves no bore.
    enter(&mut window, label, "15.9");
    assert!(says(
        &window,
        "a wall from 1/64 in (0.4 mm) to less than half the tube is expected"
    ));
    assert_eq!(commands(&mut window), []);
    assert_eq!(setup(&window), bench(0).setup());
}
