//! Bracket holes and locks: in the file and back, mirrored, refused where a mount is in none of them, and what a move makes of them.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use nalgebra::{Point3, Vector3};
use proptest::prelude::*;
use rearend::file::{self, FileError};
use rearend::layouts::Layout;
use rearend::setup::{BarEnd, BarId, HoleRow, Mount, Setup, SetupError, Side};
use support::{PANHARD, demo, text};

const LOWER: usize = 0;
const PITCH_M: f64 = 0.0254;

fn bar_mount(bar: usize, end: BarEnd, side: Side) -> Mount {
    Mount::Bar {
        bar: BarId(bar),
        end,
        side,
    }
}

/// Four holes an inch apart along a direction, the mount in the second.
fn row_at(setup: &Setup, mount: Mount, along: Vector3<f64>) -> HoleRow {
    let at = setup.mount(mount).expect("the mount is there").point;
    HoleRow {
        first: at - along * PITCH_M,
        step: along * PITCH_M,
        count: 4,
    }
}

/// The first demo's lower bar with a row on the frame, as somebody writes it.
fn with_row(row: &str) -> String {
    let find = "axle_mm: (0.0, 490.0, -80.0),";
    assert!(text(0).contains(find));
    text(0).replacen(find, &format!("{find} frame_holes: {row},"), 1)
}

#[test]
fn a_row_is_read_and_stands_on_both_sides() {
    let row = "(first_mm: (560.0, 490.0, 52.6), step_mm: (0.0, 3.0, 25.4), count: 4)";
    let find = "(560.0, 490.0, 78.0)";
    let setup = file::read(&with_row(row).replacen(find, "(560.0, 493.0, 78.0)", 1)).expect("it reads");
    for (side, sign) in [(Side::Drawn, 1.0), (Side::Mirrored, -1.0)] {
        let mount = bar_mount(LOWER, BarEnd::Frame, side);
        let row = setup.hole_row(mount).expect("there is a row");
        assert_eq!(setup.hole_of(mount), Some(1), "{side:?}");
        let last = row.holes().last().expect("there are holes");
        let expected = Point3::new(0.56, sign * 0.499, 0.1288);
        assert!((last - expected).norm() < 1e-9, "{side:?}: {last}");
        assert_eq!(
            setup.hole_row(bar_mount(LOWER, BarEnd::Axle, side)),
            None,
            "the other end has none"
        );
    }
}

#[test]
fn what_has_neither_row_nor_lock_writes_neither() {
    for which in 0..3 {
        let written = file::write(&demo(which));
        assert!(
            !written.contains("_holes: (") && !written.contains("locked"),
            "{written}"
        );
    }
}

/// Every mount of every layout that can have a row, mirrored ones from either side, leaning rows among them.
#[test]
fn rows_and_locks_of_every_layout_read_back_equal() {
    let along = Vector3::new(0.3, 0.2, -1.0).normalize();
    for layout in Layout::ALL {
        let plain = file::read(&file::write(&layout.hang(&demo(0)))).expect("it reads");
        for mount in plain.mounts() {
            let mut setup = plain.clone();
            let row = row_at(&setup, mount, along);
            assert_eq!(setup.set_hole_row(mount, Some(row)), setup.has_bracket(mount));
            assert_eq!(setup.set_locked(mount, true), setup.has_bracket(mount));
            if !setup.has_bracket(mount) {
                assert_eq!(setup, plain, "{layout:?} {mount:?}");
                continue;
            }
            assert_eq!(setup.hole_of(mount), Some(1), "{layout:?} {mount:?}");
            let kept = setup.hole_row(mount).expect("it has one");
            assert!((kept.first - row.first).norm() < 1e-8 && (kept.step - row.step).norm() < 1e-8);
            let read = file::read(&file::write(&setup)).expect("it reads back");
            assert_eq!(read, setup, "{layout:?} {mount:?}");
            assert!(read.is_locked(mount));
            assert!(setup.set_hole_row(mount, None) && setup.set_locked(mount, false));
            assert_eq!(setup, plain, "{layout:?} {mount:?}: nothing is left of them");
        }
    }
}

