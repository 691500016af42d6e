//! Bolts, their heads, and weld beads.

use super::{Axis, Solid, Soup, around, basis, circle, cylinder, held, hex_prism, lathe};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::TAU;

/// A bolt along Y that clamps `length` metres about the origin: head and washer at +Y, washer and nut at -Y.
#[must_use]
pub fn bolt(diameter: f32, length: f32) -> Solid {
    let d = held(diameter, 0.002, 0.1);
    let half = held(length, 0.001, 3.0) / 2.0;
    let washer = cylinder(Vec3::Y * half, Vec3::Y * (half + d * 0.16), d * 1.05, 14);
    let head = bolt_head(d)
        .translated(Vec3::Z * (half + d * 0.16))
        .transformed(basis(Vec3::ZERO, Vec3::X, Vec3::Y));
    let nut = hex_prism(half + d * 0.16, half + d * 1.0, d * 1.5).transformed(basis(Vec3::ZERO, Vec3::X, -Vec3::Y));
    let end = half + d * 1.35;
    let shank = [
        Vec2::new(-end, 0.0),
        Vec2::new(-end, d * 0.4),
        Vec2::new(-end + d * 0.1, d * 0.49),
        Vec2::new(half, d * 0.49),
        Vec2::new(half, 0.0),
    ];
    Solid::merged(&[washer.mirrored_y(), washer, head, nut, lathe(&shank, 10, Axis::Y)])
}

/// A hexagon bolt head standing on Z = 0 for a thread of `diameter`, metres.
#[must_use]
pub fn bolt_head(diameter: f32) -> Solid {
    let d = held(diameter, 0.002, 0.1);
    hex_prism(0.0, d * 0.64, d * 1.5)
}

/// `count` bolt heads on a circle of `radius` about an axis, `along` metres up it, heads pointing up the axis.
#[must_use]
pub fn bolt_circle(axis: Axis, along: f32, radius: f32, count: usize, diameter: f32) -> Solid {
    let [up, across, _] = axis.frame();
    let head = bolt_head(diameter).transformed(basis(up * along + across * radius, across, up));
    head.repeated(around(axis, count, 0.5 / count.max(1) as f32))
}

/// A weld bead round a tube about X: a ring of `radius` at `x` with a ripple.
#[must_use]
pub fn weld_ring(x: f32, radius: f32, bead: f32) -> Solid {
    let steps = 18;
    let ring = |step: usize| {
        let ripple = if step.is_multiple_of(2) { 1.0 } else { 0.82 };
        let (sin, cos) = (step as f32 / steps as f32 * TAU).sin_cos();
        let at = |p: Vec2| Vec3::new(x + p.x, (radius + p.y) * cos, (radius + p.y) * sin);
        circle(Vec2::ZERO, bead.max(1e-4) * ripple, 4)
            .into_iter()
            .map(at)
            .collect::<Vec<_>>()
    };
    let mut soup = Soup::default();
    for step in 0..steps {
        soup.bridge(&ring(step), &ring((step + 1) % steps));
    }
    soup.outward().solid(70.0)
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn bolts_are_closed_and_clamp_their_length() {
        let bolt = bolt(0.016, 0.06);
        check::closed(&bolt);
        let (low, high) = bolt.bounds();
        assert!((high.y - 0.03 - 0.016 * 0.8).abs() < 1e-4, "{high}");
        assert!(low.y < -0.03 - 0.016);
        check::closed(&bolt_circle(Axis::X, 0.1, 0.1, 10, 0.01));
    }

    #[test]
    fn beads_are_closed() {
        check::closed(&weld_ring(0.1, 0.02, 0.003));
    }

    #[test]
    fn silly_bolts_do_no_harm() {
        for size in [0.0, -1.0, 1e9] {
            check::sound(&bolt(size, size));
            check::sound(&bolt_circle(Axis::Y, size, size, 0, size));
            check::sound(&weld_ring(size, size, size));
        }
    }
}
