//! The truck's heights and limits.

use egui::{Key, vec2};
use egui_kittest::kittest::Queryable;
use panels::{findings_ui, truck_card_ui};
use rearend::findings::{Finding, Grade, Kind};
use rearend::tape::Units;
use shop::{Bench, Command, Notice};

use crate::support::{Window, bench, commands, key, says, window, write, written};

/// The card with the findings below it, as a notice appears there.
fn card(bench: Bench) -> Window {
    window(bench, vec2(900.0, 900.0), |ui, bench| {
        let mut acts = truck_card_ui(ui, bench);
        acts.extend(findings_ui(ui, bench, None));
        acts
    })
}

fn enter(window: &mut Window, label: &str, text: &str) {
    write(window, label, text);
    key(window, Key::Enter);
}

/// The grade of a finding.
#[track_caller]
fn grade(window: &Window, which: impl Fn(&Kind) -> bool) -> Grade {
    let findings = &window.state().bench.document().answers().findings;
    findings
        .iter()
        .find(|f: &&Finding| which(&f.kind))
        .expect("it is found")
        .grade
}

#[test]
fn each_height_is_typed_into_its_own_box() {
    let mut window = card(bench(0));
    window.state_mut().bench.run(Command::SetUnits(Units::Millimetres));
    crate::support::settle(&mut window);
    for (label, shown, typed) in [
        ("Full lift", "230", "240"),
        ("Ride", "150", "155"),
        ("Laid out", "90", "80"),
    ] {
        assert_eq!(written(&window, label), shown, "as the demo's file has it");
        enter(&mut window, label, typed);
        assert_eq!(written(&window, label), typed);
    }
    let travel = window.state().bench.setup().travel;
    for (is, wanted) in [
        (travel.full_lift_m, 0.24),
        (travel.ride_m, 0.155),
        (travel.laid_out_m, 0.08),
    ] {
        assert!((is - wanted).abs() < 1e-9, "{travel:?}");
    }
}

#[test]
fn laid_out_above_full_lift_is_refused_with_a_notice_and_nothing_changes() {
    let mut window = card(bench(0));
    let shown = written(&window, "Laid out");
    enter(&mut window, "Laid out", "30");
    assert_eq!(window.state().bench.setup(), bench(0).setup());
    assert_eq!(window.state().bench.document().undo_name(), None);
    let Some(Notice::Refused(sentence)) = window.state().bench.notice() else {
        panic!("nothing was refused: {:?}", window.state().bench.notice());
    };
    assert!(says(&window, sentence), "the findings show it: {sentence}");
    // 30 inches, and the heights of the demo's file, 150 and 230 mm, as a tape reads them.
    for part in ["30\"", "5 7/8\"", "9 1/16\""] {
        assert!(sentence.contains(part), "{sentence}");
    }
    assert_eq!(written(&window, "Laid out"), shown, "the box shows what is in force");

    enter(&mut window, "Laid out", "3");
    assert_eq!(
        window.state().bench.notice(),
        None,
        "what is accepted takes the notice away"
    );
}

#[test]
fn limits_decide_between_check_and_fine() {
    let is_shift = |k: &Kind| matches!(k, Kind::Shift { .. });
    let is_pinion = |k: &Kind| matches!(k, Kind::PinionChange { .. });
    // The triangulated demo turns its pinion, the one with the panhard bar shifts.
    let mut window = card(bench(0));
    enter(&mut window, "Sideways shift", "4");
    assert_eq!(grade(&window, is_shift), Grade::Fine);
    enter(&mut window, "Sideways shift", "1/64");
    assert_eq!(grade(&window, is_shift), Grade::Check);

    let mut window = card(bench(2));
    enter(&mut window, "Pinion change, degrees", "45");
    assert_eq!(grade(&window, is_pinion), Grade::Fine);
    enter(&mut window, "Pinion change, degrees", "0.01");
    assert_eq!(grade(&window, is_pinion), Grade::Check);
    assert!((window.state().bench.setup().limits.pinion_change_rad - 0.01f64.to_radians()).abs() < 1e-9);
}

#[test]
fn the_roll_of_one_wheel_up_is_typed_in_degrees() {
    let mut window = card(bench(0));
    assert_eq!(
        written(&window, "One wheel up, degrees"),
        "3",
        "as the demo's file has it"
    );
    enter(&mut window, "One wheel up, degrees", "4.5°");
    assert!((window.state().bench.setup().travel.one_wheel_up_rad - 4.5f64.to_radians()).abs() < 1e-9);
}

#[test]
fn angles_that_no_axle_takes_are_explained_and_kept() {
    let mut window = card(bench(0));
    for (typed, words) in [
        ("99", "0 to 15 degrees"),
        ("-1", "0 to 15 degrees"),
        ("three", "a number of degrees"),
    ] {
        enter(&mut window, "One wheel up, degrees", typed);
        assert!(window.query_by_label_contains(words).is_some(), "{typed}");
        assert_eq!(written(&window, "One wheel up, degrees"), typed);
    }
    assert_eq!(commands(&mut window), []);
}
