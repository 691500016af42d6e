//! The tape sheet: everything about the truck that a person measures, in the order they take it, and where the tape goes.
//!
//! Each measure reads its value off a setup and puts a new one in. What nobody has measured yet stands at a sensible value and is shown as
//! assumed; the setup remembers which ones were taken.

mod axle;
mod body;
mod first;
mod frame;
mod in_the_way;
mod range;
mod shaft;
mod spring;
mod usual;
mod ways;
mod wheel;

use nalgebra::Point3;
use thiserror::Error;

use crate::setup::Setup;
use crate::tape::Dimension;
use crate::tyres::TyreSize;

pub use in_the_way::{straight_tube, usual_box, usual_tube};
pub use range::Range;
pub use usual::Described;

/// A view of the truck, for the picture of where the tape goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// From behind.
    Rear,
    /// From the left.
    Left,
    /// From above.
    Top,
}

/// Where the tape goes.
#[derive(Clone, Copy, Debug)]
pub enum Sketch {
    /// From one point to another, frame coordinates, axle at ride height.
    Tape {
        /// Seen from where.
        side: Side,
        /// From here to there.
        ends: fn(&Setup) -> [Point3<f64>; 2],
    },
    /// A protractor against what runs through a point, seen from the left.
    Protractor {
        /// What it is held to.
        at: fn(&Setup) -> Point3<f64>,
        /// How steep that runs, + nose up.
        slope_rad: fn(&Setup) -> f64,
    },
    /// Read off a label, a scale or a chart.
    Label {
        /// What it says it is on.
        at: fn(&Setup) -> Point3<f64>,
    },
}

/// One thing to measure.
#[derive(Clone, Copy, Debug)]
pub struct Measure {
    /// What the file calls it.
    pub key: &'static str,
    /// What the sheet calls it.
    pub name: &'static str,
    /// Where to hold the tape, in words.
    pub how: &'static str,
    /// What it measures.
    pub dimension: Dimension,
    /// In a picture.
    pub sketch: Sketch,
    read: fn(&Setup) -> Option<f64>,
    put: fn(&mut Setup, f64),
}

impl PartialEq for Measure {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

/// A part of the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Section {
    /// Its heading.
    pub title: &'static str,
    /// What has to be described before its measures mean anything.
    pub needs: Option<Described>,
    /// Its measures, in order.
    pub measures: &'static [Measure],
}

/// The whole sheet. The first section is enough to start with.
pub const SHEET: &[Section] = &[
    Section {
        title: "First ten: enough to start",
        needs: None,
        measures: first::MEASURES,
    },
    Section {
        title: "Frame",
        needs: None,
        measures: frame::MEASURES,
    },
    Section {
        title: "Front of the truck",
        needs: Some(Described::Front),
        measures: frame::FRONT,
    },
    Section {
        title: "Weight and balance",
        needs: Some(Described::Balance),
        measures: frame::BALANCE,
    },
    Section {
        title: "Axle",
        needs: None,
        measures: axle::MEASURES,
    },
    Section {
        title: "Wheels and tyres",
        needs: None,
        measures: wheel::MEASURES,
    },
    Section {
        title: "Driveshaft",
        needs: Some(Described::Driveline),
        measures: shaft::MEASURES,
    },
    Section {
        title: "Springs",
        needs: Some(Described::Springs),
        measures: spring::MEASURES,
    },
    Section {
        title: "Body over the wheels",
        needs: Some(Described::Body),
        measures: body::MEASURES,
    },
];

/// A value that cannot be put in.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MeasureError {
    /// There is no such measure.
    #[error("nothing on the tape sheet is called \"{0}\"")]
    Unknown(String),
    /// What it is a measure of is not described.
    #[error("{0} means nothing here yet: describe what it belongs to first")]
    NotDescribed(&'static str),
}

