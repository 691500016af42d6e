//! Brackets that hold a bar's end on the frame.

use super::{Solid, basis, circle, cuboid, extrude, held, hull};
use bevy::math::{Affine3A, Vec2, Vec3};
use std::f32::consts::PI;

/// The pair of plates that a bar's end sits between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plates {
    /// Clear distance between the plates, metres.
    pub gap: f32,
    /// Thickness of a plate, metres.
    pub thickness: f32,
    /// Diameter of the bolt through them, metres.
    pub bolt: f32,
}

impl Plates {
    pub(super) fn sane(&self) -> Plates {
        let bolt = held(self.bolt, 0.004, 0.08);
        Plates {
            gap: held(self.gap, 0.004, 0.6),
            thickness: held(self.thickness, 0.0015, 0.04),
            bolt,
        }
    }

    /// Radius of the round end about the bolt.
    pub(super) fn boss(&self) -> f32 {
        self.bolt * 1.45
    }

    /// The middles of the two plates along the bolt.
    pub(super) fn middles(&self) -> [f32; 2] {
        let out = (self.gap + self.thickness) * 0.5;
        [-out, out]
    }
}

/// The flat place on the frame that a bracket is welded to, a rectangle in the frame's coordinates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchor {
    /// Middle of the rectangle, metres.
    pub centre: Vec3,
    /// Direction out of the metal.
    pub normal: Vec3,
    /// Direction of the rectangle's length.
    pub along: Vec3,
    /// Length and width of the rectangle, metres.
    pub size: Vec2,
}

/// `value` if it can be drawn, with no coordinate beyond 50 m; else the origin.
pub(super) fn place(value: Vec3) -> Vec3 {
    if value.is_finite() {
        value.clamp(Vec3::splat(-50.0), Vec3::splat(50.0))
    } else {
        Vec3::ZERO
    }
}

/// A bracket between a flat place on the frame and the bolt at `mount`: two plates across `bolt_axis` that taper from
/// the anchor to a round end about the bolt, and a pad on the anchor that joins them. All in the frame's coordinates.
#[must_use]
pub fn frame_bracket(mount: Vec3, anchor: &Anchor, bolt_axis: Vec3, plates: &Plates) -> Solid {
    let plates = plates.sane();
    let (mount, foot) = (place(mount), place(anchor.centre));
    let axis = bolt_axis.try_normalize().unwrap_or(Vec3::Y);
    let normal = anchor.normal.try_normalize().unwrap_or(Vec3::NEG_Z);
    let frame = basis(mount, (foot - mount).reject_from_normalized(axis), axis);
    let face = basis(foot, anchor.along, normal);
    let half = Vec2::new(held(anchor.size.x, 0.02, 2.0), held(anchor.size.y, 0.01, 2.0)) * 0.5;
    let to_face = face.inverse();
    let seen = to_face.transform_point3(mount).truncate();
    let facing = normal.dot(axis).abs() > 0.7;
    let (low, high) = if facing {
        strip(&plates, half, seen, face.matrix3.y_axis.z)
    } else {
        (-half, half)
    };
    let corners = [low, Vec2::new(high.x, low.y), high, Vec2::new(low.x, high.y)];
    let to_plate = frame.inverse() * face;
    let flat = corners.map(|corner| to_plate.transform_point3(corner.extend(0.0)));
    let outline = plate_outline(&plates, &flat.map(Vec3::truncate));
    let mut all = plate_pair(&plates, &outline, frame);
    let bolt = (to_face * frame).transform_vector3(Vec3::Z).truncate();
    let (from, to) = if facing {
        (low, high)
    } else {
        under_plates(&plates, half, seen, bolt)
    };
    all.merge(&pad(&plates, from.min(-half), to.max(half)).transformed(face));
    let joint = if facing {
        stand(&plates, &flat)
    } else {
        web(&plates, &flat)
    };
    all.merge(&joint.transformed(frame));
    all
}

/// The rectangle of the anchor's face that lies under both plates; `bolt` is the bolt's direction seen on the face.
fn under_plates(plates: &Plates, half: Vec2, seen: Vec2, bolt: Vec2) -> (Vec2, Vec2) {
    let reach = plates.middles()[1] + plates.thickness * 1.5;
    let across = if bolt.x.abs() > bolt.y.abs() { Vec2::X } else { Vec2::Y };
    let rest = (Vec2::ONE - across) * half;
    (across * (seen - reach) - rest, across * (seen + reach) + rest)
}

/// The part of the anchor that a bracket stands on where its bolt points out of the anchor's face: a strip along the
/// face that leaves the bar at the bolt free to run along it. The bolt is seen at `seen`; `climb` tells whether the
/// face's width runs up.
fn strip(plates: &Plates, half: Vec2, seen: Vec2, climb: f32) -> (Vec2, Vec2) {
    let side = if seen.y.abs() > plates.boss() * 0.3 {
        -seen.y.signum()
    } else {
        1.0_f32.copysign(climb)
    };
    let near = (seen.y * side + plates.boss() * 1.25).max(-half.y);
    let far = half.y.max(near + plates.boss() * 0.7);
    let (a, b) = (Vec2::new(-half.x, near * side), Vec2::new(half.x, far * side));
    (a.min(b), a.max(b))
}

/// The outline of a plate about its bolt at the origin: a round end and a foot, joined by waisted sides.
fn plate_outline(plates: &Plates, foot: &[Vec2]) -> Vec<Vec2> {
    let boss = plates.boss();
    let mut points = circle(Vec2::ZERO, boss, 28);
    points.extend_from_slice(foot);
    waisted(&hull(&points), boss * 0.35)
}

