//! `axlewright travel`.

use std::process::ExitCode;

use rearend::answers::Answers;
use rearend::travel::Travel;

use super::{load, print, solved};
use crate::cli::TravelArgs;
use crate::outputs::{File, write_all};

/// `axlewright travel`.
pub fn travel(args: &TravelArgs) -> Result<ExitCode, String> {
    let setup = load(&args.setup)?;
    let answers = Answers::of(&setup);
    let rear_end = &solved(&answers)?.rear_end;
    let travel = Travel::sweep(&setup, rear_end, args.roll.to_radians(), args.steps);
    let table = sheets::travel_csv(&setup, rear_end, &travel).map_err(|e| e.to_string())?;
    match &args.out {
        Some(path) => write_all(&[File::new(path, table)], args.force)?,
        None => print(&table)?,
    }
    if travel.rows.len() < args.steps {
        eprintln!(
            "axlewright: the travel ends early, at {} of {} poses; the findings say where and why",
            travel.rows.len(),
            args.steps
        );
    }
    Ok(ExitCode::SUCCESS)
}
