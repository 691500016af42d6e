//! A belt around discs: straight between them, round about them.

use std::f64::consts::TAU;

use nalgebra::{Point2, Vector2};

use super::{Outline, Segment};

/// A disc, or with no radius a corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Disc {
    pub centre: Point2<f64>,
    pub radius_m: f64,
}

/// Where a plate meets what it is welded to: two corners of the belt, and the way between them that takes the place of the straight one.
/// The plate lies to the left of the way from the first to the second.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Foot {
    pub corners: [Point2<f64>; 2],
    pub way: Vec<Segment>,
}

impl Disc {
    pub fn corner(centre: Point2<f64>) -> Self {
        Self { centre, radius_m: 0.0 }
    }

    fn at(&self, angle: f64) -> Point2<f64> {
        self.centre + direction(angle) * self.radius_m
    }
}

pub(super) fn direction(angle: f64) -> Vector2<f64> {
    Vector2::new(angle.cos(), angle.sin())
}

/// Discs whose tangents turn up within this of each other lie on one line: the farthest is next.
const SAME_RAD: f64 = 1e-9;

/// The discs that a belt lies on, counterclockwise, each with the direction in which the belt leaves it. None where there is none, or
/// where a number is not usable.
fn belt(discs: &[Disc]) -> Option<Vec<(usize, f64)>> {
    // A direction that no drawing has, so that hardly any two discs are as far out in it.
    let start_angle = 0.123_456_7;
    let out = |d: &Disc| d.centre.coords.dot(&direction(start_angle)) + d.radius_m;
    let first = (0..discs.len()).max_by(|a, b| out(&discs[*a]).total_cmp(&out(&discs[*b])))?;
    let mut turned = Vec::new();
    let (mut here, mut angle) = (first, start_angle);
    for _ in 0..=2 * discs.len() {
        let Some((next, leaves)) = next_on_belt(discs, here, angle) else {
            turned.push((here, angle));
            return Some(turned);
        };
        if leaves - start_angle >= TAU {
            // Round once: the last piece is the first one's.
            return Some(turned);
        }
        turned.push((here, leaves));
        (here, angle) = (next, leaves);
    }
    None
}

/// The disc that comes out farthest next while the belt turns on from `angle`, and the direction in which it does.
fn next_on_belt(discs: &[Disc], here: usize, angle: f64) -> Option<(usize, f64)> {
    let mut best: Option<(usize, f64, f64)> = None;
    for (j, disc) in discs.iter().enumerate() {
        let between = disc.centre - discs[here].centre;
        let apart = between.norm();
        let less = discs[here].radius_m - disc.radius_m;
        if j == here || apart <= less.abs() + 1e-12 {
            continue;
        }
        let overtakes = between.y.atan2(between.x) - (less / apart).acos();
        let mut leaves = angle + (overtakes - angle).rem_euclid(TAU);
        if leaves - angle > TAU - SAME_RAD {
            leaves = angle;
        }
        let is_better =
            best.is_none_or(|(_, least, far)| leaves < least - SAME_RAD || (leaves < least + SAME_RAD && apart > far));
        if is_better {
            best = Some((j, leaves, apart));
        }
    }
    best.map(|(j, leaves, _)| (j, leaves))
}

/// The outline around discs that stands on a foot; `None` where the foot's corners are not both on the belt, one after the other.
pub(super) fn standing(discs: &[Disc], foot: &Foot) -> Option<Outline> {
    let mut all: Vec<Disc> = foot.corners.iter().map(|c| Disc::corner(*c)).collect();
    all.extend_from_slice(discs);
    let turned = belt(&all)?;
    let count = turned.len();
    let from = turned.iter().position(|(disc, _)| *disc == 1)?;
    let mut segments = Vec::new();
    for step in 0..count {
        let (here, leaves) = turned[(from + step) % count];
        if here == 0 {
            // The foot closes it, if nothing hangs over on its side.
            let is_whole = step + 1 == count;
            segments.extend_from_slice(&foot.way);
            return is_whole.then_some(Outline {
                start: foot.corners[1],
                segments,
            });
        }
        let (next, _) = turned[(from + step + 1) % count];
        let (disc, next) = (&all[here], &all[next]);
        if disc.radius_m > 0.0 {
            segments.push(Segment::Arc {
                to: disc.at(leaves),
                centre: disc.centre,
                clockwise: false,
            });
        }
        segments.push(Segment::Line { to: next.at(leaves) });
    }
    None
}

