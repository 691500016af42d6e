//! First-order motion at a pose, and how the motion in ride bends.

use nalgebra::Vector3;

use crate::configuration::{Axes, Configuration, Drive};
use crate::mechanism::Mechanism;
use crate::rates::Moving;
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

/// An acceleration of the platform at unit speed of whatever drives it: how its twist changes along the path, per unit of the drive.
#[derive(Clone, Copy, Debug)]
pub struct Acceleration {
    /// Of the platform's origin, ground coordinates.
    pub linear: Vector3<f64>,
    /// Angular acceleration, ground coordinates.
    pub angular: Vector3<f64>,
}

/// The twists at a pose, and how the one in ride changes with the rise.
#[derive(Clone, Copy, Debug)]
pub struct Motion {
    /// The twists.
    pub twists: Twists,
    /// Per metre of rise, twice.
    pub ride: Acceleration,
}

impl Twist {
    pub(crate) fn from_rates(rates: &[f64; COORDINATES], axes: &Axes) -> Self {
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

impl Acceleration {
    /// Nothing bends.
    fn none() -> Self {
        Self {
            linear: Vector3::zeros(),
            angular: Vector3::zeros(),
        }
    }

    /// Acceleration of a platform point that moves with a twist, ground coordinates.
    #[must_use]
    pub fn of(&self, twist: &Twist, arm_in_ground: Vector3<f64>) -> Vector3<f64> {
        let turning = twist.angular.cross(&arm_in_ground);
        self.linear + self.angular.cross(&arm_in_ground) + twist.angular.cross(&turning)
    }
}

impl Mechanism {
    /// The ride and roll twists at a solved pose. Redundant links share by stiffness; a free direction does not move.
    #[must_use]
    pub fn twists(&self, at: &Configuration) -> Twists {
        match self.cranks.len() {
            0 => System::<4>::at(self, at).twists(),
            1 => System::<5>::at(self, at).twists(),
            _ => System::<6>::at(self, at).twists(),
        }
    }

    /// The twists, and how the one in ride changes along the path that it leads into.
    #[must_use]
    pub fn motion(&self, at: &Configuration) -> Motion {
        match self.cranks.len() {
            0 => System::<4>::at(self, at).motion(),
            1 => System::<5>::at(self, at).motion(),
            _ => System::<6>::at(self, at).motion(),
        }
    }
}

/// What the motions of a pose have in common; no system where it is singular, and then nothing but the drive moves.
struct System<'a, const N: usize> {
    mechanism: &'a Mechanism,
    at: &'a Configuration,
    axes: Axes,
    driven: Option<Driven<N>>,
}

impl<'a, const N: usize> System<'a, N> {
    #[inline]
    fn at(mechanism: &'a Mechanism, at: &'a Configuration) -> Self {
        let axes = Axes::of(at);
        Self {
            mechanism,
            at,
            driven: Driven::at(mechanism, at, &axes),
            axes,
        }
    }

    fn rates(&self, z_m: f64, roll_rad: f64) -> [f64; COORDINATES] {
        let drive = Drive { z_m, roll_rad };
        let moves = self.driven.as_ref().and_then(|d| d.tangent(self.mechanism, drive));
        moves.unwrap_or_else(|| {
            let mut still = [0.0; COORDINATES];
            (still[RIDE], still[ROLL]) = (z_m, roll_rad);
            still
        })
    }

    fn twists(&self) -> Twists {
        Twists {
            ride: Twist::from_rates(&self.rates(1.0, 0.0), &self.axes),
            roll: Twist::from_rates(&self.rates(0.0, 1.0), &self.axes),
        }
    }

    fn motion(&self) -> Motion {
        let rates = self.rates(1.0, 0.0);
        let moving = Moving::of(self.at, &self.axes, rates);
        let bends = self.driven.as_ref().and_then(|d| d.bend(self.mechanism, &moving));
        Motion {
            ride: bends.map_or_else(Acceleration::none, |bends| moving.acceleration(&bends)),
            twists: Twists {
                ride: moving.twist,
                roll: Twist::from_rates(&self.rates(0.0, 1.0), &self.axes),
            },
        }
    }
}
