//! Where every mount goes, from datums that a tape reaches.

mod datums;
mod words;

pub use datums::{AxleDatums, FrameDatums};
pub(super) use words::{on_axle, on_frame};

use nalgebra::Point3;

use super::words::way;
use crate::setup::{ArmId, ArmKind, BarEnd, BarId, Carrier, Mount, Role, Setup, Side, SpringKind};
use crate::tape::Units;

/// What a mount holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// The eye of a bar, an arm or a link, between two plates.
    Eye,
    /// The upper bolt of a ladder bar; its lower one goes through the same plates.
    LadderUpper,
    /// The lower bolt of a ladder bar.
    LadderLower,
    /// A truck arm under its tube.
    TruckArm,
    /// The Watt's crank.
    Pivot,
    /// An end of a coilover.
    Coilover,
    /// An end of an air spring.
    AirSpring,
}

/// Which of a row of holes, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HoleOf {
    /// The one in use.
    pub number: usize,
    /// How many there are.
    pub of: usize,
}

/// A mount, or two that mirror each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// What it is called.
    pub name: String,
    /// What it holds.
    pub holds: Holds,
    /// What it is welded to.
    pub carrier: Carrier,
    /// Its centre, coordinates of its carrier; of two the one described.
    pub at: Point3<f64>,
    /// True where the same stands on the other side.
    pub both_sides: bool,
    /// True where it is of what holds the axle sideways: a panhard bar or a Watt's linkage.
    pub is_sideways: bool,
    /// Its hole, where it has a row of them.
    pub hole: Option<HoleOf>,
}

impl Place {
    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        if self.both_sides { 2 } else { 1 }
    }

    /// Above (+) its datum: on the frame the straight rail's underside, on the axle the tube's centre with the pinion as it is drawn.
    #[must_use]
    pub fn above_m(&self) -> f64 {
        self.at.z
    }

    /// Ahead of (+) its datum: on the frame the axle line, on the axle the tube's centre with the pinion as it is drawn.
    #[must_use]
    pub fn ahead_m(&self) -> f64 {
        self.at.x
    }

    /// Left (+) of its datum: on the frame the centre line, on the axle the tube's middle.
    #[must_use]
    pub fn left_m(&self) -> f64 {
        self.at.y
    }

    /// [`Place::above_m`] as tables and drawings have it: rounded once, so that they agree.
    #[must_use]
    pub fn height_words(&self, units: Units) -> String {
        way(units, self.above_m(), "above", "below")
    }
}

/// Every mount that is welded to frame or axle, in the order of the parts. The joints on a Watt's crank are the crank's.
#[must_use]
pub fn places(setup: &Setup) -> Vec<Place> {
    let mut places: Vec<_> = (0..setup.bars.len()).flat_map(|i| bar(setup, BarId(i))).collect();
    places.extend((0..setup.arms.len()).flat_map(|i| arm(setup, ArmId(i))));
    let watt = [Mount::WattPivot, Mount::WattLeft, Mount::WattRight].into_iter();
    places.extend(watt.filter_map(|mount| {
        let holds = if mount == Mount::WattPivot {
            Holds::Pivot
        } else {
            Holds::Eye
        };
        one(setup, mount, &setup.mount_name(mount), holds, false)
    }));
    places.extend(springs(setup));
    places
}

fn one(setup: &Setup, mount: Mount, name: &str, holds: Holds, both_sides: bool) -> Option<Place> {
    let drawn = setup.mount(mount)?;
    let hole = setup.hole_of(mount).zip(setup.hole_row(mount));
    Some(Place {
        name: name.to_owned(),
        holds,
        carrier: drawn.carrier,
        at: drawn.point,
        both_sides,
        is_sideways: is_sideways(setup, mount),
        hole: hole.map(|(hole, row)| HoleOf {
            number: hole + 1,
            of: usize::from(row.count),
        }),
    })
}

fn is_sideways(setup: &Setup, mount: Mount) -> bool {
    match mount {
        Mount::Bar { bar, .. } => setup.bar(bar).is_some_and(|bar| bar.role == Role::Sideways),
        Mount::Arm { .. } => false,
        _ => true,
    }
}

fn bar(setup: &Setup, id: BarId) -> Vec<Place> {
    let Some(bar) = setup.bar(id) else { return Vec::new() };
    let place = |end: BarEnd| {
        let mount = Mount::Bar {
            bar: id,
            end,
            side: Side::Drawn,
        };
        let name = format!("{}, on the {}", bar.name, end.carrier().name());
        let is_shared = bar.joined && end == BarEnd::Axle;
        one(setup, mount, &name, Holds::Eye, bar.mirrored && !is_shared)
    };
    [BarEnd::Frame, BarEnd::Axle].into_iter().filter_map(place).collect()
}

fn arm(setup: &Setup, id: ArmId) -> Vec<Place> {
    let Some(arm) = setup.arm(id) else { return Vec::new() };
    let place = |end: BarEnd, holds: Holds| {
        let mount = Mount::Arm {
            arm: id,
            end,
            side: Side::Drawn,
        };
        let name = format!("{}, on the {}", arm.name, end.carrier().name());
        one(setup, mount, &name, holds, arm.mirrored)
    };
    let mut places: Vec<_> = place(BarEnd::Frame, Holds::Eye).into_iter().collect();
    match arm.kind {
        ArmKind::TruckArm => places.extend(place(BarEnd::Axle, Holds::TruckArm)),
        ArmKind::LadderBar => {
            let bolts = arm
                .axle_mounts()
                .into_iter()
                .zip([(Holds::LadderUpper, "upper bolt"), (Holds::LadderLower, "lower bolt")]);
            places.extend(bolts.filter_map(|(at, (holds, which))| {
                let place = place(BarEnd::Axle, holds)?;
                Some(Place {
                    name: format!("{}, {which}", place.name),
                    at,
                    ..place
                })
            }));
        }
    }
    places
}

fn springs(setup: &Setup) -> Vec<Place> {
    let Some(springs) = &setup.springs else {
        return Vec::new();
    };
    let (holds, name) = match springs.kind {
        SpringKind::Coilover(_) => (Holds::Coilover, "coilover"),
        SpringKind::Air(_) => (Holds::AirSpring, "air spring"),
    };
    let of = springs.holes_in_axle.len();
    let lower = springs.mount_in_axle().map(|at| Place {
        name: format!("{name}, on the axle"),
        holds,
        carrier: Carrier::Axle,
        at,
        both_sides: true,
        is_sideways: false,
        hole: (of > 1).then_some(HoleOf {
            number: springs.hole + 1,
            of,
        }),
    });
    let upper = Place {
        name: format!("{name}, on the frame"),
        holds,
        carrier: Carrier::Frame,
        at: springs.mount_in_frame,
        both_sides: true,
        is_sideways: false,
        hole: None,
    };
    [Some(upper), lower].into_iter().flatten().collect()
}
