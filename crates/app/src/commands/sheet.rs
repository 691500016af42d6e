//! `axlewright sheet`.

use std::fs;
use std::process::ExitCode;

use panels::ShopStyle;
use rearend::answers::Answers;
use shop::{Surveyed, disk};

use super::load;
use crate::cli::SheetArgs;
use crate::outputs::{self, File, may_write, write_all};

/// `axlewright sheet`. One that says only why there is nothing to build ends with 1.
pub fn sheet(args: &SheetArgs) -> Result<ExitCode, String> {
    may_write(&args.out, args.force)?;
    let setup = load(&args.setup)?;
    let answers = Answers::of(&setup);
    let findings = Surveyed::of(&setup, &answers).map_or_else(|| answers.findings.clone(), |s| s.findings);
    let template = args.template.as_deref().map(|path| {
        fs::read_to_string(path).map_err(|error| {
            format!(
                "the template {} cannot be read: {}",
                path.display(),
                disk::plain(&error)
            )
        })
    });
    let style = ShopStyle {
        name: args.shop.clone().unwrap_or_default(),
        logo: args.logo.clone(),
        letter: args.paper.is_letter(),
    };
    let template = template.transpose()?;
    let bytes = outputs::sheet(
        &setup,
        &answers,
        &findings,
        args.units.units(),
        &style,
        template.as_deref(),
    )?;
    write_all(&[File::new(&args.out, bytes)], args.force)?;
    if let Err(error) = &answers.solved {
        eprintln!("axlewright: {error}; the sheet says so and has no cut list");
        return Ok(ExitCode::from(1));
    }
    Ok(ExitCode::SUCCESS)
}
