//! The shaft of a truck through its travel.

use nalgebra::{Point3, Vector3};
use rearend::answers::Answers;
use rearend::driveline::speed::{road_m_per_s, rpm, shaft_rad_per_s};
use rearend::driveline::{JointAt, ShaftPose};
use rearend::setup::{Setup, ShaftSpeed};
use rearend::travel::Row;

use super::{LENGTH_M, bare, near, shaft, shafted};

fn rows(setup: &Setup) -> Vec<Row> {
    Answers::of(setup).level_rows().to_vec()
}

fn at_ride(setup: &Setup) -> Option<ShaftPose> {
    ShaftPose::at(setup, &setup.drawn(), &setup.drawn())
}

#[test]
fn no_shaft_is_made_up() {
    assert_eq!(at_ride(&bare()), None);
    assert!(rows(&bare()).iter().all(|row| row.shaft.is_none()));
}

#[test]
fn at_ride_height_it_is_as_drawn() {
    let shaft = at_ride(&shafted(0, 2.0, 1.5)).expect("a shaft");
    near(shaft.front_joint_rad.to_degrees(), 2.0, 1e-9);
    near(shaft.rear_joint_rad.to_degrees(), 1.5, 1e-9);
    near(shaft.length_m, LENGTH_M, 1e-12);
    assert_eq!((shaft.slip_m, shaft.carrier_joint_rad), (0.0, None));
    // Closed form of two joints in one plane.
    let cos = 2_f64.to_radians().cos() / 1.5_f64.to_radians().cos();
    near(shaft.residual_rad, cos.acos(), 1e-7);
    near(shaft.non_uniformity, 1.0 / cos - cos, 1e-9);
}

/// Equal parallel bars keep the pinion parallel to the output, so that both joints work at the shaft's own slope against them, and the
/// joint at the pinion goes where the axle's middle goes.
#[test]
fn parallel_bars_keep_both_joints_alike_through_the_travel() {
    let setup = shafted(0, 2.0, 2.0);
    let output = setup.driveline.as_ref().expect("a shaft").output;
    let from_axle = setup.pinion_joint_in_axle().coords;
    let along = Vector3::new(
        setup.axle.pinion_angle_rad.cos(),
        0.0,
        setup.axle.pinion_angle_rad.sin(),
    );
    let rows = rows(&setup);
    assert!(rows.len() > 50);
    for row in &rows {
        let shaft = row.shaft.expect("a shaft");
        let run = output - (row.at.origin_in_ground + from_axle);
        near(shaft.length_m, run.norm(), 1e-8);
        near(shaft.slip_m, run.norm() - LENGTH_M, 1e-8);
        let cos = run.dot(&along) / run.norm();
        near(shaft.front_joint_rad.cos(), cos, 1e-8);
        near(shaft.rear_joint_rad.cos(), cos, 1e-8);
        near(shaft.residual_rad, 0.0, 1e-4);
    }
    let [low, high] = [rows[0], rows[rows.len() - 1]].map(|row| row.shaft.expect("a shaft").front_joint_rad);
    assert!(
        (low - high).abs() > 0.01,
        "the joints do bend on the way: {low} to {high}"
    );
}

/// Front piece and output stay with the frame; the rear piece alone slides.
#[test]
fn a_carrier_bearing_keeps_the_front_joint_as_it_is() {
    let mut setup = shafted(0, 2.0, 2.0);
    let carrier = Point3::new(0.9, 0.0, 0.22);
    shaft(&mut setup).carrier = Some(carrier);
    let ride = setup.drawn();
    let front = at_ride(&setup).expect("a shaft").front_joint_rad;
    for rise_mm in -80..=60 {
        let mut at = ride;
        at.origin_in_ground.z += f64::from(rise_mm) / 1e3;
        let shaft = ShaftPose::at(&setup, &ride, &at).expect("a shaft");
        near(shaft.front_joint_rad, front, 1e-15);
        let length_m = (carrier - at.to_ground(setup.pinion_joint_in_axle())).norm();
        near(shaft.length_m, length_m, 1e-12);
        let joints: Vec<_> = shaft.joints().map(|(joint, _)| joint).collect();
        assert_eq!(joints, [JointAt::Front, JointAt::Carrier, JointAt::Rear]);
        // In one plane: cos b1 cos b3 / cos b2.
        let carrier_rad = shaft.carrier_joint_rad.expect("three joints");
        let ratio = shaft.front_joint_rad.cos() * shaft.rear_joint_rad.cos() / carrier_rad.cos();
        near(shaft.residual_rad.cos(), ratio.min(1.0 / ratio), 1e-12);
    }
}

/// Offset sideways and down, the angle in space is what the makers' chart gives: more than either view's.
#[test]
fn an_output_beside_the_middle_bends_the_joints_sideways_too() {
    let mut setup = shafted(0, 2.5, 2.5);
    let length = |setup: &Setup| setup.driveline.as_ref().expect("a shaft").output.x - 0.3;
    let aside = length(&setup) * 2.15_f64.to_radians().tan();
    shaft(&mut setup).output.y = aside;
    let found = at_ride(&setup).expect("a shaft");
    assert!(found.front_joint_rad.to_degrees() > 3.28 && found.front_joint_rad.to_degrees() < 3.31);
    near(found.residual_rad, 0.0, 1e-7);
}

#[test]
fn joints_on_one_spot_make_no_shaft() {
    let mut setup = shafted(0, 2.0, 2.0);
    shaft(&mut setup).output = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    assert_eq!(at_ride(&setup), None);
}

/// A straight chain has no plane anywhere.
#[test]
fn a_straight_shaft_leaves_nothing() {
    let found = at_ride(&shafted(0, 0.0, 0.0)).expect("a shaft");
    near(found.front_joint_rad, 0.0, 1e-12);
    near(found.residual_rad, 0.0, 1e-7);
    assert!(found.non_uniformity.abs() < 1e-12);
}

/// Definition: a kilometre is so many turns of the wheel, each so many of the shaft.
#[test]
fn a_wheel_of_a_metre_round_turns_a_shaft_of_4_to_1_2400_times_a_minute_at_36_km_per_h() {
    let mut setup = shafted(0, 2.0, 2.0);
    setup.wheels.loaded_radius_m = 1.0 / std::f64::consts::TAU;
    let speed = ShaftSpeed {
        axle_ratio: 4.0,
        fastest_m_per_s: 10.0,
    };
    let shaft = shaft_rad_per_s(&setup, &speed);
    near(rpm(shaft), 2400.0, 1e-9);
    near(road_m_per_s(&setup, &speed, shaft), 10.0, 1e-12);
}
