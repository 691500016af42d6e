//! How near parts come to each other through travel and roll.
//!
//! Every part is one or a few convex shapes, fixed to the frame or moving with the axle. Two that may not meet are a pair; of each pair
//! what is wanted is the least distance over all poses, or the largest overlap, where the nearest points are, and at which height and roll.
//! [`rough`] answers from a few poses while the mouse is down; a [`Survey`] goes through all of them, a few pairs at a time, and past every
//! bracket as it will be cut.

mod distance;
mod movers;
mod notch;
mod pairs;
mod rough;
mod scene;
mod shape;
mod solids;
mod standing;
mod survey;

#[cfg(test)]
mod tests;

use nalgebra::Point3;

pub use crate::hand::Hand;
use crate::setup::Setup;
pub(crate) use movers::centre_section;
pub use notch::{NotchNeeded, notch_for};
pub use rough::rough;
pub(crate) use shape::Round;
pub use solids::Solid;
pub use survey::{Progress, Survey};

/// Brackets are made to fit closely: what passes one at no less than this has room, m. Common practice.
pub const BESIDE_BRACKET_M: f64 = 0.003;

/// Two things where they come nearest to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// The one that moves.
    pub a: Solid,
    /// The other, which may move too.
    pub b: Solid,
    /// Between their surfaces; negative where they overlap, by how far they would have to be pushed apart.
    pub gap_m: f64,
    /// The nearest points, on `a` and on `b`, frame coordinates.
    pub points: [Point3<f64>; 2],
    /// The height where that is.
    pub height_m: f64,
    /// The roll there.
    pub roll_rad: f64,
}

impl Near {
    /// How far the two should be apart: what the user asks for, or the little that is enough beside a bracket.
    #[must_use]
    pub fn wanted_m(&self, setup: &Setup) -> f64 {
        let user_m = setup.limits.clearance_m;
        if self.a.is_bracket() || self.b.is_bracket() {
            user_m.min(BESIDE_BRACKET_M)
        } else {
            user_m
        }
    }
}

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// Two things run into each other.
    Touches(Near),
    /// Two things come nearer than the user allows.
    Tight(Near),
    /// The axle tube comes too near to a rail, and a notch would keep it clear.
    Notch(Near, NotchNeeded),
    /// Nothing does: the pair that comes nearest.
    Clear(Near),
}
