//! Turned, swept and sawn pieces.

use super::{SMOOTH, Solid, Soup, circle, extrude};
use bevy::math::{Affine3A, Mat3, Vec2, Vec3};
use std::f32::consts::TAU;

/// An axis of the frame a shape is made in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// Forward.
    X,
    /// To the left.
    Y,
    /// Up.
    Z,
}

impl Axis {
    /// The direction of the axis and two directions across it, right-handed.
    #[must_use]
    pub fn frame(self) -> [Vec3; 3] {
        match self {
            Axis::X => [Vec3::X, Vec3::Y, Vec3::Z],
            Axis::Y => [Vec3::Y, Vec3::Z, Vec3::X],
            Axis::Z => [Vec3::Z, Vec3::X, Vec3::Y],
        }
    }
}

/// The map that takes the origin to `origin`, Z to `normal` and X as near to `along` as it goes.
#[must_use]
pub fn basis(origin: Vec3, along: Vec3, normal: Vec3) -> Affine3A {
    let z = normal.try_normalize().unwrap_or(Vec3::Z);
    let flat = along.normalize_or_zero().reject_from_normalized(z);
    let seen = if flat.length() > 1e-3 {
        flat.normalize()
    } else {
        z.any_orthonormal_vector()
    };
    let x = seen.reject_from_normalized(z).normalize_or(z.any_orthonormal_vector());
    Affine3A::from_mat3_translation(Mat3::from_cols(x, z.cross(x), z), origin)
}

/// Points of a circle of `radius` about an axis, `along` metres up that axis.
#[must_use]
pub fn ring_of(axis: Axis, along: f32, radius: f32, segments: usize) -> Vec<Vec3> {
    let [up, a, b] = axis.frame();
    circle(Vec2::ZERO, radius, segments)
        .iter()
        .map(|p| up * along + a * p.x + b * p.y)
        .collect()
}

/// A turned piece. Each point of `profile` is (metres along the axis, radius); the profile is a closed loop, or an open
/// string that begins and ends on the axis.
#[must_use]
pub fn lathe(profile: &[Vec2], segments: usize, axis: Axis) -> Solid {
    let open = |point: Option<&Vec2>| point.is_some_and(|point| point.y.abs() < 1e-6);
    let rings: Vec<Vec<Vec3>> = profile
        .iter()
        .map(|p| ring_of(axis, p.x, p.y.max(0.0), segments))
        .collect();
    let mut soup = Soup::default();
    for pair in rings.windows(2) {
        soup.bridge(&pair[0], &pair[1]);
    }
    if !(open(profile.first()) && open(profile.last()))
        && let (Some(last), Some(first)) = (rings.last(), rings.first())
    {
        soup.bridge(last, first);
    }
    soup.outward().solid(SMOOTH)
}

/// The string of points with its corners cut back by `size` metres where it turns more than 30 degrees.
#[must_use]
pub fn bevelled(points: &[Vec2], closed: bool, size: f32) -> Vec<Vec2> {
    let count = points.len();
    let mut cut = Vec::with_capacity(count * 2);
    for here in 0..count {
        let is_end = !closed && (here == 0 || here + 1 == count);
        let (last, next) = (points[(here + count - 1) % count], points[(here + 1) % count]);
        let (back, on) = (last - points[here], next - points[here]);
        let turn = (-back).normalize_or_zero().dot(on.normalize_or_zero());
        if is_end || turn > 0.866 {
            cut.push(points[here]);
        } else {
            cut.push(points[here] + back.clamp_length_max(size.min(back.length() * 0.4)));
            cut.push(points[here] + on.clamp_length_max(size.min(on.length() * 0.4)));
        }
    }
    cut
}

/// A round bar between two points, with its end edges broken.
#[must_use]
pub fn cylinder(from: Vec3, to: Vec3, radius: f32, segments: usize) -> Solid {
    let length = from.distance(to).max(1e-4);
    let radius = radius.max(1e-4);
    let corners = [
        Vec2::ZERO,
        Vec2::new(0.0, radius),
        Vec2::new(length, radius),
        Vec2::new(length, 0.0),
    ];
    let profile = bevelled(&corners, false, (radius * 0.08).min(0.0015));
    lathe(&profile, segments, Axis::Z).transformed(basis(from, Vec3::X, to - from))
}

/// A pipe between two points, with its end edges broken.
#[must_use]
pub fn tube(from: Vec3, to: Vec3, outer: f32, inner: f32, segments: usize) -> Solid {
    let length = from.distance(to).max(1e-4);
    let outer = outer.max(2e-4);
    let inner = inner.clamp(1e-4, outer * 0.97);
    let cut = ((outer - inner) * 0.25).min(0.001).min(length * 0.3);
    let profile = [
        Vec2::new(0.0, inner),
        Vec2::new(0.0, outer - cut),
        Vec2::new(cut, outer),
        Vec2::new(length - cut, outer),
        Vec2::new(length, outer - cut),
        Vec2::new(length, inner),
    ];
    lathe(&profile, segments, Axis::Z).transformed(basis(from, Vec3::X, to - from))
}

