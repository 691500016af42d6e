//! What the sections share: figures in a cell, and the ways they go.

use crate::mechanism::Part;
use crate::setup::{BarEnd, JointKind, Setup};
use crate::tape::{Units, degrees};

/// What a cell says where there is nothing to say.
pub(super) const NOTHING: &str = "–";

/// Poses this near to a height are at it.
const AT_M: f64 = 1e-4;

/// Rolls below this are none.
const LEVEL_RAD: f64 = 1e-9;

/// Both ends of a bar that are alike.
pub(super) fn both(kind: JointKind) -> &'static str {
    match kind {
        JointKind::RodEnd => "rod ends",
        JointKind::Rubber => "rubber bushes",
        JointKind::Polyurethane => "polyurethane bushes",
    }
}

/// A length with the way it goes; none where the tape reads nothing.
pub(super) fn way(units: Units, length_m: f64, plus: &str, minus: &str) -> String {
    let text = units.length(length_m.abs());
    if text == units.length(0.0) {
        return text;
    }
    format!("{text} {}", if length_m < 0.0 { minus } else { plus })
}

/// A tube's outside and wall. Its outside as a tape has it where that has no fractions: nobody orders it finer.
pub(super) fn tube(units: Units, tube_m: f64, wall_m: f64) -> String {
    let outside = match units {
        Units::Sixteenths => units.size(tube_m),
        Units::DecimalInches | Units::Millimetres => units.length(tube_m),
    };
    format!("{outside} × {}", units.named_size(wall_m))
}

/// Where in the travel something is: short enough for a cell.
pub(super) fn place(setup: &Setup, units: Units, height_m: f64, roll_rad: f64) -> String {
    let at =
        named_height(setup, height_m).map_or_else(|| format!("rails at {}", units.length(height_m)), str::to_owned);
    if roll_rad.abs() < LEVEL_RAD {
        return at;
    }
    let side = if roll_rad > 0.0 { "left" } else { "right" };
    format!("{at}, {side} wheel up {}", degrees(roll_rad.abs(), 1))
}

/// The name of a height that has one.
pub(super) fn named_height(setup: &Setup, height_m: f64) -> Option<&'static str> {
    let travel = &setup.travel;
    let named = [
        (travel.ride_m, "ride height"),
        (travel.laid_out_m, "laid out"),
        (travel.full_lift_m, "full lift"),
    ];
    let is_at = |named_m: f64| (height_m - named_m).abs() < AT_M;
    named
        .into_iter()
        .find(|(named_m, _)| is_at(*named_m))
        .map(|(_, name)| name)
}

/// An end of a part, as a list has it.
pub(super) fn end_name(part: Part, end: BarEnd) -> &'static str {
    match (part, end) {
        (Part::WattLeft | Part::WattRight, BarEnd::Axle) => "at the crank",
        (Part::WattLeft | Part::WattRight, BarEnd::Frame) => "outer end",
        (_, BarEnd::Frame) => "on the frame",
        (_, BarEnd::Axle) => "on the axle",
    }
}

/// Which end of a bar has which thread.
pub(super) fn left_hand(setup: &Setup) -> String {
    let links = if setup.watt.is_some() {
        ", of a Watt's link the one at the crank"
    } else {
        ""
    };
    format!(
        "A bar between two rod ends is turned, bolted in, to set its length: the one at the axle has the left-hand thread{links}."
    )
}

/// One thing or several.
pub(super) fn counted(count: usize, one: &str, several: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { several })
}
