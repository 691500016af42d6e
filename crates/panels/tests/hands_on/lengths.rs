//! Bars as built, their joints, parts that come and go, and what the table of turns says.

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::{NodeT, Queryable};
use panels::{built_card_ui, mount_card_ui};
use rearend::layouts::Layout;
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, BarEnd, BarId, JointKind, Length, Side};
use rearend::square::Stance;
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
    // Longer lower bars push the bottom of the housing back, which drops the nose: 1/8 in over the 280 mm between the bars, 0.65 degrees.
    let turned = (pinion_rad(&window) - before).to_degrees();
    assert!((-0.67..-0.62).contains(&turned), "{turned} degrees");
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

/// The card of squareness, as wide as the program gives it.
fn squareness(mut bench: Bench, built: &[usize]) -> Window {
    for &bar in built {
        let part = bar_part(bar);
        let built = shop::as_built(bench.document().answers(), part).expect("it has a length");
        let length = Length::AsBuilt(built);
        bench.run(Command::Apply(Change::SetLength { part, length }));
    }
    window(bench, vec2(CARD_WIDTH, 900.0), built_card_ui)
}

const CARD_WIDTH: f32 = 480.0;

/// The kit whose left lower bar came long.
const KIT: usize = 9;

fn bar_part(bar: usize) -> Part {
    Part::Bar(BarId(bar), Side::Drawn)
}

fn turns_of(window: &Window, bar: usize) -> f64 {
    match window.state().bench.setup().bars[bar].length {
        Length::AsBuilt(built) => built.turns,
        Length::CutToSuit => panic!("bar {bar} is cut to suit"),
    }
}

fn stance(window: &Window) -> Stance {
    let answers = window.state().bench.document().answers();
    answers.solved.as_ref().expect("it solves").stance
}

#[test]
fn the_table_of_turns_names_every_bar_that_has_an_adjuster() {
    let window = squareness(bench(2), &[0, 1]);
    let told = painted(&window);
    for words in [
        "At ride height",
        "One turn longer",
        "lower bar",
        "upper bar",
        "as delivered",
    ] {
        assert!(told.iter().any(|t| t == words), "{words} is missing: {told:?}");
    }
}

#[test]
fn every_row_of_the_table_turns_its_adjuster_a_step_at_a_time() {
    let mut window = squareness(bench(2), &[0, 1]);
    let start = window.state().bench.setup().clone();
    for (label, by) in [
        ("Lengthen the upper bar by one turn", 1.0),
        ("Lengthen the upper bar by half a turn", 0.5),
        ("Shorten the upper bar by one turn", -1.0),
        ("Shorten the upper bar by half a turn", -0.5),
    ] {
        click(&mut window, Role::Button, label);
        assert_eq!(turns_of(&window, 1), by, "{label}");
        assert_eq!(turns_of(&window, LOWER), 0.0, "the other bar stays");
        window.state_mut().bench.run(Command::Undo);
        crate::support::settle(&mut window);
        assert_eq!(window.state().bench.setup(), &start, "one step: {label}");
    }
}

/// What the table says of a turn is what the button does.
#[test]
fn a_turn_moves_the_axle_by_what_its_row_says() {
    let mut window = squareness(bench(KIT), &[]);
    let before = stance(&window);
    let solved = window.state().bench.document().answers().solved.as_ref();
    let row = solved.expect("it solves").turns[0];
    assert_eq!(row.part, bar_part(0));
    click(&mut window, Role::Button, "Lengthen the left lower bar by one turn");
    let after = stance(&window);
    assert!((after.out_of_square_m - before.out_of_square_m - row.out_of_square_m).abs() < 1e-9);
    assert!((after.pinion_rad - before.pinion_rad - row.pinion_rad).abs() < 1e-9);
    assert!(
        painted(&window).iter().any(|t| t == "1 turn longer"),
        "it tells how far it is turned"
    );
}

