//! What the sentences of the findings say: where, how much beside which limit, of what that is assumed, whose fault, and what to do.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[path = "sentences/advice.rs"]
mod advice;
#[path = "sentences/assumed.rs"]
mod assumed;
#[path = "sentences/blame.rs"]
mod blame;
#[path = "sentences/heights.rs"]
mod heights;

mod support;

use rearend::answers::Answers;
use rearend::findings::{Finding, Kind};
use rearend::setup::Setup;

fn find(setup: &Setup, wanted: impl Fn(&Kind) -> bool) -> Finding {
    let found = Answers::of(setup).findings;
    let names = format!("{found:#?}");
    found.into_iter().find(|f| wanted(&f.kind)).expect(&names)
}
