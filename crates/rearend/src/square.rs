//! How the axle stands at ride height, what one turn of an adjuster does to it, and which turns bring it straight.

mod part;
mod squaring;

use nalgebra::Point3;

use crate::findings::directed;
use crate::mechanism::{Part, RearEnd};
use crate::setup::{BarId, Length, Setup, Side};
use crate::tape::Units;
use crate::travel::Row;

pub use squaring::{Squaring, Turned, turns_in_words};

/// Where the bars put the axle at ride height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stance {
    /// How far the right tyre stands ahead of the left one: + where the axle heads left.
    pub out_of_square_m: f64,
    /// Axle centre ahead of where a straight axle stands.
    pub forward_m: f64,
    /// Axle centre left of the middle.
    pub left_m: f64,
    /// Pinion to the frame, + nose up.
    pub pinion_rad: f64,
    /// Left mark on the frame to the right end of the axle.
    pub left_to_right_m: f64,
    /// Right mark on the frame to the left end of the axle. Square and central where both are equal.
    pub right_to_left_m: f64,
}

/// What one turn of one adjuster, making its bar longer, changes at ride height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurnEffect {
    /// The bar; of a mirrored one both sides turn alike.
    pub part: Part,
    /// Change of the stance.
    pub out_of_square_m: f64,
    /// Change of the stance.
    pub forward_m: f64,
    /// Change of the stance.
    pub left_m: f64,
    /// Change of the stance.
    pub pinion_rad: f64,
}

/// Ahead of the axle line, where the two marks for cross-measuring go on the undersides of the rails.
pub const MARKS_AHEAD_M: f64 = 1.0;

/// A sixteenth of an inch from one tyre to the other: common practice for an axle that runs straight.
pub const SQUARE_M: f64 = 0.0016;

/// An eighth of an inch off the middle: common practice for tyres that look central.
pub const CENTRAL_M: f64 = 0.0032;

impl Stance {
    /// Read off a pose.
    #[must_use]
    pub fn of(setup: &Setup, row: &Row) -> Self {
        let at = &row.at;
        let (half_rails_m, half_axle_m) = (setup.rails.spacing_m / 2.0, setup.axle.flange_to_flange_m / 2.0);
        let cross = |side: f64| {
            let mark = Point3::new(MARKS_AHEAD_M, side * half_rails_m, 0.0);
            (at.to_ground(Point3::new(0.0, -side * half_axle_m, 0.0)) - mark).norm()
        };
        Self {
            out_of_square_m: setup.track_m() * at.yaw_rad.sin(),
            forward_m: at.origin_in_ground.x,
            left_m: at.origin_in_ground.y,
            pinion_rad: row.pinion_to_frame_rad,
            left_to_right_m: cross(1.0),
            right_to_left_m: cross(-1.0),
        }
    }

    /// By how much one cross-measurement is longer than the other.
    #[must_use]
    pub fn cross_difference_m(&self) -> f64 {
        self.left_to_right_m - self.right_to_left_m
    }

    /// No tyre stands ahead of the other by more than counts as square.
    #[must_use]
    pub fn is_square(&self) -> bool {
        self.out_of_square_m.abs() <= SQUARE_M
    }

    /// The axle stands no farther from the middle than counts as central.
    #[must_use]
    pub fn is_central(&self) -> bool {
        self.left_m.abs() <= CENTRAL_M
    }

    /// Square or not, and within what; to begin a sentence or to go on with one.
    #[must_use]
    pub fn squareness(&self, units: Units) -> String {
        let within = units.length(SQUARE_M);
        if self.is_square() {
            return format!("square within {within} across the wheels");
        }
        let out = directed(units, self.out_of_square_m, "ahead of", "behind");
        format!("not square within {within} across the wheels: the right tyre stands {out} the left one")
    }

    /// In the middle or not, and within what.
    #[must_use]
    pub fn centring(&self, units: Units) -> String {
        let within = units.length(CENTRAL_M);
        if self.is_central() {
            return format!("central within {within}");
        }
        let off = directed(units, self.left_m, "left", "right");
        format!("not central within {within}: it stands {off} of the middle")
    }
}

/// What one turn of every bar that has an adjuster does, by solving the pose again.
#[must_use]
pub(crate) fn turn_effects(setup: &Setup, ride: &Row) -> Vec<TurnEffect> {
    let before = Stance::of(setup, ride);
    let bars = (0..setup.bars.len()).map(|i| Part::Bar(BarId(i), Side::Drawn));
    let parts = bars.chain([Part::WattLeft, Part::WattRight]);
    parts.filter_map(|part| turn_effect(setup, part, &before)).collect()
}

fn turn_effect(setup: &Setup, part: Part, before: &Stance) -> Option<TurnEffect> {
    let Length::AsBuilt(mut bar) = setup.length(part)? else {
        return None;
    };
    bar.turns += 1.0;
    let mut turned = setup.clone();
    turned.set_length(part, Length::AsBuilt(bar));
    let rear_end = RearEnd::compile(&turned).ok()?;
    let after = Stance::of(&turned, &Row::at_ride(&turned, &rear_end));
    Some(TurnEffect {
        part,
        out_of_square_m: after.out_of_square_m - before.out_of_square_m,
        forward_m: after.forward_m - before.forward_m,
        left_m: after.left_m - before.left_m,
        pinion_rad: after.pinion_rad - before.pinion_rad,
    })
}
