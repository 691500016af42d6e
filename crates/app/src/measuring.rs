//! Measuring between two places: what has a name, or in a view without perspective any place in its plane.

use egui::Pos2;
use nalgebra::{Point3, Vector3};
use panels::{Mark, Spot};
use rearend::setup::{BarEnd, Carrier, Mount, Setup};
use rearend::tape::Units;
use rearend::travel::Row;
use shop::Bench;

use crate::stage_pane::StagePane;

/// One end of a measurement.
#[derive(Clone, Debug, PartialEq)]
enum End {
    /// A place with a name, wherever it is at a pose.
    Named(String),
    /// A place in frame coordinates.
    Free(Point3<f64>),
}

/// What is measured: nothing yet, from one end, or from end to end.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Measuring {
    ends: Vec<End>,
}

/// Everything with a name, frame coordinates.
fn places(setup: &Setup, row: &Row) -> Vec<(String, Point3<f64>)> {
    let axle = |x: f64, y: f64, z: f64| row.at.to_ground(Point3::new(x, y, z));
    let mut all: Vec<_> = setup
        .mounts()
        .into_iter()
        .filter_map(|mount| Some((setup.mount_name(mount), mount_in_frame(setup, row, mount)?)))
        .collect();
    all.push(("middle of the axle tube".to_owned(), axle(0.0, 0.0, 0.0)));
    for (side, word) in [(1.0, "left"), (-1.0, "right")] {
        let (face_m, wheel_m) = (setup.axle.flange_to_flange_m / 2.0, setup.track_m() / 2.0);
        let tyre = axle(0.0, side * wheel_m, 0.0);
        let patch = tyre - Vector3::z() * setup.wheels.loaded_radius_m;
        let rail = Point3::new(0.0, side * setup.rails.spacing_m / 2.0, 0.0);
        all.push((format!("{word} wheel face of the axle"), axle(0.0, side * face_m, 0.0)));
        all.push((format!("middle of the {word} tyre on the ground"), patch));
        all.push((format!("{word} rail, outside, at the axle line"), rail));
        let rear = Point3::new(setup.rails.rear_x_m, rail.y, rail.z);
        all.push((format!("{word} rail, outside, at its rear end"), rear));
    }
    if let Some(driveline) = &setup.driveline {
        all.push(("transmission's joint".to_owned(), driveline.output));
        all.push((
            "pinion's joint".to_owned(),
            row.at.to_ground(setup.pinion_joint_in_axle()),
        ));
    }
    if let Some(spring) = &row.spring {
        for (side, word) in spring.sides().into_iter().zip(["left", "right"]) {
            all.push((format!("{word} spring, upper mount"), side.top));
            all.push((format!("{word} spring, lower mount"), side.bottom));
        }
    }
    all
}

fn mount_in_frame(setup: &Setup, row: &Row, mount: Mount) -> Option<Point3<f64>> {
    let at = setup.mount(mount)?;
    Some(match at.carrier {
        Carrier::Frame => at.point,
        Carrier::Axle => row.at.to_ground(at.point),
    })
}

impl Measuring {
    /// What can be measured from, where it appears; the nearest to the eye last, so that it lies on top.
    pub fn spots(&self, pane: &StagePane, bench: &Bench, row: &Row) -> Vec<Spot> {
        let setup = bench.setup();
        let mut all = places(setup, row);
        let depth_m = |place: &(String, Point3<f64>)| pane.depth_m(setup, row, place.1);
        all.sort_by(|a, b| depth_m(b).total_cmp(&depth_m(a)));
        let spot = |(name, place): (String, Point3<f64>)| {
            let chosen = self.ends.contains(&End::Named(name.clone()));
            let at = pane.place_of(setup, row, place).filter(|at| pane.holds(*at))?;
            Some(Spot { at, name, chosen })
        };
        all.into_iter().filter_map(spot).collect()
    }

    /// Takes a spot as the next end; a third one begins anew.
    pub fn pick_spot(&mut self, name: &str) {
        self.take(End::Named(name.to_owned()));
    }

    /// Takes the next end at a place on the screen that is no spot. Nothing happens where such a place is a line, in perspective.
    pub fn pick(&mut self, at: Pos2, pane: &StagePane, bench: &Bench, row: &Row) {
        if let Some(place) = pane.in_plane(bench.setup(), row, at) {
            self.take(End::Free(place));
        }
    }

    fn take(&mut self, end: End) {
        if self.ends.len() == 2 {
            self.ends.clear();
        }
        self.ends.push(end);
    }

