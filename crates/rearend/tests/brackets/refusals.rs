//! What cannot be cut or welded is named, with what to do about it.

use nalgebra::{Point3, Vector3};
use rearend::brackets::BracketError;
use rearend::setup::{Bolt, HoleRow, Joint, JointKind, Setup};

use crate::support::{PANHARD, demo};
use crate::{all, refused};

const LOWER: usize = 0;

fn row(setup: &mut Setup, step: Vector3<f64>) {
    let first = setup.bars[LOWER].mount_in_axle;
    setup.bars[LOWER].axle_holes = Some(HoleRow { first, step, count: 3 });
}

/// Edge distance 28.575 mm, tube radius 38.1 mm: two millimetres less than both together is two too near.
#[test]
fn a_bolt_too_near_to_the_tube_is_told_by_how_much() {
    let mut setup = demo(0);
    let needed_m = setup.steel.edge_m() + setup.axle.tube_m / 2.0;
    setup.bars[LOWER].mount_in_axle = Point3::new(0.0, 0.49, 0.002 - needed_m);
    let why = refused(&setup, "lower bar, on the axle").to_string();
    assert!(why.contains("26.6 mm from the axle tube"), "{why}");
    assert!(
        why.contains("needs 28.6 mm") && why.ends_with("move it 2.0 mm farther away"),
        "{why}"
    );
    // As near as it may be, it is drawn.
    setup.bars[LOWER].mount_in_axle.z = -needed_m;
    assert!(all(&setup).iter().flatten().any(|b| b.name == "lower bar, on the axle"));
}

#[test]
fn mounts_in_the_steel_are_refused() {
    let mut setup = demo(0);
    setup.bars[LOWER].mount_in_axle.z = 0.01;
    assert!(matches!(
        refused(&setup, "lower bar, on the axle"),
        BracketError::Inside { .. }
    ));
    // Half way between the rail's sides, half way up, ahead of the kick-up.
    setup.bars[LOWER].mount_in_frame = Point3::new(0.9, 0.432 - 0.031, 0.075);
    let why = refused(&setup, "lower bar, on the frame");
    assert!(matches!(why, BracketError::Inside { .. }), "{why}");
}

/// A bolt of 19.05 mm: its hole and a quarter of the bolt are 24.6 mm.
#[test]
fn holes_too_close_are_refused() {
    let mut setup = demo(0);
    row(&mut setup, Vector3::new(0.0, 0.0, -0.022));
    let why = refused(&setup, "lower bar, on the axle").to_string();
    assert!(why.contains("22.0 mm apart") && why.contains("needs 24.6 mm"), "{why}");
}

#[test]
fn a_row_along_its_bolt_is_refused() {
    let mut setup = demo(0);
    row(&mut setup, Vector3::new(0.0, 0.03, 0.0));
    assert!(matches!(
        refused(&setup, "lower bar, on the axle"),
        BracketError::RowAlongBolt { .. }
    ));
}

#[test]
fn a_mount_in_the_middle_of_nowhere_asks_for_a_crossmember() {
    let mut setup = demo(0);
    setup.rails.crossmembers_x_m.clear();
    setup.bars[PANHARD].mount_in_frame.y = 0.0;
    let why = refused(&setup, "panhard bar, on the frame");
    assert!(matches!(why, BracketError::NothingNear { .. }), "{why}");
    assert!(why.to_string().contains("put a crossmember within 250.0 mm"), "{why}");
}

/// A yard below the rail.
#[test]
fn a_plate_longer_than_a_bracket_is_refused() {
    let mut setup = demo(0);
    let bar = &mut setup.bars[PANHARD];
    bar.mount_in_frame = Point3::new(0.9, 0.4, -1.1);
    bar.frame_joint = Some(Joint {
        bolt: Bolt::Along,
        ..Joint::of(JointKind::RodEnd)
    });
    let why = refused(&setup, "panhard bar, on the frame");
    assert!(matches!(why, BracketError::TooLong { .. }), "{why}");
}

#[test]
fn a_mount_beyond_the_end_of_the_tube_is_refused() {
    let mut setup = demo(0);
    setup.bars[LOWER].mount_in_axle.y = setup.axle.flange_to_flange_m / 2.0;
    assert!(matches!(
        refused(&setup, "lower bar, on the axle"),
        BracketError::OffSteel { .. }
    ));
}

#[test]
fn a_setup_that_is_no_truck_says_so_once() {
    let mut setup = demo(0);
    setup.bars[LOWER].mount_in_axle = setup.bars[LOWER].mount_in_frame;
    setup.bars[LOWER].mount_in_axle.z -= setup.axle_z_m(setup.travel.ride_m);
    let all = all(&setup);
    assert_eq!(all.len(), 1);
    let why = all[0].as_ref().expect_err("it has a bar without length").to_string();
    assert!(
        why.starts_with("no bracket can be drawn: the") && why.contains("lower bar"),
        "{why}"
    );
}

/// Half the gap and a plate on either side of the middle, and the two of a pair touch.
#[test]
fn the_two_of_a_pair_do_not_share_a_place() {
    let mut setup = demo(0);
    let touching_m = setup.steel.gap_m / 2.0 + setup.steel.plate_m;
    for mount in [0.9, 1.1] {
        let bar = &mut setup.bars[LOWER];
        (bar.mount_in_frame.y, bar.mount_in_axle.y) = (mount * touching_m, mount * touching_m);
        // Under the centre section.
        bar.mount_in_axle.z = -0.18;
        let is_drawn = all(&setup).iter().flatten().any(|b| b.name == "lower bar, on the axle");
        assert_eq!(is_drawn, mount > 1.0, "{mount}");
    }
    setup.bars[LOWER].mount_in_axle.y = 0.9 * touching_m;
    setup.bars[LOWER].mount_in_frame.y = 0.9 * touching_m;
    let why = refused(&setup, "lower bar, on the axle").to_string();
    assert!(
        why.ends_with("keep its mount 28.6 mm from the middle of the truck"),
        "{why}"
    );
}
