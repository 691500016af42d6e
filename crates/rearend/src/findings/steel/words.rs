//! What is found about the steel, in words.

use super::{PINION_RAD, pinion_off_rad};
use crate::bind::{Bind, Strain, built_off_m};
use crate::findings::sentence::{capitalised, directed, nose};
use crate::findings::words::{at, at_roll, beside};
use crate::findings::{Finding, Grade, Remedy};
use crate::mechanism::Part;
use crate::setup::{Bar, BarEnd, JointKind, Length, Role, Setup};
use crate::square::{MARKS_AHEAD_M, Stance};
use crate::swing::{CrankSwing, Swing};
use crate::tape::{Units, degrees};

fn force(force_n: f64) -> String {
    format!("{:.1} kN", force_n.abs() / 1e3)
}

fn name(setup: &Setup, part: Option<Part>) -> String {
    part.map_or_else(|| "a bar".to_owned(), |p| format!("the {}", p.name(setup)))
}

/// A bar that was not built as drawn: by how much, and what to turn.
fn built_otherwise(setup: &Setup, units: Units, part: Part) -> Option<[String; 2]> {
    let off_m = built_off_m(setup, part)?;
    let Length::AsBuilt(built) = setup.length(part)? else {
        return None;
    };
    let words = |longer: bool| if longer { "longer" } else { "shorter" };
    let turns = off_m.abs() / built.adjuster.per_turn_m();
    Some([
        format!("{} {} than drawn", units.movement(off_m.abs()), words(off_m > 0.0)),
        format!(
            "turn the adjuster of the {} {turns:.1} turns {}, until it slips in by hand",
            part.name(setup),
            words(off_m < 0.0)
        ),
    ])
}

/// The largest length that a bar has to give, and the force that makes it.
pub(in crate::findings) fn preload_sentence(
    setup: &Setup,
    units: Units,
    finding: &Finding,
    (misfit_m, force_n): (f64, f64),
) -> String {
    let most = format!("one gives {} and carries {}", units.movement(misfit_m), force(force_n));
    let otherwise = finding.part.and_then(|part| built_otherwise(setup, units, part));
    let (why, turn) = match (finding.part, otherwise) {
        (Some(part), Some([off, turn])) => (format!("the {} is {off}", part.name(setup)), turn),
        (Some(part), None) => (
            format!("the {} is not as drawn", part.name(setup)),
            "turn its adjuster until it slips in by hand".to_owned(),
        ),
        (None, _) => (
            "they share it, and no single one is at fault".to_owned(),
            "turn their adjusters, or move a mount, until the last one slips in by hand".to_owned(),
        ),
    };
    let verdict = match finding.grade {
        Grade::Fine => "within what you allow".to_owned(),
        _ => format!("more than you allow: {turn}"),
    };
    format!("Bolted up at ride height, the bars pull on each other: {why}; {most}, {verdict}.")
}

pub(in crate::findings) fn bind_sentence(setup: &Setup, units: Units, bind: &Bind) -> String {
    let roll = degrees(setup.travel.one_wheel_up_rad.abs(), 1);
    let place = at(setup, units, bind.height_m);
    let worst = shared(setup, units, " most,", [bind.force, bind.misfit]);
    let Some(limit) = bind.limit_roll_rad else {
        return format!("With one wheel up {roll}, {place}, {worst}: joints and bushes take that up.");
    };
    let [why, advice] = bind_cause(setup, units, bind);
    if limit.abs() < 1e-6 {
        let level = shared(setup, units, "", bind.level);
        return format!(
            "The bars bind, {why}: {place}, both wheels level, {level}, more than you allow; with one wheel up {roll}, {worst}. {advice}"
        );
    }
    format!(
        "The bars bind, {why}: {place}, one wheel can go up {} ({}) before they pass what you allow; at {roll}, {worst}. {advice}",
        units.length(Bind::wheel_rise_m(setup, limit)),
        degrees(limit.abs(), 1),
    )
}

/// Who carries what, and who gives what.
fn shared(setup: &Setup, units: Units, most: &str, [held, given]: [Strain; 2]) -> String {
    let (gives, carries) = (units.movement(given.gap_m.abs()), force(held.force_n));
    let first = name(setup, given.part);
    if held.part == given.part {
        return format!("{first} gives{most} {gives}, and carries{most} {carries}");
    }
    format!(
        "{first} gives{most} {gives}, and {} carries{most} {carries}",
        name(setup, held.part)
    )
}

