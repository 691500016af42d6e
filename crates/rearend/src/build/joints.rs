//! How far each joint swings, against how far it may.

use super::words::{end_name, place};
use super::{Job, Section, Table};
use crate::answers::Solved;
use crate::findings::capitalised;
use crate::mechanism::Part;
use crate::setup::Side;
use crate::swing::Swing;
use crate::tape::degrees;

pub(super) fn section(job: &Job, solved: &Solved) -> Section {
    let mut table = Table::with(&["Joint", "What it is", ">Swings", ">May swing", "Most of it", "Verdict"]);
    table
        .rows
        .extend(worst(&solved.swings).iter().map(|swing| row(job, swing)));
    let mut notes = Vec::new();
    if let Some(crank) = &solved.crank {
        notes.push(format!(
            "The Watt's crank turns {} one way and {} the other; the {} comes within {} of its arm's line.",
            degrees(crank.most_rad, 0),
            degrees(-crank.least_rad, 0),
            crank.link.name(job.setup),
            degrees(crank.margin_rad, 0)
        ));
    }
    if !job.setup.arms.is_empty() {
        notes.push("The eyes of arms turn about their bolts and lean little: they are not in the table.".to_owned());
    }
    Section {
        title: "Joints".to_owned(),
        text: vec![
            "How far the bolt leans in each joint over the whole travel, one wheel up included; turning about the bolt is free.".to_owned(),
        ],
        table: Some(table),
        notes,
        steps: Vec::new(),
    }
}

/// Of the two sides of a pair the one that swings farther.
fn worst(swings: &[Swing]) -> Vec<Swing> {
    let mut all: Vec<Swing> = Vec::new();
    for swing in swings {
        let twin = all
            .iter_mut()
            .find(|other| drawn(other.part) == drawn(swing.part) && other.end == swing.end);
        match twin {
            Some(other) if swing.most_rad > other.most_rad => *other = *swing,
            Some(_) => {}
            None => all.push(*swing),
        }
    }
    all
}

fn drawn(part: Part) -> Part {
    match part {
        Part::Bar(id, _) => Part::Bar(id, Side::Drawn),
        Part::Arm(id, _) => Part::Arm(id, Side::Drawn),
        other => other,
    }
}

fn row(job: &Job, swing: &Swing) -> Vec<String> {
    let verdict = if swing.most_rad > swing.limit_rad {
        "past it"
    } else {
        "within"
    };
    vec![
        format!(
            "{}, {}",
            swing.part.link_name(job.setup),
            end_name(swing.part, swing.end)
        ),
        capitalised(swing.kind.name()),
        degrees(swing.most_rad, 1),
        degrees(swing.limit_rad, 1),
        place(job.setup, job.units, swing.height_m, swing.roll_rad),
        verdict.to_owned(),
    ]
}
