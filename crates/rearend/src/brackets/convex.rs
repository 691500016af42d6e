//! Convex solids of flat faces, and what of one lies within a plate.
//!
//! Every one is a run of rings of corners: a block two rings of four, a tube two of many, a round housing several. Round ones lie within
//! what they stand for: their corners are on it.

use nalgebra::{Point2, Point3, Unit, Vector3};

use super::Stand;
use super::flat::{belt, edges, shared_m2};
use crate::clearance::Round;

/// Corners of a ring that stands for a circle: a tube of four inches is two tenths of a millimetre small.
const ROUND: usize = 32;

/// From one of them to the next, rad.
const STEP_RAD: f64 = std::f64::consts::TAU / 32.0;

/// What two figures share counts from here on, m²: a hundredth of a square millimetre.
const LEAST_M2: f64 = 1e-8;

/// A direction within this of where a solid runs on is no way out of it: cosine of thirty degrees.
const RUNS_ON: f64 = 0.87;

/// A box along the axes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bounds {
    pub low: Vector3<f64>,
    pub high: Vector3<f64>,
}

/// One of them.
#[derive(Clone, Debug)]
pub(super) struct Convex {
    /// Ring after ring.
    points: Vec<Point3<f64>>,
    /// Corners of a ring.
    ring: usize,
    /// Where it goes on beyond its ends, as a length of rail does.
    on: Option<Vector3<f64>>,
    pub bounds: Bounds,
}

/// A plate where it stands, ready to be looked at.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slab<'a> {
    pub stand: &'a Stand,
    /// Half of its thickness, m.
    pub half_m: f64,
    /// Its corners.
    pub whole: &'a [Point2<f64>],
    /// Those less the rim.
    pub inner: &'a [Point2<f64>],
    /// The rim: nearer to its surface than this, nothing is in a plate.
    pub rim_m: f64,
}

impl Bounds {
    pub fn of(points: impl IntoIterator<Item = Point3<f64>>) -> Self {
        let none = Self {
            low: Vector3::repeat(f64::INFINITY),
            high: Vector3::repeat(f64::NEG_INFINITY),
        };
        points.into_iter().fold(none, |b, p| Self {
            low: b.low.inf(&p.coords),
            high: b.high.sup(&p.coords),
        })
    }

    pub fn with(&self, other: &Self) -> Self {
        Self {
            low: self.low.inf(&other.low),
            high: self.high.sup(&other.high),
        }
    }

    pub fn meets(&self, other: &Self) -> bool {
        (0..3).all(|i| self.low[i] < other.high[i] && other.low[i] < self.high[i])
    }
}

impl Convex {
    fn new(points: Vec<Point3<f64>>, ring: usize, on: Option<Vector3<f64>>) -> Self {
        let bounds = Bounds::of(points.iter().copied());
        Self {
            points,
            ring,
            on,
            bounds,
        }
    }

    /// A length of something: from a section of it to the next, which goes on beyond both.
    pub fn length(sections: [[Point3<f64>; 4]; 2]) -> Self {
        let along = (sections[1][0] - sections[0][0]).try_normalize(1e-12);
        Self::new(sections.concat(), 4, along)
    }

    /// A round tube between two points, which goes on beyond both.
    pub fn tube(ends: [Point3<f64>; 2], radius_m: f64) -> Self {
        let axis = axis(ends);
        let points = ends.iter().flat_map(|end| circle(*end, axis, radius_m)).collect();
        Self::new(points, ROUND, Some(axis.into_inner()))
    }

    /// Something round with its rounded ends.
    pub fn round(round: &Round) -> Self {
        let axis = axis(round.ends);
        let cap = |from_end_deg: f64| {
            let (sin, cos) = from_end_deg.to_radians().sin_cos();
            (round.round_m * cos, round.flat_m + round.round_m * sin)
        };
        let caps = [0.0, 30.0, 60.0, 90.0].map(cap);
        let [first, last] = round.ends;
        let rings = caps
            .iter()
            .map(|(out_m, radius_m)| (first - axis.into_inner() * *out_m, *radius_m));
        let back = caps
            .iter()
            .rev()
            .map(|(out_m, radius_m)| (last + axis.into_inner() * *out_m, *radius_m));
        let points = rings
            .chain(back)
            .flat_map(|(at, radius_m)| circle(at, axis, radius_m))
            .collect();
        Self::new(points, ROUND, None)
    }

