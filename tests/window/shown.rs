//! What the window shows, as its trace tells.

use serde::Deserialize;
use serde::de::DeserializeOwned;

/// A state of the window.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Shown {
    pub name: String,
    pub unsaved: bool,
    pub undo: Option<String>,
    pub height_mm: f64,
    pub shift_laid_out_mm: f64,
    pub shift_full_lift_mm: f64,
    pub pinion_change_full_lift_deg: f64,
    pub roll_steer_at_ride: f64,
    pub out_of_square_mm: Option<f64>,
    /// Angles of the shaft's front and rear joint.
    pub joints_at_ride_deg: Option<[f64; 2]>,
    /// What is measured between two places.
    pub measured: Option<String>,
    /// What a finding points at.
    pub lit: Vec<String>,
    pub notice: Option<String>,
    pub dialog: bool,
    pub selected: Option<String>,
    pub dragging: bool,
    /// Left, top, width, height of the stage.
    pub pane: [f64; 4],
    pub handles: Vec<Handle>,
}

/// A mount as it appears, pixels.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Handle {
    pub mount: String,
    pub x: f64,
    pub y: f64,
}

/// Something with a name that can be clicked, pixels. It is no part of a state: a tooltip more does not make another one.
#[derive(Deserialize)]
struct Control {
    name: String,
    x: f64,
    y: f64,
}

#[derive(Deserialize)]
struct Controls {
    controls: Vec<Control>,
}

/// How often a mouse button was let go over it, which is no part of a state either.
#[derive(Deserialize)]
struct Clicked {
    clicks: usize,
}

#[derive(Deserialize)]
struct Found {
    findings: Vec<String>,
}

/// Screens are single precision.
const SAME_PLACE_PX: f64 = 0.01;

impl Shown {
    /// Where a mount appears.
    pub fn handle(&self, mount: &str) -> [f64; 2] {
        let handle = self.handles.iter().find(|h| h.mount == mount);
        let handle = handle.unwrap_or_else(|| panic!("no handle \"{mount}\" is shown"));
        [handle.x, handle.y]
    }

    fn in_line(&self, coordinate: usize, mounts: [&str; 2]) -> bool {
        let [a, b] = mounts.map(|mount| self.handle(mount)[coordinate]);
        (a - b).abs() < SAME_PLACE_PX
    }

    /// True for demo 01 seen from behind and no longer turning: only there each long bar is seen end on, and both sides are level.
    pub fn is_from_behind(&self) -> bool {
        self.in_line(0, ["left lower bar, on the frame", "left lower bar, on the axle"])
            && self.in_line(0, ["right lower bar, on the frame", "right lower bar, on the axle"])
            && self.in_line(1, ["left lower bar, on the frame", "right lower bar, on the frame"])
    }

    /// True for demo 01 seen from the side and no longer turning: left and right coincide, front and rear do not.
    pub fn is_from_the_side(&self) -> bool {
        let pair = ["left lower bar, on the frame", "right lower bar, on the frame"];
        self.in_line(0, pair)
            && self.in_line(1, pair)
            && !self.in_line(0, ["left lower bar, on the frame", "left lower bar, on the axle"])
    }
}

/// The states of a trace so far; a line that is still being written is left for later.
pub fn lines(trace: &str) -> impl DoubleEndedIterator<Item = &str> {
    trace.split_inclusive('\n').filter_map(|line| line.strip_suffix('\n'))
}

/// Reads a line of the trace.
pub fn read(line: &str) -> Shown {
    parse(line)
}

/// Where a line of the trace has a control with a name.
pub fn control(line: &str, name: &str) -> Option<[f64; 2]> {
    let Controls { controls } = parse(line);
    controls.iter().find(|c| c.name == name).map(|c| [c.x, c.y])
}

/// How often a mouse button was let go until a line.
pub fn clicks(line: &str) -> usize {
    let Clicked { clicks } = parse(line);
    clicks
}

/// The findings that a line tells of.
pub fn findings(line: &str) -> Vec<String> {
    let Found { findings } = parse(line);
    findings
}

fn parse<T: DeserializeOwned>(line: &str) -> T {
    serde_json::from_str(line).unwrap_or_else(|error| panic!("a line of the trace does not read: {error}: {line}"))
}
