//! An outline checked piece by piece, by formulas of this file: nothing of it is shared with what drew it.

use std::f64::consts::TAU;

use nalgebra::{Point2, Vector2};
use rearend::brackets::{Outline, Segment};

/// Numbers lose no more than this on their way.
pub const EXACT_M: f64 = 1e-12;

fn turned(v: Vector2<f64>) -> Vector2<f64> {
    Vector2::new(-v.y, v.x)
}

/// A piece with its start.
pub fn pieces(outline: &Outline) -> Vec<(Point2<f64>, Segment)> {
    let mut from = outline.start;
    let mut all = Vec::new();
    for segment in &outline.segments {
        all.push((from, *segment));
        from = segment.to();
    }
    all
}

/// Angles at which an arc starts and how far it goes round, counterclockwise positive.
fn swept(from: Point2<f64>, to: Point2<f64>, centre: Point2<f64>, clockwise: bool) -> (f64, f64) {
    let angle = |p: Point2<f64>| (p.y - centre.y).atan2(p.x - centre.x);
    let (a, b) = (angle(from), angle(to));
    let on = if clockwise {
        (a - b).rem_euclid(TAU)
    } else {
        (b - a).rem_euclid(TAU)
    };
    (a, if clockwise { -on } else { on })
}

/// Directions in which a piece sets out and arrives.
fn directions(from: Point2<f64>, segment: &Segment) -> [Vector2<f64>; 2] {
    match *segment {
        Segment::Line { to } => [(to - from).normalize(); 2],
        Segment::Arc { to, centre, clockwise } => {
            let sign = if clockwise { -1.0 } else { 1.0 };
            [from, to].map(|p| turned(p - centre).normalize() * sign)
        }
    }
}

/// Chords that stand for an arc. Of less than a whole turn they miss a thousandth of its sector: a sixth of the step squared.
const ARC_STEPS: u32 = 80;

/// Points along an outline.
pub fn flattened(outline: &Outline) -> Vec<Point2<f64>> {
    let mut points = Vec::new();
    for (from, segment) in pieces(outline) {
        points.push(from);
        let Segment::Arc { to, centre, clockwise } = segment else {
            continue;
        };
        let (start, on) = swept(from, to, centre, clockwise);
        let radius = (from - centre).norm();
        let steps = (1..ARC_STEPS).map(|i| f64::from(i) / f64::from(ARC_STEPS));
        points.extend(steps.map(|share| {
            let angle = start + on * share;
            centre + Vector2::new(angle.cos(), angle.sin()) * radius
        }));
    }
    points
}

/// From a point to the nearest of a piece.
pub fn distance_m(point: Point2<f64>, from: Point2<f64>, segment: &Segment) -> f64 {
    let ends = (point - from).norm().min((point - segment.to()).norm());
    match *segment {
        Segment::Line { to } => {
            let along = (to - from).normalize();
            let at = (point - from).dot(&along);
            if (0.0..=(to - from).norm()).contains(&at) {
                (point - from).perp(&along).abs()
            } else {
                ends
            }
        }
        Segment::Arc { to, centre, clockwise } => {
            let (start, on) = swept(from, to, centre, clockwise);
            let angle = (point.y - centre.y).atan2(point.x - centre.x);
            let past = if on < 0.0 {
                (start - angle).rem_euclid(TAU)
            } else {
                (angle - start).rem_euclid(TAU)
            };
            if past <= on.abs() {
                ((point - centre).norm() - (from - centre).norm()).abs()
            } else {
                ends
            }
        }
    }
}

/// Closed, counterclockwise, without crossing itself; arcs round, and smooth wherever it is not a corner.
pub fn is_sound(outline: &Outline, what: &str) {
    let all = pieces(outline);
    let last = all.last().expect("an outline has pieces").1.to();
    assert!((last - outline.start).norm() < EXACT_M, "{what}: closed");
    for (i, (from, segment)) in all.iter().enumerate() {
        assert!((segment.to() - from).norm() > 1e-6, "{what}: piece {i} has a length");
        let mut is_round_end = false;
        if let Segment::Arc { to, centre, clockwise } = segment {
            let radii = ((from - centre).norm() - (to - centre).norm()).abs();
            assert!(radii < EXACT_M, "{what}: arc {i} is off by {radii}");
            is_round_end = !clockwise;
        }
        let next = &all[(i + 1) % all.len()];
        let before = &all[(i + all.len() - 1) % all.len()];
        let kink = |a: Vector2<f64>, b: Vector2<f64>| a.perp(&b).atan2(a.dot(&b)).abs();
        let out = kink(directions(*from, segment)[1], directions(next.0, &next.1)[0]);
        let into = kink(directions(before.0, &before.1)[1], directions(*from, segment)[0]);
        assert!(
            !(1e-6..1e-3).contains(&out),
            "{what}: neither smooth nor a corner after piece {i}: {out}"
        );
        assert!(
            !is_round_end || (into < 1e-6 && out < 1e-6),
            "{what}: round end {i} has a corner"
        );
    }
    let points = flattened(outline);
    crosses_nowhere(&points, what);
    let area = area_m2(&points);
    assert!(area > 0.0, "{what}: counterclockwise");
    assert!(
        (area - outline.area_m2()).abs() < 1.1e-3 * (area + disc_m2(outline)),
        "{what}: area {area} as a polygon"
    );
}

/// Discs about the centres of all arcs together.
fn disc_m2(outline: &Outline) -> f64 {
    let disc = |(from, segment): (Point2<f64>, Segment)| match segment {
        Segment::Arc { centre, .. } => std::f64::consts::PI * (from - centre).norm_squared(),
        Segment::Line { .. } => 0.0,
    };
    pieces(outline).into_iter().map(disc).sum()
}

fn area_m2(points: &[Point2<f64>]) -> f64 {
    let next = points.iter().cycle().skip(1);
    points
        .iter()
        .zip(next)
        .map(|(a, b)| a.coords.perp(&b.coords) / 2.0)
        .sum()
}

fn crosses_nowhere(points: &[Point2<f64>], what: &str) {
    let count = points.len();
    let edge = |i: usize| (points[i % count], points[(i + 1) % count]);
    let side = |a: Point2<f64>, b: Point2<f64>, p: Point2<f64>| (b - a).perp(&(p - a));
    for i in 0..count {
        for j in i + 2..count {
            if i == 0 && j + 1 == count {
                continue;
            }
            let ((a, b), (c, d)) = (edge(i), edge(j));
            let is_crossed = side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0;
            assert!(!is_crossed, "{what}: crosses itself at {a} and {c}");
        }
    }
}
