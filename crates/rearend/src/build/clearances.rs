//! What comes near to what, and the notch.

use super::words::place;
use super::{Job, Section, Table};
use crate::clearance::{Fault, Near, NotchNeeded};
use crate::findings::{Finding, Grade, Kind, capitalised};

pub(super) fn section(job: &Job) -> Section {
    let mut table = Table::with(&["What moves", "Comes near to", ">Gap", "Where", "Verdict"]);
    let faults = job
        .findings
        .iter()
        .filter_map(|finding| Some((finding, fault(finding)?)));
    table.rows.extend(
        faults
            .clone()
            .map(|(finding, fault)| row(job, finding.grade, near(fault))),
    );
    let mut needed = faults.filter_map(|(_, fault)| match fault {
        Fault::Notch(_, needed) => Some(*needed),
        _ => None,
    });
    let mut text = vec![format!(
        "Wanted between what moves: {}. Everything nearer is listed; where nothing is, what comes nearest.",
        job.units.length(job.setup.limits.clearance_m)
    )];
    if table.rows.is_empty() {
        text.push("Nothing is known of clearances: the axle is not held, or there is nothing near it.".to_owned());
    }
    Section {
        title: "Clearances and notch".to_owned(),
        text,
        table: (!table.rows.is_empty()).then_some(table),
        notes: notch(job, needed.next_back()),
        steps: Vec::new(),
    }
}

fn fault(finding: &Finding) -> Option<&Fault> {
    match &finding.kind {
        Kind::Clearance(fault) => Some(fault),
        _ => None,
    }
}

fn near(fault: &Fault) -> &Near {
    match fault {
        Fault::Touches(near) | Fault::Tight(near) | Fault::Notch(near, _) | Fault::Clear(near) => near,
    }
}

fn row(job: &Job, grade: Grade, near: &Near) -> Vec<String> {
    let (setup, units) = (job.setup, job.units);
    let gap = if near.gap_m < 0.0 {
        format!("in by {}", units.length(-near.gap_m))
    } else {
        units.length(near.gap_m)
    };
    vec![
        capitalised(&near.a.name(setup, units)),
        near.b.name(setup, units),
        gap,
        place(setup, units, near.height_m, near.roll_rad),
        grade.word().to_owned(),
    ]
}

fn notch(job: &Job, needed: Option<NotchNeeded>) -> Vec<String> {
    let (rails, units) = (&job.setup.rails, job.units);
    let cut = rails.notch.map_or_else(
        || "No notch is cut in the rails.".to_owned(),
        |notch| {
            format!(
                "Notch in both rails: {} deep over the axle line, {} long, half of it either way; {} of the rail is left above it. Plate it before the axle hangs from the rail.",
                units.length(notch.depth_m),
                units.length(2.0 * notch.half_length_m),
                units.length(rails.height_m - notch.depth_m)
            )
        },
    );
    let more = needed.map(|needed| {
        format!(
            "The axle tube asks for a notch {} deep and {} long.",
            units.length(needed.depth_m),
            units.length(2.0 * needed.half_length_m)
        )
    });
    std::iter::once(cut).chain(more).collect()
}
