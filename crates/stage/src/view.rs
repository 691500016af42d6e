//! Where the eye is. World axes are the truck's: X forward, Y left, Z up, with Z = 0 on level ground.

use nalgebra::{Isometry3, Point2, Point3, Rotation3, Translation3, UnitQuaternion, Vector2, Vector3};
use rearend::setup::Setup;
use rearend::travel::Row;

/// Vertical opening angle of the perspective, rad.
pub const OPENING_RAD: f64 = 0.52;

/// The views with a key of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standard {
    /// From behind, forward.
    Rear,
    /// From the left.
    Side,
    /// From above, forward up.
    Top,
    /// From behind, left and above.
    Corner,
}

impl Standard {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Rear, Self::Side, Self::Top, Self::Corner];

    /// What it is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Rear => "rear",
            Self::Side => "side",
            Self::Top => "top",
            Self::Corner => "corner",
        }
    }

    /// Heading and dip of the line of sight, rad.
    #[must_use]
    pub fn angles(self) -> (f64, f64) {
        use std::f64::consts::FRAC_PI_2;
        match self {
            Self::Rear => (0.0, 0.0),
            Self::Side => (-FRAC_PI_2, 0.0),
            Self::Top => (0.0, FRAC_PI_2),
            Self::Corner => (-0.62, 0.47),
        }
    }

    /// Seen without perspective, so that what is level looks level.
    #[must_use]
    pub fn is_parallel(self) -> bool {
        self != Self::Corner
    }
}

/// An eye that looks at a focus.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// What is looked at, world coordinates, m.
    pub focus: Point3<f64>,
    /// Heading of the line of sight: 0 forward, + to the left, rad.
    pub heading_rad: f64,
    /// How far it dips, + looking down, rad.
    pub dip_rad: f64,
    /// From eye to focus, m. Without perspective, the distance from which it would look as large.
    pub distance_m: f64,
    /// Without perspective.
    pub parallel: bool,
}

/// The part of the screen that shows the stage, in whatever unit the pointer comes in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pane {
    /// Top left corner.
    pub corner: Point2<f64>,
    /// Width and height.
    pub size: Vector2<f64>,
}

/// A half line of sight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// Where it starts.
    pub from: Point3<f64>,
    /// Unit direction.
    pub along: Vector3<f64>,
}

/// From what is looked at level to what is looked at from a corner.
const CORNER_OFF_M: Vector3<f64> = Vector3::new(-0.13, 0.0, -0.08);

const NEAREST_M: f64 = 0.3;
const FARTHEST_M: f64 = 20.0;

impl View {
    /// A standard view at a focus, from such a distance that `span_m` fills a pane of the given shape.
    #[must_use]
    pub fn standard(which: Standard, focus: Point3<f64>, span_m: f64, pane: Vector2<f64>) -> Self {
        let (heading_rad, dip_rad) = which.angles();
        let aspect = (pane.x / pane.y.max(1.0)).clamp(0.2, 5.0);
        // A corner shows the truck's length as well: from farther off, and with the rails' rear end before it.
        let (wider, off) = match which {
            Standard::Corner => (1.26, CORNER_OFF_M),
            Standard::Rear | Standard::Side | Standard::Top => (1.0, Vector3::zeros()),
        };
        let (high, focus) = (span_m / aspect.min(1.6) * wider, focus + off);
        let distance_m = (high / (2.0 * (OPENING_RAD / 2.0).tan())).clamp(NEAREST_M, FARTHEST_M);
        Self {
            focus,
            heading_rad,
            dip_rad,
            distance_m,
            parallel: which.is_parallel(),
        }
    }

    /// The standard view that looks most nearly the same way.
    #[must_use]
    pub fn nearest_standard(&self) -> Standard {
        let off = |which: &Standard| {
            let (heading_rad, dip_rad) = which.angles();
            let other = Self {
                heading_rad,
                dip_rad,
                ..*self
            };
            self.sight().dot(&other.sight())
        };
        let nearest = Standard::ALL.into_iter().max_by(|a, b| off(a).total_cmp(&off(b)));
        nearest.unwrap_or(Standard::Corner)
    }

    /// Unit line of sight.
    #[must_use]
    pub fn sight(&self) -> Vector3<f64> {
        let (sh, ch) = self.heading_rad.sin_cos();
        let (sd, cd) = self.dip_rad.sin_cos();
        Vector3::new(cd * ch, cd * sh, -sd)
    }

    /// Unit vector to the right of the screen.
    #[must_use]
    pub fn right(&self) -> Vector3<f64> {
        let (sh, ch) = self.heading_rad.sin_cos();
        Vector3::new(sh, -ch, 0.0)
    }

