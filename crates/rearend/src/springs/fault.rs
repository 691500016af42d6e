//! What may be wrong with springs.

use super::{Load, Rooms, Stand};

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// A spring gets no shorter as the wheel rises.
    CarriesNothing {
        /// The motion ratio.
        motion_ratio: f64,
    },
    /// A spring is closed up, or pulled out, before the travel ends.
    RunsOut {
        /// Which end it comes to.
        end: End,
        /// By how much, at most.
        by_m: f64,
        /// What is left before its other end, at the least; less than nothing where that is passed too.
        other_m: f64,
        /// The height at which it comes to its end, both wheels alike; none where it does only with one wheel up.
        from_m: Option<f64>,
        /// The roll where it is worst.
        roll_rad: f64,
    },
    /// The bump stop against laid out and the springs' collapse.
    BumpStop {
        /// The ride height at which it meets the axle.
        meets_at_m: f64,
        /// What is wrong with that.
        trouble: BumpTrouble,
    },
    /// Where coilovers hold the truck, as they are set.
    Stands {
        /// Where.
        stand: Stand,
        /// How far the collars would have to press the coils together, fully extended, to hold it at ride height.
        preload_m: f64,
    },
    /// No preload puts the truck at ride height: the coil would hang loose at full extension, by this much.
    CoilLoose {
        /// The gap there.
        by_m: f64,
    },
    /// The coil would be pressed to this length and less.
    CoilShort {
        /// Its length where the damper is shortest in the travel.
        left_m: f64,
        /// As part of its free length.
        left_of_free: f64,
    },
    /// The pressure that carries the corner is not one the air spring may have.
    Pressure {
        /// How much it would take.
        pressure_pa: f64,
        /// Which limit it passes.
        limit_pa: f64,
    },
    /// At a height that matters, the air spring's chart says nothing.
    OffChart {
        /// The length there.
        length_m: f64,
        /// The nearest that the chart knows.
        chart_m: f64,
    },
    /// How the corner bounces.
    Frequency {
        /// As bounces a second.
        frequency_hz: f64,
    },
    /// Nothing is wrong.
    Well(Summary),
}

/// An end of a spring's own travel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// As short as it can be.
    Collapsed,
    /// As long as it can be.
    Extended,
}

/// What is wrong with a bump stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BumpTrouble {
    /// It holds the truck above laid out.
    AboveLaidOut,
    /// The truck drives on it.
    AtRide,
    /// The springs are closed up before it is met, at this height.
    AfterSprings {
        /// The height.
        collapse_m: f64,
    },
}

/// Springs with which nothing is wrong, at ride height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// What is left at both ends, through the level travel and with one wheel up at ride height.
    pub rooms: Rooms,
    /// At ride height.
    pub motion_ratio: f64,
    /// What it carries there.
    pub load: Load,
}
