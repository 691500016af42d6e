//! Brakes. The axis is Y; the wheel's mounting face is the plane Y = 0 and the brake lies inboard of it, at -Y.

use super::{Axis, Solid, arc, around, basis, bevelled, bolt_head, cuboid, extrude, held, lathe};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::PI;

/// The pieces of a drum brake.
#[derive(Clone, Default, Debug)]
pub struct Drum {
    /// The finned drum.
    pub drum: Solid,
    /// The plate behind it that carries the shoes.
    pub backing: Solid,
}

/// The pieces of a disc brake.
#[derive(Clone, Default, Debug)]
pub struct Disc {
    /// The ventilated ring.
    pub rotor: Solid,
    /// The hat between the ring and the wheel's face.
    pub hat: Solid,
    /// The calliper, astride the ring's rear side (-X).
    pub calliper: Solid,
}

/// A drum of `radius` over its fins and `width` deep, metres.
#[must_use]
pub fn drum(radius: f32, width: f32) -> Drum {
    let radius = held(radius, 0.05, 1.0);
    let width = held(width, 0.02, radius * 2.0);
    let (shell, fin) = (radius * 0.93, width / 9.6);
    let mut profile = vec![
        Vec2::ZERO,
        Vec2::new(0.0, radius * 0.55),
        Vec2::new(-width * 0.05, radius * 0.62),
        Vec2::new(-width * 0.08, radius * 0.86),
    ];
    profile.push(Vec2::new(-width * 0.16, shell));
    for number in 0..4 {
        let start = -width * 0.3 - fin * 1.5 * number as f32;
        profile.extend(
            [(0.0, shell), (-0.15, radius), (-0.65, radius), (-0.8, shell)]
                .map(|(at, r)| Vec2::new(start + fin * at, r)),
        );
    }
    profile.extend([
        Vec2::new(-width * 0.94, shell),
        Vec2::new(-width * 0.95, radius),
        Vec2::new(-width, radius),
        Vec2::new(-width, shell * 0.9),
        Vec2::new(-width * 0.9, shell * 0.9),
        Vec2::new(-width * 0.9, 0.0),
    ]);
    let plate = [
        Vec2::new(-width * 0.96, radius * 0.3),
        Vec2::new(-width * 0.96, radius * 0.88),
        Vec2::new(-width * 1.03, radius * 0.985),
        Vec2::new(-width * 1.05, radius * 0.97),
        Vec2::new(-width * 1.05, radius * 0.72),
        Vec2::new(-width * 1.12, radius * 0.66),
        Vec2::new(-width * 1.12, radius * 0.3),
    ];
    Drum {
        drum: lathe(&profile, 36, Axis::Y),
        backing: lathe(&plate, 36, Axis::Y),
    }
}

/// A ventilated disc of `radius`, its ring `width` thick, standing `inset` metres inboard of the wheel's face.
#[must_use]
pub fn disc(radius: f32, width: f32, inset: f32) -> Disc {
    let radius = held(radius, 0.05, 1.0);
    let width = held(width, 0.006, radius * 0.4);
    let inset = held(inset, width, radius);
    let middle = -inset;
    let inner = radius * 0.58;
    let plate = |side: f32| {
        let (out, ins) = (middle + side * width * 0.5, middle + side * width * 0.2);
        let corners = [
            Vec2::new(out, inner),
            Vec2::new(out, radius),
            Vec2::new(ins, radius),
            Vec2::new(ins, inner),
        ];
        lathe(&bevelled(&corners, true, width * 0.06), 40, Axis::Y)
    };
    let vane = cuboid(Vec3::new(width * 0.16, width * 0.42, radius * 0.38), 0.0);
    let vanes = vane
        .translated(Vec3::new(0.0, middle, radius * 0.79))
        .repeated(around(Axis::Y, 32, 0.0));
    Disc {
        rotor: Solid::merged(&[plate(1.0), plate(-1.0), vanes]),
        hat: hat(inner, middle, width),
        calliper: calliper(radius, width).translated(Vec3::Y * middle),
    }
}

