//! What the axle does at a few heights between laid out and full lift.

use super::words::{NOTHING, named_height};
use super::{Job, Section, Table};
use crate::answers::Solved;
use crate::driveline::ShaftPose;
use crate::findings::directed;
use crate::setup::SpringKind;
use crate::springs::SpringPose;
use crate::tape::{Units, degrees};
use crate::travel::{Row, TravelEnd};

/// Heights from laid out to full lift; ride height comes on top where it is none of them.
const HEIGHTS: u32 = 9;

/// Heights nearer than this are one.
const SAME_M: f64 = 1e-6;

/// A column: its head and what it says of a pose.
type Figure = (&'static str, fn(&Pose) -> Option<String>);

/// A pose and the units it is told in.
struct Pose<'a> {
    row: &'a Row,
    units: Units,
}

impl Pose<'_> {
    fn shaft(&self) -> Option<&ShaftPose> {
        self.row.shaft.as_ref()
    }

    fn spring(&self) -> Option<&SpringPose> {
        self.row.spring.as_ref()
    }
}

const ALWAYS: [Figure; 5] = [
    (">Rails off the ground", |p| Some(p.units.length(p.row.height_m))),
    (">Sideways shift", |p| {
        Some(directed(p.units, p.row.shift_m, "left", "right"))
    }),
    (">Fore and aft", |p| {
        Some(directed(p.units, p.row.fore_aft_m, "forward", "back"))
    }),
    (">Pinion to frame, nose up", |p| {
        Some(degrees(p.row.pinion_to_frame_rad, 2))
    }),
    (">Pinion to ground, nose up", |p| {
        Some(degrees(p.row.pinion_to_ground_rad, 2))
    }),
];

const FRONT_JOINT: Figure = (">Front joint", |p| Some(degrees(p.shaft()?.front_joint_rad, 2)));
const CARRIER_JOINT: Figure = (">Carrier joint", |p| Some(degrees(p.shaft()?.carrier_joint_rad?, 2)));
const REAR_JOINT: Figure = (">Rear joint", |p| Some(degrees(p.shaft()?.rear_joint_rad, 2)));
const SLIP: Figure = (">Slip", |p| {
    Some(directed(p.units, p.shaft()?.slip_m, "apart", "together"))
});
const LEFT: fn(&Pose) -> Option<String> = |p| Some(p.units.length(p.spring()?.left.length_m));
const RIGHT: fn(&Pose) -> Option<String> = |p| Some(p.units.length(p.spring()?.right.length_m));
const COILOVERS: [Figure; 2] = [(">Left coilover", LEFT), (">Right coilover", RIGHT)];
const AIR_SPRINGS: [Figure; 2] = [(">Left air spring", LEFT), (">Right air spring", RIGHT)];
const MISFIT: Figure = (">A bar gives", |p| Some(p.units.movement(p.row.misfit_m)));

pub(super) fn section(job: &Job, solved: &Solved) -> Section {
    let heights = heights(job);
    let reached = heights
        .iter()
        .filter_map(|height_m| job.answers.pose(job.setup, *height_m, 0.0).ok());
    let rows: Vec<Row> = reached.collect();
    let none = job.units.movement(0.0);
    let gives = rows.iter().any(|row| job.units.movement(row.misfit_m) != none);
    let figures = figures(job, gives);
    let heads: Vec<_> = std::iter::once("At")
        .chain(figures.iter().map(|(head, _)| *head))
        .collect();
    let mut table = Table::with(&heads);
    table.rows.extend(rows.iter().map(|row| {
        let pose = Pose { row, units: job.units };
        let at = named_height(job.setup, row.height_m).unwrap_or_default();
        let cells = figures
            .iter()
            .map(|(_, of)| of(&pose).unwrap_or_else(|| NOTHING.to_owned()));
        std::iter::once(at.to_owned()).chain(cells).collect()
    }));
    Section {
        title: "Through the travel".to_owned(),
        text: vec!["Both wheels alike; movements are from where the axle stands at ride height.".to_owned()],
        table: Some(table),
        notes: notes(job, solved, gives, rows.len() < heights.len()),
        steps: Vec::new(),
    }
}

fn heights(job: &Job) -> Vec<f64> {
    let travel = &job.setup.travel;
    let (low_m, high_m) = (travel.laid_out_m, travel.full_lift_m);
    let last = HEIGHTS - 1;
    let at = |i: u32| {
        if i == last {
            high_m
        } else {
            low_m + (high_m - low_m) * f64::from(i) / f64::from(last)
        }
    };
    let mut heights: Vec<_> = (0..HEIGHTS)
        .map(at)
        .filter(|h| (h - travel.ride_m).abs() > SAME_M)
        .collect();
    heights.push(travel.ride_m);
    heights.sort_by(f64::total_cmp);
    heights
}

/// What is described, and no more.
fn figures(job: &Job, gives: bool) -> Vec<Figure> {
    let mut figures = ALWAYS.to_vec();
    if let Some(driveline) = &job.setup.driveline {
        figures.push(FRONT_JOINT);
        figures.extend(driveline.carrier.map(|_| CARRIER_JOINT));
        figures.extend([REAR_JOINT, SLIP]);
    }
    if let Some(springs) = &job.setup.springs {
        figures.extend(match springs.kind {
            SpringKind::Coilover(_) => COILOVERS,
            SpringKind::Air(_) => AIR_SPRINGS,
        });
    }
    if gives {
        figures.push(MISFIT);
    }
    figures
}

fn notes(job: &Job, solved: &Solved, gives: bool, is_short: bool) -> Vec<String> {
    let mut notes = Vec::new();
    if is_short {
        let ends: Vec<_> = [solved.level.low_end, solved.level.high_end]
            .into_iter()
            .flatten()
            .collect();
        notes.push(end_words(job, &ends));
    }
    if !solved.freedom.free.is_empty() {
        notes.push(
            "Nothing holds the axle in one way at least: what it does through its travel is anybody's guess."
                .to_owned(),
        );
    }
    if gives {
        notes.push("\"A bar gives\" is the most that any bar or bush has to give for all of them to fit.".to_owned());
    }
    notes
}

fn end_words(job: &Job, ends: &[TravelEnd]) -> String {
    let at: Vec<_> = ends.iter().map(|end| job.units.length(end.height_m)).collect();
    let at = if at.is_empty() {
        String::new()
    } else {
        format!(" at {}", at.join(" and "))
    };
    format!("The travel ends early, with the rails{at} off the ground: heights beyond that are left out.")
}
