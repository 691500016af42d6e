//! What the steel has to say: bars that do not fit each other, joints at their limits, a crank near its centre, an axle out of square.

mod words;

pub(super) use words::{bind_sentence, crank_sentence, preload_sentence, square_sentence, swing_sentence};

use super::{Finding, Kind, Remedy, driveline, grade};
use crate::answers::Solved;
use crate::bind::{Bind, UNNOTICED_M};
use crate::mechanism::Part;
use crate::setup::{Placement, Role, Setup};
use crate::square::Stance;
use crate::swing::Swing;

/// Half a degree beside the angle drawn: common practice for a pinion set with an angle gauge.
const PINION_RAD: f64 = 0.5 * std::f64::consts::PI / 180.0;

/// An arm this near to its link's line is about to go over centre: common practice.
const OVER_CENTRE_RAD: f64 = 20.0 * std::f64::consts::PI / 180.0;

/// All of them.
pub(super) fn of(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let mut found: Vec<_> = preload(setup, solved).into_iter().collect();
    found.extend(binding(solved));
    found.extend(squareness(setup, solved));
    found.extend(swings(solved));
    found.extend(over_centre(solved));
    found
}

/// Bars that had to be pulled together to be bolted in. About the one that was not built as drawn; about none where they share it.
fn preload(setup: &Setup, solved: &Solved) -> Option<Finding> {
    let rear_end = &solved.rear_end;
    if rear_end.ride_misfit_m < UNNOTICED_M {
        return None;
    }
    let worst = rear_end.mechanism.worst_strain(&rear_end.ride)?;
    let (misfit_m, force_n) = (worst.gap_m.abs(), worst.force_n.abs());
    let fine = misfit_m <= setup.limits.misfit_m && force_n <= setup.limits.bind_n;
    Some(
        Finding::new(grade(fine), Kind::Preload { misfit_m, force_n })
            .about(solved.bind.iter().find_map(|bind| bind.misbuilt))
            .at(setup.travel.ride_m),
    )
}

/// The height at which one wheel can go up least; where none reaches a limit, the one with the largest misfit. About the bar that was not
/// built as drawn where that makes most of it, else about the one that gives most.
fn binding(solved: &Solved) -> Option<Finding> {
    let roll = |bind: &Bind| bind.limit_roll_rad.map_or(f64::INFINITY, f64::abs);
    let size = |bind: &Bind| -bind.misfit.gap_m.abs();
    let key = |bind: &Bind| (roll(bind), size(bind));
    let worst = solved.bind.iter().min_by(|a, b| {
        let ((roll_a, size_a), (roll_b, size_b)) = (key(a), key(b));
        roll_a.total_cmp(&roll_b).then(size_a.total_cmp(&size_b))
    })?;
    Some(
        Finding::new(grade(worst.limit_roll_rad.is_none()), Kind::Bind(*worst))
            .about(worst.cause().or(worst.misfit.part))
            .at(worst.height_m),
    )
}

/// How far the pinion stands off the angle that it is drawn at, + nose up.
pub(super) fn pinion_off_rad(setup: &Setup, stance: &Stance) -> f64 {
    stance.pinion_rad - setup.axle.pinion_angle_rad - setup.placement.nose_up_rad
}

/// Only where something puts the axle anywhere but straight.
fn squareness(setup: &Setup, solved: &Solved) -> Option<Finding> {
    if solved.turns.is_empty() && setup.placement == Placement::default() {
        return None;
    }
    let stance = solved.stance;
    let is_square = stance.is_square();
    let is_central = stance.is_central();
    // One that was turned so that the shaft runs even is as it should be.
    let is_level = pinion_off_rad(setup, &stance).abs() <= PINION_RAD || driveline::is_even(setup, solved);
    let adjustable = |role: Role| {
        solved.turns.iter().find_map(move |turn| match turn.part {
            Part::Bar(bar, _) => setup.bar(bar).filter(|b| b.role == role).map(|_| bar),
            _ => None,
        })
    };
    let centre = adjustable(Role::Sideways).filter(|_| !is_central);
    let pinion = adjustable(Role::Upper).filter(|_| !is_level);
    let mut remedies: Vec<_> = centre.map(Remedy::CentreAxle).into_iter().collect();
    remedies.extend(pinion.map(|_| Remedy::SetPinion));
    Some(Finding {
        remedies,
        ..Finding::new(grade(is_square && is_central && is_level), Kind::Square(stance)).at(setup.travel.ride_m)
    })
}

/// The joints past their limits; where there are none, the one that comes nearest.
fn swings(solved: &Solved) -> Vec<Finding> {
    let used = |swing: &&Swing| swing.most_rad / swing.limit_rad;
    let finding = |swing: &Swing, fine: bool| {
        Finding::new(grade(fine), Kind::Swing(*swing))
            .about(Some(swing.part))
            .at(swing.height_m)
    };
    // Both of a mirrored pair say the same: the side that swings more speaks for it.
    let mut past: Vec<&Swing> = Vec::new();
    for swing in solved.swings.iter().filter(|s| used(s) > 1.0) {
        let twin = |other: &&mut &Swing| other.end == swing.end && is_same_bar(other.part, swing.part);
        match past.iter_mut().find(twin) {
            Some(other) if other.most_rad < swing.most_rad => *other = swing,
            Some(_) => {}
            None => past.push(swing),
        }
    }
    if !past.is_empty() {
        return past.into_iter().map(|swing| finding(swing, false)).collect();
    }
    let nearest = solved.swings.iter().max_by(|a, b| used(a).total_cmp(&used(b)));
    nearest.map(|swing| finding(swing, true)).into_iter().collect()
}

fn is_same_bar(a: Part, b: Part) -> bool {
    matches!((a, b), (Part::Bar(a, _), Part::Bar(b, _)) if a == b)
}

fn over_centre(solved: &Solved) -> Option<Finding> {
    let crank = solved.crank?;
    let fine = crank.margin_rad >= OVER_CENTRE_RAD;
    Some(
        Finding::new(grade(fine), Kind::Crank(crank))
            .about(Some(crank.link))
            .at(crank.height_m),
    )
}
