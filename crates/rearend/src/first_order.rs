//! First-order answers at a pose: where the axle turns about, and what drive and brakes make of it.

use linkage::{Configuration, Twist, Twists};
use nalgebra::{Vector2, Vector3};

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
    /// Axle steer per rise, rad/m.
    pub ride_steer_rad_per_m: f64,
    /// Sideways movement per rise.
    pub ride_shift: f64,
    /// Slope of the line from the contact patch to the instant centre, against the ground: the rise forward that a push at the patch turns
    /// into lift. By virtual work of the patch fixed to the housing, so that it holds for any layout.
    pub patch_slope: f64,
    /// Anti-squat, 1 = 100 %; `None` without a balance.
    pub anti_squat: Option<f64>,
    /// Anti-lift under braking by the rear wheels' share, 1 = 100 %; `None` without a balance.
    pub anti_lift: Option<f64>,
}

/// Turning slower than this, rad per m of rise, counts as none: the centre would be more than a kilometre away.
const STRAIGHT_RAD_PER_M: f64 = 1e-3;

impl FirstOrder {
    /// The answers at a solved pose.
    #[must_use]
    pub fn at(setup: &Setup, rear_end: &RearEnd, at: &Configuration) -> Self {
        Self::of(setup, &rear_end.mechanism.twists(at), at)
    }

    /// The same from the twists there.
    #[must_use]
    pub fn of(setup: &Setup, twists: &Twists, at: &Configuration) -> Self {
        let height_m = setup.height_m(at.origin_in_ground.z);
        let (ride, roll) = (&twists.ride, &twists.roll);
        let patch_slope = patch_slope(setup, ride, height_m);
        // The classical textbook form: on the whole weight, drive and brake torque reacted in the housing.
        let on_weight = |share: f64| {
            setup
                .balance
                .map(|b| patch_slope * b.wheelbase_m / b.cg_height_m * share)
        };
        Self {
            instant_centre: instant_centre(twists, at),
            // Sideways velocity at height z above the axle centre: linear.y - angular.x z.
            roll_centre_m: at.origin_in_ground.z + roll.linear.y / roll.angular.x + height_m,
            roll_steer: roll.angular.z / roll.angular.x,
            ride_steer_rad_per_m: ride.angular.z,
            ride_shift: ride.linear.y,
            patch_slope,
            anti_squat: on_weight(1.0),
            anti_lift: on_weight(setup.balance.map_or(0.0, |b| b.rear_braking)),
        }
    }
}

/// A push at the patch along the ground does the work of a lift of this part of it. The patch is the point of the housing below the axle
/// centre, square to the ground, at the loaded radius.
fn patch_slope(setup: &Setup, ride: &Twist, height_m: f64) -> f64 {
    let (sin, cos) = setup.travel.rake_rad(height_m).sin_cos();
    // Front up: in the frame's coordinates the ground falls away forward.
    let (forward, up) = (Vector3::new(cos, 0.0, -sin), Vector3::new(sin, 0.0, cos));
    let patch = ride.velocity_of(up * -setup.wheels.loaded_radius_m);
    -patch.dot(&forward) / patch.dot(&up)
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