#[test]
fn a_row_is_written_as_it_is_read() {
    let mut setup = demo(0);
    let mount = bar_mount(PANHARD, BarEnd::Axle, Side::Drawn);
    let row = row_at(&setup, mount, Vector3::z());
    assert!(setup.set_hole_row(mount, Some(row)) && setup.set_locked(mount, true));
    let written = file::write(&setup);
    let expected = "axle_holes: (first_mm: (-205.0, -288.0, 34.6), step_mm: (0.0, 0.0, 25.4), count: 4)";
    assert!(
        written.contains(expected) && written.contains("axle_locked: true"),
        "{written}"
    );
}

#[test]
fn a_mount_in_none_of_its_holes_is_named_with_the_nearest() {
    for (at_mm, fits) in [("78.0", true), ("78.009", true), ("78.011", false), ("85.0", false)] {
        let row = format!("(first_mm: (560.0, 490.0, {at_mm}), step_mm: (0.0, 0.0, 25.4), count: 4)");
        assert_eq!(file::read(&with_row(&row)).is_ok(), fits, "{at_mm}");
    }
    let row = "(first_mm: (560.0, 490.0, 0.0), step_mm: (0.0, 0.0, 25.4), count: 4)";
    let error = file::read(&with_row(row)).expect_err("78 mm is between holes at 76.2 mm and nowhere");
    assert_eq!(
        error.to_string(),
        "the left lower bar, on the frame, is in none of its bracket holes: the nearest is hole 4 at (560, 490, 76.2) mm; \
         put it there, or take the row of holes out"
    );
    assert!(matches!(error, FileError::Setup(SetupError::InNoHole { hole: 4, .. })));
}

/// Refused on the line of the bar, naming the field and what was expected.
#[track_caller]
fn is_refused(row: &str, field_named: &str, says: &str) {
    let error = file::read(&with_row(row)).expect_err("it is refused");
    let place = text(0).find("axle_mm: (0.0, 490.0, -80.0),").expect("it is there");
    let on_line = text(0)[..place].matches('\n').count() + 1;
    let FileError::Text {
        line, field, expected, ..
    } = error
    else {
        panic!("not about the text: {error}")
    };
    assert_eq!((line, field.as_deref()), (on_line, Some(field_named)), "{expected}");
    assert!(expected.contains(says), "\"{expected}\" does not say \"{says}\"");
}

#[test]
fn rows_that_no_bracket_has_are_named_by_line_and_field() {
    for count in ["1", "13", "0", "-4", "300"] {
        let row = format!("(first_mm: (560.0, 490.0, 78.0), step_mm: (0.0, 0.0, 25.4), count: {count})");
        is_refused(
            &row,
            "count",
            &format!("{count} is out of range; 2 to 12 holes are expected"),
        );
    }
    for step in ["(0.0, 0.0, 0.0)", "(0.0, 0.5, 0.5)", "(0.0, 600.0, 0.0)"] {
        let row = format!("(first_mm: (560.0, 490.0, 78.0), step_mm: {step}, count: 4)");
        is_refused(&row, "step_mm", "a step from hole to hole is expected");
    }
    let far = "(first_mm: (560.0, 49000.0, 78.0), step_mm: (0.0, 0.0, 25.4), count: 4)";
    is_refused(far, "first_mm", "from -20000 to 20000 mm is expected");
    let short = "(first_mm: (560.0, 490.0, 78.0), count: 4)";
    is_refused(short, "step_mm", "the field \"step_mm\" is missing");
    let odd = "(first_mm: (560.0, 490.0, 78.0), step_mm: (0.0, 0.0, 25.4), pitch_mm: 25.4, count: 4)";
    is_refused(odd, "pitch_mm", "known are first_mm, step_mm, count");
}

#[test]
fn a_row_that_no_file_would_take_is_not_set() {
    let mut setup = demo(0);
    let mount = bar_mount(LOWER, BarEnd::Frame, Side::Mirrored);
    let good = row_at(&setup, mount, Vector3::z());
    let bad = [
        HoleRow { count: 1, ..good },
        HoleRow { count: 13, ..good },
        HoleRow {
            step: Vector3::zeros(),
            ..good
        },
        HoleRow {
            step: Vector3::new(0.0, f64::NAN, 0.02),
            ..good
        },
        HoleRow {
            first: Point3::new(0.0, f64::INFINITY, 0.0),
            ..good
        },
    ];
    for row in bad {
        assert!(!setup.set_hole_row(mount, Some(row)), "{row:?}");
    }
    assert_eq!(setup, demo(0));
    let gone = bar_mount(PANHARD, BarEnd::Frame, Side::Mirrored);
    assert!(
        !setup.set_hole_row(gone, Some(good)) && !setup.set_locked(gone, true),
        "the panhard bar has no other side"
    );
}

