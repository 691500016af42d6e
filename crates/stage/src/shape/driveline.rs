//! The pinion's yoke and the drive shaft.

use super::{Axis, Solid, arc, around, circle, cuboid, cylinder, extrude, held, lathe, weld_ring};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::PI;

/// The pinion's yoke about the universal joint's centre, the shaft coming from -X.
pub(super) fn yoke() -> Solid {
    let hub = [
        Vec2::new(-0.084, 0.0),
        Vec2::new(-0.084, 0.043),
        Vec2::new(-0.080, 0.045),
        Vec2::new(-0.070, 0.045),
        Vec2::new(-0.066, 0.036),
        Vec2::new(-0.052, 0.034),
        Vec2::new(-0.046, 0.031),
        Vec2::new(-0.046, 0.0),
    ];
    let mut outline = arc(Vec2::ZERO, 0.022, -PI / 2.0, PI / 2.0, 14);
    outline.extend([
        Vec2::new(-0.05, 0.030),
        Vec2::new(-0.056, 0.030),
        Vec2::new(-0.056, -0.030),
        Vec2::new(-0.05, -0.030),
    ]);
    let ear = extrude(&outline, &[circle(Vec2::ZERO, 0.0145, 20)], 0.014, 0.0018);
    let ears = ear.translated(Vec3::Z * 0.036).repeated(around(Axis::X, 2, 0.25));
    let foot = cuboid(Vec3::new(0.014, 0.086, 0.05), 0.003).translated(Vec3::X * -0.051);
    let cap = |axis: Vec3| cylinder(axis * -0.041, axis * 0.041, 0.0142, 16);
    let cross = [
        cap(Vec3::Y),
        cap(Vec3::Z),
        cylinder(Vec3::Y * -0.02, Vec3::Y * 0.02, 0.018, 20),
    ];
    Solid::merged(&[lathe(&hub, 24, Axis::X), ears, foot, Solid::merged(&cross)])
}

/// A drive shaft from the centre of its universal joint at the origin to `length` metres along +X, its tube of `radius`.
/// The yoke's ears take the joint's caps along Z, square to those of the pinion's yoke.
#[must_use]
pub fn drive_shaft(length: f32, radius: f32) -> Solid {
    let radius = held(radius, 0.02, 0.12);
    let length = held(length, 0.2, 6.0);
    let neck = [
        Vec2::new(0.042, 0.0),
        Vec2::new(0.042, radius * 0.8),
        Vec2::new(0.056, radius * 0.86),
        Vec2::new(0.075, radius),
        Vec2::new(0.080, radius),
        Vec2::new(0.080, 0.0),
    ];
    let body = [
        Vec2::new(0.079, 0.0),
        Vec2::new(0.079, radius * 0.97),
        Vec2::new(length, radius * 0.97),
        Vec2::new(length, 0.0),
    ];
    let mut outline = arc(Vec2::ZERO, 0.022, PI * 0.5, PI * 1.5, 12);
    outline.extend([Vec2::new(0.052, -0.028), Vec2::new(0.052, 0.028)]);
    let ear = extrude(&outline, &[circle(Vec2::ZERO, 0.0145, 16)], 0.013, 0.0018).translated(Vec3::Z * 0.0345);
    let ears = ear.repeated(around(Axis::X, 2, 0.0));
    Solid::merged(&[
        lathe(&neck, 28, Axis::X),
        lathe(&body, 28, Axis::X),
        ears,
        weld_ring(0.080, radius * 0.99, 0.003),
    ])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_shaft_is_closed_and_as_long_as_asked() {
        let shaft = drive_shaft(1.2, 0.044);
        check::closed(&shaft);
        check::boxed(
            &shaft,
            Vec3::new(-0.022, -0.046, -0.046),
            Vec3::new(1.2, 0.046, 0.046),
            2e-3,
        );
        check::sound(&drive_shaft(-1.0, 1e9));
    }

    #[test]
    fn a_yoke_is_closed() {
        check::closed(&yoke());
    }
}
