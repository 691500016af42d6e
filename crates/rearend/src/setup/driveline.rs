//! From the transmission to the pinion: one shaft, or two with a carrier bearing between them.

use nalgebra::Point3;
use serde::{Deserialize, Serialize};

use super::quantity::{amount_mm, deg, is_zero, km_per_h, optional_point_mm, point_mm, ratio, size_mm};

/// The shaft and what it runs between. The joint at the pinion is the end of the pinion as the axle has it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Driveline {
    /// Centre of the joint behind the transmission.
    #[serde(rename = "output_mm", with = "point_mm")]
    pub output: Point3<f64>,
    /// Elevation of the output's axis, taken forward: + nose up, so that its tail points down.
    #[serde(rename = "output_nose_up_deg", with = "deg")]
    pub output_nose_up_rad: f64,
    /// Heading of the output's axis, taken forward: + to the left.
    #[serde(default, rename = "output_left_deg", with = "deg", skip_serializing_if = "is_zero")]
    pub output_left_rad: f64,
    /// Centre of the joint behind a carrier bearing, where the shaft is in two pieces.
    #[serde(
        default,
        rename = "carrier_mm",
        with = "optional_point_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub carrier: Option<Point3<f64>>,
    /// Outside diameter of the shaft's tube.
    #[serde(rename = "tube_mm", with = "size_mm")]
    pub tube_m: f64,
    /// How far the splines can still slide together at ride height.
    #[serde(rename = "slip_in_mm", with = "amount_mm")]
    pub slip_in_m: f64,
    /// How far they can still slide apart there.
    #[serde(rename = "slip_out_mm", with = "amount_mm")]
    pub slip_out_m: f64,
    /// How far the two yokes of the rear shaft are turned out of line with each other.
    #[serde(default, rename = "phase_deg", with = "deg", skip_serializing_if = "is_zero")]
    pub phase_rad: f64,
    /// How fast it turns, as far as anybody knows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub speed: Option<ShaftSpeed>,
}

/// What makes road speed into shaft speed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShaftSpeed {
    /// Turns of the shaft a turn of the wheels.
    #[serde(with = "ratio")]
    pub axle_ratio: f64,
    /// As fast as it is driven, m/s inside.
    #[serde(rename = "fastest_km_per_h", with = "km_per_h")]
    pub fastest_m_per_s: f64,
}
