//! Convex shapes, all in frame coordinates, and the box each fits into.
//!
//! Whatever moves is a round shape about one axis: a disc carried along the axis, everything within a rounding of that. Without a disc it is a
//! capsule. So a pose of it is its two ends.

use nalgebra::{Point3, Vector3};

/// A round shape: every point within `round_m` of a cylinder with flat ends.
#[derive(Clone, Copy, Debug)]
#[expect(clippy::struct_field_names, reason = "the rounding is what it is called")]
pub(crate) struct Round {
    /// The ends of the cylinder's axis.
    pub ends: [Point3<f64>; 2],
    /// Unit direction of the axis: kept apart from the ends, which may coincide.
    pub axis: Vector3<f64>,
    /// Radius of the cylinder; nothing for a capsule.
    pub flat_m: f64,
    /// The rounding.
    pub round_m: f64,
}

/// A block with eight corners: the box of something, or a length of a rail.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    /// Its corners, in no order.
    pub corners: [Point3<f64>; 8],
}

/// A flat plate, or anything else that is the hull of its corners.
#[derive(Clone, Debug)]
pub(super) struct Hull {
    /// Its corners, in no order.
    pub points: Vec<Point3<f64>>,
}

/// One convex piece.
#[derive(Clone, Debug)]
pub(super) enum Piece {
    Round(Round),
    Block(Block),
    Hull(Hull),
}

/// A box along the axes of the frame.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bounds {
    low: Vector3<f64>,
    high: Vector3<f64>,
}

impl Round {
    pub fn capsule(ends: [Point3<f64>; 2], radius_m: f64) -> Self {
        Self::new(ends, 0.0, radius_m)
    }

    pub fn new(ends: [Point3<f64>; 2], flat_m: f64, round_m: f64) -> Self {
        Self {
            ends,
            axis: (ends[1] - ends[0]).try_normalize(1e-9).unwrap_or_else(Vector3::z),
            flat_m: flat_m.max(0.0),
            round_m: round_m.max(0.0),
        }
    }

    /// The same less so much of either end. Where nothing would be left, a point between the two cuts is.
    pub fn trimmed(mut self, [first_m, last_m]: [f64; 2]) -> Self {
        if first_m == 0.0 && last_m == 0.0 {
            return self;
        }
        let along = self.ends[1] - self.ends[0];
        let whole_m = along.norm().max(first_m + last_m);
        let [from, to] = self.ends;
        self.ends = [from + along * (first_m / whole_m), to - along * (last_m / whole_m)];
        self
    }

    /// How far any point of it can have moved to become `other`, the same shape at another pose. Support functions change by no more, so
    /// neither does the distance to anything, overlap included. Where the axis changes its length, trimmed ends slide along it as well.
    pub fn moved_m(&self, other: &Self) -> f64 {
        let ends = (self.ends[0] - other.ends[0])
            .norm()
            .max((self.ends[1] - other.ends[1]).norm());
        let length = |r: &Self| (r.ends[1] - r.ends[0]).norm();
        ends + (length(self) - length(other)).abs() + self.flat_m * (self.axis - other.axis).norm()
    }

    pub(super) fn bounds(&self) -> Bounds {
        let [a, b] = self.ends;
        let disc = self.axis.map(|c| self.flat_m * (1.0 - c * c).max(0.0).sqrt());
        let out = disc.add_scalar(self.round_m);
        Bounds {
            low: a.coords.inf(&b.coords) - out,
            high: a.coords.sup(&b.coords) + out,
        }
    }
}

impl Block {
    /// The box between two opposite corners.
    pub fn between(a: Point3<f64>, b: Point3<f64>) -> Self {
        let pick = |i: usize, bit: usize, a: f64, b: f64| if i & bit == 0 { a } else { b };
        Self {
            corners: std::array::from_fn(|i| {
                Point3::new(pick(i, 1, a.x, b.x), pick(i, 2, a.y, b.y), pick(i, 4, a.z, b.z))
            }),
        }
    }

    fn bounds(&self) -> Bounds {
        Bounds::about(&self.corners)
    }
}

impl Hull {
    pub fn new(points: Vec<Point3<f64>>) -> Self {
        Self { points }
    }

    pub fn moved(&self, to: impl Fn(Point3<f64>) -> Point3<f64>) -> Self {
        Self::new(self.points.iter().map(|p| to(*p)).collect())
    }
}

/// A piece and the box around it.
pub(super) fn with_box(piece: Piece) -> (Piece, Bounds) {
    let bounds = piece.bounds();
    (piece, bounds)
}

impl Piece {
    pub fn bounds(&self) -> Bounds {
        match self {
            Self::Round(round) => round.bounds(),
            Self::Block(block) => block.bounds(),
            Self::Hull(hull) => Bounds::about(&hull.points),
        }
    }
}

impl Bounds {
    pub fn about(points: &[Point3<f64>]) -> Self {
        let first = points.first().map_or_else(Vector3::zeros, |p| p.coords);
        let start = Self {
            low: first,
            high: first,
        };
        points.iter().fold(start, |b, p| Self {
            low: b.low.inf(&p.coords),
            high: b.high.sup(&p.coords),
        })
    }

    /// Both together.
    pub fn with(&self, other: &Self) -> Self {
        Self {
            low: self.low.inf(&other.low),
            high: self.high.sup(&other.high),
        }
    }

    /// What lies within no distance apart is at least this; nothing where the boxes overlap.
    #[inline]
    pub fn apart_m(&self, other: &Self) -> f64 {
        let mut sum = 0.0;
        for i in 0..3 {
            let out = (self.low[i] - other.high[i]).max(other.low[i] - self.high[i]).max(0.0);
            sum += out * out;
        }
        sum.sqrt()
    }

    pub fn middle(&self) -> Vector3<f64> {
        (self.low + self.high) / 2.0
    }
}
