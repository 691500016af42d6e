//! How much an arm's eye gives: beams, trusses and bushes by hand, in newtons and millimetres.

use nalgebra::{Point3, Vector3};
use rearend::setup::{Arm, ArmKind, Bolt, Joint, JointKind, Setup};

use crate::drawings::{bare, compile};
use crate::near;

/// Steel, N/mm^2.
const E: f64 = 207_000.0;

fn arm(kind: ArmKind, tube_mm: f64, bolt: Bolt) -> Arm {
    Arm {
        name: "arm".to_owned(),
        kind,
        eye_in_frame: Point3::new(1.2, 0.3, 0.168),
        mount_in_axle: Point3::new(0.0, 0.3, 0.0),
        mirrored: true,
        tube_m: tube_mm / 1e3,
        spread_m: 0.2,
        eye: Joint {
            bolt,
            stiffness_n_per_m: Some(9e6),
            ..Joint::of(JointKind::Rubber)
        },
        frame_holes: None,
        axle_holes: None,
        frame_locked: false,
        axle_locked: false,
    }
}

/// Two springs one behind the other.
fn in_series(a: f64, b: f64) -> f64 {
    a * b / (a + b)
}

/// Sideways, lengthwise, upright, N/mm: a box beam 75 high, 45 wide, walls of 5, clamped at the axle and pushed at its eye 1200 ahead.
///
/// Second moments `(75 45^3 - 65 35^3) / 12` and `(45 75^3 - 35 65^3) / 12`, section `75 45 - 65 35`.
fn truck_arm() -> [f64; 3] {
    let (aside, upright, section) = (4_047_500.0 / 12.0, 9_372_500.0 / 12.0, 1_100.0);
    let length: f64 = 1200.0;
    let bends = |second_moment: f64| 3.0 * E * second_moment / length.powi(3);
    [bends(aside), E * section / length, bends(upright)]
}

/// Two tubes of 40 outside and 30 inside, from the eye to 100 above and 100 below the axle tube, 1200 behind: upright one is pulled and the other
/// pushed, each by its share along its slope; aside both bend.
fn ladder_bar() -> [f64; 3] {
    let length: f64 = 1200.0;
    let section = std::f64::consts::PI * (20f64.powi(2) - 15f64.powi(2));
    let second_moment = std::f64::consts::FRAC_PI_4 * (20f64.powi(4) - 15f64.powi(4));
    let slope = 100.0 / length;
    [
        2.0 * 3.0 * E * second_moment / length.powi(3),
        2.0 * E * section / length,
        2.0 * E * section / length * slope * slope,
    ]
}

/// The bush: square to its bolt as given, along it a tenth.
const BUSH: [f64; 3] = [900.0, 9000.0, 9000.0];

#[test]
fn an_eye_gives_as_its_arm_and_its_bush_do_one_behind_the_other() {
    for (kind, tube_mm, by_hand) in [
        (ArmKind::TruckArm, 75.0, truck_arm()),
        (ArmKind::LadderBar, 40.0, ladder_bar()),
    ] {
        let found = arm(kind, tube_mm, Bolt::Square).eye_stiffness_n_per_m(1.2);
        for i in 0..3 {
            let expected = in_series(by_hand[i], BUSH[i]) * 1e3;
            near(found[i], expected, 1e-9 * expected);
        }
    }
}

fn hung(arm: Arm) -> Setup {
    let mut setup = bare();
    setup.arms = vec![arm];
    setup
}

/// An arm straight ahead and level, its bolt across: what pushes its eye aside, ahead or up meets these stiffnesses and no others.
#[test]
fn a_compiled_eye_is_as_stiff_aside_ahead_and_up_as_its_arm() {
    for (kind, tube_mm, by_hand) in [
        (ArmKind::TruckArm, 75.0, truck_arm()),
        (ArmKind::LadderBar, 40.0, ladder_bar()),
    ] {
        for bolt in [Bolt::Square, Bolt::Across] {
            let rear_end = compile(&hung(arm(kind, tube_mm, bolt)));
            assert_eq!(rear_end.mechanism.joints().len(), 2);
            for joint in rear_end.mechanism.joints() {
                let along = joint.directions.transpose();
                for (i, push) in [Vector3::y(), Vector3::x(), Vector3::z()].into_iter().enumerate() {
                    let shares = along * push;
                    let met = shares.component_mul(&joint.stiffness_n_per_m).dot(&shares);
                    let expected = in_series(by_hand[i], BUSH[i]) * 1e3;
                    near(met, expected, 1e-9 * expected);
                }
            }
        }
    }
}

/// A beam meets its axle in one place, a ladder bar in two.
#[test]
fn a_ladder_bar_meets_the_axle_half_its_spread_above_and_below() {
    let [above, below] = arm(ArmKind::LadderBar, 40.0, Bolt::Square).axle_mounts();
    assert_eq!(
        (above, below),
        (Point3::new(0.0, 0.3, 0.1), Point3::new(0.0, 0.3, -0.1))
    );
    let [above, below] = arm(ArmKind::TruckArm, 75.0, Bolt::Square).axle_mounts();
    assert_eq!(above, below);
}
