//! What the wheels and bars have to keep clear of: fender lips, tubs, bed floor, and whatever else is in the way.

use nalgebra::Point3;
use serde::{Deserialize, Serialize};

use super::quantity::{amount_mm, is_zero, mm, optional_mm, optional_size_mm, point_mm, points_mm, size_mm};

/// The body over the wheels. All in frame coordinates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Body {
    /// Inside of one fender lip to inside of the other.
    #[serde(rename = "lip_to_lip_mm", with = "size_mm")]
    pub lip_to_lip_m: f64,
    /// Middle between the lips left (+) of the middle of the frame: bodies rarely sit straight.
    #[serde(default, rename = "lips_left_mm", with = "mm", skip_serializing_if = "is_zero")]
    pub lips_left_m: f64,
    /// Underside of the lip at the top of the opening.
    #[serde(rename = "lip_z_mm", with = "mm")]
    pub lip_z_m: f64,
    /// Length of the wheel opening, front to back.
    #[serde(rename = "opening_mm", with = "size_mm")]
    pub opening_m: f64,
    /// Middle of the opening ahead of (+) the axle line.
    #[serde(default, rename = "opening_x_mm", with = "mm", skip_serializing_if = "is_zero")]
    pub opening_x_m: f64,
    /// Inner wall of one wheel tub to that of the other.
    #[serde(
        default,
        rename = "tub_to_tub_mm",
        with = "optional_size_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub tub_to_tub_m: Option<f64>,
    /// Underside of the bed floor.
    #[serde(
        default,
        rename = "bed_floor_z_mm",
        with = "optional_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub bed_floor_z_m: Option<f64>,
    /// Room wanted between tyre and lip.
    #[serde(default = "lip_gap_m", rename = "lip_gap_mm", with = "amount_mm")]
    pub lip_gap_m: f64,
    /// Room wanted between tyre and rail, or tub.
    #[serde(default = "inner_gap_m", rename = "inner_gap_mm", with = "amount_mm")]
    pub inner_gap_m: f64,
}

/// Half an inch: common practice where the fender is to sit over the tyre.
pub(super) fn lip_gap_m() -> f64 {
    0.0127
}

/// An inch: common practice for a sidewall that bulges.
pub(super) fn inner_gap_m() -> f64 {
    0.0254
}

/// Something in the way, fixed to the frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeepClear {
    /// What it is.
    pub name: String,
    /// Where it is.
    pub shape: KeepClearShape,
}

/// Its shape.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum KeepClearShape {
    /// A box between two opposite corners: tank, battery.
    Box {
        /// One corner.
        #[serde(rename = "from_mm", with = "point_mm")]
        from: Point3<f64>,
        /// The opposite one.
        #[serde(rename = "to_mm", with = "point_mm")]
        to: Point3<f64>,
    },
    /// A tube along straight runs: exhaust, brake line.
    Tube {
        /// Its axis, bend to bend.
        #[serde(rename = "along_mm", with = "points_mm")]
        along: Vec<Point3<f64>>,
        /// Outside diameter.
        #[serde(rename = "tube_mm", with = "size_mm")]
        tube_m: f64,
    },
}
