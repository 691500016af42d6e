//! What is found that is not fine.

use super::words::counted;
use super::{Job, Section, Table};
use crate::findings::{Finding, Grade, capitalised};

pub(super) fn section(job: &Job) -> Section {
    let not_fine: Vec<&Finding> = job.findings.iter().filter(|f| f.grade != Grade::Fine).collect();
    let fine = job.findings.len() - not_fine.len();
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
