//! Another layout from the chooser: every curve is another one, and one step back brings the old ones.

use rearend::layouts::Layout;
use rearend::setup::Setup;
use tests::parallelogram;

use crate::drag::whole;
use crate::driver::Window;
use crate::shown::Shown;

/// How well a pose is solved.
const POSE_MM: f64 = 1e-5;
const POSE_DEG: f64 = 1e-5;
const SLOPE: f64 = 1e-9;
/// The rubber of two eyes gives a little to the panhard bar, and the pinion turns by that little.
const RUBBER_DEG: f64 = 0.002;

/// How far the pinion of an axle that is rigid with its arms turns from ride height to full lift, + nose up, degrees: the arm swings about
/// its eye, seen from the side.
fn turned_by_arms_deg(setup: &Setup) -> f64 {
    let eye = setup.arms[0].eye_in_frame;
    let [ride_m, lifted_m] = [setup.travel.ride_m, setup.travel.full_lift_m].map(|h| setup.axle_z_m(h) - eye.z);
    let length_m = eye.x.hypot(ride_m);
    ((ride_m / length_m).asin() - (lifted_m / length_m).asin()).to_degrees()
}

/// Steer for roll of an axle on equal parallel bars that run straight ahead: where an end of the axle rises by a little, its bar pushes it
/// forward by the bar's slope times that.
fn steered_by_parallel_bars(setup: &Setup) -> f64 {
    let bar = &setup.bars[0];
    let along = bar.mount_in_frame - bar.mount_in_axle;
    (along.z - setup.axle_z_m(setup.travel.ride_m)) / along.x
}

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() < within, "{found} instead of {expected}");
}

/// Sideways shift at full lift, pinion change at full lift, steer for roll at ride height.
fn curves(shown: &Shown) -> [f64; 3] {
    [
        shown.shift_full_lift_mm,
        shown.pinion_change_full_lift_deg,
        shown.roll_steer_at_ride,
    ]
}

#[test]
fn another_layout_from_the_chooser_changes_every_curve_and_is_one_step_to_undo() {
    let layout = Layout::TruckArmsPanhard;
    let setup = shop::demo::ALL[0].setup().expect("a demo reads");
    let mut window = Window::open_file(&tests::demo_scene("01"));
    let before = window.now();
    let lifted = parallelogram::moved(&setup, setup.travel.full_lift_m).y * 1e3;
    near(before.shift_full_lift_mm, lifted, POSE_MM);
    // Equal parallel bars do not turn the axle.
    near(before.pinion_change_full_lift_deg, 0.0, POSE_DEG);
    near(before.roll_steer_at_ride, steered_by_parallel_bars(&setup), SLOPE);

    window.hands.key("a");
    window.wait_for("the layouts", |shown| shown.dialog);
    window.settle();
    let [x, y, width, height] = window.now().pane.map(whole);
    window.scroll_to(layout.title(), [x + width / 2, y + height / 2]);
    window.click(layout.title());
    let hung = window.wait_for("the axle hung another way", |shown| {
        shown.undo.is_some() && !shown.dialog
    });
    assert_eq!(hung.undo, Some(format!("hang it as {}", layout.title().to_lowercase())));
    assert!(hung.unsaved);
    near(
        hung.pinion_change_full_lift_deg,
        turned_by_arms_deg(&layout.hang(&setup)),
        RUBBER_DEG,
    );
    for (old, new) in curves(&before).into_iter().zip(curves(&hung)) {
        assert!((old - new).abs() > 1e-3, "{old} before, {new} after");
    }

    window.settle();
    window.hands.key("ctrl+z");
    let undone = window.wait_for("the old way again", |shown| shown.undo.is_none());
    assert_eq!(undone, before);
}
