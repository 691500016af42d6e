//! Bolts: what they clamp, and how long they are bought so that no thread lies where a plate shears them.
//!
//! From under its head a bolt goes through a washer, the plate on that side, what lies between the plates, the plate at the nut, the washers
//! under the nut, and the nut. With d its diameter, all lengths from under the head:
//!
//! - grip = two plates and what lies between them, washers left out;
//! - needed = grip + 2 washers + nut + a thread that shows, of 0.2 d, 1.25 d and d / 6;
//! - plain shank = length less thread, thread = 2 d + 1/4 in and such, by [`Series::thread_m`];
//! - the plain shank reaches half way through the plate at the nut: plain shank >= washer + grip - plate / 2;
//! - the nut stops where the plain shank does: washers under the nut until head's washer + grip + those >= plain shank.
//!
//! The length is the shortest one sold that is no less than needed and has so much plain shank. Since any thread is longer than nut, one
//! washer and the thread that shows, what is made up with washers never runs out of thread.

use crate::brackets::crank_gap_m;
use crate::setup::Steel;
use crate::tape::Units;

/// Thickness of a washer in diameters of its bolt: common practice, and no less than ISO 7089's 3 mm for M20.
pub const WASHER_IN_BOLTS: f64 = 0.2;

/// Height of a lock nut in diameters of its bolt: ASME B18.16.6 has 0.468 in for 3/8 in, 0.765 for 5/8 and 0.890 for 3/4, with a nylon ring.
pub const NUT_IN_BOLTS: f64 = 1.25;

/// The thread that shows past the nut in diameters of its bolt: a pitch of 3/8-16, the coarsest for its size from there up.
pub const SHOWS_IN_BOLTS: f64 = 1.0 / 6.0;

const INCH_M: f64 = 0.0254;

/// Sizes of metric bolts: ISO 262 from M6 up, those that are bought.
const METRIC_MM: [f64; 14] = [
    6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 27.0, 30.0, 33.0, 36.0,
];

/// A bolt this near to a whole sixteenth of an inch, or to a metric size, is one of that size: what a file in tenths of a millimetre
/// rounds is, and an M16 bolt is none of 5/8 in.
const NAMED_M: f64 = 6e-5;

/// Lengths that differ by less are one.
const SAME_M: f64 = 1e-8;

/// More washers than anybody puts under a nut.
const MOST_WASHERS: u32 = 1000;

/// What a bolt is made to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Series {
    /// ASME B18.2.1.
    Inch,
    /// ISO 4014.
    Metric,
}

/// A bolt with its washers, as it is bought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bolt {
    /// What it is made to.
    pub series: Series,
    /// Its diameter, m.
    pub bolt_m: f64,
    /// Both plates and all that is clamped between them, washers left out, m.
    pub grip_m: f64,
    /// Its length under the head, m.
    pub length_m: f64,
    /// How much of that is plain shank, m.
    pub plain_m: f64,
    /// Washers under its nut; one more is under its head.
    pub washers_at_nut: u32,
}

impl Series {
    /// By a bolt's diameter, the size that is nearest; where it is no size of either, by the sheet's units.
    #[must_use]
    pub fn of(bolt_m: f64, units: Units) -> Self {
        let sixteenth_m = INCH_M / 16.0;
        let off_inch_m = ((bolt_m / sixteenth_m).round() * sixteenth_m - bolt_m).abs();
        let off = METRIC_MM.iter().map(|mm| (mm / 1e3 - bolt_m).abs());
        let off_metric_m = off.fold(f64::INFINITY, f64::min);
        if off_inch_m.min(off_metric_m) > NAMED_M {
            return match units {
                Units::Millimetres => Self::Metric,
                Units::Sixteenths | Units::DecimalInches => Self::Inch,
            };
        }
        if off_metric_m < off_inch_m {
            Self::Metric
        } else {
            Self::Inch
        }
    }

    /// The next length that is sold: half inches, or tens of millimetres.
    #[must_use]
    pub fn sold_m(self, needed_m: f64) -> f64 {
        let step_m = match self {
            Self::Inch => INCH_M / 2.0,
            Self::Metric => 0.01,
        };
        // What is a whole number of steps but for the last bits is that number.
        (needed_m / step_m - 1e-6).ceil() * step_m
    }

