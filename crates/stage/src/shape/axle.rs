//! The axle housing.
//!
//! Axle frame: origin where the tubes' axis meets the centre plane; the tubes' axis is Y. The pinion's axis lies in the
//! plane Y = `pinion_offset`, runs forward and climbs by `pinion_angle`.

use super::axle_tube::tube_to_hub;
use super::cast::{blend, cast, cone_x};
use super::driveline::{joint_cross, yoke};
use super::{Axis, Solid, around, basis, bolt_circle, bolt_head, cuboid, extrude, held, lathe};
use bevy::math::{Affine3A, Quat, Vec2, Vec3};
use std::f32::consts::PI;

/// The dimensions of an axle housing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HousingShape {
    /// Distance between the wheels' mounting faces, metres.
    pub flange_to_flange: f32,
    /// Radius of the tubes next to the centre, metres.
    pub tube_radius: f32,
    /// How far left of the centre plane the pinion lies, metres.
    pub pinion_offset: f32,
    /// How far the pinion points up, radians.
    pub pinion_angle: f32,
    /// Distance from the tubes' axis to the centre of the pinion's universal joint, metres.
    pub pinion_length: f32,
    /// How far below the tubes' axis the pinion's axis runs, square to it, metres.
    pub pinion_drop: f32,
}

/// The pieces of an axle housing, in the axle frame.
#[derive(Clone, Default, Debug)]
pub struct Housing {
    /// The cast centre section with its ribs and snout.
    pub casting: Solid,
    /// The tubes with their brake flanges, hubs and welds.
    pub tubes: Solid,
    /// The cover at the rear.
    pub cover: Solid,
    /// The cover's bolts, the plugs and the studs.
    pub bolts: Solid,
    /// The pinion's yoke.
    pub yoke: Solid,
    /// The cross and caps in it, as they stand without a shaft.
    pub cross: Solid,
}

impl HousingShape {
    /// The shape with dimensions that a housing can have.
    #[must_use]
    pub fn sane(&self) -> HousingShape {
        let tube_radius = held(self.tube_radius, 0.015, 0.12);
        let scale = tube_radius / 0.038;
        let flange_to_flange = held(self.flange_to_flange, 0.9 * scale, 4.5);
        let reach = (flange_to_flange * 0.5 - 0.40 * scale).max(0.0);
        HousingShape {
            flange_to_flange,
            tube_radius,
            pinion_offset: held(self.pinion_offset, -reach, reach),
            pinion_angle: held(self.pinion_angle, -PI, PI),
            pinion_length: held(self.pinion_length, 0.22 * scale, 0.9),
            pinion_drop: held(self.pinion_drop, -0.09 * scale, 0.09 * scale),
        }
    }

    /// How much bigger everything is than on a housing with 76 mm tubes.
    pub(super) fn scale(&self) -> f32 {
        self.tube_radius / 0.038
    }

    /// From the frame of the pinion, its axis X, to the axle frame.
    fn pinion_frame(&self) -> Affine3A {
        Affine3A::from_rotation_translation(Quat::from_rotation_y(-self.pinion_angle), Vec3::Y * self.pinion_offset)
    }
}

/// A housing with a round cover at the rear, a ribbed carrier and a snout at the front.
#[must_use]
pub fn housing(shape: &HousingShape) -> Housing {
    let shape = shape.sane();
    let scale = shape.scale();
    let sized = shape.pinion_frame() * Affine3A::from_scale(Vec3::splat(scale));
    let (snout, drop) = (shape.pinion_length / scale, shape.pinion_drop / scale);
    let joint = Vec3::new(snout, 0.0, -drop);
    Housing {
        casting: Solid::merged(&[carrier(snout, drop), lowered(ribs(snout), drop), rear_flange()]).transformed(sized),
        tubes: Solid::merged(&[tube_to_hub(&shape, 1.0), tube_to_hub(&shape, -1.0).mirrored_y()]),
        cover: cover().transformed(sized),
        bolts: fasteners().transformed(sized),
        yoke: yoke().translated(joint).transformed(sized),
        cross: joint_cross().translated(joint).transformed(sized),
    }
}

/// How much of the pinion's drop there is at `x`: the snout bends down from the middle of the bowl.
fn sunk(x: f32) -> f32 {
    let share = (x / 0.11).clamp(0.0, 1.0);
    share * share * (3.0 - 2.0 * share)
}

