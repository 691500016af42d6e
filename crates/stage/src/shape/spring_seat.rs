//! What an air spring's plates are bolted to: a seat on the axle tube, a shelf on the frame.

use super::Axis;
use super::bracket::place;
use super::{Anchor, Solid, arc, basis, bolt_circle, circle, cylinder, extrude, held, hull, ring_plate};
use bevy::math::{Vec2, Vec3};

const PLATE_M: f32 = 0.007;

/// A seat on an axle tube of `tube` radius, in the axle frame: a plate of `radius` whose top is at `mount`, level with the axle, and two
/// webs that reach down or across to the tube and grip it.
#[must_use]
pub fn axle_seat(mount: Vec3, tube: f32, radius: f32) -> Solid {
    let mount = place(mount);
    let (tube, radius) = (held(tube, 0.01, 0.3), held(radius, 0.02, 0.4));
    let top = mount.z - PLATE_M;
    let plate = ring_plate(radius, radius * 0.12, PLATE_M, 0.001, 36).translated(mount - Vec3::Z * PLATE_M * 0.5);
    let mut outline = circle(Vec2::ZERO, tube * 1.28, 32);
    outline.extend([-0.8, 0.8].map(|side| Vec2::new(mount.x + side * radius, top)));
    outline.extend([-0.8, 0.8].map(|side| Vec2::new(mount.x + side * radius, top - 0.012)));
    let web = extrude(&hull(&outline), &[circle(Vec2::ZERO, tube * 0.985, 36)], PLATE_M, 0.001);
    let stand = |y: f32| web.transformed(basis(Vec3::Y * (mount.y + y), Vec3::X, -Vec3::Y));
    let apart = radius * 0.45;
    Solid::merged(&[plate, stand(apart), stand(-apart)])
}

/// A shelf on the frame for the upper plate of `radius` at `mount`: a level plate above it that runs to the face of `anchor`, a plate on
/// that face, and two gussets. Where the face looks down or up, a post takes its place. All in the frame's coordinates.
#[must_use]
pub fn frame_shelf(mount: Vec3, anchor: &Anchor, radius: f32) -> Solid {
    let (mount, foot) = (place(mount), place(anchor.centre));
    let radius = held(radius, 0.02, 0.4);
    let bolts = bolt_circle(Axis::Z, PLATE_M, radius * 0.5, 2, 0.012).translated(mount);
    if anchor.normal.y.abs() < 0.7 {
        let plate = ring_plate(radius, radius * 0.12, PLATE_M, 0.001, 36).translated(mount + Vec3::Z * PLATE_M * 0.5);
        let end = Vec3::new(mount.x, mount.y, foot.z);
        return Solid::merged(&[plate, cylinder(mount, end, radius * 0.45, 28)]);
    }
    let to_face = Vec2::new(0.0, foot.y - mount.y);
    let side = to_face.y.signum();
    let mut outline = arc(Vec2::ZERO, radius, 0.0, std::f32::consts::TAU, 36);
    outline.extend([-1.0, 1.0].map(|end| to_face + Vec2::X * end * radius));
    let hole = circle(Vec2::ZERO, radius * 0.12, 14);
    let shelf = extrude(&hull(&outline), &[hole], PLATE_M, 0.001).translated(mount + Vec3::Z * PLATE_M * 0.5);
    let up = if foot.z >= mount.z { 1.0 } else { -1.0 };
    let tall = (foot.z - mount.z).abs().clamp(0.03, 0.6) + 0.03;
    let base = if up > 0.0 { PLATE_M * 0.8 } else { PLATE_M * 0.2 };
    // Seen along X: across the truck, up.
    let gusset = [
        Vec2::new(to_face.y, base),
        Vec2::new(to_face.y - side * (to_face.y.abs() + radius * 0.3), base),
        Vec2::new(to_face.y - side * 0.018, base + up * tall * 0.92),
        Vec2::new(to_face.y, base + up * tall * 0.92),
    ];
    let plate = extrude(&gusset, &[], PLATE_M, 0.001).transformed(basis(mount, Vec3::Y, Vec3::X));
    let stand = |x: f32| plate.translated(Vec3::X * x);
    let p = Vec2::new;
    let back = [
        p(-radius, base),
        p(radius, base),
        p(radius * 0.85, base + up * tall),
        p(-radius * 0.85, base + up * tall),
    ];
    let at = mount + Vec3::Y * (to_face.y - side * PLATE_M * 0.5);
    let back = extrude(&back, &[], PLATE_M, 0.001).transformed(basis(at, Vec3::X, -Vec3::Y));
    let apart = radius * 0.75;
    Solid::merged(&[shelf, back, stand(apart), stand(-apart), bolts])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_seat_is_closed_and_as_high_as_its_mount() {
        for mount in [
            Vec3::new(-0.15, 0.33, 0.06),
            Vec3::new(0.0, 0.4, 0.1),
            Vec3::new(0.3, -0.3, -0.05),
        ] {
            let seat = axle_seat(mount, 0.044, 0.06);
            check::closed(&seat);
            assert!((seat.bounds().1.z - mount.z.max(0.044 * 1.28)).abs() < 1e-3);
        }
    }

    #[test]
    fn a_shelf_is_closed_and_reaches_its_rail() {
        let anchor = |normal: Vec3| Anchor {
            centre: Vec3::new(-0.15, 0.43, 0.5),
            normal,
            along: Vec3::X,
            size: Vec2::new(0.13, 0.1),
        };
        for mount in [Vec3::new(-0.15, 0.33, 0.42), Vec3::new(-0.15, 0.55, 0.6)] {
            let shelf = frame_shelf(mount, &anchor(Vec3::Y), 0.06);
            check::closed(&shelf);
            let (low, high) = shelf.bounds();
            assert!(low.y <= 0.431 && high.y >= 0.429);
            check::closed(&frame_shelf(mount, &anchor(Vec3::Z), 0.06));
        }
    }

    #[test]
    fn silly_seats_do_no_harm() {
        for size in [0.0, -1.0, 1e9, f32::NAN] {
            check::sound(&axle_seat(Vec3::splat(size), size, size));
            let anchor = Anchor {
                centre: Vec3::splat(size),
                normal: Vec3::Y,
                along: Vec3::X,
                size: Vec2::splat(size),
            };
            check::sound(&frame_shelf(Vec3::ZERO, &anchor, size));
        }
    }
}
