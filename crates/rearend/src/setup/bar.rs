//! A bar: one straight link between a mount on the frame and a mount on the axle.

use nalgebra::Point3;
use serde::{Deserialize, Serialize};

use super::holes::HoleRow;
use super::joint::{Ends, Joint};
use super::length::Length;
use super::mount::BarEnd;
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

/// A bar. A mirrored bar stands for two, the other with Y reversed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "what a file says of a bar, each on its own"
)]
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
    /// True where the two of a mirrored bar are one wishbone: they meet the axle in one joint.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub joined: bool,
    /// Outside diameter of its tube.
    #[serde(rename = "tube_mm", with = "size_mm")]
    pub tube_m: f64,
    /// Wall of its tube.
    #[serde(default = "usual_wall_m", rename = "wall_mm", with = "size_mm")]
    pub wall_m: f64,
    /// What it ends in.
    pub ends: Ends,
    /// Its end on the frame, where it is not as `ends` says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_joint: Option<Joint>,
    /// Its end on the axle, where it is not as `ends` says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle_joint: Option<Joint>,
    /// Where its length comes from.
    #[serde(default, skip_serializing_if = "Length::is_cut_to_suit")]
    pub length: Length,
    /// Holes that its mount on the frame may be bolted to, where it has a row of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_holes: Option<HoleRow>,
    /// Holes that its mount on the axle may be bolted to, where it has a row of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle_holes: Option<HoleRow>,
    /// True where its mount on the frame is not to be moved.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub frame_locked: bool,
    /// True where its mount on the axle is not to be moved.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub axle_locked: bool,
}

/// 3/16 in: common practice for bars of a truck.
pub(super) fn usual_wall_m() -> f64 {
    0.0048
}

/// Young's modulus of steel, N/m^2.
pub(super) const STEEL_N_PER_M2: f64 = 2.07e11;

/// Inside diameter of a tube, m; nothing where its walls meet.
#[must_use]
pub(crate) fn bore_m(tube_m: f64, wall_m: f64) -> f64 {
    (tube_m - 2.0 * wall_m).max(0.0)
}

/// Axial stiffness of a steel tube, N/m. A wall thicker than the tube is a solid bar.
#[must_use]
pub fn tube_stiffness_n_per_m(tube_m: f64, wall_m: f64, length_m: f64) -> f64 {
    let inside_m = bore_m(tube_m, wall_m);
    let area_m2 = std::f64::consts::FRAC_PI_4 * (tube_m * tube_m - inside_m * inside_m);
    STEEL_N_PER_M2 * area_m2 / length_m
}

/// Axial stiffness of a tube between two ends: three springs in series, N/m.
#[must_use]
pub fn in_series(tube_n_per_m: f64, ends: [Joint; 2]) -> f64 {
    let give = |k: f64| 1.0 / k;
    1.0 / (give(tube_n_per_m) + give(ends[0].radial_n_per_m()) + give(ends[1].radial_n_per_m()))
}

impl Bar {
    /// A bar with rod ends, cut to suit.
    #[must_use]
    pub fn new(name: &str, role: Role, mount_in_frame: Point3<f64>, mount_in_axle: Point3<f64>) -> Self {
        Self {
            name: name.to_owned(),
            role,
            mount_in_frame,
            mount_in_axle,
            mirrored: false,
            joined: false,
            tube_m: 0.0445,
            wall_m: usual_wall_m(),
            ends: Ends::RodEnds,
            frame_joint: None,
            axle_joint: None,
            length: Length::CutToSuit,
            frame_holes: None,
            axle_holes: None,
            frame_locked: false,
            axle_locked: false,
        }
    }

    /// The same on both sides.
    #[must_use]
    pub fn on_both_sides(mut self) -> Self {
        self.mirrored = true;
        self
    }

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

    /// Runs forward as far as a third of what it runs across, or farther.
    #[must_use]
    pub fn runs_diagonally(&self) -> bool {
        let along = self.mount_in_frame - self.mount_in_axle;
        3.0 * along.x.abs() > along.y.abs()
    }

    /// What an end is.
    #[must_use]
    pub fn joint(&self, end: BarEnd) -> Joint {
        let own = match end {
            BarEnd::Frame => self.frame_joint,
            BarEnd::Axle => self.axle_joint,
        };
        own.unwrap_or(Joint::of(self.ends.kind()))
    }

    /// Inside diameter of its tube, m.
    #[must_use]
    pub fn bore_m(&self) -> f64 {
        bore_m(self.tube_m, self.wall_m)
    }

    /// Axial stiffness, ends included, at a length, N/m.
    #[must_use]
    pub fn stiffness_n_per_m(&self, length_m: f64) -> f64 {
        let tube = tube_stiffness_n_per_m(self.tube_m, self.wall_m, length_m);
        in_series(tube, [self.joint(BarEnd::Frame), self.joint(BarEnd::Axle)])
    }
}
