//! The shaft between transmission and axle: angles of its joints, slip, and how evenly it turns.

use linkage::Configuration;

use crate::setup::Setup;

/// At one pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftPose {}

impl ShaftPose {
    /// At a pose of the axle; `ride` is where it stands at ride height. `None` where the setup does not describe it.
    #[must_use]
    pub fn at(_setup: &Setup, _ride: &Configuration, _at: &Configuration) -> Option<Self> {
        None
    }
}

/// What may be wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {}
