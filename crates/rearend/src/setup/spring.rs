//! What carries the truck: a coilover or an air spring on either side, alike.

use nalgebra::Point3;
use serde::{Deserialize, Serialize};

use super::quantity::{
    amount_mm, kilogram, kilopascal, litre, n_per_mm, newton, optional_kilogram, optional_mm, optional_n_per_mm,
    point_mm, points_mm, size_mm,
};

/// The springs, one each side, the right one mirrored.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Springs {
    /// What kind.
    pub kind: SpringKind,
    /// Upper mount of the left spring, frame coordinates.
    #[serde(rename = "frame_mm", with = "point_mm")]
    pub mount_in_frame: Point3<f64>,
    /// The holes that its lower mount may be bolted to, axle coordinates.
    #[serde(rename = "axle_holes_mm", with = "points_mm")]
    pub holes_in_axle: Vec<Point3<f64>>,
    /// Which hole it is in, from 0.
    #[serde(default)]
    pub hole: usize,
    /// Mass that one rear corner carries on its spring.
    #[serde(rename = "corner_kg", with = "kilogram")]
    pub corner_kg: f64,
    /// Half the mass of axle, wheels and brakes, where it is known.
    #[serde(
        default,
        rename = "unsprung_corner_kg",
        with = "optional_kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub unsprung_corner_kg: Option<f64>,
    /// Stiffness of one tyre, where it is known.
    #[serde(
        default,
        rename = "tyre_n_per_mm",
        with = "optional_n_per_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub tyre_n_per_m: Option<f64>,
    /// Ride height at which the bump stop meets the axle.
    #[serde(
        default,
        rename = "bump_stop_at_mm",
        with = "optional_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub bump_stop_at_m: Option<f64>,
}

impl Springs {
    /// The lower mount in use, axle coordinates. A setup that is valid has one.
    #[must_use]
    pub fn mount_in_axle(&self) -> Option<Point3<f64>> {
        self.holes_in_axle.get(self.hole).copied()
    }
}

/// A kind of spring.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum SpringKind {
    /// A coil around a damper.
    Coilover(Coilover),
    /// A bag of air.
    Air(AirSpring),
}

/// A coil around a damper; lengths eye to eye.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Coilover {
    /// Fully collapsed.
    #[serde(rename = "collapsed_mm", with = "size_mm")]
    pub collapsed_m: f64,
    /// Fully extended.
    #[serde(rename = "extended_mm", with = "size_mm")]
    pub extended_m: f64,
    /// Stiffness of the coil.
    #[serde(rename = "rate_n_per_mm", with = "n_per_mm")]
    pub rate_n_per_m: f64,
    /// Length of the coil before it is put on.
    #[serde(rename = "free_length_mm", with = "size_mm")]
    pub free_length_m: f64,
    /// How far the collar presses the coil together with the damper fully extended.
    #[serde(rename = "preload_mm", with = "amount_mm")]
    pub preload_m: f64,
    /// Outside diameter of the coil.
    #[serde(rename = "coil_mm", with = "size_mm")]
    pub coil_m: f64,
}

/// A bag of air, from its maker's chart.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AirSpring {
    /// Largest diameter under pressure, which it needs room for.
    #[serde(rename = "bag_mm", with = "size_mm")]
    pub bag_m: f64,
    /// Shortest it may get.
    #[serde(rename = "shortest_mm", with = "size_mm")]
    pub shortest_m: f64,
    /// Longest it may get.
    #[serde(rename = "longest_mm", with = "size_mm")]
    pub longest_m: f64,
    /// Highest pressure it may be given, above that of the air around it.
    #[serde(rename = "most_kpa", with = "kilopascal")]
    pub most_pa: f64,
    /// The pressure that the chart's loads are for, above that of the air around it.
    #[serde(rename = "chart_kpa", with = "kilopascal")]
    pub chart_pa: f64,
    /// The chart, shortest first.
    pub chart: Vec<AirPoint>,
}

/// A line of an air spring's chart.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AirPoint {
    /// Height of the spring.
    #[serde(rename = "height_mm", with = "size_mm")]
    pub height_m: f64,
    /// What it carries at the chart's pressure.
    #[serde(rename = "load_n", with = "newton")]
    pub load_n: f64,
    /// Air that it holds, m³ inside.
    #[serde(rename = "volume_l", with = "litre")]
    pub volume_m3: f64,
}
