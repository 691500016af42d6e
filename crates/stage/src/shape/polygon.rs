//! Flat outlines and the plates cut along them.

use super::{SMOOTH, Solid, Soup};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::TAU;

/// A circle of `count` points, counter-clockwise.
#[must_use]
pub fn circle(centre: Vec2, radius: f32, count: usize) -> Vec<Vec2> {
    let count = count.max(3);
    (0..count)
        .map(|step| centre + Vec2::from_angle(step as f32 / count as f32 * TAU) * radius)
        .collect()
}

/// An arc of `count` points from angle `from` to angle `to`, radians, both ends included.
#[must_use]
pub fn arc(centre: Vec2, radius: f32, from: f32, to: f32, count: usize) -> Vec<Vec2> {
    let last = count.max(2) - 1;
    let at = |step: usize| from + (to - from) * step as f32 / last as f32;
    (0..=last)
        .map(|step| centre + Vec2::from_angle(at(step)) * radius)
        .collect()
}

/// The convex hull of `points`, counter-clockwise.
#[must_use]
pub fn hull(points: &[Vec2]) -> Vec<Vec2> {
    let mut sorted: Vec<Vec2> = points.iter().copied().filter(|point| point.is_finite()).collect();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup_by(|a, b| a.distance_squared(*b) < 1e-12);
    let mut lower = half_hull(sorted.iter().copied());
    let mut upper = half_hull(sorted.iter().rev().copied());
    lower.pop();
    upper.pop();
    lower.extend(upper);
    lower
}

fn half_hull(points: impl Iterator<Item = Vec2>) -> Vec<Vec2> {
    let mut chain: Vec<Vec2> = Vec::new();
    for point in points {
        while chain.len() >= 2 {
            let (a, b) = (chain[chain.len() - 2], chain[chain.len() - 1]);
            if (b - a).perp_dot(point - b) > 1e-10 {
                break;
            }
            chain.pop();
        }
        chain.push(point);
    }
    chain
}

/// The outline of a belt round `circles`, each a centre and a radius, counter-clockwise.
#[must_use]
pub fn hull_of_circles(circles: &[(Vec2, f32)]) -> Vec<Vec2> {
    let points: Vec<Vec2> = circles
        .iter()
        .flat_map(|(centre, radius)| circle(*centre, *radius, 40))
        .collect();
    hull(&points)
}

/// A plate in the XY plane, `thickness` thick about Z = 0, with `holes` cut through and its edges broken by `chamfer`.
#[must_use]
pub fn extrude(outline: &[Vec2], holes: &[Vec<Vec2>], thickness: f32, chamfer: f32) -> Solid {
    let outline = wound(outline, true);
    if outline.len() < 3 {
        return Solid::default();
    }
    let holes: Vec<Vec<Vec2>> = holes
        .iter()
        .map(|hole| wound(hole, false))
        .filter(|hole| hole.len() > 2)
        .collect();
    let half = thickness.abs().max(1e-4) / 2.0;
    let chamfer = chamfer.clamp(0.0, half * 0.8);
    let loops: Vec<&Vec<Vec2>> = std::iter::once(&outline).chain(&holes).collect();
    let faces: Vec<Vec<Vec2>> = loops.iter().map(|ring| inset(ring, chamfer)).collect();
    let mut soup = Soup::default();
    for (edge, face) in loops.iter().zip(&faces) {
        walls(&mut soup, edge, face, half, chamfer);
    }
    for [a, b, c] in triangulate(&faces) {
        soup.tri(a.extend(half), b.extend(half), c.extend(half));
        soup.tri(a.extend(-half), c.extend(-half), b.extend(-half));
    }
    soup.solid(SMOOTH)
}

/// A flat ring in the XY plane, `thickness` thick about Z = 0.
#[must_use]
pub fn ring_plate(outer: f32, inner: f32, thickness: f32, chamfer: f32, segments: usize) -> Solid {
    let inner = inner.min(outer * 0.98);
    extrude(
        &circle(Vec2::ZERO, outer, segments),
        &[circle(Vec2::ZERO, inner, segments)],
        thickness,
        chamfer,
    )
}

