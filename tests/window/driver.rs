//! A running program: started for a test, watched through its trace, and ended with the test however it ends.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use tempfile::TempDir;

use crate::display::Display;
use crate::drag::whole;
use crate::hands::Hands;
use crate::process::Process;
use crate::shown::{self, Shown};

/// Long enough for a slow machine with much else to do: it only bounds how long a failing test takes.
const LIMIT: Duration = Duration::from_secs(90);
const POLL: Duration = Duration::from_millis(30);

/// The program in its window.
pub struct Window {
    program: Child,
    pub hands: Hands,
    folder: TempDir,
    display: Display,
}

impl Window {
    /// Starts the program with its first demo, and waits until it has drawn itself.
    pub fn open() -> Self {
        Self::with(None, Disks::AsTheyAre)
    }

    /// The same where some folders take no files; `None` where the system lets nobody but itself mount anything.
    pub fn open_with_poor_disks() -> Option<Self> {
        let may = Command::new("unshare")
            .args(["--mount", "--map-root-user", "true"])
            .output();
        let may = may.is_ok_and(|output| output.status.success());
        may.then(|| Self::with(None, Disks::Poor))
    }

    /// A path as the program finds it, below what it alone has mounted.
    pub fn inside(&self, path: &Path) -> PathBuf {
        let root = PathBuf::from(format!("/proc/{}/root", self.program.id()));
        root.join(path.strip_prefix("/").unwrap_or(path))
    }

    /// The same with a setup's file.
    pub fn open_file(setup: &Path) -> Self {
        Self::with(Some(setup), Disks::AsTheyAre)
    }

    fn with(setup: Option<&Path>, disks: Disks) -> Self {
        let display = Display::take();
        let folder = tempfile::Builder::new()
            .prefix("axlewright-")
            .tempdir()
            .expect("a folder");
        let program = start(&display, folder.path(), setup, disks);
        let mut window = Self {
            program,
            hands: Hands::default(),
            folder,
            display,
        };
        window.wait_for("the first picture", |_| true);
        window.hands = window.find_window();
        window.settle();
        window
    }

    /// Kills the program at once, as a crash does, and starts it again where it was.
    pub fn crash_and_start_again(&mut self) {
        self.program.kill().expect("it can be killed");
        self.program.wait().expect("it has ended");
        fs::remove_file(trace_in(self.folder.path())).expect("its trace goes");
        // Whoever dies with a button pressed leaves it so.
        self.hands.release();
        self.program = start(&self.display, self.folder.path(), None, Disks::AsTheyAre);
        self.wait_for("the first picture", |_| true);
        self.hands = self.find_window();
        self.settle();
    }

    fn find_window(&mut self) -> Hands {
        let process = self.program.id();
        let display = self.display.name.clone();
        self.wait("the window", || Hands::on_window_of(process, &display))
    }

