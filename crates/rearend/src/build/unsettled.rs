//! What is found that is not fine.

use super::words::counted;
use super::{Job, Section, Table};
use crate::findings::{Finding, Grade, Kind, capitalised};

pub(super) fn section(job: &Job) -> Section {
    of(job, job.findings.iter().filter(|f| f.grade != Grade::Fine).collect())
}

/// What there is besides the reason why nothing is solved; none where that is all.
pub(super) fn beside_the_reason(job: &Job) -> Option<Section> {
    let more = job.findings.iter();
    let more = more.filter(|f| f.grade != Grade::Fine && !matches!(f.kind, Kind::Unsolvable(_)));
    let more: Vec<_> = more.collect();
    (!more.is_empty()).then(|| of(job, more))
}

fn of(job: &Job, not_fine: Vec<&Finding>) -> Section {
    let fine = job.findings.iter().filter(|f| f.grade == Grade::Fine).count();
    let mut table = Table::with(&["Grade", "What"]);
    table.rows.extend(not_fine.iter().map(|finding| {
        let sentence = finding.sentence(job.setup, job.units);
        vec![capitalised(finding.grade.word()), sentence]
    }));
    let text = if not_fine.is_empty() {
        "Nothing was found that asks for a look.".to_owned()
    } else {
        let found = counted(not_fine.len(), "thing asks", "things ask");
        format!("{found} for a look; {} found fine.", counted(fine, "is", "are"))
    };
    Section {
        title: "What to look at".to_owned(),
        text: vec![text],
        table: (!table.rows.is_empty()).then_some(table),
        ..Section::default()
    }
}
