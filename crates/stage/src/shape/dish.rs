//! The centre of a rim between its hub pad and its hoop, with windows or spokes.

use super::{RimShape, RimStyle, SMOOTH, Solid, Soup};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::{PI, TAU};

/// The centre between pad and hoop: how it is divided, how thick it is and where its front lies.
pub(super) struct Dish {
    windows: usize,
    /// Radius where the windowed part begins; inside it the centre is a turned piece.
    pub(super) low: f32,
    pub(super) thickness: f32,
    bevel: f32,
    /// (radius, Y of the front), outwards.
    pub(super) front: Vec<Vec2>,
    /// Window centre radius, half width, half height and how square it is (2 is an ellipse).
    window: (f32, f32, f32, f32),
    /// How much wider the window is at its outside than at its centre.
    flare: f32,
}

pub(super) fn dish_of(shape: &RimShape) -> Dish {
    match shape.style {
        RimStyle::Windows => pressed(shape),
        RimStyle::Spokes => spoked(shape),
    }
}

/// (radius, height over the mounting face) along the front of a pressed centre, both in bead seat radii.
const CROWN: [(f32, f32); 8] = [
    (0.49, 0.045),
    (0.53, 0.078),
    (0.57, 0.125),
    (0.61, 0.148),
    (0.66, 0.146),
    (0.74, 0.105),
    (0.82, 0.035),
    (0.92, -0.08),
];

fn pressed(shape: &RimShape) -> Dish {
    let r = shape.radius;
    Dish {
        windows: 8,
        low: r * 0.61,
        thickness: r * 0.03,
        bevel: r * 0.012,
        front: CROWN
            .map(|(at, out)| Vec2::new(at * r, shape.offset + out * r))
            .to_vec(),
        window: (r * 0.735, r * 0.105, r * 0.105, 2.0),
        flare: 0.0,
    }
}

fn spoked(shape: &RimShape) -> Dish {
    let (r, face) = (shape.radius, shape.offset);
    let inner = Vec2::new(r * 0.49, face + r * 0.10);
    let outer = Vec2::new(shape.well() * 1.01, (shape.width * 0.5 - r * 0.10).max(face + r * 0.08));
    let along = [(0.0, 0.0), (0.25, 0.16), (0.6, 0.52), (0.85, 0.84), (1.0, 1.0)];
    Dish {
        windows: 6,
        low: shape.pad() * 0.985,
        thickness: r * 0.10,
        bevel: r * 0.035,
        front: along
            .map(|(out, rise)| inner + (outer - inner) * Vec2::new(out, rise))
            .to_vec(),
        window: (r * 0.70, r * 0.205, r * 0.155, 4.5),
        flare: 0.42,
    }
}

impl Dish {
    /// Y of the front at a radius.
    pub(super) fn front_at(&self, radius: f32) -> f32 {
        let after = self
            .front
            .iter()
            .position(|point| point.x > radius)
            .unwrap_or(self.front.len() - 1)
            .max(1);
        let (a, b) = (self.front[after - 1], self.front[after]);
        let share = ((radius - a.x) / (b.x - a.x).max(1e-6)).clamp(0.0, 1.0);
        a.y + (b.y - a.y) * share
    }

    /// The window's edge in the direction of `toward`, as (along the rim, radius) from the window's centre.
    fn edge(&self, toward: Vec2) -> Vec2 {
        let (_, wide, tall, square) = self.window;
        let direction = toward.normalize_or(Vec2::Y);
        let mut reach = tall;
        for _ in 0..6 {
            let wide = wide * (1.0 + self.flare * (direction.y * reach / tall).clamp(-1.0, 1.0));
            let sum = (direction.x / wide).abs().powf(square) + (direction.y / tall).abs().powf(square);
            reach = (reach + sum.powf(-1.0 / square)) * 0.5;
        }
        direction * reach
    }
}

/// Steps along the inner or outer edge of a sector, and along its sides.
const ARC: usize = 6;
const SIDE: usize = 6;

/// Points round one sector, as (angle, radius): out along the left side, back along the right one.
fn border(low: f32, high: f32, half_angle: f32) -> Vec<Vec2> {
    let (arc, side) = (ARC, SIDE);
    let step = |count: usize, here: usize| here as f32 / count as f32;
    let mut points = Vec::new();
    points.extend((0..arc).map(|i| Vec2::new(half_angle * (step(arc, i) * 2.0 - 1.0), high)));
    points.extend((0..side).map(|i| Vec2::new(half_angle, high + (low - high) * step(side, i))));
    points.extend((0..arc).map(|i| Vec2::new(half_angle * (1.0 - step(arc, i) * 2.0), low)));
    points.extend((0..side).map(|i| Vec2::new(-half_angle, low + (high - low) * step(side, i))));
    points
}

pub(super) fn windowed(shape: &RimShape, dish: &Dish) -> Solid {
    let (low, high) = (dish.low, shape.well() * 1.01);
    let outline = border(low, high, PI / dish.windows as f32);
    let middle = dish.window.0;
    let hole: Vec<Vec2> = outline
        .iter()
        .map(|p| dish.edge(Vec2::new(p.x * p.y, p.y - middle)))
        .map(|edge| Vec2::new(edge.x / (middle + edge.y), middle + edge.y))
        .collect();
    let mut soup = Soup::default();
    for sector in 0..dish.windows {
        sector_faces(
            &mut soup,
            dish,
            (&outline, &hole),
            sector as f32 / dish.windows as f32 * TAU,
        );
    }
    soup.outward().solid(SMOOTH)
}

fn sector_faces(soup: &mut Soup, dish: &Dish, (outline, hole): (&[Vec2], &[Vec2]), turn: f32) {
    let place = |p: Vec2, y: f32| {
        let (sin, cos) = (p.x + turn).sin_cos();
        Vec3::new(p.y * sin, y, p.y * cos)
    };
    let ring = |share: f32, sunk: f32| {
        let between = outline.iter().zip(hole).map(move |(a, b)| a.lerp(*b, share));
        between.map(|p| place(p, dish.front_at(p.y) - sunk)).collect::<Vec<_>>()
    };
    let rim_share = 0.86;
    let rings = [
        ring(0.0, dish.thickness),
        ring(1.0, dish.thickness),
        ring(1.0, dish.bevel),
        ring(rim_share, 0.0),
        ring(0.45, 0.0),
        ring(0.0, 0.0),
    ];
    for pair in rings.windows(2) {
        soup.bridge(&pair[0], &pair[1]);
    }
    let (back, front) = (&rings[0], &rings[5]);
    for span in [0..ARC + 1, ARC + SIDE..2 * ARC + SIDE + 1] {
        soup.ribbon(&front[span.clone()], &back[span]);
    }
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn windows_leave_metal_between_them() {
        for style in [RimStyle::Windows, RimStyle::Spokes] {
            let shape = RimShape {
                radius: 0.216,
                width: 0.2,
                style,
                offset: 0.0,
                lugs: 6,
            };
            let dish = dish_of(&shape);
            check::closed(&windowed(&shape, &dish));
            let half = PI / dish.windows as f32;
            let widest = (0..60).map(|step| dish.edge(Vec2::from_angle(step as f32 * 0.1)));
            let angle = widest
                .map(|edge| (edge.x / (dish.window.0 + edge.y)).abs())
                .fold(0.0, f32::max);
            assert!(angle < half * 0.9, "{angle} {half}");
        }
    }
}
