//! What the steel has to say: bars that do not fit each other, joints at their limits, a crank near its centre, an axle out of square.

use super::sentence::{capitalised, directed, nose};
use super::{Finding, Grade, Kind, Remedy, grade};
use crate::answers::Solved;
use crate::bind::{Bind, UNNOTICED_M};
use crate::mechanism::Part;
use crate::setup::{BarEnd, JointKind, Placement, Role, Setup};
use crate::square::{MARKS_AHEAD_M, Stance};
use crate::swing::{CrankSwing, Swing};
use crate::tape::{Units, degrees};

/// A sixteenth of an inch from one tyre to the other: common practice for an axle that runs straight.
const SQUARE_M: f64 = 0.0016;

/// An eighth of an inch off the middle: common practice for tyres that look central.
const CENTRAL_M: f64 = 0.0032;

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

/// Bars that had to be pulled together to be bolted in.
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
            .about(rear_end.part(worst.closure))
            .at(setup.travel.ride_m),
    )
}

/// The height at which one wheel can go up least; where none reaches a limit, the one with the largest misfit.
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
            .about(worst.misfit.part)
            .at(worst.height_m),
    )
}

/// Only where something puts the axle anywhere but straight.
fn squareness(setup: &Setup, solved: &Solved) -> Option<Finding> {
    if solved.turns.is_empty() && setup.placement == Placement::default() {
        return None;
    }
    let stance = solved.stance;
    let fine = stance.out_of_square_m.abs() <= SQUARE_M && stance.left_m.abs() <= CENTRAL_M;
    let off_centre = stance.left_m.abs() > CENTRAL_M;
    let across = solved.turns.iter().find_map(|turn| match turn.part {
        Part::Bar(bar, _) => setup.bar(bar).filter(|b| b.role == Role::Sideways).map(|_| bar),
        _ => None,
    });
    Some(Finding {
        remedies: across
            .filter(|_| off_centre)
            .map(Remedy::CentreAxle)
            .into_iter()
            .collect(),
        ..Finding::new(grade(fine), Kind::Square(stance)).at(setup.travel.ride_m)
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

fn force(force_n: f64) -> String {
    format!("{:.1} kN", force_n.abs() / 1e3)
}

pub(super) fn preload_sentence(name: &str, units: Units, grade: Grade, misfit_m: f64, force_n: f64) -> String {
    let verdict = match grade {
        Grade::Fine => "within what you allow",
        _ => "more than you allow: turn its adjuster until it slips in by hand",
    };
    format!(
        "Bolted up at ride height, the bars pull on each other: the {name} is out by {} and carries {}; {verdict}.",
        units.movement(misfit_m),
        force(force_n)
    )
}

pub(super) fn bind_sentence(setup: &Setup, units: Units, name: &dyn Fn(Option<Part>) -> String, bind: &Bind) -> String {
    let roll = setup.travel.one_wheel_up_rad.abs();
    let height = units.length(bind.height_m);
    let misfit = units.movement(bind.misfit.gap_m.abs());
    let (out, carries) = (name(bind.misfit.part), name(bind.force.part));
    let worst = format!(
        "{out} is out by {misfit} and {carries} carries {}",
        force(bind.force.force_n)
    );
    let Some(limit) = bind.limit_roll_rad else {
        return format!(
            "With one wheel up {}, at ride height {height}, {worst}: joints and bushes take that up.",
            degrees(roll, 1)
        );
    };
    if limit.abs() < 1e-6 {
        let [held, given] = bind.level;
        return format!(
            "The bars bind: at ride height {height}, both wheels level, {} is out by {} and {} carries {}, more than you allow; with one wheel up {}, {worst}. Softer bushes, one bar less or other mounts would free them.",
            name(given.part),
            units.movement(given.gap_m.abs()),
            name(held.part),
            force(held.force_n),
            degrees(roll, 1)
        );
    }
    format!(
        "The bars bind: at ride height {height} one wheel can go up {} ({}) before they pass what you allow; at {}, {worst}. Softer bushes, one bar less or other mounts would free them.",
        units.length(Bind::wheel_rise_m(setup, limit)),
        degrees(limit.abs(), 1),
        degrees(roll, 1)
    )
}

pub(super) fn square_sentence(units: Units, grade: Grade, stance: &Stance) -> String {
    let square = match directed(units, stance.out_of_square_m, "ahead of", "behind") {
        level if level == units.movement(0.0) => "The axle stands square".to_owned(),
        out => format!("The right tyre stands {out} the left one"),
    };
    let cross = units.movement(stance.cross_difference_m().abs());
    let place = [
        directed(units, stance.left_m, "left", "right"),
        directed(units, stance.forward_m, "forward", "back"),
    ];
    let advice = match grade {
        Grade::Fine => "",
        _ => " The table of turns says which adjuster brings it straight.",
    };
    format!(
        "{square} at ride height; the axle's middle is {} and {}, the pinion {}. Measured crosswise from marks {} ahead, the diagonals differ by {cross}.{advice}",
        place[0],
        place[1],
        nose(stance.pinion_rad),
        units.length(MARKS_AHEAD_M)
    )
}

pub(super) fn swing_sentence(name: &str, units: Units, swing: &Swing) -> String {
    let end = match (swing.part, swing.end) {
        (Part::WattLeft | Part::WattRight, BarEnd::Axle) => "at the crank",
        (_, BarEnd::Frame) => "on the frame",
        (_, BarEnd::Axle) => "on the axle",
    };
    let roll = if swing.roll_rad.abs() < 1e-9 {
        String::new()
    } else {
        format!(", one wheel up {}", degrees(swing.roll_rad.abs(), 1))
    };
    let (most, limit) = (degrees(swing.most_rad, 1), degrees(swing.limit_rad, 0));
    let at = format!("at ride height {}{roll}", units.length(swing.height_m));
    if swing.most_rad <= swing.limit_rad {
        return format!(
            "Every joint swings within its limit; nearest to it is the {} of the {name} {end}: {most} of {limit}, {at}.",
            swing.kind.name()
        );
    }
    let advice = match swing.kind {
        JointKind::RodEnd => "Turn its bolt, or take a rod end with more room.",
        JointKind::Rubber | JointKind::Polyurethane => "Turn its bolt, or take a joint with a ball.",
    };
    format!(
        "The {} of the {name} {end} swings {most}, past its {limit}, {at}. {advice}",
        swing.kind.name()
    )
}

pub(super) fn crank_sentence(name: &str, units: Units, grade: Grade, crank: &CrankSwing) -> String {
    let swing = degrees(crank.most_rad.max(-crank.least_rad), 0);
    let verdict = match grade {
        Grade::Fine => "well clear of going over centre",
        _ => "close to going over centre, where it snaps the other way: longer arms, or less travel, keep it clear",
    };
    capitalised(&format!(
        "the Watt's crank turns {swing} from ride; the {name} comes within {} of its arm's line at ride height {}: {verdict}.",
        degrees(crank.margin_rad, 0),
        units.length(crank.height_m)
    ))
}
