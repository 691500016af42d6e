//! The springs through the travel: length, motion ratio, force, wheel rate, frequency, pressure.
//!
//! The motion ratio MR is positive where the spring gets shorter as the wheel rises: MR = -dL/dz. By virtual work a spring that presses with
//! F carries F MR at the wheel, and the slope of that is the wheel rate k MR² + F dMR/dz.

mod air;
mod coilover;
mod curve;
mod fault;
mod frequency;
mod holes;
mod line;
mod reach;

use linkage::Motion;
use nalgebra::Point3;

use crate::placed::Placed;
use crate::setup::{Setup, Side, SpringKind, Springs};
use line::Line;

pub use air::{ATMOSPHERE_PA, AirShape, EXPONENT, maker_rate_n_per_m};
pub use coilover::{Coil, Stand, preload_m, stand};
pub use curve::Curve;
pub use fault::{BumpTrouble, End, Fault, Summary};
pub use frequency::{frequency_hz, in_series_n_per_m, wheel_hop_hz};
pub use holes::{HoleFigures, compare_holes};
pub use reach::{Ends, Room, Rooms, ends, rooms};

/// Standard gravity, m/s².
pub const GRAVITY_M_PER_S2: f64 = 9.806_65;

/// A spring that moves less than this for a rise of the wheel carries nothing.
const IDLE: f64 = 1e-3;

/// Where a spring's length lies within what it can do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// Between its ends.
    Within,
    /// Shorter than it can be.
    Collapsed {
        /// By how much.
        by_m: f64,
    },
    /// Longer than it can be.
    Extended {
        /// By how much.
        by_m: f64,
    },
    /// Possible, but shorter than the first line of its chart.
    BelowChart {
        /// By how much.
        by_m: f64,
    },
    /// Possible, but longer than the last line of its chart.
    AboveChart {
        /// By how much.
        by_m: f64,
    },
}

/// What a spring carries at a length within its reach.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// What it presses with, along itself. A coilover: what its length and preload make of it. An air spring: what it takes to carry the
    /// corner here, both wheels alike.
    pub force_n: f64,
    /// What it presses with more, a length shorter. An air spring's air is shut in.
    pub rate_n_per_m: f64,
    /// Pressure that makes that force, above that of the air around; none in a coilover.
    pub pressure_pa: Option<f64>,
    /// What it carries at the wheel.
    pub wheel_force_n: f64,
    /// What that grows by, a rise of the wheel.
    pub wheel_rate_n_per_m: f64,
    /// Of the corner bouncing on it, the tyre's give included where it is known; none where the wheel rate is no more than nothing.
    pub frequency_hz: Option<f64>,
}

/// The spring on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SideSpring {
    /// Its mount on the frame, frame coordinates.
    pub top: Point3<f64>,
    /// Its mount on the axle, frame coordinates.
    pub bottom: Point3<f64>,
    /// Mount to mount.
    pub length_m: f64,
    /// Whether it can be as long as that.
    pub reach: Reach,
    /// How much it shortens per rise of the axle without roll, which both wheels follow.
    pub motion_ratio: f64,
    /// How that grows with the rise.
    pub motion_ratio_per_m: f64,
    /// How much it shortens per rise of the wheel on its side while the axle rolls about its middle: less than in ride, by as much as the
    /// spring stands inside the wheel.
    pub motion_ratio_in_roll: f64,
    /// What it carries; none out of its reach or chart, and none of an air spring that the wheel does not press on.
    pub load: Option<Load>,
}

/// Both springs at one pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpringPose {
    /// The left one.
    pub left: SideSpring,
    /// The right one.
    pub right: SideSpring,
}

impl SpringPose {
    /// At a solved pose of the axle. `None` where the setup describes no springs.
    ///
    /// Rates follow the ride twist, the path that the bars leave to the axle, and how that path bends.
    #[must_use]
    pub fn at(setup: &Setup, motion: &Motion, axle: &Placed) -> Option<Self> {
        let springs = setup.springs.as_ref()?;
        let hole = springs.mount_in_axle()?;
        Some(Self::in_hole(setup, springs, hole, motion, axle))
    }

    fn in_hole(setup: &Setup, springs: &Springs, hole: Point3<f64>, motion: &Motion, axle: &Placed) -> Self {
        // The left one is described, but nothing stops a Y of the other sign.
        let sides = if hole.y < 0.0 {
            [Side::Mirrored, Side::Drawn]
        } else {
            [Side::Drawn, Side::Mirrored]
        };
        let [left, right] = [(sides[0], 0.5), (sides[1], -0.5)].map(|(side, of_track)| {
            let (top, bottom) = (side.of(springs.mount_in_frame), side.of(hole));
            SideSpring::of(
                springs,
                &Line::of(axle, motion, top, bottom, of_track * setup.track_m()),
            )
        });
        Self { left, right }
    }

    /// Left, then right.
    #[must_use]
    pub fn sides(&self) -> [&SideSpring; 2] {
        [&self.left, &self.right]
    }
}

impl SideSpring {
    fn of(springs: &Springs, line: &Line) -> Self {
        let reach = Reach::of(&springs.kind, line.length_m);
        Self {
            top: line.top,
            bottom: line.bottom,
            length_m: line.length_m,
            reach,
            motion_ratio: line.motion_ratio,
            motion_ratio_per_m: line.motion_ratio_per_m,
            motion_ratio_in_roll: line.motion_ratio_in_roll,
            load: (reach == Reach::Within).then(|| Load::of(springs, line)).flatten(),
        }
    }
}

/// The wheel rate of a spring's rate and force: k MR² + F dMR/dz.
#[must_use]
pub fn wheel_rate_n_per_m(rate_n_per_m: f64, force_n: f64, ratio: f64, ratio_per_m: f64) -> f64 {
    rate_n_per_m * ratio * ratio + force_n * ratio_per_m
}

impl Load {
    fn of(springs: &Springs, line: &Line) -> Option<Self> {
        let (force_n, rate_n_per_m, pressure_pa) = match &springs.kind {
            SpringKind::Coilover(coilover) => {
                let coil = Coil::at(coilover, line.length_m);
                (coil.force_n, coil.rate_n_per_m, None)
            }
            SpringKind::Air(air) => {
                let shape = AirShape::at(air, line.length_m)?;
                let force_n = corner_weight_n(springs) / carrying(line.motion_ratio)?;
                let pressure_pa = shape.pressure_for_pa(force_n)?;
                (force_n, shape.rate_n_per_m(pressure_pa), Some(pressure_pa))
            }
        };
        let (ratio, ratio_per_m) = (line.motion_ratio, line.motion_ratio_per_m);
        let wheel_rate_n_per_m = wheel_rate_n_per_m(rate_n_per_m, force_n, ratio, ratio_per_m);
        let on_tyre = in_series_n_per_m(wheel_rate_n_per_m, springs.tyre_n_per_m);
        Some(Self {
            force_n,
            rate_n_per_m,
            pressure_pa,
            wheel_force_n: force_n * ratio,
            wheel_rate_n_per_m,
            frequency_hz: frequency_hz(on_tyre, springs.corner_kg),
        })
    }
}

/// What one spring has to carry at the wheel.
#[must_use]
pub fn corner_weight_n(springs: &Springs) -> f64 {
    springs.corner_kg * GRAVITY_M_PER_S2
}

/// A motion ratio that carries something.
fn carrying(motion_ratio: f64) -> Option<f64> {
    (motion_ratio > IDLE).then_some(motion_ratio)
}
