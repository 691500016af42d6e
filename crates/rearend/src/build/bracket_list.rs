//! The brackets: every plate that is cut, as the templates have it, and what cannot be drawn.

use super::words::counted;
use super::{Job, Section, Table};
use crate::brackets::{self, Bracket, Plate, crank_gap_m};
use crate::findings::capitalised;
use crate::setup::{Mount, SpringKind};

/// All brackets of a setup, and a sentence for every one that cannot be drawn.
pub(super) struct Drawn {
    pub brackets: Vec<Bracket>,
    pub undrawn: Vec<String>,
}

impl Drawn {
    pub(super) fn of(job: &Job) -> Self {
        let mut drawn = Self {
            brackets: Vec::new(),
            undrawn: Vec::new(),
        };
        for bracket in brackets::of(job.setup, job.answers.solved.as_ref().ok(), job.units) {
            match bracket {
                Ok(bracket) => drawn.brackets.push(bracket),
                Err(error) => drawn.undrawn.push(capitalised(&format!("{error}."))),
            }
        }
        drawn
    }

    fn plates(&self) -> impl Iterator<Item = &Plate> {
        self.brackets.iter().flat_map(|bracket| &bracket.plates)
    }

    /// How many plates are cut in all.
    pub(super) fn count(&self) -> usize {
        self.plates().map(|plate| plate.count).sum()
    }

    /// True where a Watt's crank is cut from its template.
    pub(super) fn has_crank(&self) -> bool {
        self.brackets
            .iter()
            .any(|bracket| bracket.mounts.contains(&Mount::WattLeftArm))
    }
}

pub(super) fn section(job: &Job, drawn: &Drawn) -> Section {
    let mut table = Table::with(&["Plate", ">Number", ">Thickness", "Drilled", ">Overall"]);
    table.rows.extend(drawn.plates().map(|plate| row(job, plate)));
    let steel = &job.setup.steel;
    let mut text = vec![format!(
        "The plates of the 1:1 templates and the files for the cutting table, which have the same names: cut them from those. No edge is nearer to the centre of a hole than {}; the two side plates of a bracket stand {} apart, where its template says nothing else. Of a pair one is the other's mirror.",
        job.units.size(steel.edge_m()),
        job.units.size(steel.gap_m)
    )];
    text.extend(
        drawn
            .undrawn
            .iter()
            .map(|why| format!("Stop: one bracket is not drawn. {why}")),
    );
    Section {
        title: "Brackets".to_owned(),
        text,
        table: Some(table),
        notes: notes(job),
        steps: Vec::new(),
    }
}

fn row(job: &Job, plate: &Plate) -> Vec<String> {
    let [low, high] = plate.bounds();
    let overall = (high - low).map(|side| job.units.length(side));
    vec![
        capitalised(&plate.name),
        plate.count.to_string(),
        job.units.size(plate.thickness_m),
        drilled(job, plate),
        format!("{} × {}", overall.x, overall.y),
    ]
}

/// How many holes of which size.
fn drilled(job: &Job, plate: &Plate) -> String {
    let mut sizes: Vec<(String, usize)> = Vec::new();
    for hole in &plate.holes {
        let words = job.units.drill(hole.diameter_m);
        match sizes.iter_mut().find(|(other, _)| *other == words) {
            Some((_, count)) => *count += 1,
            None => sizes.push((words, 1)),
        }
    }
    if sizes.is_empty() {
        return super::words::NOTHING.to_owned();
    }
    let words = sizes
        .iter()
        .map(|(size, count)| format!("{} of {size}", counted(*count, "hole", "holes")));
    words.collect::<Vec<_>>().join(", ")
}

fn notes(job: &Job) -> Vec<String> {
    let steel = &job.setup.steel;
    let pivot = job.setup.watt.as_ref().map_or_else(String::new, |_| {
        format!(", {} for the Watt's pivot", job.units.size(crank_gap_m(steel)))
    });
    let mut notes = vec![format!(
        "Tack the two plates with the bolt, the joint and its spacers in place, so that they come out parallel and in line. A spacer tube on the bolt does as well: {} long{pivot}.",
        job.units.size(steel.gap_m)
    )];
    if !job.setup.arms.is_empty() {
        notes.push("Truck arms and ladder bars are welded or clamped under the tube to suit the arm, where no plate is listed.".to_owned());
    }
    let air = job
        .setup
        .springs
        .as_ref()
        .is_some_and(|springs| matches!(springs.kind, SpringKind::Air(_)));
    if air {
        notes.push("Air springs stand on seats to suit their own plates.".to_owned());
    }
    notes
}
