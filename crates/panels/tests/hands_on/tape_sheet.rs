//! The tape sheet.

mod boxes;
mod looks;

use egui::accesskit::Role;
use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;
use panels::tape_sheet_ui;
use rearend::findings::{Finding, Grade, Kind};
use rearend::measure::{self, Described, SHEET};
use rearend::setup::{KeepClearShape, SpringKind};
use rearend::tape::Units;
use shop::{Bench, Change, Command, Notice, demo};

use crate::support::{Window, bench, click, commands, is_ticked, key, painted, says, settle, window, write, written};

/// A sheet so tall that nothing of it scrolls away, in millimetres.
fn sheet(bench: Bench) -> Window {
    let mut window = window(bench, vec2(460.0, 6000.0), tape_sheet_ui);
    window.state_mut().bench.run(Command::SetUnits(Units::Millimetres));
    settle(&mut window);
    window
}

/// Opens a part of the sheet.
#[track_caller]
fn open(window: &mut Window, title: &str) {
    window.get_by_label(title).click();
    // It unfolds by and by.
    window.run_steps(30);
}

#[track_caller]
fn enter(window: &mut Window, label: &str, text: &str) {
    write(window, label, text);
    key(window, Key::Enter);
}

#[track_caller]
fn tick(window: &mut Window, part: Described) {
    click(window, Role::CheckBox, part.label());
    window.run_steps(30);
}

fn undo_name(window: &Window) -> Option<String> {
    window.state().bench.document().undo_name().map(str::to_owned)
}

#[test]
fn a_measure_is_typed_and_counts_as_taken() {
    let mut window = sheet(bench(0));
    assert!(says(&window, "0 of the first 10 taken"));
    assert_eq!(
        written(&window, "Frame, outside to outside"),
        "864",
        "as the demo's file has it"
    );
    enter(&mut window, "Frame, outside to outside", "34 in");
    let setup = window.state().bench.setup();
    assert!((setup.rails.spacing_m - 0.8636).abs() < 1e-9, "34 inches");
    assert_eq!(setup.measured, ["rail_spacing"]);
    assert_eq!(undo_name(&window).as_deref(), Some("measure frame, outside to outside"));
    assert!(says(&window, "1 of the first 10 taken"));
}

#[test]
fn what_is_right_as_assumed_is_accepted_with_a_click() {
    let mut window = sheet(bench(0));
    let before = window.state().bench.setup().rails.clone();
    click(&mut window, Role::Button, "Accept Rail, height");
    let setup = window.state().bench.setup();
    assert_eq!(setup.rails, before);
    assert_eq!(setup.measured, ["rail_height"]);
}

#[test]
fn every_measure_that_is_described_has_its_box() {
    let mut bench = bench(0);
    for part in Described::ALL {
        bench.run(Command::Apply(Change::Describe(part, true)));
    }
    let mut window = sheet(bench);
    for section in &SHEET[1..] {
        open(&mut window, section.title);
    }
    let setup = window.state().bench.setup().clone();
    let mut boxes = 0;
    for measure in measure::all() {
        let found = window
            .query_all_by_role_and_label(Role::TextInput, measure.name)
            .count();
        let expected = usize::from(measure.value(&setup).is_some());
        if measure.key.ends_with("wheelbase") {
            assert_eq!(found, 2, "the wheelbase stands with the front and with the balance");
        } else {
            assert_eq!(found, expected, "{}", measure.name);
        }
        boxes += found;
    }
    assert!(boxes > 50, "{boxes}");
}

#[test]
fn the_picture_follows_the_box_that_has_the_keyboard() {
    let mut window = sheet(bench(0));
    let how = |window: &Window, key: &str| {
        let measure = measure::Measure::by_key(key).expect("on the sheet");
        window.query_all_by_role_and_label(Role::Image, measure.how).count()
    };
    assert_eq!(how(&window, "rail_spacing"), 1, "the first to begin with");
    window.get_by_role_and_label(Role::TextInput, "Pinion, nose up").focus();
    settle(&mut window);
    assert_eq!((how(&window, "pinion_angle"), how(&window, "rail_spacing")), (1, 0));
    assert!(
        painted(&window).iter().any(|text| text == "2.50°"),
        "the angle is written beside the protractor"
    );
}

#[test]
fn a_tyre_size_sets_three_measures_at_once() {
    let mut window = sheet(bench(0));
    enter(&mut window, "Size on the tyre, if you have it", "225/45 R17");
    let wheels = &window.state().bench.setup().wheels;
    // Rim and two sidewalls: 17 in + 2 x 0.45 x 225 mm.
    assert!((wheels.tyre_m - 0.6343).abs() < 1e-9);
    assert!((wheels.tyre_width_m - 0.225).abs() < 1e-9);
    assert!((wheels.rim_m - 0.4318).abs() < 1e-9);
    assert_eq!(undo_name(&window).as_deref(), Some("fit 225/45R17 tyres"));
}

