//! From nothing to a layout that solves, and a mount from hole to hole.

use std::fs;

use nalgebra::{Point3, Vector3};
use rearend::setup::{BarEnd, BarId, HoleRow, Mount, Side};

use crate::around::enter;
use crate::drag::{PANHARD_ON_FRAME, assert_shift};
use crate::driver::Window;

#[test]
fn from_a_tape_to_a_layout_that_solves() {
    let mut window = Window::open();
    window.hands.key("ctrl+n");
    window.wait_for("a truck of one's own", |shown| shown.name == "New truck");
    window.settle();
    // The tape sheet lies open on its first ten.
    enter(&mut window, "Full lift", "9 1/2");
    let measured = window.wait_for("a measure", |shown| shown.undo.is_some());
    assert_eq!(measured.undo.as_deref(), Some("measure full lift"));
    window.settle();

    // The keyboard has gone on to the next measure; the way to the layouts is on the sheet.
    window.click("Choose how it hangs…");
    window.wait_for("the layouts", |shown| shown.dialog);
    window.settle();
    window.click("Parallel four-link, Watt's linkage on the axle");
    let hung = window.wait_for("another layout", |shown| {
        !shown.dialog && shown.undo.as_deref().is_some_and(|undo| undo.starts_with("hang it as"))
    });
    // A Watt's linkage that is set up evenly keeps the axle within a millimetre; a panhard bar of this truck does not.
    assert!(
        hung.shift_laid_out_mm.abs() < 1.0 && hung.shift_full_lift_mm.abs() < 1.0,
        "{hung:?}"
    );
    window.settle();
    assert!(window.says("Watt's crank"), "{:?}", window.findings());
    assert!(!window.says("cannot"), "{:?}", window.findings());
}

#[test]
fn a_drag_clicks_from_hole_to_hole_and_a_tape_measures() {
    let shelf = tempfile::tempdir().expect("a folder that outlasts the window");
    let path = shelf.path().join("holes.ron");
    let mut setup = shop::demo::ALL[0].setup().expect("a demo reads");
    let mount = Mount::Bar {
        bar: BarId(2),
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    let step = Vector3::new(0.0, 0.0, 0.020);
    let from = setup.bars[2].mount_in_frame;
    let row = HoleRow {
        first: from - step,
        step,
        count: 4,
    };
    assert!(setup.set_hole_row(mount, Some(row)));
    fs::write(&path, rearend::file::write(&setup)).expect("a file in a folder of one's own");
    let mut window = Window::open_file(&path);
    let before = window.look_from_behind();
    assert_shift(&before, &setup);
    let [x, y] = before.handle(PANHARD_ON_FRAME).map(crate::drag::whole);
    window.hands.point([x, y]);
    window.hands.press();
    // A third of the way to the next hole and it stays; more than half and it is there.
    let up = crate::drag::pixels_per_mm(&before);
    window.hands.glide([x, y], [x, y - crate::drag::whole(up * 7.0)]);
    window.wait_for("the mount in hand", |shown| shown.dragging);
    window.settle();
    assert_shift(&window.now(), &setup);
    window.hands.glide([x, y], [x, y - crate::drag::whole(up * 14.0)]);
    let mut next = setup.clone();
    next.bars[2].mount_in_frame = Point3::from(from.coords + step);
    let expected = crate::drag::expected_shift_mm(&next);
    window.wait_for("the next hole", |shown| {
        (shown.shift_laid_out_mm - expected).abs() < 1e-4
    });
    window.let_go();
    window.settle();
    window.hands.key("ctrl+z");
    window.wait_for("the whole drag undone", |shown| !shown.unsaved);
    assert_shift(&window.now(), &setup);

    // Its card lies over what is to be measured.
    window.hands.key("Escape");
    window.wait_for("nothing selected", |shown| shown.selected.is_none());
    window.hands.key("d");
    window.settle();
    for end in ["left wheel face of the axle", "right wheel face of the axle"] {
        window.click(end);
        window.settle();
    }
    let inches = setup.axle.flange_to_flange_m / 0.0254;
    assert!((inches - 60.0).abs() < 1e-6, "sixty inches face to face: {inches}");
    let measured = window.wait_for("what the tape says", |shown| shown.measured.is_some());
    let measured = measured.measured.unwrap_or_default();
    assert!(
        measured.starts_with("60\" straight") && measured.contains("60\" right"),
        "{measured}"
    );
}
