//! An arm that is rigid with the axle and has one eye on the frame: truck arm or ladder bar.

use nalgebra::Point3;
use serde::{Deserialize, Serialize};

use super::bar::{STEEL_N_PER_M2, tube_stiffness_n_per_m};
use super::holes::HoleRow;
use super::joint::{Joint, JointKind};
use super::quantity::{point_mm, size_mm};

/// Which arm of a setup.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct ArmId(pub usize);

/// How an arm is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum ArmKind {
    /// One beam clamped under the axle tube, its eye near the middle of the truck.
    TruckArm,
    /// Two tubes that spread from the eye to above and below the axle tube.
    LadderBar,
}

/// An arm, made to suit. A mirrored arm stands for two, the other with Y reversed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Arm {
    /// What the user calls it.
    pub name: String,
    /// How it is built.
    pub kind: ArmKind,
    /// Centre of its eye on the frame, frame coordinates.
    #[serde(rename = "eye_mm", with = "point_mm")]
    pub eye_in_frame: Point3<f64>,
    /// Where it meets the axle (a ladder bar: midway between its two mounts), axle coordinates.
    #[serde(rename = "axle_mm", with = "point_mm")]
    pub mount_in_axle: Point3<f64>,
    /// True where the same arm stands on the other side.
    #[serde(default)]
    pub mirrored: bool,
    /// Outside diameter of its tube, or height of its beam.
    #[serde(rename = "tube_mm", with = "size_mm")]
    pub tube_m: f64,
    /// Between a ladder bar's two mounts on the axle.
    #[serde(default = "usual_spread_m", rename = "spread_mm", with = "size_mm")]
    pub spread_m: f64,
    /// Its eye.
    #[serde(default = "rubber")]
    pub eye: Joint,
    /// Holes that its eye may be bolted to, where it has a row of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_holes: Option<HoleRow>,
    /// Holes that it may be bolted to on the axle, where it has a row of them there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub axle_holes: Option<HoleRow>,
    /// True where its eye is not to be moved.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub frame_locked: bool,
    /// True where where it meets the axle is not to be moved.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub axle_locked: bool,
}

/// Mounts above and below a three-inch tube with room for a bolt: common practice.
fn usual_spread_m() -> f64 {
    0.2
}

fn rubber() -> Joint {
    Joint::of(JointKind::Rubber)
}

impl Arm {
    /// How many arms of steel this is.
    #[must_use]
    pub fn count(&self) -> usize {
        if self.mirrored { 2 } else { 1 }
    }

    /// Stiffness of the eye against the axle, N/m: sideways, lengthwise and upright. The arm bends as a cantilever from the axle, in series
    /// with the bush; without that, two arms would hold the axle as in a vice, which no truck's do.
    #[must_use]
    pub fn eye_stiffness_n_per_m(&self, length_m: f64) -> [f64; 3] {
        let arm = match self.kind {
            ArmKind::TruckArm => beam(self.tube_m, length_m),
            ArmKind::LadderBar => truss(self.tube_m, self.spread_m, length_m),
        };
        let (radial, axial) = (self.eye.radial_n_per_m(), self.eye.axial_n_per_m());
        let bush = [axial, radial, radial];
        std::array::from_fn(|i| 1.0 / (1.0 / arm[i] + 1.0 / bush[i]))
    }

    /// A ladder bar's upper and lower mount on the axle; twice the same of a truck arm. Axle coordinates, as drawn.
    #[must_use]
    pub fn axle_mounts(&self) -> [Point3<f64>; 2] {
        let half = match self.kind {
            ArmKind::TruckArm => 0.0,
            ArmKind::LadderBar => self.spread_m / 2.0,
        };
        let up = nalgebra::Vector3::z() * half;
        [self.mount_in_axle + up, self.mount_in_axle - up]
    }
}

/// Wall of arms: common practice.
const WALL_M: f64 = 0.005;

/// A box beam of this height and three fifths of its width, clamped at the axle: `3 E I / L^3` across, `E A / L` along.
fn beam(height_m: f64, length_m: f64) -> [f64; 3] {
    let width_m = 0.6 * height_m;
    let inside = |m: f64| (m - 2.0 * WALL_M).max(0.0);
    let second_moment = |across: f64, along: f64| across * along.powi(3) / 12.0;
    let hollow = |b: f64, h: f64| second_moment(b, h) - second_moment(inside(b), inside(h));
    let area_m2 = height_m * width_m - inside(height_m) * inside(width_m);
    let bending = |i: f64| 3.0 * STEEL_N_PER_M2 * i / length_m.powi(3);
    [
        bending(hollow(height_m, width_m)),
        STEEL_N_PER_M2 * area_m2 / length_m,
        bending(hollow(width_m, height_m)),
    ]
}

/// Two tubes that meet at the eye and stand apart at the axle: sideways they bend, upright one is pulled while the other is pushed.
fn truss(tube_m: f64, spread_m: f64, length_m: f64) -> [f64; 3] {
    let inside_m = (tube_m - 2.0 * WALL_M).max(0.0);
    let second_moment = std::f64::consts::PI / 64.0 * (tube_m.powi(4) - inside_m.powi(4));
    let tube = tube_stiffness_n_per_m(tube_m, WALL_M, length_m);
    let slope = spread_m / 2.0 / length_m;
    [
        2.0 * 3.0 * STEEL_N_PER_M2 * second_moment / length_m.powi(3),
        2.0 * tube,
        2.0 * tube * slope * slope,
    ]
}
