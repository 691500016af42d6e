//! What a bracket is welded to: a flat face, or a round tube.

use nalgebra::{Point2, Point3, Vector2, Vector3};

use super::flat::seen_along;
use super::steel::{Member, Own};

/// What is said on a plate whose edge finds no room between rounded corners.
pub(super) const ON_CORNER: &str = "The weld edge reaches onto the rail's rounded corner: grind it to fit.";

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
    /// What of it is steel, its corners in order: from `point` along that, and to the left of it, m. It may be hollow.
    pub whole: Vec<Point2<f64>>,
    /// What of that lies between rounded corners; none where nothing is rounded.
    pub flat: Option<Vec<Point2<f64>>>,
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
        let everywhere = [-ENDLESS_M, ENDLESS_M];
        Self::part(what, (point, normal, along), everywhere, everywhere)
    }

    /// A rectangle: a point, its normal and a direction, from and to along that and to the left of it.
    pub fn part(
        what: String,
        (point, normal, along): (Point3<f64>, Vector3<f64>, Vector3<f64>),
        along_m: [f64; 2],
        across_m: [f64; 2],
    ) -> Self {
        Self {
            what,
            point,
            normal,
            along,
            whole: rectangle(along_m, across_m),
            flat: None,
            tongue_m: 0.0,
            own: Own::Nothing,
            notes: Vec::new(),
        }
    }

    /// What a weld edge is laid out on, best first, and whether it is one that may reach on to a rounded corner.
    pub fn figures(&self) -> impl Iterator<Item = (&[Point2<f64>], bool)> {
        let flat = self.flat.iter().map(|figure| (figure.as_slice(), false));
        flat.chain([(self.whole.as_slice(), self.flat.is_some())])
    }

    /// A point of the face as its figures have it.
    pub fn seen(&self, point: Point3<f64>) -> Point2<f64> {
        Point2::from(self.seen_direction(point - self.point))
    }

    /// A direction in the face, so too.
    pub fn seen_direction(&self, direction: Vector3<f64>) -> Vector2<f64> {
        Vector2::new(direction.dot(&self.along), direction.dot(&self.across()))
    }

    /// One of its figures seen along a direction in it from a point: x along that, y to the left.
    pub fn seen_along(&self, figure: &[Point2<f64>], start: Point3<f64>, direction: Vector3<f64>) -> Vec<Point2<f64>> {
        seen_along(figure, self.seen(start), self.seen_direction(direction))
    }
}

/// An edge as it would like to lie, moved and cut to lie on steel.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    pub edge_m: [f64; 2],
    /// The stretch of steel that it lies on.
    pub on_m: [f64; 2],
}

impl Fit {
    /// The longest that there is on any stretch, and of those the one that is moved least; `None` where all are shorter than the least.
    pub fn of(wanted_m: [f64; 2], stretches_m: &[[f64; 2]], least_m: f64) -> Option<Self> {
        let fits = stretches_m.iter().filter_map(|on_m| {
            let edge_m = fitted(wanted_m, *on_m, least_m)?;
            Some(Self { edge_m, on_m: *on_m })
        });
        fits.min_by(|a, b| {
            let longer = |fit: &Self| (fit.long_m() / SAME_LENGTH_M).round();
            let moved = |fit: &Self| fit.moved_m(wanted_m);
            longer(b).total_cmp(&longer(a)).then(moved(a).total_cmp(&moved(b)))
        })
    }

    pub fn long_m(&self) -> f64 {
        self.edge_m[1] - self.edge_m[0]
    }

    /// How far its middle is from where it would like to be.
    pub fn moved_m(&self, wanted_m: [f64; 2]) -> f64 {
        let middle = |[from, to]: [f64; 2]| f64::midpoint(from, to);
        (middle(self.edge_m) - middle(wanted_m)).abs()
    }
}

/// Edges whose lengths differ by less are as long.
const SAME_LENGTH_M: f64 = 1e-6;

/// What is wanted, moved and cut to lie within what is there; `None` where less than the least is left.
fn fitted(wanted: [f64; 2], there: [f64; 2], least: f64) -> Option<[f64; 2]> {
    let width = (wanted[1] - wanted[0]).min(there[1] - there[0]);
    if width.is_nan() || width < least - 1e-9 {
        return None;
    }
    // Not a clamp: rounding may put the two ends of no play at all the wrong way round.
    let from = wanted[0].min(there[1] - width).max(there[0]);
    Some([from, from + width])
}

/// A rectangle's corners.
pub(super) fn rectangle([left, right]: [f64; 2], [low, high]: [f64; 2]) -> Vec<Point2<f64>> {
    [(left, low), (right, low), (right, high), (left, high)]
        .map(|(x, y)| Point2::new(x, y))
        .to_vec()
}

/// Farther than any bracket reaches, m.
pub(super) const ENDLESS_M: f64 = 1e3;

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
