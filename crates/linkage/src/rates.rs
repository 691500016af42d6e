//! How the closures' gradients change while everything moves: what the second order of a motion is made of.
//!
//! Along a motion `q'` a gap that stays closed obeys `g . q' = 0`, hence `g . q'' = -g' . q'`, with `g'` the rate of its gradient.

use nalgebra::Vector3;

use crate::COORDINATES;
use crate::anchor::{Anchor, Body};
use crate::configuration::{Axes, Configuration};
use crate::crank::{Carrier, Crank, CrankId};
use crate::joint::Joint;
use crate::link::Link;
use crate::motion::{Acceleration, Twist};

/// A configuration with the rates of its coordinates.
pub(crate) struct Moving<'a> {
    at: &'a Configuration,
    axes: &'a Axes,
    rates: [f64; COORDINATES],
    pub twist: Twist,
    roll_axis_rate: Vector3<f64>,
    pitch_axis_rate: Vector3<f64>,
}

/// A gap's gradient and its rate, unscaled.
pub(crate) struct RowRate {
    pub gradient: [f64; COORDINATES],
    pub gradient_rate: [f64; COORDINATES],
}

/// A vector and its rate.
#[derive(Clone, Copy)]
struct Turning {
    now: Vector3<f64>,
    rate: Vector3<f64>,
}

/// A point of a body that moves: [`crate::anchor::Placed`] with rates.
struct MovingPoint {
    point: Turning,
    platform_arm: Option<Turning>,
    /// Velocity per unit crank rate.
    crank: Option<(usize, Turning)>,
}

impl Turning {
    const STILL: fn(Vector3<f64>) -> Self = |now| Self {
        now,
        rate: Vector3::repeat(0.0),
    };

    fn cross(self, other: Self) -> Self {
        Self {
            now: self.now.cross(&other.now),
            rate: self.rate.cross(&other.now) + self.now.cross(&other.rate),
        }
    }

    fn dot(self, other: Self) -> (f64, f64) {
        let rate = self.rate.dot(&other.now) + self.now.dot(&other.rate);
        (self.now.dot(&other.now), rate)
    }

    /// The unit vector along it; none where it has no length, as in [`Link::row`].
    fn direction(self) -> Self {
        let length = self.now.norm();
        let per_length = if length > 0.0 { 1.0 / length } else { 0.0 };
        let now = self.now * per_length;
        Self {
            now,
            rate: (self.rate - now * now.dot(&self.rate)) * per_length,
        }
    }
}

impl std::ops::Neg for Turning {
    type Output = Self;

    fn neg(self) -> Self {
        Self {
            now: -self.now,
            rate: -self.rate,
        }
    }
}

impl<'a> Moving<'a> {
    pub fn of(at: &'a Configuration, axes: &'a Axes, rates: [f64; COORDINATES]) -> Self {
        let yawing = Vector3::z() * rates[3];
        let rolling = yawing + axes.roll_axis * rates[4];
        Self {
            at,
            axes,
            rates,
            twist: Twist::from_rates(&rates, axes),
            roll_axis_rate: yawing.cross(&axes.roll_axis),
            pitch_axis_rate: rolling.cross(&axes.pitch_axis),
        }
    }

    /// The platform's acceleration from the second derivatives of the coordinates.
    pub fn acceleration(&self, second: &[f64; COORDINATES]) -> Acceleration {
        let at_rest = Twist::from_rates(second, self.axes);
        Acceleration {
            linear: at_rest.linear,
            angular: at_rest.angular + self.roll_axis_rate * self.rates[4] + self.pitch_axis_rate * self.rates[5],
        }
    }

    /// What a row's gap does, and what its gradient's change adds to that.
    pub fn gap_rates(&self, row: &RowRate) -> (f64, f64) {
        let along = |gradient: &[f64; COORDINATES]| gradient.iter().zip(&self.rates).map(|(g, r)| g * r).sum();
        (along(&row.gradient), along(&row.gradient_rate))
    }

