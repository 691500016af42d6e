//! What the user describes. One value, [`Setup`], is the whole document; nothing here is computed.

mod arm;
mod around;
mod bar;
mod body;
mod driveline;
mod holes;
mod joint;
mod length;
mod mount;
mod quantity;
mod spring;
mod steel;
mod truck;
mod validate;
mod watt;

use linkage::Configuration;
use nalgebra::Point3;
use serde::{Deserialize, Serialize};

pub use arm::{Arm, ArmId, ArmKind};
pub(crate) use bar::bore_m;
pub use bar::{Bar, BarId, Role};
pub use body::{Body, KeepClear, KeepClearShape};
pub use driveline::{Driveline, ShaftSpeed};
pub use holes::HoleRow;
pub use joint::{Bolt, Ends, Joint, JointKind};
pub use length::{Adjuster, AsBuilt, Length};
pub use mount::{BarEnd, Carrier, Mount, MountPoint, Side};
pub use quantity::{to_file_resolution, to_file_resolution_point};
pub use spring::{AirPoint, AirSpring, Coilover, SpringKind, Springs};
pub use steel::{RodEnd, Steel};
pub use truck::{
    Axle, Balance, Brakes, Front, FrontHeights, Hoop, KickUp, Limits, Notch, Placement, Rails, RimStyle, Section,
    Travel, Wheels,
};
pub use validate::SetupError;
pub use watt::{Stance, Watt};

pub(crate) use quantity::bounds;

use quantity::Format;

/// A truck's rear end, as described.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Setup {
    format: Format,
    /// What the user calls it.
    pub name: String,
    /// Whatever the user wants to remember about it.
    #[serde(default)]
    pub note: String,
    /// The frame rails.
    pub rails: Rails,
    /// The axle housing.
    pub axle: Axle,
    /// Wheels and tyres.
    pub wheels: Wheels,
    /// The heights the truck stands at.
    pub travel: Travel,
    /// What the user allows.
    #[serde(default)]
    pub limits: Limits,
    /// Where the weight is, as far as anti-squat needs it.
    #[serde(default)]
    pub balance: Option<Balance>,
    /// Where the axle is drawn at ride height, where that is not straight under the frame.
    #[serde(default, skip_serializing_if = "Placement::is_straight")]
    pub placement: Placement,
    /// The bars between frame and axle.
    pub bars: Vec<Bar>,
    /// Arms that are rigid with the axle.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub arms: Vec<Arm>,
    /// A Watt's linkage, where one holds the axle sideways.
    #[serde(default)]
    pub watt: Option<Watt>,
    /// From the transmission to the pinion.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub driveline: Option<Driveline>,
    /// What carries the truck.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub springs: Option<Springs>,
    /// The body over the wheels.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub body: Option<Body>,
    /// Whatever else is in the way.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub keep_clear: Vec<KeepClear>,
    /// What it is built with.
    #[serde(default, skip_serializing_if = "Steel::is_usual")]
    pub steel: Steel,
    /// Which measures of the tape sheet were taken; the others stand at what is usual.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measured: Vec<String>,
}

impl Setup {
    /// Height of the axle centre in frame coordinates when the rail stands `height_m` above ground.
    #[must_use]
    pub fn axle_z_m(&self, height_m: f64) -> f64 {
        self.wheels.loaded_radius_m - height_m
    }

    /// The inverse of [`Setup::axle_z_m`].
    #[must_use]
    pub fn height_m(&self, axle_z_m: f64) -> f64 {
        self.wheels.loaded_radius_m - axle_z_m
    }

    /// The axle as it is drawn: at ride height, where cut-to-suit bars hold it.
    #[must_use]
    pub fn drawn(&self) -> Configuration {
        let place = &self.placement;
        let mut at = Configuration::level_at(self.axle_z_m(self.travel.ride_m));
        at.origin_in_ground.x = place.forward_m;
        at.origin_in_ground.y = place.left_m;
        at.yaw_rad = place.steer_rad;
        at.pitch_rad = -place.nose_up_rad;
        at.crank_rad[0] = place.crank_rad;
        at
    }

    /// Middle of one tyre to middle of the other.
    #[must_use]
    pub fn track_m(&self) -> f64 {
        self.axle.flange_to_flange_m + 2.0 * self.wheels.outset_m()
    }

    /// The joint at the pinion, axle coordinates.
    #[must_use]
    pub fn pinion_joint_in_axle(&self) -> Point3<f64> {
        let axle = &self.axle;
        let (sin, cos) = axle.pinion_angle_rad.sin_cos();
        let along = nalgebra::Vector3::new(cos, 0.0, sin) * axle.pinion_length_m;
        let down = nalgebra::Vector3::new(sin, 0.0, -cos) * axle.pinion_drop_m;
        Point3::new(0.0, axle.pinion_offset_m, 0.0) + along + down
    }

    /// The bar with this id.
    #[must_use]
    pub fn bar(&self, id: BarId) -> Option<&Bar> {
        self.bars.get(id.0)
    }

    /// The arm with this id.
    #[must_use]
    pub fn arm(&self, id: ArmId) -> Option<&Arm> {
        self.arms.get(id.0)
    }

    /// The layout in the trade's words, for captions and lists.
    #[must_use]
    pub fn layout_name(&self) -> String {
        let across = self.bars.iter().find(|b| b.role == Role::Sideways);
        let locator = match (&self.watt, across) {
            (Some(_), _) => " with Watt's linkage",
            (None, Some(bar)) if bar.runs_diagonally() => " with diagonal bar",
            (None, Some(_)) => " with panhard bar",
            (None, None) => "",
        };
        format!("{}{locator}", self.links_name())
    }

    fn links_name(&self) -> String {
        let pairs = |role: Role| self.bars.iter().filter(move |b| b.role == role);
        let count = |role| pairs(role).map(Bar::count).sum::<usize>();
        let (uppers, lowers) = (count(Role::Upper), count(Role::Lower));
        match self.arms.first().map(|arm| arm.kind) {
            Some(ArmKind::TruckArm) => return "truck arms".to_owned(),
            Some(ArmKind::LadderBar) => return "ladder bars".to_owned(),
            None => {}
        }
        if pairs(Role::Upper).any(|b| b.joined) && lowers == 2 {
            return "wishbone over two lower bars".to_owned();
        }
        let angled = pairs(Role::Upper).chain(pairs(Role::Lower)).any(Bar::is_triangulated);
        match (uppers + lowers, angled) {
            (4, true) => "triangulated four-link".to_owned(),
            (4, false) => "parallel four-link".to_owned(),
            (3, _) => "three-link".to_owned(),
            (n, _) => format!("{n} bars"),
        }
    }
}
