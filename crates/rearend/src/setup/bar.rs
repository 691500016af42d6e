//! A bar: one straight link between a mount on the frame and a mount on the axle.

use nalgebra::Point3;
use serde::{Deserialize, Serialize};

use super::quantity::{point_mm, size_mm};

/// Which bar of a setup.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct BarId(pub usize);

/// What a bar is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Role {
    /// Runs front to back above the axle.
    Upper,
    /// Runs front to back below or beside the axle.
    Lower,
    /// Runs across and holds the axle sideways.
    Sideways,
}

/// What a bar ends in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Ends {
    /// Spherical rod ends.
    RodEnds,
    /// Eyes with bushings.
    Bushes,
}

/// A bar, cut to suit its mounts at ride height. A mirrored bar stands for two, the other with Y reversed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bar {
    /// What the user calls it.
    pub name: String,
    /// What it is there for.
    pub role: Role,
    /// Centre of the joint on the frame, frame coordinates.
    #[serde(rename = "frame_mm", with = "point_mm")]
    pub mount_in_frame: Point3<f64>,
    /// Centre of the joint on the axle, axle coordinates.
    #[serde(rename = "axle_mm", with = "point_mm")]
    pub mount_in_axle: Point3<f64>,
    /// True where the same bar stands on the other side.
    #[serde(default)]
    pub mirrored: bool,
    /// Outside diameter of its tube.
    #[serde(rename = "tube_mm", with = "size_mm")]
    pub tube_m: f64,
    /// What it ends in.
    pub ends: Ends,
}

impl Bar {
    /// How many bars of steel this is.
    #[must_use]
    pub fn count(&self) -> usize {
        if self.mirrored { 2 } else { 1 }
    }

    /// More than ten degrees off straight ahead in plan.
    #[must_use]
    pub fn is_triangulated(&self) -> bool {
        let along = self.mount_in_frame - self.mount_in_axle;
        along.y.abs() > along.x.abs() * 10f64.to_radians().tan()
    }
}