    /// Of a link's gap.
    pub fn link(&self, link: &Link, cranks: &[Crank]) -> RowRate {
        let (from, to) = (self.point(&link.from, cranks), self.point(&link.to, cranks));
        let along = Turning {
            now: to.point.now - from.point.now,
            rate: to.point.rate - from.point.rate,
        };
        let n = along.direction();
        let mut row = RowRate::zero();
        self.add(&to, n, &mut row);
        self.add(&from, -n, &mut row);
        row
    }

    /// Of a joint's three gaps.
    pub fn joint(&self, joint: &Joint) -> [RowRate; 3] {
        let eye = self.on_platform(Turning::STILL(joint.on_platform.coords));
        [0, 1, 2].map(|k| {
            let mut row = RowRate::zero();
            self.add(&eye, Turning::STILL(joint.directions.column(k).into_owned()), &mut row);
            row
        })
    }

    fn point(&self, anchor: &Anchor, cranks: &[Crank]) -> MovingPoint {
        match anchor.body {
            Body::Ground => MovingPoint {
                point: Turning::STILL(anchor.point.coords),
                platform_arm: None,
                crank: None,
            },
            Body::Platform => self.on_platform(Turning::STILL(anchor.point.coords)),
            Body::Crank(CrankId(i)) => self.on_crank(i, &cranks[i], anchor),
        }
    }

    /// A vector of the platform, which may move in it, in ground coordinates.
    fn turned(&self, in_platform: Turning) -> Turning {
        let turn = &self.axes.ground_from_platform;
        let now = turn * in_platform.now;
        Turning {
            now,
            rate: self.twist.angular.cross(&now) + turn * in_platform.rate,
        }
    }

    fn on_platform(&self, in_platform: Turning) -> MovingPoint {
        let arm = self.turned(in_platform);
        MovingPoint {
            point: Turning {
                now: self.at.origin_in_ground.coords + arm.now,
                rate: self.twist.linear + arm.rate,
            },
            platform_arm: Some(arm),
            crank: None,
        }
    }

    fn on_crank(&self, i: usize, crank: &Crank, anchor: &Anchor) -> MovingPoint {
        let axis = crank.axis_in_carrier.as_ref();
        let turned_arm = crank.turned_arm(anchor.point, self.at.crank_rad[i]);
        let velocity = axis.cross(&turned_arm);
        let swing = Turning {
            now: velocity,
            rate: axis.cross(&velocity) * self.rates[6 + i],
        };
        let point = Turning {
            now: crank.pivot_in_carrier.coords + turned_arm,
            rate: velocity * self.rates[6 + i],
        };
        match crank.carrier {
            Carrier::Ground => MovingPoint {
                point,
                platform_arm: None,
                crank: Some((i, swing)),
            },
            Carrier::Platform => MovingPoint {
                crank: Some((i, self.turned(swing))),
                ..self.on_platform(point)
            },
        }
    }

    /// Adds `n . d(point)/d(coordinates)` and its rate; compare [`crate::anchor::Placed::add_gradient`].
    fn add(&self, point: &MovingPoint, n: Turning, row: &mut RowRate) {
        if let Some(arm) = point.platform_arm {
            let moment = arm.cross(n);
            let axis = |now: Vector3<f64>, rate: Vector3<f64>| moment.dot(Turning { now, rate });
            for k in 0..3 {
                row.add(k, (n.now[k], n.rate[k]));
            }
            row.add(3, (moment.now.z, moment.rate.z));
            row.add(4, axis(self.axes.roll_axis, self.roll_axis_rate));
            row.add(5, axis(self.axes.pitch_axis, self.pitch_axis_rate));
        }
        if let Some((i, swing)) = point.crank {
            row.add(6 + i, n.dot(swing));
        }
    }
}

impl RowRate {
    fn zero() -> Self {
        Self {
            gradient: [0.0; COORDINATES],
            gradient_rate: [0.0; COORDINATES],
        }
    }

    fn add(&mut self, coordinate: usize, (gradient, rate): (f64, f64)) {
        self.gradient[coordinate] += gradient;
        self.gradient_rate[coordinate] += rate;
    }
}
