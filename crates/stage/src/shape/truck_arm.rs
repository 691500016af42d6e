//! Truck arms: a beam that tapers from the axle to its eye, and the clamp that holds it under the tube.

use super::{Axis, Solid, Soup, basis, bolt_circle, circle, cuboid, held, pipe};
use bevy::math::{Affine3A, Vec2, Vec3};
use std::f32::consts::PI;

/// The height of a beam at its eye, in parts of its height at the axle.
const SLIM: f32 = 0.62;
/// The width of a beam in parts of its height.
const WIDE: f32 = 0.6;

/// The width of a truck arm of this height at the axle.
#[must_use]
pub fn truck_arm_width(height: f32) -> f32 {
    held(height, 0.02, 0.4) * WIDE
}

/// A truck arm's beam along X from its eye at 0 to its clamp at 1, to be scaled along X to its length; `height` at the clamp, its
/// web upright. Two channels back to back: flanges above and below, a web between them.
#[must_use]
pub fn truck_arm(height: f32) -> Solid {
    let height = held(height, 0.02, 0.4);
    let wall = height * 0.075;
    let stations = [(0.0, SLIM), (0.12, SLIM), (0.80, 1.0), (1.0, 1.0)];
    let strip = |low: &dyn Fn(f32) -> (f32, f32), wide: &dyn Fn(f32) -> f32| {
        let ring = |(x, size): (f32, f32)| {
            let ((z, top), y) = (low(size), wide(size));
            let break_edge = wall * 0.25;
            [
                (-y, z + break_edge),
                (-y + break_edge, z),
                (y - break_edge, z),
                (y, z + break_edge),
                (y, top - break_edge),
                (y - break_edge, top),
                (-y + break_edge, top),
                (-y, top - break_edge),
            ]
            .map(|(y, z)| Vec3::new(x, y, z))
            .to_vec()
        };
        let mut soup = Soup::default();
        soup.loft(&stations.map(ring));
        soup.outward().solid(24.0)
    };
    let half = |size: f32| height * size * 0.5;
    let flange = |size: f32| height * WIDE * (0.4 + 0.6 * size) * 0.5;
    let bottom = strip(&|size| (-half(size), wall - half(size)), &flange);
    let top = strip(&|size| (half(size) - wall, half(size)), &flange);
    let web = strip(&|size| (wall * 0.5 - half(size), half(size) - wall * 0.5), &|_| {
        wall * 0.8
    });
    Solid::merged(&[bottom, top, web])
}

/// What clamps a truck arm to the axle tube of `tube` radius, in the axle frame: a seat between the two, two bolts bent round the tube,
/// and a plate beyond the beam of `height` whose middle is at `mount`.
#[must_use]
pub fn truck_arm_clamp(mount: Vec3, tube: f32, height: f32) -> Solid {
    let (tube, height) = (held(tube, 0.015, 0.2), held(height, 0.02, 0.4));
    let away = Vec2::new(mount.x, mount.z);
    let distance = held(away.length(), tube * 0.5, 2.0);
    let toward = away.normalize_or(Vec2::NEG_Y);
    // Z away from the tube's axis, through the beam; Y along the tube.
    let out = Vec3::new(toward.x, 0.0, toward.y);
    let y = if mount.y.is_finite() {
        mount.y.clamp(-5.0, 5.0)
    } else {
        0.0
    };
    let frame = basis(Vec3::Y * y, Vec3::Y.cross(out), out);
    let (near, far) = (distance - height * 0.5, distance + height * 0.5);
    let wide = truck_arm_width(height);
    let bolt = 0.007;
    let span = tube + bolt;
    let plate = cuboid(Vec3::new(span * 2.0 + 0.044, wide + 0.062, 0.010), 0.002).translated(Vec3::Z * (far + 0.005));
    let seat_low = tube * 0.72;
    let seat_high = near.max(seat_low + 0.008);
    let seat = cuboid(Vec3::new(tube * 1.5, wide + 0.03, seat_high - seat_low), 0.002)
        .translated(Vec3::Z * (seat_high + seat_low) * 0.5);
    let mut all = Solid::merged(&[plate, seat]);
    for side in [-1.0, 1.0] {
        let at = side * (wide * 0.5 + 0.013);
        let end = far + 0.026;
        let arch = (0..=16).map(|step| {
            let (sin, cos) = (PI * step as f32 / 16.0).sin_cos();
            Vec3::new(-cos * span, at, -sin * span)
        });
        let path: Vec<Vec3> = [Vec3::new(-span, at, end)]
            .into_iter()
            .chain(arch)
            .chain([Vec3::new(span, at, end)])
            .collect();
        all.merge(&pipe(&path, bolt, 10));
        let nut = bolt_circle(Axis::Z, far + 0.010, 0.0, 1, 0.015);
        for leg in [-span, span] {
            all.merge(&nut.translated(Vec3::new(leg, at, 0.0)));
        }
    }
    all.transformed(frame)
}

