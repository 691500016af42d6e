//! Commands run one after the other, each with a heading and its time.

use std::ffi::OsString;
use std::fmt;
use std::process::{Command, ExitStatus};
use std::time::{Duration, Instant};

/// A command of cargo's, by the cargo that started this program, with the workspace's top folder as its own.
pub fn cargo(arguments: &[&str]) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| OsString::from("cargo")));
    command.args(arguments).current_dir(crate::places::workspace());
    without_this_package(&mut command);
    command
}

/// Keeps what cargo told this program about *its* package from what it starts: bevy would look for assets there.
pub fn without_this_package(command: &mut Command) {
    command
        .env_remove("CARGO_MANIFEST_DIR")
        .env_remove("CARGO_MANIFEST_PATH");
}

/// Runs a command to its end.
///
/// # Errors
/// Where it cannot be started; an unhappy end is in the status.
pub fn status(command: &mut Command) -> Result<ExitStatus, String> {
    command
        .status()
        .map_err(|error| format!("cannot start {}: {error}", command.get_program().display()))
}

/// What a program's end is to whoever started this one: its exit code, or 1 where it was stopped by a signal.
pub fn exit_code(status: ExitStatus) -> u8 {
    status.code().map_or(1, |code| u8::try_from(code).unwrap_or(1))
}

/// The steps done so far, with their times.
#[derive(Default)]
pub struct Steps {
    done: Vec<(&'static str, Duration)>,
}

impl Steps {
    /// Runs one step, and fails with a line that names it and says what to do.
    pub fn run(&mut self, name: &'static str, command: &mut Command, remedy: &str) -> Result<(), String> {
        println!("\n=== {name}: {}", line_of(command));
        let start = Instant::now();
        let status = status(command)?;
        let took = start.elapsed();
        if !status.success() {
            return Err(format!(
                "stopped at step \"{name}\" after {} ({status}). {remedy}",
                Took(took)
            ));
        }
        println!("=== {name}: done in {}", Took(took));
        self.done.push((name, took));
        Ok(())
    }
}

impl fmt::Display for Steps {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let total = self.done.iter().map(|(_, took)| *took).sum();
        write!(f, "All is well, in {}:", Took(total))?;
        for (position, (name, took)) in self.done.iter().enumerate() {
            write!(f, "{} {name} {}", if position == 0 { "" } else { "," }, Took(*took))?;
        }
        write!(f, ".")
    }
}

/// The command as a person would type it.
fn line_of(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    let mut line = words
        .map(|word| word.to_string_lossy().into_owned())
        .collect::<Vec<_>>();
    if let Some(first) = line.first_mut()
        && let Some((_, name)) = first.rsplit_once(std::path::MAIN_SEPARATOR)
    {
        *first = name.to_owned();
    }
    line.join(" ")
}

/// A duration as a person reads it.
struct Took(Duration);

impl fmt::Display for Took {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let seconds = self.0.as_secs();
        if seconds < 60 {
            write!(f, "{:.1} s", self.0.as_secs_f64())
        } else {
            write!(f, "{} min {:02} s", seconds / 60, seconds % 60)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_read_as_people_say_them() {
        assert_eq!(Took(Duration::from_millis(3_240)).to_string(), "3.2 s");
        assert_eq!(Took(Duration::from_secs(605)).to_string(), "10 min 05 s");
    }

    #[test]
    fn a_step_is_shown_without_the_folders_of_its_program() {
        let folder = std::path::Path::new("some").join("cargo");
        assert_eq!(line_of(Command::new(folder).args(["fmt", "--all"])), "cargo fmt --all");
    }
}
