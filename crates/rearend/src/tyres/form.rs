//! The tyre as a solid: a cylinder with rounded shoulders, and how far it reaches sideways.
//!
//! Shoulders are round with a fifth of the width as their radius; the sidewalls between them are flat at the section width. A real
//! sidewall bulges to that width only half way up and falls back towards tread and bead, by some five to ten millimetres at the shoulder
//! of a truck's tyre; the solid holds it all, so the room told is rather too small there than too large. Lugs that stick out sideways and
//! a bulge under load are not in it: measure across what sticks out and take that as the width.

use nalgebra::{Point3, Vector3};

use crate::setup::Wheels;

/// Radius of a shoulder, of the section width: common practice for drawing a tyre.
const SHOULDER_PART: f64 = 0.2;

/// A tyre at its place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tyre {
    /// Its middle, frame coordinates.
    pub centre: Point3<f64>,
    /// Axis of the wheel, to the left, unit, frame coordinates.
    pub axis: Vector3<f64>,
    /// Half the outside diameter: nothing presses on the tyre but the ground.
    pub radius_m: f64,
    half_width_m: f64,
    shoulder_m: f64,
}

impl Tyre {
    pub(super) fn new(wheels: &Wheels, centre: Point3<f64>, axis: Vector3<f64>) -> Self {
        let (radius_m, half_width_m) = (wheels.tyre_m / 2.0, wheels.tyre_width_m / 2.0);
        // A tyre wider than it is high has no room for more.
        let shoulder_m = (SHOULDER_PART * wheels.tyre_width_m).min(radius_m / 2.0);
        Self {
            centre,
            axis,
            radius_m,
            half_width_m,
            shoulder_m,
        }
    }

    /// Radius of the flat of a sidewall.
    fn flat_m(&self) -> f64 {
        self.radius_m - self.shoulder_m
    }

    /// Middle of the tyre out to the centres of a shoulder's rounding.
    fn corner_m(&self) -> f64 {
        self.half_width_m - self.shoulder_m
    }

    /// Highest point above the tyre's centre; the lowest lies as far below it.
    fn half_height_m(&self) -> f64 {
        let lean = self.axis.z;
        self.flat_m() * (1.0 - lean * lean).max(0.0).sqrt() + self.corner_m() * lean.abs() + self.shoulder_m
    }

    /// Highest point, frame coordinates.
    pub(super) fn top_z_m(&self) -> f64 {
        self.centre.z + self.half_height_m()
    }

    /// How far the tyre reaches to the left (`towards` +1) or to the right (-1) of the frame's centre plane, of what lies between two
    /// heights in frame coordinates; `None` where nothing does.
    ///
    /// Exact for an axle that heads straight. For one that steers the error is of second order: a tenth of a millimetre at a degree.
    pub(super) fn reach_m(&self, towards: f64, low_z_m: f64, high_z_m: f64) -> Option<f64> {
        let half = self.half_height_m();
        let (low, high) = (low_z_m - self.centre.z, high_z_m - self.centre.z);
        if low > half || high < -half || low > high {
            return None;
        }
        let side = Sidewall::of(self, towards);
        // The reach rises up to the outermost point and falls beyond it: a convex solid has one top.
        let at = side.outermost_z_m().max(low).min(high).max(-half).min(half);
        Some(towards * self.centre.y + side.reach_at_m(at))
    }
}

/// One sidewall with its shoulders, seen along X: `out` towards its side, `up` along Z, both from the tyre's centre.
struct Sidewall {
    half_width_m: f64,
    corner_m: f64,
    flat_m: f64,
    shoulder_m: f64,
    /// The wheel's axis towards this side: out, up, and along X.
    out: f64,
    up: f64,
    along: f64,
}

impl Sidewall {
    fn of(tyre: &Tyre, towards: f64) -> Self {
        Self {
            half_width_m: tyre.half_width_m,
            corner_m: tyre.corner_m(),
            flat_m: tyre.flat_m(),
            shoulder_m: tyre.shoulder_m,
            // A wheel that lies flat reaches sideways with its tread; no truck's does.
            out: tyre.axis.y.abs().max(0.1),
            up: towards * tyre.axis.y.signum() * tyre.axis.z,
            along: tyre.axis.x.abs(),
        }
    }