    /// Unit vector up the screen.
    #[must_use]
    pub fn up(&self) -> Vector3<f64> {
        self.right().cross(&self.sight())
    }

    /// Where the eye is.
    #[must_use]
    pub fn eye(&self) -> Point3<f64> {
        self.focus - self.sight() * self.distance_m
    }

    /// Half the height of what is seen at the focus, m.
    #[must_use]
    pub fn half_height_m(&self) -> f64 {
        self.distance_m * (OPENING_RAD / 2.0).tan()
    }

    /// Where a world point appears; `None` behind the eye.
    #[must_use]
    pub fn project(&self, point: Point3<f64>, pane: &Pane) -> Option<Point2<f64>> {
        let from_eye = point - self.eye();
        let depth = from_eye.dot(&self.sight());
        let scale = if self.parallel {
            self.half_height_m()
        } else {
            if depth < 0.01 {
                return None;
            }
            depth * (OPENING_RAD / 2.0).tan()
        };
        let half = pane.size.y / 2.0;
        let right = from_eye.dot(&self.right()) / scale * half;
        let up = from_eye.dot(&self.up()) / scale * half;
        Some(pane.corner + pane.size / 2.0 + Vector2::new(right, -up))
    }

    /// The line of sight through a place on the pane.
    #[must_use]
    pub fn through(&self, at: Point2<f64>, pane: &Pane) -> Sight {
        let half = (pane.size.y / 2.0).max(1.0);
        let off = (at - (pane.corner + pane.size / 2.0)) / half * self.half_height_m();
        let on_focus_plane = self.focus + self.right() * off.x - self.up() * off.y;
        if self.parallel {
            Sight {
                from: on_focus_plane - self.sight() * self.distance_m,
                along: self.sight(),
            }
        } else {
            let eye = self.eye();
            Sight {
                from: eye,
                along: (on_focus_plane - eye).normalize(),
            }
        }
    }

    /// Turns the eye about the focus by a pointer movement, in parts of the pane's height.
    pub fn orbit(&mut self, by: Vector2<f64>) {
        use std::f64::consts::{FRAC_PI_2, PI};
        self.heading_rad = (self.heading_rad - by.x * PI).rem_euclid(2.0 * PI);
        self.dip_rad = (self.dip_rad + by.y * PI).clamp(-FRAC_PI_2, FRAC_PI_2);
    }

    /// Slides what is seen with the pointer, in parts of the pane's height.
    pub fn pan(&mut self, by: Vector2<f64>) {
        let high = 2.0 * self.half_height_m();
        self.focus += (self.up() * by.y - self.right() * by.x) * high;
        let held = |v: f64| v.clamp(-10.0, 10.0);
        self.focus = Point3::new(held(self.focus.x), held(self.focus.y), held(self.focus.z));
    }

    /// Comes nearer by a factor more than one, or goes away.
    pub fn zoom(&mut self, factor: f64) {
        if factor.is_finite() && factor > 0.0 {
            self.distance_m = (self.distance_m / factor).clamp(NEAREST_M, FARTHEST_M);
        }
    }

    /// Part of the way to another view, the short way round; for a smooth change of view.
    #[must_use]
    pub fn toward(&self, other: &Self, part: f64) -> Self {
        use std::f64::consts::PI;
        let turn = (other.heading_rad - self.heading_rad + PI).rem_euclid(2.0 * PI) - PI;
        let mix = |a: f64, b: f64| a + (b - a) * part;
        Self {
            focus: self.focus + (other.focus - self.focus) * part,
            heading_rad: self.heading_rad + turn * part,
            dip_rad: mix(self.dip_rad, other.dip_rad),
            distance_m: mix(self.distance_m, other.distance_m),
            parallel: if part < 1.0 {
                self.parallel && other.parallel
            } else {
                other.parallel
            },
        }
    }
}

/// How the frame stands over level ground: raised to its height and pitched by its rake about the axle station. With one wheel up the
/// ground is where the lower wheel touches it.
#[must_use]
pub fn world_from_frame(setup: &Setup, row: &Row) -> Isometry3<f64> {
    let lift = row.height_m + wheel_drop_m(setup, row);
    let rake = Rotation3::from_axis_angle(&Vector3::y_axis(), -setup.travel.rake_rad(row.height_m));
    Isometry3::from_parts(
        Translation3::new(0.0, 0.0, lift),
        UnitQuaternion::from_rotation_matrix(&rake),
    )
}

/// How far the lower wheel stands below the axle's middle.
#[must_use]
pub fn wheel_drop_m(setup: &Setup, row: &Row) -> f64 {
    setup.axle.flange_to_flange_m / 2.0 * row.roll_rad.sin().abs()
}

