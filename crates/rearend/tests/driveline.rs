//! The shaft: its joints against published values and against joints turned pin by pin; what is found, and that what is offered helps.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[path = "driveline/findings.rs"]
mod findings;
#[path = "driveline/joints.rs"]
mod joints;
#[path = "driveline/remedies.rs"]
mod remedies;
#[path = "driveline/shafts.rs"]
mod shafts;

mod support;

use nalgebra::Vector3;
use rearend::setup::{Driveline, Setup};

/// The shaft's length in [`shafted`], m.
const LENGTH_M: f64 = 1.2;

/// A demo truck with a one-piece shaft in the middle plane. At ride height the front joint works at `front_deg` and the rear one at
/// `rear_deg`, the pinion as it is; equal and opposite where both are alike. There is slip to spare.
fn shafted(which: usize, front_deg: f64, rear_deg: f64) -> Setup {
    let mut setup = support::demo(which);
    let shaft_rad = setup.axle.pinion_angle_rad - rear_deg.to_radians();
    let (up, ahead) = shaft_rad.sin_cos();
    let pinion = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    setup.driveline = Some(Driveline {
        output: pinion + Vector3::new(ahead, 0.0, up) * LENGTH_M,
        output_nose_up_rad: shaft_rad + front_deg.to_radians(),
        output_left_rad: 0.0,
        carrier: None,
        tube_m: 0.07,
        slip_in_m: 0.05,
        slip_out_m: 0.05,
        phase_rad: 0.0,
        speed: None,
    });
    setup
}

/// A demo truck of whose shaft nothing is known.
fn bare() -> Setup {
    let mut setup = support::demo(0);
    setup.driveline = None;
    setup
}

/// The shaft of a truck that has one, to change it.
fn shaft(setup: &mut Setup) -> &mut Driveline {
    setup.driveline.as_mut().expect("it has a shaft")
}

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}
