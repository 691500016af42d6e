//! Bars of given length put the axle where plane geometry puts it.

use nalgebra::{Point3, Vector2};
use rearend::answers::Answers;
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, BarId, Length, Placement, Role, Setup, Side};
use rearend::square::{MARKS_AHEAD_M, Stance};

use crate::drawings::{add, add_pair, at_ride, axle_z_m, bare, compile};
use crate::near;
use crate::support::demo;

/// A three-link with its lower bars on the tube's axis, so that the axle centre itself goes on their arc. No bar across: everything lies in
/// planes that run straight ahead, and nothing pushes the axle out of them.
fn planar_three_link(lower_rise: f64, upper_rise: f64) -> Setup {
    let mut setup = bare();
    add_pair(
        &mut setup,
        "lower bar",
        Role::Lower,
        [0.6, 0.45, -lower_rise],
        [0.0, 0.45, 0.0],
    );
    add(
        &mut setup,
        "upper bar",
        Role::Upper,
        [0.5, 0.0, 0.16 - upper_rise],
        [0.0, 0.0, 0.16],
    );
    setup
}

/// Upper bars angled in plan: they act as long as they look from the side.
fn angled_four_link(lower_rise: f64, upper_rise: f64) -> Setup {
    let mut setup = planar_three_link(lower_rise, upper_rise);
    setup.bars.pop();
    add_pair(
        &mut setup,
        "upper bar",
        Role::Upper,
        [0.5, 0.38, 0.16 - upper_rise],
        [0.0, 0.1, 0.16],
    );
    setup
}

fn lengthen(setup: &mut Setup, bar: usize, by_m: f64) {
    let length_m = compile(setup)
        .length_m(Part::Bar(BarId(bar), Side::Drawn))
        .expect("the bar is there");
    setup.bars[bar].length = Length::AsBuilt(AsBuilt::of_length(length_m + by_m));
}

/// The planar four-bar with its lower bars `by_m` longer: fore-aft, and turn with the nose up. The axle centre stays at its height on the lower
/// bars' circle; the triangle from there to the upper joint and the upper frame mount gives the turn by the law of cosines.
fn four_bar(setup: &Setup, by_m: f64) -> (f64, f64) {
    let flat = |p: Point3<f64>| Vector2::new(p.x, p.z);
    let centre = Vector2::new(0.0, axle_z_m(setup));
    let (lower, upper) = (flat(setup.bars[0].mount_in_frame), flat(setup.bars[1].mount_in_frame));
    let joint = flat(setup.bars[1].mount_in_axle);
    let length = (lower - centre).norm();
    let seen = compile(setup)
        .length_m(Part::Bar(BarId(0), Side::Drawn))
        .expect("it is there");
    near(length, seen, 1e-12);
    let drop = lower.y - centre.y;
    let forward = lower.x - ((length + by_m).powi(2) - drop * drop).sqrt();
    let elevation = |centre: Vector2<f64>| {
        // From the axle centre to the upper frame mount, and from that line up to the joint.
        let away = upper - centre;
        let (arm, bar) = (
            joint.norm(),
            (joint + Vector2::new(0.0, axle_z_m(setup)) - upper).norm(),
        );
        let cos = (arm * arm + away.norm_squared() - bar * bar) / (2.0 * arm * away.norm());
        away.y.atan2(away.x) + cos.acos()
    };
    (forward, elevation(centre + Vector2::x() * forward) - elevation(centre))
}