/// The outline around discs that stand on nothing; `None` where there are fewer than two.
pub(super) fn around(discs: &[Disc]) -> Option<Outline> {
    let turned = belt(discs)?;
    let (_, leaves) = *turned.last()?;
    if turned.len() < 2 {
        return None;
    }
    let start = discs[turned[0].0].at(leaves);
    let mut segments = Vec::new();
    for (step, (here, leaves)) in turned.iter().enumerate() {
        let next = turned[(step + 1) % turned.len()].0;
        if discs[*here].radius_m > 0.0 {
            segments.push(Segment::Arc {
                to: discs[*here].at(*leaves),
                centre: discs[*here].centre,
                clockwise: false,
            });
        }
        let to = if step + 1 == turned.len() {
            start
        } else {
            discs[next].at(*leaves)
        };
        segments.push(Segment::Line { to });
    }
    Some(Outline { start, segments })
}

/// A rectangle, counterclockwise.
pub(super) fn rectangle(low: Point2<f64>, high: Point2<f64>) -> Outline {
    let to = |x, y| Segment::Line { to: Point2::new(x, y) };
    Outline {
        start: low,
        segments: vec![
            to(high.x, low.y),
            to(high.x, high.y),
            to(low.x, high.y),
            to(low.x, low.y),
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn disc(x: f64, y: f64, radius_m: f64) -> Disc {
        Disc {
            centre: Point2::new(x, y),
            radius_m,
        }
    }

    /// A stadium: two half circles and a rectangle.
    #[test]
    fn two_equal_discs_make_a_stadium() {
        let belt = around(&[disc(0.0, 0.0, 0.5), disc(3.0, 0.0, 0.5)]).map(|o| (o.area_m2(), o.length_m()));
        let (area, length) = belt.unwrap_or_default();
        assert!((area - (3.0 + PI * 0.25)).abs() < 1e-12, "{area}");
        assert!((length - (6.0 + PI)).abs() < 1e-12, "{length}");
    }

    /// Discs within the belt, in line with two of its discs or behind a corner, change nothing.
    #[test]
    fn what_lies_inside_the_belt_is_not_on_it() {
        let outer = [disc(0.0, 0.0, 0.5), disc(3.0, 0.0, 0.5), disc(1.0, 2.0, 0.5)];
        let mut more = outer.to_vec();
        more.extend([disc(1.5, 0.0, 0.5), disc(1.2, 0.6, 0.2), disc(1.2, 0.5, 0.0)]);
        let area = |discs: &[Disc]| around(discs).map_or(0.0, |o| o.area_m2());
        assert!((area(&outer) - area(&more)).abs() < 1e-12);
        // A triangle with a belt about it: its area, its circumference times the radius, and a whole disc.
        let sides = 3.0 + 5f64.sqrt() + 8f64.sqrt();
        assert!((area(&outer) - (3.0 + 0.5 * sides + PI * 0.25)).abs() < 1e-12);
    }

    #[test]
    fn a_round_end_stands_on_its_foot() {
        let corners = [Point2::new(-2.0, 0.0), Point2::new(2.0, 0.0)];
        let foot = Foot {
            corners,
            way: vec![Segment::Line { to: corners[1] }],
        };
        let Some(outline) = standing(&[disc(0.0, 4.0, 1.0)], &foot) else {
            panic!("it stands")
        };
        // Tangents from a corner: right triangles of hypotenuse sqrt(20) and leg 1 on either side of the middle, and the sector between.
        let tangent = 19f64.sqrt();
        let lean = (2.0f64 / 4.0).atan() - (1.0 / 20f64.sqrt()).asin();
        let sector = PI - 2.0 * lean;
        let area = 2.0 * (2.0 * 4.0 / 2.0) + 2.0 * (tangent / 2.0) + sector / 2.0;
        // Which is the triangle foot to centre, the two tangent triangles, and the sector.
        assert!((outline.area_m2() - area).abs() < 1e-9, "{} {area}", outline.area_m2());
        assert!(
            standing(&[disc(0.0, 0.5, 1.0)], &foot).is_none(),
            "it hangs over its foot"
        );
    }
}