/// A block of `size` about the origin, all its edges broken by `chamfer`.
#[must_use]
pub fn cuboid(size: Vec3, chamfer: f32) -> Solid {
    let half = size.abs().max(Vec3::splat(2e-4)) / 2.0;
    let chamfer = chamfer.clamp(0.0, half.min_element() * 0.8);
    let corners = [
        Vec2::new(-half.x, -half.y),
        Vec2::new(half.x, -half.y),
        Vec2::new(half.x, half.y),
        Vec2::new(-half.x, half.y),
    ];
    let outline = if chamfer > 1e-5 {
        bevelled(&corners, true, chamfer)
    } else {
        corners.to_vec()
    };
    extrude(&outline, &[], half.z * 2.0, chamfer)
}

/// A six-sided bar about Z from `low` to `high`, `across` metres over its flats, with its corners broken.
#[must_use]
pub fn hex_prism(low: f32, high: f32, across: f32) -> Solid {
    let corner = across.max(1e-4) / 3.0_f32.sqrt();
    let ring = |z: f32, scale: f32| {
        circle(Vec2::ZERO, corner * scale, 6)
            .iter()
            .map(|p| p.extend(z))
            .collect::<Vec<_>>()
    };
    let cut = ((high - low) * 0.2).min(corner * 0.12);
    let mut soup = Soup::default();
    soup.loft(&[ring(low, 1.0), ring(high - cut, 1.0), ring(high, 1.0 - cut / corner)]);
    soup.outward().solid(30.0)
}

/// A closed `section` carried along `path`. The section is given as (sideways, up), sideways being the direction of
/// travel times `up`; its ends are filled, so it must be convex.
#[must_use]
pub fn sweep(section: &[Vec2], path: &[Vec3], up: Vec3) -> Solid {
    let count = path.len();
    if count < 2 || section.len() < 3 {
        return Solid::default();
    }
    let ring = |here: usize| {
        let travel = (path[(here + 1).min(count - 1)] - path[here.saturating_sub(1)]).normalize_or(Vec3::X);
        let side = travel
            .cross(up)
            .try_normalize()
            .unwrap_or_else(|| travel.any_orthonormal_vector());
        let rise = side.cross(travel);
        section
            .iter()
            .map(|p| path[here] + side * p.x + rise * p.y)
            .collect::<Vec<_>>()
    };
    let mut soup = Soup::default();
    soup.loft(&(0..count).map(ring).collect::<Vec<_>>());
    soup.outward().solid(SMOOTH)
}

/// Maps that turn a piece about `axis` into `count` places, the first `start` turns from where it lies.
pub fn around(axis: Axis, count: usize, start: f32) -> impl Iterator<Item = Affine3A> {
    let direction = axis.frame()[0];
    (0..count).map(move |step| Affine3A::from_axis_angle(direction, (start + step as f32 / count as f32) * TAU))
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn turned_pieces_are_closed() {
        check::closed(&cylinder(Vec3::ZERO, Vec3::new(1.0, 2.0, 3.0), 0.2, 24));
        check::closed(&tube(Vec3::ZERO, Vec3::new(0.0, -2.0, 0.0), 0.2, 0.1, 24));
        let bar = cylinder(-Vec3::Y, Vec3::Y, 0.5, 64);
        check::boxed(&bar, Vec3::new(-0.5, -1.0, -0.5), Vec3::new(0.5, 1.0, 0.5), 2e-3);
        let torus = lathe(&circle(Vec2::new(0.0, 0.5), 0.1, 16), 48, Axis::X);
        check::closed(&torus);
        check::boxed(&torus, Vec3::new(-0.1, -0.6, -0.6), Vec3::new(0.1, 0.6, 0.6), 1e-4);
    }

    #[test]
    fn blocks_and_nuts_are_closed() {
        let block = cuboid(Vec3::new(0.1, 0.2, 0.3), 0.005);
        check::closed(&block);
        check::boxed(&block, Vec3::new(-0.05, -0.1, -0.15), Vec3::new(0.05, 0.1, 0.15), 1e-6);
        check::closed(&hex_prism(0.0, 0.01, 0.02));
        check::closed(&hex_prism(0.01, 0.0, 0.02));
    }

    #[test]
    fn a_basis_is_square_even_where_its_directions_agree() {
        for normal in [
            Vec3::X,
            Vec3::new(0.061, 0.0, 0.0),
            Vec3::new(1.0, 1e-6, 0.0),
            Vec3::splat(1.0),
            Vec3::ZERO,
        ] {
            let map = basis(Vec3::ZERO, Vec3::X, normal);
            assert!((map.matrix3.determinant() - 1.0).abs() < 1e-4);
        }
    }

    #[test]
    fn sweeps_are_closed() {
        let path: Vec<Vec3> = (0..20)
            .map(|i| Vec3::new(i as f32 * 0.1, 0.0, (i as f32 * 0.3).sin() * 0.2))
            .collect();
        check::closed(&sweep(&circle(Vec2::ZERO, 0.02, 12), &path, Vec3::Y));
    }

    #[test]
    fn nothing_panics() {
        check::sound(&cylinder(Vec3::ZERO, Vec3::ZERO, -1.0, 0));
        check::sound(&tube(Vec3::ZERO, Vec3::ZERO, 0.0, 1.0, 1));
        check::sound(&cuboid(Vec3::ZERO, 1.0));
        check::sound(&sweep(
            &circle(Vec2::ZERO, 0.0, 3),
            &[Vec3::ZERO, Vec3::ZERO],
            Vec3::ZERO,
        ));
        check::sound(&lathe(&[], 8, Axis::Z));
    }
}
