//! A bar of given length: its mount is moved, and the axle follows.

use crate::drag::whole;
use crate::driver::Window;
use crate::shown::Shown;

const LEFT_LOWER: &str = "left lower bar, on the frame";

/// A sixteenth of an inch, the step of an arrow key, mm.
const STEP_MM: f64 = 25.4 / 16.0;
/// From the file: middle of tyre to middle of tyre, and the distance of the two lower bars, mm.
const TRACK_MM: f64 = 1550.0 + 255.0 - 2.0 * 125.0;
const BARS_APART_MM: f64 = 1000.0;

#[test]
fn moving_the_mount_of_a_bar_as_built_turns_the_axle() {
    let mut window = Window::open_file(&tests::demo_scene("10"));
    let square = |shown: &Shown| shown.out_of_square_mm.expect("it solves");
    let before = square(&window.now());
    let [x, y] = window.now().handle(LEFT_LOWER).map(whole);
    window.hands.point([x, y]);
    window.hands.click();
    window.wait_for("the mount selected", |shown| {
        shown.selected.as_deref() == Some(LEFT_LOWER)
    });
    window.settle();
    window.hands.key("2");
    window.settle();
    window.hands.key("Right");
    let moved = window.wait_for("the axle turned", |shown| (square(shown) - before).abs() > 1.0);
    // One end of the axle goes with its bar by a step: over the distance of the bars that is an angle, over the track the tyres' lead.
    let lead = STEP_MM / BARS_APART_MM * TRACK_MM;
    let found = square(&moved) - before;
    assert!(
        (found.abs() - lead).abs() < 0.03 * lead,
        "{found} instead of {lead}, either way"
    );
    window.settle();
    window.hands.key("ctrl+z");
    window.wait_for("the axle back", |shown| (square(shown) - before).abs() < 1e-6);
}
