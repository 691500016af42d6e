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
            Body::Ground => Placed { point: self.point, platform_arm: None, crank: None },
            Body::Platform => Placed::on_platform(self.point, at, axes),
            Body::Crank(CrankId(i)) => {
                let crank = &cranks[i];
                let arm = crank.turned_arm(self.point, at.crank_rad[i]);
                let swing = crank.axis_in_carrier.cross(&arm);
                let point_in_carrier = crank.pivot_in_carrier + arm;
                match crank.carrier {
                    Carrier::Ground => {
                        Placed { point: point_in_carrier, platform_arm: None, crank: Some((i, swing)) }
                    }
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
        Self { point: at.origin_in_ground + arm, platform_arm: Some(arm), crank: None }
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
    pub fn cut_to_suit(from: Anchor, to: Anchor, stiffness_n_per_m: f64, cranks: &[Crank], drawn: &Configuration) -> Self {
        let length_m = (to.in_ground(cranks, drawn) - from.in_ground(cranks, drawn)).norm();
        Self { from, to, length_m, stiffness_n_per_m }
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
        Row { gap_m: distance - self.length_m, gradient }
    }
}
