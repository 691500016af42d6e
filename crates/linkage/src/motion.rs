//! First-order motion at a pose.

use nalgebra::{Const, Vector3};

use crate::configuration::{Axes, Configuration, Drive};
use crate::mechanism::Mechanism;
use crate::solve::{Linearised, Method, Square};
use crate::{COORDINATES, MAX_CRANKS};

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

fn twists_with<const N: usize>(mechanism: &Mechanism, at: &Configuration) -> Twists
where
    Const<N>: Square<N>,
{
    // The damped normal equations are right for every layout to their rounding, and never singular.
    let system = Linearised::<N>::at(mechanism, Method::Elastic, at);
    let along = |drive: Drive| {
        let still = std::array::from_fn(|i| match i {
            crate::RIDE => drive.z_m,
            crate::ROLL => drive.roll_rad,
            _ => 0.0,
        });
        Twist::from_rates(&system.tangent(mechanism, drive).unwrap_or(still), at)
    };
    Twists {
        ride: along(Drive {
            z_m: 1.0,
            roll_rad: 0.0,
        }),
        roll: along(Drive {
            z_m: 0.0,
            roll_rad: 1.0,
        }),
    }
}
