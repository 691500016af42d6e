//! The quantities that strips show: what they are called, what they read off a pose, and in which words.

use rearend::findings::{directed, nose, side};
use rearend::first_order::InstantCentre;
use rearend::springs::Load;
use rearend::tape::{Dimension, Units, degrees};
use rearend::travel::Row;
use rearend::tyres::TyreGaps;
use shop::Bench;

mod text;

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
    /// Angle of the shaft's front joint.
    FrontJoint,
    /// Angle of its rear joint.
    RearJoint,
    /// How unevenly the pinion turns, as the angle of a single joint.
    Unevenness,
    /// How far the splines have come out.
    Slip,
    /// Length of the left spring.
    SpringLength,
    /// Stiffness at the wheel.
    WheelRate,
    /// How fast the corner bounces.
    Bounce,
    /// Pressure that carries the corner.
    Pressure,
    /// Room between tyres and fender lips.
    LipRoom,
    /// Room between tyres and rails or tubs.
    InnerRoom,
}

impl Quantity {
    /// All of them, in the order of the list. The first two are always shown.
    pub const ALL: [Self; 21] = [
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
        Self::FrontJoint,
        Self::RearJoint,
        Self::Unevenness,
        Self::Slip,
        Self::SpringLength,
        Self::WheelRate,
        Self::Bounce,
        Self::Pressure,
        Self::LipRoom,
        Self::InnerRoom,
    ];

    /// Those that are always shown.
    pub const ALWAYS: [Self; 2] = [Self::Shift, Self::Pinion];

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
            Self::FrontJoint => row.shaft.map(|s| s.front_joint_rad.to_degrees()),
            Self::RearJoint => row.shaft.map(|s| s.rear_joint_rad.to_degrees()),
            Self::Unevenness => row.shaft.map(|s| s.residual_rad.to_degrees()),
            Self::Slip => row.shaft.and_then(|s| length(s.slip_m)),
            Self::SpringLength => row.spring.and_then(|s| length(s.left.length_m)),
            Self::WheelRate => load(row).map(|l| Dimension::Rate.shown(units, l.wheel_rate_n_per_m)),
            Self::Bounce => load(row).and_then(|l| l.frequency_hz),
            Self::Pressure => load(row)
                .and_then(|l| l.pressure_pa)
                .map(|p| Dimension::Pressure.shown(units, p)),
            Self::LipRoom => row.tyres.and_then(|t| lip_room_m(&t)).and_then(length),
            Self::InnerRoom => row.tyres.and_then(|t| t.inner_m()).and_then(length),
        }
        .filter(|v| v.is_finite())
    }

    pub(crate) fn words(self, row: &Row, units: Units) -> String {
        let Some(value) = self.value(row, units) else {
            return match self {
                Self::AntiSquat | Self::AntiLift => "needs the balance".to_owned(),
                Self::FrontJoint | Self::RearJoint | Self::Unevenness | Self::Slip => "needs the shaft".to_owned(),
                Self::SpringLength | Self::WheelRate | Self::Bounce if row.spring.is_none() => {
                    "needs the springs".to_owned()
                }
                Self::WheelRate | Self::Bounce => "out of its reach".to_owned(),
                Self::Pressure => "no air here".to_owned(),
                Self::LipRoom if row.tyres.is_some_and(|t| t.left.tucked_m.is_some()) => "below the lip".to_owned(),
                Self::LipRoom => "needs the body".to_owned(),
                Self::InnerRoom => "nothing beside it".to_owned(),
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
            Self::CentreAhead
            | Self::CentreHeight
            | Self::RollCentre
            | Self::SpringLength
            | Self::LipRoom
            | Self::InnerRoom => length,
            Self::FrontJoint | Self::RearJoint | Self::Unevenness => format!("{value:.2}°"),
            Self::Slip => directed(units, row.shaft.map_or(0.0, |s| s.slip_m), "out", "in"),
            Self::WheelRate | Self::Pressure => format!("{value:.0} {}", self.symbol(units)),
            Self::Bounce => format!("{value:.2} Hz"),
            Self::RollSteer => format!("{value:.3}° per °"),
            Self::Misfit => units.movement(row.misfit_m),
        }
    }

    /// What stands in the middle of the strip: nothing moved, or what it is at ride height.
    pub(crate) fn middle(self, bench: &Bench) -> f64 {
        match self {
            Self::Shift | Self::ForeAft | Self::Steer | Self::Misfit | Self::Slip => 0.0,
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

    pub(crate) fn limit(self, bench: &Bench) -> Option<f64> {
        let limits = &bench.setup().limits;
        match self {
            Self::Shift => Some(limits.shift_m / bench.units().unit_m()),
            Self::Pinion => Some(limits.pinion_change_rad.to_degrees()),
            Self::Misfit => Some(limits.misfit_m / bench.units().unit_m()),
            _ => None,
        }
    }
}

/// The least of both sides, where a tyre stands as high as its lip.
fn lip_room_m(gaps: &TyreGaps) -> Option<f64> {
    let rooms = [gaps.left.lip_m, gaps.right.lip_m];
    rooms.into_iter().flatten().min_by(f64::total_cmp)
}

/// What the left spring carries, where it is within its reach.
fn load(row: &Row) -> Option<Load> {
    row.spring.and_then(|s| s.left.load)
}
