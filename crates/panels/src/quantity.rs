//! The quantities that strips show: what they are called, what they read off a pose, and in which words.

use rearend::findings::{directed, nose, side};
use rearend::first_order::InstantCentre;
use rearend::tape::{Units, degrees};
use rearend::travel::Row;
use shop::Bench;

/// A quantity that a strip shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Quantity {
    /// Sideways.
    Shift,
    /// Pinion to the frame.
    Pinion,
    /// Forward and back.
    ForeAft,
    /// Heading.
    Steer,
    /// Anti-squat.
    AntiSquat,
    /// Anti-lift.
    AntiLift,
    /// How far ahead the side-view instant centre is.
    CentreAhead,
    /// How high it is.
    CentreHeight,
    /// Height of the roll centre.
    RollCentre,
    /// Heading per roll.
    RollSteer,
    /// What the worst fitting bar has to give.
    Misfit,
}

impl Quantity {
    /// All of them, in the order of the list. The first two are always shown.
    pub const ALL: [Self; 11] = [
        Self::Shift,
        Self::Pinion,
        Self::ForeAft,
        Self::Steer,
        Self::AntiSquat,
        Self::AntiLift,
        Self::CentreAhead,
        Self::CentreHeight,
        Self::RollCentre,
        Self::RollSteer,
        Self::Misfit,
    ];

    /// Those that are always shown.
    pub const ALWAYS: [Self; 2] = [Self::Shift, Self::Pinion];

