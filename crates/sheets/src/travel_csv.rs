//! The sweep as CSV, one pose a row.

use rearend::driveline::ShaftPose;
use rearend::first_order::InstantCentre;
use rearend::mechanism::RearEnd;
use rearend::setup::Setup;
use rearend::springs::{SideSpring, SpringPose};
use rearend::travel::{Row, Travel};
use thiserror::Error;

/// The columns that every file has, in this order. The joint-to-joint lengths of the bars follow them.
const COLUMNS: [&str; 30] = [
    "height_mm",
    "roll_deg",
    "shift_mm",
    "fore_aft_mm",
    "axle_steer_deg",
    "pinion_to_frame_deg",
    "pinion_to_ground_deg",
    "front_joint_deg",
    "rear_joint_deg",
    "slip_mm",
    "ic_x_mm",
    "ic_z_mm",
    "anti_squat_pct",
    "roll_centre_mm",
    "roll_steer",
    "misfit_mm",
    "anti_lift_pct",
    "axle_steer_deg_per_m_rise",
    "largest_force_n",
    "crank_deg",
    "carrier_joint_deg",
    "shaft_residual_deg",
    "spring_left_mm",
    "spring_right_mm",
    "motion_ratio",
    "wheel_rate_n_per_mm",
    "spring_pressure_kpa",
    "tyre_lip_left_mm",
    "tyre_lip_right_mm",
    "tyre_inner_mm",
];

/// The table could not be written.
#[derive(Debug, Error)]
#[error("the travel table cannot be written: {0}")]
pub struct CsvError(String);

/// The sweep as the bytes of a CSV file. What a setup does not describe stays empty.
///
/// # Errors
/// When memory does not suffice.
pub fn travel_csv(setup: &Setup, rear_end: &RearEnd, travel: &Travel) -> Result<Vec<u8>, CsvError> {
    let failed = |e: csv::Error| CsvError(e.to_string());
    let mut table = csv::Writer::from_writer(Vec::new());
    let lengths = rear_end.parts.iter().map(|p| format!("{} length_mm", p.name(setup)));
    table
        .write_record(COLUMNS.iter().map(|c| (*c).to_owned()).chain(lengths))
        .map_err(failed)?;
    for row in &travel.rows {
        table.write_record(record(setup, rear_end, row)).map_err(failed)?;
    }
    table.into_inner().map_err(|e| CsvError(e.to_string()))
}

fn record(setup: &Setup, rear_end: &RearEnd, row: &Row) -> Vec<String> {
    let first = &row.first;
    let percent = |share: Option<f64>| share.map_or_else(String::new, |s| plain(s * 100.0));
    let forces = rear_end.mechanism.strains(&row.at).map(|s| s.force_n.abs());
    let crank = rear_end
        .mechanism
        .cranks()
        .first()
        .map_or_else(String::new, |_| degrees(row.at.crank_rad[0]));
    let (ic_x, ic_z) = match first.instant_centre {
        InstantCentre::At { x_m, z_m } => (mm(x_m), mm(z_m)),
        InstantCentre::AtInfinity { .. } => (String::new(), String::new()),
    };
    let shaft = row.shaft.as_ref();
    let of_shaft = |angle: fn(&ShaftPose) -> Option<f64>| shaft.and_then(angle).map_or_else(String::new, degrees);
    let room = |room_m: Option<f64>| room_m.map_or_else(String::new, mm);
    let mut record = vec![
        mm(row.height_m),
        degrees(row.roll_rad),
        mm(row.shift_m),
        mm(row.fore_aft_m),
        degrees(row.steer_rad),
        degrees(row.pinion_to_frame_rad),
        degrees(row.pinion_to_ground_rad),
        of_shaft(|s| Some(s.front_joint_rad)),
        of_shaft(|s| Some(s.rear_joint_rad)),
        shaft.map_or_else(String::new, |s| mm(s.slip_m)),
        ic_x,
        ic_z,
        percent(first.anti_squat),
        mm(first.roll_centre_m),
        plain(first.roll_steer),
        mm(row.misfit_m),
        percent(first.anti_lift),
        degrees(first.ride_steer_rad_per_m),
        plain(forces.fold(0.0, f64::max)),
        crank,
        of_shaft(|s| s.carrier_joint_rad),
        of_shaft(|s| Some(s.residual_rad)),
        room(row.tyres.and_then(|t| t.left.lip_m)),
        room(row.tyres.and_then(|t| t.right.lip_m)),
        room(row.tyres.and_then(|t| t.inner_m())),
    ];
    record.extend(springs(row.spring.as_ref()));
    let ends = rear_end
        .parts
        .iter()
        .filter_map(|p| rear_end.ends_in_frame(setup, *p, &row.at));
    record.extend(ends.map(|[a, b]| mm((a - b).norm())));
    record
}

/// Both lengths; then what both sides have alike, as the mean of them: a sideways bar makes them differ by little.
fn springs(pose: Option<&SpringPose>) -> [String; 5] {
    let Some(pose) = pose else { return Default::default() };
    let mean = |of: fn(&SideSpring) -> Option<f64>| {
        let both = of(&pose.left).zip(of(&pose.right));
        both.map_or(f64::NAN, |(left, right)| f64::midpoint(left, right))
    };
    [
        mm(pose.left.length_m),
        mm(pose.right.length_m),
        plain(mean(|s| Some(s.motion_ratio))),
        plain(mean(|s| Some(s.load?.wheel_rate_n_per_m)) / 1e3),
        plain(mean(|s| s.load?.pressure_pa) / 1e3),
    ]
}

fn mm(length_m: f64) -> String {
    plain(length_m * 1e3)
}

fn degrees(angle_rad: f64) -> String {
    plain(angle_rad.to_degrees())
}

/// Six decimals: finer than any tape, coarser than rounding, and never "-0". What is infinite stays empty.
fn plain(value: f64) -> String {
    if !value.is_finite() {
        return String::new();
    }
    format!("{}", (value * 1e6).round() / 1e6 + 0.0)
}
