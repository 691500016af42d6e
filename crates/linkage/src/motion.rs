//! First-order motion at a pose.

use nalgebra::Vector3;

use crate::configuration::{Axes, Configuration, Drive};
use crate::mechanism::Mechanism;
use crate::solve::Driven;
use crate::{COORDINATES, MAX_CRANKS, RIDE, ROLL};

/// A velocity of the platform and the cranks, per unit of whatever drives it.
#[derive(Clone, Copy, Debug)]
pub struct Twist {
    /// Velocity of the platform's origin, ground coordinates.
    pub linear: Vector3<f64>,
    /// Angular velocity, ground coordinates.
    pub angular: Vector3<f64>,
    /// Rates of the cranks.
    pub cranks: [f64; MAX_CRANKS],
}

/// The motions that each drive alone imposes.
#[derive(Clone, Copy, Debug)]
pub struct Twists {
    /// Per metre of rise, without roll.
    pub ride: Twist,
    /// Per radian of roll, without rise of the platform's origin.
    pub roll: Twist,
}

impl Twist {
    pub(crate) fn from_rates(rates: &[f64; COORDINATES], at: &Configuration) -> Self {
        let axes = Axes::of(at);
        Self {
            linear: Vector3::new(rates[0], rates[1], rates[2]),
            angular: Vector3::z() * rates[3] + axes.roll_axis * rates[4] + axes.pitch_axis * rates[5],
            cranks: [rates[6], rates[7]],
        }
    }

    /// Velocity of a platform point given by its arm from the platform's origin, ground coordinates.
    #[must_use]
    pub fn velocity_of(&self, arm_in_ground: Vector3<f64>) -> Vector3<f64> {
        self.linear + self.angular.cross(&arm_in_ground)
    }
}

impl Mechanism {
    /// The ride and roll twists at a solved pose. Redundant links share by stiffness; a free direction does not move.
    #[must_use]
    pub fn twists(&self, at: &Configuration) -> Twists {
        match self.cranks.len() {
            0 => twists_with::<4>(self, at),
            1 => twists_with::<5>(self, at),
            _ => twists_with::<6>(self, at),
        }
    }
}

fn twists_with<const N: usize>(mechanism: &Mechanism, at: &Configuration) -> Twists {
    let system = Driven::<N>::at(mechanism, at);
    let along = |z_m: f64, roll_rad: f64| {
        let drive = Drive { z_m, roll_rad };
        let mut still = [0.0; COORDINATES];
        (still[RIDE], still[ROLL]) = (z_m, roll_rad);
        let moves = system.as_ref().and_then(|s| s.tangent(mechanism, drive));
        Twist::from_rates(&moves.unwrap_or(still), at)
    };
    Twists {
        ride: along(1.0, 0.0),
        roll: along(0.0, 1.0),
    }
}
