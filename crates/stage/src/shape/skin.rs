//! Smooth skins over rings of points, quick enough to be made anew in every frame.

use super::{Solid, circle, held};
use bevy::math::{Quat, Vec2, Vec3};

/// A closed skin over rings of equally many points that run counter-clockwise seen from the last one, both ends flat.
#[must_use]
pub fn skin(rings: &[Vec<Vec3>]) -> Solid {
    let around = rings.iter().map(Vec::len).min().unwrap_or(0);
    if rings.len() < 2 || around < 3 {
        return Solid::default();
    }
    let mut solid = Solid::default();
    solid.positions.reserve(rings.len() * around + 2 * around + 2);
    for (here, ring) in rings.iter().enumerate() {
        let (back, on) = (&rings[here.saturating_sub(1)], &rings[(here + 1).min(rings.len() - 1)]);
        let middle = centre(ring);
        for at in 0..around {
            let across = ring[(at + 1) % around] - ring[(at + around - 1) % around];
            let out = across.cross(on[at] - back[at]).try_normalize();
            let normal = out.unwrap_or((ring[at] - middle).normalize_or(Vec3::Z));
            solid.positions.push(ring[at].to_array());
            solid.normals.push(normal.to_array());
        }
    }
    for here in 1..rings.len() {
        for at in 0..around {
            let next = (at + 1) % around;
            let [a, b, c, d] = [
                (here - 1) * around + at,
                (here - 1) * around + next,
                here * around + next,
                here * around + at,
            ]
            .map(|i| i as u32);
            solid.indices.extend([a, b, c, a, c, d]);
        }
    }
    cap(&mut solid, &rings[0][..around], false);
    cap(&mut solid, &rings[rings.len() - 1][..around], true);
    solid
}

fn centre(ring: &[Vec3]) -> Vec3 {
    ring.iter().copied().sum::<Vec3>() / ring.len().max(1) as f32
}

/// A flat end; the last one keeps the ring's sense.
fn cap(solid: &mut Solid, ring: &[Vec3], last: bool) {
    let (count, base) = (ring.len(), solid.positions.len() as u32);
    let middle = centre(ring);
    let turn = |at: usize| (ring[at] - middle).cross(ring[(at + 1) % count] - middle);
    let sense = if last { 1.0 } else { -1.0 };
    let normal = ((0..count).map(turn).sum::<Vec3>() * 1e4).normalize_or(Vec3::Z) * sense;
    for point in ring.iter().chain([&middle]) {
        solid.positions.push(point.to_array());
        solid.normals.push(normal.to_array());
    }
    let hub = base + count as u32;
    for at in 0..count as u32 {
        let next = base + (at + 1) % count as u32;
        let pair = if last { [base + at, next] } else { [next, base + at] };
        solid.indices.extend([pair[0], pair[1], hub]);
    }
}

/// A round bar or a thin line along a path that may turn any way; it does not twist.
#[must_use]
pub fn pipe(path: &[Vec3], radius: f32, segments: usize) -> Solid {
    let radius = held(radius, 2e-4, 1.0);
    let mut path: Vec<Vec3> = path.iter().copied().filter(|p| p.is_finite()).collect();
    path.dedup_by(|a, b| a.distance_squared(*b) < 1e-10);
    if path.len() < 2 {
        return Solid::default();
    }
    let last = path.len() - 1;
    let travel = |here: usize| {
        let (before, after) = (path[here.saturating_sub(1)], path[(here + 1).min(last)]);
        (after - before).normalize_or(Vec3::X)
    };
    let mut direction = travel(0);
    let mut side = direction.any_orthonormal_vector();
    let section = circle(Vec2::ZERO, radius, segments);
    let mut rings = Vec::with_capacity(path.len());
    for (here, point) in path.iter().enumerate() {
        let now = travel(here);
        side = (Quat::from_rotation_arc(direction, now) * side)
            .reject_from_normalized(now)
            .normalize_or(now.any_orthonormal_vector());
        direction = now;
        let up = now.cross(side);
        rings.push(section.iter().map(|p| *point + side * p.x + up * p.y).collect());
    }
    skin(&rings)
}

/// A line through `points` with its corners bent to `radius`, as far as the runs between them are long enough.
#[must_use]
pub fn bent(points: &[Vec3], radius: f32) -> Vec<Vec3> {
    const STEPS: usize = 8;
    let mut path = Vec::with_capacity(points.len() * STEPS);
    for (here, &corner) in points.iter().enumerate() {
        if here == 0 || here + 1 == points.len() {
            path.push(corner);
            continue;
        }
        let (back, on) = (points[here - 1] - corner, points[here + 1] - corner);
        let half = back.normalize_or_zero().angle_between(on.normalize_or_zero()) / 2.0;
        let room = back.length().min(on.length()) * 0.48;
        let cut = (radius / half.tan().max(0.05)).min(room);
        let (from, to) = (corner + back.clamp_length_max(cut), corner + on.clamp_length_max(cut));
        path.extend((0..=STEPS).map(|step| {
            let share = step as f32 / STEPS as f32;
            from.lerp(corner, share).lerp(corner.lerp(to, share), share)
        }));
    }
    path
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_pipe_is_closed_whichever_way_it_turns() {
        let corners = [
            Vec3::ZERO,
            Vec3::X,
            Vec3::new(1.0, 0.0, 1.0),
            Vec3::new(1.0, 1.0, 1.0),
            Vec3::new(0.5, 1.0, -1.0),
        ];
        let run = pipe(&bent(&corners, 0.2), 0.05, 12);
        check::closed(&run);
        let straight = pipe(&[Vec3::ZERO, Vec3::Z], 0.1, 48);
        check::closed(&straight);
        assert!((straight.volume() - std::f32::consts::PI * 0.01).abs() < 3e-4);
    }

    #[test]
    fn a_bend_starts_and_ends_where_the_line_does_and_cuts_the_corner() {
        let path = bent(&[Vec3::ZERO, Vec3::X, Vec3::new(1.0, 1.0, 0.0)], 0.1);
        assert_eq!(path[0], Vec3::ZERO);
        assert_eq!(path[path.len() - 1], Vec3::new(1.0, 1.0, 0.0));
        assert!(path.iter().all(|p| p.distance(Vec3::X) > 0.03));
    }

    #[test]
    fn silly_pipes_do_no_harm() {
        check::sound(&pipe(&[Vec3::ZERO, Vec3::ZERO], 0.1, 8));
        check::sound(&pipe(&[Vec3::ZERO, Vec3::NAN, Vec3::X, Vec3::ZERO], -1.0, 0));
        check::sound(&skin(&[]));
        check::sound(&pipe(&bent(&[Vec3::ZERO, Vec3::ZERO, Vec3::X], 1e9), 0.01, 6));
    }
}
