//! The plane of a plate on the truck.

use nalgebra::{Point2, Point3, Unit, Vector2, Vector3};

use super::Stand;
use crate::setup::Carrier;

/// A plane with its directions: `x` and `y` lie in it, `out` points to whoever looks at it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Plane {
    pub origin: Point3<f64>,
    pub x: Unit<Vector3<f64>>,
    pub y: Unit<Vector3<f64>>,
    pub out: Unit<Vector3<f64>>,
}

impl Plane {
    /// Through a point, square to a direction: y as far up as it goes, so that x is level; forward where the plane itself is level.
    pub fn across(origin: Point3<f64>, out: Unit<Vector3<f64>>) -> Self {
        let up = if out.z.abs() < LEVEL {
            Vector3::z()
        } else {
            Vector3::x()
        };
        let y = Unit::new_normalize(up - out.into_inner() * out.dot(&up));
        let x = Unit::new_normalize(y.cross(&out));
        Self { origin, x, y, out }
    }

    /// Through a point, with both directions given; they are square to each other.
    pub fn of(origin: Point3<f64>, x: Unit<Vector3<f64>>, y: Unit<Vector3<f64>>) -> Self {
        let out = Unit::new_normalize(x.cross(&y));
        Self { origin, x, y, out }
    }

    /// The same, this far towards whoever looks at it.
    pub fn moved(&self, out_m: f64) -> Self {
        Self {
            origin: self.origin + self.out.into_inner() * out_m,
            ..*self
        }
    }

    /// A point seen square to the plane.
    pub fn flat(&self, point: Point3<f64>) -> Point2<f64> {
        Point2::from(self.flat_direction(point - self.origin))
    }

    /// A direction seen so.
    pub fn flat_direction(&self, direction: Vector3<f64>) -> Vector2<f64> {
        Vector2::new(direction.dot(&self.x), direction.dot(&self.y))
    }

    /// True where y is forward, not up.
    pub fn is_level(&self) -> bool {
        self.out.z.abs() >= LEVEL
    }

    pub fn stand(&self, carrier: Carrier) -> Stand {
        Stand {
            carrier,
            origin: self.origin,
            x: self.x,
            y: self.y,
        }
    }
}

/// A plane whose normal is more upright than this is level.
const LEVEL: f64 = 0.95;

/// On the other side of the truck.
pub(super) fn mirrored(direction: Vector3<f64>) -> Vector3<f64> {
    Vector3::new(direction.x, -direction.y, direction.z)
}

impl Stand {
    /// The same plate on the other side of the truck, turned over.
    pub(super) fn mirrored(&self) -> Self {
        let turn = |d: Unit<Vector3<f64>>| Unit::new_unchecked(mirrored(d.into_inner()));
        Self {
            carrier: self.carrier,
            origin: Point3::from(mirrored(self.origin.coords)),
            x: turn(self.x),
            y: turn(self.y),
        }
    }
}
