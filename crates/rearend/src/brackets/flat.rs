//! Flat figures: an outline as corners, that less a rim, as triangles; the belt round points; what two figures share; and what of a strip lies
//! inside one.

use nalgebra::{Point2, Vector2};

use super::{Outline, Segment};

/// Chords leave their arcs by no more.
const SAG_M: f64 = 1e-4;

/// Corners nearer to each other are one.
const SAME_M: f64 = 1e-7;

/// Where an edge turns straight back, its corner moves in by no more than this many rims.
const MOST_MITRE: f64 = 10.0;

/// An outline's corners, counterclockwise, its arcs as chords within a tenth of a millimetre.
pub(super) fn corners(outline: &Outline) -> Vec<Point2<f64>> {
    let mut all: Vec<Point2<f64>> = Vec::with_capacity(4 * outline.segments.len());
    for (from, segment) in outline.pieces() {
        if let Segment::Arc { centre, .. } = segment {
            let out = from - centre;
            let step_rad = 2.0 * (1.0 - SAG_M / out.norm().max(2.0 * SAG_M)).acos();
            let turn_rad = segment.turn_rad(from);
            let steps = (turn_rad.abs() / step_rad).ceil();
            let (sin, cos) = (turn_rad / steps).sin_cos();
            let (mut at, mut step) = (out, 1.0);
            while step < steps {
                at = Vector2::new(cos * at.x - sin * at.y, sin * at.x + cos * at.y);
                all.push(centre + at);
                step += 1.0;
            }
        }
        all.push(segment.to());
    }
    all.dedup_by(|a, b| (*a - *b).norm() < SAME_M);
    if all.len() > 1 && (all[0] - all[all.len() - 1]).norm() < SAME_M {
        all.pop();
    }
    all
}

/// What is left of a figure inside its rim: every edge moved in by as much. The rim is far narrower than the figure.
pub(super) fn inside_rim(corners: &[Point2<f64>], rim_m: f64) -> Vec<Point2<f64>> {
    let count = corners.len();
    let inward = |from: Point2<f64>, to: Point2<f64>| {
        let along = to - from;
        Vector2::new(-along.y, along.x) / along.norm().max(SAME_M)
    };
    let moved = |i: usize| {
        let here = corners[i];
        let before = inward(corners[(i + count - 1) % count], here);
        let after = inward(here, corners[(i + 1) % count]);
        here + (before + after) * (rim_m / (1.0 + before.dot(&after)).max(1.0 / MOST_MITRE))
    };
    (0..count).map(moved).collect()
}

/// A figure as triangles, counterclockwise: ears cut off one after the other.
pub(super) fn triangles(corners: &[Point2<f64>]) -> Vec<[Point2<f64>; 3]> {
    let mut left = corners.to_vec();
    let mut all = Vec::with_capacity(left.len());
    while left.len() > 3 {
        let count = left.len();
        let ear = |i: &usize| is_ear(&left, *i);
        // Every figure without crossings has an ear; what rounding leaves without one is cut anywhere.
        let i = (0..count).find(ear).unwrap_or(0);
        all.push([left[(i + count - 1) % count], left[i], left[(i + 1) % count]]);
        left.remove(i);
    }
    if let [a, b, c] = left[..] {
        all.push([a, b, c]);
    }
    all
}

fn is_ear(left: &[Point2<f64>], i: usize) -> bool {
    let count = left.len();
    let (a, b, c) = (left[(i + count - 1) % count], left[i], left[(i + 1) % count]);
    let is_left = |from: Point2<f64>, to: Point2<f64>, p: Point2<f64>| (to - from).perp(&(p - from)) > 0.0;
    let is_within = |p: Point2<f64>| is_left(a, b, p) && is_left(b, c, p) && is_left(c, a, p);
    is_left(a, b, c) && !left.iter().any(|p| is_within(*p))
}

