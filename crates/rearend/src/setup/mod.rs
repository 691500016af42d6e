//! What the user describes. One value, [`Setup`], is the whole document; nothing here is computed.

mod bar;
mod mount;
mod quantity;
mod truck;
mod validate;
mod watt;

use serde::{Deserialize, Serialize};

pub use bar::{Bar, BarId, Ends, Role};
pub use mount::{BarEnd, Carrier, Mount, MountPoint, Side};
pub use quantity::{to_file_resolution, to_file_resolution_point};
pub use truck::{Axle, Brakes, Front, FrontHeights, KickUp, Limits, Notch, Rails, RimStyle, Section, Travel, Wheels};
pub use validate::SetupError;
pub use watt::{Stance, Watt};

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
    /// The bars between frame and axle.
    pub bars: Vec<Bar>,
    /// A Watt's linkage, where one holds the axle sideways.
    #[serde(default)]
    pub watt: Option<Watt>,
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

    /// The bar with this id.
    #[must_use]
    pub fn bar(&self, id: BarId) -> Option<&Bar> {
        self.bars.get(id.0)
    }

    /// The layout in the trade's words, for captions and lists.
    #[must_use]
    pub fn layout_name(&self) -> String {
        let bars = |role: Role| self.bars.iter().filter(move |b| b.role == role);
        let long_bars: usize = bars(Role::Upper).chain(bars(Role::Lower)).map(Bar::count).sum();
        let angled = bars(Role::Upper).chain(bars(Role::Lower)).any(Bar::is_triangulated);
        let links = match (long_bars, angled) {
            (4, true) => "triangulated four-link".to_owned(),
            (4, false) => "parallel four-link".to_owned(),
            (3, _) => "three-link".to_owned(),
            (n, _) => format!("{n} bars"),
        };
        let locator = match (&self.watt, bars(Role::Sideways).next()) {
            (Some(_), _) => " with Watt's linkage",
            (None, Some(_)) => " with panhard bar",
            (None, None) => "",
        };
        format!("{links}{locator}")
    }
}
