//! The sweep: its heights, its symmetry, and what is read off it against formulas worked by hand.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

mod support;

use nalgebra::Point3;
use rearend::mechanism::RearEnd;
use rearend::setup::{Front, FrontHeights, Setup};
use rearend::travel::{POSES, Row, Travel, pose};
use support::{PANHARD, demo};

/// Rounding of heights that go through the axle's height and back.
const ROUNDING: f64 = 1e-14;

/// Gaps are closed to 1e-11 m, and the layouts here turn none of it into more than a few times that.
const SOLVED: f64 = 1e-10;

fn sweep(setup: &Setup, roll_rad: f64) -> Travel {
    let rear_end = RearEnd::compile(setup).expect("it compiles");
    Travel::sweep(setup, &rear_end, roll_rad, POSES)
}

fn whole(setup: &Setup, roll_rad: f64) -> Vec<Row> {
    let travel = sweep(setup, roll_rad);
    assert_eq!(
        (travel.low_end, travel.high_end, travel.rows.len()),
        (None, None, POSES)
    );
    travel.rows
}

fn at_height(setup: &Setup, height_m: f64) -> Row {
    let rear_end = RearEnd::compile(setup).expect("it compiles");
    let travel = Travel::sweep(setup, &rear_end, 0.0, POSES);
    pose(setup, &rear_end, &travel, height_m, 0.0).expect("the height is reached")
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}

#[test]
fn heights_rise_evenly_from_laid_out_to_full_lift() {
    for which in 0..3 {
        let setup = demo(which);
        for roll in [0.0, setup.travel.one_wheel_up_rad, -setup.travel.one_wheel_up_rad] {
            let rows = whole(&setup, roll);
            near(rows[0].height_m, setup.travel.laid_out_m, ROUNDING);
            near(rows[POSES - 1].height_m, setup.travel.full_lift_m, ROUNDING);
            let step = (setup.travel.full_lift_m - setup.travel.laid_out_m) / 60.0;
            for pair in rows.windows(2) {
                near(pair[1].height_m - pair[0].height_m, step, ROUNDING);
            }
            assert!(
                rows.iter().all(|r| r.roll_rad == roll && r.at.roll_rad == roll),
                "the roll is imposed"
            );
        }
    }
}

#[test]
fn any_number_of_poses_spans_the_travel() {
    let setup = demo(1);
    let rear_end = RearEnd::compile(&setup).expect("it compiles");
    for (asked, given) in [(0, 2), (1, 2), (2, 2), (7, 7), (301, 301)] {
        let rows = Travel::sweep(&setup, &rear_end, 0.0, asked).rows;
        assert_eq!(rows.len(), given);
        near(rows[0].height_m, setup.travel.laid_out_m, ROUNDING);
        near(rows[given - 1].height_m, setup.travel.full_lift_m, ROUNDING);
    }
}

#[test]
fn the_axle_stands_where_it_is_drawn_at_ride_height() {
    for which in 0..3 {
        let setup = demo(which);
        let row = at_height(&setup, setup.travel.ride_m);
        for found in [row.shift_m, row.fore_aft_m, row.steer_rad, row.misfit_m] {
            near(found, 0.0, SOLVED);
        }
        near(row.pinion_to_frame_rad, setup.axle.pinion_angle_rad, SOLVED);
    }
}

#[test]
fn a_symmetric_layout_rolled_the_other_way_is_its_mirror_image() {
    let setup = demo(2);
    let roll = setup.travel.one_wheel_up_rad;
    for (left_up, right_up) in whole(&setup, roll).iter().zip(whole(&setup, -roll)) {
        near(left_up.shift_m, -right_up.shift_m, SOLVED);
        near(left_up.steer_rad, -right_up.steer_rad, SOLVED);
        near(left_up.fore_aft_m, right_up.fore_aft_m, SOLVED);
        near(left_up.at.pitch_rad, right_up.at.pitch_rad, SOLVED);
        assert!(left_up.shift_m.abs() > 1e-4, "rolling does shift it");
    }
}

/// The panhard bar hung from the other rail: everything sideways changes its sign.
#[test]
fn a_mirrored_layout_moves_as_its_mirror_image() {
    let setup = demo(0);
    let mut mirrored = setup.clone();
    let bar = &mut mirrored.bars[PANHARD];
    bar.mount_in_frame.y *= -1.0;
    bar.mount_in_axle.y *= -1.0;
    for (a, b) in whole(&setup, 0.0).iter().zip(whole(&mirrored, 0.0)) {
        near(a.shift_m, -b.shift_m, SOLVED);
        near(a.steer_rad, -b.steer_rad, SOLVED);
        near(a.fore_aft_m, b.fore_aft_m, SOLVED);
    }
    let shift = whole(&setup, 0.0)[POSES - 1].shift_m;
    assert!(
        shift > 1e-3,
        "full lift steepens the bar and pulls the axle to its frame end, on the left: {shift}"
    );
}