/// The belt round points, counterclockwise (Andrew's monotone chain). Fewer than three corners where all lie in a line.
pub(super) fn belt(mut points: Vec<Point2<f64>>) -> Vec<Point2<f64>> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let mut belt: Vec<Point2<f64>> = Vec::with_capacity(points.len() + 1);
    let half = |belt: &mut Vec<Point2<f64>>, from: usize, point: Point2<f64>| {
        while belt.len() > from + 1 {
            let [a, b] = [belt[belt.len() - 2], belt[belt.len() - 1]];
            if (b - a).perp(&(point - b)) > 0.0 {
                break;
            }
            belt.pop();
        }
        belt.push(point);
    };
    for point in &points {
        half(&mut belt, 0, *point);
    }
    let from = belt.len().saturating_sub(1);
    for point in points.iter().rev().skip(1) {
        half(&mut belt, from, *point);
    }
    belt.pop();
    belt
}

/// Area of what a figure shares with a belt, m²: the figure cut along one edge of the belt after the other (Sutherland and Hodgman). Where
/// that falls into several pieces the strips that join them have no area.
pub(super) fn shared_m2(figure: &[Point2<f64>], belt: &[Point2<f64>]) -> f64 {
    if belt.len() < 3 {
        return 0.0;
    }
    let (mut left, mut next) = (figure.to_vec(), Vec::with_capacity(figure.len() + 4));
    for (from, to) in edges(belt) {
        let along = to - from;
        next.clear();
        for (a, b) in edges(&left) {
            let (high, low) = (along.perp(&(a - from)), along.perp(&(b - from)));
            if high >= 0.0 {
                next.push(a);
            }
            if (high >= 0.0) != (low >= 0.0) {
                next.push(a + (b - a) * (high / (high - low)));
            }
        }
        std::mem::swap(&mut left, &mut next);
        if left.is_empty() {
            return 0.0;
        }
    }
    area_m2(&left)
}

/// Nearer to a strip's side than this, m, a border lies along it.
const FLUSH_M: f64 = 1e-9;

/// A figure seen along a straight line: x along it from `start`, y to the left of it.
pub(super) fn seen_along(figure: &[Point2<f64>], start: Point2<f64>, along: Vector2<f64>) -> Vec<Point2<f64>> {
    let seen = |p: &Point2<f64>| Point2::new((p - start).dot(&along), along.perp(&(p - start)));
    figure.iter().map(seen).collect()
}

/// The stretches of a level strip from `low` to `high` that lie inside a figure in their whole width: from and to, in order.
pub(super) fn inside_strip(figure: &[Point2<f64>], [low, high]: [f64; 2]) -> Vec<[f64; 2]> {
    let middle = f64::midpoint(low, high);
    let (low, high) = ((low + FLUSH_M).min(middle), (high - FLUSH_M).max(middle));
    // Where the figure's border runs over the strip, and whether that piece of it crosses the strip's middle.
    let mut border: Vec<([f64; 2], bool)> = Vec::new();
    let Some(mut a) = figure.last() else { return Vec::new() };
    for b in figure {
        if a.y.max(b.y) >= low && a.y.min(b.y) <= high {
            let at = |height: f64| {
                let share = (height - a.y) / (b.y - a.y);
                a.x + (b.x - a.x) * share.clamp(0.0, 1.0)
            };
            let is_along = (b.y - a.y).abs() < f64::MIN_POSITIVE;
            let (u, v) = if is_along { (a.x, b.x) } else { (at(low), at(high)) };
            border.push(([u.min(v), u.max(v)], (a.y > middle) != (b.y > middle)));
        }
        a = b;
    }
    border.sort_unstable_by(|a, b| a.0[0].total_cmp(&b.0[0]));
    let mut all = Vec::new();
    let (mut reached, mut is_inside) = (f64::NEG_INFINITY, false);
    for ([from, to], crosses) in border {
        if is_inside && from > reached {
            all.push([reached, from]);
        }
        reached = reached.max(to);
        is_inside ^= crosses;
    }
    all
}

/// Every edge of a figure.
pub(super) fn edges(figure: &[Point2<f64>]) -> impl Iterator<Item = (Point2<f64>, Point2<f64>)> {
    figure.iter().copied().zip(figure.iter().copied().cycle().skip(1))
}