    /// Height of the outermost point: below the centre where the axis points up on this side. Upright, all of the flat is.
    fn outermost_z_m(&self) -> f64 {
        let slope = (self.up * self.up + self.along * self.along).sqrt();
        let down = if slope > 0.0 { self.up / slope } else { 0.0 };
        self.corner_m * self.up - self.flat_m * self.out * down
    }

    fn reach_at_m(&self, z_m: f64) -> f64 {
        let from_middle = (z_m - self.half_width_m * self.up) / self.out;
        if from_middle.abs() <= self.flat_m {
            let half_chord = (self.flat_m * self.flat_m - from_middle * from_middle).sqrt();
            return (self.half_width_m - z_m * self.up + half_chord * self.along) / self.out;
        }
        // The lower shoulder is the upper one seen upside down.
        if from_middle > 0.0 {
            self.shoulder_reach_m(z_m, self.up)
        } else {
            self.shoulder_reach_m(-z_m, -self.up)
        }
    }

    /// Of the upper shoulder at a height: along its rounding; with the top leaning out, over the tread to the other shoulder's.
    fn shoulder_reach_m(&self, z_m: f64, up: f64) -> f64 {
        let corner = |side: f64| {
            let out = side * self.corner_m * self.out - self.flat_m * up;
            (out, side * self.corner_m * up + self.flat_m * self.out)
        };
        let (out, corner_z) = corner(1.0);
        let over = z_m - corner_z;
        let tread = self.shoulder_m * self.out;
        if up >= 0.0 || over <= tread {
            return if self.along > 1e-9 {
                self.steered_reach_m(z_m, up, over)
            } else {
                out + self.rounding_m(over)
            };
        }
        let across = (over - tread) / -up;
        if across <= 2.0 * self.corner_m {
            return out - self.shoulder_m * up - across * self.out;
        }
        let (out, corner_z) = corner(-1.0);
        out + self.rounding_m(z_m - corner_z)
    }

    /// Of a shoulder that steers as well. Whatever the slope of a plane laid against the tyre, nothing at a height reaches farther than the
    /// plane does there; the slope taken is that of the rounding without steer, or where the flat's edge is as near, the one best for it.
    fn steered_reach_m(&self, z_m: f64, up: f64, over: f64) -> f64 {
        let flat_edge = (self.flat_m * self.along * self.along / (2.0 * self.shoulder_m)).cbrt();
        let on_rounding = over / self.rounding_m(over).max(1e-6);
        let slope = on_rounding.max(up / self.out + flat_edge);
        let steep = 1.0 + slope * slope;
        let along_axis = self.out + up * slope;
        self.flat_m * (steep - along_axis * along_axis).max(0.0).sqrt()
            + self.corner_m * along_axis.abs()
            + self.shoulder_m * steep.sqrt()
            - slope * z_m
    }

