//! Distances of single pieces, against closed forms and against support functions.
//!
//! The signed distance of two convex bodies is the most, over all directions, of the room between their two support planes (duality of distance
//! and separation: Boyd & Vandenberghe, *Convex Optimization*, 2004, 8.2). Every direction gives a bound from below, and the best of many, made
//! better step by step, the distance itself, overlap included.

use nalgebra::{Point3, Vector3};
use proptest::prelude::*;

use crate::clearance::distance::{between, between_any};
use crate::clearance::shape::{Block, Hull, Piece, Round};

fn p(x: f64, y: f64, z: f64) -> Point3<f64> {
    Point3::new(x, y, z)
}

fn gap(a: &Round, b: &Piece) -> f64 {
    let found = between(a, b, f64::INFINITY).expect("everything is within reach");
    // What is too far is told so, and nothing else is.
    assert!(between(a, b, found.gap_m - 1e-6).is_none());
    assert!(between(a, b, found.gap_m + 1e-6).is_some());
    let apart = (found.points[1] - found.points[0]).norm();
    assert!(
        // To what the library's points are good for where faces are round; the gap itself is held by a plane.
        (apart - found.gap_m.abs()).abs() < 1e-4,
        "the points are as far apart as the gap says: {apart} {}",
        found.gap_m
    );
    found.gap_m
}

#[track_caller]
fn is(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "{found} should be {expected}");
}

#[test]
fn capsules_by_closed_form() {
    let a = Round::capsule([p(0.0, 0.0, 0.0), p(1.0, 0.0, 0.0)], 0.02);
    let b = |from, to| Piece::Round(Round::capsule([from, to], 0.03));
    // Crosswise above, side by side, end to end, one a point.
    is(gap(&a, &b(p(0.5, -1.0, 0.2), p(0.5, 1.0, 0.2))), 0.15);
    is(gap(&a, &b(p(0.3, 0.4, 0.0), p(2.0, 0.4, 0.0))), 0.35);
    is(gap(&a, &b(p(1.3, 0.0, 0.0), p(2.0, 0.0, 0.0))), 0.25);
    is(gap(&a, &b(p(1.3, 0.4, 0.0), p(1.3, 0.4, 0.0))), 0.45);
    // Axes that meet: apart by both radii.
    is(gap(&a, &b(p(0.5, -1.0, 0.0), p(0.5, 1.0, 0.0))), -0.05);
}

#[test]
fn a_capsule_and_a_box_by_closed_form() {
    let block = Piece::Block(Block::between(p(0.0, 0.0, 0.0), p(1.0, 2.0, 0.5)));
    let capsule = |from, to| Round::capsule([from, to], 0.04);
    is(gap(&capsule(p(0.2, 0.5, 0.7), p(0.8, 1.5, 0.7)), &block), 0.16);
    // Off an edge by 3, 4 of 5; off a corner by 1, 2, 2 of 3.
    is(gap(&capsule(p(1.3, 0.5, 0.9), p(1.3, 1.5, 0.9)), &block), 0.46);
    is(gap(&capsule(p(1.1, 2.2, 0.7), p(1.5, 2.9, 1.0)), &block), 0.26);
    // Right through: pushed out over the nearest face, by half the height and the radius.
    is(gap(&capsule(p(-1.0, 1.0, 0.25), p(2.0, 1.0, 0.25)), &block), -0.29);
}

/// The same box as a plate is the same, and two plates are as far apart as their faces.
#[test]
fn plates_by_closed_form() {
    let plate =
        |low: Point3<f64>, high: Point3<f64>| Piece::Hull(Hull::new(Block::between(low, high).corners.to_vec()));
    let a = plate(p(0.0, 0.0, 0.0), p(0.1, 0.08, 0.006));
    is(
        gap(&Round::capsule([p(0.05, -1.0, 0.03), p(0.05, 1.0, 0.03)], 0.016), &a),
        0.008,
    );
    let apart = |b: &Piece| between_any(&a, b, f64::INFINITY).expect("within reach").gap_m;
    is(apart(&plate(p(0.0, 0.0, 0.01), p(0.1, 0.08, 0.016))), 0.004);
    // Off an edge by 3, 4 of 5 millimetres.
    is(apart(&plate(p(0.103, 0.0, 0.01), p(0.2, 0.08, 0.016))), 0.005);
    // A corner of one in the other: pushed out through the thickness.
    is(apart(&plate(p(0.05, 0.04, 0.004), p(0.2, 0.2, 0.01))), -0.002);
}

