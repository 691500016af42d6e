//! Where the tyres are: sizes, axle width, and the room to lips, tubs, rails and bed floor.
//!
//! Room is measured sideways to lips, tubs and rails, of what of the tyre stands at their height, and upwards to the bed floor; less than
//! nothing is an overlap. The tyre is the solid of [`form`]; the body's pieces are planes and level edges:
//! - a lip is the lower edge of an upright panel: level, as high as the top of the wheel opening. Only what of the tyre stands higher than
//!   it can touch it. Where the tyre is longer than the opening, the panel stands beside it at all heights;
//! - a tub's inner wall is upright, above the bed floor where that is described, else at all heights; tubs sit with the body, as the lips do;
//! - a rail's outer face is upright between its underside and its top, kick-up included. A slope beside the tyre counts in its full height;
//!   the notch is not taken off. Both can only make the room told smaller;
//! - the bed floor is level; where there are tubs, none of it lies over the tyre.

mod fit;
mod form;
pub mod size;
mod tightest;
pub mod width;

use nalgebra::Point3;

use crate::placed::Placed;
use crate::rail_line::lift_m;
use crate::setup::{Body, Rails, Setup};
use form::Tyre;

pub use crate::hand::Hand;
pub use fit::{Fit, FitEnd};
pub use size::{TyreSize, TyreSizeError};
pub use tightest::{Place, Tightest, tightest};
pub use width::{AxleEnd, AxleWidth, backspacing_for_lip_gap_m};

impl Hand {
    /// Middle of the frame out to this side's lip.
    #[must_use]
    pub fn lip_m(self, body: &Body) -> f64 {
        body.lip_to_lip_m / 2.0 + self.sign() * body.lips_left_m
    }

    /// Middle of the frame out to this side's tub, where there are tubs.
    #[must_use]
    pub fn tub_m(self, body: &Body) -> Option<f64> {
        body.tub_to_tub_m
            .map(|tub_to_tub_m| tub_to_tub_m / 2.0 + self.sign() * body.lips_left_m)
    }
}

/// The room around one tyre at one pose; `None` where the thing is not described, or does not stand beside the tyre there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideGaps {
    /// To the fender lip, of what stands higher than it.
    pub lip_m: Option<f64>,
    /// The tyre's top above the lip's edge: less than nothing where the tyre stays below it.
    pub tucked_m: Option<f64>,
    /// The nearer end of the wheel opening to the tyre, lengthwise.
    pub opening_m: Option<f64>,
    /// To the rail.
    pub rail_m: Option<f64>,
    /// To the tub.
    pub tub_m: Option<f64>,
    /// The tyre's top up to the bed floor.
    pub floor_m: Option<f64>,
}

/// The room around both tyres at one pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreGaps {
    /// Around the left tyre.
    pub left: SideGaps,
    /// Around the right tyre.
    pub right: SideGaps,
}

impl TyreGaps {
    /// At a pose of the axle. The rails are always described, so there always is an answer.
    #[must_use]
    pub fn at(setup: &Setup, axle: &Placed) -> Option<Self> {
        let axis = axle.tube_axis();
        let out_m = setup.track_m() / 2.0;
        let reach_x_m = setup.wheels.tyre_m / 2.0 + out_m * axis.x.abs();
        let rail = RailBand::beside(&setup.rails, axle.origin.x, reach_x_m);
        let gaps = |side: Hand| {
            let centre = axle.origin + axis * (side.sign() * out_m);
            SideGaps::of(setup, side, &Tyre::new(&setup.wheels, centre, axis), rail)
        };
        Some(Self {
            left: gaps(Hand::Left),
            right: gaps(Hand::Right),
        })
    }

    /// Around the tyre of a side.
    #[must_use]
    pub fn side(&self, side: Hand) -> &SideGaps {
        match side {
            Hand::Left => &self.left,
            Hand::Right => &self.right,
        }
    }

