use rearend::setup::SpringKind;
use rearend::springs::{Reach, SideSpring, compare_holes};
use rearend::travel::{Row, pose as pose_at};

use crate::near;
use crate::support::PANHARD;
use crate::trucks::{RADIUS_M, coilover, on_a_circle, on_bags, on_coilovers, pose, side, springs, swept};

/// Motion ratio and wheel rate against length and wheel force of poses solved a millimetre apart: cut to suit, crank, angled bars; level and
/// rolled. Poses close to a tenth of a nanometre, so that a difference over two millimetres is good to 1e-7.
#[test]
fn motion_ratio_and_wheel_rate_are_the_slopes_of_length_and_wheel_force() {
    for which in 0..3 {
        for roll_rad in [0.0, 0.04] {
            let mut setup = on_coilovers(which);
            // Long enough to be within reach wherever the spring goes.
            if let Some(springs) = &mut setup.springs
                && let SpringKind::Coilover(c) = &mut springs.kind
            {
                (c.collapsed_m, c.extended_m) = (0.1, 0.7);
            }
            let (rear_end, travel) = swept(&setup, roll_rad);
            for row in travel.rows[1..60].iter().step_by(7) {
                let step = 1e-3;
                let beside = |rise: f64| {
                    pose_at(&setup, &rear_end, &travel, row.height_m - rise, roll_rad).expect("the height is reached")
                };
                let rows: [Row; 4] = [2.0 * step, step, -step, -2.0 * step].map(beside);
                // Richardson: the error of the difference falls with the fourth power.
                let slope = |of: &dyn Fn(&SideSpring) -> f64, left: bool| {
                    let v = rows.each_ref().map(|r| of(&side(r, left)));
                    (8.0 * (v[1] - v[2]) - (v[0] - v[3])) / (12.0 * step)
                };
                for left in [true, false] {
                    let spring = side(row, left);
                    near(spring.motion_ratio, -slope(&|s| s.length_m, left), 1e-7);
                    near(spring.motion_ratio_per_m, slope(&|s| s.motion_ratio, left), 1e-5);
                    let load = spring.load.expect("it carries");
                    let wheel = |s: &SideSpring| s.load.expect("it carries").wheel_force_n;
                    near(load.wheel_rate_n_per_m, slope(&wheel, left), 0.1);
                }
            }
        }
    }
}

/// The axle goes on a circle, so that the length of the spring is a root of two squares.
#[test]
fn an_axle_on_a_circle_moves_its_springs_by_the_closed_form() {
    let mut setup = on_a_circle();
    let up = setup.axle_z_m(setup.travel.ride_m);
    let (top, hole) = ([0.03, 0.30, 0.45 + up], [0.11, 0.40, 0.05]);
    setup.springs = Some(springs(SpringKind::Coilover(coilover()), top, hole));
    let (_, travel) = swept(&setup, 0.0);
    for row in &travel.rows {
        let z = setup.travel.ride_m - row.height_m;
        let root = (RADIUS_M * RADIUS_M - z * z).sqrt();
        // The line from the upper mount to the lower one, and its first two derivatives by the rise.
        let (dx, dy, dz) = (0.11 + RADIUS_M - root - 0.03, 0.10, 0.05 + z - 0.45);
        let (vx, ax) = (z / root, RADIUS_M * RADIUS_M / root.powi(3));
        let length = (dx * dx + dy * dy + dz * dz).sqrt();
        let slope = (dx * vx + dz) / length;
        let bend = (vx * vx + 1.0 + dx * ax - slope * slope) / length;
        for spring in pose(row).sides() {
            near(spring.length_m, length, 1e-9);
            near(spring.motion_ratio, -slope, 1e-9);
            near(spring.motion_ratio_per_m, -bend, 1e-5);
        }
    }
}

/// An upright spring over the middle plane of its mounts: rolled about the axle's middle, its foot rises as much less than the wheel as it
/// stands nearer to the middle.
#[test]
fn in_roll_an_upright_spring_moves_by_its_place_along_the_axle() {
    let mut setup = on_a_circle();
    let up = setup.axle_z_m(setup.travel.ride_m);
    setup.springs = Some(springs(
        SpringKind::Coilover(coilover()),
        [0.0, 0.4, 0.36 + up],
        [0.0, 0.4, 0.0],
    ));
    let (rear_end, _) = swept(&setup, 0.0);
    let row = Row::at_ride(&setup, &rear_end);
    for spring in pose(&row).sides() {
        near(spring.motion_ratio, 1.0, 1e-9);
        near(spring.motion_ratio_in_roll, 0.4 / (setup.track_m() / 2.0), 1e-9);
    }
    // Rolled by a little, the length says the same.
    let rolled = |rad: f64| pose_at(&setup, &rear_end, &swept(&setup, 0.0).1, setup.travel.ride_m, rad).expect("rolls");
    let half = setup.track_m() / 2.0;
    let by = 1e-4;
    let [more, less] = [rolled(by), rolled(-by)].map(|row| side(&row, true).length_m);
    near(
        pose(&row).left.motion_ratio_in_roll,
        -(more - less) / (2.0 * by * half),
        1e-7,
    );
}

