//! Bell cranks.

use super::{Solid, basis, circle, extrude, held, hull_of_circles, tube};
use bevy::math::{Vec2, Vec3};
use std::f32::consts::PI;

/// A bell crank: a plate across `axis` with bosses at its pivot and at the ends of both arms, its edges waisted and
/// the arms pierced. `arm_a` and `arm_b` are the places of the arms' bolts; all in one frame, metres. Arms out of the
/// plane of the plate are drawn where they meet it.
#[must_use]
pub fn bell_crank(pivot: Vec3, axis: Vec3, arm_a: Vec3, arm_b: Vec3, thickness: f32) -> Solid {
    let thickness = held(thickness, 0.003, 0.2);
    let axis = axis.try_normalize().unwrap_or(Vec3::Y);
    let pivot = if pivot.is_finite() { pivot } else { Vec3::ZERO };
    let frame = basis(pivot, arm_a - pivot, axis);
    let flat = |point: Vec3| {
        let seen = frame.inverse().transform_point3(point).truncate();
        if seen.is_finite() {
            seen.clamp_length_max(5.0)
        } else {
            Vec2::ZERO
        }
    };
    let (a, b) = (flat(arm_a), flat(arm_b));
    let pivot_radius = held(a.length().max(b.length()) * 0.2, thickness * 0.9, thickness * 2.4);
    let end_radius = pivot_radius * 0.76;
    let circles = [(Vec2::ZERO, pivot_radius), (a, end_radius), (b, end_radius)];
    let bores: Vec<Vec<Vec2>> = distinct(&circles)
        .into_iter()
        .map(|(at, radius)| circle(at, radius * 0.5, 16))
        .collect();
    let outline = waisted(&circles);
    let mut holes = bores;
    holes.extend(lightening(&circles));
    let plate = extrude(&outline, &holes, thickness * 0.62, thickness * 0.1);
    let bosses = distinct(&circles)
        .into_iter()
        .map(|(at, radius)| boss(at, radius, thickness));
    let parts: Vec<Solid> = bosses.chain([plate]).collect();
    Solid::merged(&parts).transformed(frame)
}

/// The circles without those that lie on an earlier one.
fn distinct(circles: &[(Vec2, f32); 3]) -> Vec<(Vec2, f32)> {
    let mut kept: Vec<(Vec2, f32)> = Vec::new();
    for (at, radius) in circles {
        if kept
            .iter()
            .all(|(other, size)| other.distance(*at) > (size + radius) * 0.55)
        {
            kept.push((*at, *radius));
        }
    }
    kept
}

/// A bearing boss that stands out on both sides of the plate.
fn boss(at: Vec2, radius: f32, thickness: f32) -> Solid {
    let half = thickness * 0.5;
    let ends = (at.extend(-half), at.extend(half));
    let ring = tube(ends.0, ends.1, radius * 0.8, radius * 0.46, 20);
    let sleeve = tube(
        ends.0 * 1.0 - Vec3::Z * half * 0.12,
        ends.1 + Vec3::Z * half * 0.12,
        radius * 0.47,
        radius * 0.34,
        16,
    );
    Solid::merged(&[ring, sleeve])
}

/// A belt round the three circles whose straight runs are drawn in.
fn waisted(circles: &[(Vec2, f32); 3]) -> Vec<Vec2> {
    let belt = hull_of_circles(circles);
    let count = belt.len();
    let mut drawn = Vec::with_capacity(count + 30);
    for here in 0..count {
        let (from, to) = (belt[here], belt[(here + 1) % count]);
        let length = from.distance(to);
        drawn.push(from);
        if length > circles[0].1 * 1.2 {
            let most = depth_at(circles, from.lerp(to, 0.5), length);
            let inward = (to - from).normalize_or_zero().perp() * most;
            drawn.extend((1..8).map(|step| {
                let share = step as f32 / 8.0;
                from.lerp(to, share) + inward * (share * PI).sin().powi(2)
            }));
        }
    }
    drawn
}

/// How far a run may be drawn in: less where the crank is slim there.
fn depth_at(circles: &[(Vec2, f32); 3], middle: Vec2, length: f32) -> f32 {
    let spine = [(circles[0].0, circles[1].0), (circles[0].0, circles[2].0)];
    let clear = spine
        .iter()
        .map(|(a, b)| distance_to(middle, *a, *b))
        .fold(f32::MAX, f32::min);
    (clear - circles[1].1 * 0.62).clamp(0.0, length * 0.22)
}

fn distance_to(point: Vec2, a: Vec2, b: Vec2) -> f32 {
    let run = b - a;
    let share = ((point - a).dot(run) / run.length_squared().max(1e-9)).clamp(0.0, 1.0);
    point.distance(a + run * share)
}

/// A hole in the middle of each arm that is long enough for one, clear of the other arm.
fn lightening(circles: &[(Vec2, f32); 3]) -> Vec<Vec<Vec2>> {
    let (a, b) = (circles[1].0, circles[2].0);
    let (root, tip) = (circles[0].1, circles[1].1);
    let hole = |arm: Vec2, other: Vec2| {
        let room = arm.length() - root - tip;
        let at = arm.normalize_or_zero() * (root + room * 0.5);
        let radius = (tip * 0.36).min(room * 0.36);
        let apart = distance_to(at, Vec2::ZERO, other);
        (room > tip * 0.6 && apart > tip * 1.2).then(|| circle(at, radius, 16))
    };
    [hole(a, b), hole(b, a)].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_crank_is_closed_at_any_angle() {
        for step in 1..40 {
            let arm = Vec2::from_angle(step as f32 * 0.16) * 0.14;
            let crank = bell_crank(Vec3::ZERO, Vec3::Y, Vec3::X * 0.16, Vec3::new(arm.x, 0.0, arm.y), 0.02);
            check::closed(&crank);
            let (low, high) = crank.bounds();
            assert!((high.y + low.y).abs() < 1e-5 && high.y < 0.013);
        }
    }

    #[test]
    fn silly_cranks_do_no_harm() {
        let points = [Vec3::ZERO, Vec3::Y, Vec3::splat(1e-7), Vec3::splat(1e20)];
        for a in points {
            for b in points {
                check::sound(&bell_crank(Vec3::ZERO, a, a, b, 0.02));
                check::sound(&bell_crank(a, Vec3::Y, b, a, 0.0));
            }
        }
    }
}