/// What is looked at first: the middle of axle and bars at ride height, and how much of the truck there is to see.
#[must_use]
pub fn subject(setup: &Setup) -> (Point3<f64>, f64) {
    let z = setup.wheels.loaded_radius_m;
    (
        Point3::new(-0.03, 0.0, z * 1.1),
        setup.axle.flange_to_flange_m + 2.2 * setup.wheels.tyre_width_m,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    const PANE: Pane = Pane {
        corner: Point2::new(200.0, 40.0),
        size: Vector2::new(800.0, 600.0),
    };

    fn view(which: Standard) -> View {
        View::standard(which, Point3::new(0.1, 0.0, 0.3), 2.0, PANE.size)
    }

    #[test]
    fn a_sight_goes_through_the_point_that_appears_there() {
        let point = Point3::new(-0.2, 0.4, 0.5);
        for which in Standard::ALL {
            for parallel in [false, true] {
                let view = View {
                    parallel,
                    ..view(which)
                };
                let at = view.project(point, &PANE).expect("in front of the eye");
                let sight = view.through(at, &PANE);
                let off = (point - sight.from).cross(&sight.along).norm();
                assert!(off < 1e-12, "{which:?}: the sight misses by {off}");
            }
        }
    }

    #[test]
    fn left_is_left_from_behind_and_forward_is_up_from_above() {
        let seen = |which, x, y, z| view(which).project(Point3::new(x, y, z), &PANE).expect("in front");
        assert!(seen(Standard::Rear, 0.0, 0.5, 0.3).x < seen(Standard::Rear, 0.0, -0.5, 0.3).x);
        assert!(seen(Standard::Rear, 0.0, 0.0, 0.6).y < seen(Standard::Rear, 0.0, 0.0, 0.3).y);
        assert!(seen(Standard::Top, 0.5, 0.0, 0.3).y < seen(Standard::Top, -0.5, 0.0, 0.3).y);
        assert!(seen(Standard::Side, 0.5, 0.0, 0.3).x < seen(Standard::Side, -0.5, 0.0, 0.3).x);
    }

    /// The picture's shape at its usual size, caption taken off.
    const PICTURE: Pane = Pane {
        corner: Point2::new(0.0, 0.0),
        size: Vector2::new(1600.0, 992.0),
    };

    #[test]
    fn every_demo_scenes_rails_end_within_the_picture_of_a_corner() {
        let scenes = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-scenes");
        let files = std::fs::read_dir(scenes).expect("the demo scenes are there");
        let mut seen = 0;
        for file in files.filter_map(Result::ok) {
            let setup = shop::disk::load(&file.path()).expect("a demo scene reads");
            let (focus, span) = subject(&setup);
            let view = View::standard(Standard::Corner, focus, span, PICTURE.size);
            let rails = &setup.rails;
            let wheel = setup.track_m().midpoint(setup.wheels.tyre_width_m);
            let ends = [rails.spacing_m / 2.0, -rails.spacing_m / 2.0]
                .map(|y| Point3::new(rails.rear_x_m, y, setup.travel.ride_m));
            let wheels = [wheel, -wheel].map(|y| Point3::new(0.0, y, 0.0));
            for point in ends.into_iter().chain(wheels) {
                let at = view.project(point, &PICTURE).expect("in front");
                let inside = at.x > 0.0 && at.x < PICTURE.size.x && at.y > 0.0 && at.y < PICTURE.size.y;
                assert!(inside, "{}: {point} is seen at {at}", setup.name);
            }
            seen += 1;
        }
        assert!(seen >= 10);
    }

    #[test]
    fn panning_carries_the_focus_along() {
        let mut moved = view(Standard::Rear);
        let before = moved.project(Point3::new(0.1, 0.0, 0.3), &PANE).expect("in front");
        moved.pan(Vector2::new(0.1, 0.05));
        let after = moved.project(Point3::new(0.1, 0.0, 0.3), &PANE).expect("in front");
        let expected = Vector2::new(0.1, 0.05) * PANE.size.y;
        assert!((after - before - expected).norm() < 1e-9, "{before} {after}");
    }

    #[test]
    fn a_change_of_view_takes_the_short_way_and_arrives() {
        let from = View {
            heading_rad: 0.1,
            ..view(Standard::Rear)
        };
        let to = View {
            heading_rad: 6.2,
            ..view(Standard::Corner)
        };
        assert!(from.toward(&to, 0.5).heading_rad < 0.1);
        assert!((from.toward(&to, 1.0).heading_rad - (6.2 - std::f64::consts::TAU)).abs() < 1e-12);
    }
}