#[test]
fn a_shaft_is_described_raised_and_set_right_by_the_remedy() {
    let mut window = sheet(bench(0));
    open(&mut window, "Driveshaft");
    if !is_ticked(&window, Role::CheckBox, Described::Driveline.label()) {
        tick(&mut window, Described::Driveline);
    }
    enter(&mut window, "Transmission, nose up", "9");
    let remedy = |window: &Window| {
        let findings = window.state().bench.findings();
        let uneven = |f: &&Finding| f.grade == Grade::Check && matches!(f.kind, Kind::Driveline(_));
        findings.iter().filter(uneven).find_map(|f| f.remedies.first().copied())
    };
    let offered = remedy(&window).expect("nine degrees against two and a half");
    window.state_mut().bench.run(Command::Apply(Change::Take(offered)));
    let setup = window.state().bench.setup();
    assert!(
        (setup.axle.pinion_angle_rad.to_degrees() - 9.0).abs() < 1e-6,
        "parallel to the transmission: {}",
        setup.axle.pinion_angle_rad.to_degrees()
    );
    assert_eq!(remedy(&window), None);
}

#[test]
fn springs_turn_from_coils_to_air_and_back() {
    let mut window = sheet(bench(0));
    open(&mut window, "Springs");
    if !is_ticked(&window, Role::CheckBox, Described::Springs.label()) {
        tick(&mut window, Described::Springs);
    }
    let is_air = |window: &Window| {
        let springs = window.state().bench.setup().springs.as_ref();
        matches!(springs.expect("described").kind, SpringKind::Air(_))
    };
    let before = is_air(&window);
    tick(&mut window, Described::Air);
    assert_ne!(is_air(&window), before);
    if is_air(&window) {
        assert!(says(&window, "The bag maker's chart, shortest first"));
    }
    tick(&mut window, Described::Air);
    assert_eq!(is_air(&window), before);
}

#[test]
fn a_hole_is_added_and_the_spring_is_in_it() {
    let mut window = sheet(bench(0));
    open(&mut window, "Springs");
    if !is_ticked(&window, Role::CheckBox, Described::Springs.label()) {
        tick(&mut window, Described::Springs);
    }
    let before = window.state().bench.setup().springs.clone().expect("described");
    click(&mut window, Role::Button, "Add a hole above");
    let after = window.state().bench.setup().springs.clone().expect("described");
    assert_eq!(after.holes_in_axle.len(), before.holes_in_axle.len() + 1);
    assert_eq!(after.hole, after.holes_in_axle.len() - 1);
    let rise = after.mount_in_axle().expect("a hole").z - before.mount_in_axle().expect("a hole").z;
    assert!((rise - 0.0254).abs() < 1e-9, "an inch");
    click(&mut window, Role::Button, "Remove this hole");
    let back = window.state().bench.setup().springs.clone().expect("described");
    assert_eq!(back.holes_in_axle, before.holes_in_axle);
}

#[test]
fn a_tube_is_put_in_the_way_bent_and_taken_out() {
    let mut window = sheet(bench(0));
    let before = window.state().bench.setup().keep_clear.len();
    open(&mut window, "In the way");
    click(&mut window, Role::Button, "Add a tube");
    let tube = window.state().bench.setup().keep_clear.last().cloned().expect("a tube");
    let KeepClearShape::Tube { along, .. } = &tube.shape else {
        panic!("not a tube: {tube:?}");
    };
    assert_eq!(window.state().bench.setup().keep_clear.len(), before + 1);
    assert!(along.len() >= 2);
    click(&mut window, Role::Button, &format!("Remove the {}", tube.name));
    assert_eq!(window.state().bench.setup().keep_clear.len(), before);
}

#[test]
fn the_usual_exhaust_is_offered_while_there_is_none_and_its_points_say_what_they_are() {
    let mut window = sheet(Bench::new(demo::new_truck().expect("it reads"), None));
    open(&mut window, "In the way");
    click(&mut window, Role::Button, "Add the usual exhaust over the axle");
    let things = window.state().bench.setup().keep_clear.clone();
    let [thing] = &things[..] else {
        panic!("one exhaust: {things:?}");
    };
    assert_eq!(thing.name, "exhaust");
    let offered = window
        .query_all_by_role_and_label(Role::Button, "Add the usual exhaust over the axle")
        .count();
    assert_eq!(offered, 0, "there is one now");
    for head in [
        "Ahead of the axle, mm",
        "Left of the middle, mm",
        "Above the rails' underside, mm",
        "Point 1",
    ] {
        assert!(says(&window, head), "{head}");
    }
    enter(&mut window, "Point 2, left", "400 right");
    enter(&mut window, "Point 3, forward", "500 behind");
    enter(&mut window, "Point 4, up", "-20");
    let KeepClearShape::Tube { along, .. } = &window.state().bench.setup().keep_clear[0].shape else {
        panic!("not a tube any more");
    };
    assert_eq!((along[1].y, along[2].x, along[3].z), (-0.4, -0.5, -0.02));
}

#[test]
fn a_value_that_makes_no_truck_is_refused_in_a_sentence() {
    let mut window = sheet(bench(0));
    // Measured heights do not make way as assumed ones do.
    click(&mut window, Role::Button, "Accept Ride height");
    let before = window.state().bench.setup().clone();
    commands(&mut window);
    enter(&mut window, "Laid out", "900");
    assert_eq!(window.state().bench.setup(), &before);
    assert!(matches!(window.state().bench.notice(), Some(Notice::Refused(_))));
    assert_eq!(commands(&mut window).len(), 1);
}