fn walls(soup: &mut Soup, edge: &[Vec2], face: &[Vec2], half: f32, chamfer: f32) {
    let at = |ring: &[Vec2], z: f32| ring.iter().map(|point| point.extend(z)).collect::<Vec<Vec3>>();
    if chamfer > 1e-5 {
        soup.bridge(&at(face, -half), &at(edge, -half + chamfer));
        soup.bridge(&at(edge, -half + chamfer), &at(edge, half - chamfer));
        soup.bridge(&at(edge, half - chamfer), &at(face, half));
    } else {
        soup.bridge(&at(face, -half), &at(face, half));
    }
}

fn area(ring: &[Vec2]) -> f32 {
    (0..ring.len())
        .map(|here| ring[here].perp_dot(ring[(here + 1) % ring.len()]))
        .sum::<f32>()
        / 2.0
}

/// The ring without repeated points, counter-clockwise or clockwise as asked.
fn wound(ring: &[Vec2], counter_clockwise: bool) -> Vec<Vec2> {
    let mut clean: Vec<Vec2> = ring.iter().copied().filter(|point| point.is_finite()).collect();
    clean.dedup_by(|a, b| a.distance_squared(*b) < 1e-9);
    while clean.len() > 1 && clean[0].distance_squared(clean[clean.len() - 1]) < 1e-9 {
        clean.pop();
    }
    if (area(&clean) > 0.0) != counter_clockwise {
        clean.reverse();
    }
    clean
}

/// The ring moved by `by` towards the material on its left.
fn inset(ring: &[Vec2], by: f32) -> Vec<Vec2> {
    let count = ring.len();
    let side = |here: usize| (ring[(here + 1) % count] - ring[here]).normalize_or_zero().perp();
    let moved = |here: usize| {
        let (last, next) = (side((here + count - 1) % count), side(here));
        let mitre = (last + next) / (1.0 + last.dot(next)).max(0.3);
        ring[here] + mitre * by
    };
    (0..count).map(moved).collect()
}

/// Triangles that fill the first ring less the others, by cutting off ears.
fn triangulate(rings: &[Vec<Vec2>]) -> Vec<[Vec2; 3]> {
    let mut ring = joined(rings);
    let mut triangles = Vec::with_capacity(ring.len());
    while ring.len() > 3 {
        let ear = best_ear(&ring);
        let count = ring.len();
        triangles.push([ring[(ear + count - 1) % count], ring[ear], ring[(ear + 1) % count]]);
        ring.remove(ear);
    }
    if let [a, b, c] = ring[..] {
        triangles.push([a, b, c]);
    }
    triangles
}

/// The ear with the least sharp corners; any corner where there is no ear.
fn best_ear(ring: &[Vec2]) -> usize {
    let quality = |here: usize| {
        let count = ring.len();
        let (a, b, c) = (ring[(here + count - 1) % count], ring[here], ring[(here + 1) % count]);
        let doubled = (b - a).perp_dot(c - b);
        let longest = a
            .distance_squared(b)
            .max(b.distance_squared(c))
            .max(c.distance_squared(a));
        (doubled > 1e-12 && is_empty(ring, [a, b, c])).then(|| doubled / longest.max(1e-12))
    };
    let scored = (0..ring.len()).filter_map(|here| quality(here).map(|score| (here, score)));
    scored.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(here, _)| here)
}

/// Whether no point of the ring lies in the triangle, its own corners aside.
fn is_empty(ring: &[Vec2], [a, b, c]: [Vec2; 3]) -> bool {
    let is_corner = |p: Vec2| p == a || p == b || p == c;
    let within = |p: Vec2| {
        (b - a).perp_dot(p - a) >= -1e-12 && (c - b).perp_dot(p - b) >= -1e-12 && (a - c).perp_dot(p - c) >= -1e-12
    };
    ring.iter().all(|point| is_corner(*point) || !within(*point))
}

