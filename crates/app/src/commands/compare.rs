//! `axlewright compare`.

use std::process::ExitCode;

use rearend::answers::Answers;
use rearend::compare::{self, Compared};

use super::{few_enough, load, print};
use crate::cli::CompareArgs;
use crate::outputs::{File, write_all};

/// `axlewright compare`.
pub fn compare(args: &CompareArgs) -> Result<ExitCode, String> {
    few_enough(&args.setups)?;
    let setups = args
        .setups
        .iter()
        .map(|path| load(path))
        .collect::<Result<Vec<_>, _>>()?;
    let answers: Vec<_> = setups.iter().map(Answers::of).collect();
    let compared: Vec<_> = setups
        .iter()
        .zip(&answers)
        .map(|(setup, answers)| Compared {
            name: &setup.name,
            setup,
            answers,
        })
        .collect();
    let comparison = compare::table(&compared);
    match &args.out {
        Some(path) => {
            let table = sheets::compare_csv(&comparison).map_err(|error| error.to_string())?;
            write_all(&[File::new(path, table)], args.force)?;
        }
        None => print(comparison.text(args.units.units()).as_bytes())?,
    }
    Ok(ExitCode::SUCCESS)
}
