//! The width of axle that gives the rooms wanted through all of the travel.

use super::width::backspacing_moved_m;
use super::{Hand, Place, Tightest};
use crate::setup::Setup;

/// One end of the axle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitEnd {
    /// To cut off the housing on this side; less than nothing where it has to grow.
    pub cut_m: f64,
    /// Middle of the frame out to the wheel's mounting face, when that is done.
    pub flange_m: f64,
    /// The pinion's axis out to there.
    pub from_pinion_m: f64,
    /// By how much the tyre is too wide for the room: no width of axle mends that.
    pub too_wide_m: f64,
}

/// What would give the tyres their room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// The left end.
    pub left: FitEnd,
    /// The right end.
    pub right: FitEnd,
    /// The backspacing that does the same with the axle as it is, where one does it on both sides.
    pub backspacing_m: Option<f64>,
}

/// Less than this is not worth cutting.
const CUT_M: f64 = 0.0005;

impl Fit {
    /// From the tightest places: a wheel that moves along the axle gains on one side what it loses on the other. `None` where the axle
    /// fits as it is.
    #[must_use]
    pub fn of(setup: &Setup, tightest: &[Tightest]) -> Option<Self> {
        let [left, right] = Hand::BOTH.map(|side| FitEnd::of(setup, tightest, side));
        let is_needed = |end: &FitEnd| end.cut_m.abs() > CUT_M || end.too_wide_m > CUT_M;
        if !is_needed(&left) && !is_needed(&right) {
            return None;
        }
        let alike = (left.cut_m - right.cut_m).abs() < CUT_M;
        Some(Self {
            left,
            right,
            backspacing_m: backspacing_moved_m(setup, -left.cut_m).filter(|_| alike),
        })
    }

    /// Wheel mounting face to wheel mounting face, when it is cut.
    #[must_use]
    pub fn flange_to_flange_m(&self) -> f64 {
        self.left.flange_m + self.right.flange_m
    }
}

impl FitEnd {
    /// The least move that gives both rooms; where there is none, the one that leaves both short by the same.
    fn of(setup: &Setup, tightest: &[Tightest], side: Hand) -> Self {
        let spare = |places: &[Place]| {
            let on_side = |t: &&Tightest| t.side == side && places.contains(&t.place);
            let spare_m = tightest.iter().filter(on_side).map(|t| t.room_m - t.wanted_m);
            spare_m.fold(f64::INFINITY, f64::min)
        };
        let (most_out_m, most_in_m) = (spare(&[Place::Lip]), spare(&[Place::Rail, Place::Tub]));
        let too_wide_m = (-(most_out_m + most_in_m)).max(0.0);
        let out_m = if too_wide_m > 0.0 {
            f64::midpoint(most_out_m, -most_in_m)
        } else {
            0f64.min(most_out_m).max(-most_in_m)
        };
        let sign = side.sign();
        let flange_m = setup.axle.flange_to_flange_m / 2.0 + sign * setup.placement.left_m + out_m;
        Self {
            cut_m: -out_m,
            flange_m,
            from_pinion_m: flange_m - sign * (setup.placement.left_m + setup.axle.pinion_offset_m),
            too_wide_m,
        }
    }
}
