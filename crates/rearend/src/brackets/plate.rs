//! A flat plate as it is cut: outline, holes, marks, and where it stands on the truck.
//!
//! Plate coordinates: metres in the plane of the plate, x and y to the right and up as it lies on the table, seen from the side that the
//! bolt's head is on. Plates are bent nowhere and bevelled nowhere: on the other side of the truck the same plate is turned over.

use nalgebra::{Point2, Point3, Unit, Vector3};

use crate::setup::Carrier;

/// A piece of an outline, from where the one before it ended.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// Straight to a point.
    Line {
        /// Where it ends.
        to: Point2<f64>,
    },
    /// Round a centre to a point.
    Arc {
        /// Where it ends.
        to: Point2<f64>,
        /// What it goes round.
        centre: Point2<f64>,
        /// True where it goes round clockwise.
        clockwise: bool,
    },
}

impl Segment {
    /// Where it ends.
    #[must_use]
    pub fn to(&self) -> Point2<f64> {
        match self {
            Self::Line { to } | Self::Arc { to, .. } => *to,
        }
    }
}

/// A closed outline: the last segment ends where the first one starts. Counterclockwise, the metal on the left.
#[derive(Clone, Debug, PartialEq)]
pub struct Outline {
    /// Where it starts and ends.
    pub start: Point2<f64>,
    /// Its pieces, in order.
    pub segments: Vec<Segment>,
}

/// A round hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hole {
    /// Its centre.
    pub at: Point2<f64>,
    /// Its diameter, m.
    pub diameter_m: f64,
}

/// A line to be scribed, not cut: the direction of the bar, the tube's centre line.
#[derive(Clone, Debug, PartialEq)]
pub struct Scribe {
    /// From here.
    pub from: Point2<f64>,
    /// To here.
    pub to: Point2<f64>,
    /// What it marks.
    pub what: String,
}

/// Where a plate stands: plate coordinates to the carrier's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// What it is welded to.
    pub carrier: Carrier,
    /// Where the plate's origin lies, in the middle of its thickness, carrier coordinates.
    pub origin: Point3<f64>,
    /// Direction of the plate's x.
    pub x: Unit<Vector3<f64>>,
    /// Direction of the plate's y.
    pub y: Unit<Vector3<f64>>,
}

impl Stand {
    /// A point of the plate's middle plane, carrier coordinates.
    #[must_use]
    pub fn place(&self, at: Point2<f64>) -> Point3<f64> {
        self.origin + self.x.into_inner() * at.x + self.y.into_inner() * at.y
    }
}

/// A plate to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// What it is, such as "panhard bar, on the frame: side plate".
    pub name: String,
    /// The same in a file's name: lower-case letters, digits and hyphens.
    pub file_stem: String,
    /// How many are cut, both sides of the truck together.
    pub count: usize,
    /// Its thickness, m.
    pub thickness_m: f64,
    /// Its outside.
    pub outline: Outline,
    /// Its holes.
    pub holes: Vec<Hole>,
    /// Lines to scribe.
    pub scribes: Vec<Scribe>,
    /// What to know when it is cut and welded.
    pub notes: Vec<String>,
    /// Where each of them stands.
    pub stands: Vec<Stand>,
}

impl Plate {
    /// The corners of both its faces where it stands, carrier coordinates; arcs as chords.
    pub(crate) fn solid_corners(&self, stand: &Stand) -> Vec<Point3<f64>> {
        let out = stand.x.cross(&stand.y) * (self.thickness_m / 2.0);
        let flat = super::flat::corners(&self.outline);
        let faces = |p: Point2<f64>| [stand.place(p) + out, stand.place(p) - out];
        flat.into_iter().flat_map(faces).collect()
    }
}
