//! Tyres and rims. The wheel's axis is Y, its centre plane Y = 0, and its outboard side +Y.

use super::{Axis, Solid, Soup, around, held, lathe};
use bevy::math::{Vec2, Vec3};

/// The dimensions of a tyre, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreShape {
    /// Radius over the tread.
    pub outer_radius: f32,
    /// Section width, sidewall to sidewall.
    pub width: f32,
    /// Radius of the bead seat.
    pub rim_radius: f32,
}

impl TyreShape {
    /// The rim width that suits the tyre, metres between the lips.
    #[must_use]
    pub fn rim_width(&self) -> f32 {
        self.sane().width * 0.78
    }

    /// The shape with dimensions that a tyre can have.
    #[must_use]
    pub fn sane(&self) -> TyreShape {
        let outer_radius = held(self.outer_radius, 0.1, 2.0);
        let rim_radius = held(self.rim_radius, outer_radius * 0.25, outer_radius * 0.85);
        TyreShape {
            outer_radius,
            rim_radius,
            width: held(self.width, 0.05, outer_radius * 1.5),
        }
    }

    fn height(&self) -> f32 {
        self.outer_radius - self.rim_radius
    }

    fn tread_depth(&self) -> f32 {
        (self.height() * 0.085).min(0.014)
    }

    /// Radius of the tread's top at `across` metres from the centre plane.
    fn crown(&self, across: f32) -> f32 {
        let share = across / (self.width * 0.5);
        self.outer_radius - self.height() * (0.05 * share.powi(2) + 0.03 * share.powi(6))
    }
}

/// How many times the tread pattern repeats round the tyre.
const PITCHES: usize = 36;

/// A tyre with a block tread and bulging sidewalls.
#[must_use]
pub fn tyre(shape: &TyreShape) -> Solid {
    let shape = shape.sane();
    let mut whole = lathe(&carcass(&shape), 44, Axis::Y);
    for row in &ROWS {
        let block = tread_block(&shape, row);
        whole.merge(&block.repeated(around(Axis::Y, PITCHES, row.start / PITCHES as f32)));
    }
    let mark = sidewall_mark(&shape);
    let marks: Vec<_> = (0..2)
        .flat_map(|side| (0..7).map(move |step| side as f32 * 0.5 + step as f32 * 0.0125))
        .collect();
    for at in marks {
        let placed = mark.repeated(around(Axis::Y, 1, at));
        whole.merge(&placed);
        whole.merge(&placed.mirrored_y());
    }
    whole
}

/// One row of tread blocks: where its pieces lie, in half widths and tread depths, and how it leans.
struct Row {
    /// (half widths from the centre plane, tread depths below the crown) along the top of a block.
    top: &'static [(f32, f32)],
    /// Where in a pitch the row starts.
    start: f32,
    /// Share of a pitch that is rubber.
    fill: f32,
    /// How far the block leans along the tread, in pitches over its width.
    lean: f32,
}

const ROWS: [Row; 5] = [
    Row {
        top: &[(-0.14, 0.0), (0.14, 0.0)],
        start: 0.0,
        fill: 0.8,
        lean: 0.5,
    },
    Row {
        top: &[(0.20, 0.0), (0.46, 0.0)],
        start: 0.35,
        fill: 0.78,
        lean: -0.45,
    },
    Row {
        top: &[(-0.46, 0.0), (-0.20, 0.0)],
        start: 0.85,
        fill: 0.78,
        lean: -0.45,
    },
    Row {
        top: &[(0.53, 0.0), (0.85, 0.2), (0.975, 2.0)],
        start: 0.1,
        fill: 0.7,
        lean: 0.12,
    },
    Row {
        top: &[(-0.975, 2.0), (-0.85, 0.2), (-0.53, 0.0)],
        start: 0.6,
        fill: 0.7,
        lean: 0.12,
    },
];