fn area_m2(figure: &[Point2<f64>]) -> f64 {
    let Some(origin) = figure.first() else { return 0.0 };
    edges(figure).map(|(a, b)| (a - origin).perp(&(b - origin)) / 2.0).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn points(all: &[[f64; 2]]) -> Vec<Point2<f64>> {
        all.iter().map(|p| Point2::from(*p)).collect()
    }

    /// A square of four with a square bite of two by one out of its foot.
    fn bitten() -> Vec<Point2<f64>> {
        points(&[
            [0.0, 0.0],
            [1.0, 0.0],
            [1.0, 1.0],
            [3.0, 1.0],
            [3.0, 0.0],
            [4.0, 0.0],
            [4.0, 4.0],
            [0.0, 4.0],
        ])
    }

    #[test]
    fn a_rim_takes_its_width_off_every_edge() {
        let inner = inside_rim(&bitten(), 0.25);
        // The outer square less a quarter all round, and the bite that much wider and higher.
        assert!((area_m2(&inner) - (3.5 * 3.5 - 2.5 * 1.0)).abs() < 1e-12, "{inner:?}");
    }

    #[test]
    fn triangles_fill_a_figure() {
        let all = triangles(&bitten());
        assert_eq!(all.len(), 6);
        let each: Vec<_> = all.iter().map(|t| area_m2(t)).collect();
        assert!(each.iter().all(|a| *a > 0.0), "{each:?}");
        assert!((each.iter().sum::<f64>() - 14.0).abs() < 1e-12, "{each:?}");
    }

    #[test]
    fn a_belt_leaves_out_what_lies_inside_or_in_line() {
        let belt = belt(points(&[
            [0.0, 0.0],
            [1.0, 1.0],
            [2.0, 0.0],
            [1.0, 0.0],
            [2.0, 2.0],
            [0.0, 2.0],
            [2.0, 2.0],
        ]));
        assert_eq!(belt, points(&[[0.0, 0.0], [2.0, 0.0], [2.0, 2.0], [0.0, 2.0]]));
    }

    /// A bar across both legs of the bitten square: two pieces.
    #[test]
    fn what_is_shared_may_be_in_pieces() {
        let bar = points(&[[-1.0, 0.25], [5.0, 0.25], [5.0, 0.75], [-1.0, 0.75]]);
        assert!((shared_m2(&bitten(), &bar) - 1.0).abs() < 1e-12);
        let in_the_bite = points(&[[1.0, 0.0], [3.0, 0.0], [3.0, 1.0], [1.0, 1.0]]);
        assert!(shared_m2(&bitten(), &in_the_bite).abs() < 1e-12);
    }

    /// Across both legs of the bitten square, half in the bite's height: a strip as high as the bite finds the two legs; one above it the
    /// whole width; one that reaches into both heights the legs again; one that is as high as the figure as well.
    #[test]
    fn a_strip_lies_inside_where_no_border_runs_over_it() {
        let strip = |low: f64, high: f64| {
            let seen = seen_along(&bitten(), Point2::new(-1.0, 0.0), Vector2::x());
            inside_strip(&seen, [low, high])
        };
        assert_eq!(strip(0.25, 0.75), [[1.0, 2.0], [4.0, 5.0]]);
        assert_eq!(strip(1.0, 4.0), [[1.0, 5.0]]);
        assert_eq!(strip(0.5, 1.5), [[1.0, 2.0], [4.0, 5.0]]);
        assert_eq!(strip(0.0, 4.0), [[1.0, 2.0], [4.0, 5.0]]);
        assert_eq!(strip(3.5, 4.5), [[0.0; 2]; 0]);
    }

    /// In a triangle over a base of two, as high as one, a strip from a quarter to a half up fits where the sides leave it at its top: a
    /// half from either end. Turned round, the same from the other end.
    #[test]
    fn a_strip_stops_where_a_slope_leaves_its_far_side() {
        let triangle = points(&[[0.0, 0.0], [2.0, 0.0], [1.0, 1.0]]);
        let there = inside_strip(&triangle, [0.25, 0.5]);
        let back = inside_strip(
            &seen_along(&triangle, Point2::new(2.0, 0.0), -Vector2::x()),
            [-0.5, -0.25],
        );
        for found in [there, back] {
            assert!(found.len() == 1, "{found:?}");
            assert!(
                (found[0][0] - 0.5).abs() < 1e-8 && (found[0][1] - 1.5).abs() < 1e-8,
                "{found:?}"
            );
        }
    }
}
