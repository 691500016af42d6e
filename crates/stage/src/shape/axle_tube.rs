//! The tubes of an axle housing with their flanges, in the axle frame.

use super::{Axis, HousingShape, Solid, arc, basis, bevelled, bolt_head, cylinder, extrude, lathe, weld_ring};
use bevy::math::{Affine3A, Mat3A, Vec2, Vec3, Vec3A};
use std::f32::consts::PI;

/// One tube from the centre section to the hub, on the side of +Y when `side` is 1; on the other side it is drawn
/// mirrored, on +Y as well.
pub(super) fn tube_to_hub(shape: &HousingShape, side: f32) -> Solid {
    let (scale, r) = (shape.scale(), shape.tube_radius);
    let start = shape.pinion_offset * side + 0.16 * scale;
    let neck = shape.pinion_offset * side + 0.25 * scale;
    let face = shape.flange_to_flange * 0.5;
    let brake = (face - 0.10 * scale).max(neck + 0.02);
    let profile = [
        Vec2::new(start, 0.0),
        Vec2::new(start, r),
        Vec2::new(neck, r),
        Vec2::new(brake - 0.045 * scale, r * 0.93),
        Vec2::new(brake - 0.03 * scale, r * 1.16),
        Vec2::new(brake, r * 1.18),
        Vec2::new(brake, 0.0),
    ];
    let square = brake_flange(r).translated(Vec3::Y * (brake - 0.004));
    let spindle = cylinder(Vec3::Y * brake, Vec3::Y * (face - 0.004), r * 0.95, 20);
    let bead = |y: f32, radius: f32| {
        weld_ring(0.0, radius, r * 0.09).transformed(basis(Vec3::Y * y, Vec3::Z, Vec3::X) * QUARTER)
    };
    let hub = hub_flange(r, face);
    Solid::merged(&[
        lathe(&profile, 28, Axis::Y),
        square,
        spindle,
        hub,
        bead(neck, r * 1.01),
        bead(brake - 0.031 * scale, r * 1.0),
    ])
}

/// Turns X to Y.
const QUARTER: Affine3A = Affine3A {
    matrix3: Mat3A::from_cols(Vec3A::Y, Vec3A::NEG_X, Vec3A::Z),
    translation: Vec3A::ZERO,
};

/// The square flange with rounded corners that carries the brake, about Y = 0.
fn brake_flange(r: f32) -> Solid {
    let reach = r * 1.15;
    let corner = |turn: usize| {
        let middle = Vec2::from_angle(PI / 4.0 + turn as f32 * PI / 2.0) * reach * 1.25;
        let start = turn as f32 * PI / 2.0;
        arc(middle, r * 0.42, start, start + PI / 2.0, 6)
    };
    let outline: Vec<Vec2> = (0..4).flat_map(corner).collect();
    let bolt = |turn: usize| {
        let at = Vec2::from_angle(PI / 4.0 + turn as f32 * PI / 2.0) * reach * 1.25;
        bolt_head(r * 0.26).transformed(Affine3A::from_translation(at.extend(r * 0.13)))
    };
    let mut plate = extrude(&outline, &[], r * 0.26, r * 0.04);
    (0..4).for_each(|turn| plate.merge(&bolt(turn)));
    plate.transformed(basis(Vec3::ZERO, Vec3::X, -Vec3::Y))
}

/// The flange at the end of the axle shaft that the wheel is bolted to; its face is Y = `face`.
fn hub_flange(r: f32, face: f32) -> Solid {
    let thick = r * 0.36;
    let corners = [
        Vec2::new(face, 0.0),
        Vec2::new(face, r * 2.05),
        Vec2::new(face - thick, r * 2.05),
        Vec2::new(face - thick * 1.1, r * 1.3),
        Vec2::new(face - thick * 3.0, r * 1.2),
        Vec2::new(face - thick * 3.0, 0.0),
    ];
    lathe(&bevelled(&corners, false, thick * 0.15), 32, Axis::Y)
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_tube_ends_at_the_wheels_face() {
        let shape = HousingShape {
            flange_to_flange: 1.6,
            tube_radius: 0.038,
            pinion_offset: 0.1,
            pinion_angle: 0.0,
            pinion_length: 0.33,
            pinion_drop: 0.0,
        };
        for side in [1.0, -1.0] {
            let tube = tube_to_hub(&shape, side);
            check::closed(&tube);
            let (low, high) = tube.bounds();
            assert!((high.y - 0.8).abs() < 1e-4);
            assert!((low.y - 0.16 - 0.1 * side).abs() < 1e-4);
        }
    }
}
