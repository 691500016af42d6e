//! What holds the axle sideways, and how level it is.

use linkage::Configuration;
use nalgebra::Point3;

use crate::mechanism::{Part, RearEnd};
use crate::setup::{BarEnd, BarId, Mount, Role, Setup, Side};
use crate::travel::{Travel, pose};

/// Bars within this of level are level: half a sixteenth of an inch.
pub const LEVEL_M: f64 = 0.0008;

/// The height at which a sideways bar is meant to be level.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LevelAt {
    /// Midway between laid out and full lift: the axle is at the same place at both.
    HalfTravel,
    /// At ride height: the axle moves least around it.
    Ride,
}

impl LevelAt {
    /// That height on this truck.
    #[must_use]
    pub fn height_m(self, setup: &Setup) -> f64 {
        match self {
            Self::HalfTravel => setup.travel.half_m(),
            Self::Ride => setup.travel.ride_m,
        }
    }
}

/// How far a sideways bar is out of level, frame end above axle end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Levelness {
    /// The bar.
    pub bar: BarId,
    /// At half travel; `None` if that height is not reached.
    pub at_half_m: Option<f64>,
    /// At ride height.
    pub at_ride_m: f64,
}

/// The levelness of every single bar that runs across.
#[must_use]
pub fn levelness(setup: &Setup, rear_end: &RearEnd, travel: &Travel) -> Vec<Levelness> {
    let half = pose(setup, rear_end, travel, setup.travel.half_m(), 0.0).ok();
    let across = setup.bars.iter().enumerate().filter(|(_, b)| b.role == Role::Sideways);
    across
        .filter_map(|(i, _)| {
            let bar = BarId(i);
            let at_ride_m = out_of_level(setup, rear_end, bar, &rear_end.ride)?;
            let at_half_m = half.and_then(|row| out_of_level(setup, rear_end, bar, &row.at));
            Some(Levelness {
                bar,
                at_half_m,
                at_ride_m,
            })
        })
        .collect()
}

fn out_of_level(setup: &Setup, rear_end: &RearEnd, bar: BarId, at: &Configuration) -> Option<f64> {
    let [frame, axle] = rear_end.ends_in_frame(setup, Part::Bar(bar, Side::Drawn), at)?;
    Some(frame.z - axle.z)
}

/// Where the frame mount has to go so that the bar is level at a height; `None` if that height is not reached.
#[must_use]
pub fn levelled(
    setup: &Setup,
    rear_end: &RearEnd,
    travel: &Travel,
    bar: BarId,
    at: LevelAt,
) -> Option<(Mount, Point3<f64>)> {
    let row = pose(setup, rear_end, travel, at.height_m(setup), 0.0).ok()?;
    let axle_end = row.at.to_ground(setup.bar(bar)?.mount_in_axle);
    let mount = Mount::Bar {
        bar,
        end: BarEnd::Frame,
        side: Side::Drawn,
    };
    let now = setup.mount(mount)?.point;
    Some((mount, Point3::new(now.x, now.y, axle_end.z)))
}

/// The length by which a pair of bars acts in pure ride: front to rear hinge axis, seen from the side.
///
/// For a mirrored pair the hinge axes run straight across, and the distance is `sqrt(L^2 - dy^2)`.
#[must_use]
pub fn effective_length_m(setup: &Setup, bar: BarId) -> Option<f64> {
    let b = setup.bar(bar)?;
    let along = b.mount_in_frame - setup.drawn().to_ground(b.mount_in_axle);
    Some(along.x.hypot(along.z))
}
