//! The stage between its camera and its overlay: where handles appear, what dragging them does.

use egui::{Pos2, Rect, Vec2};
use nalgebra::{Point2, Point3, Vector2, Vector3};
use panels::{Handle, Pointer, StageAct};
use rearend::placed::Placed;
use rearend::setup::{Carrier, Mount, Role, Setup};
use rearend::tape::Units;
use rearend::travel::Row;
use shop::{Bench, Command};
use stage::drag::{Axis, Grab, mount_in_world};
use stage::view::{Pane, Standard, View, subject, world_from_frame};

use crate::measuring::directed_words;

/// The stage's eye and hand.
pub struct StagePane {
    pub view: View,
    glide: Option<Glide>,
    grab: Option<Grab>,
    /// The pose that a drag began at stays what the pointer is read against.
    pub pane: Pane,
    framed: bool,
}

/// A change of view on its way.
struct Glide {
    from: View,
    to: View,
    part: f64,
}

/// Where the eye of a view without perspective is taken to be.
const FAR_M: f64 = 20.0;

/// How long a change of view takes, s.
const GLIDE_S: f64 = 0.25;

impl StagePane {
    pub fn new(setup: &Setup) -> Self {
        let pane = Pane {
            corner: Point2::origin(),
            size: Vector2::new(900.0, 600.0),
        };
        let (focus, span) = subject(setup);
        Self {
            view: View::standard(Standard::Corner, focus, span, pane.size),
            glide: None,
            grab: None,
            pane,
            framed: false,
        }
    }

    /// Takes note of where on the screen the stage is, in points.
    pub fn place(&mut self, area: Rect, setup: &Setup) {
        let size = Vector2::new(f64::from(area.width()), f64::from(area.height()));
        self.pane = Pane {
            corner: Point2::new(f64::from(area.left()), f64::from(area.top())),
            size,
        };
        if !self.framed && area.is_positive() {
            self.framed = true;
            let (focus, span) = subject(setup);
            self.view = View::standard(Standard::Corner, focus, span, size);
        }
    }

    /// Glides to a standard view.
    pub fn look(&mut self, which: Standard, setup: &Setup) {
        let (focus, span) = subject(setup);
        self.glide_to(View::standard(which, focus, span, self.pane.size));
    }

    /// Glides to where everything is seen, from where the eye is.
    pub fn fit(&mut self, setup: &Setup) {
        let (focus, span) = subject(setup);
        let all = View::standard(Standard::Corner, focus, span, self.pane.size);
        self.glide_to(View {
            focus: all.focus,
            distance_m: all.distance_m,
            ..self.view
        });
    }

    fn glide_to(&mut self, to: View) {
        self.glide = Some(Glide {
            from: self.view,
            to,
            part: 0.0,
        });
    }

    /// Moves a glide on; true while one is on its way.
    pub fn glide(&mut self, seconds: f64) -> bool {
        let Some(glide) = &mut self.glide else { return false };
        glide.part = (glide.part + seconds / GLIDE_S).min(1.0);
        let eased = glide.part * glide.part * (3.0 - 2.0 * glide.part);
        self.view = glide.from.toward(&glide.to, eased);
        if glide.part >= 1.0 {
            self.glide = None;
        }
        true
    }

    /// What the view shows best, in words.
    pub fn view_words(&self) -> String {
        let near = |a: f64, b: f64| (a - b).sin().abs() < 1e-3 && (a - b).cos() > 0.0;
        let name = Standard::ALL.into_iter().find(|s| {
            let (heading, dip) = s.angles();
            near(self.view.heading_rad, heading) && near(self.view.dip_rad, dip)
        });
        let name = name.map_or("free view", |s| match s {
            Standard::Rear => "from behind",
            Standard::Side => "from the left side",
            Standard::Top => "from above, front up",
            Standard::Corner => "from the corner",
        });
        if self.view.parallel {
            format!("{name}, no perspective")
        } else {
            name.to_owned()
        }
    }

    /// The mount in hand.
    pub fn dragged(&self) -> Option<Mount> {
        self.grab.map(|g| g.mount)
    }

    /// Every mount as it appears, farthest first.
    pub fn handles(&self, bench: &Bench, row: &Row) -> Vec<Handle> {
        let setup = bench.setup();
        let mut seen: Vec<(f64, Handle)> = setup
            .mounts()
            .into_iter()
            .filter_map(|mount| {
                let world = mount_in_world(setup, row, mount)?;
                let depth = (world - self.view.eye()).dot(&self.view.sight());
                let at = self.view.project(world, &self.pane)?;
                let label = label(setup, mount, bench.units())?;
                let carrier = setup.mount(mount)?.carrier;
                Some((
                    depth,
                    Handle {
                        mount,
                        at: pos(at),
                        carrier,
                        label,
                        colour: stage_colour(setup, mount),
                    },
                ))
            })
            .filter(|(_, handle)| self.holds(handle.at))
            .collect();
        seen.sort_by(|a, b| b.0.total_cmp(&a.0));
        seen.into_iter().map(|(_, handle)| handle).collect()
    }