/// A piece whose front part follows the pinion down.
fn lowered(mut solid: Solid, drop: f32) -> Solid {
    for position in &mut solid.positions {
        position[2] -= drop * sunk(position[0]);
    }
    solid
}

/// The centre section of a housing with 76 mm tubes, in the pinion's frame.
fn carrier(snout: f32, drop: f32) -> Solid {
    let end = snout - 0.075;
    let field = |at: Vec3| {
        let nosed = at + Vec3::Z * drop * sunk(at.x);
        let turned = Vec3::new(at.y.abs(), at.x, at.z);
        let bowl = cone_x(at, -0.05, 0.015, 0.094, 0.088) - 0.03;
        let gear = (at - Vec3::new(0.0, -0.026, 0.0)) / Vec3::new(1.0, 0.62, 1.0);
        let bowl = blend(bowl, (gear.length() - 0.128) * 0.7, 0.03);
        let carrier = cone_x(nosed, 0.0, end * 0.55, 0.10, 0.058);
        let nose = cone_x(nosed, 0.05, end, 0.058, 0.046);
        let boss = cone_x(nosed, end - 0.03, end - 0.012, 0.047, 0.048) - 0.010;
        let neck = cone_x(turned, 0.0, 0.235, 0.092, 0.047);
        let collar = cone_x(turned, 0.215, 0.242, 0.040, 0.040) - 0.011;
        let body = blend(blend(bowl, carrier, 0.05), blend(nose, boss, 0.02), 0.03);
        let body = blend(body, blend(neck, collar, 0.02), 0.06);
        body.max(-0.072 - at.x)
    };
    cast(
        field,
        Vec3::new(-0.085, -0.275, -0.155 - drop.max(0.0)),
        Vec3::new(end + 0.02, 0.275, 0.155 - drop.min(0.0)),
        0.0145,
    )
}

/// The ribs between snout, bowl and necks of the centre section, in the pinion's frame.
fn ribs(snout: f32) -> Solid {
    let end = snout - 0.075;
    let upright = [
        Vec2::new(0.0, 0.0),
        Vec2::new(end - 0.016, 0.0),
        Vec2::new(end - 0.016, 0.056),
        Vec2::new(end - 0.04, 0.066),
        Vec2::new(end * 0.5, 0.092),
        Vec2::new(0.03, 0.131),
        Vec2::new(0.0, 0.131),
    ];
    let level = [
        Vec2::new(0.0, 0.0),
        Vec2::new(end - 0.016, 0.0),
        Vec2::new(end - 0.016, 0.056),
        Vec2::new(end - 0.04, 0.068),
        Vec2::new(0.085, 0.155),
        Vec2::new(0.062, 0.195),
        Vec2::new(0.052, 0.228),
        Vec2::new(0.0, 0.228),
    ];
    let stand = basis(Vec3::ZERO, Vec3::X, -Vec3::Y);
    let cut = |outline: &[Vec2]| extrude(outline, &[], 0.013, 0.003);
    let fins = cut(&upright).transformed(stand).repeated(around(Axis::X, 2, 0.0));
    let leaning = cut(&upright.map(|p| p * Vec2::new(1.0, 0.97)))
        .transformed(stand)
        .repeated(around(Axis::X, 4, 0.125));
    let wing = cut(&level);
    Solid::merged(&[fins, leaning, wing.mirrored_y(), wing])
}

const COVER_BOLTS: usize = 12;

/// The machined flange that the cover is bolted to, with an ear for each bolt.
fn rear_flange() -> Solid {
    let outline: Vec<Vec2> = (0..COVER_BOLTS * 6)
        .map(|step| {
            let turn = step as f32 / 6.0;
            let ear = 0.5 + 0.5 * ((turn - 0.5) * 2.0 * PI).cos();
            Vec2::from_angle(turn / COVER_BOLTS as f32 * 2.0 * PI) * (0.131 + 0.007 * ear.powi(2))
        })
        .collect();
    extrude(&outline, &[], 0.016, 0.0015).transformed(basis(Vec3::X * -0.074, Vec3::Y, Vec3::X))
}