    /// Its name.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Shift => "Axle shift",
            Self::Pinion => "Pinion angle",
            Self::ForeAft => "Fore-aft",
            Self::Steer => "Axle steer",
            Self::AntiSquat => "Anti-squat",
            Self::AntiLift => "Anti-lift",
            Self::CentreAhead => "Centre ahead",
            Self::CentreHeight => "Centre height",
            Self::RollCentre => "Roll centre",
            Self::RollSteer => "Roll steer",
            Self::Misfit => "Misfit",
        }
    }

    pub(crate) fn tip(self) -> &'static str {
        match self {
            Self::Shift => "How far the axle's centre stands left or right of its place at ride height",
            Self::Pinion => "Elevation of the pinion against the frame, nose up or down",
            Self::ForeAft => "How far the axle's centre stands ahead of or behind its place at ride height",
            Self::Steer => "Where the axle heads, against straight ahead",
            Self::AntiSquat => {
                "How much of the squat under power the links take up: slope from the contact patch to the instant centre, over the height of the centre of gravity by the wheelbase. Needs the balance"
            }
            Self::AntiLift => {
                "The same for lift under braking, by the share that the rear wheels brake. Needs the balance"
            }
            Self::CentreAhead => {
                "How far ahead of the axle line the side-view instant centre lies, where the axle seems to swing about"
            }
            Self::CentreHeight => "How high above the underside of the rails the side-view instant centre lies",
            Self::RollCentre => "Height above ground of the point that the axle rolls about under the frame",
            Self::RollSteer => {
                "How many degrees the axle steers for each degree of roll; more than nothing is towards oversteer"
            }
            Self::Misfit => "The largest length that a bar would have to give: nothing where the bars all fit",
        }
    }

    /// In the unit that is plotted: inches or millimetres, degrees, percent. `None` where there is none: nothing is known of the balance,
    /// or a centre is infinitely far away.
    pub(crate) fn value(self, row: &Row, units: Units) -> Option<f64> {
        let length = |m: f64| Some(m / units.unit_m());
        let first = &row.first;
        let centre = |pick: fn(f64, f64) -> f64| match first.instant_centre {
            InstantCentre::At { x_m, z_m } => length(pick(x_m, z_m)),
            InstantCentre::AtInfinity { .. } => None,
        };
        match self {
            Self::Shift => length(-row.shift_m),
            Self::Pinion => Some(row.pinion_to_frame_rad.to_degrees()),
            Self::ForeAft => length(row.fore_aft_m),
            Self::Steer => Some(-row.steer_rad.to_degrees()),
            Self::AntiSquat => first.anti_squat.map(|share| share * 100.0),
            Self::AntiLift => first.anti_lift.map(|share| share * 100.0),
            Self::CentreAhead => centre(|x, _| x),
            Self::CentreHeight => centre(|_, z| z),
            Self::RollCentre => length(first.roll_centre_m),
            Self::RollSteer => Some(first.roll_steer),
            Self::Misfit => length(row.misfit_m),
        }
        .filter(|v| v.is_finite())
    }

    pub(crate) fn words(self, row: &Row, units: Units) -> String {
        let Some(value) = self.value(row, units) else {
            return match self {
                Self::AntiSquat | Self::AntiLift => "needs the balance".to_owned(),
                _ => "infinitely far".to_owned(),
            };
        };
        let length = units.length(value * units.unit_m());
        match self {
            Self::Shift => side(units, row.shift_m),
            Self::Pinion => nose(row.pinion_to_frame_rad),
            Self::ForeAft => directed(units, row.fore_aft_m, "forward", "back"),
            Self::Steer => {
                let to = if row.steer_rad < 0.0 { " right" } else { " left" };
                let angle = degrees(row.steer_rad.abs(), 2);
                format!("{angle}{}", if row.steer_rad.abs() < 5e-5 { "" } else { to })
            }
            Self::AntiSquat | Self::AntiLift => format!("{value:.0} %"),
            Self::CentreAhead | Self::CentreHeight | Self::RollCentre => length,
            Self::RollSteer => format!("{value:.3}° per °"),
            Self::Misfit => units.movement(row.misfit_m),
        }
    }

    /// What stands in the middle of the strip: nothing moved, or what it is at ride height.
    pub(crate) fn middle(self, bench: &Bench) -> f64 {
        match self {
            Self::Shift | Self::ForeAft | Self::Steer | Self::Misfit => 0.0,
            _ => {
                let rows = bench.document().answers().solved.as_ref().ok().map(|s| &s.level);
                let row = rows.and_then(|level| level.nearest(bench.setup().travel.ride_m));
                let value = row.and_then(|row| self.value(row, bench.units())).unwrap_or(0.0);
                match self {
                    Self::Pinion => value,
                    _ => (value * 100.0).round() / 100.0,
                }
            }
        }
    }

    /// The smallest full scale worth drawing: less would make rounding look like movement.
    pub(crate) fn least(self, units: Units) -> f64 {
        match (self, units) {
            (Self::Pinion | Self::Steer, _) => 0.25,
            (Self::AntiSquat | Self::AntiLift, _) => 5.0,
            (Self::RollSteer, _) => 0.02,
            (_, Units::Millimetres) => 1.0,
            _ => 0.05,
        }
    }

    pub(crate) fn limit(self, bench: &Bench) -> Option<f64> {
        let limits = &bench.setup().limits;
        match self {
            Self::Shift => Some(limits.shift_m / bench.units().unit_m()),
            Self::Pinion => Some(limits.pinion_change_rad.to_degrees()),
            Self::Misfit => Some(limits.misfit_m / bench.units().unit_m()),
            _ => None,
        }
    }

    pub(crate) fn symbol(self, units: Units) -> &'static str {
        match self {
            Self::Pinion | Self::Steer => "°",
            Self::AntiSquat | Self::AntiLift => "%",
            Self::RollSteer => "° per °",
            _ => units.symbol(),
        }
    }

    /// What lies to the left and right on the strip.
    pub(crate) fn sides(self) -> [&'static str; 2] {
        match self {
            Self::Shift | Self::Steer => ["left", "right"],
            Self::Pinion => ["down", "up"],
            Self::ForeAft => ["back", "forward"],
            Self::AntiSquat | Self::AntiLift | Self::Misfit => ["less", "more"],
            Self::CentreAhead => ["back", "ahead"],
            Self::CentreHeight | Self::RollCentre => ["lower", "higher"],
            Self::RollSteer => ["under", "over"],
        }
    }
}