    /// Whether a place on the screen is on the stage.
    pub fn holds(&self, at: Pos2) -> bool {
        let part = (Point2::new(f64::from(at.x), f64::from(at.y)) - self.pane.corner).component_div(&self.pane.size);
        (0.0..=1.0).contains(&part.x) && (0.0..=1.0).contains(&part.y)
    }

    /// The way of the axle's centre, sideways part enlarged; and what it is.
    pub fn path(&self, bench: &Bench, row: &Row) -> (Vec<Pos2>, String) {
        let rows = bench.document().answers().level_rows();
        let largest = rows.iter().map(|r| r.shift_m.abs()).fold(0.0, f64::max);
        let factor = enlargement(largest);
        let world = world_from_frame(bench.setup(), row);
        let points = rows.iter().filter_map(|r| {
            let o = r.at.origin_in_ground;
            self.view
                .project(world * Point3::new(o.x, o.y * factor, o.z), &self.pane)
        });
        let words = if factor > 1.0 {
            format!("pink: path of the axle's centre, sideways ×{factor}")
        } else {
            "pink: path of the axle's centre".to_owned()
        };
        (points.map(pos).collect(), words)
    }

    /// Where a point of the frame appears.
    pub fn place_of(&self, setup: &Setup, row: &Row, in_frame: Point3<f64>) -> Option<Pos2> {
        self.view
            .project(world_from_frame(setup, row) * in_frame, &self.pane)
            .map(pos)
    }

    /// How far before the eye a point of the frame is.
    pub fn depth_m(&self, setup: &Setup, row: &Row, in_frame: Point3<f64>) -> f64 {
        let world = world_from_frame(setup, row) * in_frame;
        (world - self.view.eye()).dot(&self.view.sight())
    }

    /// The place in the plane through what is looked at, frame coordinates; none in perspective, where a place on the screen is a line.
    pub fn in_plane(&self, setup: &Setup, row: &Row, at: Pos2) -> Option<Point3<f64>> {
        if !self.view.parallel {
            return None;
        }
        let sight = self.view.through(point(at), &self.pane);
        let along = self.view.sight();
        let depth = (self.view.focus - sight.from).dot(&along) / sight.along.dot(&along);
        let in_world = sight.from + sight.along * depth;
        Some(world_from_frame(setup, row).inverse_transform_point(&in_world))
    }

    /// True where a mount in hand is hidden behind a wheel.
    pub fn is_behind_a_wheel(&self, bench: &Bench, row: &Row) -> bool {
        let Some(mount) = self.dragged().and_then(|m| mount_in_world(bench.setup(), row, m)) else {
            return false;
        };
        let setup = bench.setup();
        let (radius_m, half_m) = (setup.wheels.tyre_m / 2.0, setup.wheels.tyre_width_m / 2.0);
        let world = world_from_frame(setup, row);
        // The line from the eye to the mount, against each wheel's flat disc in its own coordinates.
        let eye = if self.view.parallel {
            mount - self.view.sight() * FAR_M
        } else {
            self.view.eye()
        };
        let axle = Placed::at(&row.at);
        [1.0, -1.0].into_iter().any(|side| {
            let centre = world * axle.to_frame(Point3::new(0.0, side * setup.track_m() / 2.0, 0.0));
            let axis = world * axle.tube_axis();
            let (from, along) = (eye - centre, mount - eye);
            let per = along.dot(&axis);
            [-half_m, half_m].into_iter().any(|face_m| {
                let part = (face_m - from.dot(&axis)) / per;
                let through = from + along * part;
                (0.0..1.0).contains(&part) && (through - axis * through.dot(&axis)).norm() < radius_m
            })
        })
    }

