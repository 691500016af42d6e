//! A display for the tests of the window: Xvfb on a number nobody uses.

use std::env;
use std::fs::File;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use crate::places::on_path;

const SCREEN: &str = "1280x800x24";
const START_LIMIT: Duration = Duration::from_secs(30);

/// Whether a window could be opened here.
pub fn present() -> bool {
    let named = |name| env::var_os(name).is_some_and(|value| !value.is_empty());
    !cfg!(target_os = "linux") || named("DISPLAY") || named("WAYLAND_DISPLAY") || named("WAYLAND_SOCKET")
}

/// A running Xvfb. It ends with this value, however the tests end.
pub struct VirtualDisplay {
    server: Child,
    name: String,
}

impl VirtualDisplay {
    /// Starts Xvfb and waits until it answers. What it has to say goes to `log`.
    pub fn start(log: &Path) -> Result<Self, String> {
        let complaints = File::create(log).map_err(|error| format!("cannot write {}: {error}", log.display()))?;
        let mut server = ending_with_this_program("Xvfb")
            .args([
                "-displayfd",
                "1",
                "-screen",
                "0",
                SCREEN,
                "-nolisten",
                "tcp",
                "-noreset",
            ])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(complaints)
            .spawn()
            .map_err(|error| format!("cannot start Xvfb: {error}"))?;
        let output = server.stdout.take();
        let mut display = Self {
            server,
            name: String::new(),
        };
        let number = output
            .and_then(first_line)
            .and_then(|line| line.trim().parse::<u32>().ok());
        let number = number.ok_or_else(|| format!("Xvfb gave no display; {} may say why", log.display()))?;
        display.name = format!(":{number}");
        Ok(display)
    }

    /// Makes `command` open its windows here, and nowhere else.
    pub fn use_for(&self, command: &mut Command) {
        command
            .env("DISPLAY", &self.name)
            .env_remove("WAYLAND_DISPLAY")
            .env_remove("WAYLAND_SOCKET");
    }

    /// The name windows know it by, such as `:1`.
    pub fn name(&self) -> &str {
        &self.name
    }
}

impl Drop for VirtualDisplay {
    fn drop(&mut self) {
        // Nothing is left to do where it has ended by itself.
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}

/// A command that ends when this program does, even when this program is killed and drops nothing.
fn ending_with_this_program(program: &str) -> Command {
    if !on_path("setpriv") {
        return Command::new(program);
    }
    let mut command = Command::new("setpriv");
    command.args(["--pdeathsig", "TERM", program]);
    command
}

/// The first line of `output`, unless it ends or is silent for too long.
fn first_line(output: impl std::io::Read + Send + 'static) -> Option<String> {
    let (sender, receiver) = mpsc::channel();
    thread::spawn(move || {
        let mut line = String::new();
        if BufReader::new(output).read_line(&mut line).is_ok() {
            // Nobody waits any more where this fails.
            let _ = sender.send(line);
        }
    });
    receiver.recv_timeout(START_LIMIT).ok()
}