/// One ring that walks the first ring and, across bridges, all the others.
fn joined(rings: &[Vec<Vec2>]) -> Vec<Vec2> {
    let Some((outer, holes)) = rings.split_first() else {
        return Vec::new();
    };
    let mut ring = outer.clone();
    let mut left: Vec<&Vec<Vec2>> = holes.iter().collect();
    left.sort_by(|a, b| rightmost(b).1.total_cmp(&rightmost(a).1));
    for (number, hole) in left.iter().enumerate() {
        let start = rightmost(hole).0;
        let near = bridge_end(&ring, &left[number..], hole[start]);
        let walk = (0..=hole.len()).map(|step| hole[(start + step) % hole.len()]);
        let detour: Vec<Vec2> = walk.chain([ring[near]]).collect();
        ring.splice((near + 1)..=near, detour);
    }
    ring
}

fn rightmost(ring: &[Vec2]) -> (usize, f32) {
    let far = ring.iter().enumerate().max_by(|a, b| a.1.x.total_cmp(&b.1.x));
    far.map_or((0, 0.0), |(index, point)| (index, point.x))
}

/// The nearest point of the ring that can be seen from `eye`.
fn bridge_end(ring: &[Vec2], holes: &[&Vec<Vec2>], eye: Vec2) -> usize {
    let crosses = |from: Vec2, edge: &[Vec2]| {
        (0..edge.len()).any(|here| segments_cross(eye, from, edge[here], edge[(here + 1) % edge.len()]))
    };
    let mut order: Vec<usize> = (0..ring.len()).collect();
    order.sort_by(|a, b| {
        ring[*a]
            .distance_squared(eye)
            .total_cmp(&ring[*b].distance_squared(eye))
    });
    let clear = |here: &&usize| !crosses(ring[**here], ring) && !holes.iter().any(|hole| crosses(ring[**here], hole));
    order.iter().find(clear).or(order.first()).copied().unwrap_or(0)
}

/// Whether two segments cross at a point that is an end of neither.
fn segments_cross(a: Vec2, b: Vec2, c: Vec2, d: Vec2) -> bool {
    let side = |p: Vec2, q: Vec2, r: Vec2| (q - p).perp_dot(r - p);
    let (c_side, d_side, a_side, b_side) = (side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b));
    c_side * d_side < 0.0 && a_side * b_side < 0.0
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_plate_with_holes_is_closed_and_has_the_volume() {
        let outline = [
            Vec2::ZERO,
            Vec2::new(0.4, 0.0),
            Vec2::new(0.4, 0.1),
            Vec2::new(0.1, 0.1),
            Vec2::new(0.1, 0.3),
            Vec2::new(0.0, 0.3),
        ];
        let holes = [
            circle(Vec2::splat(0.05), 0.03, 24),
            circle(Vec2::new(0.3, 0.05), 0.03, 24),
            circle(Vec2::new(0.05, 0.2), 0.03, 24),
        ];
        let plate = extrude(&outline, &holes, 0.01, 0.0);
        check::closed(&plate);
        let wanted = (0.04 + 0.02 - 3.0 * area(&holes[0])) * 0.01;
        assert!((plate.volume() - wanted).abs() < wanted * 1e-3);
        check::closed(&extrude(&outline, &holes, 0.01, 0.002));
    }

    #[test]
    fn a_ring_is_closed() {
        let ring = ring_plate(0.1, 0.08, 0.02, 0.002, 32);
        check::closed(&ring);
        check::boxed(&ring, Vec3::new(-0.1, -0.1, -0.01), Vec3::new(0.1, 0.1, 0.01), 1e-4);
    }

    #[test]
    fn a_hull_is_convex() {
        let ring = hull_of_circles(&[(Vec2::ZERO, 0.1), (Vec2::X, 0.05), (Vec2::new(0.5, 0.02), 0.04)]);
        let count = ring.len();
        let turn = |i: usize| (ring[(i + 1) % count] - ring[i]).perp_dot(ring[(i + 2) % count] - ring[(i + 1) % count]);
        assert!((0..count).all(|i| turn(i) > 0.0));
    }

    #[test]
    fn bad_outlines_do_no_harm() {
        for outline in [
            vec![],
            vec![Vec2::ZERO; 5],
            vec![Vec2::ZERO, Vec2::X, Vec2::NAN],
            vec![Vec2::ZERO, Vec2::X, Vec2::X * 2.0],
        ] {
            check::sound(&extrude(&outline, &[vec![Vec2::ONE]], 0.0, 1.0));
        }
    }
}