    /// Carries out what the pointer did.
    pub fn act(&mut self, act: StageAct, bench: &mut Bench) {
        match act {
            StageAct::Grab(mount, pointer) => self.take_hold(mount, pointer, bench),
            StageAct::Drag(pointer) => self.drag(pointer, bench),
            StageAct::Drop => {
                self.grab = None;
                bench.run(Command::EndStep);
            }
            StageAct::Cancel => {
                self.grab = None;
                bench.run(Command::CancelStep);
            }
            StageAct::Select(mount) => bench.run(Command::Select(mount)),
            StageAct::SelectWith(mount) => bench.run(Command::SelectWith(mount)),
            StageAct::Lead(mount) => bench.run(Command::Lead(mount)),
            // The desk measures.
            StageAct::Measure(_) | StageAct::MeasureSpot(_) => {}
            StageAct::Orbit(by) => self.turn(by),
            StageAct::Pan(by) => self.view.pan(vec(by)),
            StageAct::Zoom(factor) => self.view.zoom(f64::from(factor)),
            StageAct::Nudge(by) => bench.run(Command::Nudge(self.nudge(by))),
        }
    }

    fn turn(&mut self, by: Vec2) {
        self.glide = None;
        self.view.orbit(vec(by));
        self.view.parallel = false;
    }

    fn take_hold(&mut self, mount: Mount, pointer: Pointer, bench: &mut Bench) {
        let Some(row) = bench.shown() else { return };
        if bench.setup().is_locked(mount) {
            bench.run(Command::Select(Some(mount)));
            // Refused, with the sentence that says why.
            if let Some(at) = bench.setup().mount(mount) {
                bench.run(Command::MoveSelected { mount, to: at.point });
            }
            return;
        }
        self.grab = Grab::take(bench.setup(), &row, mount, point(pointer.at), &self.view, &self.pane);
        if self.grab.is_some() {
            let goes_along = bench.selection().all().any(|m| m == mount);
            bench.run(if goes_along {
                Command::Lead(mount)
            } else {
                Command::Select(Some(mount))
            });
            bench.run(Command::BeginStep);
        }
    }

    fn drag(&mut self, pointer: Pointer, bench: &mut Bench) {
        let Some(grab) = self.grab else { return };
        let axis = pointer.axis.and_then(|i| [Axis::X, Axis::Y, Axis::Z].get(i).copied());
        let snap = (!pointer.free).then_some(bench.units());
        if let Some(to) = grab.to(point(pointer.at), &self.view, &self.pane, axis, snap) {
            bench.run(Command::MoveSelected { mount: grab.mount, to });
        }
    }

    /// Steps along the truck's axes that come nearest to right and up on the screen.
    fn nudge(&self, by: Vec2) -> Vector3<f64> {
        let nearest = |v: Vector3<f64>| {
            let axis = v.iamax();
            Vector3::ith(axis, v[axis].signum())
        };
        // Seen from a corner, up is up.
        let up = if self.view.dip_rad.abs() < 1.2 {
            Vector3::z()
        } else {
            nearest(self.view.up())
        };
        nearest(self.view.right()) * f64::from(by.x) + up * f64::from(by.y)
    }
}

/// A mount's name and its coordinates as a tape reads them.
fn label(setup: &Setup, mount: Mount, units: Units) -> Option<String> {
    let at = setup.mount(mount)?;
    let away = |v, plus, minus| directed_words(units, v, plus, minus);
    let from = match at.carrier {
        Carrier::Frame => "",
        Carrier::Axle => "from the axle: ",
    };
    let name = setup.mount_name(mount);
    let (x, y, z) = (at.point.x, at.point.y, at.point.z);
    Some(format!(
        "{name}\n{from}{}, {}, {}",
        away(x, "forward", "back"),
        away(y, "left", "right"),
        away(z, "up", "down")
    ))
}

fn stage_colour(setup: &Setup, mount: Mount) -> [u8; 3] {
    let role = match mount {
        Mount::Bar { bar, .. } => setup.bar(bar).map_or(Role::Lower, |b| b.role),
        Mount::Arm { .. } => Role::Lower,
        _ => Role::Sideways,
    };
    stage::role_colour(role)
}

/// How much the sideways part is enlarged, so that it can be seen beside a metre of axle: a round number.
fn enlargement(largest_m: f64) -> f64 {
    if largest_m < 1e-5 {
        return 1.0;
    }
    let wanted = 0.12 / largest_m;
    [200.0, 100.0, 50.0, 20.0, 10.0, 5.0, 2.0]
        .into_iter()
        .find(|f| *f <= wanted)
        .unwrap_or(1.0)
}

fn point(at: Pos2) -> Point2<f64> {
    Point2::new(f64::from(at.x), f64::from(at.y))
}

fn vec(by: Vec2) -> Vector2<f64> {
    Vector2::new(f64::from(by.x), f64::from(by.y))
}

#[expect(clippy::cast_possible_truncation, reason = "the screen is single precision")]
fn pos(at: Point2<f64>) -> Pos2 {
    Pos2::new(at.x as f32, at.y as f32)
}
