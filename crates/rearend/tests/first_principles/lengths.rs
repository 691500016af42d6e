//! Lengths that are what they would be anyhow change nothing; lengths far off are refused with the bar's name.

use rearend::layouts::Layout;
use rearend::mechanism::{CompileError, RearEnd};
use rearend::setup::{AsBuilt, Length, Role, Setup};
use rearend::travel::{POSES, Travel};

use crate::drawings::{add, add_pair, bare, compile, level_three_link};
use crate::near;
use crate::support::demo;

/// Every length that a setup has, given as built.
fn all_as_built(setup: &Setup) -> Setup {
    let rear_end = compile(setup);
    let mut built = setup.clone();
    let mut given = 0;
    for (part, length_m) in rear_end.lengths_m() {
        given += usize::from(built.set_length(part, Length::AsBuilt(AsBuilt::of_length(length_m))));
    }
    assert_eq!(given, rear_end.parts.len());
    built
}

/// The contract of the solver.
const SOLVED: f64 = 1e-11;

#[test]
fn lengths_that_are_cut_to_suit_anyhow_change_nothing() {
    for layout in Layout::ALL {
        for truck in 0..3 {
            let setup = layout.hang(&demo(truck));
            let built = all_as_built(&setup);
            let (suited, fitted) = (compile(&setup), compile(&built));
            let poses = |setup: &Setup, rear_end: &RearEnd| {
                let roll = setup.travel.one_wheel_up_rad;
                let mut rows = Travel::sweep(setup, rear_end, 0.0, POSES).rows;
                rows.extend(Travel::sweep(setup, rear_end, roll, 7).rows);
                rows
            };
            near(
                (fitted.ride.origin_in_ground - suited.ride.origin_in_ground).norm(),
                0.0,
                SOLVED,
            );
            let (a, b) = (poses(&setup, &suited), poses(&built, &fitted));
            assert_eq!(a.len(), b.len());
            for (a, b) in a.iter().zip(&b) {
                near((a.at.origin_in_ground - b.at.origin_in_ground).norm(), 0.0, SOLVED);
                let turned = [
                    a.at.yaw_rad - b.at.yaw_rad,
                    a.at.pitch_rad - b.at.pitch_rad,
                    a.at.crank_rad[0] - b.at.crank_rad[0],
                    a.misfit_m - b.misfit_m,
                ];
                for off in turned {
                    near(off, 0.0, SOLVED);
                }
            }
        }
    }
}

#[track_caller]
fn does_not_fit(mut setup: Setup, bar: usize, length_m: f64) {
    setup.bars[bar].length = Length::AsBuilt(AsBuilt::of_length(length_m));
    let wanted = setup.bars[bar].name.clone();
    match RearEnd::compile(&setup) {
        Err(CompileError::DoesNotFit { name }) => {
            let sides = [wanted.clone(), format!("left {wanted}"), format!("right {wanted}")];
            assert!(sides.contains(&name), "at {length_m}: {name} instead of {wanted}");
        }
        other => panic!("{wanted} at {length_m}: {:?}", other.map(|r| r.ride)),
    }
}

/// The ends of a panhard bar across the axle line keep their difference in height, the axle's height and roll being given: 150 mm here.
#[test]
fn a_panhard_bar_shorter_than_its_ends_stand_apart_in_height_does_not_fit() {
    for length_m in [0.149, 0.12, 0.05] {
        let mut setup = level_three_link();
        add(
            &mut setup,
            "panhard bar",
            Role::Sideways,
            [0.0, 0.4, 0.2],
            [0.0, -0.3, 0.05],
        );
        does_not_fit(setup, 2, length_m);
    }
}

/// So do those of lower bars on the tube's axis: 200 mm. The upper bar's joint, 300 mm above it, reaches its bar all the way there.
#[test]
fn lower_bars_shorter_than_their_ends_stand_apart_in_height_do_not_fit() {
    for length_m in [0.199, 0.15] {
        let mut setup = bare();
        add_pair(
            &mut setup,
            "lower bar",
            Role::Lower,
            [0.2, 0.45, -0.2],
            [0.0, 0.45, 0.0],
        );
        add(&mut setup, "upper bar", Role::Upper, [0.5, 0.0, 0.3], [0.0, 0.0, 0.3]);
        does_not_fit(setup, 0, length_m);
    }
}

/// The joint of an upper bar goes on a circle of 160 mm about the axle centre, which the lower bars hold 525 mm from its frame mount: nearer
/// than 365 mm, or farther than 685, it cannot come.
#[test]
fn an_upper_bar_that_does_not_reach_the_circle_of_its_joint_does_not_fit() {
    for length_m in [0.36, 0.2, 0.69, 0.9] {
        let mut setup = bare();
        add_pair(&mut setup, "lower bar", Role::Lower, [0.6, 0.45, 0.0], [0.0, 0.45, 0.0]);
        add(&mut setup, "upper bar", Role::Upper, [0.5, 0.0, 0.16], [0.0, 0.0, 0.16]);
        does_not_fit(setup, 1, length_m);
    }
}

/// Four bars for three ways to move: each gives a quarter of what one is too short, far more than a twentieth of its length.
#[test]
fn one_of_four_parallel_bars_far_too_short_does_not_fit() {
    for (short, length_m) in [(0, 0.3), (1, 0.4), (2, 0.2), (3, 0.35)] {
        let mut setup = bare();
        let corners = [
            ("lower left", 0.45, -0.08),
            ("lower right", -0.45, -0.08),
            ("upper left", 0.45, 0.1),
        ];
        for (name, y, z) in corners.into_iter().chain([("upper right", -0.45, 0.1)]) {
            add(&mut setup, name, Role::Lower, [0.6, y, z], [0.0, y, z]);
        }
        add(
            &mut setup,
            "panhard bar",
            Role::Sideways,
            [-0.2, 0.4, 0.0],
            [-0.2, -0.4, 0.0],
        );
        does_not_fit(setup, short, length_m);
    }
}

/// Both ends of a length no steel has.
#[test]
fn a_length_that_is_none_does_not_fit() {
    for length_m in [0.0, -0.5, f64::NAN, f64::INFINITY] {
        let mut setup = level_three_link();
        add(
            &mut setup,
            "panhard bar",
            Role::Sideways,
            [0.0, 0.4, 0.05],
            [0.0, -0.4, 0.05],
        );
        does_not_fit(setup, 2, length_m);
    }
}
