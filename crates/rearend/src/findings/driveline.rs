//! What there is to say about the shaft. Sentences are in [`sentence`].

mod sentence;

pub(in crate::findings) use sentence::sentence;

use super::{Finding, Grade, Kind, Remedy};
use crate::answers::Solved;
use crate::driveline::speed::{LISTED_RAD, largest_angle_rad, shaft_rad_per_s};
use crate::driveline::{self, Fault, JointAt, ShaftPose, remedy};
use crate::setup::{Driveline, Setup};
use crate::sideways::LevelAt;
use crate::travel::Row;

/// Both ends of a shaft within this of each other. Source: shaft makers' handbooks.
const ALIKE_RAD: f64 = 1.0_f64.to_radians();

/// Needles of a joint at less than this do not roll. Source: shaft makers' handbooks, which advise one degree.
const LEAST_RAD: f64 = 0.5_f64.to_radians();

/// At most this, a joint runs free of vibration. Source: shaft makers' handbooks.
const SMOOTH_RAD: f64 = 3.0_f64.to_radians();

/// Fastest less slowest over mean that a pinion may turn with: one joint at 3.0 degrees. Source: two shaft makers' catalogues.
const EVEN: f64 = 0.0027;

/// Yokes that are less out of line than this are in line, by eye: common practice.
const IN_LINE_RAD: f64 = 1.0_f64.to_radians();

/// All of it.
pub(super) fn of(setup: &Setup, solved: &Solved) -> Vec<Finding> {
    let ride = &solved.rear_end.ride;
    let (Some(described), Some(shaft)) = (&setup.driveline, ShaftPose::at(setup, ride, ride)) else {
        return Vec::new();
    };
    let ride_m = setup.travel.ride_m;
    let mut found: Vec<_> = evenness(setup, solved, &shaft).into_iter().collect();
    found.extend(phase(setup, solved, described, &shaft));
    found.extend(angles(setup, described, &shaft));
    for finding in &mut found {
        finding.height_m = Some(ride_m);
    }
    let slip = slip(solved);
    let ends = slip.iter().flat_map(|slip| slip_ends(described, slip));
    found.extend(ends);
    if found.is_empty() {
        let slip_m = slip.map_or([0.0; 2], |[low, high]| [low.out_m, high.out_m]);
        found.push(finding(Grade::Fine, Fault::Sound { shaft, slip_m }).at(ride_m));
    }
    found.extend(largest(solved));
    found
}

fn finding(grade: Grade, fault: Fault) -> Finding {
    Finding::new(grade, Kind::Driveline(fault))
}

/// True where a shaft is described whose joints even each other out at ride height as the bars put the pinion.
pub(super) fn is_even(setup: &Setup, solved: &Solved) -> bool {
    let ride = &solved.rear_end.ride;
    let shaft = ShaftPose::at(setup, ride, ride).filter(|_| setup.driveline.is_some());
    shaft.is_some_and(|shaft| !leaves_uneven(&shaft))
}

fn differ(shaft: &ShaftPose) -> bool {
    shaft.carrier_joint_rad.is_none() && (shaft.front_joint_rad - shaft.rear_joint_rad).abs() > ALIKE_RAD
}

fn leaves_uneven(shaft: &ShaftPose) -> bool {
    differ(shaft) || shaft.non_uniformity > EVEN
}

/// Two ends that differ; else whatever else leaves the pinion turning unevenly.
fn evenness(setup: &Setup, solved: &Solved, shaft: &ShaftPose) -> Option<Finding> {
    if !leaves_uneven(shaft) {
        return None;
    }
    let turn = remedy::pinion_turn(setup, solved);
    let fault = if differ(shaft) {
        Fault::Ends {
            front_rad: shaft.front_joint_rad,
            rear_rad: shaft.rear_joint_rad,
            turn,
        }
    } else {
        Fault::Uneven {
            residual_rad: shaft.residual_rad,
            non_uniformity: shaft.non_uniformity,
            turn,
        }
    };
    Some(Finding {
        remedies: [LevelAt::HalfTravel, LevelAt::Ride].map(Remedy::MatchPinion).to_vec(),
        ..finding(Grade::Check, fault)
    })
}