/// Neither end of a wishbone's one joint on the axle is the other's mirror image.
#[test]
fn the_one_axle_joint_of_a_wishbone_has_one_row() {
    let mut setup = Layout::ALL
        .into_iter()
        .map(|layout| layout.hang(&demo(0)))
        .find(|setup| setup.bars.iter().any(|b| b.joined))
        .expect("one layout has a wishbone");
    let bar = setup.bars.iter().position(|b| b.joined).expect("it has one");
    let mount = bar_mount(bar, BarEnd::Axle, Side::Drawn);
    let row = row_at(&setup, mount, Vector3::y());
    assert!(setup.set_hole_row(mount, Some(row)));
    let other = bar_mount(bar, BarEnd::Axle, Side::Mirrored);
    assert_eq!(setup.hole_row(other), setup.hole_row(mount));
    assert_eq!(setup.hole_of(other), Some(1));
}

#[test]
fn a_locked_mount_stays_from_either_side() {
    for locked in [Side::Drawn, Side::Mirrored] {
        let mut setup = demo(0);
        assert!(setup.set_locked(bar_mount(LOWER, BarEnd::Axle, locked), true));
        let before = setup.clone();
        for side in [Side::Drawn, Side::Mirrored] {
            let mount = bar_mount(LOWER, BarEnd::Axle, side);
            let at = setup.mount(mount).expect("there").point;
            assert!(setup.is_locked(mount) && !setup.move_mount(mount, at + Vector3::z() * 0.01));
        }
        assert_eq!(setup, before);
        assert!(
            setup.move_mount(bar_mount(LOWER, BarEnd::Frame, Side::Drawn), Point3::origin()),
            "the other end moves"
        );
    }
}

fn anywhere() -> impl Strategy<Value = Vector3<f64>> {
    [-1.0..1.0, -1.0..1.0, -1.0..1.0].prop_map(|v: [f64; 3]| Vector3::from(v))
}

proptest! {
    /// Every other hole is as far away or farther, each reckoned by itself.
    #[test]
    fn the_nearest_hole_is_the_nearest(
        first in anywhere(),
        step in anywhere().prop_filter("it goes somewhere", |s| s.norm() > 0.1),
        count in 2..=12u8,
        point in anywhere(),
    ) {
        let row = HoleRow { first: first.into(), step: step * 0.1, count };
        let (hole, centre) = row.nearest(point.into());
        prop_assert!(hole < usize::from(count));
        for i in 0..count {
            let other = first + step * 0.1 * f64::from(i);
            if usize::from(i) == hole {
                prop_assert!((other - centre.coords).norm() < 1e-8);
            }
            prop_assert!((centre.coords - point).norm() <= (other - point).norm() + 1e-8, "hole {} is nearer than {}", i, hole);
        }
    }

    /// Wherever a mount with a row is put, from either side, it ends in a hole, and the setup stays one that a file takes.
    #[test]
    fn a_move_ends_in_the_nearest_hole(by in anywhere(), along in anywhere().prop_filter("somewhere", |s| s.norm() > 0.1), other in any::<bool>()) {
        let mut setup = demo(0);
        let side = if other { Side::Mirrored } else { Side::Drawn };
        let mount = bar_mount(LOWER, BarEnd::Frame, side);
        let row = row_at(&setup, mount, along.normalize());
        prop_assert!(setup.set_hole_row(mount, Some(row)));
        let to = setup.mount(mount).expect("there").point + by * 0.1;
        prop_assert!(setup.move_mount(mount, to));
        let (hole, _) = setup.hole_row(mount).expect("it has one").nearest(to);
        prop_assert_eq!(setup.hole_of(mount), Some(hole));
        let read = file::read(&file::write(&setup));
        prop_assert_eq!(read.as_ref(), Ok(&setup));
    }
}