fn tread_block(shape: &TyreShape, row: &Row) -> Solid {
    let (half, depth) = (shape.width * 0.5, shape.tread_depth());
    let pitch = std::f32::consts::TAU / PITCHES as f32;
    let (first, last) = (row.top[0].0, row.top[row.top.len() - 1].0);
    let (middle, span) = ((first + last) * 0.5, (last - first).max(0.01));
    let point = |(across, below): (f32, f32), side: f32, sunk: f32| {
        let spread = row.fill * 0.5 * pitch * (0.9 + 0.1 * sunk);
        let angle = pitch * row.lean * (across - middle) / span + side * spread;
        let pulled = across * (1.0 - 0.012 * (1.0 - sunk))
            - sunk * 0.03 * across.signum() * f32::from(u8::from(across.abs() > 0.9));
        let radius = shape.crown(across * half) - depth * (below + 1.35 * sunk);
        Vec3::new(radius * angle.sin(), pulled * half, radius * angle.cos())
    };
    let ring = |side: f32| {
        let top = row.top.iter().map(|at| point(*at, side, 0.0));
        top.chain(row.top.iter().rev().map(|at| point(*at, side, 1.0)))
            .collect::<Vec<_>>()
    };
    let mut soup = Soup::default();
    soup.loft(&[ring(-1.0), ring(1.0)]);
    soup.outward().solid(28.0)
}

/// A small raised bar on the outboard sidewall.
fn sidewall_mark(shape: &TyreShape) -> Solid {
    let (half, rim, tall) = (shape.width * 0.5, shape.rim_radius, shape.height());
    let at = |turn: f32, (across, height): (f32, f32), out: f32| {
        let radius = rim + height * tall;
        Vec3::new(radius * turn.sin(), across * half + out, radius * turn.cos())
    };
    let lift = tall * 0.008;
    let ring = |turn: f32, height: (f32, f32)| {
        vec![
            at(turn, height, lift),
            at(turn, height, -lift * 4.0),
            at(-turn, height, -lift * 4.0),
            at(-turn, height, lift),
        ]
    };
    let mut soup = Soup::default();
    soup.loft(&[
        ring(0.028, (0.968, 0.695)),
        ring(0.028, (0.987, 0.61)),
        ring(0.028, (0.999, 0.51)),
    ]);
    soup.outward().solid(28.0)
}

/// The tyre without its tread blocks: (across, radius) once round the section.
fn carcass(shape: &TyreShape) -> Vec<Vec2> {
    let (half, rim, tall) = (shape.width * 0.5, shape.rim_radius, shape.height());
    let floor = |share: f32| Vec2::new(share * half, shape.crown(share * half) - shape.tread_depth());
    let side = |share: f32, height: f32| Vec2::new(share * half, rim + height * tall);
    let outside = [
        floor(0.0),
        floor(0.7),
        floor(0.84),
        side(0.905, 0.845),
        side(0.945, 0.76),
        side(0.975, 0.66),
        side(0.993, 0.57),
        side(1.0, 0.47),
        side(0.988, 0.37),
        side(0.975, 0.34),
        side(0.955, 0.275),
        side(0.925, 0.20),
        side(0.935, 0.175),
        side(0.915, 0.135),
        side(0.86, 0.105),
        side(0.775, 0.0),
        side(0.62, 0.0),
        side(0.90, 0.42),
        side(0.70, 0.80),
    ];
    let mirrored = outside.iter().skip(1).rev().map(|p| Vec2::new(-p.x, p.y));
    let inside_middle = side(0.0, 0.84);
    outside.iter().copied().chain([inside_middle]).chain(mirrored).collect()
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    const TYRE: TyreShape = TyreShape {
        outer_radius: 0.38,
        width: 0.26,
        rim_radius: 0.216,
    };

    #[test]
    fn a_tyre_is_closed_and_has_its_size() {
        let tyre = tyre(&TYRE);
        check::closed(&tyre);
        check::boxed(&tyre, Vec3::new(-0.38, -0.13, -0.38), Vec3::new(0.38, 0.13, 0.38), 2e-3);
        assert!(tyre.triangle_count() < 13_000, "{}", tyre.triangle_count());
    }

    #[test]
    fn silly_tyres_do_no_harm() {
        for size in [0.0, -1.0, 1e9] {
            check::sound(&tyre(&TyreShape {
                outer_radius: size,
                width: size,
                rim_radius: size,
            }));
        }
        check::sound(&tyre(&TyreShape {
            outer_radius: 0.3,
            width: 0.2,
            rim_radius: 0.4,
        }));
    }
}
