//! The pinion's yoke, and what a drive shaft is put together from.
//!
//! The frame of a shaft's end: origin in the centre of its universal joint, the shaft leaving along +X, the joint's caps in its
//! ears along Z.

use super::{Axis, Solid, arc, around, circle, cuboid, cylinder, extrude, held, lathe, weld_ring};
use bevy::math::{Affine3A, Mat3A, Vec2, Vec3, Vec3A};
use std::f32::consts::PI;

/// Where a shaft's tube begins behind its ears.
pub const SHAFT_END_M: f32 = 0.080;
/// Where the sleeve of a slip yoke begins.
pub const SLEEVE_START_M: f32 = 0.060;
/// From the end of the tube to where the splines begin.
pub const SPLINE_NECK_M: f32 = 0.050;
/// Radius over the splines.
const SPLINE_RADIUS_M: f32 = 0.0205;

/// A yoke about the universal joint's centre, its hub at -X, the joint's caps along Y.
#[must_use]
pub fn yoke() -> Solid {
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
    Solid::merged(&[lathe(&hub, 24, Axis::X), ears, foot])
}

/// The cross of a universal joint with its caps along Y and Z.
#[must_use]
pub fn joint_cross() -> Solid {
    let cap = |axis: Vec3| cylinder(axis * -0.041, axis * 0.041, 0.0142, 16);
    let body = cylinder(Vec3::Y * -0.02, Vec3::Y * 0.02, 0.018, 20);
    Solid::merged(&[cap(Vec3::Y), cap(Vec3::Z), body])
}

/// The two ears of a shaft's end.
fn ears() -> Solid {
    let mut outline = arc(Vec2::ZERO, 0.022, PI * 0.5, PI * 1.5, 12);
    outline.extend([Vec2::new(0.052, -0.028), Vec2::new(0.052, 0.028)]);
    let ear = extrude(&outline, &[circle(Vec2::ZERO, 0.0145, 16)], 0.013, 0.0018).translated(Vec3::Z * 0.0345);
    ear.repeated(around(Axis::X, 2, 0.0))
}

/// The end that is welded to a shaft's tube of `radius`; the tube begins at [`SHAFT_END_M`].
#[must_use]
pub fn shaft_end(radius: f32) -> Solid {
    let radius = shaft_radius(radius);
    let neck = [
        Vec2::new(0.042, 0.0),
        Vec2::new(0.042, radius.clamp(0.034, 0.044)),
        Vec2::new(0.056, radius.clamp(0.036, 0.050)),
        Vec2::new(0.075, radius),
        Vec2::new(SHAFT_END_M, radius),
        Vec2::new(SHAFT_END_M, 0.0),
    ];
    let bead = weld_ring(SHAFT_END_M, radius * 0.99, 0.003);
    Solid::merged(&[lathe(&neck, 28, Axis::X), ears(), bead])
}

fn shaft_radius(radius: f32) -> f32 {
    held(radius, 0.02, 0.12)
}

/// The end whose sleeve, `length` metres long from [`SLEEVE_START_M`] on, slides on the splines.
#[must_use]
pub fn slip_yoke(length: f32) -> Solid {
    let end = SLEEVE_START_M + held(length, 0.03, 1.0);
    let bore = SPLINE_RADIUS_M * 1.02;
    let p = Vec2::new;
    let sleeve = [
        p(0.042, 0.0),
        p(0.042, 0.036),
        p(0.052, 0.035),
        p(SLEEVE_START_M + 0.006, 0.029),
        p(end - 0.020, 0.028),
        p(end - 0.018, 0.032),
        p(end - 0.002, 0.032),
        p(end, 0.030),
        p(end, bore),
        p(end - 0.012, bore),
        p(end - 0.012, 0.0),
    ];
    Solid::merged(&[lathe(&sleeve, 28, Axis::X), ears()])
}

/// The end of a shaft's tube of `radius` that carries the splines: from the origin to [`SPLINE_NECK_M`] along +X.
#[must_use]
pub fn spline_neck(radius: f32) -> Solid {
    let radius = shaft_radius(radius);
    let p = Vec2::new;
    let profile = [
        p(0.0, 0.0),
        p(0.0, radius),
        p(0.006, radius),
        p(0.024, (radius * 0.72).max(0.026)),
        p(0.036, 0.026),
        p(SPLINE_NECK_M, 0.0235),
        p(SPLINE_NECK_M, 0.0),
    ];
    Solid::merged(&[lathe(&profile, 28, Axis::X), weld_ring(0.0, radius * 0.99, 0.003)])
}

/// Splines along X from 0 to 1, to be scaled to their length.
#[must_use]
pub fn splines() -> Solid {
    let teeth = 18;
    let outline: Vec<Vec2> = (0..teeth * 4)
        .map(|step| {
            let low = matches!(step % 4, 2 | 3);
            let radius = SPLINE_RADIUS_M * if low { 0.87 } else { 1.0 };
            Vec2::from_angle(step as f32 / (teeth * 4) as f32 * PI * 2.0) * radius
        })
        .collect();
    let bar = extrude(&outline, &[], 1.0, 0.0).translated(Vec3::Z * 0.5);
    bar.transformed(Affine3A {
        matrix3: Mat3A::from_cols(Vec3A::Y, Vec3A::Z, Vec3A::X),
        translation: Vec3A::ZERO,
    })
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn ends_of_shafts_are_closed_and_have_their_size() {
        let end = shaft_end(0.044);
        check::closed(&end);
        check::boxed(
            &end,
            Vec3::new(-0.022, -0.047, -0.047),
            Vec3::new(0.083, 0.047, 0.047),
            3e-3,
        );
        let slip = slip_yoke(0.12);
        check::closed(&slip);
        assert!((slip.bounds().1.x - SLEEVE_START_M - 0.12).abs() < 1e-5);
        check::closed(&spline_neck(0.044));
        let bar = splines();
        check::closed(&bar);
        check::boxed(
            &bar,
            Vec3::new(0.0, -0.0205, -0.0205),
            Vec3::new(1.0, 0.0205, 0.0205),
            1e-3,
        );
    }

    #[test]
    fn a_joint_is_closed() {
        check::closed(&yoke());
        check::closed(&joint_cross());
    }

    #[test]
    fn silly_shafts_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::NAN] {
            check::sound(&shaft_end(size));
            check::sound(&slip_yoke(size));
            check::sound(&spline_neck(size));
        }
    }
}
