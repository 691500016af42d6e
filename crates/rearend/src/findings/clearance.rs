//! What there is to say about what comes too near.

mod advice;

use advice::advice;

use super::sentence::capitalised;
use super::words::{at_roll, length_beside};
use super::{Finding, Grade, Kind, Remedy};
use crate::answers::{Answers, Solved};
use crate::clearance::{Fault, Near, NotchNeeded, Solid, Survey, notch_for, rough};
use crate::setup::Setup;
use crate::tape::Units;

/// All of it, from a few poses.
pub(super) fn of(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    of_nears(setup, &rough(setup, solved), None)
}

/// All findings, those about clearance from a survey that has come to its end; one that has not changes nothing.
#[must_use]
pub fn with_survey(setup: &Setup, answers: &Answers, survey: &Survey) -> Vec<Finding> {
    let is_rough = |f: &Finding| matches!(f.kind, Kind::Clearance(_));
    let mut findings = answers.findings.clone();
    // Where nothing holds the axle, nothing is said about its travel.
    if survey.progress().is_finished() && findings.iter().any(is_rough) {
        findings.retain(|f| !is_rough(f));
        let solved = answers.solved.as_ref().ok();
        let notch = solved.and_then(|s| notch_for(setup, s, setup.limits.clearance_m));
        findings.extend(of_nears(setup, &survey.result(), notch));
        findings.sort_by_key(|f| f.grade);
    }
    findings
}

/// One finding for everything that is too near, once for the two sides of the truck; where nothing is, the nearest. Nearest first.
fn of_nears(setup: &Setup, nears: &[Near], notch: Option<NotchNeeded>) -> Vec<Finding> {
    let mut told: Vec<[Solid; 2]> = Vec::new();
    let mut found = Vec::new();
    for near in nears.iter().filter(|near| !is_the_tyres(setup, near)) {
        let pair = [near.a.either_side(), near.b.either_side()];
        let is_tight = near.gap_m < near.wanted_m(setup);
        if told.contains(&pair) || !is_tight && !found.is_empty() {
            continue;
        }
        told.push(pair);
        found.push(finding(setup, *near, notch));
    }
    found
}

/// Where the body is described, the tyres' own findings have the room that is wanted around them.
fn is_the_tyres(setup: &Setup, near: &Near) -> bool {
    let is_around = matches!(near.b, Solid::Rail(_) | Solid::Tub(_) | Solid::Lip(_));
    setup.body.is_some() && is_around && matches!(near.a, Solid::Tyre(_))
}

fn finding(setup: &Setup, near: Near, notch: Option<NotchNeeded>) -> Finding {
    let is_tube = matches!((near.a, near.b), (Solid::AxleTube, Solid::Rail(_)));
    let (grade, mut fault) = if near.gap_m < 0.0 {
        (Grade::WontWork, Fault::Touches(near))
    } else if near.gap_m < near.wanted_m(setup) {
        (Grade::Check, Fault::Tight(near))
    } else {
        (Grade::Fine, Fault::Clear(near))
    };
    let mut remedies = Vec::new();
    if let Some(needed) = notch.filter(|n| is_tube && n.left_m > 0.0 && grade != Grade::Fine) {
        fault = Fault::Notch(near, needed);
        remedies.push(Remedy::CutNotch);
    }
    let finding = Finding {
        remedies,
        ..Finding::new(grade, Kind::Clearance(fault))
    };
    finding
        .about(near.a.part().or(near.b.part()))
        .at(near.height_m)
        .rolled(near.roll_rad)
}

/// In words.
pub(super) fn sentence(setup: &Setup, units: Units, _grade: Grade, fault: &Fault) -> String {
    let wanted = units.length(setup.limits.clearance_m);
    let text = match fault {
        Fault::Touches(near) => {
            let [a, b, at] = words(setup, units, near);
            let overlap = units.length(-near.gap_m);
            let how = if overlap == units.length(0.0) {
                format!("touches {b}")
            } else {
                format!("runs into {b}, by {overlap},")
            };
            format!("{a} {how} {at}. {}", advice(setup, units, near))
        }
        Fault::Tight(near) => {
            let [a, b, at] = words(setup, units, near);
            let wanted_m = near.wanted_m(setup);
            let gap = length_beside(units, near.gap_m, wanted_m);
            let advice = advice(setup, units, near);
            let wanted = if wanted_m < setup.limits.clearance_m {
                format!("the {} that a bracket needs beside it", units.length(wanted_m))
            } else {
                format!("your {wanted}")
            };
            format!("{a} comes within {gap} of {b} {at}: less than {wanted}. {advice}")
        }
        Fault::Notch(near, needed) => {
            let [a, b, at] = words(setup, units, near);
            let room = if near.gap_m < 0.0 {
                format!("runs into {b}, by {}", units.length(-near.gap_m))
            } else {
                format!(
                    "comes within {} of {b}",
                    length_beside(units, near.gap_m, setup.limits.clearance_m)
                )
            };
            let weak = if needed.left_m < setup.rails.height_m / 2.0 {
                " That is less than half of it: raise the kick-up, lay the truck out higher, or bridge the rail."
            } else {
                ""
            };
            format!(
                "{a} {room} {at}. A notch {} deep and {} long keeps it your {wanted} away; {} of the rail is left above it.{weak}",
                units.length(needed.depth_m),
                units.length(2.0 * needed.half_length_m),
                units.length(needed.left_m)
            )
        }
        Fault::Clear(near) => {
            let [a, b, at] = words(setup, units, near);
            let gap = units.length(near.gap_m);
            format!("nothing comes nearer than your {wanted}; nearest are {a} and {b}, {gap} apart {at}.")
        }
    };
    capitalised(&text)
}

fn words(setup: &Setup, units: Units, near: &Near) -> [String; 3] {
    [
        near.a.name(setup, units),
        near.b.name(setup, units),
        at_roll(setup, units, near.height_m, near.roll_rad),
    ]
}
