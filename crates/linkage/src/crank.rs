//! A body hinged to the ground or the platform: one angle about a fixed axis of its carrier.

use nalgebra::{Point3, Unit, Vector3};

use crate::configuration::Configuration;

/// Which crank of a mechanism.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CrankId(pub usize);

/// What a crank is hinged to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Carrier {
    Ground,
    Platform,
}

/// A body hinged to a carrier, drawn in the carrier's coordinates at angle zero.
#[derive(Clone, Copy, Debug)]
pub struct Crank {
    pub(crate) carrier: Carrier,
    pub(crate) pivot_in_carrier: Point3<f64>,
    pub(crate) axis_in_carrier: Unit<Vector3<f64>>,
}

impl Crank {
    /// A crank hinged to the platform. The axis need not be of unit length; its direction sets the sense of the angle.
    #[must_use]
    pub fn on_platform(pivot_in_platform: Point3<f64>, axis_in_platform: Vector3<f64>) -> Self {
        Self::on(Carrier::Platform, pivot_in_platform, axis_in_platform)
    }

    /// A crank hinged to the ground.
    #[must_use]
    pub fn on_ground(pivot_in_ground: Point3<f64>, axis_in_ground: Vector3<f64>) -> Self {
        Self::on(Carrier::Ground, pivot_in_ground, axis_in_ground)
    }

    fn on(carrier: Carrier, pivot_in_carrier: Point3<f64>, axis: Vector3<f64>) -> Self {
        Self {
            carrier,
            pivot_in_carrier,
            axis_in_carrier: Unit::new_normalize(axis),
        }
    }

    /// Where a point of the crank, drawn at angle zero, stands in its carrier after a turn.
    #[must_use]
    pub fn turned(&self, drawn_in_carrier: Point3<f64>, angle_rad: f64) -> Point3<f64> {
        self.pivot_in_carrier + self.turned_arm(drawn_in_carrier, angle_rad)
    }

    /// From the pivot to that point, by Rodrigues' formula.
    pub(crate) fn turned_arm(&self, drawn_in_carrier: Point3<f64>, angle_rad: f64) -> Vector3<f64> {
        let arm = drawn_in_carrier - self.pivot_in_carrier;
        let axis = self.axis_in_carrier.as_ref();
        let (s, c) = angle_rad.sin_cos();
        arm * c + axis.cross(&arm) * s + axis * (axis.dot(&arm) * (1.0 - c))
    }

    /// Where its pivot is at a configuration, ground coordinates.
    #[must_use]
    pub fn pivot_in_ground(&self, at: &Configuration) -> Point3<f64> {
        match self.carrier {
            Carrier::Ground => self.pivot_in_carrier,
            Carrier::Platform => at.to_ground(self.pivot_in_carrier),
        }
    }

    pub(crate) fn is_finite(&self) -> bool {
        self.pivot_in_carrier
            .coords
            .iter()
            .chain(self.axis_in_carrier.iter())
            .all(|v| v.is_finite())
    }
}
