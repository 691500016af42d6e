//! The line between a spring's mounts, and how it moves with the axle.

use linkage::{Configuration, Mechanism, Twist, Twists};
use nalgebra::{Matrix3, Point3, Unit, Vector3};

/// How far above a pose its twist is looked at again, m. The difference is wrong by as much as the ratio bends over half of it, some 1e-6 a
/// metre, and by what rounding leaves of the twists, less than that.
const HAIR_M: f64 = 3e-7;

/// Mounts nearer than this have no line between them.
const SAME_SPOT_M: f64 = 1e-6;

/// The axle at a pose with its ride twist.
struct Place {
    origin: Point3<f64>,
    turn: Matrix3<f64>,
    ride: Twist,
}

/// The axle at a pose and a hair above.
pub(super) struct Nearby {
    here: Place,
    roll: Twist,
    above: Place,
}

/// The line from mount to mount.
pub(super) struct Line {
    pub top: Point3<f64>,
    pub bottom: Point3<f64>,
    pub length_m: f64,
    pub motion_ratio: f64,
    pub motion_ratio_per_m: f64,
    pub motion_ratio_in_roll: f64,
}

impl Nearby {
    /// The hair is taken along the twist, straight on: what the path bends over it is of second order. One look, on one side, is half of what
    /// the springs cost a pose.
    pub fn of(mechanism: &Mechanism, twists: &Twists, at: &Configuration) -> Self {
        let above = along(at, &twists.ride, HAIR_M);
        Self {
            here: Place::of(at, twists.ride),
            roll: twists.roll,
            above: Place::of(&above, mechanism.twists(&above).ride),
        }
    }
}

/// The configuration after a small rise without roll, to first order.
fn along(at: &Configuration, ride: &Twist, rise_m: f64) -> Configuration {
    let (sin_yaw, cos_yaw) = at.yaw_rad.sin_cos();
    let (sin_roll, cos_roll) = at.roll_rad.sin_cos();
    // The axle turns about Z by yaw and about its own Y axis by pitch; what lies level of that axis is cos(roll) long. A drive never rolls
    // the axle upright.
    let pitch = (cos_yaw * ride.angular.y - sin_yaw * ride.angular.x) / cos_roll;
    let mut to = *at;
    to.origin_in_ground += ride.linear * rise_m;
    to.yaw_rad += (ride.angular.z - sin_roll * pitch) * rise_m;
    to.pitch_rad += pitch * rise_m;
    for (crank, rate) in to.crank_rad.iter_mut().zip(ride.cranks) {
        *crank += rate * rise_m;
    }
    to
}

impl Place {
    fn of(at: &Configuration, ride: Twist) -> Self {
        Self {
            origin: at.origin_in_ground,
            turn: at.ground_from_platform(),
            ride,
        }
    }

    fn arm(&self, in_axle: Point3<f64>) -> Vector3<f64> {
        self.turn * in_axle.coords
    }

    /// How much the line from `top` to the mount shortens a rise.
    fn motion_ratio(&self, top: Point3<f64>, mount: Point3<f64>) -> f64 {
        let arm = self.arm(mount);
        -direction(self.origin + arm - top).dot(&self.ride.velocity_of(arm))
    }
}

/// Mounts on one spot have no direction, and nothing that moves along it.
fn direction(along: Vector3<f64>) -> Vector3<f64> {
    Unit::try_new(along, SAME_SPOT_M).map_or_else(Vector3::zeros, Unit::into_inner)
}

impl Line {
    /// Between a mount in frame and one in axle coordinates; the wheel on its side stands `wheel_y_m` from the middle of the axle.
    pub fn of(near: &Nearby, top: Point3<f64>, mount: Point3<f64>, wheel_y_m: f64) -> Self {
        let here = &near.here;
        let arm = here.arm(mount);
        let bottom = here.origin + arm;
        let motion_ratio = here.motion_ratio(top, mount);
        Self {
            top,
            bottom,
            length_m: (bottom - top).norm(),
            motion_ratio,
            motion_ratio_per_m: (near.above.motion_ratio(top, mount) - motion_ratio) / HAIR_M,
            motion_ratio_in_roll: {
                let wheel = here.arm(Point3::new(0.0, wheel_y_m, 0.0));
                let rise = near.roll.velocity_of(wheel).z;
                let shortens = -direction(bottom - top).dot(&near.roll.velocity_of(arm));
                // Wheels in the middle of the axle do not rise with it.
                if rise.abs() < SAME_SPOT_M { 0.0 } else { shortens / rise }
            },
        }
    }
}
