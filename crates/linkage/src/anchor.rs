//! Points fixed to bodies: where they are at a configuration, and how they move with its coordinates.

use nalgebra::{Point3, Vector3};

use crate::COORDINATES;
use crate::configuration::{Axes, Configuration};
use crate::crank::{Carrier, Crank, CrankId};

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

/// An anchor in ground coordinates, with what its velocity depends on.
pub(crate) struct Placed {
    pub point: Point3<f64>,
    /// From the platform's origin to the point, if the platform carries it (directly or through a crank).
    platform_arm: Option<Vector3<f64>>,
    /// Velocity per unit crank rate.
    crank: Option<(usize, Vector3<f64>)>,
}

impl Anchor {
    #[inline(always)]
    pub(crate) fn place(&self, cranks: &[Crank], at: &Configuration, axes: &Axes) -> Placed {
        match self.body {
            Body::Ground => Placed {
                point: self.point,
                platform_arm: None,
                crank: None,
            },
            Body::Platform => Placed::on_platform(self.point, at, axes),
            Body::Crank(CrankId(i)) => Placed::on_crank(i, &cranks[i], self.point, at, axes),
        }
    }

    /// The point alone, ground coordinates.
    #[inline]
    pub(crate) fn in_ground(&self, cranks: &[Crank], at: &Configuration, axes: &Axes) -> Point3<f64> {
        let from_platform = |p: Point3<f64>| at.origin_in_ground + axes.ground_from_platform * p.coords;
        match self.body {
            Body::Ground => self.point,
            Body::Platform => from_platform(self.point),
            Body::Crank(CrankId(i)) => {
                let in_carrier = cranks[i].turned(self.point, at.crank_rad[i]);
                match cranks[i].carrier {
                    Carrier::Ground => in_carrier,
                    Carrier::Platform => from_platform(in_carrier),
                }
            }
        }
    }

    /// Farthest that the point can be from the platform's origin or the crank's pivot that moves it, m: what turns its rates of angle
    /// into velocity. Zero on the ground.
    pub(crate) fn reach_m(&self, cranks: &[Crank]) -> f64 {
        match self.body {
            Body::Ground => 0.0,
            Body::Platform => self.point.coords.norm(),
            Body::Crank(CrankId(i)) => {
                let crank = &cranks[i];
                let arm = (self.point - crank.pivot_in_carrier).norm();
                match crank.carrier {
                    Carrier::Ground => arm,
                    Carrier::Platform => crank.pivot_in_carrier.coords.norm() + 2.0 * arm,
                }
            }
        }
    }
}

impl Placed {
    #[inline(always)]
    pub fn on_platform(point_in_platform: Point3<f64>, at: &Configuration, axes: &Axes) -> Self {
        let arm = axes.ground_from_platform * point_in_platform.coords;
        Self {
            point: at.origin_in_ground + arm,
            platform_arm: Some(arm),
            crank: None,
        }
    }

    fn on_crank(i: usize, crank: &Crank, drawn: Point3<f64>, at: &Configuration, axes: &Axes) -> Self {
        let arm = crank.turned_arm(drawn, at.crank_rad[i]);
        let swing = crank.axis_in_carrier.cross(&arm);
        let point_in_carrier = crank.pivot_in_carrier + arm;
        match crank.carrier {
            Carrier::Ground => Self {
                point: point_in_carrier,
                platform_arm: None,
                crank: Some((i, swing)),
            },
            Carrier::Platform => Self {
                crank: Some((i, axes.ground_from_platform * swing)),
                ..Self::on_platform(point_in_carrier, at, axes)
            },
        }
    }

    /// Adds `n . d(point)/d(coordinates)`.
    #[inline(always)]
    pub fn add_gradient(&self, n: Vector3<f64>, axes: &Axes, gradient: &mut [f64; COORDINATES]) {
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
