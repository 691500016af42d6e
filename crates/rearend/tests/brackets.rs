//! Brackets: every plate that is drawn can be cut and stands where it should, whatever the truck; what cannot is refused with a sentence.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[path = "brackets/closed_forms.rs"]
mod closed_forms;
#[path = "brackets/every_plate.rs"]
mod every_plate;
#[path = "brackets/invariants.rs"]
mod invariants;
#[path = "brackets/on_rail.rs"]
mod on_rail;
#[path = "brackets/on_steel.rs"]
mod on_steel;
#[path = "brackets/outline.rs"]
mod outline;
#[path = "brackets/pad_ends.rs"]
mod pad_ends;
#[path = "brackets/pairs.rs"]
mod pairs;
#[path = "brackets/refusals.rs"]
mod refusals;
#[path = "brackets/runs_into.rs"]
mod runs_into;
#[path = "brackets/sampled.rs"]
mod sampled;
mod support;

use rearend::answers::Answers;
use rearend::brackets::{self, Bracket, BracketError, Plate};
use rearend::setup::Setup;
use rearend::tape::Units;

/// Every bracket of a setup, solved.
fn all(setup: &Setup) -> Vec<Result<Bracket, BracketError>> {
    let answers = Answers::of(setup);
    brackets::of(setup, answers.solved.as_ref().ok(), Units::Millimetres)
}

/// The bracket of a name.
fn named(setup: &Setup, name: &str) -> Bracket {
    let found = all(setup).into_iter().flatten().find(|b| b.name == name);
    found.unwrap_or_else(|| panic!("{name} is drawn"))
}

/// Why the bracket whose sentence begins so cannot be drawn.
fn refused(setup: &Setup, name: &str) -> BracketError {
    let begins = |e: &BracketError| e.to_string().starts_with(&format!("the {name}"));
    let found = all(setup).into_iter().filter_map(Result::err).find(begins);
    found.unwrap_or_else(|| panic!("{name} is refused"))
}

/// The plate of a bracket.
fn plate<'a>(bracket: &'a Bracket, what: &str) -> &'a Plate {
    let found = bracket.plates.iter().find(|p| p.name.ends_with(what));
    found.unwrap_or_else(|| panic!("{} has a {what}", bracket.name))
}
