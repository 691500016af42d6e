//! The truck around the links: rails, axle housing, wheels, heights.

use serde::{Deserialize, Serialize};

use super::quantity::{amount_mm, deg, is_zero, list_mm, mm, newton, optional_size_mm, percent, size_mm};

/// Cross-section of a rail.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Section {
    /// Open towards the other rail.
    Channel,
    /// Closed.
    Box,
}

/// Where the rails rise over the axle. Stations along X, forward positive.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KickUp {
    /// Where the rise begins, coming from the front.
    #[serde(rename = "start_x_mm", with = "mm")]
    pub start_x_m: f64,
    /// Where it has risen in full.
    #[serde(rename = "full_x_mm", with = "mm")]
    pub full_x_m: f64,
    /// Where it begins to come down again.
    #[serde(rename = "level_end_x_mm", with = "mm")]
    pub level_end_x_m: f64,
    /// Where it is down.
    #[serde(rename = "end_x_mm", with = "mm")]
    pub end_x_m: f64,
    /// How far it rises.
    #[serde(rename = "rise_mm", with = "size_mm")]
    pub rise_m: f64,
}

/// A cut into the rail's underside over the axle tube, plated.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Notch {
    /// How far it is cut upwards.
    #[serde(rename = "depth_mm", with = "size_mm")]
    pub depth_m: f64,
    /// Half its length along the rail.
    #[serde(rename = "half_length_mm", with = "size_mm")]
    pub half_length_m: f64,
}

/// How the crossmembers ahead of the axle, within the kick-up, are bent up over the driveshaft.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hoop {
    /// Half the width of the part that lies high.
    #[serde(rename = "half_width_mm", with = "size_mm")]
    pub half_width_m: f64,
    /// How much higher it lies.
    #[serde(rename = "rise_mm", with = "size_mm")]
    pub rise_m: f64,
}

/// The two frame rails.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rails {
    /// Outside to outside.
    #[serde(rename = "spacing_mm", with = "size_mm")]
    pub spacing_m: f64,
    /// Height of the section.
    #[serde(rename = "height_mm", with = "size_mm")]
    pub height_m: f64,
    /// Width of the section.
    #[serde(rename = "flange_mm", with = "size_mm")]
    pub flange_m: f64,
    /// Wall thickness.
    #[serde(rename = "wall_mm", with = "size_mm")]
    pub wall_m: f64,
    /// Open or closed.
    pub section: Section,
    /// Front end of what is shown.
    #[serde(rename = "front_x_mm", with = "mm")]
    pub front_x_m: f64,
    /// Rear end.
    #[serde(rename = "rear_x_mm", with = "mm")]
    pub rear_x_m: f64,
    /// Rise over the axle, if any.
    #[serde(default)]
    pub kick_up: Option<KickUp>,
    /// Cut over the axle, if any.
    #[serde(default)]
    pub notch: Option<Notch>,
    /// Stations of the crossmembers.
    #[serde(rename = "crossmembers_x_mm", with = "list_mm", default)]
    pub crossmembers_x_m: Vec<f64>,
    /// How those under the kick-up clear the shaft, where they are bent for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hoop: Option<Hoop>,
}

impl Rails {
    /// The hoop of a crossmember at a station, where it has one: in the climb of the kick-up ahead of the axle.
    #[must_use]
    pub fn hoop_at(&self, x_m: f64) -> Option<Hoop> {
        let climbs = self.kick_up.is_some_and(|k| (0.0..k.start_x_m).contains(&x_m));
        self.hoop.filter(|_| climbs)
    }
}

/// What stops the wheels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Brakes {
    /// Drums.
    Drum,
    /// Discs.
    Disc,
}

