//! From a description to a [`linkage::Mechanism`]: the axle is the platform, the frame the ground.

use linkage::{Anchor, Body, ClosureId, Configuration, Crank, CrankId, Link, LinkId, Mechanism, MechanismError};
use nalgebra::Point3;
use thiserror::Error;

use crate::setup::{Bar, BarId, Setup, SetupError, Side, Watt};

/// Axial stiffness given to every bar until its ends are described: equal for all, so that what does not fit is shared evenly.
const BAR_STIFFNESS_N_PER_M: f64 = 2e7;

/// What a link of the mechanism is on the truck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Part {
    /// A bar, or one of a mirrored pair.
    Bar(BarId, Side),
    /// The Watt's link to the left rail.
    WattLeft,
    /// The Watt's link to the right rail.
    WattRight,
}

/// Why a description cannot be solved.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CompileError {
    /// It makes no sense as described.
    #[error(transparent)]
    Setup(#[from] SetupError),
    /// A part that the solver cannot use.
    #[error(
        "the {name} cannot be used: its two mounts coincide, or a coordinate is not a usable number; move one of them"
    )]
    Part {
        /// The part.
        name: String,
    },
}

/// A setup compiled for solving.
#[derive(Clone, Debug)]
pub struct RearEnd {
    /// The links and cranks.
    pub mechanism: Mechanism,
    /// What each link is, by [`LinkId`].
    pub parts: Vec<Part>,
    /// The axle as drawn, at ride height.
    pub ride: Configuration,
}

impl RearEnd {
    /// Compiles a description; bars are cut to suit their mounts at ride height.
    ///
    /// # Errors
    /// Names the part that makes no sense.
    pub fn compile(setup: &Setup) -> Result<Self, CompileError> {
        setup.validate()?;
        let ride = Configuration::level_at(setup.axle_z_m(setup.travel.ride_m));
        let mut parts = Vec::new();
        let mut ends = Vec::new();
        for (i, bar) in setup.bars.iter().enumerate() {
            for side in sides(bar) {
                parts.push(Part::Bar(BarId(i), side));
                ends.push((
                    on_frame(side.of(bar.mount_in_frame)),
                    on_axle(side.of(bar.mount_in_axle)),
                ));
            }
        }
        let cranks: Vec<_> = setup.watt.iter().map(crank).collect();
        if let Some(watt) = &setup.watt {
            let [left, right] = watt.joints_in_axle().map(|joint| Anchor {
                body: Body::Crank(CrankId(0)),
                point: joint,
            });
            parts.extend([Part::WattLeft, Part::WattRight]);
            ends.extend([
                (on_frame(watt.left_in_frame), left),
                (on_frame(watt.right_in_frame), right),
            ]);
        }
        let links = ends
            .into_iter()
            .map(|(a, b)| Link::cut_to_suit(a, b, BAR_STIFFNESS_N_PER_M, &cranks, &ride))
            .collect();
        let mechanism = Mechanism::new(links, cranks, ride).map_err(|e| explain(setup, &parts, e))?;
        Ok(Self { mechanism, parts, ride })
    }

    /// What a link is on the truck.
    #[must_use]
    pub fn part(&self, closure: ClosureId) -> Option<Part> {
        match closure {
            ClosureId::Link(LinkId(i)) => self.parts.get(i).copied(),
            ClosureId::Joint(_) => None,
        }
    }

    /// Every part with its length, centre to centre, m.
    pub fn lengths_m(&self) -> impl Iterator<Item = (Part, f64)> + '_ {
        self.parts
            .iter()
            .copied()
            .zip(self.mechanism.links().iter().map(|l| l.length_m))
    }

    /// The ends of a part in frame coordinates, frame end first.
    #[must_use]
    pub fn ends_in_frame(&self, part: Part, at: &Configuration) -> Option<[Point3<f64>; 2]> {
        let link = self.parts.iter().position(|p| *p == part)?;
        Some(self.mechanism.ends_in_ground(LinkId(link), at))
    }
}

impl Part {
    /// What the user calls it.
    #[must_use]
    pub fn name(self, setup: &Setup) -> String {
        match self {
            Self::Bar(bar, side) => setup.bar_name(bar, side),
            Self::WattLeft => "Watt's left link".to_owned(),
            Self::WattRight => "Watt's right link".to_owned(),
        }
    }
}

fn sides(bar: &Bar) -> impl Iterator<Item = Side> {
    [Side::Drawn, Side::Mirrored].into_iter().take(bar.count())
}

fn crank(watt: &Watt) -> Crank {
    Crank::on_platform(watt.pivot_in_axle, watt.axis_in_axle())
}

fn on_frame(point: Point3<f64>) -> Anchor {
    Anchor {
        body: Body::Ground,
        point,
    }
}

fn on_axle(point: Point3<f64>) -> Anchor {
    Anchor {
        body: Body::Platform,
        point,
    }
}

fn explain(setup: &Setup, parts: &[Part], error: MechanismError) -> CompileError {
    let name = match error {
        MechanismError::UnusableLink(LinkId(i)) | MechanismError::NoLength(LinkId(i)) => {
            parts.get(i).map_or_else(|| "bar".to_owned(), |p| p.name(setup))
        }
        MechanismError::UnusableCrank(_) | MechanismError::NoSuchCrank(_) => "Watt's crank".to_owned(),
        MechanismError::UnusableDrawing | MechanismError::UnusableJoint(_) => "axle".to_owned(),
    };
    CompileError::Part { name }
}