/// A panhard bar that is level pulls to no side, and both springs move alike; one that slopes takes the axle along, towards one of them.
#[test]
fn a_sloping_panhard_bar_moves_one_spring_more_than_the_other() {
    let mut setup = on_coilovers(0);
    let at_ride = |setup: &rearend::setup::Setup| {
        let (rear_end, _) = swept(setup, 0.0);
        let row = Row::at_ride(setup, &rear_end);
        let [left, right] = pose(&row).sides().map(|s| s.motion_ratio);
        (left - right, row.first.ride_shift)
    };
    let (apart, shift) = at_ride(&setup);
    assert!(shift.abs() > 0.02, "it slopes");
    // Leaning inwards at their tops, the springs lose to a shift what their lean has across: the left one shortens less as it goes away.
    assert!(apart * shift < 0.0, "{apart} {shift}");
    let level_z = setup.bars[PANHARD].mount_in_axle.z + setup.axle_z_m(setup.travel.ride_m);
    setup.bars[PANHARD].mount_in_frame.z = level_z;
    let (apart, shift) = at_ride(&setup);
    near(shift, 0.0, 1e-12);
    near(apart, 0.0, 1e-12);
}

#[test]
fn mounts_are_where_they_are_described_and_the_right_one_is_mirrored() {
    let mut setup = on_coilovers(0);
    let (rear_end, travel) = swept(&setup, 0.03);
    let described = setup.springs.clone().expect("springs");
    for row in &travel.rows {
        let pose = pose(row);
        assert_eq!(pose.left.top, described.mount_in_frame);
        near(pose.right.top.y, -described.mount_in_frame.y, 0.0);
        let hole = described.holes_in_axle[0];
        near((pose.left.bottom - row.at.to_ground(hole)).norm(), 0.0, 1e-12);
        for side in pose.sides() {
            near((side.bottom - side.top).norm(), side.length_m, 1e-12);
        }
        assert!(pose.left.bottom.z > pose.right.bottom.z, "left side up");
    }
    // Described for the other side, it is the same truck.
    if let Some(springs) = &mut setup.springs {
        springs.mount_in_frame.y *= -1.0;
        springs.holes_in_axle[0].y *= -1.0;
    }
    let other = Row::at_ride(&setup, &rear_end);
    assert_eq!(pose(&other), pose(&Row::at_ride(&on_coilovers(0), &rear_end)));
}

#[test]
fn holes_side_by_side_are_what_the_truck_would_do_in_each() {
    for mut setup in [on_coilovers(0), on_bags(1)] {
        if let Some(springs) = &mut setup.springs {
            let first = springs.holes_in_axle[0];
            springs
                .holes_in_axle
                .push(first + nalgebra::Vector3::new(0.0, 0.02, 0.015));
            springs
                .holes_in_axle
                .push(first + nalgebra::Vector3::new(0.0, 0.04, 0.0));
            springs.hole = 1;
        }
        let (rear_end, travel) = swept(&setup, 0.0);
        let figures = compare_holes(&setup, &rear_end, &travel);
        assert_eq!(figures.len(), 3);
        for (hole, figure) in figures.iter().enumerate() {
            assert_eq!((figure.hole, figure.in_use), (hole, hole == 1));
            let mut bolted = setup.clone();
            if let Some(springs) = &mut bolted.springs {
                springs.hole = hole;
            }
            if let (Some(preload_m), Some(springs)) = (figure.preload_m, &mut bolted.springs)
                && let SpringKind::Coilover(c) = &mut springs.kind
            {
                c.preload_m = preload_m;
            }
            let (rear_end, travel) = swept(&bolted, 0.0);
            let both = pose(&Row::at_ride(&bolted, &rear_end));
            let carried = both.sides().map(|s| s.load.expect("it carries").wheel_force_n);
            near(carried[0] + carried[1], 2.0 * 420.0 * 9.806_65, 1e-6);
            let ride = both.left;
            let ends = [pose(&travel.rows[0]).left, ride, pose(&travel.rows[60]).left];
            for (i, end) in ends.iter().enumerate() {
                near(figure.lengths_m[i].expect("reached"), end.length_m, 1e-12);
                assert_eq!(figure.reaches[i], Some(end.reach));
            }
            near(figure.motion_ratio, ride.motion_ratio, 1e-12);
            assert_eq!(ride.reach, Reach::Within);
            let load = ride.load.expect("it carries");
            assert_eq!(figure.pressure_pa, load.pressure_pa);
            near(
                figure.wheel_rate_n_per_m.expect("it carries"),
                load.wheel_rate_n_per_m,
                1e-6,
            );
            near(
                figure.frequency_hz.expect("it bounces"),
                load.frequency_hz.expect("it bounces"),
                1e-9,
            );
        }
    }
}
