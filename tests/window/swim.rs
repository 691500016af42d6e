//! An axle that nothing holds sideways: it swims, and its mounts with it.

use crate::driver::Window;
use crate::shown::Shown;

const ON_FRAME: [&str; 2] = ["left lower bar, on the frame", "right lower bar, on the frame"];
const ON_AXLE: [&str; 2] = ["left lower bar, on the axle", "right lower bar, on the axle"];
/// From the file: between the two lower bars, mm.
const BARS_APART_MM: f64 = 1010.0;

/// Places on the screen, which are single precision.
const PLACE_PX: f64 = 0.01;

fn sideways(shown: &Shown, mount: &str) -> f64 {
    shown.handle(mount)[0]
}

#[test]
fn mounts_on_the_axle_swim_with_it() {
    let mut window = Window::open_file(&tests::demo_scene("08"));
    let before = window.look_from_behind();
    let [left, right] = ON_FRAME.map(|mount| sideways(&before, mount));
    let pixels_per_mm = (right - left) / BARS_APART_MM;
    let gone = |shown: &Shown| ON_AXLE.map(|mount| sideways(shown, mount) - sideways(&before, mount));

    window.hands.key("m");
    let aside = window.wait_for("the axle a good way aside", |shown| {
        gone(shown)[0].abs() > 10.0 * pixels_per_mm
    });
    let [left, right] = gone(&aside);
    assert!(
        (left - right).abs() < PLACE_PX,
        "one end by {left}, the other by {right}"
    );
    for mount in ON_FRAME {
        let frame = sideways(&aside, mount) - sideways(&before, mount);
        assert!(frame.abs() < PLACE_PX, "the frame went by {frame}");
    }
    assert_eq!(aside.undo, None);

    window.hands.key("m");
    window.settle();
    assert_eq!(window.now(), before);
}
