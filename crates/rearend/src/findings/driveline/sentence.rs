//! Findings of the shaft as sentences, each rule with whose it is.

use super::{EVEN, LEAST_RAD, SMOOTH_RAD};
use crate::driveline::speed::{LISTED_RAD, LISTED_RAD_PER_S, fastest_rad_per_s, largest_angle_rad, road_m_per_s, rpm};
use crate::driveline::{Fault, JointAt, PinionTurn, ShaftPose};
use crate::findings::Grade;
use crate::findings::sentence::nose;
use crate::findings::words::{at_roll, beside};
use crate::setup::Setup;
use crate::tape::{Units, degrees};

/// In words.
pub(in crate::findings) fn sentence(setup: &Setup, units: Units, _grade: Grade, fault: &Fault) -> String {
    match fault {
        Fault::Ends {
            front_rad,
            rear_rad,
            turn,
        } => ends_sentence(*front_rad, *rear_rad, *turn),
        Fault::Uneven {
            residual_rad,
            non_uniformity,
            turn,
        } => uneven_sentence(*residual_rad, *non_uniformity, *turn),
        Fault::Phase {
            phase_rad,
            residual_rad,
            in_line_rad,
        } => phase_sentence(*phase_rad, *residual_rad, *in_line_rad),
        Fault::Straight { joint, angle_rad } => format!(
            "The {} works at only {} at ride height: shaft makers' handbooks want {} at least and advise 1°, so that its needles roll. Turn the pinion or tip the transmission until it does.",
            joint.name(),
            degrees(*angle_rad, 2),
            degrees(LEAST_RAD, 1)
        ),
        Fault::Steep { joint, angle_rad } => format!(
            "The {} works at {} at ride height: shaft makers' handbooks allow {} for freedom from vibration. Turn the pinion or tip the transmission towards the shaft.",
            joint.name(),
            beside(*angle_rad, SMOOTH_RAD, |rad| degrees(rad, 2), |rad| degrees(rad, 2)),
            degrees(SMOOTH_RAD, 0)
        ),
        Fault::TooFast {
            joint,
            angle_rad,
            shaft_rad_per_s,
        } => too_fast_sentence(setup, units, *joint, *angle_rad, *shaft_rad_per_s),
        Fault::SlipEnds {
            slip_m,
            has_m,
            other_way_m,
            height_m,
            roll_rad,
        } => {
            let at = at_roll(setup, units, *height_m, *roll_rad);
            slip_sentence(units, *slip_m, *has_m, *other_way_m, &at)
        }
        Fault::Largest {
            joint,
            angle_rad,
            height_m,
            roll_rad,
        } => {
            let at = at_roll(setup, units, *height_m, *roll_rad);
            largest_sentence(setup, units, *joint, *angle_rad, &at)
        }
        Fault::Sound { shaft, slip_m } => sound_sentence(units, shaft, *slip_m),
    }
}

fn ends_sentence(front_rad: f64, rear_rad: f64, turn: Option<PinionTurn>) -> String {
    format!(
        "At ride height the front joint works at {} and the rear joint at {}: shaft makers' handbooks want both within 1° of each other, so that one evens out the other.{}",
        degrees(front_rad, 2),
        degrees(rear_rad, 2),
        turn.map_or_else(String::new, |turn| turn_sentence(turn, "makes them equal and opposite"))
    )
}

fn uneven_sentence(residual_rad: f64, non_uniformity: f64, turn: Option<PinionTurn>) -> String {
    format!(
        "At ride height the joints together leave the pinion turning as unevenly as a single joint at {} would, {:.2} %: shaft makers' catalogues allow {:.2} %.{}",
        degrees(residual_rad, 2),
        non_uniformity * 100.0,
        EVEN * 100.0,
        turn.map_or_else(String::new, |turn| turn_sentence(turn, "leaves least"))
    )
}

/// Angles and turns too small to be set are not advised.
fn turn_sentence(turn: PinionTurn, does: &str) -> String {
    if turn.by_rad.abs() < 0.01_f64.to_radians() {
        return String::new();
    }
    let adjusters = turn.upper_turns.map_or_else(String::new, |turns| {
        let way = if turns < 0.0 { "shorter" } else { "longer" };
        format!("; so do {:.1} turns {way} on the upper bars' adjusters", turns.abs())
    });
    format!(" Turning the pinion {} {does}{adjusters}.", nose(turn.by_rad))
}