    /// A path in the test's own folder.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn process(&self) -> Process {
        Process(self.program.id())
    }

    fn trace(&self) -> String {
        fs::read_to_string(trace_in(self.folder.path())).unwrap_or_default()
    }

    /// How many states the window has shown.
    pub fn states(&self) -> usize {
        shown::lines(&self.trace()).count()
    }

    /// The state now.
    pub fn now(&self) -> Shown {
        let trace = self.trace();
        shown::read(shown::lines(&trace).next_back().expect("the window shows something"))
    }

    /// What was found, as sentences.
    pub fn findings(&self) -> Vec<String> {
        let trace = self.trace();
        shown::findings(shown::lines(&trace).next_back().expect("the window shows something"))
    }

    /// Whether any finding says this.
    pub fn says(&self, words: &str) -> bool {
        self.findings().iter().any(|sentence| sentence.contains(words))
    }

    /// Waits for a state.
    pub fn wait_for(&mut self, what: &str, is_so: impl Fn(&Shown) -> bool) -> Shown {
        let trace = trace_in(self.folder.path());
        self.wait(what, || {
            let text = fs::read_to_string(&trace).unwrap_or_default();
            shown::lines(&text).next_back().map(shown::read).filter(&is_so)
        })
    }

    /// Waits for something with a name that can be clicked, and until it stands still. Gives back its middle.
    pub fn wait_for_control(&mut self, name: &str) -> [i32; 2] {
        let trace = trace_in(self.folder.path());
        let place = || {
            let text = fs::read_to_string(&trace).unwrap_or_default();
            shown::lines(&text)
                .next_back()
                .and_then(|line| shown::control(line, name))
        };
        self.wait(name, place);
        self.settle();
        place()
            .unwrap_or_else(|| panic!("\"{name}\" has gone again"))
            .map(whole)
    }

    /// Clicks something with a name.
    pub fn click(&mut self, name: &str) {
        let at = self.wait_for_control(name);
        self.click_at(at);
    }

    /// Clicks on a place, and waits until the window has taken it: on a busy machine, calm alone may only mean that it has not come yet.
    pub fn click_at(&mut self, at: [i32; 2]) {
        self.hands.point(at);
        self.settle();
        let before = self.clicks();
        self.hands.click();
        let begin = Instant::now();
        // It may have ended the program.
        while self.runs() && self.clicks() == before {
            assert!(
                begin.elapsed() < LIMIT,
                "waited {LIMIT:?} in vain for a click at {at:?} to be taken"
            );
            sleep(POLL);
        }
    }

    fn clicks(&self) -> usize {
        let trace = self.trace();
        shown::lines(&trace).next_back().map_or(0, shown::clicks)
    }

    /// Turns the wheel over a place until something with a name lies above the foot of the stage.
    pub fn scroll_to(&mut self, name: &str, over: [i32; 2]) {
        let [_, top, _, height] = self.now().pane;
        for _ in 0..20 {
            let [_, y] = self.wait_for_control(name);
            if f64::from(y) < top + height - 40.0 {
                return;
            }
            self.hands.point(over);
            self.hands.wheel_down(2);
            self.settle();
        }
        panic!("\"{name}\" cannot be scrolled to");
    }

    /// Waits until the window has shown more states than a number.
    pub fn wait_for_more_than(&mut self, states: usize) {
        let trace = trace_in(self.folder.path());
        self.wait("another state", || {
            let text = fs::read_to_string(&trace).unwrap_or_default();
            (shown::lines(&text).count() > states).then_some(())
        });
    }

    fn wait<T>(&mut self, what: &str, mut look: impl FnMut() -> Option<T>) -> T {
        let begin = Instant::now();
        loop {
            if let Some(seen) = look() {
                return seen;
            }
            if let Some(status) = self.program.try_wait().expect("the program can be asked") {
                panic!("waiting for {what}: the program has ended with {status}");
            }
            assert!(begin.elapsed() < LIMIT, "waited {LIMIT:?} in vain for {what}");
            sleep(POLL);
        }
    }

    /// Waits until the program has drawn all there is to draw: for a while, every thread only waits.
    pub fn settle(&mut self) {
        const CALM_LOOKS: usize = 8;
        let process = self.process();
        let (mut calm, mut cpu) = (0, process.cpu_s());
        self.wait("the window to come to rest", || {
            let now = process.cpu_s();
            calm = if process.waits() && now == cpu { calm + 1 } else { 0 };
            cpu = now;
            (calm >= CALM_LOOKS).then_some(())
        });
    }

    /// Waits until the program ends by itself.
    pub fn wait_for_end(&mut self) -> ExitStatus {
        let begin = Instant::now();
        loop {
            if let Some(status) = self.program.try_wait().expect("the program can be asked") {
                return status;
            }
            assert!(
                begin.elapsed() < LIMIT,
                "waited {LIMIT:?} in vain for the program to end"
            );
            sleep(POLL);
        }
    }

    /// True while it runs.
    pub fn runs(&mut self) -> bool {
        self.program.try_wait().is_ok_and(|status| status.is_none())
    }
}

fn trace_in(folder: &Path) -> PathBuf {
    folder.join("trace.jsonl")
}

fn errors_in(folder: &Path) -> PathBuf {
    folder.join("errors.txt")
}

/// What the program has to write on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Disks {
    AsTheyAre,
    /// Besides, `full` without room for anything, and `read-only`, both in the test's own folder.
    Poor,
}

/// One page of memory, and something that fills it.
const MOUNT_POOR_DISKS: &str = "mkdir full read-only && mount -t tmpfs -o size=4k none full && \
     head -c 4096 /dev/zero > full/filler && mount -t tmpfs -o ro none read-only && exec \"$0\" \"$@\"";

fn start(display: &Display, folder: &Path, setup: Option<&Path>, disks: Disks) -> Child {
    let errors = File::create(errors_in(folder)).expect("a file in a folder of one's own");
    ending_with_the_test(&tests::program::path(), disks)
        .args(setup)
        .arg("--trace")
        .arg(trace_in(folder))
        .current_dir(folder)
        .env("XDG_STATE_HOME", folder.join("state"))
        .env("DISPLAY", &display.name)
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("WAYLAND_SOCKET")
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(errors)
        .spawn()
        .expect("the program starts")
}

/// A command that ends when its test does, even when the test is killed and drops nothing: a window left behind would take the mouse.
fn ending_with_the_test(program: &Path, disks: Disks) -> Command {
    let mut words: Vec<&std::ffi::OsStr> = Vec::new();
    if disks == Disks::Poor {
        words.extend(["unshare", "--mount", "--map-root-user", "sh", "-c", MOUNT_POOR_DISKS].map(std::ffi::OsStr::new));
    }
    let helper = Command::new("setpriv").arg("--version").output();
    if helper.is_ok_and(|output| output.status.success()) {
        words.extend(["setpriv", "--pdeathsig", "KILL"].map(std::ffi::OsStr::new));
    }
    words.push(program.as_os_str());
    let mut command = Command::new(words[0]);
    command.args(&words[1..]);
    command
}

impl Drop for Window {
    fn drop(&mut self) {
        if std::thread::panicking() {
            let errors = fs::read_to_string(errors_in(self.folder.path())).unwrap_or_default();
            let trace = self.trace();
            let last = shown::lines(&trace).next_back().unwrap_or("nothing");
            eprintln!("The window showed last: {last}\nThe program said: {errors}");
        }
        // Nothing is left to do where it has ended by itself.
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}
