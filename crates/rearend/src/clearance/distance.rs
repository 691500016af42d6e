//! How far two convex shapes are apart, or how far they overlap: the shortest way to push them apart.
//!
//! Two capsules by the closed form of two segments (Ericson, *Real-Time Collision Detection*, 2005, 5.1.9); everything else by Gilbert, Johnson
//! and Keerthi's algorithm on what is left without the rounding, and by an expanding polytope where that overlaps. Only here are points those
//! of the library that does it.

use nalgebra::{Point3, Vector3};
use parry3d_f64::math::{Pose, Vector};
use parry3d_f64::query::epa::EPA;
use parry3d_f64::query::gjk::{self, CsoPoint, GJKResult, VoronoiSimplex};
use parry3d_f64::shape::SupportMap;

use super::shape::{Bounds, Piece, Round};

/// Nearer than this, two points have no direction from one to the other.
const SAME_M: f64 = 1e-9;

/// How far off the library's nearest points may be where faces are round: seen up to 0.05 mm, in about one of a thousand random pairs.
const LIBRARY_M: f64 = 1e-4;

/// Distance and nearest points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    /// Negative where they overlap.
    pub gap_m: f64,
    /// On the first, on the second.
    pub points: [Point3<f64>; 2],
}

/// A pair of points on the cores, the distance between them, and the direction from the first shape to the second.
struct Cores {
    apart_m: f64,
    points: [Point3<f64>; 2],
    towards: Vector3<f64>,
}

/// A moving piece and any other; `None` as soon as they are known to be farther apart than `within_m`.
pub(super) fn between(a: &Round, b: &Piece, within_m: f64) -> Option<Gap> {
    let found = match b {
        Piece::Round(b) if a.flat_m == 0.0 && b.flat_m == 0.0 => {
            rounded(&segments(a.ends, b.ends), a.round_m, b.round_m)
        }
        b => {
            let (b, b_m) = Core::of(b);
            rounded(&cores(&Core::Round(a), &b, within_m + a.round_m + b_m)?, a.round_m, b_m)
        }
    };
    (found.gap_m <= within_m).then_some(found)
}

/// Any two pieces, likewise.
pub(super) fn between_any(a: &Piece, b: &Piece, within_m: f64) -> Option<Gap> {
    if let Piece::Round(a) = a {
        return between(a, b, within_m);
    }
    let ((a, a_m), (b, b_m)) = (Core::of(a), Core::of(b));
    let found = rounded(&cores(&a, &b, within_m + a_m + b_m)?, a_m, b_m);
    (found.gap_m <= within_m).then_some(found)
}

fn rounded(cores: &Cores, a_m: f64, b_m: f64) -> Gap {
    let [a, b] = cores.points;
    Gap {
        gap_m: cores.apart_m - a_m - b_m,
        points: [a + cores.towards * a_m, b - cores.towards * b_m],
    }
}

/// Two segments, either of which may be a point.
fn segments([p1, q1]: [Point3<f64>; 2], [p2, q2]: [Point3<f64>; 2]) -> Cores {
    let (d1, d2, r) = (q1 - p1, q2 - p2, p1 - p2);
    let (a, e, b) = (d1.norm_squared(), d2.norm_squared(), d1.dot(&d2));
    let (c, f) = (d1.dot(&r), d2.dot(&r));
    let tiny = SAME_M * SAME_M;
    let share = |top: f64, bottom: f64| {
        if bottom > tiny {
            (top / bottom).clamp(0.0, 1.0)
        } else {
            0.0
        }
    };
    let spread = a * e - b * b;
    // Parallel ones touch all along: any point of the first will do.
    let along_first = if spread > 1e-14 * a * e {
        ((b * f - c * e) / spread).clamp(0.0, 1.0)
    } else {
        0.0
    };
    let t = share(b * along_first + f, e);
    let s = share(b * t - c, a);
    // The second once more: the first may have been held at an end.
    let t = share(b * s + f, e);
    let (on_first, on_second) = (p1 + d1 * s, p2 + d2 * t);
    let between = on_second - on_first;
    let square = || d1.cross(&d2).try_normalize(SAME_M).unwrap_or_else(Vector3::z);
    Cores {
        apart_m: between.norm(),
        points: [on_first, on_second],
        towards: between.try_normalize(SAME_M).unwrap_or_else(square),
    }
}

