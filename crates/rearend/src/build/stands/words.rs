//! How brackets stand, in a table.

use super::{By, Foot, Ground, RailFace, Standing};
use crate::build::words::{NOTHING, way};
use crate::build::{Job, Section, Table};
use crate::findings::{capitalised, nose};
use crate::setup::{Carrier, Section as RailSection};

/// Crossmembers whose axes are this near to each other are one.
const SAME_M: f64 = 1e-3;

/// What lies half way between two marks is told by the upper one, whatever its last bits.
const UP_M: f64 = 1e-9;

pub(in crate::build) fn section(job: &Job, standing: &[Standing]) -> Section {
    let mut table = Table::with(&[
        "Bracket",
        "Bolt lies",
        "Stands on",
        ">Bolt's centre to that",
        ">Clear between plates",
    ]);
    table.rows.extend(standing.iter().map(|one| row(job, one)));
    let mut text = vec![
        "For tacking each bracket at its angle. Off straight across is read in plan, with a bevel against a line square across both rails; up and down with an angle finder, the rails level. The side plates stand square to the bolt: they are as far off straight ahead as it is off straight across. The bolt's centre is told from what the side plates are welded to, along the plates: the face of a rail, the surface of a tube, or the pad plate that carries them.".to_owned(),
    ];
    let is_on_ribs = |one: &Standing| one.foot.is_some_and(|foot| foot.by == By::Ribs);
    if standing.iter().any(is_on_ribs) {
        text.push("Of the Watt's pivot it is told how far the near side plate's face stands off the tube, square to the plate.".to_owned());
    }
    if standing.iter().any(|one| one.carrier == Carrier::Axle) {
        text.push(format!(
            "Angles on the axle are read with the pinion at {}, as for its mounts.",
            nose(job.setup.axle.pinion_angle_rad)
        ));
    }
    if standing.is_empty() {
        text = vec!["No bracket is drawn.".to_owned()];
    }
    Section {
        title: "How brackets stand".to_owned(),
        text,
        table: (!standing.is_empty()).then_some(table),
        notes: crossmembers(job, standing),
        steps: Vec::new(),
    }
}

fn row(job: &Job, standing: &Standing) -> Vec<String> {
    let foot = standing.foot.as_ref();
    vec![
        capitalised(&standing.name),
        capitalised(&standing.lies.words(standing.both_sides)),
        foot.map_or_else(|| "Not drawn".to_owned(), |foot| stands_on(job, standing, foot)),
        foot.map_or_else(|| NOTHING.to_owned(), |foot| job.units.length(foot.height_m + UP_M)),
        job.units.size(standing.clear_m),
    ]
}

fn stands_on(job: &Job, standing: &Standing, foot: &Foot) -> String {
    let ground = match foot.ground {
        Ground::Tube { .. } if standing.carrier == Carrier::Axle => "the axle tube".to_owned(),
        Ground::Tube { at, .. } => format!("the crossmember {} the axle line", station(job, at.x)),
        Ground::Rail(face) => rail_face(job, standing, face),
    };
    match (foot.by, foot.ground) {
        (By::Ribs, _) => format!("Near side plate on two ribs on {ground}"),
        (By::Edges, _) => capitalised(&ground),
        (By::Pad, Ground::Tube { .. }) => format!("Pad plate {} it, on ribs on {ground}", beside(standing, foot)),
        (By::Pad, Ground::Rail(_)) => format!("Pad plate {} it, on its edge on {ground}", beside(standing, foot)),
    }
}

/// Which way a pad plate lies from its bolt.
fn beside(standing: &Standing, foot: &Foot) -> &'static str {
    let to = foot.towards;
    if to.z.abs() >= to.x.hypot(to.y) {
        if to.z < 0.0 { "below" } else { "above" }
    } else if to.x.abs() >= to.y.abs() {
        if to.x < 0.0 { "behind" } else { "ahead of" }
    } else if to.y * standing.at.y < 0.0 {
        "inside"
    } else {
        "outside"
    }
}

fn rail_face(job: &Job, standing: &Standing, face: RailFace) -> String {
    let rail = match (standing.both_sides, standing.at.y < 0.0) {
        (true, _) => "the rail",
        (false, true) => "the right rail",
        (false, false) => "the left rail",
    };
    let face = match face {
        RailFace::Outside => "outside",
        RailFace::Inside if job.setup.rails.section == RailSection::Channel => "web between its flanges",
        RailFace::Inside => "inner side",
        RailFace::Top => "top",
        RailFace::Underside => "underside",
    };
    format!("{rail}'s {face}")
}

/// "12 in ahead of", or "right at".
fn station(job: &Job, ahead_m: f64) -> String {
    let text = way(job.units, ahead_m, "ahead of", "behind");
    if text == job.units.length(0.0) {
        "right at".to_owned()
    } else {
        text
    }
}

/// Where each crossmember runs that a bracket stands on.
fn crossmembers(job: &Job, standing: &[Standing]) -> Vec<String> {
    let on_frame = standing.iter().filter(|one| one.carrier == Carrier::Frame);
    let tubes = on_frame.filter_map(|one| match one.foot?.ground {
        Ground::Tube { at, tube_m } => Some((at, tube_m)),
        Ground::Rail(_) => None,
    });
    let mut seen: Vec<(f64, f64, f64)> = Vec::new();
    for (at, tube_m) in tubes {
        let is_seen = |(x, z, _): &(f64, f64, f64)| (x - at.x).abs() < SAME_M && (z - at.z).abs() < SAME_M;
        if !seen.iter().any(is_seen) {
            seen.push((at.x, at.z, tube_m));
        }
    }
    seen.into_iter()
        .map(|(x_m, z_m, tube_m)| {
            format!(
                "The crossmember {} the axle line: its centre stands {} the straight rail's underside where the bracket is, and it is taken as a tube of {} outside. Measure yours before the plates are cut.",
                station(job, x_m),
                way(job.units, z_m, "above", "below"),
                job.units.length(tube_m)
            )
        })
        .collect()
}