#[test]
fn equal_lengthening_of_both_lower_bars_turns_the_pinion_as_the_planar_four_bar_does() {
    for drawing in [planar_three_link, angled_four_link] {
        for (lower_rise, upper_rise) in [(0.0, 0.0), (0.05, 0.0), (-0.03, 0.06)] {
            for by_m in [0.003, -0.003, 0.02, -0.035, 0.1, -0.11] {
                let mut setup = drawing(lower_rise, upper_rise);
                let (forward, nose_up) = four_bar(&setup, by_m);
                lengthen(&mut setup, 0, by_m);
                let ride = at_ride(&setup);
                near(ride.at.origin_in_ground.x, forward, 1e-10);
                near(ride.pinion_to_frame_rad - setup.axle.pinion_angle_rad, nose_up, 1e-10);
                assert!(
                    nose_up * by_m < 0.0,
                    "longer lower bars push the axle back below: nose down"
                );
                for still in [ride.at.origin_in_ground.y, ride.at.yaw_rad, ride.misfit_m] {
                    near(still, 0.0, 1e-10);
                }
            }
        }
    }
}

/// Left and right lower bar level on the tube's axis, an upper bar above the middle, and a bar across behind the axle, all level.
fn square_three_link() -> Setup {
    let mut setup = bare();
    add(&mut setup, "left bar", Role::Lower, [0.6, 0.45, 0.0], [0.0, 0.45, 0.0]);
    add(&mut setup, "upper bar", Role::Upper, [0.5, 0.0, 0.16], [0.0, 0.0, 0.16]);
    add(
        &mut setup,
        "right bar",
        Role::Lower,
        [0.6, -0.45, 0.0],
        [0.0, -0.45, 0.0],
    );
    add(
        &mut setup,
        "panhard bar",
        Role::Sideways,
        [-0.2, 0.4, 0.05],
        [-0.2, -0.4, 0.05],
    );
    setup
}

/// In plan the axle turns about the right bar's joint: by `d / (2 y)`, its centre half of `d` back. The upper bar holds the housing 160 mm up,
/// which turns it nose down by half of `d` over that, and the bar across holds the axle 200 mm behind, where the turn would take it aside.
/// The second order is the square of the change over the lengths it is held by.
#[test]
fn one_longer_lower_bar_steers_the_axle_as_plane_geometry_says() {
    let (half_m, above_m, behind_m) = (0.45, 0.16, 0.2);
    for (bar, hand) in [(0, 1.0), (2, -1.0)] {
        let mut turned_off = Vec::new();
        for d in [0.0005, 0.00025, 0.008, -0.004] {
            let mut setup = square_three_link();
            lengthen(&mut setup, bar, d);
            let at = at_ride(&setup).at;
            let steer = hand * d / (2.0 * half_m);
            let off = [
                at.yaw_rad - steer,
                at.origin_in_ground.x + d / 2.0,
                -at.pitch_rad + d / (2.0 * above_m),
                at.origin_in_ground.y - steer * behind_m,
            ];
            // Curvatures: a bar's arc 1/L aside, a turned arm's fall; none is more than 1 over the shortest length there is.
            let second_order = d * d / above_m / above_m;
            for (which, off) in off.iter().enumerate() {
                assert!(
                    off.abs() <= second_order,
                    "{bar} by {d}: number {which} is off by {off}"
                );
            }
            turned_off.push(off[2]);
        }
        near(turned_off[0] / turned_off[1], 4.0, 0.4);
    }
}

