//! `cargo xtask`: sets up a machine, starts the program, runs the tests, makes the reference poses again.

mod commands;
mod display;
mod packages;
mod places;
mod steps;

use std::process::ExitCode;

const HELP: &str = "\
Usage: cargo xtask COMMAND

  run [--release] [-- ARGS]   set up what is missing, build and start the program, on the demo truck unless
                              ARGS say otherwise; without a display, write the demo's picture and travel table
  test                        set up what is missing, then check format and lints and run every test,
                              those of the window on a display of their own
  reference                   make tests/reference/poses.json again (Python with numpy, scipy, casadi)

CARGO_TARGET_DIR, where set, is where everything is built.
";

/// What the command line asks for.
#[derive(Debug, PartialEq)]
enum Request {
    Run {
        release: bool,
        program_arguments: Vec<String>,
    },
    Test,
    Reference,
    Help,
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let outcome = match parse(&arguments) {
        Some(Request::Run {
            release,
            program_arguments,
        }) => commands::run(release, &program_arguments),
        Some(Request::Test) => commands::test(),
        Some(Request::Reference) => commands::reference(),
        Some(Request::Help) => {
            print!("{HELP}");
            Ok(0)
        }
        None => {
            eprint!("{HELP}");
            Ok(2)
        }
    };
    match outcome {
        Ok(code) => ExitCode::from(code),
        Err(message) => {
            eprintln!("\ncargo xtask: {message}");
            ExitCode::FAILURE
        }
    }
}

/// `None` where the arguments are not understood.
fn parse(arguments: &[String]) -> Option<Request> {
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["run", rest @ ..] => {
            let (release, rest) = match rest {
                ["--release", rest @ ..] => (true, rest),
                rest => (false, rest),
            };
            let program_arguments = match rest {
                [] => Vec::new(),
                ["--", rest @ ..] => rest.iter().map(ToString::to_string).collect(),
                _ => return None,
            };
            Some(Request::Run {
                release,
                program_arguments,
            })
        }
        ["test"] => Some(Request::Test),
        ["reference"] => Some(Request::Reference),
        ["help" | "--help" | "-h"] => Some(Request::Help),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parsed(line: &str) -> Option<Request> {
        parse(&line.split_whitespace().map(str::to_owned).collect::<Vec<_>>())
    }

    #[test]
    fn what_follows_the_dashes_goes_to_the_program_untouched() {
        let expected = Request::Run {
            release: true,
            program_arguments: vec!["travel".into(), "--release".into()],
        };
        assert_eq!(parsed("run --release -- travel --release"), Some(expected));
        assert_eq!(
            parsed("run"),
            Some(Request::Run {
                release: false,
                program_arguments: vec![]
            })
        );
    }

    #[test]
    fn a_command_that_is_not_known_is_refused() {
        for line in ["", "runs", "run truck.ron", "test now", "run --release --release"] {
            assert_eq!(parsed(line), None, "{line:?}");
        }
    }
}
