//! `axlewright brackets`.

use std::fs;
use std::process::ExitCode;

use rearend::answers::Answers;
use shop::disk;

use super::load;
use crate::cli::BracketsArgs;
use crate::outputs::{CutStyle, bracket_files, write_all};

/// `axlewright brackets`. What cannot be drawn is said, and ends with 1; the rest is written all the same.
pub fn brackets(args: &BracketsArgs) -> Result<ExitCode, String> {
    let setup = load(&args.setup)?;
    let answers = Answers::of(&setup);
    let style = CutStyle {
        units: args.units.units(),
        version: args.dxf.version(),
        letter: args.paper.is_letter(),
    };
    let (files, undrawn) = bracket_files(&setup, &answers, &args.out, style)?;
    fs::create_dir_all(&args.out).map_err(|error| {
        format!(
            "the folder {} cannot be made: {}",
            args.out.display(),
            disk::plain(&error)
        )
    })?;
    write_all(&files, args.force)?;
    for sentence in &undrawn {
        eprintln!("axlewright: {sentence}");
    }
    Ok(if undrawn.is_empty() {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(1)
    })
}
