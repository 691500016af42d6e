//! An outline as the corners of one closed polyline, its arcs as bulges.

use std::f64::consts::TAU;

use rearend::brackets::{Outline, Segment};

use super::DxfError;

/// Points closer than this are one, m: a millionth of a millimetre, far below any kerf and far above rounding.
pub(super) const SAME_M: f64 = 1e-9;

/// A corner, and how the outline goes on from it to the next one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Corner {
    pub(super) at: [f64; 2],
    /// Tangent of a quarter of the angle that the arc goes round, counterclockwise positive; zero is straight.
    pub(super) bulge: f64,
}

impl Corner {
    pub(super) fn straight(at: [f64; 2]) -> Self {
        Self { at, bulge: 0.0 }
    }
}

/// The corners of an outline, m; the last one leads back to the first. Pieces without length are left out; an arc that ends where it starts
/// goes all the way round if it is the only piece.
pub(super) fn corners(outline: &Outline, name: &str) -> Result<Vec<Corner>, DxfError> {
    let start = [outline.start.x, outline.start.y];
    let mut from = start;
    let mut corners = Vec::with_capacity(outline.segments.len());
    for segment in &outline.segments {
        let to = [segment.to().x, segment.to().y];
        let length_m = distance(from, to);
        if !length_m.is_finite() {
            return Err(DxfError::NotANumber(name.to_owned()));
        }
        if let (Segment::Arc { centre, clockwise, .. }, 1) = (segment, outline.segments.len())
            && length_m < SAME_M
        {
            return circle(start, [centre.x, centre.y], *clockwise, name);
        }
        if length_m < SAME_M {
            continue;
        }
        let bulge = bulge(from, segment, name)?;
        corners.push(Corner { at: from, bulge });
        from = to;
    }
    if distance(from, start) > SAME_M {
        return Err(DxfError::Open(name.to_owned()));
    }
    let round = corners.iter().any(|c| c.bulge != 0.0);
    if corners.len() < if round { 2 } else { 3 } {
        return Err(DxfError::Empty(name.to_owned()));
    }
    Ok(corners)
}

/// A full circle: no single bulge is one, so two halves.
fn circle(start: [f64; 2], centre: [f64; 2], clockwise: bool, name: &str) -> Result<Vec<Corner>, DxfError> {
    let radius_m = distance(start, centre);
    if !radius_m.is_finite() {
        return Err(DxfError::NotANumber(name.to_owned()));
    }
    if radius_m < SAME_M {
        return Err(DxfError::Empty(name.to_owned()));
    }
    let opposite = [2.0 * centre[0] - start[0], 2.0 * centre[1] - start[1]];
    let bulge = if clockwise { -1.0 } else { 1.0 };
    Ok([start, opposite].map(|at| Corner { at, bulge }).to_vec())
}

fn bulge(from: [f64; 2], segment: &Segment, name: &str) -> Result<f64, DxfError> {
    let Segment::Arc { to, centre, clockwise } = segment else {
        return Ok(0.0);
    };
    let arm = |p: [f64; 2]| [p[0] - centre.x, p[1] - centre.y];
    let (first, last) = (arm(from), arm([to.x, to.y]));
    let off_m = first[0].hypot(first[1]) - last[0].hypot(last[1]);
    if !off_m.is_finite() {
        return Err(DxfError::NotANumber(name.to_owned()));
    }
    if off_m.abs() > SAME_M {
        return Err(DxfError::NotRound(name.to_owned()));
    }
    let turn = (first[0] * last[1] - first[1] * last[0]).atan2(first[0] * last[0] + first[1] * last[1]);
    let sweep = if *clockwise {
        -(-turn).rem_euclid(TAU)
    } else {
        turn.rem_euclid(TAU)
    };
    Ok((sweep / 4.0).tan())
}

/// Lower left and upper right corner of the box round a closed polyline.
pub(super) fn bounds(corners: &[Corner]) -> [[f64; 2]; 2] {
    let ends = corners.iter().map(|c| c.at);
    let next = corners.iter().cycle().skip(1);
    let sides = corners.iter().zip(next).flat_map(|(a, b)| outermost(*a, b.at));
    ends.chain(sides).fold(NOWHERE, around)
}

/// A box that holds nothing yet.
pub(super) const NOWHERE: [[f64; 2]; 2] = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];

/// A box with a point more in it.
pub(super) fn around(of: [[f64; 2]; 2], point: [f64; 2]) -> [[f64; 2]; 2] {
    [
        [of[0][0].min(point[0]), of[0][1].min(point[1])],
        [of[1][0].max(point[0]), of[1][1].max(point[1])],
    ]
}

/// Where an arc is farthest right, up, left and down, as far as it goes there.
fn outermost(from: Corner, to: [f64; 2]) -> Vec<[f64; 2]> {
    let b = from.bulge;
    if b == 0.0 {
        return Vec::new();
    }
    // From the middle of the chord to the centre: the chord turned left, by (1 - b²) / 4b of its length.
    let [along, across] = [to[0] - from.at[0], to[1] - from.at[1]];
    let part = (1.0 - b * b) / (4.0 * b);
    let centre = [
        f64::midpoint(from.at[0], to[0]) - across * part,
        f64::midpoint(from.at[1], to[1]) + along * part,
    ];
    let radius = distance(from.at, centre);
    let first = (from.at[1] - centre[1]).atan2(from.at[0] - centre[0]);
    let sweep = 4.0 * b.atan();
    let directions = [[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]];
    let reached = directions.into_iter().filter(|d: &[f64; 2]| {
        let turn = (d[1].atan2(d[0]) - first) * sweep.signum();
        turn.rem_euclid(TAU) < sweep.abs()
    });
    reached
        .map(|d| [centre[0] + radius * d[0], centre[1] + radius * d[1]])
        .collect()
}

pub(super) fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