impl Measure {
    /// The measure that a file calls by this key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<&'static Self> {
        all().find(|m| m.key == key)
    }

    /// Its value, SI and radians; none where what it belongs to is not described.
    #[must_use]
    pub fn value(&self, setup: &Setup) -> Option<f64> {
        (self.read)(setup)
    }

    /// True once somebody has taken it.
    #[must_use]
    pub fn is_taken(&self, setup: &Setup) -> bool {
        setup.measured.iter().any(|key| key == self.key)
    }

    /// The setup with another value, and this measure among those taken. It may make no sense as a whole; validate it.
    ///
    /// # Errors
    /// Where what it belongs to is not described.
    pub fn taken(&self, setup: &Setup, value: f64) -> Result<Setup, MeasureError> {
        if self.value(setup).is_none() {
            return Err(MeasureError::NotDescribed(self.name));
        }
        let mut next = setup.clone();
        (self.put)(&mut next, value);
        if !self.is_taken(setup) {
            next.measured.push(self.key.to_owned());
        }
        heights_make_way(&mut next, self.key);
        Ok(next)
    }
}

/// Two inches: the least that an assumed height keeps from a measured one.
const APART_M: f64 = 0.0508;

/// Heights rise from laid out over ride to full lift. One that nobody has measured makes way for the one that was.
fn heights_make_way(setup: &mut Setup, measured: &str) {
    if !["ride_height", "laid_out", "full_lift"].contains(&measured) {
        return;
    }
    let is_assumed = |setup: &Setup, key: &str| key != measured && !setup.measured.iter().any(|taken| taken == key);
    if is_assumed(setup, "ride_height") {
        let (low_m, high_m) = (setup.travel.laid_out_m + APART_M, setup.travel.full_lift_m - APART_M);
        if low_m <= high_m {
            setup.travel.ride_m = setup.travel.ride_m.clamp(low_m, high_m);
        } else if measured == "laid_out" {
            setup.travel.ride_m = setup.travel.ride_m.max(low_m);
        } else {
            setup.travel.ride_m = setup.travel.ride_m.min(high_m);
        }
    }
    if is_assumed(setup, "laid_out") {
        setup.travel.laid_out_m = setup.travel.laid_out_m.min((setup.travel.ride_m - APART_M).max(0.0));
    }
    if is_assumed(setup, "full_lift") {
        setup.travel.full_lift_m = setup.travel.full_lift_m.max(setup.travel.ride_m + APART_M);
    }
}

/// Puts a tyre of this size on: its measures count as taken, the loaded radius is a suggestion again.
pub fn fit_tyre(setup: &mut Setup, size: &TyreSize) {
    setup.wheels = size.fitted(&setup.wheels);
    setup.measured.retain(|key| key != "loaded_radius");
    for key in ["tyre", "tyre_width", "rim"] {
        if !setup.measured.iter().any(|taken| taken == key) {
            setup.measured.push(key.to_owned());
        }
    }
}

/// Every measure of the sheet, in order.
pub fn all() -> impl Iterator<Item = &'static Measure> {
    SHEET.iter().flat_map(|section| section.measures)
}

/// How many of the first section are taken, and how many there are.
#[must_use]
pub fn first_taken(setup: &Setup) -> (usize, usize) {
    let first = SHEET.first().map_or(&[][..], |section| section.measures);
    (first.iter().filter(|m| m.is_taken(setup)).count(), first.len())
}

/// A point of the axle at ride height, frame coordinates.
fn on_axle(setup: &Setup, x: f64, y: f64, z: f64) -> Point3<f64> {
    setup.drawn().to_ground(Point3::new(x, y, z))
}

/// The ground under a station at ride height.
fn ground(setup: &Setup, x: f64, y: f64) -> Point3<f64> {
    Point3::new(x, y, -setup.travel.ride_m)
}

/// Outside of the left rail.
fn rail_y(setup: &Setup) -> f64 {
    setup.rails.spacing_m / 2.0
}
