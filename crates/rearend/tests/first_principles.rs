//! What the answers say, against geometry and statics worked out by hand for drawings simple enough for that.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[path = "first_principles/arm.rs"]
mod arm;
#[path = "first_principles/as_built.rs"]
mod as_built;
#[path = "first_principles/bind.rs"]
mod bind;
#[path = "first_principles/drawings.rs"]
mod drawings;
#[path = "first_principles/instant_centre.rs"]
mod instant_centre;
#[path = "first_principles/lengths.rs"]
mod lengths;
#[path = "first_principles/roll_centre.rs"]
mod roll_centre;
#[path = "first_principles/swing.rs"]
mod swing;
#[path = "first_principles/trap.rs"]
mod trap;
#[path = "first_principles/watt.rs"]
mod watt;

mod support;

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}
