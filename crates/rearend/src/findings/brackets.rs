//! What there is to say about brackets that cannot be cut.

use super::{Finding, Grade, Kind};
use crate::answers::Solved;
use crate::brackets::{self, Refusal};
use crate::mechanism::Part;
use crate::setup::{Mount, Setup};
use crate::tape::Units;

/// One for every bracket that cannot be cut.
pub(super) fn of(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let finding = |refusal: Refusal| {
        let part = refusal.mounts.first().and_then(|mount| part(*mount));
        Finding::new(Grade::Check, Kind::Bracket { name: refusal.name })
            .about(part)
            .at(setup.travel.ride_m)
    };
    let refused = brackets::refused(setup, &solved.rear_end, Units::Millimetres);
    refused.into_iter().map(finding).collect()
}

/// The part that a mount holds. A crank is none.
fn part(mount: Mount) -> Option<Part> {
    match mount {
        Mount::Bar { bar, side, .. } => Some(Part::Bar(bar, side)),
        Mount::Arm { arm, side, .. } => Some(Part::Arm(arm, side)),
        Mount::WattLeft => Some(Part::WattLeft),
        Mount::WattRight => Some(Part::WattRight),
        _ => None,
    }
}

/// Why is told from the setup as it is now, so that it is told in the user's units.
pub(super) fn sentence(setup: &Setup, units: Units, name: &str) -> String {
    let Ok(rear_end) = crate::mechanism::RearEnd::compile(setup) else {
        return format!("No bracket can be cut for the {name}.");
    };
    let refused = brackets::refused(setup, &rear_end, units);
    match refused.into_iter().find(|refusal| refusal.name == name) {
        Some(refusal) => format!("No bracket can be cut: {}.", refusal.why),
        None => format!("No bracket can be cut for the {name}."),
    }
}