/// The axle housing.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Axle {
    /// Wheel mounting face to wheel mounting face.
    #[serde(rename = "flange_to_flange_mm", with = "size_mm")]
    pub flange_to_flange_m: f64,
    /// Diameter of the axle tubes.
    #[serde(rename = "tube_mm", with = "size_mm")]
    pub tube_m: f64,
    /// Pinion left (+) of the centre plane.
    #[serde(rename = "pinion_offset_mm", with = "mm", default)]
    pub pinion_offset_m: f64,
    /// Elevation of the pinion axis, taken forward, against the frame as drawn: + nose up.
    #[serde(rename = "pinion_angle_deg", with = "deg")]
    pub pinion_angle_rad: f64,
    /// Tube axis to pinion yoke.
    #[serde(rename = "pinion_length_mm", with = "size_mm")]
    pub pinion_length_m: f64,
    /// Tube axis down to the pinion's axis, at right angles to it: hypoid gears put it below the middle.
    #[serde(default, rename = "pinion_drop_mm", with = "mm", skip_serializing_if = "is_zero")]
    pub pinion_drop_m: f64,
    /// Drums or discs.
    pub brakes: Brakes,
}

/// How the rim is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum RimStyle {
    /// A pressed steel wheel with round windows.
    Steel,
    /// Spokes.
    Spoked,
}

/// Wheels and tyres of one axle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wheels {
    /// Outside diameter of the tyre.
    #[serde(rename = "tyre_mm", with = "size_mm")]
    pub tyre_m: f64,
    /// Width of the tyre.
    #[serde(rename = "tyre_width_mm", with = "size_mm")]
    pub tyre_width_m: f64,
    /// Nominal rim diameter.
    #[serde(rename = "rim_mm", with = "size_mm")]
    pub rim_m: f64,
    /// Axle centre to ground under load.
    #[serde(rename = "loaded_radius_mm", with = "size_mm")]
    pub loaded_radius_m: f64,
    /// Mounting face to the rim's inner edge.
    #[serde(rename = "backspacing_mm", with = "size_mm")]
    pub backspacing_m: f64,
    /// Nominal width of the rim, where it is known: bead to bead, half an inch a side less than its edges.
    #[serde(
        default,
        rename = "rim_width_mm",
        with = "optional_size_mm",
        skip_serializing_if = "Option::is_none"
    )]
    pub rim_width_m: Option<f64>,
    /// Thickness of a spacer behind the wheel.
    #[serde(default, rename = "spacer_mm", with = "amount_mm", skip_serializing_if = "is_zero")]
    pub spacer_m: f64,
    /// The size on the tyre's sidewall, where the measures came from it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<String>,
    /// Looks only.
    pub style: RimStyle,
}

/// A rim is this much wider over its edges than its nominal width: common practice.
const RIM_EDGES_M: f64 = 0.0254;

impl Wheels {
    /// Mounting face on the axle out to the middle of the tyre.
    #[must_use]
    pub fn outset_m(&self) -> f64 {
        let over_edges_m = self
            .rim_width_m
            .map_or(self.tyre_width_m, |width_m| width_m + RIM_EDGES_M);
        self.spacer_m + over_edges_m / 2.0 - self.backspacing_m
    }
}

/// What the front of the frame does while the rear rises and falls.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum Front {
    /// Stays level with the rear.
    #[default]
    Follows,
    /// Stands at its own heights.
    Heights(FrontHeights),
}

/// Heights of the front of the frame above ground, at the rear's three heights.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FrontHeights {
    /// From the rear axle to the front axle.
    #[serde(rename = "wheelbase_mm", with = "size_mm")]
    pub wheelbase_m: f64,
    /// With the rear laid out.
    #[serde(rename = "laid_out_mm", with = "mm")]
    pub laid_out_m: f64,
    /// At ride height.
    #[serde(rename = "ride_mm", with = "mm")]
    pub ride_m: f64,
    /// At full lift.
    #[serde(rename = "full_lift_mm", with = "mm")]
    pub full_lift_m: f64,
}

/// Heights of the rail's underside above ground, at the axle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Travel {
    /// Lowest.
    #[serde(rename = "laid_out_mm", with = "mm")]
    pub laid_out_m: f64,
    /// As driven.
    #[serde(rename = "ride_mm", with = "mm")]
    pub ride_m: f64,
    /// Highest.
    #[serde(rename = "full_lift_mm", with = "mm")]
    pub full_lift_m: f64,
    /// Roll of the axle with one wheel up.
    #[serde(rename = "one_wheel_up_deg", with = "deg")]
    pub one_wheel_up_rad: f64,
    /// What the front does.
    #[serde(default)]
    pub front: Front,
}