/// Rake is the front's height less the rear's over the wheelbase, the front's height on straight lines between the three given.
#[test]
fn pinion_to_ground_adds_the_rake_of_the_frame() {
    let mut setup = demo(2);
    let heights = FrontHeights {
        wheelbase_m: 3.0,
        laid_out_m: 0.060,
        ride_m: 0.130,
        full_lift_m: 0.180,
    };
    setup.travel.front = Front::Heights(heights);
    // Rear: laid out 40, ride 130, full lift 225 mm.
    let by_hand = [
        (0.040, 0.020),
        (0.085, 0.010),
        (0.130, 0.0),
        (0.1775, -0.0225),
        (0.225, -0.045),
    ];
    for (height_m, front_less_rear_m) in by_hand {
        let row = at_height(&setup, height_m);
        let rake = f64::atan(front_less_rear_m / 3.0);
        near(row.pinion_to_ground_rad - row.pinion_to_frame_rad, rake, 1e-13);
    }
    setup.travel.front = Front::Follows;
    for row in whole(&setup, 0.0) {
        assert_eq!(row.pinion_to_ground_rad, row.pinion_to_frame_rad);
    }
}

/// Equal parallel bars swing the axle on an arc of their length without turning it. Source: closed form of an arc.
///
/// By hand from the second demo's file: the bars reach 570 mm ahead of the axle, and its ends stand 9 mm above the frame's at ride height.
/// The Watt's linkage lets the axle shift by less than a millimetre, which takes its square over twice the 557 mm that the bars reach ahead
/// at least off the arc.
#[test]
fn equal_parallel_bars_swing_the_axle_fore_and_aft_on_an_arc() {
    let setup = demo(1);
    let (ahead, above) = (0.570f64, 0.009f64);
    let length = ahead.hypot(above);
    for row in whole(&setup, 0.0) {
        let stands = above + setup.travel.ride_m - row.height_m;
        near(
            row.fore_aft_m,
            ahead - (length * length - stands * stands).sqrt(),
            1e-6 / (2.0 * 0.557),
        );
        near(row.pinion_to_frame_rad, setup.axle.pinion_angle_rad, 1e-9);
    }
    let laid_out = whole(&setup, 0.0)[0].fore_aft_m;
    assert!(
        laid_out > 0.01,
        "laid out, the bars point up and pull the axle forward: {laid_out}"
    );
}

/// The same drive reached by a sweep and by going there directly is the same pose.
#[test]
fn a_single_pose_is_that_of_the_sweep() {
    for which in 0..3 {
        let setup = demo(which);
        let rear_end = RearEnd::compile(&setup).expect("it compiles");
        let level = Travel::sweep(&setup, &rear_end, 0.0, POSES);
        let roll = setup.travel.one_wheel_up_rad;
        for row in Travel::sweep(&setup, &rear_end, roll, 7).rows {
            let single = pose(&setup, &rear_end, &level, row.height_m, roll).expect("it is reached");
            near(single.shift_m, row.shift_m, SOLVED);
            near(single.fore_aft_m, row.fore_aft_m, SOLVED);
            near(single.steer_rad, row.steer_rad, SOLVED);
            near(single.pinion_to_frame_rad, row.pinion_to_frame_rad, SOLVED);
        }
    }
}

#[test]
fn a_pose_beyond_the_reach_of_the_bars_says_where_it_ends() {
    let setup = demo(0);
    let rear_end = RearEnd::compile(&setup).expect("it compiles");
    let level = Travel::sweep(&setup, &rear_end, 0.0, POSES);
    let end = pose(&setup, &rear_end, &level, 1.5, 0.0).expect_err("no bar is that long");
    assert!(end.height_m > setup.travel.full_lift_m && end.height_m < 1.0, "{end:?}");
    assert!(end.part.is_some(), "{end:?}");
}

#[test]
fn a_roll_that_is_not_reached_leaves_no_rows_and_two_ends() {
    let travel = sweep(&demo(0), 1.4);
    assert!(travel.rows.is_empty());
    assert!(travel.low_end.is_some() && travel.low_end == travel.high_end);
}

#[test]
fn the_nearest_and_the_largest_row_are_found() {
    let travel = sweep(&demo(0), 0.0);
    assert_eq!(
        travel.nearest(-1.0).map(|r| r.height_m),
        travel.rows.first().map(|r| r.height_m)
    );
    assert_eq!(
        travel.nearest(9.0).map(|r| r.height_m),
        travel.rows.last().map(|r| r.height_m)
    );
    let nearest = travel.nearest(0.1501).expect("there are rows").height_m;
    assert!((nearest - 0.1501).abs() <= 0.14 / 60.0 / 2.0, "{nearest}");
    let largest = travel.largest(|r| r.shift_m).expect("there are rows").shift_m.abs();
    assert!(travel.rows.iter().all(|r| r.shift_m.abs() <= largest));
    assert!(Travel::default().nearest(0.1).is_none() && Travel::default().largest(|r| r.shift_m).is_none());
}

/// Shift is of the axle's origin, where the tube meets the centre plane, in frame coordinates.
#[test]
fn shift_and_fore_aft_are_where_the_axle_centre_went() {
    let setup = demo(0);
    let start = at_height(&setup, setup.travel.ride_m).at.to_ground(Point3::origin());
    for row in whole(&setup, 0.03) {
        let went = row.at.to_ground(Point3::origin()) - start;
        near(row.shift_m, went.y, SOLVED);
        near(row.fore_aft_m, went.x, SOLVED);
        near(went.z, setup.travel.ride_m - row.height_m, ROUNDING);
    }
}
