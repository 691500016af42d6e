//! Rims. The wheel's axis is Y, its centre plane Y = 0, and its outboard side +Y.

use super::dish::{Dish, dish_of, windowed};
use super::{Axis, Solid, around, basis, bevelled, held, hex_prism, lathe};
use bevy::math::{Vec2, Vec3};

/// What the centre of a rim looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RimStyle {
    /// Pressed steel with a ring of round windows.
    Windows,
    /// Cast with six broad spokes.
    Spokes,
}

/// The dimensions of a rim, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RimShape {
    /// Radius of the bead seat.
    pub radius: f32,
    /// Width between the lips.
    pub width: f32,
    /// What the centre looks like.
    pub style: RimStyle,
    /// How far the mounting face lies outboard of the centre plane.
    pub offset: f32,
    /// How many nuts hold the wheel.
    pub lugs: usize,
}

/// The pieces of a rim.
#[derive(Clone, Default, Debug)]
pub struct Rim {
    /// The hoop that the tyre sits on.
    pub barrel: Solid,
    /// The dish or the spokes, with the hub pad.
    pub centre: Solid,
    /// The nuts and the hub cap.
    pub nuts: Solid,
}

impl RimShape {
    /// The shape with dimensions that a rim can have.
    #[must_use]
    pub fn sane(&self) -> RimShape {
        let radius = held(self.radius, 0.06, 1.5);
        let width = held(self.width, 0.05, radius * 3.0);
        let reach = (width * 0.5 - 0.02).max(0.0);
        let offset = held(self.offset, -reach, reach);
        RimShape {
            radius,
            width,
            offset,
            style: self.style,
            lugs: self.lugs.clamp(3, 12),
        }
    }

    /// Radius of the inside of the hoop where the centre joins it.
    pub(super) fn well(&self) -> f32 {
        self.radius * 0.9
    }

    pub(super) fn pad(&self) -> f32 {
        self.radius * 0.5
    }

    fn bore(&self) -> f32 {
        self.radius * 0.26
    }
}

/// A rim with its mounting face at Y = `offset`.
#[must_use]
pub fn rim(shape: &RimShape) -> Rim {
    let shape = shape.sane();
    let dish = dish_of(&shape);
    let centre = Solid::merged(&[windowed(&shape, &dish), hub_pad(&shape, &dish)]);
    Rim {
        barrel: barrel(&shape),
        centre,
        nuts: nuts(&shape, &dish),
    }
}

/// The hoop: lips, bead seats, safety humps and a drop well.
fn barrel(shape: &RimShape) -> Solid {
    let (half, r, wall) = (shape.width * 0.5, shape.radius, (shape.radius * 0.026).max(0.002));
    let lip = r * 1.062;
    let right = [
        (half + 0.004, lip - wall * 0.4),
        (half + 0.001, lip),
        (half - wall * 0.6, lip - wall * 0.3),
        (half - wall, r * 1.02),
        (half - wall * 1.8, r),
        (half * 0.72, r * 0.985),
        (half * 0.50, r * 0.935),
    ];
    let under = [
        (half * 0.48, r * 0.935 - wall),
        (half - wall * 2.0, r - wall),
        (half - wall * 0.2, r * 1.01 - wall * 0.6),
        (half + 0.004, r * 1.02),
    ];
    let point = |side: f32| move |&(across, radius): &(f32, f32)| Vec2::new(across * side, radius);
    let mut profile: Vec<Vec2> = right.iter().map(point(1.0)).collect();
    profile.extend(right.iter().rev().map(point(-1.0)));
    profile.extend(under.iter().rev().map(point(-1.0)));
    profile.extend(under.iter().map(point(1.0)));
    lathe(&profile, 44, Axis::Y)
}

