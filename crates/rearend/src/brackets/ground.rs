//! What a bracket is welded to: a flat face, or a round tube.

use nalgebra::{Point3, Vector3};

use super::steel::{Member, Own};

/// A flat place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Face {
    /// "the left rail's underside".
    pub what: String,
    pub point: Point3<f64>,
    /// Unit direction out of the steel.
    pub normal: Vector3<f64>,
    /// Unit direction in the face.
    pub along: Vector3<f64>,
    /// How far it reaches from `point` along that, and square to it, m.
    pub along_m: [f64; 2],
    pub across_m: [f64; 2],
    /// How far a plate reaches in between walls before it may be wider than the face, m: an open channel's flanges.
    pub tongue_m: f64,
    /// What of the carrier's steel a bracket on it may touch.
    pub own: Own,
    /// What to know when something is welded there.
    pub notes: Vec<String>,
}

/// A round tube.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pipe {
    /// "the axle tube".
    pub what: String,
    /// A point of its axis.
    pub point: Point3<f64>,
    /// Unit direction of its axis.
    pub axis: Vector3<f64>,
    /// Where it is straight: from and to along its axis from `point`, m.
    pub ends_m: [f64; 2],
    pub radius_m: f64,
    /// Where a bracket in the middle has to bridge something round the tube: its middle along the axis from `point`, and half its width.
    pub lump_m: Option<[f64; 2]>,
    /// Which piece of the carrier's steel it is.
    pub member: Member,
    /// What to know when something is welded there.
    pub notes: Vec<String>,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Ground {
    Face(Face),
    Pipe(Pipe),
    /// The tube to either side of what sits round its middle.
    Beside(Pipe),
}

impl Ground {
    /// What of the carrier's steel a bracket on it may touch.
    pub fn own(&self) -> Own {
        match self {
            Self::Face(face) => face.own,
            Self::Pipe(pipe) | Self::Beside(pipe) => Own::Pipe(pipe.member),
        }
    }
}

impl Face {
    pub fn across(&self) -> Vector3<f64> {
        self.normal.cross(&self.along)
    }

    /// A face without ends.
    pub fn endless(what: String, point: Point3<f64>, normal: Vector3<f64>, along: Vector3<f64>) -> Self {
        let everywhere = [f64::NEG_INFINITY, f64::INFINITY];
        Self {
            what,
            point,
            normal,
            along,
            along_m: everywhere,
            across_m: everywhere,
            tongue_m: 0.0,
            own: Own::Nothing,
            notes: Vec::new(),
        }
    }

    /// The part of a line in the face that lies on it: from and to along `direction` from `start`. Empty where from is more than to.
    pub fn covers_m(&self, start: Point3<f64>, direction: Vector3<f64>) -> [f64; 2] {
        let within = |axis: Vector3<f64>, [low, high]: [f64; 2]| {
            let (from, step) = ((start - self.point).dot(&axis), direction.dot(&axis));
            if step.abs() < 1e-9 {
                let is_on = (low - 1e-9..=high + 1e-9).contains(&from);
                return if is_on {
                    [f64::NEG_INFINITY, f64::INFINITY]
                } else {
                    [f64::INFINITY, f64::NEG_INFINITY]
                };
            }
            let (a, b) = ((low - from) / step, (high - from) / step);
            [a.min(b), a.max(b)]
        };
        let (a, b) = (within(self.along, self.along_m), within(self.across(), self.across_m));
        [a[0].max(b[0]), a[1].min(b[1])]
    }
}

impl Pipe {
    /// The point of the axis beside a point.
    pub fn beside(&self, point: Point3<f64>) -> Point3<f64> {
        self.point + self.axis * (point - self.point).dot(&self.axis)
    }

    /// From the axis to a point, square to the axis.
    pub fn out_to(&self, point: Point3<f64>) -> Vector3<f64> {
        point - self.beside(point)
    }
}