/// What they bind for, and what would free them.
fn bind_cause(setup: &Setup, units: Units, bind: &Bind) -> [String; 2] {
    let cause = bind.cause().map(|part| (part, built_otherwise(setup, units, part)));
    match cause {
        Some((part, Some([off, turn]))) => [
            format!("for the {} is {off}", part.name(setup)),
            format!("{}.", capitalised(&turn)),
        ],
        Some((part, None)) => [
            format!("for the {} is not as drawn", part.name(setup)),
            "Turn its adjuster until it slips in by hand.".to_owned(),
        ],
        None => [
            "and share it".to_owned(),
            "Softer bushes, one bar less or other mounts would free them.".to_owned(),
        ],
    }
}

pub(in crate::findings) fn square_sentence(setup: &Setup, units: Units, finding: &Finding, stance: &Stance) -> String {
    let square = format!("The axle is {}", stance.squareness(units));
    let cross = units.movement(stance.cross_difference_m().abs());
    let place = [
        directed(units, stance.left_m, "left", "right"),
        directed(units, stance.forward_m, "forward", "back"),
    ];
    let off_rad = pinion_off_rad(setup, stance);
    let pinion = if off_rad.abs() > PINION_RAD {
        let drawn = nose(stance.pinion_rad - off_rad);
        format!(
            "{}, {} off the {drawn} it is drawn at",
            nose(stance.pinion_rad),
            degrees(off_rad.abs(), 2)
        )
    } else {
        nose(stance.pinion_rad)
    };
    format!(
        "{square} at ride height; the axle's middle is {} and {}, the pinion {pinion}. Measured crosswise from marks {} ahead, the diagonals differ by {cross}.{}",
        place[0],
        place[1],
        units.length(MARKS_AHEAD_M),
        square_advice(setup, finding, off_rad)
    )
}

fn square_advice(setup: &Setup, finding: &Finding, off_rad: f64) -> &'static str {
    let is_cut = |bar: &Bar| bar.role == Role::Upper && bar.length == Length::CutToSuit;
    if finding.grade == Grade::Fine {
        ""
    } else if finding.remedies.contains(&Remedy::SetPinion) {
        " Turn the upper bars' adjusters to bring the pinion back; the table of turns says what each does."
    } else if off_rad.abs() > PINION_RAD && setup.bars.iter().any(is_cut) {
        " The table of turns says which adjuster brings it straight; upper bars of another length bring the pinion back."
    } else {
        " The table of turns says which adjuster brings it straight."
    }
}

pub(in crate::findings) fn swing_sentence(setup: &Setup, name: &str, units: Units, swing: &Swing) -> String {
    let end = match (swing.part, swing.end) {
        (Part::WattLeft | Part::WattRight, BarEnd::Axle) => "at the crank",
        (_, BarEnd::Frame) => "on the frame",
        (_, BarEnd::Axle) => "on the axle",
    };
    let limit = degrees(swing.limit_rad, 0);
    let place = at_roll(setup, units, swing.height_m, swing.roll_rad);
    let kind = swing.kind.name();
    if swing.most_rad <= swing.limit_rad {
        let most = degrees(swing.most_rad, 1);
        return format!(
            "Every joint swings within its limit; nearest to it is the {kind} of the {name} {end}: {most} of {limit}, {place}."
        );
    }
    let most = beside(
        swing.most_rad,
        swing.limit_rad,
        |rad| degrees(rad, 1),
        |rad| degrees(rad, 2),
    );
    let advice = match swing.kind {
        JointKind::RodEnd => "Turn its bolt, or take a rod end with more room.",
        JointKind::Rubber | JointKind::Polyurethane => "Turn its bolt, or take a joint with a ball.",
    };
    format!("The {kind} of the {name} {end} swings {most}, past its {limit}, {place}. {advice}")
}

pub(in crate::findings) fn crank_sentence(
    setup: &Setup,
    units: Units,
    finding: &Finding,
    crank: &CrankSwing,
) -> String {
    let swing = degrees(crank.most_rad.max(-crank.least_rad), 0);
    let verdict = match finding.grade {
        Grade::Fine => "well clear of going over centre",
        _ => "close to going over centre, where it snaps the other way: longer arms, or less travel, keep it clear",
    };
    capitalised(&format!(
        "the Watt's crank turns {swing} from ride; the {} comes within {} of its arm's line {}: {verdict}.",
        finding.name(setup),
        degrees(crank.margin_rad, 0),
        at(setup, units, crank.height_m)
    ))
}