impl Travel {
    /// Midway between laid out and full lift.
    #[must_use]
    pub fn half_m(&self) -> f64 {
        f64::midpoint(self.laid_out_m, self.full_lift_m)
    }

    /// Pitch of the frame against level ground with the rear at a height: + front up. Straight lines between the three heights given.
    #[must_use]
    pub fn rake_rad(&self, height_m: f64) -> f64 {
        let Front::Heights(front) = self.front else { return 0.0 };
        let (low, high) = if height_m < self.ride_m {
            ((self.laid_out_m, front.laid_out_m), (self.ride_m, front.ride_m))
        } else {
            ((self.ride_m, front.ride_m), (self.full_lift_m, front.full_lift_m))
        };
        let part = (height_m - low.0) / (high.0 - low.0);
        let part = if part.is_finite() { part } else { 0.0 };
        let front_m = low.1 + (high.1 - low.1) * part;
        (front_m - height_m).atan2(front.wheelbase_m)
    }
}

/// Where the weight of the laden truck is.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Balance {
    /// From the rear axle to the front axle.
    #[serde(rename = "wheelbase_mm", with = "size_mm")]
    pub wheelbase_m: f64,
    /// Height of the centre of gravity above ground at ride height.
    #[serde(rename = "cg_height_mm", with = "size_mm")]
    pub cg_height_m: f64,
    /// Part of the braking that the rear wheels do.
    #[serde(rename = "rear_braking_pct", with = "percent")]
    pub rear_braking: f64,
}

/// Where the axle is drawn at ride height, against straight and square under the frame.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Placement {
    /// Axle centre ahead of X = 0.
    #[serde(default, rename = "forward_mm", with = "mm")]
    pub forward_m: f64,
    /// Axle centre left of the middle.
    #[serde(default, rename = "left_mm", with = "mm")]
    pub left_m: f64,
    /// Heading, + left.
    #[serde(default, rename = "steer_deg", with = "deg")]
    pub steer_rad: f64,
    /// Turn of the housing, + nose up. It adds to the pinion angle.
    #[serde(default, rename = "nose_up_deg", with = "deg")]
    pub nose_up_rad: f64,
    /// Turn of the Watt's crank from how it is described.
    #[serde(default, rename = "crank_deg", with = "deg")]
    pub crank_rad: f64,
}

impl Placement {
    pub(super) fn is_straight(&self) -> bool {
        *self == Self::default()
    }
}

/// What the user allows before a finding asks to look.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Limits {
    /// Largest sideways shift of the axle from its place at ride height.
    #[serde(rename = "shift_mm", with = "size_mm")]
    pub shift_m: f64,
    /// Largest change of pinion angle from ride height.
    #[serde(rename = "pinion_change_deg", with = "deg")]
    pub pinion_change_rad: f64,
    /// Largest force that bars may put on each other because they do not fit.
    #[serde(rename = "bind_n", with = "newton")]
    pub bind_n: f64,
    /// Largest length that a bar may have to give.
    #[serde(rename = "misfit_mm", with = "size_mm")]
    pub misfit_m: f64,
    /// Least room between things that may not meet.
    #[serde(rename = "clearance_mm", with = "amount_mm")]
    pub clearance_m: f64,
}

impl Default for Limits {
    /// A quarter of an inch and two degrees: common practice where tyres have the usual room. Half a ton, and what rubber takes: common
    /// practice for brackets that nobody worried about. Half an inch between what moves: common practice.
    fn default() -> Self {
        Self {
            shift_m: 0.006,
            pinion_change_rad: 2f64.to_radians(),
            bind_n: 5000.0,
            misfit_m: 0.003,
            clearance_m: 0.0127,
        }
    }
}
