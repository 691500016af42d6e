//! Bars as built, their joints, parts that come and go, and what the table of turns says.

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;
use panels::{built_card_ui, mount_card_ui};
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{BarEnd, BarId, JointKind, Length, Side};
use shop::{Bench, Change, Command};

use crate::support::{Window, bench, click, is_ticked, key, mount, painted, window, write};

/// The lower bar of the third demo, whose four bars are as many as needed.
const LOWER: usize = 0;

fn card(mut bench: Bench, end: BarEnd) -> Window {
    bench.run(Command::Select(Some(mount(LOWER, end))));
    window(bench, vec2(320.0, 520.0), mount_card_ui)
}

fn length(window: &Window) -> Length {
    window.state().bench.setup().bars[LOWER].length
}

fn pinion_rad(window: &Window) -> f64 {
    let answers = window.state().bench.document().answers();
    answers.solved.as_ref().expect("it solves").stance.pinion_rad
}

#[test]
fn a_bar_taken_as_built_keeps_its_length_and_turns_move_the_pinion() {
    let mut window = card(bench(2), BarEnd::Frame);
    let before = pinion_rad(&window);
    let part = Part::Bar(BarId(LOWER), Side::Drawn);
    let solved = window.state().bench.document().answers().solved.as_ref();
    let cut_m = solved.expect("it solves").rear_end.length_m(part).expect("it has one");
    click(&mut window, Role::RadioButton, "as built");
    let Length::AsBuilt(bar) = length(&window) else {
        panic!("it is as built now")
    };
    assert!((bar.length_m - cut_m).abs() < 1e-9 && bar.turns == 0.0);
    assert!(
        (pinion_rad(&window) - before).abs() < 1e-9,
        "nothing on the stage moves"
    );

    click(&mut window, Role::Button, "+1");
    // Longer lower bars push the bottom of the housing back, which drops the nose: 1/8 in over the 250 mm between the bars, 0.73 degrees.
    let turned = (pinion_rad(&window) - before).to_degrees();
    assert!((-0.75..-0.7).contains(&turned), "{turned} degrees");
    write(&mut window, "Turns, + longer", "0");
    key(&mut window, Key::Enter);
    assert!((pinion_rad(&window) - before).abs() < 1e-9, "turned back");

    click(&mut window, Role::RadioButton, "cut to suit");
    assert_eq!(length(&window), Length::CutToSuit);
    assert!(is_ticked(&window, Role::RadioButton, "cut to suit"));
}

#[test]
fn turns_that_no_adjuster_has_are_answered_with_a_sentence() {
    let mut window = card(bench(2), BarEnd::Frame);
    click(&mut window, Role::RadioButton, "as built");
    let before = length(&window);
    write(&mut window, "Turns, + longer", "1000");
    key(&mut window, Key::Enter);
    assert_eq!(length(&window), before);
    let told = painted(&window).join("\n");
    assert!(told.contains("from -60 to 60 is expected"), "{told}");
}

#[test]
fn a_bar_is_removed_as_one_step() {
    let mut window = card(bench(2), BarEnd::Axle);
    let bars = window.state().bench.setup().bars.len();
    click(&mut window, Role::Button, "remove the lower bar");
    assert_eq!(window.state().bench.setup().bars.len(), bars - 1);
    window.state_mut().bench.run(Command::Undo);
    assert_eq!(window.state().bench.setup(), bench(2).setup());
}

#[test]
fn an_end_becomes_another_joint_and_the_other_end_stays() {
    let mut window = card(bench(2), BarEnd::Frame);
    let other = window.state().bench.setup().bars[LOWER].joint(BarEnd::Axle);
    window
        .get_by(|n| n.role() == Role::ComboBox && n.value().is_some_and(|v| v == "rod end"))
        .click();
    crate::support::settle(&mut window);
    click(&mut window, Role::Button, "rubber bush");
    let bar = &window.state().bench.setup().bars[LOWER];
    assert_eq!(bar.joint(BarEnd::Frame).kind, JointKind::Rubber);
    assert_eq!(bar.joint(BarEnd::Axle), other);
}

#[test]
fn the_table_of_turns_names_every_bar_that_has_an_adjuster() {
    let mut bench = bench(2);
    for bar in [0, 1] {
        let part = Part::Bar(BarId(bar), Side::Drawn);
        let built = shop::as_built(bench.document().answers(), part).expect("it has a length");
        let length = Length::AsBuilt(built);
        bench.run(Command::Apply(Change::SetLength { part, length }));
    }
    let window = window(bench, vec2(520.0, 520.0), |ui, bench| {
        built_card_ui(ui, bench);
        Vec::new()
    });
    let told = painted(&window);
    for words in ["At ride height", "One turn longer", "lower bar", "upper bar"] {
        assert!(told.iter().any(|t| t == words), "{words} is missing: {told:?}");
    }
}

#[test]
fn where_every_bar_is_cut_to_suit_the_card_says_what_to_do() {
    let window = window(bench(2), vec2(520.0, 520.0), |ui, bench| {
        built_card_ui(ui, bench);
        Vec::new()
    });
    assert!(painted(&window).join(" ").contains("cut to suit"));
}

#[test]
fn another_layout_keeps_the_truck_and_is_one_step() {
    let mut bench = bench(0);
    let before = bench.setup().clone();
    for layout in Layout::ALL {
        bench.run(Command::Apply(Change::Hang(layout)));
        assert_eq!(bench.notice(), None, "{layout:?}");
        assert!(bench.shown().is_some(), "{layout:?} is on the stage");
        assert_eq!(
            (&bench.setup().rails, &bench.setup().axle),
            (&before.rails, &before.axle)
        );
        bench.run(Command::Undo);
        assert_eq!(bench.setup(), &before, "{layout:?}");
    }
}