/// A shape without its rounding.
enum Core<'a> {
    Round(&'a Round),
    Corners(&'a [Point3<f64>]),
}

impl<'a> Core<'a> {
    /// Of a piece, and how far that is rounded.
    fn of(piece: &'a Piece) -> (Self, f64) {
        match piece {
            Piece::Round(round) => (Self::Round(round), round.round_m),
            Piece::Block(block) => (Self::Corners(&block.corners), 0.0),
            Piece::Hull(hull) => (Self::Corners(&hull.points), 0.0),
        }
    }

    fn middle(&self) -> Vector3<f64> {
        match self {
            Self::Round(r) => (r.ends[0].coords + r.ends[1].coords) / 2.0,
            Self::Corners(all) => Bounds::about(all).middle(),
        }
    }

    fn bounds(&self) -> Bounds {
        match self {
            Self::Round(r) => Piece::Round(Round { round_m: 0.0, ..**r }).bounds(),
            Self::Corners(all) => Bounds::about(all),
        }
    }

    fn farthest(&self, along: Vector3<f64>) -> Point3<f64> {
        match self {
            Self::Round(r) => {
                let end = r.ends[usize::from(along.dot(&(r.ends[1] - r.ends[0])) > 0.0)];
                if r.flat_m == 0.0 {
                    return end;
                }
                let out = along - r.axis * r.axis.dot(&along);
                out.try_normalize(1e-12).map_or(end, |out| end + out * r.flat_m)
            }
            Self::Corners(all) => {
                let start = (Point3::origin(), f64::NEG_INFINITY);
                let far = all.iter().fold(start, |best, c| {
                    let out = along.dot(&c.coords);
                    if out > best.1 { (*c, out) } else { best }
                });
                far.0
            }
        }
    }
}

/// Everything is in frame coordinates already: there is no pose to apply.
impl SupportMap for Core<'_> {
    fn local_support_point(&self, dir: Vector) -> Vector {
        to_library(self.farthest(from_library(dir)))
    }

    fn support_point(&self, _transform: &Pose, dir: Vector) -> Vector {
        self.local_support_point(dir)
    }
}

fn to_library(p: Point3<f64>) -> Vector {
    Vector::new(p.x, p.y, p.z)
}

fn from_library(v: Vector) -> Vector3<f64> {
    Vector3::new(v.x, v.y, v.z)
}

fn cores(a: &Core, b: &Core, within_m: f64) -> Option<Cores> {
    let between = b.middle() - a.middle();
    let start = between.try_normalize(SAME_M).unwrap_or_else(Vector3::z);
    let still = Pose::IDENTITY;
    // Bodies that overlap more than asked for are told apart by how far they do, not before.
    let most_m = within_m.clamp(SAME_M, f64::MAX);
    let mut simplex = VoronoiSimplex::new();
    // Where the algorithm gets stuck between two that are hardly apart it calls them overlapping: only what does from every side is.
    for from in [start, Vector3::x(), Vector3::y(), Vector3::z()] {
        // What it takes for too far is looked at again, and where that does not hold, the distance is asked for however far it is.
        for most_m in [most_m, f64::MAX] {
            simplex.reset(CsoPoint::from_shapes(&still, a, b, to_library(from.into())));
            match gjk::closest_points(&still, a, b, most_m, true, &mut simplex) {
                GJKResult::ClosestPoints(on_a, on_b, normal) => return Some(separate(a, b, on_a, on_b, normal)),
                GJKResult::NoIntersection(way) if room_m(a, b, from_library(way)) > most_m + LIBRARY_M => return None,
                GJKResult::NoIntersection(_) => {}
                _ => break,
            }
        }
    }
    let overlap = EPA::new().closest_points(&still, a, b, &simplex);
    Some(overlap.map_or_else(
        || unsettled(a, b, start),
        |(on_a, on_b, normal)| overlapping(on_a, on_b, normal),
    ))
}

/// The room between the planes that hold the two, square to a direction from one to the other.
fn room_m(a: &Core, b: &Core, way: Vector3<f64>) -> f64 {
    // The library's direction is not always of unit length.
    way.try_normalize(SAME_M)
        .map_or(0.0, |way| (b.farthest(-way) - a.farthest(way)).dot(&way))
}

/// The room between two planes is never more than the distance, so where the library's points are nearer than that, the room is the better
/// answer.
fn separate(a: &Core, b: &Core, on_a: Vector, on_b: Vector, normal: Vector) -> Cores {
    let between = from_library(on_b - on_a);
    let towards = between.try_normalize(SAME_M).unwrap_or_else(|| from_library(normal));
    Cores {
        apart_m: between.norm().max(room_m(a, b, towards)),
        points: [from_library(on_a).into(), from_library(on_b).into()],
        towards,
    }
}

fn overlapping(on_a: Vector, on_b: Vector, normal: Vector) -> Cores {
    Cores {
        apart_m: -from_library(on_b - on_a).norm(),
        points: [from_library(on_a).into(), from_library(on_b).into()],
        towards: from_library(normal),
    }
}

/// The boxes around the two are a safe answer.
fn unsettled(a: &Core, b: &Core, start: Vector3<f64>) -> Cores {
    Cores {
        apart_m: a.bounds().apart_m(&b.bounds()),
        points: [a.farthest(start), b.farthest(-start)],
        towards: start,
    }
}