    /// Thread of a hex bolt of a diameter and a length: ASME B18.2.1 has 2 d + 1/4 in up to 6 in long and 2 d + 1/2 in beyond, ISO 4014
    /// 2 d + 6 mm up to 125 mm, 2 d + 12 up to 200 and 2 d + 25 beyond.
    #[must_use]
    pub fn thread_m(self, bolt_m: f64, length_m: f64) -> f64 {
        let is_up_to = |(most_m, _): &&(f64, f64)| length_m <= most_m + SAME_M;
        let more_m = self.threads().iter().find(is_up_to).map_or(0.0, |(_, more_m)| *more_m);
        2.0 * bolt_m + more_m
    }

    /// Up to what length how much more than two diameters is thread.
    fn threads(self) -> &'static [(f64, f64)] {
        match self {
            Self::Inch => &[(6.0 * INCH_M, INCH_M / 4.0), (f64::INFINITY, INCH_M / 2.0)],
            Self::Metric => &[(0.125, 0.006), (0.2, 0.012), (f64::INFINITY, 0.025)],
        }
    }
}

impl Bolt {
    /// Through the side plates of a bracket, or through a Watt's crank.
    #[must_use]
    pub fn through(steel: &Steel, units: Units) -> Self {
        Self::across(steel, steel.gap_m, units)
    }

    /// A Watt's pivot: the crank's two plates, its spacer tube and the washers beside it are clamped besides the bracket's plates.
    #[must_use]
    pub fn of_pivot(steel: &Steel, units: Units) -> Self {
        Self::across(steel, crank_gap_m(steel), units)
    }

    fn across(steel: &Steel, gap_m: f64, units: Units) -> Self {
        let (bolt_m, washer_m) = (steel.bolt_m, WASHER_IN_BOLTS * steel.bolt_m);
        let series = Series::of(bolt_m, units);
        let grip_m = gap_m + 2.0 * steel.plate_m;
        let needed_m = grip_m + 2.0 * washer_m + (NUT_IN_BOLTS + SHOWS_IN_BOLTS) * bolt_m;
        let reach_m = washer_m + grip_m - steel.plate_m / 2.0;
        let fitting = series.threads().iter().find_map(|(most_m, more_m)| {
            let length_m = series.sold_m(needed_m.max(reach_m + 2.0 * bolt_m + more_m));
            (length_m <= most_m + SAME_M).then_some(length_m)
        });
        // The last of them has no end.
        let length_m = fitting.unwrap_or(needed_m);
        let plain_m = length_m - series.thread_m(bolt_m, length_m);
        let stops_at_m = |washers: &u32| f64::from(1 + washers) * washer_m + grip_m;
        let enough = |washers: &u32| stops_at_m(washers) >= plain_m - SAME_M;
        Self {
            series,
            bolt_m,
            grip_m,
            length_m,
            plain_m,
            washers_at_nut: (1..MOST_WASHERS).find(enough).unwrap_or(MOST_WASHERS),
        }
    }

    /// The thread on it, m.
    #[must_use]
    pub fn thread_m(&self) -> f64 {
        self.length_m - self.plain_m
    }
}

/// Width of the ball of a rod end for a bolt of the size, m: an eighth of an inch more than the bolt from 3/8 to 3/4 in, common practice;
/// metric ones by ISO 12240-4, series K. None for any other size.
#[must_use]
pub fn usual_ball_m(bolt_m: f64) -> Option<f64> {
    const INCH: [f64; 5] = [6.0, 7.0, 8.0, 10.0, 12.0];
    const SERIES_K: [[f64; 2]; 8] = [
        [10.0, 14.0],
        [12.0, 16.0],
        [14.0, 19.0],
        [16.0, 21.0],
        [18.0, 23.0],
        [20.0, 25.0],
        [22.0, 28.0],
        [25.0, 31.0],
    ];
    let inch = INCH.map(|sixteenths| [sixteenths, sixteenths + 2.0].map(|n| n * INCH_M / 16.0));
    let metric = SERIES_K.map(|row| row.map(|mm| mm / 1e3));
    let is_it = |[bore_m, _]: &[f64; 2]| (bore_m - bolt_m).abs() < NAMED_M;
    let row = inch.into_iter().chain(metric).find(is_it)?;
    Some(row[1])
}

/// Length of the spacer on either side of a rod end whose ball is as wide as is usual, m. None where that is not known, or where the ball
/// alone is as wide as the gap.
#[must_use]
pub fn usual_spacer_m(steel: &Steel) -> Option<f64> {
    let spacer_m = (steel.gap_m - usual_ball_m(steel.bolt_m)?) / 2.0;
    (spacer_m > 0.0).then_some(spacer_m)
}