/// The flat pad that the nuts bear on, with the hub bore, and the turned part of the centre round it.
fn hub_pad(shape: &RimShape, dish: &Dish) -> Solid {
    let (face, pad, bore) = (shape.offset, shape.pad(), shape.bore());
    let front = dish.front_at(pad) + shape.radius * 0.012;
    let corners = [
        Vec2::new(face, bore),
        Vec2::new(front, bore),
        Vec2::new(front, pad),
        Vec2::new(face, pad * 1.02),
    ];
    let flat = lathe(&bevelled(&corners, true, shape.radius * 0.012), 32, Axis::Y);
    let crown: Vec<Vec2> = dish
        .front
        .iter()
        .filter(|p| p.x < dish.low * 1.001)
        .map(|p| Vec2::new(p.y, p.x))
        .collect();
    if crown.len() < 3 {
        return flat;
    }
    let back = crown.iter().rev().map(|p| *p - Vec2::X * dish.thickness);
    let ring: Vec<Vec2> = crown.iter().copied().chain(back).collect();
    Solid::merged(&[flat, lathe(&ring, 40, Axis::Y)])
}

fn nuts(shape: &RimShape, dish: &Dish) -> Solid {
    let (r, bore) = (shape.radius, shape.bore());
    let front = dish.front_at(shape.pad()) + r * 0.012;
    let across = r * 0.1;
    let lie = basis(Vec3::new(0.0, front, (shape.pad() + bore) * 0.515), Vec3::Z, Vec3::Y);
    let nut = hex_prism(-0.001, r * 0.1, across).transformed(lie);
    let seat = [
        Vec2::ZERO,
        Vec2::new(0.0, across * 0.72),
        Vec2::new(r * 0.02, across * 0.62),
        Vec2::new(r * 0.02, 0.0),
    ];
    let stud = [
        Vec2::ZERO,
        Vec2::new(0.0, r * 0.03),
        Vec2::new(r * 0.13, r * 0.03),
        Vec2::new(r * 0.135, 0.0),
    ];
    let mut one = nut;
    for turned in [seat, stud] {
        one.merge(&lathe(&turned, 10, Axis::Z).transformed(lie));
    }
    let cap = [
        Vec2::new(front - r * 0.06, 0.0),
        Vec2::new(front - r * 0.06, bore * 0.97),
        Vec2::new(front + r * 0.10, bore * 0.95),
        Vec2::new(front + r * 0.125, bore * 0.86),
        Vec2::new(front + r * 0.125, bore * 0.5),
        Vec2::new(front + r * 0.15, bore * 0.44),
        Vec2::new(front + r * 0.15, 0.0),
    ];
    Solid::merged(&[one.repeated(around(Axis::Y, shape.lugs, 0.0)), lathe(&cap, 28, Axis::Y)])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    const RIM: RimShape = RimShape {
        radius: 0.216,
        width: 0.2,
        style: RimStyle::Windows,
        offset: 0.01,
        lugs: 8,
    };

    #[test]
    fn rims_are_closed() {
        for style in [RimStyle::Windows, RimStyle::Spokes] {
            let rim = rim(&RimShape { style, ..RIM });
            [&rim.barrel, &rim.centre, &rim.nuts]
                .into_iter()
                .for_each(check::closed);
            let lip = 0.216 * 1.062;
            check::boxed(
                &rim.barrel,
                Vec3::new(-lip, -0.104, -lip),
                Vec3::new(lip, 0.104, lip),
                1e-3,
            );
            assert!((rim.centre.bounds().1.x - 0.216 * 0.9 * 1.01).abs() < 2e-3);
        }
    }

    #[test]
    fn silly_rims_do_no_harm() {
        for size in [0.0, -1.0, 1e9] {
            for style in [RimStyle::Windows, RimStyle::Spokes] {
                let rim = rim(&RimShape {
                    radius: size,
                    width: size,
                    style,
                    offset: size,
                    lugs: 0,
                });
                [&rim.barrel, &rim.centre, &rim.nuts].into_iter().for_each(check::sound);
            }
        }
    }
}