/// Plane geometry of the cross-measurements: both ends of the tube in plan, and as far below the rails as the axle stands.
#[test]
fn stance_is_what_a_tape_finds_on_an_axle_drawn_aside_and_turned() {
    let places = [
        (0.0, 0.0, 0.0, 0.0),
        (0.012, 0.0, 0.0, 0.0),
        (0.0, 0.007, 0.0, 0.0),
        (0.0, 0.0, 0.01, 0.0),
        (-0.006, 0.004, -0.02, 0.03),
    ];
    for (forward_m, left_m, steer_rad, nose_up_rad) in places {
        let mut setup = demo(1);
        setup.placement = Placement {
            forward_m,
            left_m,
            steer_rad,
            nose_up_rad,
            crank_rad: 0.0,
        };
        let found = Stance::of(&setup, &at_ride(&setup));
        // From the file: flanges 1480, rails 838, pinion 3 degrees, tyre 255 wide with 140 of backspacing, radius 334 at ride height 110.
        let (half_axle, half_rails, below) = (0.740, 0.419, 0.334 - 0.110);
        let track = 1.480 + 0.255 - 2.0 * 0.140;
        let (sin, cos) = steer_rad.sin_cos();
        let cross = |mark_y: f64, end_y: f64| {
            let ahead = MARKS_AHEAD_M - (forward_m - end_y * sin);
            let aside = mark_y - (left_m + end_y * cos);
            (ahead * ahead + aside * aside + below * below).sqrt()
        };
        near(found.left_to_right_m, cross(half_rails, -half_axle), 1e-12);
        near(found.right_to_left_m, cross(-half_rails, half_axle), 1e-12);
        near(found.out_of_square_m, track * sin, 1e-12);
        near(found.forward_m, forward_m, 1e-12);
        near(found.left_m, left_m, 1e-12);
        // From the side, what the pinion reaches ahead looks shorter for being turned away.
        let nose = 3f64.to_radians() + nose_up_rad;
        near(found.pinion_rad, (nose.tan() / cos).atan(), 1e-12);
        let longer = found.left_to_right_m > found.right_to_left_m + 1e-9;
        let right_end_farther_back_or_aside = steer_rad < 0.0 || left_m < 0.0;
        if steer_rad * left_m == 0.0 {
            assert_eq!(longer, right_end_farther_back_or_aside, "{found:?}");
        }
        near(
            found.cross_difference_m(),
            found.left_to_right_m - found.right_to_left_m,
            0.0,
        );
    }
}

/// The table says of each adjuster what two setups, compiled one by one with bars cut that much longer, differ by.
#[test]
fn the_table_of_turns_is_the_difference_of_two_setups() {
    let mut crooked = square_three_link();
    for (bar, by_m) in [(0, 0.004), (1, -0.003), (3, 0.006)] {
        lengthen(&mut crooked, bar, by_m);
    }
    let mut paired = angled_four_link(0.02, 0.05);
    lengthen(&mut paired, 0, 0.002);
    lengthen(&mut paired, 1, -0.004);
    for (setup, adjusters) in [(crooked, vec![0, 1, 3]), (paired, vec![0, 1])] {
        let solved = Answers::of(&setup).solved.expect("it compiles");
        let listed: Vec<_> = solved.turns.iter().map(|t| t.part).collect();
        let expected = adjusters.iter().map(|&b| Part::Bar(BarId(b), Side::Drawn));
        assert_eq!(listed, expected.collect::<Vec<_>>());
        for (turn, bar) in solved.turns.iter().zip(adjusters) {
            let mut longer = setup.clone();
            lengthen_as_cut(&mut longer, bar, 0.125 * 0.0254);
            let [before, after] = [&setup, &longer].map(at_ride);
            let track = 1.524 + 0.235 - 2.0 * 0.115;
            near(
                turn.out_of_square_m,
                track * (after.at.yaw_rad.sin() - before.at.yaw_rad.sin()),
                1e-10,
            );
            let moved = after.at.origin_in_ground - before.at.origin_in_ground;
            near(turn.forward_m, moved.x, 1e-10);
            near(turn.left_m, moved.y, 1e-10);
            near(
                turn.pinion_rad,
                after.pinion_to_frame_rad - before.pinion_to_frame_rad,
                1e-10,
            );
            let most = [turn.out_of_square_m, turn.left_m, turn.pinion_rad].map(f64::abs);
            assert!(
                most.iter().any(|m| *m > 1e-3),
                "{turn:?}: every bar here does something"
            );
        }
    }
}

/// Another length of steel instead of turns of a thread.
fn lengthen_as_cut(setup: &mut Setup, bar: usize, by_m: f64) {
    let Length::AsBuilt(built) = &mut setup.bars[bar].length else {
        panic!("the bar is as built");
    };
    built.length_m += by_m;
}
