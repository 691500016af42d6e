//! From coordinates to what a tape and an angle finder read.

use nalgebra::Point3;

use crate::rail_line::{cut_share, lift_m};
use crate::setup::{Rails, Setup};

/// Nearer to the tube's centre than this there is no angle round it.
const ON_CENTRE_M: f64 = 1e-3;

/// A mount on the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrameDatums {
    /// Ahead of (+) the axle line at ride height.
    pub ahead_m: f64,
    /// Left (+) of the centre line.
    pub left_m: f64,
    /// Outside (+) or inside the outer face of the web of the rail on its side.
    pub outside_web_m: f64,
    /// Above (+) the underside of the straight part of the rails.
    pub above_straight_m: f64,
    /// Above (+) the underside of the rail at its own station; none beyond the ends of the rail, and none where a notch is cut.
    pub above_rail_m: Option<f64>,
}

impl FrameDatums {
    /// Of a point in frame coordinates.
    #[must_use]
    pub fn of(rails: &Rails, at: Point3<f64>) -> Self {
        let is_beside = (rails.rear_x_m..=rails.front_x_m).contains(&at.x);
        let is_cut = rails
            .notch
            .is_some_and(|notch| cut_share(notch.half_length_m, at.x) > 0.0);
        Self {
            ahead_m: at.x,
            left_m: at.y,
            outside_web_m: at.y.abs() - rails.spacing_m / 2.0,
            above_straight_m: at.z,
            above_rail_m: (is_beside && !is_cut).then(|| at.z - lift_m(rails, at.x)),
        }
    }
}

/// A mount on the axle, the pinion at the angle that the axle is drawn with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleDatums {
    /// Left (+) of the middle of the tube.
    pub left_m: f64,
    /// Inside (+) the wheel mounting face on its side.
    pub from_flange_m: f64,
    /// Above (+) the centre line of the tube.
    pub above_m: f64,
    /// Ahead of (+) the centre line of the tube.
    pub ahead_m: f64,
    /// From the centre line of the tube, square to it.
    pub out_m: f64,
    /// Round the tube from level forward, + up, between half a turn either way; none on the tube's centre line.
    pub clock_rad: Option<f64>,
}

impl AxleDatums {
    /// Of a point in axle coordinates.
    #[must_use]
    pub fn of(setup: &Setup, at: Point3<f64>) -> Self {
        let out_m = at.x.hypot(at.z);
        Self {
            left_m: at.y,
            from_flange_m: setup.axle.flange_to_flange_m / 2.0 - at.y.abs(),
            above_m: at.z,
            ahead_m: at.x,
            out_m,
            clock_rad: (out_m > ON_CENTRE_M).then(|| at.z.atan2(at.x)),
        }
    }
}
