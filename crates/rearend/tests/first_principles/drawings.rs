//! Drawings that are easy to work out by hand. Both ends of a bar are given as they stand at ride height, measured in the frame's
//! directions from the axle centre.

use nalgebra::{Point3, Vector3};
use rearend::mechanism::RearEnd;
use rearend::setup::{Bar, Role, Setup};
use rearend::travel::Row;

use crate::support::{PANHARD, demo};

/// The truck of the first demo, its axle held by nothing.
pub fn bare() -> Setup {
    let mut setup = demo(0);
    assert_eq!(setup.bars[PANHARD].role, Role::Sideways);
    setup.bars.clear();
    setup
}

/// Height of the axle centre at ride height, frame coordinates.
pub fn axle_z_m(setup: &Setup) -> f64 {
    setup.wheels.loaded_radius_m - setup.travel.ride_m
}

pub fn add(setup: &mut Setup, name: &str, role: Role, frame: [f64; 3], axle: [f64; 3]) {
    let up = Vector3::z() * axle_z_m(setup);
    let bar = Bar::new(name, role, Point3::from(frame) + up, Point3::from(axle));
    setup.bars.push(bar);
}

pub fn add_pair(setup: &mut Setup, name: &str, role: Role, frame: [f64; 3], axle: [f64; 3]) {
    add(setup, name, role, frame, axle);
    if let Some(bar) = setup.bars.last_mut() {
        bar.mirrored = true;
    }
}

/// Two level lower bars and a level upper one on the centre plane: without a bar across, nothing but level pulls.
pub fn level_three_link() -> Setup {
    let mut setup = bare();
    add_pair(
        &mut setup,
        "lower bar",
        Role::Lower,
        [0.6, 0.45, -0.08],
        [0.0, 0.45, -0.08],
    );
    add(&mut setup, "upper bar", Role::Upper, [0.5, 0.0, 0.16], [0.0, 0.0, 0.16]);
    setup
}

pub fn compile(setup: &Setup) -> RearEnd {
    RearEnd::compile(setup).expect("the drawing compiles")
}

pub fn at_ride(setup: &Setup) -> Row {
    Row::at_ride(setup, &compile(setup))
}
