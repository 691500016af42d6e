//! Coils around dampers, and where they hold the truck.

use super::{IDLE, SideSpring, SpringPose, corner_weight_n};
use crate::setup::{Coilover, Setup, SpringKind, Springs};
use crate::travel::{Row, Travel};

/// A coil at a length of its damper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coil {
    /// How long it is.
    pub length_m: f64,
    /// What it presses with; nothing where it is loose.
    pub force_n: f64,
    /// Its stiffness; nothing where it is loose.
    pub rate_n_per_m: f64,
}

impl Coil {
    /// With the damper at a length: the collar presses it together by the preload where that is fully extended.
    #[must_use]
    pub fn at(coilover: &Coilover, damper_m: f64) -> Self {
        let pressed_m = coilover.preload_m + coilover.extended_m - damper_m;
        let tight = pressed_m > 0.0;
        Self {
            length_m: coilover.free_length_m - pressed_m.max(0.0),
            force_n: coilover.rate_n_per_m * pressed_m.max(0.0),
            rate_n_per_m: if tight { coilover.rate_n_per_m } else { 0.0 },
        }
    }
}

/// Where coilovers hold the truck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stand {
    /// At a height.
    At {
        /// The height.
        height_m: f64,
    },
    /// They carry too little anywhere in their reach: it goes down to its stops.
    Down,
    /// They carry too much anywhere in their reach: it goes up to the dampers' ends.
    Up,
}

/// The preload that holds the truck at a pose, both collars alike: the two forces that it makes carry both corners. Less than nothing: the
/// coils would hang loose fully extended. `None` without coilovers, or where they carry nothing.
#[must_use]
pub fn preload_m(springs: &Springs, pose: &SpringPose) -> Option<f64> {
    let SpringKind::Coilover(coilover) = &springs.kind else {
        return None;
    };
    let sum = |of: &dyn Fn(&SideSpring) -> f64| pose.sides().into_iter().map(of).sum::<f64>();
    let ratios = sum(&|s| s.motion_ratio);
    let without_m = sum(&|s| (coilover.extended_m - s.length_m) * s.motion_ratio);
    (ratios > IDLE).then(|| (2.0 * corner_weight_n(springs) / coilover.rate_n_per_m - without_m) / ratios)
}

/// Where the truck stands on its coilovers as they are set; `None` without any, or where no pose is within their reach.
#[must_use]
pub fn stand(setup: &Setup, level: &Travel) -> Option<Stand> {
    let springs = setup.springs.as_ref()?;
    if !matches!(springs.kind, SpringKind::Coilover(_)) {
        return None;
    }
    let weight_n = 2.0 * corner_weight_n(springs);
    let over = |row: &Row| Some((row.height_m, carried_n(row)? - weight_n));
    let poses = || level.rows.iter().filter_map(over);
    // Where it is too much below and too little above, the truck comes back to.
    let crossings = poses()
        .zip(poses().skip(1))
        .filter(|(low, high)| low.1 >= 0.0 && high.1 < 0.0);
    let heights = crossings.map(|(low, high)| low.0 + (high.0 - low.0) * low.1 / (low.1 - high.1));
    let off = |h: f64| (h - setup.travel.ride_m).abs();
    let nearest = heights.min_by(|a, b| off(*a).total_cmp(&off(*b)));
    match (nearest, poses().next()) {
        (Some(height_m), _) => Some(Stand::At { height_m }),
        (None, Some((_, over_n))) if over_n < 0.0 => Some(Stand::Down),
        (None, Some(_)) => Some(Stand::Up),
        (None, None) => None,
    }
}

/// What both springs carry at the wheels.
fn carried_n(row: &Row) -> Option<f64> {
    let pose = row.spring.as_ref()?;
    Some(pose.left.load?.wheel_force_n + pose.right.load?.wheel_force_n)
}
