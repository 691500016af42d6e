//! Pure kinematics of a rigid platform held by links.
//!
//! A [`Mechanism`] is a fixed **ground**, one moving **platform** (six coordinates), up to [`MAX_CRANKS`] **cranks** hinged to
//! either (one coordinate each), **links** that keep two points of different bodies at a constant distance, and **joints** that keep a
//! point of the platform on a point of the ground.
//! Two coordinates of the platform are imposed, the [`Drive`]: the height of its origin and its roll. Everything else is solved:
//!
//! - [`Mechanism::assemble`]: the pose at one drive, from a guess nearby;
//! - [`Mechanism::fit`]: the pose of links that have other lengths than the drawing gives them;
//! - [`Mechanism::walk`]: a whole sweep by continuation, staying on the assembly it started from;
//! - [`Mechanism::freedom`]: what the links leave free, what they hold twice, and what they fight over;
//! - [`Mechanism::twists`]: the first-order motion per unit of each drive; [`Mechanism::motion`]: also how it bends in ride;
//! - [`Mechanism::strains`]: what every part has to give where they do not all fit, and with what force.
//!
//! Units are any consistent ones; this crate speaks of metres and radians. Axes are right-handed, Z is the driven height.
//! Nothing here allocates per pose, reads a clock or touches a file, and no NaN leaves it.

#![expect(
    clippy::inline_always,
    reason = "measured: a third of the time a pose goes into calls and copies without it"
)]

mod anchor;
mod closure;
mod configuration;
mod crank;
mod factor;
mod fit;
mod four;
mod freedom;
mod joint;
mod link;
mod mechanism;
mod motion;
mod rates;
mod solve;
pub mod tolerance;
mod walk;
mod walk_end;

pub use anchor::{Anchor, Body};
pub use closure::{ClosureId, Strain};
pub use configuration::{Configuration, Drive};
pub use crank::{Crank, CrankId};
pub use fit::Unfit;
pub use freedom::{Direction, FreeMotion, Freedom};
pub use joint::{Joint, JointId};
pub use link::{Link, LinkId};
pub use mechanism::{Mechanism, MechanismError};
pub use motion::{Acceleration, Motion, Twist, Twists};
pub use solve::{Solved, Unsolved};
pub use walk::Waypoint;
pub use walk_end::{EndCause, WalkEnd};

/// Most cranks one mechanism may have: two Watt's linkages at once.
pub const MAX_CRANKS: usize = 2;

/// Coordinates of a whole mechanism, in this order: x, y, z, yaw, roll, pitch of the platform, then the crank angles.
pub(crate) const COORDINATES: usize = 6 + MAX_CRANKS;

/// Places of the unknowns among the coordinates (the drive imposes z and roll).
pub(crate) const UNKNOWNS: [usize; 4 + MAX_CRANKS] = [0, 1, 3, 5, 6, 7];
/// Place of the driven height among the coordinates.
pub(crate) const RIDE: usize = 2;
/// Place of the driven roll among the coordinates.
pub(crate) const ROLL: usize = 4;
