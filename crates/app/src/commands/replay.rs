//! `axlewright replay`.

use std::process::ExitCode;

use rearend::answers::Answers;
use rearend::findings::Grade;
use shop::journal::{self, Entry};

use super::print;
use crate::cli::ReplayArgs;
use crate::outputs::{File, write_all};

/// `axlewright replay`: every step of a journal with what is found after it.
pub fn replay(args: &ReplayArgs) -> Result<ExitCode, String> {
    let entries = journal::entries(&args.journal).map_err(|e| e.to_string())?;
    let last = entries
        .last()
        .ok_or_else(|| format!("{} holds no step of a journal", args.journal.display()))?;
    let line = |(place, entry): (usize, &Entry)| {
        let findings = Answers::of(&entry.setup).findings;
        let count = |grade: Grade| findings.iter().filter(|f| f.grade == grade).count();
        let [wont_work, check] = [Grade::WontWork, Grade::Check].map(|g| format!("{} {}", count(g), g.word()));
        format!("{}. {}: {wont_work}, {check}\n", place + 1, entry.step)
    };
    print(entries.iter().enumerate().map(line).collect::<String>().as_bytes())?;
    if let Some(path) = &args.out {
        let text = rearend::file::write(&last.setup);
        write_all(&[File::new(path, text.into_bytes())], args.force)?;
    }
    Ok(ExitCode::SUCCESS)
}
