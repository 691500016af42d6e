//! What these tests share.

use rearend::answers::Answers;
use rearend::build::cut::{CutList, cut_list};
use rearend::build::{Section, sections};
use rearend::clearance::Survey;
use rearend::findings::{Finding, with_survey};
use rearend::mechanism::RearEnd;
use rearend::setup::Setup;
use rearend::tape::Units;

/// Lengths that are the same.
#[track_caller]
pub fn close(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-9, "{a} is not {b}");
}

/// Sine and such of hand-typed figures.
#[track_caller]
pub fn near(a: f64, b: f64, within: f64) {
    assert!((a - b).abs() < within, "{a} is not {b} within {within}");
}

/// All findings, the finished survey's among them.
fn findings(setup: &Setup, answers: &Answers) -> Vec<Finding> {
    let Ok(solved) = &answers.solved else {
        return answers.findings.clone();
    };
    let mut survey = Survey::new(setup, solved);
    survey.step(usize::MAX);
    with_survey(setup, answers, &survey)
}

/// Every section of a setup in every unit, the clearances surveyed.
pub fn build(setup: &Setup) -> Vec<(Units, Vec<Section>)> {
    let answers = Answers::of(setup);
    let findings = findings(setup, &answers);
    let in_units = |units| (units, sections(setup, &answers, &findings, units));
    Units::ALL.into_iter().map(in_units).collect()
}

/// The section with this title, the clearances taken from a few poses.
#[track_caller]
pub fn section(setup: &Setup, units: Units, title: &str) -> Section {
    let answers = Answers::of(setup);
    let all = sections(setup, &answers, &answers.findings, units);
    let titles: Vec<_> = all.iter().map(|s| s.title.clone()).collect();
    let found = all.into_iter().find(|s| s.title == title);
    found.unwrap_or_else(|| panic!("no \"{title}\" among {titles:?}"))
}

/// The row that begins with this, by the names of its columns.
#[track_caller]
pub fn cell(section: &Section, row: &str, column: &str) -> String {
    let table = section.table.as_ref().expect("a table");
    let at = table.columns.iter().position(|c| c.name == column);
    let at = at.unwrap_or_else(|| panic!("no column {column} in {:?}", table.columns));
    let row = table.rows.iter().find(|cells| cells[0] == row);
    row.unwrap_or_else(|| panic!("no such row in {:?}", table.rows))[at].clone()
}

/// The cut list of a setup.
pub fn list(setup: &Setup) -> CutList {
    cut_list(setup, &RearEnd::compile(setup).expect("it compiles"))
}
