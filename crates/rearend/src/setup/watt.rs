//! Watt's linkage: a bell crank on the axle whose two arms are held by links to the left and right rail.

use nalgebra::{Point3, Vector3};
use serde::{Deserialize, Serialize};

use super::bar::Ends;
use super::quantity::{point_mm, size_mm};

/// How the crank stands at ride height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Stance {
    /// Arms above and below the pivot, pivot bolt pointing front to back.
    Upright,
    /// Arms ahead of and behind the pivot, pivot bolt upright.
    Level,
}

/// A Watt's linkage with its crank on the axle and links cut to suit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Watt {
    /// How the crank stands.
    pub stance: Stance,
    /// Centre of the pivot, axle coordinates.
    #[serde(rename = "pivot_mm", with = "point_mm")]
    pub pivot_in_axle: Point3<f64>,
    /// Pivot to the joint at either end of the crank.
    #[serde(rename = "half_crank_mm", with = "size_mm")]
    pub half_crank_m: f64,
    /// Joint of the left link on the frame, frame coordinates. This link takes the upper or the forward arm.
    #[serde(rename = "left_mm", with = "point_mm")]
    pub left_in_frame: Point3<f64>,
    /// Joint of the right link on the frame, frame coordinates.
    #[serde(rename = "right_mm", with = "point_mm")]
    pub right_in_frame: Point3<f64>,
    /// Outside diameter of the links' tube.
    #[serde(rename = "tube_mm", with = "size_mm")]
    pub tube_m: f64,
    /// What the links end in.
    pub ends: Ends,
}

impl Watt {
    /// Direction of the pivot bolt, axle coordinates.
    #[must_use]
    pub fn axis_in_axle(&self) -> Vector3<f64> {
        match self.stance {
            Stance::Upright => Vector3::x(),
            Stance::Level => Vector3::z(),
        }
    }

    /// From the pivot to the joint of the left link, crank as drawn.
    #[must_use]
    pub fn left_arm(&self) -> Vector3<f64> {
        let direction = match self.stance {
            Stance::Upright => Vector3::z(),
            Stance::Level => Vector3::x(),
        };
        direction * self.half_crank_m
    }

    /// Both crank joints as drawn, left link's first, axle coordinates.
    #[must_use]
    pub fn joints_in_axle(&self) -> [Point3<f64>; 2] {
        [
            self.pivot_in_axle + self.left_arm(),
            self.pivot_in_axle - self.left_arm(),
        ]
    }
}
