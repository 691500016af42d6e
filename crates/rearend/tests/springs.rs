//! Springs: their motion against poses solved a step apart and against closed forms, their rates against published figures and by energy,
//! what they carry against statics, and what is found.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[path = "springs/curve.rs"]
mod curve;
#[path = "springs/faults.rs"]
mod faults;
#[path = "springs/motion.rs"]
mod motion;
#[path = "springs/rates.rs"]
mod rates;
#[path = "springs/statics.rs"]
mod statics;
#[path = "springs/trucks.rs"]
mod trucks;

mod support;

#[track_caller]
fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}
