//! What the sentences share: where in the travel something is, and figures beside the limits they are held against.

use crate::setup::Setup;
use crate::tape::{Units, degrees};

/// Poses this near to a height are at it.
const AT_M: f64 = 1e-4;

/// Rolls below this are none.
const LEVEL_RAD: f64 = 1e-9;

/// Where in the travel a height is. The three heights go by their names, and only the ride height of the design is called that; anywhere else
/// it is told by how far the rails are off the ground.
pub(super) fn at(setup: &Setup, units: Units, height_m: f64) -> String {
    let travel = &setup.travel;
    let is = |named_m: f64| (height_m - named_m).abs() < AT_M;
    if is(travel.ride_m) {
        "at ride height".to_owned()
    } else if is(travel.laid_out_m) {
        "laid out".to_owned()
    } else if is(travel.full_lift_m) {
        "at full lift".to_owned()
    } else {
        format!("with the rails {} off the ground", units.length(height_m))
    }
}

/// The same with the wheel that is up, where one is.
pub(super) fn at_roll(setup: &Setup, units: Units, height_m: f64, roll_rad: f64) -> String {
    let at = at(setup, units, height_m);
    if roll_rad.abs() < LEVEL_RAD {
        return at;
    }
    let side = if roll_rad > 0.0 { "left" } else { "right" };
    format!("{at}, the {side} wheel up {}", degrees(roll_rad.abs(), 1))
}

/// A figure beside its limit: in the finer text where the coarser one reads the same for both, in words where both do.
pub(super) fn beside(value: f64, limit: f64, coarse: impl Fn(f64) -> String, fine: impl Fn(f64) -> String) -> String {
    if coarse(value) != coarse(limit) {
        return coarse(value);
    }
    if fine(value) != fine(limit) {
        return fine(value);
    }
    let side = if value < limit { "just under" } else { "just over" };
    format!("{side} {}", coarse(limit))
}

/// A length beside its limit.
pub(super) fn length_beside(units: Units, length_m: f64, limit_m: f64) -> String {
    beside(length_m, limit_m, |m| units.length(m), |m| units.movement(m))
}

/// A length that is needed, to the next step of the tape that is enough.
pub(super) fn enough(units: Units, length_m: f64) -> String {
    let step_m = units.step_m();
    // What is a whole number of steps but for the last bits is that number.
    units.length((length_m / step_m - 1e-6).ceil() * step_m)
}

/// Several names as a sentence lists them.
pub(super) fn listed(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// A sentence that goes on after other words.
pub(super) fn uncapitalised(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| {
        first.to_lowercase().collect::<String>() + chars.as_str()
    })
}