#[test]
fn a_tyre_and_flat_walls_by_closed_form() {
    // Radius 0.33 over the tread, half width 0.12.
    let tyre = Round::new([p(0.0, 0.06, 0.0), p(0.0, -0.06, 0.0)], 0.27, 0.06);
    let above = Piece::Block(Block::between(p(-1.0, -1.0, 0.35), p(1.0, 1.0, 0.6)));
    let beside = Piece::Block(Block::between(p(-1.0, 0.13, -1.0), p(1.0, 0.4, 1.0)));
    is(gap(&tyre, &above), 0.02);
    is(gap(&tyre, &beside), 0.01);
    // Two in line, faces towards each other; two side by side.
    let moved = |x: f64, y: f64| Piece::Round(Round::new([p(x, y + 0.06, 0.0), p(x, y - 0.06, 0.0)], 0.27, 0.06));
    is(gap(&tyre, &moved(0.0, 0.3)), 0.06);
    is(gap(&tyre, &moved(0.7, 0.0)), 0.04);
}

/// The support function: how far a piece reaches in a direction.
fn reach(piece: &Piece, along: Vector3<f64>) -> f64 {
    match piece {
        Piece::Round(r) => {
            let end = r.ends.map(|e| e.coords.dot(&along));
            let disc = (1.0 - r.axis.dot(&along).powi(2)).max(0.0).sqrt();
            end[0].max(end[1]) + r.flat_m * disc + r.round_m
        }
        Piece::Block(b) => farthest(&b.corners, along),
        Piece::Hull(h) => farthest(&h.points, along),
    }
}

fn farthest(corners: &[Point3<f64>], along: Vector3<f64>) -> f64 {
    let out = corners.iter().map(|c| c.coords.dot(&along));
    out.fold(f64::NEG_INFINITY, f64::max)
}

/// The room between the support planes, for the best of many directions.
fn separation(a: &Piece, b: &Piece) -> f64 {
    let room = |u: Vector3<f64>| -reach(b, -u) - reach(a, u);
    let golden = std::f64::consts::PI * (3.0 - 5f64.sqrt());
    let spread = |i: u32| {
        let z = 1.0 - 2.0 * (f64::from(i) + 0.5) / 4000.0;
        let (sin, cos) = (golden * f64::from(i)).sin_cos();
        let out = (1.0 - z * z).sqrt();
        Vector3::new(cos * out, sin * out, z)
    };
    let mut starts: Vec<_> = (0..4000).map(spread).map(|u| (u, room(u))).collect();
    starts.sort_by(|x, y| y.1.total_cmp(&x.1));
    // The best few climb: overlap has a hill for each way out.
    starts
        .iter()
        .take(24)
        .map(|start| climb(&room, *start))
        .fold(f64::NEG_INFINITY, f64::max)
}

/// On a ridge, where two corners take turns, only few directions lead up: every ring of them is turned against the one before.
fn climb(room: &impl Fn(Vector3<f64>) -> f64, (mut at, mut best): (Vector3<f64>, f64)) -> f64 {
    let (mut step, mut turn, mut tries) = (0.05, 0.0, 0);
    while step > 1e-8 {
        let side = at.cross(&Vector3::x()).try_normalize(0.1).unwrap_or_else(Vector3::y);
        let other = at.cross(&side);
        turn += 1.0;
        let around = (0..8).map(|i| {
            let (sin, cos) = (turn + f64::from(i) * std::f64::consts::PI / 4.0).sin_cos();
            (at + (side * cos + other * sin) * step).normalize()
        });
        let next = around.map(|u| (u, room(u))).max_by(|x, y| x.1.total_cmp(&y.1));
        match next {
            Some((u, higher)) if higher > best => (at, best, tries) = (u, higher, 0),
            _ if tries < 6 => tries += 1,
            _ => (step, tries) = (step * 0.5, 0),
        }
    }
    best
}