    /// The least room on the inner side of either tyre: to rails and tubs.
    #[must_use]
    pub fn inner_m(&self) -> Option<f64> {
        least([self.left.rail_m, self.left.tub_m, self.right.rail_m, self.right.tub_m])
    }
}

fn least<const N: usize>(rooms: [Option<f64>; N]) -> Option<f64> {
    rooms.into_iter().flatten().min_by(f64::total_cmp)
}

impl SideGaps {
    fn of(setup: &Setup, side: Hand, tyre: &Tyre, rail: Option<RailBand>) -> Self {
        let rail_m = rail.and_then(|rail| {
            let reach_m = tyre.reach_m(-side.sign(), rail.low_z_m, rail.high_z_m)?;
            Some(-reach_m - setup.rails.spacing_m / 2.0)
        });
        let Some(body) = &setup.body else {
            return Self {
                lip_m: None,
                tucked_m: None,
                opening_m: None,
                rail_m,
                tub_m: None,
                floor_m: None,
            };
        };
        let top_z_m = tyre.top_z_m();
        let opening_m = opening_m(body, &tyre.centre, tyre.radius_m);
        let lip_from_m = if opening_m < 0.0 { f64::MIN } else { body.lip_z_m };
        let inward = -side.sign();
        Self {
            lip_m: tyre
                .reach_m(side.sign(), lip_from_m, f64::MAX)
                .map(|reach_m| side.lip_m(body) - reach_m),
            tucked_m: Some(top_z_m - body.lip_z_m),
            opening_m: Some(opening_m),
            rail_m,
            tub_m: side.tub_m(body).and_then(|wall_m| {
                let from_z_m = body.bed_floor_z_m.unwrap_or(f64::MIN);
                tyre.reach_m(inward, from_z_m, f64::MAX)
                    .map(|reach_m| -reach_m - wall_m)
            }),
            floor_m: body
                .bed_floor_z_m
                .filter(|_| body.tub_to_tub_m.is_none())
                .map(|floor_z_m| floor_z_m - top_z_m),
        }
    }
}

fn opening_m(body: &Body, centre: &Point3<f64>, radius_m: f64) -> f64 {
    body.opening_m / 2.0 - (centre.x - body.opening_x_m).abs() - radius_m
}

/// The heights between which a rail stands somewhere beside the tyres.
#[derive(Clone, Copy)]
struct RailBand {
    low_z_m: f64,
    high_z_m: f64,
}

impl RailBand {
    /// Of what lies no farther than this ahead of and behind a station; `None` where the rails end before it.
    fn beside(rails: &Rails, x_m: f64, reach_x_m: f64) -> Option<Self> {
        let (rear_x_m, front_x_m) = (
            (x_m - reach_x_m).max(rails.rear_x_m),
            (x_m + reach_x_m).min(rails.front_x_m),
        );
        if rear_x_m > front_x_m {
            return None;
        }
        let mut band = Self {
            low_z_m: 0.0,
            high_z_m: rails.height_m,
        };
        if let Some(kick) = rails.kick_up {
            // In between the rail may rise to the kick-up's level and come down again, but nowhere does it dip.
            let ends = [lift_m(rails, rear_x_m), lift_m(rails, front_x_m)];
            let level_m = lift_m(rails, kick.full_x_m.max(rear_x_m).min(front_x_m));
            band.low_z_m = ends[0].min(ends[1]);
            band.high_z_m += ends[0].max(ends[1]).max(level_m);
        }
        Some(band)
    }
}

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// The least room to something, against what is wanted.
    Room(Tightest),
    /// Everything keeps clear: the least room to each place.
    Clear(Vec<Tightest>),
    /// The tyre is longer than the wheel opening.
    Opening {
        /// By how much at most, where the axle stands farthest off.
        over_m: f64,
    },
    /// The width of axle that would give the rooms wanted.
    Fit(Fit),
}
