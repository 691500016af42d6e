//! Coordinates by keyboard.

use crate::drag::{PANHARD_ON_FRAME, assert_shift, whole};
use crate::driver::Window;

#[test]
fn typed_coordinates_move_the_mount() {
    let mut window = Window::open();
    let [x, y] = window.look_from_behind().handle(PANHARD_ON_FRAME).map(whole);
    window.click_at([x, y]);
    window.wait_for("the mount selected", |shown| {
        shown.selected.as_deref() == Some(PANHARD_ON_FRAME)
    });
    window.settle();
    // The card comes last. Behind the coordinate upwards, its last box, come: holes, lock, cut to suit, as built, joint, bolt, remove.
    for _ in 0..8 {
        window.hands.key("shift+Tab");
        window.settle();
    }
    window.hands.enter("10 1/4");
    let moved = window.wait_for("the mount moved", |shown| shown.undo.is_some());
    assert_eq!(moved.undo.as_deref(), Some("move panhard bar, on the frame"));
    let mut setup = shop::demo::ALL[0].setup().expect("a demo reads");
    setup.bars[2].mount_in_frame.z = 10.25 * 0.0254;
    assert_shift(&moved, &setup);
}