    /// What stands over a figure in a plane, as thick as a plate.
    pub fn prism(stand: &Stand, figure: &[Point2<f64>], half_m: f64) -> Self {
        let out = stand.out() * half_m;
        let side = |out: Vector3<f64>| figure.iter().map(move |p| stand.place(*p) + out);
        Self::new(side(-out).chain(side(out)).collect(), figure.len(), None)
    }

    /// How far a plate would have to be pushed, square to one of its edges' planes or its own, to be out of it; `None` where nothing of it
    /// reaches in past the plate's rim.
    pub fn in_plate_m(&self, slab: &Slab) -> Option<f64> {
        let out = slab.stand.out();
        let seen: Vec<_> = self.points.iter().map(|p| seen(slab.stand, &out, *p)).collect();
        let (low, high) = seen.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
            (low.min(p.z), high.max(p.z))
        });
        let within_m = slab.half_m - slab.rim_m;
        if low >= within_m || high <= -within_m {
            return None;
        }
        let figure = belt(self.cut(&seen, within_m));
        if shared_m2(slab.inner, &figure) < LEAST_M2 {
            return None;
        }
        let runs_on = |way: Vector3<f64>| self.on.is_some_and(|on| on.dot(&way).abs() > RUNS_ON);
        let through_m = if runs_on(out) {
            f64::INFINITY
        } else {
            (slab.half_m - low).min(high + slab.half_m)
        };
        let ways = edges(&figure).filter_map(|(from, to)| {
            let along = (to - from).try_normalize(1e-9)?;
            let way = nalgebra::Vector2::new(along.y, -along.x);
            let is_out = !runs_on(slab.stand.x.into_inner() * way.x + slab.stand.y.into_inner() * way.y);
            let deep = |p: &Point2<f64>| (from - p).dot(&way);
            is_out.then(|| slab.whole.iter().map(deep).fold(0.0, f64::max))
        });
        Some(ways.fold(through_m, f64::min))
    }

    /// Its points between two planes, seen square to them; among them every corner of what lies between.
    fn cut(&self, seen: &[Point3<f64>], within_m: f64) -> Vec<Point2<f64>> {
        let mut cut: Vec<_> = seen.iter().filter(|p| p.z.abs() <= within_m).map(Point3::xy).collect();
        let mut edge = |a: &Point3<f64>, b: &Point3<f64>| {
            for plane in [-within_m, within_m] {
                if (a.z < plane) != (b.z < plane) {
                    let share = (plane - a.z) / (b.z - a.z);
                    cut.push(a.xy() + (b.xy() - a.xy()) * share);
                }
            }
        };
        for ring in seen.chunks(self.ring) {
            ring.iter()
                .zip(ring.iter().cycle().skip(1))
                .for_each(|(a, b)| edge(a, b));
        }
        seen.iter()
            .zip(seen.iter().skip(self.ring))
            .for_each(|(a, b)| edge(a, b));
        cut
    }
}

impl Stand {
    /// Unit direction towards whoever looks at the plate.
    pub(super) fn out(&self) -> Vector3<f64> {
        self.x.cross(&self.y)
    }
}

/// A point in a plate's coordinates, with how far it is in front of its middle plane.
fn seen(stand: &Stand, out: &Vector3<f64>, point: Point3<f64>) -> Point3<f64> {
    let from = point - stand.origin;
    Point3::new(from.dot(&stand.x), from.dot(&stand.y), from.dot(out))
}

fn axis(ends: [Point3<f64>; 2]) -> Unit<Vector3<f64>> {
    Unit::try_new(ends[1] - ends[0], 1e-9).unwrap_or_else(Vector3::z_axis)
}

fn circle(centre: Point3<f64>, axis: Unit<Vector3<f64>>, radius_m: f64) -> impl Iterator<Item = Point3<f64>> {
    let least = axis.iamin();
    let a = axis.cross(&Vector3::ith(least, 1.0)).normalize() * radius_m;
    let b = axis.cross(&a);
    let (sin, cos) = STEP_RAD.sin_cos();
    std::iter::successors(Some((1.0, 0.0)), move |(x, y)| {
        Some((x * cos - y * sin, x * sin + y * cos))
    })
    .take(ROUND)
    .map(move |(x, y)| centre + a * x + b * y)
}
