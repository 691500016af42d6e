//! Which angle of the pinion lets the joints even each other out.

use linkage::Configuration;

use super::{PinionTurn, output_axis, residual_rad};
use crate::answers::Solved;
use crate::mechanism::Part;
use crate::setup::{Driveline, Role, Setup};
use crate::sideways::LevelAt;
use crate::travel::pose;

/// The pinion angle of the axle with which the joints even each other out at a height; `None` where there is no shaft or that height is
/// not reached. Mounts stay where they are: the housing turns in its brackets.
#[must_use]
pub fn matched_at(setup: &Setup, solved: &Solved, at: LevelAt) -> Option<f64> {
    let row = pose(setup, &solved.rear_end, &solved.level, at.height_m(setup), 0.0).ok()?;
    matched_rad(setup, &row.at)
}

/// The pinion angle of the axle with which the joints even each other out at a pose.
///
/// One piece: the pinion parallel to the output as seen from the side, which makes both angles equal and opposite. Two pieces: the angle
/// that leaves least of all three, the nearest one where several leave as little.
#[must_use]
pub fn matched_rad(setup: &Setup, at: &Configuration) -> Option<f64> {
    let driveline = setup.driveline.as_ref()?;
    if driveline.carrier.is_some() {
        least_residual(setup, at)
    } else {
        Some(parallel_rad(driveline, at))
    }
}

/// What matching takes at the pose at ride height, with the turns of the upper bars that do the same.
pub(crate) fn pinion_turn(setup: &Setup, solved: &Solved) -> Option<PinionTurn> {
    let by_rad = matched_rad(setup, &solved.rear_end.ride)? - setup.axle.pinion_angle_rad;
    let is_upper =
        |part: Part| matches!(part, Part::Bar(id, _) if setup.bar(id).is_some_and(|b| b.role == Role::Upper));
    let effects = solved.turns.iter().filter(|t| is_upper(t.part));
    let per_turn_rad: f64 = effects.map(|t| t.pinion_rad).sum();
    Some(PinionTurn {
        by_rad,
        upper_turns: (per_turn_rad.abs() > TURNS_RAD).then(|| by_rad / per_turn_rad),
    })
}

/// Adjusters that turn the pinion less than this a turn do not turn it.
const TURNS_RAD: f64 = 1e-5;

fn parallel_rad(driveline: &Driveline, at: &Configuration) -> f64 {
    let output = output_axis(driveline);
    let turn = at.ground_from_platform();
    // The pinion is cos p X + sin p Z; what of it is square to the output, seen from the side, has to vanish.
    let off = |column: usize| turn[(2, column)] * output.x - turn[(0, column)] * output.z;
    (-off(0) / off(2)).atan()
}

/// Searched either way of the angle as it is, in steps of [`STEP_RAD`].
const STEPS: u32 = 60;
const STEP_RAD: f64 = 0.5 * std::f64::consts::PI / 180.0;

/// Angles that leave within this of the least leave as little: a fiftieth of a degree.
const ALIKE_RAD: f64 = 3.5e-4;

fn least_residual(setup: &Setup, at: &Configuration) -> Option<f64> {
    let now = setup.axle.pinion_angle_rad;
    let phase_rad = setup.driveline.as_ref()?.phase_rad;
    let mut tried = setup.clone();
    let mut left = |pinion_rad: f64| {
        tried.axle.pinion_angle_rad = pinion_rad;
        residual_rad(&tried, at, phase_rad).unwrap_or(f64::INFINITY)
    };
    let angle = |step: u32| now + (f64::from(step) - f64::from(STEPS)) * STEP_RAD;
    // The residual has at most two dips: the pinion bent up against the shaft, and bent down.
    let mut dips: Vec<(f64, f64)> = Vec::new();
    let (mut before, mut here) = (f64::INFINITY, left(angle(0)));
    for step in 0..=2 * STEPS {
        let next = left(angle(step + 1));
        if here <= before && here < next {
            dips.push(narrowed(&mut left, [angle(step) - STEP_RAD, angle(step) + STEP_RAD]));
        }
        (before, here) = (here, next);
    }
    let least = dips.iter().map(|(_, left)| *left).fold(f64::INFINITY, f64::min);
    dips.into_iter()
        .filter(|(_, left)| *left <= least + ALIKE_RAD)
        .map(|(pinion_rad, _)| pinion_rad)
        .min_by(|a, b| (a - now).abs().total_cmp(&(b - now).abs()))
}

/// The bottom of a dip between two angles, and what is left there, by golden section: the dip has a sharp bottom, no slope to go by.
fn narrowed(left: &mut impl FnMut(f64) -> f64, [mut low, mut high]: [f64; 2]) -> (f64, f64) {
    const GOLDEN: f64 = 0.618_033_988_749_895;
    for _ in 0..40 {
        let part = (high - low) * GOLDEN;
        if left(high - part) < left(low + part) {
            high = low + part;
        } else {
            low = high - part;
        }
    }
    let bottom = f64::midpoint(low, high);
    (bottom, left(bottom))
}
