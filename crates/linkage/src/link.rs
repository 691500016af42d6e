//! A link: two points of different bodies at a constant distance. Its gap, and the derivative of the gap.

use nalgebra::{Point3, Vector3};

use crate::COORDINATES;
use crate::configuration::{Axes, Configuration};
use crate::crank::{Carrier, Crank, CrankId};

/// Which link of a mechanism.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LinkId(pub usize);

/// What a point is fixed to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Body {
    /// The fixed body.
    Ground,
    /// The body whose height and roll are driven.
    Platform,
    /// A body hinged to either; its points are drawn at angle zero in its carrier's coordinates.
    Crank(CrankId),
}

/// A point fixed to a body, in that body's coordinates.
#[derive(Clone, Copy, Debug)]
pub struct Anchor {
    /// The body that carries the point.
    pub body: Body,
    /// The point in the body's coordinates, m.
    pub point: Point3<f64>,
}

/// A bar between two anchors.
#[derive(Clone, Copy, Debug)]
pub struct Link {
    /// One end.
    pub from: Anchor,
    /// The other end.
    pub to: Anchor,
    /// Centre to centre, m.
    pub length_m: f64,
    /// Axial stiffness, N/m. It only decides how redundant links share what does not fit.
    pub stiffness_n_per_m: f64,
}

/// A link's gap (distance less length, m) and its derivative by every coordinate.
pub(crate) struct Row {
    pub gap_m: f64,
    pub gradient: [f64; COORDINATES],
}

/// An anchor in ground coordinates, with what its velocity depends on.
struct Placed {
    point: Point3<f64>,
    /// From the platform's origin to the point, if the platform carries it (directly or through a crank).
    platform_arm: Option<Vector3<f64>>,
    /// Velocity per unit crank rate.
    crank: Option<(usize, Vector3<f64>)>,
}

impl Anchor {
    fn place(&self, cranks: &[Crank], at: &Configuration, axes: &Axes) -> Placed {
        match self.body {
            Body::Ground => Placed {
                point: self.point,
                platform_arm: None,
                crank: None,
            },
            Body::Platform => Placed::on_platform(self.point, at, axes),
            Body::Crank(CrankId(i)) => {
                let crank = &cranks[i];
                let arm = crank.turned_arm(self.point, at.crank_rad[i]);
                let swing = crank.axis_in_carrier.cross(&arm);
                let point_in_carrier = crank.pivot_in_carrier + arm;
                match crank.carrier {
                    Carrier::Ground => Placed {
                        point: point_in_carrier,
                        platform_arm: None,
                        crank: Some((i, swing)),
                    },
                    Carrier::Platform => Placed {
                        crank: Some((i, axes.ground_from_platform * swing)),
                        ..Placed::on_platform(point_in_carrier, at, axes)
                    },
                }
            }
        }
    }

    pub(crate) fn in_ground(&self, cranks: &[Crank], at: &Configuration) -> Point3<f64> {
        self.place(cranks, at, &Axes::of(at)).point
    }
}

impl Placed {
    fn on_platform(point_in_platform: Point3<f64>, at: &Configuration, axes: &Axes) -> Self {
        let arm = axes.ground_from_platform * point_in_platform.coords;
        Self {
            point: at.origin_in_ground + arm,
            platform_arm: Some(arm),
            crank: None,
        }
    }

    /// Adds `n . d(point)/d(coordinates)`.
    fn add_gradient(&self, n: Vector3<f64>, axes: &Axes, gradient: &mut [f64; COORDINATES]) {
        if let Some(arm) = self.platform_arm {
            let moment = arm.cross(&n);
            gradient[0] += n.x;
            gradient[1] += n.y;
            gradient[2] += n.z;
            gradient[3] += moment.z;
            gradient[4] += moment.dot(&axes.roll_axis);
            gradient[5] += moment.dot(&axes.pitch_axis);
        }
        if let Some((i, swing)) = self.crank {
            gradient[6 + i] += n.dot(&swing);
        }
    }
}

impl Link {
    /// A link of whatever length fits its ends where they are drawn.
    #[must_use]
    pub fn cut_to_suit(
        from: Anchor,
        to: Anchor,
        stiffness_n_per_m: f64,
        cranks: &[Crank],
        drawn: &Configuration,
    ) -> Self {
        let length_m = (to.in_ground(cranks, drawn) - from.in_ground(cranks, drawn)).norm();
        Self {
            from,
            to,
            length_m,
            stiffness_n_per_m,
        }
    }