    fn places(&self, setup: &Setup, row: &Row) -> Vec<Point3<f64>> {
        let named = places(setup, row);
        let place = |end: &End| match end {
            End::Named(name) => named.iter().find(|(other, _)| other == name).map(|(_, place)| *place),
            End::Free(place) => Some(*place),
        };
        self.ends.iter().filter_map(place).collect()
    }

    /// What the tape says.
    pub fn words(&self, bench: &Bench, row: &Row) -> Option<String> {
        match self.places(bench.setup(), row).as_slice() {
            [from, to] => Some(measured(bench.units(), to - from)),
            _ => None,
        }
    }

    /// The tape over the stage.
    pub fn mark(&self, pane: &StagePane, bench: &Bench, row: &Row) -> Option<Mark> {
        let places = self.places(bench.setup(), row);
        let seen = |place: &Point3<f64>| pane.place_of(bench.setup(), row, *place);
        let words = match places.as_slice() {
            [_] => "and to where?".to_owned(),
            _ => self.words(bench, row)?,
        };
        Some(Mark {
            line: places.iter().filter_map(seen).collect(),
            cross: places.first().filter(|_| places.len() == 1).and_then(seen),
            words,
        })
    }
}

fn measured(units: Units, along: Vector3<f64>) -> String {
    format!(
        "{} straight\n{}\n{}\n{}",
        units.length(along.norm()),
        directed_words(units, along.x, "forward", "back"),
        directed_words(units, along.y, "left", "right"),
        directed_words(units, along.z, "up", "down"),
    )
}

/// Dimension lines of the selected mount: how far it is from the datums that a tape reaches, and its bar from eye to eye.
pub fn dimensions(pane: &StagePane, bench: &Bench, row: &Row) -> Vec<Mark> {
    let setup = bench.setup();
    let Some((mount, at)) = bench.selected().and_then(|m| Some((m, setup.mount(m)?))) else {
        return Vec::new();
    };
    let units = bench.units();
    let to_frame = |p: Point3<f64>| match at.carrier {
        Carrier::Frame => p,
        Carrier::Axle => row.at.to_ground(p),
    };
    let seen = |p: Point3<f64>| pane.place_of(setup, row, to_frame(p));
    let p = at.point;
    // From the datum forward, then across, then up to the mount.
    let corners = [
        Point3::origin(),
        Point3::new(p.x, 0.0, 0.0),
        Point3::new(p.x, p.y, 0.0),
        p,
    ];
    let words = [
        directed_words(units, p.x, "forward", "back"),
        directed_words(units, p.y, "left", "right"),
        directed_words(units, p.z, "up", "down"),
    ];
    let mut marks: Vec<_> = corners
        .windows(2)
        .zip(words)
        .filter(|(run, _)| (run[1] - run[0]).norm() > SHOWN_M)
        .map(|(run, words)| {
            let middle = nalgebra::center(&run[0], &run[1]);
            Mark {
                line: [run[0], middle, run[1]].into_iter().filter_map(seen).collect(),
                cross: None,
                words,
            }
        })
        .collect();
    marks.extend(eye_to_eye(pane, bench, row, mount));
    // The other holes that it could be bolted into.
    let holes = setup
        .hole_row(mount)
        .into_iter()
        .flat_map(|holes| holes.holes().collect::<Vec<_>>());
    marks.extend(holes.map(|hole| Mark {
        cross: seen(hole),
        ..Mark::default()
    }));
    marks
}

/// Shorter lines than this say nothing.
const SHOWN_M: f64 = 0.002;

pub fn directed_words(units: Units, v: f64, plus: &str, minus: &str) -> String {
    format!("{} {}", units.length(v.abs()), if v < 0.0 { minus } else { plus })
}

fn eye_to_eye(pane: &StagePane, bench: &Bench, row: &Row, mount: Mount) -> Option<Mark> {
    let Mount::Bar { bar, side, .. } = mount else {
        return None;
    };
    let setup = bench.setup();
    let end = |end| mount_in_frame(setup, row, Mount::Bar { bar, end, side });
    let [from, to] = [end(BarEnd::Frame)?, end(BarEnd::Axle)?];
    let seen = |p: Point3<f64>| pane.place_of(setup, row, p);
    let middle = nalgebra::center(&from, &to);
    Some(Mark {
        line: [from, middle, to].into_iter().filter_map(seen).collect(),
        cross: None,
        words: format!("{} eye to eye", bench.units().length((to - from).norm())),
    })
}