fn point(size: f64) -> impl Strategy<Value = Point3<f64>> {
    (-size..size, -size..size, -size..size).prop_map(|(x, y, z)| p(x, y, z))
}

fn round() -> impl Strategy<Value = Round> {
    let flat = prop_oneof![Just(0.0), 0.02..0.3];
    (point(0.5), point(0.5), flat, 0.005..0.06).prop_map(|(a, b, flat, round)| Round::new([a, b], flat, round))
}

fn piece() -> impl Strategy<Value = Piece> {
    let block = (point(0.5), point(0.5)).prop_map(|(a, b)| Piece::Block(Block::between(a, b)));
    prop_oneof![round().prop_map(Piece::Round), block, plate()]
}

/// A flat plate of three to nine corners, turned any way.
fn plate() -> impl Strategy<Value = Piece> {
    let corners = prop::collection::vec((-0.2..0.2f64, -0.2..0.2f64), 3..9);
    (corners, point(0.5), point(1.0), 0.003..0.012f64).prop_map(|(corners, middle, out, half)| {
        let out = out.coords.try_normalize(1e-3).unwrap_or_else(Vector3::z);
        let x = out.cross(&Vector3::ith(out.iamin(), 1.0)).normalize();
        let y = out.cross(&x);
        let faces = |(a, b): (f64, f64)| {
            [-1.0, 1.0]
                .map(|side: f64| side * half)
                .map(|h: f64| middle + x * a + y * b + out * h)
        };
        Piece::Hull(Hull::new(corners.into_iter().flat_map(faces).collect()))
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn any_pair_is_as_far_apart_as_its_support_functions_say(a in round(), b in piece(), away in point(1.0)) {
        let mut a = a;
        a.ends = a.ends.map(|e| e + away.coords);
        let (found, expected) = (gap(&a, &b), separation(&Piece::Round(a), &b));
        // Never nearer than a plane between them leaves room; as near as the best plane, to what climbing resolves.
        prop_assert!(found > expected - 1e-6, "{found} {expected}");
        let tolerance = if found > 0.0 { 5e-5 } else { 1e-4 };
        prop_assert!(found < expected + tolerance, "{found} {expected}");
    }

    #[test]
    fn plates_are_as_far_apart_as_their_support_functions_say(a in plate(), b in piece(), away in point(1.0)) {
        let Piece::Hull(hull) = a else { return Ok(()) };
        let a = Piece::Hull(hull.moved(|p| p + away.coords));
        let found = between_any(&a, &b, f64::INFINITY).expect("everything is within reach").gap_m;
        let expected = separation(&a, &b);
        prop_assert!(found > expected - 1e-6, "{found} {expected}");
        let tolerance = if found > 0.0 { 5e-5 } else { 1e-4 };
        prop_assert!(found < expected + tolerance, "{found} {expected}");
    }

    #[test]
    fn boxes_around_hold_what_is_in_them(a in round(), b in piece()) {
        let apart = Piece::Round(a).bounds().apart_m(&b.bounds());
        prop_assert!(apart == 0.0 || gap(&a, &b) >= apart - 1e-7);
    }

    #[test]
    fn moving_changes_a_distance_by_no_more_than_it_moves(a in round(), b in piece(), shift in point(0.05), trim in 0.0..0.3) {
        let mut moved = a;
        moved.ends = [a.ends[0] + shift.coords, a.ends[1] - shift.coords * 0.5];
        let moved = Round::new(moved.ends, a.flat_m, a.round_m);
        let change = gap(&a.trimmed([trim, 0.02]), &b) - gap(&moved.trimmed([trim, 0.02]), &b);
        prop_assert!(change.abs() <= a.moved_m(&moved) + 1e-6, "{change} {}", a.moved_m(&moved));
    }
}
