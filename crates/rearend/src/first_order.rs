//! First-order answers at a pose: where the axle turns about.

use linkage::{Configuration, Twists};
use nalgebra::Vector2;

use crate::mechanism::RearEnd;
use crate::setup::Setup;

/// The point of the axle that stands still in the side view while it rises.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum InstantCentre {
    /// Frame coordinates, m.
    At {
        /// Forward of the axle centreline at ride height.
        x_m: f64,
        /// Above the underside of the rails.
        z_m: f64,
    },
    /// The axle rises without turning; the centre is infinitely far in this direction (x, z), square to its path.
    AtInfinity {
        /// Unit vector, forward half.
        direction: Vector2<f64>,
    },
}

/// What follows from the two twists of a pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstOrder {
    /// Of the ride twist, side view.
    pub instant_centre: InstantCentre,
    /// Height above level ground where rolling moves nothing sideways, in the plane of the wheel centres.
    pub roll_centre_m: f64,
    /// Axle steer per roll: rad of heading (+ left) per rad of roll (+ left side up).
    pub roll_steer: f64,
}

/// Turning slower than this, rad per m of rise, counts as none: the centre would be more than ten kilometres away.
const STRAIGHT_RAD_PER_M: f64 = 1e-4;

impl FirstOrder {
    /// The answers at a solved pose.
    #[must_use]
    pub fn at(setup: &Setup, rear_end: &RearEnd, at: &Configuration) -> Self {
        let twists = rear_end.mechanism.twists(at);
        let height_m = setup.height_m(at.origin_in_ground.z);
        let roll = &twists.roll;
        Self {
            instant_centre: instant_centre(&twists, at),
            // Sideways velocity at height z above the axle centre: linear.y - angular.x z.
            roll_centre_m: at.origin_in_ground.z + roll.linear.y / roll.angular.x + height_m,
            roll_steer: roll.angular.z / roll.angular.x,
        }
    }
}

fn instant_centre(twists: &Twists, at: &Configuration) -> InstantCentre {
    let (v, rate) = (twists.ride.linear, twists.ride.angular.y);
    if rate.abs() < STRAIGHT_RAD_PER_M {
        let square = Vector2::new(v.z, -v.x).normalize();
        return InstantCentre::AtInfinity {
            direction: if square.x < 0.0 { -square } else { square },
        };
    }
    InstantCentre::At {
        x_m: at.origin_in_ground.x + v.z / rate,
        z_m: at.origin_in_ground.z - v.x / rate,
    }
}
