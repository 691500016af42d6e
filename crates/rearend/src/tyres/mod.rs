//! Where the tyres are: sizes, axle width, and the room to lips, tubs and rails.

use linkage::Configuration;

use crate::setup::Setup;

/// At one pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TyreGaps {}

impl TyreGaps {
    /// At a pose of the axle; `ride` is where it stands at ride height. `None` where the setup does not describe it.
    #[must_use]
    pub fn at(_setup: &Setup, _ride: &Configuration, _at: &Configuration) -> Option<Self> {
        None
    }
}

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {}
