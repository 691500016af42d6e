//! The sweep as CSV, one pose a row.

use std::f64::consts::PI;

use rearend::driveline::ShaftPose;
use rearend::first_order::InstantCentre;
use rearend::mechanism::RearEnd;
use rearend::setup::Setup;
use rearend::springs::SideSpring;
use rearend::travel::{Row, Travel};
use rearend::tyres::TyreGaps;
use thiserror::Error;

/// A column: its name, its unit as a part of the SI unit, and what it holds; a number that a setup may not describe, or that is infinite.
type Column = (&'static str, f64, fn(&Pose) -> Option<f64>);

const MM: f64 = 1e3;
const DEGREES: f64 = 180.0 / PI;
const PERCENT: f64 = 100.0;
const NUMBER: f64 = 1.0;
const NEWTON: f64 = 1.0;
const PER_MM: f64 = 1e-3;
const KILO: f64 = 1e-3;

/// A pose and the truck that it is one of.
struct Pose<'a> {
    rear_end: &'a RearEnd,
    row: &'a Row,
}

/// The columns that every file has, in this order: new ones are added at the end. The joint-to-joint lengths of the bars follow them.
const COLUMNS: [Column; 30] = [
    ("height_mm", MM, |p| Some(p.row.height_m)),
    ("roll_deg", DEGREES, |p| Some(p.row.roll_rad)),
    ("shift_mm", MM, |p| Some(p.row.shift_m)),
    ("fore_aft_mm", MM, |p| Some(p.row.fore_aft_m)),
    ("axle_steer_deg", DEGREES, |p| Some(p.row.steer_rad)),
    ("pinion_to_frame_deg", DEGREES, |p| Some(p.row.pinion_to_frame_rad)),
    ("pinion_to_ground_deg", DEGREES, |p| Some(p.row.pinion_to_ground_rad)),
    ("front_joint_deg", DEGREES, |p| Some(p.shaft()?.front_joint_rad)),
    ("rear_joint_deg", DEGREES, |p| Some(p.shaft()?.rear_joint_rad)),
    ("slip_mm", MM, |p| Some(p.shaft()?.slip_m)),
    ("ic_x_mm", MM, |p| Some(p.instant_centre()?[0])),
    ("ic_z_mm", MM, |p| Some(p.instant_centre()?[1])),
    ("anti_squat_pct", PERCENT, |p| p.row.first.anti_squat),
    ("roll_centre_mm", MM, |p| Some(p.row.first.roll_centre_m)),
    ("roll_steer", NUMBER, |p| Some(p.row.first.roll_steer)),
    ("misfit_mm", MM, |p| Some(p.row.misfit_m)),
    ("anti_lift_pct", PERCENT, |p| p.row.first.anti_lift),
    ("axle_steer_deg_per_m_rise", DEGREES, |p| {
        Some(p.row.first.ride_steer_rad_per_m)
    }),
    ("largest_force_n", NEWTON, |p| Some(p.largest_force_n())),
    ("crank_deg", DEGREES, |p| p.crank_rad()),
    ("carrier_joint_deg", DEGREES, |p| p.shaft()?.carrier_joint_rad),
    ("shaft_residual_deg", DEGREES, |p| Some(p.shaft()?.residual_rad)),
    ("spring_left_mm", MM, |p| Some(p.row.spring?.left.length_m)),
    ("spring_right_mm", MM, |p| Some(p.row.spring?.right.length_m)),
    ("motion_ratio", NUMBER, |p| p.spring(|s| Some(s.motion_ratio))),
    ("wheel_rate_n_per_mm", PER_MM, |p| {
        p.spring(|s| Some(s.load?.wheel_rate_n_per_m))
    }),
    ("spring_pressure_kpa", KILO, |p| p.spring(|s| s.load?.pressure_pa)),
    ("tyre_lip_left_mm", MM, |p| p.tyres()?.left.lip_m),
    ("tyre_lip_right_mm", MM, |p| p.tyres()?.right.lip_m),
    ("tyre_inner_mm", MM, |p| p.tyres()?.inner_m()),
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
    let names = COLUMNS.iter().map(|(name, ..)| (*name).to_owned());
    let lengths = rear_end.parts.iter().map(|p| format!("{} length_mm", p.name(setup)));
    table.write_record(names.chain(lengths)).map_err(failed)?;
    for row in &travel.rows {
        let pose = Pose { rear_end, row };
        let values = COLUMNS.iter().map(|(_, unit, value)| value(&pose).map(|v| v * unit));
        let record = values.chain(pose.lengths_mm(setup)).map(plain);
        table.write_record(record).map_err(failed)?;
    }
    table.into_inner().map_err(|e| CsvError(e.to_string()))
}

impl Pose<'_> {
    fn shaft(&self) -> Option<&ShaftPose> {
        self.row.shaft.as_ref()
    }

    fn tyres(&self) -> Option<&TyreGaps> {
        self.row.tyres.as_ref()
    }

    fn instant_centre(&self) -> Option<[f64; 2]> {
        match self.row.first.instant_centre {
            InstantCentre::At { x_m, z_m } => Some([x_m, z_m]),
            InstantCentre::AtInfinity { .. } => None,
        }
    }

    fn largest_force_n(&self) -> f64 {
        let strains = self.rear_end.mechanism.strains(&self.row.at);
        strains.map(|s| s.force_n.abs()).fold(0.0, f64::max)
    }

    fn crank_rad(&self) -> Option<f64> {
        let cranks = self.rear_end.mechanism.cranks();
        cranks.first().map(|_| self.row.at.crank_rad[0])
    }

    /// The mean of both sides: a sideways bar makes them differ by little.
    fn spring(&self, of: fn(&SideSpring) -> Option<f64>) -> Option<f64> {
        let spring = self.row.spring.as_ref()?;
        Some(f64::midpoint(of(&spring.left)?, of(&spring.right)?))
    }

    fn lengths_mm<'a>(&'a self, setup: &'a Setup) -> impl Iterator<Item = Option<f64>> + 'a {
        let ends = |part| self.rear_end.ends_in_frame(setup, part, &self.row.at);
        let lengths = self.rear_end.parts.iter().filter_map(move |part| ends(*part));
        lengths.map(|[a, b]| Some((a - b).norm() * MM))
    }
}

/// Six decimals: finer than any tape, coarser than rounding, and never "-0". What is infinite stays empty.
fn plain(value: Option<f64>) -> String {
    let finite = value.filter(|v| v.is_finite());
    finite.map_or_else(String::new, |v| format!("{}", (v * 1e6).round() / 1e6 + 0.0))
}
