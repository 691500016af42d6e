//! The commands, each ending in an exit code or one sentence that says why it stopped.

use std::env;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::display::{self, VirtualDisplay};
use crate::packages::{self, Need, TO_RUN, TO_TEST};
use crate::places;
use crate::steps::{self, Steps, cargo};

const DEMO: &str = "demo-scenes/01-parallel-panhard.ron";

/// Which packages a build is asked for decides the features of what they share. Asking for the whole workspace, and for
/// examples, of which there are none, gives the features the tests get, so that nothing is compiled twice.
const BUILD_PROGRAM: [&str; 5] = ["build", "--workspace", "--bin", "axlewright", "--examples"];

/// Builds and starts the program. Its exit code is passed on.
pub fn run(release: bool, arguments: &[String]) -> Result<u8, String> {
    if cfg!(target_os = "linux") && !packages::set_up(&TO_RUN.iter().collect::<Vec<_>>()) {
        println!("Going on without: the program says so if it cannot.\n");
    }
    let mut build = cargo(&BUILD_PROGRAM);
    if release {
        build.arg("--release");
    }
    let outcome = steps::status(&mut build)?;
    if !outcome.success() {
        return Ok(steps::exit_code(outcome));
    }
    let program = places::program(release)?;
    let demo = places::workspace().join(DEMO);
    if !arguments.is_empty() {
        return start(Command::new(program).args(arguments));
    }
    if display::present() {
        return start(Command::new(program).arg(demo));
    }
    write_demo(&program, &demo)
}

fn start(command: &mut Command) -> Result<u8, String> {
    steps::without_this_package(command);
    Ok(steps::exit_code(steps::status(command)?))
}

/// What the demo shows, as files: for a machine without a display.
fn write_demo(program: &Path, demo: &Path) -> Result<u8, String> {
    let folder = places::target()?.join("axlewright-demo");
    fs::create_dir_all(&folder).map_err(|error| format!("cannot make the folder {}: {error}", folder.display()))?;
    println!("There is no display, so no window: the demo's picture, travel table and build sheet go to files.");
    let picture = folder.join("picture.png");
    let travel = folder.join("travel.csv");
    let mut draw = Command::new(program);
    draw.arg("picture")
        .arg(demo)
        .arg("--out")
        .arg(&picture)
        .args(["--view", "corner", "--size", "1280x800", "--force"]);
    let mut sweep = Command::new(program);
    sweep.arg("travel").arg(demo).arg("--force").arg("--out").arg(&travel);
    let sheet = folder.join("sheet.pdf");
    let mut paper = Command::new(program);
    paper.arg("sheet").arg(demo).arg("--force").arg("--out").arg(&sheet);

    let mut first_failure = 0;
    for (mut command, file) in [(draw, picture), (sweep, travel), (paper, sheet)] {
        let code = start(&mut command)?;
        if code == 0 {
            println!("Written: {}", file.display());
        } else if first_failure == 0 {
            first_failure = code;
        }
    }
    Ok(first_failure)
}

/// Format, lints, build, every test. Stops at the first that fails.
pub fn test() -> Result<u8, String> {
    for component in ["fmt", "clippy"] {
        need_component(component)?;
    }
    let linux = cfg!(target_os = "linux");
    let needs: Vec<&'static Need> = TO_RUN.iter().chain(TO_TEST).collect();
    if linux && !packages::set_up(&needs) {
        return Err("the tests cannot run without what is missing above.".into());
    }
    let mut steps = Steps::default();
    steps.run(
        "format",
        &mut cargo(&["fmt", "--all", "--check"]),
        "`cargo fmt --all` puts it right.",
    )?;
    let lints = ["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"];
    steps.run("lints", &mut cargo(&lints), "What clippy says is above.")?;
    steps.run("build", &mut cargo(&BUILD_PROGRAM), "What the compiler says is above.")?;

    let mut tests = cargo(&["test", "--workspace"]);
    // Whether a change is sound does not hang on chance: a plain `cargo test` tries other cases every time.
    tests.env("PROPTEST_RNG_SEED", "1");
    // Dropped, and so ended, when this function is left by any way.
    let _displays = if linux { give_displays(&mut tests)? } else { Vec::new() };
    steps.run("tests", &mut tests, "The failed test and its reason are above.")?;
    println!("\n{steps}");
    Ok(0)
}

/// Windows that are tested at once: while one waits for its window to come to rest, another draws.
const DISPLAYS: usize = 2;

/// Displays of the tests' own, and the software driver: the same drawing everywhere, whatever card is fitted.
fn give_displays(tests: &mut Command) -> Result<Vec<VirtualDisplay>, String> {
    let log = |which| places::target().map(|target| target.join(format!("xvfb-{which}.log")));
    let displays = (1..=DISPLAYS)
        .map(|which| VirtualDisplay::start(&log(which)?))
        .collect::<Result<Vec<_>, String>>()?;
    let names: Vec<_> = displays.iter().map(VirtualDisplay::name).collect();
    let names = names.join(" ");
    println!("\nThe tests' windows open on display {names}.");
    if let Some(first) = displays.first() {
        first.use_for(tests);
    }
    tests.env("AXLEWRIGHT_TEST_DISPLAYS", names);
    tests.env("WGPU_BACKEND", "vulkan");
    if !packages::vulkan_driver_named() {
        let drivers = env::join_paths(packages::software_vulkan_drivers())
            .map_err(|error| format!("cannot name the software Vulkan driver: {error}"))?;
        // The newer name and the older, for loaders of any age.
        tests.env("VK_DRIVER_FILES", &drivers).env("VK_ICD_FILENAMES", &drivers);
    }
    Ok(displays)
}

/// Makes sure of a part of the Rust tools that not every installation has.
fn need_component(component: &str) -> Result<(), String> {
    let here = || {
        cargo(&[component, "--version"])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
    };
    if here().is_ok_and(|status| status.success()) {
        return Ok(());
    }
    let package = if component == "fmt" { "rustfmt" } else { component };
    println!("Missing: {package}, a part of the Rust tools.");
    let added = places::on_path("rustup")
        && steps::status(Command::new("rustup").args(["component", "add", package]))?.success()
        && here().is_ok_and(|status| status.success());
    if added {
        return Ok(());
    }
    Err(format!(
        "the tests need {package}. Install it with `rustup component add {package}`, or the package {package} of your system."
    ))
}

/// Makes the reference poses again.
pub fn reference() -> Result<u8, String> {
    const MODULES: [&str; 3] = ["numpy", "scipy", "casadi"];
    if !places::on_path("python3") {
        return Err("python3 is not installed; the reference poses are made with it.".into());
    }
    let lacks = |module: &&str| {
        let import = format!("import {module}");
        let tried = Command::new("python3")
            .args(["-c", &import])
            .stderr(Stdio::null())
            .status();
        !tried.is_ok_and(|status| status.success())
    };
    let missing: Vec<&str> = MODULES.iter().copied().filter(lacks).collect();
    if !missing.is_empty() {
        return Err(format!(
            "python3 lacks {}. Install with `pip install {}`.",
            missing.join(", "),
            MODULES.join(" ")
        ));
    }
    let folder = places::workspace().join("tests").join("reference");
    for script in ["poses.py", "layouts.py", "driveline.py"] {
        let done = steps::status(Command::new("python3").arg(folder.join(script)))?;
        if !done.success() {
            return Ok(steps::exit_code(done));
        }
    }
    Ok(0)
}
