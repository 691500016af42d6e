//! Bracket holes and the lock on the card of a mount.

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use nalgebra::Vector3;
use panels::mount_card_ui;
use rearend::setup::{BarEnd, BarId, HoleRow, Mount, Setup, Side};
use rearend::tape::Units;
use shop::{Bench, Change, Command, Notice};

use crate::support::{Window, bench, click, commands, is_ticked, key, mount, says, settle, window, write, written};

const HOLES: &str = "Bracket holes";
const LOCKED: &str = "locked";
/// The lower bar and the panhard bar of the first demo.
const LOWER: usize = 0;
const PANHARD: usize = 2;
/// Places are kept to a millionth of a millimetre.
const FILE_M: f64 = 1e-8;

fn card(mut bench: Bench, mount: Mount) -> Window {
    bench.run(Command::Select(Some(mount)));
    bench.run(Command::SetUnits(Units::Millimetres));
    window(bench, vec2(320.0, 640.0), mount_card_ui)
}

fn frame() -> Mount {
    mount(PANHARD, BarEnd::Frame)
}

fn setup(window: &Window) -> &Setup {
    window.state().bench.setup()
}

#[track_caller]
fn row(window: &Window, mount: Mount) -> HoleRow {
    assert_eq!(window.state().bench.notice(), None);
    setup(window).hole_row(mount).expect("it has a row")
}

/// A card whose mount has the usual row.
fn card_with_row(mount: Mount) -> Window {
    let mut window = card(bench(0), mount);
    click(&mut window, Role::CheckBox, HOLES);
    window
}

#[test]
fn the_checkbox_puts_four_holes_an_inch_apart_and_moves_nothing() {
    let mut window = card(bench(0), frame());
    assert!(!is_ticked(&window, Role::CheckBox, HOLES));
    assert!(!says(&window, "Hole to hole") && !says(&window, "hole 1"));
    click(&mut window, Role::CheckBox, HOLES);
    let found = row(&window, frame());
    assert_eq!(found.count, 4);
    assert!((found.step - Vector3::z() * 0.0254).norm() < FILE_M);
    assert_eq!(
        setup(&window).hole_of(frame()),
        Some(1),
        "the hole nearest to the middle"
    );
    assert_eq!(setup(&window).mount(frame()), bench(0).setup().mount(frame()));
    assert!(is_ticked(&window, Role::RadioButton, "hole 2") && !is_ticked(&window, Role::RadioButton, "hole 1"));
    assert!(says(&window, "Arrow keys and dragging take it from hole to hole."));

    click(&mut window, Role::CheckBox, HOLES);
    assert_eq!(setup(&window), bench(0).setup(), "off again, nothing is left");
}

#[test]
fn a_hole_is_chosen_and_it_is_one_step() {
    let mut window = card_with_row(frame());
    let before = setup(&window).clone();
    click(&mut window, Role::RadioButton, "hole 4");
    assert_eq!(setup(&window).hole_of(frame()), Some(3));
    assert_eq!(written(&window, "Up"), "305.8", "255 mm and two inches");
    window.state_mut().bench.run(Command::Undo);
    assert_eq!(setup(&window), &before);
    commands(&mut window);
    click(&mut window, Role::RadioButton, "hole 2");
    assert_eq!(commands(&mut window), [], "it is in that hole");
}

#[test]
fn pitch_and_count_are_typed_and_the_mount_stays() {
    let mut window = card_with_row(frame());
    let at = setup(&window).mount(frame());
    click(&mut window, Role::RadioButton, "hole 4");
    let at_4 = setup(&window).mount(frame());
    assert_ne!(at, at_4);
    for (label, typed, hole) in [
        ("Hole to hole", "30", 3),
        ("How many", "12", 3),
        ("How many", "3", 2),
        ("Hole to hole", "1 1/4 in", 2),
    ] {
        write(&mut window, label, typed);
        key(&mut window, Key::Enter);
        row(&window, frame());
        assert_eq!(setup(&window).hole_of(frame()), Some(hole), "{label} {typed}");
        assert_eq!(setup(&window).mount(frame()), at_4, "{label} {typed}");
    }
    let found = row(&window, frame());
    assert_eq!(found.count, 3);
    assert!((found.step - Vector3::z() * 1.25 * 0.0254).norm() < FILE_M);
}

#[test]
fn nonsense_is_explained() {
    let mut window = card_with_row(frame());
    let before = setup(&window).clone();
    for typed in ["1", "13", "2.5", "some"] {
        write(&mut window, "How many", typed);
        key(&mut window, Key::Enter);
        assert!(says(&window, "a whole number from 2 to 12 is expected"), "{typed}");
    }
    write(&mut window, "Hole to hole", "900");
    key(&mut window, Key::Enter);
    let refused = "A row has 2 to 12 bracket holes, from 1 mm to 500 mm apart.";
    assert_eq!(
        window.state().bench.notice(),
        Some(&Notice::Refused(refused.to_owned()))
    );
    assert_eq!(setup(&window), &before);
}

