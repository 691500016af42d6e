//! What there is to say about the shaft.

use super::{Finding, Grade};
use crate::answers::Solved;
use crate::driveline::Fault;
use crate::setup::Setup;
use crate::tape::Units;

/// All of it.
pub(super) fn of(_setup: &Setup, _solved: &Solved) -> Vec<Finding> {
    Vec::new()
}

/// In words.
pub(super) fn sentence(_setup: &Setup, _units: Units, _grade: Grade, fault: &Fault) -> String {
    match *fault {}
}
