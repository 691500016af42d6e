//! What links and joints have in common: rows of gaps, and what it takes to close them by force.

use crate::COORDINATES;
use crate::joint::JointId;
use crate::link::LinkId;

/// Which closure of a mechanism.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ClosureId {
    /// A constant distance.
    Link(LinkId),
    /// Two points that coincide.
    Joint(JointId),
}

/// One scalar that a closure wants to be zero (m), and its derivative by every coordinate.
pub(crate) struct Row {
    pub gap_m: f64,
    pub gradient: [f64; COORDINATES],
}

/// What a closure has to give at a pose, and the force that makes it give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strain {
    /// Which closure.
    pub closure: ClosureId,
    /// A link's stretch, + longer; how far apart a joint's points are. m.
    pub gap_m: f64,
    /// A link's tension, - where it is pushed; the size of a joint's force. N.
    pub force_n: f64,
}
