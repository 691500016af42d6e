//! What its boxes hold, at rest, with the keyboard, and when they are left.

use egui::{Key, Modifiers, pos2, vec2};
use egui_kittest::kittest::Queryable;
use panels::tape_sheet_ui;
use rearend::tape::Units;
use rearend::tyres::TyreSize;
use shop::{Bench, Command, demo};

use super::{Role, enter, open};
use crate::support::{Window, bench, click_at, commands, key, painted, says, settle, window, write, written};

const SIZE: &str = "Size on the tyre, if you have it";
const SPACING: &str = "Frame, outside to outside";

/// A sheet in inches on which nothing scrolls away.
fn inches(bench: Bench) -> Window {
    let mut window = window(bench, vec2(414.0, 6000.0), tape_sheet_ui);
    window.state_mut().bench.run(Command::SetUnits(Units::Sixteenths));
    settle(&mut window);
    window
}

fn new_truck() -> Bench {
    Bench::new(demo::new_truck().expect("it reads"), None)
}

fn paints(window: &Window, text: &str) -> bool {
    painted(window).iter().any(|painted| painted == text)
}

fn has_keyboard(window: &Window, label: &str) -> bool {
    window.get_by_role_and_label(Role::TextInput, label).is_focused()
}

/// The first demo's rails are 864 mm apart: 34 inches and a sixty-fourth.
#[test]
fn a_box_shows_what_a_tape_reads_and_the_whole_value_with_the_keyboard() {
    let mut window = inches(bench(0));
    assert!(paints(&window, "≈ 34") && !paints(&window, "34.0157"));
    assert_eq!(written(&window, SPACING), "34.0157", "what is heard is not rounded");
    for leave in [Key::Tab, Key::Enter, Key::Escape] {
        window.get_by_role_and_label(Role::TextInput, SPACING).focus();
        settle(&mut window);
        assert!(paints(&window, "34.0157") && !paints(&window, "≈ 34"));
        key(&mut window, leave);
        assert!(paints(&window, "≈ 34"), "{leave:?}");
    }
    assert_eq!(commands(&mut window), [Command::SetUnits(Units::Sixteenths)][..0]);
    assert_eq!(
        window.state().bench.setup(),
        bench(0).setup(),
        "to look at it changes nothing"
    );
}

#[test]
fn nothing_of_a_new_truck_is_rounded() {
    let window = inches(new_truck());
    assert!(paints(&window, "34"));
    let rounded: Vec<_> = painted(&window).into_iter().filter(|t| t.starts_with('≈')).collect();
    assert!(rounded.is_empty(), "{rounded:?}");
}

#[test]
fn what_is_out_of_range_is_answered_below_the_box_in_the_users_units() {
    let mut window = inches(bench(0));
    enter(&mut window, "Rail, width", "-5");
    assert!(says(&window, "a length of more than nothing is expected"));
    enter(&mut window, "Pinion, nose up", "60");
    assert!(says(&window, "-45° to 45° is expected"));
    assert_eq!(commands(&mut window), []);
    assert_eq!(window.state().bench.setup(), bench(0).setup());
    assert_eq!(written(&window, "Rail, width"), "-5", "to be mended");
}

#[test]
fn a_way_is_typed_instead_of_a_sign() {
    let mut window = inches(bench(0));
    open(&mut window, "Axle");
    assert!(says(&window, "in, + left") && says(&window, "in, + below"));
    enter(&mut window, "Pinion, left of the middle", "3 right");
    let offset_m = window.state().bench.setup().axle.pinion_offset_m;
    assert!((offset_m + 3.0 * 0.0254).abs() < 1e-9, "{offset_m}");
    enter(&mut window, "Pinion, nose up", "2 down");
    let angle_deg = window.state().bench.setup().axle.pinion_angle_rad.to_degrees();
    assert!((angle_deg + 2.0).abs() < 1e-9, "{angle_deg}");
}

fn leave_by_tab(window: &mut Window) {
    key(window, Key::Tab);
}

fn leave_by_shift_tab(window: &mut Window) {
    window.key_press_modifiers(Modifiers::SHIFT, Key::Tab);
    settle(window);
}

fn leave_by_enter(window: &mut Window) {
    key(window, Key::Enter);
}

fn leave_to_another_box(window: &mut Window) {
    let at = window
        .get_by_role_and_label(Role::TextInput, "Rail, height")
        .rect()
        .center();
    click_at(window, at);
}

fn leave_to_nothing(window: &mut Window) {
    click_at(window, pos2(200.0, 5900.0));
}

/// The box goes out of sight with the keyboard in it.
fn leave_by_folding_up(window: &mut Window) {
    for _ in 0..2 {
        window.get_by_label("First ten: enough to start").click();
        window.run_steps(30);
    }
}

#[test]
fn a_size_that_is_none_is_answered_whichever_way_the_box_is_left() {
    let complaint = TyreSize::read("big ones").expect_err("no size").to_string();
    let ways: [fn(&mut Window); 6] = [
        leave_by_tab,
        leave_by_shift_tab,
        leave_by_enter,
        leave_to_another_box,
        leave_to_nothing,
        leave_by_folding_up,
    ];
    for (which, leave) in ways.into_iter().enumerate() {
        let mut window = inches(bench(0));
        write(&mut window, SIZE, "big ones");
        assert!(!says(&window, &complaint), "nobody is corrected while typing");
        leave(&mut window);
        assert!(says(&window, &complaint), "way {which}");
        assert_eq!(written(&window, SIZE), "big ones", "to be mended, way {which}");
        assert_eq!(window.state().bench.setup(), bench(0).setup());
        window.run_steps(20);
        assert!(says(&window, &complaint), "it stays, way {which}");

        window.get_by_role_and_label(Role::TextInput, SIZE).focus();
        settle(&mut window);
        key(&mut window, Key::Escape);
        assert!(!says(&window, &complaint), "Esc drops it, way {which}");
        assert_eq!(written(&window, SIZE), "");
    }
}

#[test]
fn every_new_truck_opens_the_sheet_on_the_first_ten_with_the_keyboard_there() {
    let mut window = window(bench(0), vec2(414.0, 700.0), tape_sheet_ui);
    assert!(!has_keyboard(&window, SPACING), "a demo is not to be measured");
    for _ in 0..2 {
        window.state_mut().bench.run(Command::New);
        window.run_steps(30);
        assert!(has_keyboard(&window, SPACING));
        assert_eq!(
            window.query_all_by_label("Kick-up, rise").count(),
            0,
            "only the first ten are open"
        );
        // What is typed goes there, and from there to the next.
        window.get_by_role_and_label(Role::TextInput, SPACING).type_text("35");
        key(&mut window, Key::Enter);
        assert!((window.state().bench.setup().rails.spacing_m - 35.0 * 0.0254).abs() < 1e-9);
        assert!(has_keyboard(&window, "Rail, height"));
        // The sheet is left far down, and with something that does not read.
        open(&mut window, "Frame");
        write(&mut window, "Rail, width", "wide");
        key(&mut window, Key::Enter);
        window.get_by_label("First ten: enough to start").click();
        window.run_steps(30);
        assert_eq!(window.query_all_by_label(SPACING).count(), 0);
    }
    window.state_mut().bench.run(Command::New);
    window.run_steps(30);
    assert_ne!(written(&window, "Rail, width"), "wide", "the old truck's");
    window.get_by_role_and_label(Role::TextInput, "Ride height").focus();
    window.run_steps(30);
    assert!(has_keyboard(&window, "Ride height"), "it is begun once");
}
