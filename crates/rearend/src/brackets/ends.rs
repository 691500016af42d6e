//! Which end of a pad goes where: a pad that is not the same turned end for end can be welded on the wrong way round unnoticed.

use nalgebra::{Point2, Vector2, Vector3};

use super::{Plate, Scribe, Stand};

/// Marks nearer to each other than this are one: a scriber's width.
const SAME_M: f64 = 5e-4;

/// A mark ends so much before the edge, and is this much of the pad's length long.
const SHORT_OF: f64 = 0.02;
const LONG: f64 = 0.15;

/// A line to an end of a rectangular pad, with the way that this end goes; none where the marks on it come out the same turned half way round.
/// Forward, outboard and up are the same on both sides of the truck.
pub(super) fn mark(pad: &Plate) -> Option<Scribe> {
    let [low, high] = pad.bounds();
    let middle = nalgebra::center(&low, &high);
    let off = |p: Point2<f64>| p - middle;
    let is_same = |turn: Vector2<f64>| {
        let has = |a: Point2<f64>, b: Point2<f64>| {
            let is_there = |from: Point2<f64>, to: Point2<f64>| {
                (off(from) - off(a).component_mul(&turn)).norm() < SAME_M
                    && (off(to) - off(b).component_mul(&turn)).norm() < SAME_M
            };
            pad.scribes
                .iter()
                .any(|s| is_there(s.from, s.to) || is_there(s.to, s.from))
        };
        pad.scribes.iter().all(|s| has(s.from, s.to))
    };
    if is_same(Vector2::new(-1.0, -1.0)) {
        return None;
    }
    let along = if is_same(Vector2::new(-1.0, 1.0)) {
        Vector2::y()
    } else {
        Vector2::x()
    };
    let (sign, what) = way(pad.stands.first()?, along);
    let far_m = (high - low).dot(&along) / 2.0;
    let at = |share: f64| middle + along * (sign * far_m * share);
    Some(Scribe {
        from: at(1.0 - SHORT_OF - LONG),
        to: at(1.0 - SHORT_OF),
        what,
    })
}

/// Which way along a direction of a plate is best named, and its words.
fn way(stand: &Stand, along: Vector2<f64>) -> (f64, String) {
    let lies: Vector3<f64> = stand.x.into_inner() * along.x + stand.y.into_inner() * along.y;
    let is_central = stand.origin.y.abs() < SAME_M;
    let (towards, word) = match lies.iamax() {
        0 => (lies.x, "forward"),
        1 if is_central => (lies.y, "to the left"),
        1 => (lies.y * stand.origin.y, "outboard"),
        _ => (lies.z, "up"),
    };
    (if towards < 0.0 { -1.0 } else { 1.0 }, format!("this end {word}"))
}
