//! From the truck to the plane of a drawing.

use nalgebra::{Point3, Vector3};
use serde::Serialize;

/// A point of a drawing, m.
pub type Flat = [f64; 2];

/// Points of a circle that is taken as round.
const ROUND: u32 = 32;

/// From where the truck is seen, without perspective.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum View {
    /// From behind.
    Rear,
    /// From the left: forward is to the left.
    Side,
    /// From above, forward up.
    Top,
}

impl View {
    /// Where a point is seen.
    #[must_use]
    pub fn flat(self, at: Point3<f64>) -> Flat {
        match self {
            Self::Rear => [-at.y, at.z],
            Self::Side => [-at.x, at.z],
            Self::Top => [-at.y, at.x],
        }
    }
}

/// A circle about an axis.
pub(super) fn ring(centre: Point3<f64>, axis: Vector3<f64>, radius_m: f64) -> Vec<Point3<f64>> {
    let across = axis.cross(&least(axis)).normalize() * radius_m;
    let other = axis.normalize().cross(&across);
    angles(ROUND)
        .map(|a| centre + across * a.cos() + other * a.sin())
        .collect()
}

/// A circle in the plane.
pub(super) fn disc(centre: Flat, radius_m: f64) -> Vec<Flat> {
    let at = |a: f64| [centre[0] + radius_m * a.cos(), centre[1] + radius_m * a.sin()];
    angles(ROUND).map(at).collect()
}

fn angles(count: u32) -> impl Iterator<Item = f64> {
    (0..count).map(move |i| std::f64::consts::TAU * f64::from(i) / f64::from(count))
}

/// The direction of the frame that an axis has least of: never along it.
fn least(axis: Vector3<f64>) -> Vector3<f64> {
    match axis.iamin() {
        0 => Vector3::x(),
        1 => Vector3::y(),
        _ => Vector3::z(),
    }
}

/// The outline of the smallest convex shape that holds all points: Andrew's monotone chain.
pub(super) fn hull(mut points: Vec<Flat>) -> Vec<Flat> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let lower = chain(points.iter());
    let upper = chain(points.iter().rev());
    let open = |half: Vec<Flat>| half.into_iter().rev().skip(1).rev().collect::<Vec<_>>();
    [open(lower), open(upper)].concat()
}

fn chain<'a>(points: impl Iterator<Item = &'a Flat>) -> Vec<Flat> {
    let mut kept: Vec<Flat> = Vec::new();
    for point in points {
        while let [.., a, b] = kept[..] {
            let turns_left = (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]) > 1e-12;
            if turns_left {
                break;
            }
            kept.pop();
        }
        kept.push(*point);
    }
    kept
}

/// From one point to another.
pub(super) fn way(a: Flat, b: Flat) -> Flat {
    [b[0] - a[0], b[1] - a[1]]
}

/// A part of the way from one point to another.
pub(super) fn along(a: Flat, b: Flat, part: f64) -> Flat {
    let [x, y] = way(a, b);
    [a[0] + x * part, a[1] + y * part]
}

/// How far apart two points are.
pub(super) fn apart(a: Flat, b: Flat) -> f64 {
    let [x, y] = way(a, b);
    x.hypot(y)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hull_of_a_square_with_points_inside_is_the_square() {
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let all = [&square[..], &[[0.5, 0.5], [0.2, 0.9], [0.5, 0.0]]].concat();
        assert_eq!(hull(all), square);
    }

    #[test]
    fn a_ring_is_round_about_any_axis() {
        for axis in [Vector3::x(), Vector3::y(), Vector3::z(), Vector3::new(1.0, -2.0, 0.5)] {
            let centre = Point3::new(0.3, 0.2, 0.1);
            for p in ring(centre, axis, 0.4) {
                assert!(((p - centre).norm() - 0.4).abs() < 1e-12);
                assert!((p - centre).dot(&axis).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn left_is_left_from_behind_and_from_above_and_forward_is_left_from_the_side() {
        let left_front_high = Point3::new(1.0, 2.0, 3.0);
        assert_eq!(View::Rear.flat(left_front_high), [-2.0, 3.0]);
        assert_eq!(View::Side.flat(left_front_high), [-1.0, 3.0]);
        assert_eq!(View::Top.flat(left_front_high), [-2.0, 1.0]);
    }
}