    fn rounding_m(&self, over: f64) -> f64 {
        (self.shoulder_m * self.shoulder_m - over * over).max(0.0).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Rotation3;

    const RADIUS_M: f64 = 0.334;
    const WIDTH_M: f64 = 0.235;

    fn tyre(roll_deg: f64, steer_deg: f64) -> Tyre {
        let turn = Rotation3::from_axis_angle(&Vector3::z_axis(), steer_deg.to_radians())
            * Rotation3::from_axis_angle(&Vector3::x_axis(), roll_deg.to_radians());
        Tyre {
            centre: Point3::new(0.02, 0.8, 0.17),
            axis: turn * Vector3::y(),
            radius_m: RADIUS_M,
            half_width_m: WIDTH_M / 2.0,
            shoulder_m: SHOULDER_PART * WIDTH_M,
        }
    }

    /// The surface, point by point: flats, roundings and tread, each turned with the wheel.
    fn surface(tyre: &Tyre) -> impl Iterator<Item = Point3<f64>> {
        let (shoulder, flat, corner) = (tyre.shoulder_m, tyre.flat_m(), tyre.corner_m());
        let x = Vector3::z().cross(&tyre.axis).normalize();
        let (axis, z, centre) = (tyre.axis, x.cross(&tyre.axis), tyre.centre);
        let steps = |n: u32| (0..=n).map(move |i| f64::from(i) / f64::from(n));
        let profile: Vec<_> = steps(60)
            .map(|part| (part * flat, tyre.half_width_m))
            .chain(steps(60).map(|part| {
                let (sin, cos) = (part * std::f64::consts::FRAC_PI_2).sin_cos();
                (flat + shoulder * sin, corner + shoulder * cos)
            }))
            .chain(steps(40).map(|part| (tyre.radius_m, part * corner)))
            .flat_map(|(r, y)| [(r, y), (r, -y)])
            .collect();
        (0..720).flat_map(move |i| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 720.0).sin_cos();
            let round = x * cos + z * sin;
            profile
                .clone()
                .into_iter()
                .map(move |(r, y)| centre + round * r + axis * y)
        })
    }

    /// Sampled points give a bound from below that comes near as they lie close; written apart from the closed form.
    #[test]
    fn the_reach_is_that_of_the_outermost_of_all_points() {
        for (roll_deg, steer_deg) in [
            (0.0, 0.0),
            (3.0, 0.0),
            (-3.0, 0.0),
            (0.05, 0.0),
            (2.0, 1.0),
            (-6.0, 0.4),
            (0.0, -1.5),
        ] {
            let tyre = tyre(roll_deg, steer_deg);
            let points: Vec<_> = surface(&tyre).collect();
            let top = points.iter().map(|p| p.z).fold(f64::MIN, f64::max);
            assert!((tyre.top_z_m() - top).abs() < 1e-4, "{roll_deg} {steer_deg}");
            for towards in [1.0, -1.0] {
                for (low, high) in [
                    (0.3, 9.0),
                    (0.42, 9.0),
                    (0.47, 9.0),
                    (0.49, 9.0),
                    (0.5, 9.0),
                    (0.0, 0.25),
                    (-9.0, -0.1),
                    (-9.0, 9.0),
                ] {
                    let within = points.iter().filter(|p| p.z >= low && p.z <= high);
                    let sampled = within.map(|p| towards * p.y).fold(f64::MIN, f64::max);
                    let Some(reach) = tyre.reach_m(towards, low, high) else {
                        assert!(sampled < -1e300, "{roll_deg} {low}");
                        continue;
                    };
                    let beyond = reach - sampled;
                    let case = format!("roll {roll_deg} steer {steer_deg} towards {towards} {low}..{high}: {beyond}");
                    // Points lie some millimetres apart; steer is of first order on the shoulders, and half a degree and more counts.
                    let short = RADIUS_M * steer_deg.to_radians().powi(2) + 1e-6;
                    // Near the crown the surface runs level, and a sampled point a step below it lies much farther in.
                    let long = if low > 0.47 { 1e-2 } else { 6e-4 };
                    assert!((-short..long).contains(&beyond), "{case}");
                }
            }
        }
    }

    /// Pythagoras on the shoulder's rounding.
    #[test]
    fn an_upright_tyre_reaches_as_far_as_its_section_at_that_height() {
        let tyre = tyre(0.0, 0.0);
        let s = SHOULDER_PART * WIDTH_M;
        let reach = |above_centre: f64| tyre.reach_m(1.0, tyre.centre.z + above_centre, 9.0);
        assert_eq!(reach(RADIUS_M + 1e-9), None);
        let close = |a: Option<f64>, b: f64| assert!(a.is_some_and(|a| (a - b).abs() < 1e-12), "{a:?} {b}");
        close(reach(0.2), 0.8 + WIDTH_M / 2.0);
        close(reach(RADIUS_M - s), 0.8 + WIDTH_M / 2.0);
        close(reach(RADIUS_M - s + 0.6 * s), 0.8 + WIDTH_M / 2.0 - s + 0.8 * s);
        assert_eq!(tyre.reach_m(1.0, 0.3, 0.2), None);
    }

    /// A plane square to Y: the support of cylinder and ball, `flat sin + corner cos + shoulder`.
    #[test]
    fn a_leaning_tyre_reaches_farthest_with_a_shoulder() {
        let roll = 4f64.to_radians();
        for sign in [1.0, -1.0] {
            let tyre = tyre(4.0 * sign, 0.0);
            let expected = 0.8 + tyre.flat_m() * roll.sin() + tyre.corner_m() * roll.cos() + tyre.shoulder_m;
            let reach = tyre.reach_m(1.0, -9.0, 9.0);
            assert!(
                reach.is_some_and(|r| (r - expected).abs() < 1e-12),
                "{reach:?} {expected}"
            );
        }
    }
}
