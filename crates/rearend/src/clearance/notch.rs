//! The notch that the axle tube needs.
//!
//! Seen from the side, the tube where it passes under a rail is a disc, and the room it needs is one larger by the wanted gap. Over all
//! poses these have an upper edge; the notch is the arch of least area that lies above it. Then the tube is surveyed against the rails cut
//! like that, and what is still missing is added.

use linkage::Configuration;

use super::Near;
use super::solids::Solid;
use super::survey::Survey;
use crate::answers::Solved;
use crate::hand::Hand;
use crate::rail_line::{lift_m, top_z_m};
use crate::setup::{Notch, Setup};
use crate::travel::Row;

/// A notch in both rails, over X = 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NotchNeeded {
    /// How far it is cut upwards, to the next millimetre.
    pub depth_m: f64,
    /// Half its length along the rail, to the next millimetre.
    pub half_length_m: f64,
    /// Height of the rail left above it; nothing or less where it would cut the rail through.
    pub left_m: f64,
    /// Between tube and rail with it, over every pose. Less than what was wanted only where no such notch gives that.
    pub gap_m: f64,
    /// The height that asks for its depth.
    pub height_m: f64,
    /// The roll there.
    pub roll_rad: f64,
}

impl NotchNeeded {
    /// As a setup describes it.
    #[must_use]
    pub fn notch(&self) -> Notch {
        Notch {
            depth_m: self.depth_m,
            half_length_m: self.half_length_m,
        }
    }
}

/// Stations are this far apart, m.
const STEP_M: f64 = 2e-3;

/// Cuts are to the millimetre.
const CUT_M: f64 = 1e-3;

/// Deeper than the tube needs by up to as much again: a deeper notch may be a shorter one.
const DEPTHS: u32 = 40;

/// Corrections after the first shape; each adds what is missing, so that the second is the last as a rule.
const MOST_CORRECTIONS: usize = 12;

/// Where the tube asks for most.
struct Need {
    /// Station and depth, where there is one.
    stations: Vec<(f64, f64)>,
    deepest_m: f64,
    height_m: f64,
    roll_rad: f64,
}

/// The notch that keeps the axle tube away from the rails by the wanted gap, at every height, level and with either wheel up. `None` where the
/// rails need none, or where the axle has no travel.
#[must_use]
pub fn notch_for(setup: &Setup, solved: &Solved, wanted_gap_m: f64) -> Option<NotchNeeded> {
    let uncut = cut(setup, None);
    let wanted_m = wanted_gap_m.max(0.0);
    if tube_to_rail(&uncut, solved)?.gap_m >= wanted_m {
        return None;
    }
    let need = need(setup, solved, wanted_m)?;
    let mut notch = smallest(&need)?;
    let mut gap_m = f64::NEG_INFINITY;
    for _ in 0..MOST_CORRECTIONS {
        notch = to_the_millimetre(notch);
        gap_m = tube_to_rail(&cut(setup, Some(notch)), solved).map_or(gap_m, |near| near.gap_m);
        let missing_m = wanted_m - gap_m;
        if missing_m <= 0.0 {
            break;
        }
        notch.depth_m += missing_m;
        notch.half_length_m += missing_m;
    }
    Some(NotchNeeded {
        depth_m: notch.depth_m,
        half_length_m: notch.half_length_m,
        left_m: setup.rails.height_m - notch.depth_m,
        gap_m,
        height_m: need.height_m,
        roll_rad: need.roll_rad,
    })
}

fn cut(setup: &Setup, notch: Option<Notch>) -> Setup {
    let mut cut = setup.clone();
    cut.rails.notch = notch;
    cut
}

fn tube_to_rail(setup: &Setup, solved: &Solved) -> Option<Near> {
    let is_it = |a, b| a == Solid::AxleTube && matches!(b, Solid::Rail(_));
    let mut survey = Survey::of(setup, solved, is_it);
    survey.step(usize::MAX);
    survey.result().first().copied()
}

/// A disc under the rail, X and Z of its middle.
fn discs(setup: &Setup, at: &Configuration) -> [[f64; 2]; 4] {
    let across = at.ground_from_platform() * nalgebra::Vector3::y();
    let origin = at.origin_in_ground;
    let outside_m = setup.rails.spacing_m / 2.0;
    let faces = [outside_m, outside_m - setup.rails.flange_m];
    let [left, right] = Hand::BOTH.map(|hand| faces.map(|y| hand.sign() * y));
    let middle = |y: f64| {
        let along = (y - origin.y) / across.y;
        let along = if along.is_finite() { along } else { 0.0 };
        [origin.x + across.x * along, origin.z + across.z * along]
    };
    [left[0], left[1], right[0], right[1]].map(middle)
}

fn need(setup: &Setup, solved: &Solved, wanted_m: f64) -> Option<Need> {
    let radius_m = setup.axle.tube_m / 2.0 + wanted_m;
    let rails = &setup.rails;
    let mut need = Need {
        stations: Vec::new(),
        deepest_m: 0.0,
        height_m: 0.0,
        roll_rad: 0.0,
    };
    let rows: Vec<Row> = solved.all_rows().copied().collect();
    let discs: Vec<_> = rows
        .iter()
        .flat_map(|row| discs(setup, &row.at).map(|d| (row, d)))
        .collect();
    let far = discs.iter().map(|(_, [x, _])| x.abs()).fold(0.0, f64::max) + radius_m;
    let mut x = -far;
    while x <= far && x.is_finite() {
        let top = |[at_x, at_z]: [f64; 2]| {
            let square = radius_m * radius_m - (x - at_x).powi(2);
            (square >= 0.0).then(|| at_z + square.sqrt())
        };
        let tops = discs.iter().filter_map(|(row, disc)| Some((row, top(*disc)?)));
        let highest = tops.max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((row, z)) = highest {
            // What passes over the rail needs no deeper cut than through it.
            let depth_m = (z - lift_m(rails, x)).min(top_z_m(rails, x) + CUT_M - lift_m(rails, x));
            if depth_m > need.deepest_m {
                (need.deepest_m, need.height_m, need.roll_rad) = (depth_m, row.height_m, row.roll_rad);
            }
            need.stations.extend((depth_m > 0.0).then_some((x, depth_m)));
        }
        x += STEP_M;
    }
    (need.deepest_m > 0.0).then_some(need)
}

/// The arch of least area above all that is needed.
fn smallest(need: &Need) -> Option<Notch> {
    let of_depth = |i: u32| {
        let depth_m = need.deepest_m * (1.0 + f64::from(i) / f64::from(DEPTHS));
        let half_m = need.stations.iter().map(|(x, deep)| half_length_m(*x, deep / depth_m));
        Notch {
            depth_m,
            half_length_m: half_m.fold(CUT_M, f64::max),
        }
    };
    let area = |n: &Notch| n.depth_m * n.half_length_m;
    (1..=DEPTHS).map(of_depth).min_by(|a, b| area(a).total_cmp(&area(b)))
}

/// Half length of the arch that has this share of its depth at a station: [`crate::rail_line::cut_share`] the other way round.
fn half_length_m(x_m: f64, share: f64) -> f64 {
    let at = (1.0 - share.clamp(0.0, 1.0).powf(4.0 / 3.0)).powf(1.0 / 2.6);
    x_m.abs() / at.max(1e-3)
}

fn to_the_millimetre(notch: Notch) -> Notch {
    let up = |m: f64| (m / CUT_M - 1e-6).ceil() * CUT_M;
    Notch {
        depth_m: up(notch.depth_m),
        half_length_m: up(notch.half_length_m),
    }
}