#[test]
fn an_adjuster_stops_at_its_last_turn() {
    let mut bench = bench(2);
    let built = shop::as_built(bench.document().answers(), bar_part(1)).expect("it has a length");
    let most = AsBuilt {
        // So short a rod that sixty turns out still fit the truck.
        length_m: built.length_m - 59.5 * built.adjuster.per_turn_m(),
        turns: 59.5,
        ..built
    };
    let (part, length) = (bar_part(1), Length::AsBuilt(most));
    bench.run(Command::Apply(Change::SetLength { part, length }));
    let mut window = squareness(bench, &[]);
    click(&mut window, Role::Button, "Lengthen the upper bar by one turn");
    assert_eq!(turns_of(&window, 1), 60.0);
}

/// The note of this truck, and the test of its lesson, say one and a half turns of the left bar; in one step, which is said beforehand.
#[test]
fn square_it_turns_what_the_lesson_says_and_tells_what_is_left() {
    let mut window = squareness(bench(KIT), &[]);
    let start = window.state().bench.setup().clone();
    let told = painted(&window).join("\n");
    assert!(told.contains("not square within 1/16\" across the wheels"), "{told}");
    assert!(
        told.contains("It turns the left lower bar 1 1/2 turns shorter"),
        "{told}"
    );
    click(&mut window, Role::Button, "Square it");
    assert_eq!([0, 1, 2].map(|bar| turns_of(&window, bar)), [-1.5, 0.0, 0.0]);
    let after = stance(&window);
    assert!(after.is_square() && after.is_central(), "{after:?}");
    let told = painted(&window).join("\n");
    assert!(
        told.contains("The axle is square within 1/16\" across the wheels; it is central within 1/8\"."),
        "{told}"
    );
    assert!(told.contains("No quarter turn of an adjuster"), "{told}");
    let button = window.get_by_role_and_label(Role::Button, "Square it");
    assert!(button.accesskit_node().is_disabled(), "there is nothing left to do");
    window.state_mut().bench.run(Command::Undo);
    assert_eq!(window.state().bench.setup(), &start, "one step");
}

#[test]
fn several_adjusters_are_turned_as_one_step() {
    let mut window = squareness(bench(KIT), &[]);
    for label in [
        "Lengthen the right lower bar by one turn",
        "Shorten the upper bar by one turn",
        "Shorten the upper bar by half a turn",
    ] {
        click(&mut window, Role::Button, label);
    }
    let start = window.state().bench.setup().clone();
    click(&mut window, Role::Button, "Square it");
    assert_eq!([0, 1, 2].map(|bar| turns_of(&window, bar)), [-1.5, 0.0, 0.0]);
    assert_eq!(window.state().bench.document().undo_name(), Some("square the axle"));
    window.state_mut().bench.run(Command::Undo);
    assert_eq!(window.state().bench.setup(), &start, "one step");
}

#[test]
fn the_card_is_no_wider_than_the_program_makes_it() {
    let window = squareness(bench(KIT), &[]);
    for node in window.query_all_by(|node| node.label().or(node.value()).is_some()) {
        assert!(node.rect().right() <= CARD_WIDTH, "{node:?}");
    }
}

#[test]
fn where_every_bar_is_cut_to_suit_the_card_says_what_to_do() {
    let window = squareness(bench(2), &[]);
    assert!(painted(&window).join(" ").contains("cut to suit"));
    assert!(window.query_by_role_and_label(Role::Button, "Square it").is_none());
}

#[test]
fn another_layout_keeps_the_truck_and_is_one_step() {
    let mut bench = bench(0);
    let before = bench.setup().clone();
    for layout in Layout::ALL {
        bench.run(Command::Apply(Change::Hang(layout)));
        assert_eq!(bench.notice(), None, "{layout:?}");
        assert!(bench.shown().is_some(), "{layout:?} is on the stage");
        let mut rails = bench.setup().rails.clone();
        // A crossmember may have come in for a mount in the middle.
        rails
            .crossmembers_x_m
            .retain(|x| before.rails.crossmembers_x_m.contains(x));
        assert_eq!((&rails, &bench.setup().axle), (&before.rails, &before.axle));
        bench.run(Command::Undo);
        assert_eq!(bench.setup(), &before, "{layout:?}");
    }
}
