//! The holes of the lower mount, side by side.

use linkage::Motion;

use super::{Reach, SpringPose, frequency_hz, in_series_n_per_m, preload_m, wheel_rate_n_per_m};
use crate::mechanism::RearEnd;
use crate::placed::Placed;
use crate::setup::{Setup, SpringKind, Springs};
use crate::travel::{Row, Travel};

/// What comes of bolting the springs into one of the holes. The left one speaks for both: where a
/// sideways bar pulls the axle over, the right one differs by a little.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoleFigures {
    /// Which hole, from 0.
    pub hole: usize,
    /// True for the one in use.
    pub in_use: bool,
    /// Laid out, at ride height, at full lift; `None` where the travel does not reach it.
    pub lengths_m: [Option<f64>; 3],
    /// Whether the spring can be as long as that.
    pub reaches: [Option<Reach>; 3],
    /// At ride height.
    pub motion_ratio: f64,
    /// How far a coilover's collar has to press the coil together, fully extended, to hold the truck at ride height. Less than nothing:
    /// the coil would hang loose there.
    pub preload_m: Option<f64>,
    /// What an air spring takes to hold it there.
    pub pressure_pa: Option<f64>,
    /// At ride height, carrying the corner; `None` where the spring cannot.
    pub wheel_rate_n_per_m: Option<f64>,
    /// Of the corner on that.
    pub frequency_hz: Option<f64>,
}

/// Every hole of the lower mount, in the order described; empty without springs.
#[must_use]
pub fn compare_holes(setup: &Setup, rear_end: &RearEnd, level: &Travel) -> Vec<HoleFigures> {
    let Some(springs) = &setup.springs else {
        return Vec::new();
    };
    let near = |row: &Row| (rear_end.mechanism.motion(&row.at), Placed::at(&row.at));
    let ride = near(&Row::at_ride(setup, rear_end));
    let end = |height_m: f64| {
        let row = level.nearest(height_m)?;
        ((row.height_m - height_m).abs() < REACHED_M).then(|| near(row))
    };
    let (low, high) = (end(setup.travel.laid_out_m), end(setup.travel.full_lift_m));
    let figures = |(hole, &mount)| {
        let at = |(motion, axle): &(Motion, Placed)| SpringPose::in_hole(setup, springs, mount, motion, axle);
        let poses = [low.as_ref().map(at), Some(at(&ride)), high.as_ref().map(at)];
        HoleFigures {
            hole,
            in_use: hole == springs.hole,
            lengths_m: poses.map(|p| p.map(|p| p.left.length_m)),
            reaches: poses.map(|p| p.map(|p| p.left.reach)),
            ..HoleFigures::at_ride(springs, &at(&ride))
        }
    };
    springs.holes_in_axle.iter().enumerate().map(figures).collect()
}

/// A pose within this of a height is at it.
const REACHED_M: f64 = 1e-6;

impl HoleFigures {
    /// With a coilover's collar turned until it carries the corner, not as it is set.
    fn at_ride(springs: &Springs, pose: &SpringPose) -> Self {
        let left = &pose.left;
        let preload_m = preload_m(springs, pose).filter(|_| left.reach == Reach::Within);
        let wheel_rate_n_per_m = match &springs.kind {
            SpringKind::Coilover(coilover) => preload_m.map(|preload_m| {
                let force_n = coilover.rate_n_per_m * (preload_m + coilover.extended_m - left.length_m);
                wheel_rate_n_per_m(
                    coilover.rate_n_per_m,
                    force_n,
                    left.motion_ratio,
                    left.motion_ratio_per_m,
                )
            }),
            SpringKind::Air(_) => left.load.map(|l| l.wheel_rate_n_per_m),
        };
        let on_tyre = wheel_rate_n_per_m.map(|rate| in_series_n_per_m(rate, springs.tyre_n_per_m));
        Self {
            hole: 0,
            in_use: false,
            lengths_m: [None; 3],
            reaches: [None; 3],
            motion_ratio: left.motion_ratio,
            preload_m,
            pressure_pa: left.load.and_then(|l| l.pressure_pa),
            wheel_rate_n_per_m,
            frequency_hz: on_tyre.and_then(|rate| frequency_hz(rate, springs.corner_kg)),
        }
    }
}
