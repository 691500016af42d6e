//! The line between a spring's mounts, and how it moves with the axle.

use linkage::Motion;
use nalgebra::{Point3, Unit, Vector3};

use crate::placed::Placed;

/// Mounts nearer than this have no line between them.
const SAME_SPOT_M: f64 = 1e-6;

/// The line from mount to mount.
pub(super) struct Line {
    pub top: Point3<f64>,
    pub bottom: Point3<f64>,
    pub length_m: f64,
    pub motion_ratio: f64,
    pub motion_ratio_per_m: f64,
    pub motion_ratio_in_roll: f64,
}

impl Line {
    /// Between a mount in frame and one in axle coordinates; the wheel on its side stands `wheel_y_m` from the middle of the axle.
    ///
    /// With n the direction of the line and v the velocity of its lower end per rise, MR = -n . v. Its rate is that of v along the line
    /// and that of the line's turning, |v across it|² over its length.
    pub fn of(axle: &Placed, motion: &Motion, top: Point3<f64>, mount: Point3<f64>, wheel_y_m: f64) -> Self {
        let arm = axle.arm(mount);
        let bottom = axle.origin + arm;
        let along = bottom - top;
        let length_m = along.norm();
        // Mounts on one spot have no direction, and nothing that moves along it.
        let n = Unit::try_new(along, SAME_SPOT_M).map_or_else(Vector3::zeros, Unit::into_inner);
        let (ride, roll) = (&motion.twists.ride, &motion.twists.roll);
        let velocity = ride.velocity_of(arm);
        let apart = n.dot(&velocity);
        let across_squared = velocity.norm_squared() - apart * apart;
        let turning = if length_m < SAME_SPOT_M {
            0.0
        } else {
            across_squared / length_m
        };
        Self {
            top,
            bottom,
            length_m,
            motion_ratio: -apart,
            motion_ratio_per_m: -(n.dot(&motion.ride.of(ride, arm)) + turning),
            motion_ratio_in_roll: {
                let rise = roll.velocity_of(axle.tube_axis() * wheel_y_m).z;
                // Wheels in the middle of the axle do not rise with it.
                if rise.abs() < SAME_SPOT_M {
                    0.0
                } else {
                    -n.dot(&roll.velocity_of(arm)) / rise
                }
            },
        }
    }
}