/// The outline with its long straight edges drawn in a little, as a cutter would to save weight.
fn waisted(outline: &[Vec2], most: f32) -> Vec<Vec2> {
    let count = outline.len();
    let lengths: Vec<f32> = (0..count)
        .map(|here| outline[here].distance(outline[(here + 1) % count]))
        .collect();
    let short = lengths.iter().copied().fold(0.0, f32::max) * 0.6;
    let mut drawn = Vec::with_capacity(count + 16);
    for here in 0..count {
        let (a, b) = (outline[here], outline[(here + 1) % count]);
        drawn.push(a);
        let is_side = lengths[here] > short.max(most * 1.5) && a.length().min(b.length()) < most / 0.34;
        if is_side {
            let depth = (lengths[here] * 0.07).min(most);
            let inward = (b - a).normalize_or_zero().perp() * depth;
            drawn.extend((1..7).map(|step| {
                let share = step as f32 / 7.0;
                a.lerp(b, share) + inward * (share * PI).sin().powi(2)
            }));
        }
    }
    drawn
}

/// Two plates of an outline with the bolt's hole; Z of `frame` is the bolt.
fn plate_pair(plates: &Plates, outline: &[Vec2], frame: Affine3A) -> Solid {
    let hole = circle(Vec2::ZERO, plates.bolt * 0.51, 14);
    let plate = extrude(outline, &[hole], plates.thickness, plates.thickness * 0.16);
    let mut all = Solid::default();
    for out in plates.middles() {
        all.merge(&plate.translated(Vec3::Z * out));
    }
    all.transformed(frame)
}

/// The pad on the anchor's face, in the face's frame.
fn pad(plates: &Plates, low: Vec2, high: Vec2) -> Solid {
    let size = (high - low).min(Vec2::splat(3.0));
    let slab = cuboid(size.extend(plates.thickness), plates.thickness * 0.2);
    slab.translated(((low + high) * 0.5).extend(plates.thickness * 0.2))
}

/// The box that carries both plates where the bolt points out of the anchor's face, in the plates' frame.
fn stand(plates: &Plates, flat: &[Vec3; 4]) -> Solid {
    let reach = plates.middles()[1] - plates.thickness * 0.5;
    let low = flat.iter().map(|p| p.z).fold(-reach, f32::min);
    let high = flat.iter().map(|p| p.z).fold(reach, f32::max).min(low + 3.0);
    let outline = hull(&flat.map(Vec3::truncate));
    let middle = outline.iter().copied().sum::<Vec2>() / outline.len().max(1) as f32;
    let shrunk: Vec<Vec2> = outline.iter().map(|p| middle + (*p - middle) * 0.9).collect();
    extrude(&shrunk, &[], high - low, 0.002).translated(Vec3::Z * (low + high) * 0.5)
}

/// The back plate between the two plates, from the foot to short of the bolt, in the plates' frame.
fn web(plates: &Plates, flat: &[Vec3; 4]) -> Solid {
    let foot = flat.iter().map(|p| p.truncate()).sum::<Vec2>() * 0.25;
    let room = foot.length() - plates.boss() * 1.5;
    if room < plates.thickness * 2.0 {
        return Solid::default();
    }
    let middle = foot.normalize_or_zero() * (plates.boss() * 1.5 + room * 0.5);
    let size = Vec3::new(room, plates.thickness, plates.gap + plates.thickness * 0.5);
    let turn = Affine3A::from_rotation_z(foot.to_angle());
    cuboid(size, plates.thickness * 0.15).transformed(Affine3A::from_translation(middle.extend(0.0)) * turn)
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    const PLATES: Plates = Plates {
        gap: 0.044,
        thickness: 0.006,
        bolt: 0.016,
    };

    fn anchor() -> Anchor {
        Anchor {
            centre: Vec3::new(0.7, 0.4, 0.0),
            normal: Vec3::NEG_Z,
            along: Vec3::X,
            size: Vec2::new(0.16, 0.06),
        }
    }

    #[test]
    fn a_frame_bracket_reaches_from_anchor_to_bolt() {
        let mount = Vec3::new(0.68, 0.38, -0.12);
        let bracket = frame_bracket(mount, &anchor(), Vec3::Y, &PLATES);
        check::closed(&bracket);
        let (low, high) = bracket.bounds();
        assert!((low.z - (mount.z - PLATES.boss())).abs() < 1e-4, "{low}");
        assert!(high.z >= 0.0 && high.z < 0.01);
        assert!(low.y <= mount.y - 0.028 + 1e-5);
    }

    #[test]
    fn any_mount_gives_a_sane_bracket() {
        let mounts = [
            Vec3::ZERO,
            Vec3::new(0.01, 0.4, 0.01),
            Vec3::new(0.05, 0.4, 0.0),
            Vec3::new(0.7, 0.4, 0.0),
            Vec3::new(5.0, -3.0, 2.0),
            Vec3::splat(1e30),
        ];
        let axes = [Vec3::X, Vec3::Y, Vec3::Z, Vec3::ZERO, Vec3::new(0.3, 0.8, 0.5)];
        for mount in mounts {
            for axis in axes {
                for normal in axes {
                    let bracket = frame_bracket(mount, &Anchor { normal, ..anchor() }, axis, &PLATES);
                    check::sound(&bracket);
                    assert!(!bracket.is_empty());
                }
            }
        }
    }
}
