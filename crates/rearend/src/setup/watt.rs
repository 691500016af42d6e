//! Watt's linkage: a bell crank on the axle or the frame whose two arms are held by links to the left and the right of the other body.

use nalgebra::{Point3, Unit, Vector3};
use serde::{Deserialize, Serialize};

use super::holes::HoleRow;
use super::joint::{Ends, Joint};
use super::length::Length;
use super::mount::Carrier;
use super::quantity::{optional_direction, optional_size_mm, point_mm, size_mm};

/// How the crank stands at ride height.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Stance {
    /// Arms above and below the pivot, pivot bolt pointing front to back.
    Upright,
    /// Arms ahead of and behind the pivot, pivot bolt upright.
    Level,
}

/// A Watt's linkage.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Watt {
    /// What carries the crank; the links run to the other body.
    #[serde(default = "on_axle", skip_serializing_if = "is_on_axle")]
    pub crank_on: Carrier,
    /// How the crank stands.
    pub stance: Stance,
    /// Direction of the pivot bolt, where it is not straight as the stance has it; coordinates of the crank's carrier.
    #[serde(default, with = "optional_direction", skip_serializing_if = "Option::is_none")]
    pub axis: Option<Unit<Vector3<f64>>>,
    /// Centre of the pivot, coordinates of the crank's carrier.
    #[serde(rename = "pivot_mm", with = "point_mm")]
    pub pivot: Point3<f64>,
    /// Pivot to the joint of the left link; of the right one too, unless that has its own.
    #[serde(rename = "half_crank_mm", with = "size_mm")]
    pub half_crank_m: f64,
    /// Pivot to the joint of the right link, where it differs.
    #[serde(
        default,
        rename = "right_half_crank_mm",
        with = "optional_size_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub right_half_crank_m: Option<f64>,
    /// The left link's joint on the other body, in its coordinates. This link takes the upper or the forward arm.
    #[serde(rename = "left_mm", with = "point_mm")]
    pub left: Point3<f64>,
    /// The right link's joint on the other body, in its coordinates.
    #[serde(rename = "right_mm", with = "point_mm")]
    pub right: Point3<f64>,
    /// Outside diameter of the links' tube.
    #[serde(rename = "tube_mm", with = "size_mm")]
    pub tube_m: f64,
    /// Wall of the links' tube.
    #[serde(default = "super::bar::usual_wall_m", rename = "wall_mm", with = "size_mm")]
    pub wall_m: f64,
    /// What the links end in.
    pub ends: Ends,
    /// Where the left link's length comes from.
    #[serde(default, skip_serializing_if = "Length::is_cut_to_suit")]
    pub left_length: Length,
    /// Where the right link's length comes from.
    #[serde(default, skip_serializing_if = "Length::is_cut_to_suit")]
    pub right_length: Length,
    /// Holes that the left link's joint on the other body may be bolted to, where it has a row of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left_holes: Option<HoleRow>,
    /// Holes that the right link's joint there may be bolted to, where it has a row of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub right_holes: Option<HoleRow>,
    /// True where the left link's joint on the other body is not to be moved.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub left_locked: bool,
    /// True where the right link's joint there is not to be moved.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub right_locked: bool,
}

fn on_axle() -> Carrier {
    Carrier::Axle
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde calls it so")]
fn is_on_axle(carrier: &Carrier) -> bool {
    *carrier == Carrier::Axle
}

impl Watt {
    /// Direction of the pivot bolt, coordinates of the crank's carrier.
    #[must_use]
    pub fn pivot_axis(&self) -> Vector3<f64> {
        let straight = match self.stance {
            Stance::Upright => Vector3::x(),
            Stance::Level => Vector3::z(),
        };
        self.axis.map_or(straight, Unit::into_inner)
    }

    /// Direction from the pivot to the joint of the left link, crank as drawn: up or forward, square to the pivot bolt.
    #[must_use]
    pub fn arm_direction(&self) -> Vector3<f64> {
        let wanted = match self.stance {
            Stance::Upright => Vector3::z(),
            Stance::Level => Vector3::x(),
        };
        let axis = self.pivot_axis();
        let square = wanted - axis * axis.dot(&wanted);
        square.try_normalize(1e-6).unwrap_or(wanted)
    }

    /// Both crank joints as drawn, left link's first, coordinates of the crank's carrier.
    #[must_use]
    pub fn joints(&self) -> [Point3<f64>; 2] {
        let along = self.arm_direction();
        let right_m = self.right_half_crank_m.unwrap_or(self.half_crank_m);
        [self.pivot + along * self.half_crank_m, self.pivot - along * right_m]
    }

    /// What the links run to.
    #[must_use]
    pub fn links_to(&self) -> Carrier {
        match self.crank_on {
            Carrier::Axle => Carrier::Frame,
            Carrier::Frame => Carrier::Axle,
        }
    }

    /// Inside diameter of the links' tube, m.
    #[must_use]
    pub fn bore_m(&self) -> f64 {
        super::bar::bore_m(self.tube_m, self.wall_m)
    }

    /// Axial stiffness of a link, ends included, at a length, N/m.
    #[must_use]
    pub fn stiffness_n_per_m(&self, length_m: f64) -> f64 {
        let tube = super::bar::tube_stiffness_n_per_m(self.tube_m, self.wall_m, length_m);
        super::bar::in_series(tube, [Joint::of(self.ends.kind()); 2])
    }
}
