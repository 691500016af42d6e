//! The tail of a transmission, and the bearing in the middle of a drive shaft in two pieces.
//!
//! Frame: the shaft's axis is X, forwards; origin in the centre of the universal joint behind.

use super::cast::{blend, cast, cone_x};
use super::{Axis, Solid, around, basis, bolt_circle, circle, cuboid, extrude, held, hull, lathe, tube};
use bevy::math::{Affine3A, Vec2, Vec3};
use std::f32::consts::PI;

/// Length of the tail from its joint to the flange where it is cut off.
pub const TAIL_M: f32 = 0.40;
/// Where the mount under the tail is.
pub const TAIL_MOUNT_M: f32 = 0.20;
/// How far below the axis the tail's mount is bolted down.
pub const TAIL_MOUNT_DROP_M: f32 = 0.105;

/// The cast tail of a transmission, behind it the seal that its yoke turns in.
#[must_use]
pub fn transmission_tail() -> Solid {
    let field = |at: Vec3| {
        let nose = cone_x(at, 0.085, 0.11, 0.044, 0.048);
        let tail = cone_x(at, 0.10, 0.33, 0.050, 0.084);
        let boss = blend(nose, tail, 0.02);
        let pad = (at - Vec3::new(TAIL_MOUNT_M, 0.0, -0.058)).abs() - Vec3::new(0.036, 0.042, 0.022);
        let pad = pad.max_element().max(pad.max(Vec3::ZERO).length());
        blend(boss, pad, 0.025)
    };
    let body = cast(field, Vec3::new(0.07, -0.1, -0.1), Vec3::new(0.35, 0.1, 0.1), 0.011);
    let rib = [
        Vec2::new(0.12, 0.0),
        Vec2::new(TAIL_M - 0.03, 0.0),
        Vec2::new(TAIL_M - 0.03, 0.104),
        Vec2::new(0.30, 0.090),
        Vec2::new(0.12, 0.056),
    ];
    let ribs = extrude(&rib, &[], 0.009, 0.002)
        .transformed(basis(Vec3::ZERO, Vec3::X, -Vec3::Y))
        .repeated(around(Axis::X, 8, 0.0625));
    Solid::merged(&[body, ribs, bell(), seal()])
}

/// Where the tail is bolted to the gear box, of which no more is drawn.
fn bell() -> Solid {
    let p = Vec2::new;
    let profile = [
        p(0.32, 0.0),
        p(0.32, 0.080),
        p(0.355, 0.095),
        p(0.372, 0.112),
        p(0.376, 0.128),
        p(TAIL_M - 0.002, 0.128),
        p(TAIL_M, 0.126),
        p(TAIL_M, 0.0),
    ];
    let bolts = bolt_circle(Axis::X, 0.0, 0.117, 8, 0.010).transformed(turned(0.376));
    Solid::merged(&[lathe(&profile, 40, Axis::X), bolts])
}

fn seal() -> Solid {
    tube(Vec3::X * 0.078, Vec3::X * 0.09, 0.041, 0.026, 28)
}

/// Turns what faces +X at the origin to face -X at `x`.
fn turned(x: f32) -> Affine3A {
    Affine3A::from_translation(Vec3::X * x) * Affine3A::from_rotation_z(PI)
}

/// Radius of the rubber ring that a carrier bearing hangs in.
const RING_M: f32 = 0.052;
/// How far from the axis of its shaft a carrier bearing is bolted on.
pub const BEARING_REACH_M: f32 = 0.082;

/// The bearing of a shaft in two pieces, about the shaft's axis: rubber between two rings of steel.
#[must_use]
pub fn carrier_rubber() -> Solid {
    let p = Vec2::new;
    let profile = [
        p(-0.013, 0.028),
        p(-0.016, 0.034),
        p(-0.010, 0.041),
        p(-0.015, RING_M * 0.97),
        p(0.015, RING_M * 0.97),
        p(0.010, 0.041),
        p(0.016, 0.034),
        p(0.013, 0.028),
    ];
    lathe(&profile, 32, Axis::X)
}