fn phase_sentence(phase_rad: f64, residual_rad: f64, in_line_rad: f64) -> String {
    format!(
        "The yokes of the rear shaft are {} out of line; put them together again in line. At ride height its joints leave as much as a single joint at {} would; in line, {}.",
        degrees(phase_rad.abs(), 1),
        degrees(residual_rad, 2),
        degrees(in_line_rad, 2)
    )
}

/// Shaft speed, and road speed where the gears are known.
fn speed(setup: &Setup, units: Units, shaft_rad_per_s: f64) -> String {
    // To the ten: nobody reads a shaft's speed closer.
    let shaft = format!("{:.0} rpm", (rpm(shaft_rad_per_s) / 10.0).round() * 10.0);
    let Some(gears) = setup.driveline.as_ref().and_then(|d| d.speed) else {
        return shaft;
    };
    let road_m_per_s = road_m_per_s(setup, &gears, shaft_rad_per_s);
    match units {
        Units::Millimetres => format!("{shaft}, {:.0} km/h", road_m_per_s * 3.6),
        // A mile is 1609.344 m by definition.
        _ => format!("{shaft}, {:.0} mph", road_m_per_s * 3600.0 / 1609.344),
    }
}

fn too_fast_sentence(setup: &Setup, units: Units, joint: JointAt, angle_rad: f64, shaft_rad_per_s: f64) -> String {
    format!(
        "The {} works at {} at ride height. As fast as it is driven ({}) the shaft makers' guide allows {}; at that angle, {}. Turn the pinion or tip the transmission towards the shaft, or drive slower.",
        joint.name(),
        degrees(angle_rad, 2),
        speed(setup, units, shaft_rad_per_s),
        degrees(largest_angle_rad(shaft_rad_per_s), 1),
        speed(setup, units, fastest_rad_per_s(angle_rad))
    )
}

fn slip_sentence(units: Units, slip_m: f64, has_m: f64, other_way_m: f64, at: &str) -> String {
    let past_m = slip_m.abs() - has_m;
    let (what, cut, way) = if slip_m < 0.0 {
        ("The shaft bottoms in its splines", "shorter", "pushed in")
    } else {
        ("The shaft pulls out of its splines", "longer", "pulled out")
    };
    let advice = if other_way_m >= past_m {
        format!("Make the shaft {cut} by {} at least", units.movement(past_m))
    } else {
        "It takes longer splines".to_owned()
    };
    format!(
        "{what}: {at} they are {way} by {} from ride, and there is {}. {advice}.",
        units.movement(slip_m.abs()),
        units.movement(has_m)
    )
}

fn largest_sentence(setup: &Setup, units: Units, joint: JointAt, angle_rad: f64, at: &str) -> String {
    let most = format!(
        "Through the travel the {} bends most, {} {at}",
        joint.name(),
        degrees(angle_rad, 1)
    );
    if angle_rad > LISTED_RAD {
        return format!(
            "{most}: more than the {} that the shaft makers' guide lists for {}. There the truck can be moved, not driven.",
            degrees(LISTED_RAD, 1),
            speed(setup, units, LISTED_RAD_PER_S)
        );
    }
    // Below this the speed has no meaning: a hundredth of a degree is as good as straight.
    if angle_rad < 1e-4 {
        return format!("{most}.");
    }
    format!(
        "{most}: the shaft makers' guide allows that up to {}.",
        speed(setup, units, fastest_rad_per_s(angle_rad))
    )
}

fn sound_sentence(units: Units, shaft: &ShaftPose, [in_m, out_m]: [f64; 2]) -> String {
    let [front, rear] = [shaft.front_joint_rad, shaft.rear_joint_rad].map(|angle| degrees(angle, 2));
    let angles = match shaft.carrier_joint_rad.map(|angle| degrees(angle, 2)) {
        None => format!("{front} and {rear}, within 1° of each other and"),
        Some(carrier) => format!("{front}, {carrier} and {rear}, all"),
    };
    format!(
        "At ride height the shaft's joints work at {angles} from 0.5° to 3° as shaft makers' handbooks want; together they leave as much as a single joint at {}. Through the travel the splines are pushed in by {} and pulled out by {}.",
        degrees(shaft.residual_rad, 2),
        units.movement(in_m.abs()),
        units.movement(out_m.abs())
    )
}