fn hat(inner: f32, middle: f32, width: f32) -> Solid {
    let wall = (width * 0.3).min(inner * 0.1);
    let profile = [
        Vec2::new(0.0, 0.0),
        Vec2::new(0.0, inner * 0.93),
        Vec2::new(-wall * 0.5, inner * 0.97),
        Vec2::new(middle + width * 0.5, inner * 0.99),
        Vec2::new(middle + width * 0.45, inner * 1.04),
        Vec2::new(middle + width * 0.2, inner * 1.04),
        Vec2::new(middle + width * 0.2, inner * 0.99 - wall),
        Vec2::new(-wall, inner * 0.93 - wall),
        Vec2::new(-wall, 0.0),
    ];
    lathe(&profile, 40, Axis::Y)
}

/// A ring segment about -X between two radii, reaching `half` radians to both sides.
fn sector(low: f32, high: f32, half: f32) -> Vec<Vec2> {
    let mut outline = arc(Vec2::ZERO, high, PI - half, PI + half, 14);
    outline.extend(arc(Vec2::ZERO, low, PI + half * 1.04, PI - half * 1.04, 10));
    outline
}

/// A two-piston calliper on the rear of a disc whose middle plane is Y = 0.
fn calliper(radius: f32, width: f32) -> Solid {
    let (clear, body, edge) = (width * 0.68, width * 1.1, width * 0.16);
    let block = |outline: Vec<Vec2>, y: f32, thick: f32| {
        extrude(&bevelled(&outline, true, edge * 1.3), &[], thick, edge).transformed(basis(
            Vec3::Y * y,
            Vec3::X,
            -Vec3::Y,
        ))
    };
    let cheek = || sector(radius * 0.66, radius * 1.1, 0.44);
    let span = clear * 2.0 + body * 1.1;
    Solid::merged(&[
        block(cheek(), clear + body * 0.32, body * 0.64),
        block(cheek(), -clear - body * 0.55, body * 1.1),
        block(sector(radius * 1.03, radius * 1.16, 0.36), -body * 0.2, span),
        pistons(radius, width).translated(Vec3::Y * -(clear + body * 1.05)),
    ])
}

/// The bosses of two pistons and the heads of two pins on the plane Y = 0, standing out to -Y.
fn pistons(radius: f32, width: f32) -> Solid {
    let at = |angle: f32, out: f32| {
        let seen = Vec2::from_angle(PI + angle) * radius * out;
        basis(Vec3::new(seen.x, 0.0, -seen.y), Vec3::X, -Vec3::Y)
    };
    let bore = radius * 0.115;
    let boss = [(0.0, 0.0), (0.0, bore), (0.5, bore), (0.62, bore * 0.8), (0.62, 0.0)];
    let piston = lathe(&boss.map(|(up, out)| Vec2::new(width * up, out)), 24, Axis::Z);
    let pin = bolt_head(radius * 0.07);
    Solid::merged(&[
        piston.repeated([at(0.2, 0.85), at(-0.2, 0.85)]),
        pin.repeated([at(0.36, 1.04), at(-0.36, 1.04)]),
    ])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_drum_is_closed_and_has_its_size() {
        let brake = drum(0.15, 0.08);
        check::closed(&brake.drum);
        check::closed(&brake.backing);
        check::boxed(
            &brake.drum,
            Vec3::new(-0.15, -0.08, -0.15),
            Vec3::new(0.15, 0.0, 0.15),
            1e-3,
        );
    }

    #[test]
    fn a_disc_is_closed_and_has_its_size() {
        let brake = disc(0.16, 0.024, 0.05);
        [&brake.rotor, &brake.hat, &brake.calliper]
            .into_iter()
            .for_each(check::closed);
        check::boxed(
            &brake.rotor,
            Vec3::new(-0.16, -0.062, -0.16),
            Vec3::new(0.16, -0.038, 0.16),
            1e-3,
        );
        assert!(brake.calliper.bounds().1.x < 0.0);
    }

    #[test]
    fn silly_brakes_do_no_harm() {
        for size in [0.0, -1.0, 1e9] {
            check::sound(&drum(size, size).drum);
            let brake = disc(size, size, size);
            [&brake.rotor, &brake.hat, &brake.calliper]
                .into_iter()
                .for_each(check::sound);
        }
    }
}
