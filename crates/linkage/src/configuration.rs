//! Where every body is: the platform's six coordinates and the crank angles.

use nalgebra::{Matrix3, Point3, Vector3};

use crate::{COORDINATES, MAX_CRANKS};

/// What is imposed on the platform.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// Height of the platform's origin in ground coordinates, m.
    pub z_m: f64,
    /// Elevation of the platform's Y axis: positive lifts its left side, rad.
    pub roll_rad: f64,
}

/// The coordinates of the whole mechanism.
///
/// `ground_from_platform = Rz(yaw) Rx(roll) Ry(pitch)`, in which roll *is* the elevation of the platform's Y axis, whatever the
/// pitch and yaw: the drive and the coordinate are one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Configuration {
    /// Platform origin in ground coordinates, m.
    pub origin_in_ground: Point3<f64>,
    /// Heading of the platform, + to the left, rad.
    pub yaw_rad: f64,
    /// Elevation of the platform's Y axis, rad.
    pub roll_rad: f64,
    /// Turn about the platform's own Y axis by the right-hand rule (+ lowers the nose), rad.
    pub pitch_rad: f64,
    /// Turn of each crank from its drawn position, rad. Unused places are zero.
    pub crank_rad: [f64; MAX_CRANKS],
}

impl Configuration {
    /// Every angle zero, platform origin at the given height on the ground's Z axis.
    #[must_use]
    pub fn level_at(z_m: f64) -> Self {
        Self {
            origin_in_ground: Point3::new(0.0, 0.0, z_m),
            yaw_rad: 0.0,
            roll_rad: 0.0,
            pitch_rad: 0.0,
            crank_rad: [0.0; MAX_CRANKS],
        }
    }

    /// The imposed part of these coordinates.
    #[must_use]
    pub fn drive(&self) -> Drive {
        Drive {
            z_m: self.origin_in_ground.z,
            roll_rad: self.roll_rad,
        }
    }

    /// The same with another drive imposed, everything else left.
    #[must_use]
    pub fn driven(mut self, drive: Drive) -> Self {
        self.origin_in_ground.z = drive.z_m;
        self.roll_rad = drive.roll_rad;
        self
    }

    /// Rotation that takes platform directions to ground directions.
    #[must_use]
    pub fn ground_from_platform(&self) -> Matrix3<f64> {
        Axes::of(self).ground_from_platform
    }

    /// A platform point in ground coordinates.
    #[must_use]
    pub fn to_ground(&self, point_in_platform: Point3<f64>) -> Point3<f64> {
        self.origin_in_ground + self.ground_from_platform() * point_in_platform.coords
    }

    pub(crate) fn is_finite(&self) -> bool {
        self.to_array().iter().all(|c| c.is_finite())
    }

    #[inline]
    pub(crate) fn to_array(self) -> [f64; COORDINATES] {
        let [c0, c1] = self.crank_rad;
        let o = self.origin_in_ground;
        [o.x, o.y, o.z, self.yaw_rad, self.roll_rad, self.pitch_rad, c0, c1]
    }

    #[inline]
    pub(crate) fn from_array(c: [f64; COORDINATES]) -> Self {
        Self {
            origin_in_ground: Point3::new(c[0], c[1], c[2]),
            yaw_rad: c[3],
            roll_rad: c[4],
            pitch_rad: c[5],
            crank_rad: [c[6], c[7]],
        }
    }
}

/// The rotation of a configuration and the ground directions about which its angles turn.
#[derive(Clone, Copy)]
pub(crate) struct Axes {
    pub ground_from_platform: Matrix3<f64>,
    pub roll_axis: Vector3<f64>,
    pub pitch_axis: Vector3<f64>,
}

impl Axes {
    #[inline]
    pub fn of(c: &Configuration) -> Self {
        let (sy, cy) = c.yaw_rad.sin_cos();
        let (sr, cr) = c.roll_rad.sin_cos();
        let (sp, cp) = c.pitch_rad.sin_cos();
        let roll_axis = Vector3::new(cy, sy, 0.0);
        let pitch_axis = Vector3::new(-sy * cr, cy * cr, sr);
        // Rx(roll) z, headed by yaw; then X and Z turned about the pitch axis.
        let up = Vector3::new(sy * sr, -cy * sr, cr);
        let x = roll_axis * cp - up * sp;
        let z = up * cp + roll_axis * sp;
        Self {
            ground_from_platform: Matrix3::from_columns(&[x, pitch_axis, z]),
            roll_axis,
            pitch_axis,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Rotation3;

    #[test]
    fn axes_are_the_product_of_three_turns() {
        let c = Configuration {
            yaw_rad: 0.3,
            roll_rad: -0.2,
            pitch_rad: 0.7,
            ..Configuration::level_at(0.0)
        };
        let expected = Rotation3::from_axis_angle(&Vector3::z_axis(), 0.3)
            * Rotation3::from_axis_angle(&Vector3::x_axis(), -0.2)
            * Rotation3::from_axis_angle(&Vector3::y_axis(), 0.7);
        assert!((c.ground_from_platform() - expected.matrix()).norm() < 1e-15);
        assert!(
            (Axes::of(&c).pitch_axis.z - (-0.2f64).sin()).abs() < 1e-15,
            "roll is the elevation of the Y axis"
        );
    }
}
