//! The commands that need no window.

mod brackets;
mod compare;
mod findings;
mod picture;
mod replay;
mod sheet;
mod travel;

use std::io::Write;
use std::path::Path;

use rearend::answers::{Answers, Solved};
use rearend::setup::Setup;
use shop::disk;

pub use brackets::brackets;
pub use compare::compare;
pub use findings::findings;
pub use picture::picture;
pub use replay::replay;
pub use sheet::sheet;
pub use travel::travel;

fn load(path: &Path) -> Result<Setup, String> {
    disk::load(path).map_err(|e| e.to_string())
}

/// Refuses more setups than are set side by side.
fn few_enough(setups: &[std::path::PathBuf]) -> Result<(), String> {
    let most = rearend::compare::MOST;
    if setups.len() <= most {
        return Ok(());
    }
    Err(format!(
        "{} setups are named; up to {most} are set side by side",
        setups.len()
    ))
}

fn solved(answers: &Answers) -> Result<&Solved, String> {
    answers.solved.as_ref().map_err(ToString::to_string)
}

/// A reader that has seen enough, such as `head`, is no error.
fn print(bytes: &[u8]) -> Result<(), String> {
    match std::io::stdout().write_all(bytes) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => {
            Err(format!("standard output cannot be written: {error}"))
        }
        _ => Ok(()),
    }
}