    /// Gap and gradient. A link whose ends meet has no direction: its gradient is zero, and the solver sees a singular system.
    pub(crate) fn row(&self, cranks: &[Crank], at: &Configuration, axes: &Axes) -> Row {
        let from = self.from.place(cranks, at, axes);
        let to = self.to.place(cranks, at, axes);
        let along = to.point - from.point;
        let distance = along.norm();
        let mut gradient = [0.0; COORDINATES];
        if distance > 0.0 {
            let n = along / distance;
            to.add_gradient(n, axes, &mut gradient);
            from.add_gradient(-n, axes, &mut gradient);
        }
        Row {
            gap_m: distance - self.length_m,
            gradient,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const NAMES: [&str; COORDINATES] = ["x", "y", "z", "yaw", "roll", "pitch", "ground crank", "platform crank"];

    /// Nearer ends make the distance so curved that differences say nothing about its slope.
    const NEAREST_M: f64 = 0.1;

    const STEP: f64 = 1e-6;

    /// Differences over 1e-6: anchors move at up to 5 m a unit, which leaves 3 * 5^3 / 0.1^2 / 6 * 1e-12 = 6e-9 of curvature, and rounding of
    /// coordinates of 5 m over the step as much.
    const AGREEMENT: f64 = 2e-8;

    fn point() -> impl Strategy<Value = Point3<f64>> {
        [-1.0..1.0, -1.0..1.0, -1.0..1.0].prop_map(Point3::from)
    }

    fn anchor() -> impl Strategy<Value = Anchor> {
        let bodies = vec![
            Body::Ground,
            Body::Platform,
            Body::Crank(CrankId(0)),
            Body::Crank(CrankId(1)),
        ];
        (prop::sample::select(bodies), point()).prop_map(|(body, point)| Anchor { body, point })
    }

    fn axis() -> impl Strategy<Value = Vector3<f64>> {
        point()
            .prop_map(|p| p.coords)
            .prop_filter("an axis has a direction", |v| v.norm() > 0.1)
    }

    /// One crank on the ground, one on the platform.
    fn cranks() -> impl Strategy<Value = Vec<Crank>> {
        (point(), axis(), point(), axis())
            .prop_map(|(p, a, q, b)| vec![Crank::on_ground(p, a), Crank::on_platform(q, b)])
    }

    fn pose() -> impl Strategy<Value = Configuration> {
        let places = [-1.0..1.0, -1.0..1.0, -1.0..1.0];
        let angles = [-3.0..3.0, -1.2..1.2, -3.0..3.0, -3.0..3.0, -3.0..3.0];
        (places, angles).prop_map(|([x, y, z], [yaw, roll, pitch, a, b])| {
            Configuration::from_array([x, y, z, yaw, roll, pitch, a, b])
        })
    }

    fn gap_m(link: &Link, cranks: &[Crank], coordinates: [f64; COORDINATES]) -> f64 {
        let at = Configuration::from_array(coordinates);
        link.row(cranks, &at, &Axes::of(&at)).gap_m
    }

    /// Central difference of the gap by one coordinate.
    fn difference(link: &Link, cranks: &[Crank], at: &Configuration, which: usize) -> f64 {
        let stepped = |step: f64| {
            let mut coordinates = at.to_array();
            coordinates[which] += step;
            gap_m(link, cranks, coordinates)
        };
        (stepped(STEP) - stepped(-STEP)) / (2.0 * STEP)
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

        #[test]
        fn every_derivative_is_that_of_the_gap(from in anchor(), to in anchor(), cranks in cranks(), at in pose()) {
            let link = Link { from, to, length_m: 0.7, stiffness_n_per_m: 1.0 };
            let row = link.row(&cranks, &at, &Axes::of(&at));
            if row.gap_m + link.length_m < NEAREST_M {
                return Ok(());
            }
            for (which, name) in NAMES.iter().enumerate() {
                let (written, found) = (row.gradient[which], difference(&link, &cranks, &at, which));
                let off = (written - found).abs();
                prop_assert!(off <= AGREEMENT, "{:?} to {:?} by {name}: {written}, by differences {found}", from.body, to.body);
            }
        }
    }

    #[test]
    fn a_link_whose_ends_meet_is_short_by_its_length_and_has_no_direction() {
        let at = |body| Anchor {
            body,
            point: Point3::new(0.1, 0.2, 0.3),
        };
        let link = Link {
            from: at(Body::Ground),
            to: at(Body::Platform),
            length_m: 0.5,
            stiffness_n_per_m: 1.0,
        };
        let drawn = Configuration::level_at(0.0);
        let row = link.row(&[], &drawn, &Axes::of(&drawn));
        assert_eq!((row.gap_m, row.gradient), (-0.5, [0.0; COORDINATES]));
    }
}
