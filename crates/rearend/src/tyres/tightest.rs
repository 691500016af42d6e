//! Where in the travel each place around the tyres is tightest.

use super::{Hand, SideGaps};
use crate::setup::Setup;
use crate::travel::Row;

/// What a tyre may touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Place {
    /// The edge of the wheel opening.
    Lip,
    /// The outer face of a rail.
    Rail,
    /// The inner wall of a wheel tub.
    Tub,
    /// The underside of the bed floor.
    Floor,
}

impl Place {
    /// In the order they are told.
    pub const ALL: [Self; 4] = [Self::Lip, Self::Rail, Self::Tub, Self::Floor];

    /// In a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Lip => "fender lip",
            Self::Rail => "rail",
            Self::Tub => "wheel tub",
            Self::Floor => "bed floor",
        }
    }

    /// The room left to it on one side.
    #[must_use]
    pub fn room_m(self, gaps: &SideGaps) -> Option<f64> {
        match self {
            Self::Lip => gaps.lip_m,
            Self::Rail => gaps.rail_m,
            Self::Tub => gaps.tub_m,
            Self::Floor => gaps.floor_m,
        }
    }

    /// The room wanted: what the body says; without one an inch to the rail, as the body has it where it says nothing.
    #[must_use]
    pub fn wanted_m(self, setup: &Setup) -> f64 {
        let body = setup.body.as_ref();
        match self {
            Self::Lip => body.map_or(0.0, |b| b.lip_gap_m),
            Self::Rail | Self::Tub => body.map_or(0.0254, |b| b.inner_gap_m),
            // The tyre's top throws up stones and grows with speed: as much as inside.
            Self::Floor => body.map_or(0.0, |b| b.inner_gap_m),
        }
    }
}

/// The tightest a place gets, with where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tightest {
    /// To what.
    pub place: Place,
    /// Which tyre.
    pub side: Hand,
    /// Less than nothing is an overlap.
    pub room_m: f64,
    /// Of the setup.
    pub wanted_m: f64,
    /// Ride height there.
    pub height_m: f64,
    /// Roll of the axle there.
    pub roll_rad: f64,
}

/// The tightest that a place gets on a side in any of these poses; `None` where it never stands beside the tyre.
#[must_use]
pub fn tightest<'a>(setup: &Setup, rows: impl Iterator<Item = &'a Row>, place: Place, side: Hand) -> Option<Tightest> {
    let room = |row: &'a Row| Some((place.room_m(row.tyres.as_ref()?.side(side))?, row));
    let (room_m, row) = rows.filter_map(room).min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(Tightest {
        place,
        side,
        room_m,
        wanted_m: place.wanted_m(setup),
        height_m: row.height_m,
        roll_rad: row.roll_rad,
    })
}