/// The forged end between a truck arm's beam and the sleeve of its eye: along X from the eye's centre.
#[must_use]
pub fn truck_arm_nose(height: f32, sleeve: f32, reach: f32) -> Solid {
    let height = held(height, 0.02, 0.4);
    let (sleeve, reach) = (held(sleeve, 0.005, 0.2), held(reach, 0.01, 1.0));
    let round = circle(Vec2::ZERO, 1.0, 20);
    let ring = |x: f32, wide: f32, tall: f32| {
        round
            .iter()
            .map(|p| {
                Vec3::new(
                    x,
                    p.x.signum() * p.x.abs().sqrt() * wide,
                    p.y.signum() * p.y.abs().sqrt() * tall,
                )
            })
            .collect::<Vec<_>>()
    };
    let (wide, tall) = (height * WIDE * (0.4 + 0.6 * SLIM) * 0.46, height * SLIM * 0.47);
    let mut soup = Soup::default();
    soup.loft(&[
        ring(sleeve * 0.75, wide * 0.95, (sleeve * 0.62).min(tall)),
        ring(sleeve * 1.05, wide * 0.95, (sleeve * 0.72).min(tall)),
        ring(sleeve.max(reach * 0.7), wide, tall),
        ring(reach.max(sleeve * 1.2) + 0.02, wide, tall),
    ]);
    soup.outward().solid(30.0).transformed(Affine3A::IDENTITY)
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_beam_is_closed_and_tapers_to_its_eye() {
        let beam = truck_arm(0.075);
        check::closed(&beam);
        check::boxed(
            &beam,
            Vec3::new(0.0, -0.0225, -0.0375),
            Vec3::new(1.0, 0.0225, 0.0375),
            1e-4,
        );
        let at_eye = beam.positions.iter().filter(|p| p[0] < 0.01);
        assert!(at_eye.map(|p| p[2]).fold(0.0, f32::max) < 0.025);
    }

    #[test]
    fn a_clamp_reaches_round_the_tube_and_beyond_the_beam() {
        let clamp = truck_arm_clamp(Vec3::new(0.0, 0.34, -0.084), 0.0445, 0.075);
        check::closed(&clamp);
        let (low, high) = clamp.bounds();
        assert!(low.z < -0.084 - 0.0375 && high.z > 0.0445, "{low} {high}");
        assert!((low.y + high.y - 0.68).abs() < 1e-3);
    }

    #[test]
    fn a_nose_is_closed() {
        check::closed(&truck_arm_nose(0.075, 0.026, 0.05));
    }

    #[test]
    fn silly_arms_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::NAN] {
            check::sound(&truck_arm(size));
            check::sound(&truck_arm_clamp(Vec3::splat(size), size, size));
            check::sound(&truck_arm_nose(size, size, size));
        }
    }
}