/// Only where it does harm: joints in planes that lie crosswise can be made even by their phase.
fn phase(setup: &Setup, solved: &Solved, described: &Driveline, shaft: &ShaftPose) -> Option<Finding> {
    let phase_rad = described.phase_rad;
    let in_line_rad = driveline::residual_rad(setup, &solved.rear_end.ride, 0.0)?;
    let residual_rad = shaft.residual_rad;
    (phase_rad.abs() > IN_LINE_RAD && residual_rad > in_line_rad).then(|| {
        finding(
            Grade::Check,
            Fault::Phase {
                phase_rad,
                residual_rad,
                in_line_rad,
            },
        )
    })
}

/// One word a joint: too much for its speed, too much to be smooth, too little.
fn angles(setup: &Setup, described: &Driveline, shaft: &ShaftPose) -> Vec<Finding> {
    let speed = described.speed.map(|speed| shaft_rad_per_s(setup, &speed));
    let fault = |(joint, angle_rad): (JointAt, f64)| match speed {
        Some(shaft_rad_per_s) if angle_rad > largest_angle_rad(shaft_rad_per_s) => Some(Fault::TooFast {
            joint,
            angle_rad,
            shaft_rad_per_s,
        }),
        _ if angle_rad > SMOOTH_RAD => Some(Fault::Steep { joint, angle_rad }),
        _ if angle_rad < LEAST_RAD => Some(Fault::Straight { joint, angle_rad }),
        _ => None,
    };
    shaft
        .joints()
        .filter_map(fault)
        .map(|fault| finding(Grade::Check, fault))
        .collect()
}

/// The slip at one end of its way.
struct Slip {
    out_m: f64,
    height_m: f64,
    roll_rad: f64,
}

/// Farthest pushed in and farthest pulled out, in any pose.
fn slip(solved: &Solved) -> Option<[Slip; 2]> {
    let slips = || solved.all_rows().filter_map(|row| Some((row.shaft?.slip_m, row)));
    let read = |(out_m, row): (f64, &Row)| Slip {
        out_m,
        height_m: row.height_m,
        roll_rad: row.roll_rad,
    };
    let low = slips().min_by(|a, b| a.0.total_cmp(&b.0))?;
    let high = slips().max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some([read(low), read(high)])
}

fn slip_ends(described: &Driveline, [low, high]: &[Slip; 2]) -> Vec<Finding> {
    let (has_in_m, has_out_m) = (described.slip_in_m, described.slip_out_m);
    let (left_in_m, left_out_m) = (has_in_m + low.out_m, has_out_m - high.out_m);
    let ends = [
        (low, has_in_m, left_in_m, left_out_m),
        (high, has_out_m, left_out_m, left_in_m),
    ];
    let past = ends.into_iter().filter(|(.., left_m, _)| *left_m < 0.0);
    past.map(|(end, has_m, _, other_way_m)| {
        let fault = Fault::SlipEnds {
            slip_m: end.out_m,
            has_m,
            other_way_m,
            height_m: end.height_m,
            roll_rad: end.roll_rad,
        };
        finding(Grade::WontWork, fault).at(end.height_m)
    })
    .collect()
}

/// What is past every speed that the guide lists is to be looked at; the rest is good to know.
fn largest(solved: &Solved) -> Option<Finding> {
    let angles = solved
        .all_rows()
        .filter_map(|row| Some((row.shaft?.largest_joint(), row)));
    let ((joint, angle_rad), row) = angles.max_by(|a, b| a.0.1.total_cmp(&b.0.1))?;
    let fault = Fault::Largest {
        joint,
        angle_rad,
        height_m: row.height_m,
        roll_rad: row.roll_rad,
    };
    Some(finding(super::grade(angle_rad <= LISTED_RAD), fault).at(row.height_m))
}
