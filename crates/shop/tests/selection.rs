//! Several mounts at once.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[expect(dead_code, reason = "the other tests use the rest of it")]
mod support;

use nalgebra::{Point3, Vector3};
use rearend::setup::{BarEnd, BarId, HoleRow, Mount, Side};
use shop::{Bench, Command};
use support::setup;

fn mount(bar: usize, side: Side) -> Mount {
    Mount::Bar {
        bar: BarId(bar),
        end: BarEnd::Frame,
        side,
    }
}

const LOWER: usize = 0;
const UPPER: usize = 1;
const PANHARD: usize = 2;

fn at(bench: &Bench, mount: Mount) -> Point3<f64> {
    bench.setup().mount(mount).expect("it is there").point
}

/// Frame mounts of the lower bars (both sides), the upper bars and the panhard bar.
fn chosen() -> (Bench, [Mount; 4]) {
    let mut bench = Bench::new(setup(0), None);
    let mounts = [
        mount(LOWER, Side::Drawn),
        mount(LOWER, Side::Mirrored),
        mount(UPPER, Side::Drawn),
        mount(PANHARD, Side::Drawn),
    ];
    bench.run(Command::Select(Some(mounts[0])));
    for other in &mounts[1..] {
        bench.run(Command::SelectWith(*other));
    }
    (bench, mounts)
}

#[test]
fn all_go_by_what_the_one_in_hand_goes_and_a_mirror_image_only_once() {
    let (mut bench, mounts) = chosen();
    let before = mounts.map(|m| at(&bench, m));
    let by = Vector3::new(0.01, 0.004, 0.02);
    bench.run(Command::MoveSelected {
        mount: mounts[3],
        to: before[3] + by,
    });
    assert_eq!(bench.notice(), None);
    let moved = |i: usize| at(&bench, mounts[i]) - before[i];
    assert!((moved(3) - by).norm() < 1e-9 && (moved(2) - by).norm() < 1e-9);
    // One of the pair goes by that much, the other is its mirror image.
    let [left, right] = [moved(0), moved(1)];
    assert!((left - Vector3::new(right.x, -right.y, right.z)).norm() < 1e-9);
    assert!((left.x - by.x).abs() < 1e-9 && (left.y.abs() - by.y).abs() < 1e-9 && (left.z - by.z).abs() < 1e-9);
    assert_eq!(bench.document().undo_name(), Some("move 3 mounts"));
    bench.run(Command::Undo);
    assert_eq!(mounts.map(|m| at(&bench, m)), before, "one step takes it all back");
}

#[test]
fn a_nudge_moves_them_all_and_a_click_elsewhere_lets_them_go() {
    let (mut bench, mounts) = chosen();
    let before = mounts.map(|m| at(&bench, m).z);
    let step_m = bench.units().step_m();
    bench.run(Command::Nudge(Vector3::z()));
    for (mount, was) in mounts.into_iter().zip(before) {
        assert!((at(&bench, mount).z - was - step_m).abs() < 1e-8);
    }
    bench.run(Command::Select(Some(mounts[2])));
    assert_eq!(bench.selection().all().collect::<Vec<_>>(), [mounts[2]]);
    bench.run(Command::Nudge(Vector3::z()));
    assert!(
        (at(&bench, mounts[3]).z - before[3] - step_m).abs() < 1e-8,
        "the others stay"
    );
}

#[test]
fn one_is_taken_out_again_by_choosing_it_again() {
    let (mut bench, mounts) = chosen();
    bench.run(Command::SelectWith(mounts[2]));
    assert!(!bench.selection().all().any(|m| m == mounts[2]));
    assert_eq!(bench.selection().all().count(), 3);
    for mount in [mounts[0], mounts[1], mounts[3], mounts[3]] {
        bench.run(Command::SelectWith(mount));
    }
    assert!(
        bench.selection().all().count() >= 1,
        "one leads as long as anything is selected"
    );
}

/// The one in hand clicks from hole to hole; the others must not run away from it between the clicks.
#[test]
fn the_others_go_as_far_as_the_hole_and_no_farther() {
    let (mut bench, mounts) = chosen();
    let from = at(&bench, mounts[3]);
    let step = Vector3::z() * 0.02;
    let row = HoleRow {
        first: from,
        step,
        count: 3,
    };
    bench.run(Command::Apply(shop::Change::SetHoles {
        mount: mounts[3],
        row: Some(row),
    }));
    let upper = at(&bench, mounts[2]);
    bench.run(Command::BeginStep);
    for part in 1..=20 {
        let to = from + step * (f64::from(part) / 20.0 * 0.9);
        bench.run(Command::MoveSelected { mount: mounts[3], to });
    }
    bench.run(Command::EndStep);
    assert!((at(&bench, mounts[3]) - from - step).norm() < 1e-9);
    assert!((at(&bench, mounts[2]) - upper - step).norm() < 1e-9);
}

/// A bar that goes from before it in the list does not hand its selection to the next one.
#[test]
fn what_is_selected_stays_selected_when_other_bars_come_and_go() {
    let mut bench = Bench::new(setup(0), None);
    let panhard = mount(PANHARD, Side::Drawn);
    let name = bench.setup().mount_name(panhard);
    bench.run(Command::Select(Some(panhard)));
    for change in [
        shop::Change::Remove(rearend::mechanism::Part::Bar(BarId(LOWER), Side::Drawn)),
        shop::Change::SetMirrored {
            bar: BarId(0),
            mirrored: false,
        },
    ] {
        bench.run(Command::Apply(change));
        let selected = bench.selected().expect("it is still there");
        assert_eq!(bench.setup().mount_name(selected), name);
    }
    for undo in [Command::Undo, Command::Undo] {
        bench.run(undo);
        let selected = bench.selected().expect("it is still there");
        assert_eq!(bench.setup().mount_name(selected), name);
    }
    let upper = mount(UPPER, Side::Drawn);
    bench.run(Command::Select(Some(upper)));
    bench.run(Command::Apply(shop::Change::Remove(rearend::mechanism::Part::Bar(
        BarId(UPPER),
        Side::Drawn,
    ))));
    assert_eq!(bench.selected(), None, "what is gone is not selected");
}