/// The strap that holds the bearing's rubber, and its feet, flat on a crossmember [`BEARING_REACH_M`] up along Z.
#[must_use]
pub fn carrier_strap() -> Solid {
    let ring = tube(Vec3::X * -0.017, Vec3::X * 0.017, RING_M + 0.004, RING_M - 0.002, 36);
    let foot = [-1.0, 1.0].map(|side: f32| {
        let outline = hull(&[
            Vec2::new(side * (RING_M - 0.012), RING_M * 0.2),
            Vec2::new(side * RING_M, RING_M * 0.2),
            Vec2::new(side * (RING_M + 0.010), BEARING_REACH_M),
            Vec2::new(side * (RING_M - 0.024), BEARING_REACH_M),
        ]);
        let web = extrude(&outline, &[], 0.005, 0.001).transformed(basis(Vec3::ZERO, Vec3::Y, Vec3::X));
        let plate = cuboid(Vec3::new(0.042, 0.052, 0.005), 0.001);
        let bolt = bolt_circle(Axis::Z, 0.0, 0.0, 1, 0.010);
        let out = Vec3::new(0.0, side * (RING_M + 0.012), BEARING_REACH_M - 0.0025);
        let bolt = bolt
            .transformed(Affine3A::from_rotation_x(PI))
            .translated(-Vec3::Z * 0.0025);
        Solid::merged(&[web, Solid::merged(&[plate, bolt]).translated(out)])
    });
    Solid::merged(&[ring, Solid::merged(&foot)])
}

/// The rubber and the plates of the mount under a transmission's tail, its top at the origin, `high` metres tall.
#[must_use]
pub fn tail_mount(high: f32) -> Solid {
    let high = held(high, 0.02, 0.5);
    let p = Vec2::new;
    let rubber = [
        p(0.0, 0.0),
        p(0.0, 0.030),
        p(-high * 0.25, 0.036),
        p(-high * 0.75, 0.036),
        p(-high, 0.030),
        p(-high, 0.0),
    ];
    let plate = |z: f32| cuboid(Vec3::new(0.07, 0.10, 0.006), 0.001).translated(Vec3::Z * z);
    Solid::merged(&[lathe(&rubber, 24, Axis::Z), plate(-0.003), plate(0.003 - high)])
}

/// A shallow beam from rail to rail along Y about the origin: `half` metres to either side, with holes in its web, and at its ends
/// plates that reach from `low` to `high` along the rails' inside.
#[must_use]
pub fn cross_beam(half: f32, low: f32, high: f32) -> Solid {
    let half = held(half, 0.1, 3.0);
    let (low, high) = (held(low, -1.0, -0.02), held(high, 0.02, 1.0));
    let (deep, wall) = (0.038, 0.004);
    let p = Vec2::new;
    let section = [
        p(-0.036, -deep * 0.5),
        p(-0.030, -deep * 0.5),
        p(-0.024, deep * 0.5 - wall),
        p(0.024, deep * 0.5 - wall),
        p(0.030, -deep * 0.5),
        p(0.036, -deep * 0.5),
        p(0.028, deep * 0.5),
        p(-0.028, deep * 0.5),
    ];
    let beam = extrude(&section, &[], half * 2.0, 0.0).transformed(basis(Vec3::ZERO, Vec3::X, -Vec3::Y));
    let hole = [circle(Vec2::ZERO, 0.009, 12)];
    let (top, foot) = (high - 0.001, low + 0.001);
    let outline = hull(&[p(-0.05, foot), p(0.05, foot), p(0.05, top), p(-0.05, top)]);
    let plate = extrude(&outline, &hole[..0], 0.006, 0.001).transformed(basis(Vec3::ZERO, Vec3::X, -Vec3::Y));
    let end = plate.translated(Vec3::Y * (half - 0.003));
    Solid::merged(&[beam, end.mirrored_y(), end])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_tail_is_closed_and_ends_where_it_says() {
        let tail = transmission_tail();
        check::closed(&tail);
        let (low, high) = tail.bounds();
        assert!((high.x - TAIL_M).abs() < 1e-3 && low.x > 0.06, "{low} {high}");
        assert!(low.z > -0.135 && low.z < -0.12);
        assert!(tail.triangle_count() < 12_000, "{}", tail.triangle_count());
    }

    #[test]
    fn a_carrier_bearing_is_closed_and_reaches_its_crossmember() {
        check::closed(&carrier_rubber());
        let strap = carrier_strap();
        check::closed(&strap);
        assert!((strap.bounds().1.z - BEARING_REACH_M).abs() < 1e-4);
    }

    #[test]
    fn what_carries_them_is_closed() {
        check::closed(&tail_mount(0.05));
        let beam = cross_beam(0.4, -0.1, 0.05);
        check::closed(&beam);
        check::boxed(&beam, Vec3::new(-0.05, -0.4, -0.099), Vec3::new(0.05, 0.4, 0.049), 2e-3);
    }

    #[test]
    fn silly_sizes_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::NAN] {
            check::sound(&tail_mount(size));
            check::sound(&cross_beam(size, size, size));
        }
    }
}
