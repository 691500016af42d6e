//! What the quantities are called and explained as, and how they are scaled.

use rearend::tape::{Dimension, Units};

use super::Quantity;

impl Quantity {
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
            Self::FrontJoint => "Front joint",
            Self::RearJoint => "Rear joint",
            Self::Unevenness => "Unevenness",
            Self::Slip => "Slip",
            Self::SpringLength => "Spring length",
            Self::WheelRate => "Wheel rate",
            Self::Bounce => "Bounce",
            Self::Pressure => "Air pressure",
            Self::LipRoom => "Tyre to lip",
            Self::InnerRoom => "Tyre to rail",
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
            Self::FrontJoint => "The angle that the joint behind the transmission works at",
            Self::RearJoint => "The angle that the joint at the pinion works at",
            Self::Unevenness => {
                "How unevenly the pinion turns while the transmission turns evenly, as the angle of a single joint that would do the same"
            }
            Self::Slip => "How far the splines have come out since ride height",
            Self::SpringLength => "Length of the left spring, mount to mount",
            Self::WheelRate => "How much more a wheel carries for each bit that it rises",
            Self::Bounce => "How often a second the corner bounces on its spring",
            Self::Pressure => "The pressure that carries the corner at this height",
            Self::LipRoom => "The nearest that a tyre comes to its fender lip; less than nothing where they overlap",
            Self::InnerRoom => "The nearest that a tyre comes to rail or tub; less than nothing where they overlap",
        }
    }

    /// The smallest full scale worth drawing: less would make rounding look like movement.
    pub(crate) fn least(self, units: Units) -> f64 {
        match (self, units) {
            (Self::Pinion | Self::Steer | Self::FrontJoint | Self::RearJoint | Self::Unevenness, _) => 0.25,
            (Self::Bounce, _) => 0.1,
            (Self::AntiSquat | Self::AntiLift | Self::WheelRate | Self::Pressure, _) => 5.0,
            (Self::RollSteer, _) => 0.02,
            (_, Units::Millimetres) => 1.0,
            _ => 0.05,
        }
    }

    pub(crate) fn symbol(self, units: Units) -> &'static str {
        match self {
            Self::Pinion | Self::Steer | Self::FrontJoint | Self::RearJoint | Self::Unevenness => "°",
            Self::WheelRate => Dimension::Rate.symbol(units),
            Self::Pressure => Dimension::Pressure.symbol(units),
            Self::Bounce => "Hz",
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
            Self::Slip => ["in", "out"],
            Self::SpringLength => ["shorter", "longer"],
            Self::WheelRate => ["softer", "stiffer"],
            Self::Bounce => ["slower", "faster"],
            Self::AntiSquat
            | Self::AntiLift
            | Self::Misfit
            | Self::FrontJoint
            | Self::RearJoint
            | Self::Unevenness
            | Self::Pressure
            | Self::LipRoom
            | Self::InnerRoom => ["less", "more"],
            Self::CentreAhead => ["back", "ahead"],
            Self::CentreHeight | Self::RollCentre => ["lower", "higher"],
            Self::RollSteer => ["under", "over"],
        }
    }
}
