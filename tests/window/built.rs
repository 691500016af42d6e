//! A bar of given length: its mount is moved, and the axle follows.

use crate::drag::whole;
use crate::driver::Window;
use crate::shown::Shown;

const LEFT_LOWER: &str = "left lower bar, on the frame";
const RIGHT_LOWER: &str = "right lower bar, on the frame";
const LEFT_ON_AXLE: &str = "left lower bar, on the axle";

/// A sixteenth of an inch, the step of an arrow key, mm.
const STEP_MM: f64 = 25.4 / 16.0;
/// From the file: middle of tyre to middle of tyre, and the distance of the two lower bars, mm.
const TRACK_MM: f64 = 1550.0 + 255.0 - 2.0 * 125.0;
const BARS_APART_MM: f64 = 1000.0;

/// How far the right tyre stands ahead, mm.
fn square(shown: &Shown) -> f64 {
    shown.out_of_square_mm.expect("it solves")
}

/// One end of the axle goes with its bar: over the distance of the bars that is an angle, over the track the tyres' lead.
fn lead_mm(moved_mm: f64) -> f64 {
    moved_mm / BARS_APART_MM * TRACK_MM
}

#[test]
fn moving_the_mount_of_a_bar_as_built_turns_the_axle() {
    let mut window = Window::open_file(&tests::demo_scene("10"));
    let before = square(&window.now());
    let [x, y] = window.now().handle(LEFT_LOWER).map(whole);
    window.click_at([x, y]);
    window.wait_for("the mount selected", |shown| {
        shown.selected.as_deref() == Some(LEFT_LOWER)
    });
    window.settle();
    window.hands.key("2");
    window.settle();
    window.hands.key("Right");
    let moved = window.wait_for("the axle turned", |shown| (square(shown) - before).abs() > 1.0);
    let lead = lead_mm(STEP_MM);
    let found = square(&moved) - before;
    assert!(
        (found.abs() - lead).abs() < 0.03 * lead,
        "{found} instead of {lead}, either way"
    );
    window.settle();
    window.hands.key("ctrl+z");
    window.wait_for("the axle back", |shown| (square(shown) - before).abs() < 1e-6);
}

/// How far up the screen the mount is dragged: some twenty millimetres of the truck.
const DRAG_PX: i32 = 12;
/// Places on the screen, which are single precision.
const PLACE_PX: f64 = 0.01;

/// Looks from above and waits until the view has stopped turning: only there are both mounts level with each other.
fn look_from_above(window: &mut Window) -> Shown {
    let ahead = |shown: &Shown| [LEFT_LOWER, RIGHT_LOWER].map(|mount| shown.handle(mount)[1]);
    window.hands.key("3");
    let shown = window.wait_for("the view from above", |shown| {
        let [left, right] = ahead(shown);
        (left - right).abs() < PLACE_PX
    });
    window.settle();
    shown
}

#[test]
fn dragging_the_mount_of_a_bar_as_built_takes_the_axle_along() {
    let mut window = Window::open_file(&tests::demo_scene("10"));
    let before = look_from_above(&mut window);
    let [left, right] = [LEFT_LOWER, RIGHT_LOWER].map(|mount| before.handle(mount)[0]);
    let pixels_per_mm = (right - left) / BARS_APART_MM;
    let from = before.handle(LEFT_LOWER).map(whole);
    let to = [from[0], from[1] - DRAG_PX];
    window.hands.point(from);
    window.hands.press();
    window.hands.glide(from, to);
    let half_a_step_px = STEP_MM / 2.0 * pixels_per_mm + PLACE_PX;
    let ahead_px = |shown: &Shown, mount: &str| before.handle(mount)[1] - shown.handle(mount)[1];
    let held = window.wait_for("the mount in hand where the mouse is", |shown| {
        shown.dragging && (ahead_px(shown, LEFT_LOWER) - f64::from(DRAG_PX)).abs() <= half_a_step_px
    });
    // The axle follows while the mount is in hand: the bar keeps its length, its other end goes as far, and the axle turns.
    let moved_px = ahead_px(&held, LEFT_LOWER);
    let followed_px = ahead_px(&held, LEFT_ON_AXLE);
    assert!(
        (followed_px - moved_px).abs() < 0.03 * moved_px,
        "the mount went {moved_px}, the other end of the bar {followed_px}"
    );
    let lead = lead_mm(moved_px / pixels_per_mm);
    let found = (square(&held) - square(&before)).abs();
    assert!(
        (found - lead).abs() < 0.03 * lead,
        "{found} instead of {lead}, either way"
    );
    assert_eq!(held.handle(RIGHT_LOWER), before.handle(RIGHT_LOWER));

    let dropped = window.let_go();
    assert_eq!(square(&dropped), square(&held));
    assert_eq!(dropped.undo, Some(format!("move {LEFT_LOWER}")));
    window.settle();
    window.hands.key("ctrl+z");
    let undone = window.wait_for("the axle back", |shown| shown.undo.is_none());
    assert_eq!(square(&undone), square(&before));
    assert_eq!(undone.handles, before.handles);
}
