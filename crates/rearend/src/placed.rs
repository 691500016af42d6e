//! The axle at a pose, with its rotation worked out once for all that is read off it.

use linkage::Configuration;
use nalgebra::{Matrix3, Point3, Vector3};

/// Where the axle stands in the frame.
#[derive(Clone, Copy, Debug)]
pub struct Placed {
    /// Of its middle, frame coordinates.
    pub origin: Point3<f64>,
    /// Takes axle directions to frame directions.
    pub frame_from_axle: Matrix3<f64>,
}

impl Placed {
    /// At a pose.
    #[must_use]
    pub fn at(at: &Configuration) -> Self {
        Self {
            origin: at.origin_in_ground,
            frame_from_axle: at.ground_from_platform(),
        }
    }

    /// A point of the axle in frame coordinates.
    #[must_use]
    pub fn to_frame(&self, in_axle: Point3<f64>) -> Point3<f64> {
        self.origin + self.arm(in_axle)
    }

    /// From the middle of the axle to one of its points, frame coordinates.
    #[must_use]
    pub fn arm(&self, in_axle: Point3<f64>) -> Vector3<f64> {
        self.frame_from_axle * in_axle.coords
    }

    /// The tube's axis to the left, frame coordinates.
    #[must_use]
    pub fn tube_axis(&self) -> Vector3<f64> {
        self.frame_from_axle.column(1).into_owned()
    }
}
