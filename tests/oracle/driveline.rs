//! Shafts: angles, slip and unevenness of whole chains of joints, turned one pin after the other by `reference/driveline.py`.

use linkage::Configuration;
use nalgebra::Point3;
use rearend::driveline::ShaftPose;
use rearend::setup::{Driveline, Setup};
use serde::Deserialize;
use shop::demo;

#[derive(Deserialize)]
struct Reference {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    output: [f64; 3],
    output_nose_up: f64,
    output_left: f64,
    carrier: Option<[f64; 3]>,
    phase: f64,
    pinion_angle: f64,
    pinion_length: f64,
    pinion_drop: f64,
    pinion_offset: f64,
    ride: Place,
    poses: Vec<Pose>,
}

#[derive(Deserialize)]
struct Place {
    x: f64,
    y: f64,
    z: f64,
    yaw: f64,
    roll: f64,
    pitch: f64,
}

#[derive(Deserialize)]
struct Pose {
    #[serde(flatten)]
    place: Place,
    angles: Vec<f64>,
    length: f64,
    slip: f64,
    slowest: f64,
    fastest: f64,
}

fn reference() -> Vec<Case> {
    let path = tests::root().join("tests/reference/driveline.json");
    let text = std::fs::read_to_string(path).expect("the reference file is there");
    serde_json::from_str::<Reference>(&text)
        .expect("the reference file reads")
        .cases
}

fn setup(case: &Case) -> Setup {
    let mut setup = demo::ALL[0].setup().expect("a demo scene reads");
    setup.axle.pinion_angle_rad = case.pinion_angle;
    setup.axle.pinion_length_m = case.pinion_length;
    setup.axle.pinion_drop_m = case.pinion_drop;
    setup.axle.pinion_offset_m = case.pinion_offset;
    setup.driveline = Some(Driveline {
        output: Point3::from(case.output),
        output_nose_up_rad: case.output_nose_up,
        output_left_rad: case.output_left,
        carrier: case.carrier.map(Point3::from),
        tube_m: 0.07,
        slip_in_m: 0.05,
        slip_out_m: 0.05,
        phase_rad: case.phase,
        speed: None,
    });
    setup
}

fn configuration(place: &Place) -> Configuration {
    let mut at = Configuration::level_at(place.z);
    (at.origin_in_ground.x, at.origin_in_ground.y) = (place.x, place.y);
    (at.yaw_rad, at.roll_rad, at.pitch_rad) = (place.yaw, place.roll, place.pitch);
    at
}

/// The script's own two solves of the speeds agree to 1e-11; angles and lengths are closed forms there.
#[test]
fn shafts_agree() {
    let cases = reference();
    assert!(cases.len() >= 200, "{}", cases.len());
    assert!(cases.iter().filter(|c| c.carrier.is_some()).count() >= 50);
    assert!(cases.iter().filter(|c| c.phase != 0.0).count() >= 50);
    for (number, case) in cases.iter().enumerate() {
        let (setup, ride) = (setup(case), configuration(&case.ride));
        for pose in &case.poses {
            let shaft = ShaftPose::at(&setup, &ride, &configuration(&pose.place)).expect("a shaft is described");
            let angles: Vec<_> = shaft.joints().map(|(_, angle)| angle).collect();
            assert_eq!(angles.len(), pose.angles.len(), "case {number}");
            let near = |what: &str, found: f64, expected: f64, within: f64| {
                let off = (found - expected).abs();
                assert!(off <= within, "case {number}: {what} {found}, expected {expected}");
            };
            for (found, expected) in angles.iter().zip(&pose.angles) {
                near("angle", *found, *expected, 1e-12);
            }
            near("length", shaft.length_m, pose.length, 1e-12);
            near("slip", shaft.slip_m, pose.slip, 1e-12);
            let cos = shaft.residual_rad.cos();
            near("slowest", cos, pose.slowest, 1e-12);
            near("fastest", 1.0 / cos, pose.fastest, 1e-12);
            near("spread", shaft.non_uniformity, pose.fastest - pose.slowest, 1e-12);
        }
    }
}
