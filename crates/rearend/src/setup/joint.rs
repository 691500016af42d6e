//! What a bar ends in: how much it gives, how far it swings, and how its bolt lies.
//!
//! The presets are common practice, rounded: the makers' figures scatter by a factor of two with size and hardness, and each can be typed
//! instead. What matters is their order: a rod end gives a tenth of what rubber does, and rubber swings half as far.

use serde::{Deserialize, Serialize};

use super::quantity::{optional_deg, optional_n_per_mm};

/// What both ends of a bar are, unless an end says otherwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Ends {
    /// Spherical rod ends.
    #[default]
    RodEnds,
    /// Eyes with rubber bushes.
    Bushes,
    /// Eyes with polyurethane bushes.
    Polyurethane,
}

/// What one end is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum JointKind {
    /// A spherical rod end.
    #[default]
    RodEnd,
    /// An eye with a rubber bush.
    Rubber,
    /// An eye with a polyurethane bush.
    Polyurethane,
}

/// How the bolt through an end lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Bolt {
    /// Level and square to the bar in plan, as most brackets hold it. A bar that runs across has it front to back.
    #[default]
    Square,
    /// Straight across the truck.
    Across,
    /// Front to back.
    Along,
    /// Upright.
    Upright,
}

/// One end of a bar.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// What it is.
    pub kind: JointKind,
    /// How its bolt lies at ride height.
    #[serde(default)]
    pub bolt: Bolt,
    /// Stiffness square to the bolt, N/m, where the preset's does not fit.
    #[serde(default, rename = "stiffness_n_per_mm", with = "optional_n_per_mm")]
    pub stiffness_n_per_m: Option<f64>,
    /// How far it swings either way, where the preset's does not fit.
    #[serde(default, rename = "limit_deg", with = "optional_deg")]
    pub limit_rad: Option<f64>,
}

impl Ends {
    /// The kind of each end.
    #[must_use]
    pub fn kind(self) -> JointKind {
        match self {
            Self::RodEnds => JointKind::RodEnd,
            Self::Bushes => JointKind::Rubber,
            Self::Polyurethane => JointKind::Polyurethane,
        }
    }
}

impl JointKind {
    /// All of them, in the order of a list.
    pub const ALL: [Self; 3] = [Self::RodEnd, Self::Rubber, Self::Polyurethane];

    /// What the trade calls it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::RodEnd => "rod end",
            Self::Rubber => "rubber bush",
            Self::Polyurethane => "polyurethane bush",
        }
    }

    /// Stiffness square to the bolt, N/m. Common practice.
    #[must_use]
    pub fn stiffness_n_per_m(self) -> f64 {
        match self {
            Self::RodEnd => 8e7,
            Self::Rubber => 8e6,
            Self::Polyurethane => 2.5e7,
        }
    }

    /// Stiffness along the bolt over that square to it. Common practice: a bush slides on its sleeve, a ball does not.
    #[must_use]
    pub fn along_bolt(self) -> f64 {
        match self {
            Self::RodEnd => 0.5,
            Self::Rubber => 0.1,
            Self::Polyurethane => 0.2,
        }
    }

    /// How far the bolt may lean in it, rad. Common practice: a plain rod end between plates, a bush before its edge is crushed.
    #[must_use]
    pub fn limit_rad(self) -> f64 {
        match self {
            Self::RodEnd => 14f64.to_radians(),
            Self::Rubber => 8f64.to_radians(),
            Self::Polyurethane => 4f64.to_radians(),
        }
    }
}

impl Bolt {
    /// All of them, in the order of a list.
    pub const ALL: [Self; 4] = [Self::Square, Self::Across, Self::Along, Self::Upright];

    /// What a list calls it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Square => "bolt square to the bar",
            Self::Across => "bolt across the truck",
            Self::Along => "bolt front to back",
            Self::Upright => "bolt upright",
        }
    }
}

impl Joint {
    /// One of a kind, as the preset has it.
    #[must_use]
    pub fn of(kind: JointKind) -> Self {
        Self {
            kind,
            ..Self::default()
        }
    }

    /// Stiffness square to the bolt, N/m.
    #[must_use]
    pub fn radial_n_per_m(&self) -> f64 {
        self.stiffness_n_per_m.unwrap_or_else(|| self.kind.stiffness_n_per_m())
    }

    /// Stiffness along the bolt, N/m.
    #[must_use]
    pub fn axial_n_per_m(&self) -> f64 {
        self.radial_n_per_m() * self.kind.along_bolt()
    }

    /// How far the bolt may lean in it, rad.
    #[must_use]
    pub fn most_swing_rad(&self) -> f64 {
        self.limit_rad.unwrap_or_else(|| self.kind.limit_rad())
    }
}