/// The pressed cover: a rim, a step and a dome.
fn cover() -> Solid {
    let profile = [
        (-0.080, 0.0),
        (-0.080, 0.133),
        (-0.0815, 0.1345),
        (-0.0855, 0.1345),
        (-0.087, 0.133),
        (-0.0875, 0.117),
        (-0.0900, 0.1125),
        (-0.0960, 0.1095),
        (-0.1150, 0.103),
        (-0.1270, 0.095),
        (-0.1350, 0.084),
        (-0.1400, 0.070),
        (-0.1415, 0.058),
        (-0.1455, 0.054),
        (-0.1475, 0.048),
        (-0.1490, 0.026),
        (-0.1495, 0.0),
    ]
    .map(|(x, r)| Vec2::new(x, r));
    let lip = |z: f32| cuboid(Vec3::new(0.03, 0.11, 0.009), 0.003).translated(Vec3::new(-0.130, 0.0, z));
    Solid::merged(&[lathe(&profile, 44, Axis::X), lip(0.066), lip(-0.066)])
}

/// Bolts of the cover, filler and drain plugs.
fn fasteners() -> Solid {
    let turned = Affine3A::from_rotation_z(PI);
    let ring = bolt_circle(Axis::X, 0.087, 0.1255, COVER_BOLTS, 0.0105).transformed(turned);
    let plug = |at: Vec3, normal: Vec3| bolt_head(0.018).transformed(basis(at, Vec3::Y, normal));
    let filler = plug(Vec3::new(-0.147, 0.0, 0.0), -Vec3::X);
    Solid::merged(&[
        ring,
        filler,
        plug(Vec3::new(0.02, 0.045, -0.112), Vec3::new(0.0, 0.3, -1.0)),
    ])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    const SHAPE: HousingShape = HousingShape {
        flange_to_flange: 1.6,
        tube_radius: 0.038,
        pinion_offset: 0.05,
        pinion_angle: 0.1,
        pinion_length: 0.33,
        pinion_drop: 0.0,
    };

    fn pieces(housing: &Housing) -> [&Solid; 6] {
        [
            &housing.casting,
            &housing.tubes,
            &housing.cover,
            &housing.bolts,
            &housing.yoke,
            &housing.cross,
        ]
    }

    #[test]
    fn a_housing_is_closed_and_has_its_size() {
        let housing = housing(&SHAPE);
        pieces(&housing).into_iter().for_each(check::closed);
        let (low, high) = housing.tubes.bounds();
        assert!((low.y + 0.8).abs() < 1e-4 && (high.y - 0.8).abs() < 1e-4);
        let total: usize = pieces(&housing).iter().map(|piece| piece.triangle_count()).sum();
        assert!(total < 22_000, "{total}");
    }

    #[test]
    fn the_nose_goes_up_with_the_pinion_angle() {
        let middle = |angle: f32| {
            let (low, high) = housing(&HousingShape {
                pinion_angle: angle,
                ..SHAPE
            })
            .yoke
            .bounds();
            (low + high) * 0.5
        };
        assert!(middle(0.2).z > 0.03 && middle(-0.2).z < -0.03);
        assert!((middle(0.0).y - 0.05).abs() < 1e-3);
    }

    #[test]
    fn a_dropped_pinion_lowers_the_joint_square_to_its_axis() {
        let dropped = housing(&HousingShape {
            pinion_drop: 0.04,
            ..SHAPE
        });
        pieces(&dropped).into_iter().for_each(check::closed);
        let middle = |cross: &Solid| {
            let (low, high) = cross.bounds();
            (low + high) * 0.5
        };
        let moved = middle(&dropped.cross) - middle(&housing(&SHAPE).cross);
        let wanted = Vec3::new(0.1_f32.sin(), 0.0, -0.1_f32.cos()) * 0.04;
        assert!(moved.distance(wanted) < 1e-4, "{moved}");
    }

    #[test]
    fn silly_housings_do_no_harm() {
        for size in [0.0, -1.0, 1e9] {
            let shape = HousingShape {
                flange_to_flange: size,
                tube_radius: size,
                pinion_offset: size,
                pinion_angle: size,
                pinion_length: size,
                pinion_drop: size,
            };
            pieces(&housing(&shape)).into_iter().for_each(check::sound);
        }
    }
}
