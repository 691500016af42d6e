//! What meets the ground first, and how high things stand over it with the frame raked.
//!
//! The ground is level and the frame stands over it as it does at a height of the travel, both wheels level: the rails' underside at that
//! height over the axle line, pitched by the rake. Looked at are
//! - the rails' underside at both ends, where a kick-up begins and ends, and over the front axle where the front's heights are given (the
//!   frame goes on to there, though it is not shown). In between it runs straight or higher; crossmembers lie within the rails' height;
//! - both ends of every bar, arm and Watt's link, as low as their tube: brackets are no lower than what they hold;
//! - the axle's centre section, a ball about the tubes' axis at the pinion, as large against the tubes as it is drawn;
//! - both ends of the shaft, with its carrier bearing, as low as its tube, and the springs' mounts as points.
//!
//! Tyres stand on the ground, so what the axle carries comes no lower with the frame, except by turning.

mod low;

use crate::answers::Solved;
use crate::setup::{Front, Setup};
use crate::travel::Row;

pub use low::{Low, RailSpot};

/// Something low, and how high it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stands {
    /// What it is.
    pub what: Low,
    /// Its lowest point above the ground; less than nothing is in it.
    pub over_ground_m: f64,
    /// How far it stands from the middle of the frame.
    pub aside_m: f64,
}

/// Everything low at one height.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Ride height.
    pub height_m: f64,
    /// Pitch of the frame, + front up.
    pub rake_rad: f64,
    /// Lowest first.
    pub parts: Vec<Stands>,
}

impl Standing {
    /// At a pose with both wheels level.
    #[must_use]
    pub fn of(setup: &Setup, solved: &Solved, row: &Row) -> Self {
        let level = Level::at(setup, row.height_m);
        let mut parts = low::all(setup, solved, &row.at, &level);
        parts.sort_by(|a, b| a.over_ground_m.total_cmp(&b.over_ground_m));
        Self {
            height_m: row.height_m,
            rake_rad: level.rake_rad,
            parts,
        }
    }

    /// The lowest of all.
    #[must_use]
    pub fn lowest(&self) -> Option<&Stands> {
        self.parts.first()
    }

    /// What touches next after the lowest; its twin on the other side is the same thing.
    #[must_use]
    pub fn next(&self) -> Option<&Stands> {
        let lowest = self.lowest()?;
        self.parts.iter().find(|s| !s.what.is_like(lowest.what))
    }

    /// What comes lowest below its scrub line, and by how much. With a tyre flat the rim's edge stands on the ground: the line from there to
    /// where the other tyre stands is the lowest anything may hang, whichever tyre it is. Common practice, at ride height.
    #[must_use]
    pub fn below_scrub_line(&self, setup: &Setup) -> Option<(Stands, f64)> {
        let rim_edge_m = (setup.wheels.loaded_radius_m - setup.wheels.rim_m / 2.0).max(0.0);
        let below = |s: &Stands| (*s, scrub_m(setup, rim_edge_m, s.aside_m) - s.over_ground_m);
        let worst = self.parts.iter().map(below).max_by(|a, b| a.1.total_cmp(&b.1))?;
        (worst.1 > 0.0).then_some(worst)
    }
}

/// The higher of the two scrub lines, that from the rim's edge on the same side.
fn scrub_m(setup: &Setup, rim_edge_m: f64, aside_m: f64) -> f64 {
    let part = 0.5 + aside_m / setup.track_m().max(0.1);
    rim_edge_m * part.clamp(0.0, 1.0)
}

/// Level ground under the frame at a height.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Level {
    height_m: f64,
    rake_rad: f64,
}

impl Level {
    pub(crate) fn at(setup: &Setup, height_m: f64) -> Self {
        Self {
            height_m,
            rake_rad: setup.travel.rake_rad(height_m),
        }
    }

    /// How high a point of the frame's coordinates stands: the frame is turned by its rake about the axle line at the rail's underside.
    pub(crate) fn over_ground_m(&self, x_m: f64, z_m: f64) -> f64 {
        let (sin, cos) = self.rake_rad.sin_cos();
        self.height_m + x_m * sin + z_m * cos
    }
}

/// Ride height at which the frame comes to rest on the ground, between laid out and ride; `None` where it does not touch laid out, or is
/// in the ground at ride height still.
#[must_use]
pub fn rests_at_m(setup: &Setup) -> Option<f64> {
    let lowest = |height_m: f64| low::lowest_of_frame_m(setup, &Level::at(setup, height_m));
    let (mut low, mut high) = (setup.travel.laid_out_m, setup.travel.ride_m);
    if lowest(low) >= 0.0 || lowest(high) < 0.0 {
        return None;
    }
    // Halved to a nanometre: the rake bends the curve, but it is continuous.
    for _ in 0..40 {
        let middle = f64::midpoint(low, high);
        if lowest(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(high)
}

/// How far ahead of the axle line the frame's heights at the front are given, where they are. The wheelbase lies along the ground.
fn front_axle_x_m(setup: &Setup, level: &Level) -> Option<f64> {
    match setup.travel.front {
        Front::Heights(front) => Some(front.wheelbase_m / level.rake_rad.cos()),
        Front::Follows => None,
    }
}

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// Something stands lower than the ground.
    InGround {
        /// What does.
        lowest: Stands,
        /// Ride height there.
        height_m: f64,
        /// Where the frame comes to rest instead, where it is the frame that touches.
        rests_at_m: Option<f64>,
    },
    /// Laid out, the truck rests on something.
    Rests {
        /// On what.
        on: Stands,
        /// What touches next.
        next: Option<Stands>,
    },
    /// Laid out, nothing touches.
    Clear {
        /// The lowest.
        lowest: Stands,
    },
    /// Something hangs below the scrub line at ride height.
    BelowScrubLine {
        /// What does.
        lowest: Stands,
        /// By how much.
        below_m: f64,
    },
}

#[cfg(test)]
mod tests;