/// Opens the list of directions and takes one.
fn run_it(window: &mut Window, words: &str) {
    window.get_by_role_and_label(Role::ComboBox, "Holes run").click();
    settle(window);
    click(window, Role::Button, words);
}

#[test]
fn the_row_is_turned_about_the_mount() {
    let mut window = card_with_row(frame());
    let at = setup(&window).mount(frame());
    for (words, along) in [
        ("forward", Vector3::x()),
        ("sideways", Vector3::y()),
        ("up", Vector3::z()),
    ] {
        run_it(&mut window, words);
        assert!((row(&window, frame()).step - along * 0.0254).norm() < FILE_M, "{words}");
        assert_eq!(setup(&window).mount(frame()), at, "{words}");
        assert_eq!(setup(&window).hole_of(frame()), Some(1), "{words}");
    }
}

#[test]
fn a_direction_of_ones_own_stays_as_in_the_file() {
    let mut bench = bench(0);
    let at = bench.setup().mount(frame()).expect("there").point;
    let leaning = HoleRow {
        first: at,
        step: Vector3::new(0.006, 0.0, 0.024),
        count: 3,
    };
    bench.run(Command::Apply(Change::SetHoles {
        mount: frame(),
        row: Some(leaning),
    }));
    let mut window = card(bench, frame());
    let told = window
        .get_by_role_and_label(Role::ComboBox, "Holes run")
        .accesskit_node()
        .value();
    assert_eq!(told.as_deref(), Some("as in the file"));
    write(&mut window, "Hole to hole", "49.477268");
    key(&mut window, Key::Enter);
    let step = row(&window, frame()).step;
    assert!(
        (step - leaning.step * 2.0).norm() < 1e-6,
        "twice the pitch the same way: {step:?}"
    );
}

#[test]
fn either_side_of_a_pair_shows_its_own_row() {
    let [drawn, other] = [Side::Drawn, Side::Mirrored].map(|side| Mount::Bar {
        bar: BarId(LOWER),
        end: BarEnd::Frame,
        side,
    });
    let mut window = card_with_row(other);
    run_it(&mut window, "sideways");
    assert!((row(&window, other).step - Vector3::y() * 0.0254).norm() < FILE_M);
    assert!((row(&window, drawn).step + Vector3::y() * 0.0254).norm() < FILE_M);
    click(&mut window, Role::RadioButton, "hole 1");
    for mount in [drawn, other] {
        assert_eq!(setup(&window).hole_of(mount), Some(0));
    }
}

#[test]
fn a_typed_coordinate_goes_to_the_nearest_hole() {
    let mut window = card_with_row(frame());
    write(&mut window, "Up", "300");
    key(&mut window, Key::Enter);
    assert_eq!(setup(&window).hole_of(frame()), Some(3));
    assert_eq!(written(&window, "Up"), "305.8");
}

#[test]
fn what_is_locked_can_neither_be_typed_nor_put_in_another_hole() {
    let mut window = card_with_row(frame());
    click(&mut window, Role::CheckBox, LOCKED);
    assert!(is_ticked(&window, Role::CheckBox, LOCKED) && setup(&window).is_locked(frame()));
    assert!(says(
        &window,
        "It is locked: its coordinates cannot be typed, nor can it be dragged."
    ));
    for (role, label) in [
        (Role::TextInput, "Forward"),
        (Role::TextInput, "Left"),
        (Role::TextInput, "Up"),
        (Role::RadioButton, "hole 1"),
    ] {
        let node = window.get_by_role_and_label(role, label);
        assert!(node.accesskit_node().is_disabled(), "{label}");
    }
    let before = setup(&window).clone();
    commands(&mut window);
    click(&mut window, Role::RadioButton, "hole 1");
    assert_eq!((commands(&mut window).len(), setup(&window)), (0, &before));

    click(&mut window, Role::CheckBox, LOCKED);
    click(&mut window, Role::RadioButton, "hole 1");
    assert_eq!(setup(&window).hole_of(frame()), Some(0), "unlocked it moves");
}

#[test]
fn a_crank_has_no_bracket_on_its_card() {
    for (mount, there) in [
        (Mount::WattPivot, false),
        (Mount::WattLeftArm, false),
        (Mount::WattLeft, true),
    ] {
        let window = card(bench(1), mount);
        assert_eq!(
            (says(&window, HOLES), says(&window, LOCKED)),
            (there, there),
            "{mount:?}"
        );
    }
}
