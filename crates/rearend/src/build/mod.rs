//! The numbers of a build sheet: as data, then in words and tables.
//!
//! [`cut`], [`mounts`], [`stands`] and [`parts`] hold what is computed, SI; every other file, and those named `words`, put it into a [`Section`] in
//! the user's units.

mod bracket_list;
mod clearances;
pub mod cut;
mod fastening;
mod heights;
mod joints;
pub mod mounts;
mod order;
pub mod parts;
mod section;
mod squareness;
pub mod stands;
mod travel_table;
mod unsettled;
mod words;

pub use section::{Align, Column, Section, Table};
pub use squareness::Tolerances;

use crate::answers::{Answers, Solved};
use crate::findings::{Finding, Grade};
use crate::setup::Setup;
use crate::tape::Units;

/// What a section is made from.
#[derive(Clone, Copy)]
struct Job<'a> {
    setup: &'a Setup,
    answers: &'a Answers,
    findings: &'a [Finding],
    units: Units,
}

/// The sections of a build sheet, in the order they are wanted in the shop. `findings` are all there are, those of the finished clearance
/// survey among them. Where nothing is solved there is no cut list, and only what needs no solution follows; why is said by whoever sets them.
#[must_use]
pub fn sections(setup: &Setup, answers: &Answers, findings: &[Finding], units: Units) -> Vec<Section> {
    let job = Job {
        setup,
        answers,
        findings,
        units,
    };
    match &answers.solved {
        Ok(solved) => solved_sections(&job, solved),
        Err(_) => [refusal(), heights::section(&job, None)]
            .into_iter()
            .chain(unsettled::beside_the_reason(&job))
            .collect(),
    }
}

fn solved_sections(job: &Job, solved: &Solved) -> Vec<Section> {
    let list = cut::cut_list(job.setup, &solved.rear_end);
    let places = mounts::places(job.setup);
    let drawn = bracket_list::Drawn::of(job);
    let standing = stands::standing(job.setup, &solved.rear_end, &drawn.brackets);
    vec![
        cut::section(job, &list, drawn.has_crank()),
        mounts::on_frame(job, &places),
        mounts::on_axle(job, &places),
        bracket_list::section(job, &drawn),
        stands::section(job, &standing),
        heights::section(job, Some(solved)),
        travel_table::section(job, solved),
        joints::section(job, solved),
        clearances::section(job),
        squareness::section(job, solved),
        order::section(job, solved),
        fastening::section(job),
        unsettled::section(job),
        parts::section(job, &list, &places, drawn.count()),
    ]
}

/// Why there is none stands at the head of the sheet, once.
fn refusal() -> Section {
    Section {
        title: "No cut list".to_owned(),
        text: vec![
            "Put right first what page one says: what cannot be put together has nothing to saw and nothing to tack."
                .to_owned(),
        ],
        ..Section::default()
    }
}

impl Job<'_> {
    /// How many findings say that it won't work.
    fn fatal(&self) -> usize {
        self.findings.iter().filter(|f| f.grade == Grade::WontWork).count()
    }
}
