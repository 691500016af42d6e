//! The metal of a rail: its section carried along its length, with holes through the web.

use super::rails::{lift_z, notch_z};
use super::{RailSection, Rails, SMOOTH, Solid, Soup, circle};
use bevy::math::{Vec2, Vec3};

/// A round hole through the outer web.
#[derive(Clone, Copy)]
pub(super) struct Hole {
    x: f32,
    radius: f32,
}

/// Holes in the middle of the web, well clear of the notch and its plate.
pub(super) fn hole_stations(rails: &Rails) -> Vec<Hole> {
    let pitch = 0.19;
    let radius = (rails.height * 0.11).min(0.02);
    let count = ((rails.front_x - rails.rear_x) / pitch) as usize;
    let clear = rails.notch.map_or(0.0, |notch| notch.half_length + rails.height * 0.55);
    let at = |number: usize| rails.rear_x + 0.1 + pitch * number as f32;
    let size = |number: usize| {
        if number.is_multiple_of(3) {
            radius
        } else {
            radius * 0.55
        }
    };
    let all = (0..count).map(|number| Hole {
        x: at(number),
        radius: size(number),
    });
    all.filter(|hole| hole.x.abs() > clear && hole.x < rails.front_x - 0.05)
        .collect()
}

/// The stations along X that the beam is built from, from the rear to the front.
fn stations(rails: &Rails, holes: &[Hole]) -> Vec<f32> {
    let mut all = vec![rails.rear_x, rails.front_x];
    let mut fine = |from: f32, to: f32, count: usize| {
        all.extend((0..=count).map(|step| from + (to - from) * step as f32 / count as f32));
    };
    if let Some(kick) = rails.kick {
        fine(kick.start_x, kick.full_x, 14);
        fine(kick.level_end_x, kick.end_x, 14);
    }
    if let Some(notch) = rails.notch {
        (0..=11).for_each(|step| {
            let share = (step as f32 / 11.0 * std::f32::consts::FRAC_PI_2).sin();
            fine(-share * notch.half_length, share * notch.half_length, 1);
        });
    }
    let covered = |x: f32| holes.iter().any(|hole| (x - hole.x).abs() < hole.radius * 1.3);
    all.retain(|x| x.is_finite() && *x >= rails.rear_x && *x <= rails.front_x && !covered(*x));
    all.extend(
        holes
            .iter()
            .flat_map(|hole| [hole.x - hole.radius * 1.3, hole.x + hole.radius * 1.3]),
    );
    all.sort_by(f32::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-4);
    all
}

/// The left rail's section between `low` and `high`, as loops of (Y, Z) that keep the metal on their left seen from
/// the front. In every loop the edge from point 0 to point 1 is a face of the web.
fn loops(rails: &Rails, low: f32, high: f32) -> Vec<Vec<Vec2>> {
    let out = rails.spacing * 0.5;
    let round = (rails.wall * 1.6).min(rails.flange_width * 0.2);
    let p = Vec2::new;
    let web = [p(out, low + round), p(out, high - round)];
    let top = [p(out - round * 0.3, high - round * 0.3), p(out - round, high)];
    let bottom = [p(out - round, low), p(out - round * 0.3, low + round * 0.3)];
    match rails.section {
        RailSection::Channel => vec![[&web[..], &top, &channel_inside(rails, low, high, round), &bottom].concat()],
        RailSection::Box => {
            let inn = out - rails.flange_width;
            let (edge, wall) = (inn + round, rails.wall);
            let far = [p(edge, high), p(inn, high - round), p(inn, low + round), p(edge, low)];
            let (left, right, floor, roof) = (inn + wall, out - wall, low + wall, high - wall);
            let hollow = vec![p(right, roof), p(right, floor), p(left, floor), p(left, roof)];
            vec![[&web[..], &top, &far, &bottom].concat(), hollow]
        }
    }
}

/// The inside of a channel, from the tip of its upper flange round to the tip of its lower one.
fn channel_inside(rails: &Rails, low: f32, high: f32, round: f32) -> [Vec2; 8] {
    let (web, tip) = (
        rails.spacing * 0.5 - rails.wall,
        rails.spacing * 0.5 - rails.flange_width,
    );
    let (floor, roof, bend) = (low + rails.wall, high - rails.wall, round * 0.4);
    let p = Vec2::new;
    [
        p(tip, high),
        p(tip, roof),
        p(web - bend, roof),
        p(web, roof - bend),
        p(web, floor + bend),
        p(web - bend, floor),
        p(tip, floor),
        p(tip, low),
    ]
}

/// The metal of the left rail.
pub(super) fn beam(rails: &Rails, holes: &[Hole]) -> Solid {
    let stations = stations(rails, holes);
    let section = |x: f32| {
        loops(
            rails,
            lift_z(rails, x) + notch_z(rails, x),
            lift_z(rails, x) + rails.height,
        )
    };
    let placed = |x: f32| {
        let lay = |ring: Vec<Vec2>| ring.iter().map(|p| Vec3::new(x, p.x, p.y)).collect::<Vec<_>>();
        section(x).into_iter().map(lay).collect::<Vec<_>>()
    };
    let rings: Vec<Vec<Vec<Vec3>>> = stations.iter().map(|x| placed(*x)).collect();
    let mut soup = Soup::default();
    for (number, pair) in rings.windows(2).enumerate() {
        let middle = (stations[number] + stations[number + 1]) * 0.5;
        let hole = holes.iter().find(|hole| (hole.x - middle).abs() < 1e-3);
        span(&mut soup, rails, (&pair[0], &pair[1]), hole.copied());
    }
    if let (Some(first), Some(last)) = (rings.first(), rings.last()) {
        ends(&mut soup, first, true);
        ends(&mut soup, last, false);
    }
    soup.outward().solid(SMOOTH)
}

/// The length of rail between two stations, with a hole through the web if there is one.
fn span(soup: &mut Soup, rails: &Rails, (rear, front): (&[Vec<Vec3>], &[Vec<Vec3>]), hole: Option<Hole>) {
    let inner_edge = match rails.section {
        RailSection::Channel => (0, 7),
        RailSection::Box => (1, 0),
    };
    for (number, (a, b)) in rear.iter().zip(front).enumerate() {
        for here in 0..a.len() {
            let next = (here + 1) % a.len();
            let is_web = (number, here) == (0, 0) || (number, here) == inner_edge;
            match hole {
                Some(hole) if is_web => punched(soup, [a[here], a[next], b[next], b[here]], hole),
                _ => soup.quad(a[here], a[next], b[next], b[here]),
            }
        }
    }
    if let Some(hole) = hole {
        let mid = |ring: &[Vec3], at: usize| (ring[at] + ring[(at + 1) % ring.len()]) * 0.5;
        let outer = (mid(&rear[0], 0) + mid(&front[0], 0)) * 0.5;
        let y = rails.spacing * 0.5;
        let ring = |y: f32| {
            hole_ring(hole, outer.z)
                .map(|p| Vec3::new(p.x, y, p.z))
                .collect::<Vec<_>>()
        };
        soup.bridge(&ring(y - rails.wall), &ring(y));
    }
}

const HOLE_POINTS: usize = 16;

fn hole_ring(hole: Hole, z: f32) -> impl Iterator<Item = Vec3> {
    let points = circle(Vec2::new(hole.x, z), hole.radius, HOLE_POINTS);
    points.into_iter().map(|p| Vec3::new(p.x, 0.0, p.y))
}

/// A four-sided face of constant Y with a round hole in it; the corners run rear, rear, front, front.
fn punched(soup: &mut Soup, corners: [Vec3; 4], hole: Hole) {
    let middle = corners.iter().copied().sum::<Vec3>() * 0.25;
    let ring: Vec<Vec3> = hole_ring(hole, middle.z)
        .map(|p| Vec3::new(p.x, corners[0].y, p.z))
        .collect();
    let up = corners[1].z > corners[0].z;
    // The corners as they are met going round the hole from its front: front top, rear top, rear bottom, front bottom.
    let met = if up {
        [corners[2], corners[1], corners[0], corners[3]]
    } else {
        [corners[3], corners[0], corners[1], corners[2]]
    };
    let quarter = HOLE_POINTS / 4;
    let mut put = |a: Vec3, b: Vec3, c: Vec3| if up { soup.tri(a, c, b) } else { soup.tri(a, b, c) };
    for side in 0..4 {
        for step in 0..quarter {
            let here = side * quarter + step;
            put(met[side], ring[(here + 1) % HOLE_POINTS], ring[here]);
        }
        put(met[side], met[(side + 1) % 4], ring[(side + 1) * quarter % HOLE_POINTS]);
    }
}

/// The sawn end of a rail.
fn ends(soup: &mut Soup, rings: &[Vec<Vec3>], rear: bool) {
    let mut quad = |a: Vec3, b: Vec3, c: Vec3, d: Vec3| {
        if rear {
            soup.quad(d, c, b, a);
        } else {
            soup.quad(a, b, c, d);
        }
    };
    match rings {
        [r] => {
            // Points 0 to 3 outside web and top bend, 4 to 7 the upper flange, 8 to 11 the lower one, 12 and 13 its bend.
            quad(r[0], r[1], r[7], r[8]);
            quad(r[1], r[2], r[6], r[7]);
            quad(r[2], r[3], r[5], r[6]);
            quad(r[3], r[4], r[5], r[5]);
            quad(r[8], r[9], r[13], r[0]);
            quad(r[9], r[10], r[12], r[13]);
            quad(r[10], r[11], r[12], r[12]);
        }
        [o, h] => {
            quad(o[0], o[1], h[0], h[1]);
            quad(o[1], o[2], o[3], h[0]);
            quad(o[3], o[4], h[3], h[0]);
            quad(o[4], o[5], h[3], h[3]);
            quad(o[5], o[6], h[2], h[3]);
            quad(o[6], o[7], h[2], h[2]);
            quad(o[7], o[8], h[1], h[2]);
            quad(o[8], o[9], o[0], h[1]);
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_straight_box_has_the_volume_of_its_walls() {
        let rails = Rails {
            spacing: 0.8,
            height: 0.1,
            flange_width: 0.05,
            wall: 0.004,
            section: RailSection::Box,
            front_x: 1.0,
            rear_x: 0.0,
            kick: None,
            notch: None,
        };
        let metal = beam(&rails, &[]);
        check::closed(&metal);
        let wanted = 0.1 * 0.05 - 0.092 * 0.042;
        assert!(
            (metal.volume() - wanted).abs() < wanted * 0.1,
            "{} {wanted}",
            metal.volume()
        );
        let holes = hole_stations(&rails);
        assert!(!holes.is_empty());
        check::closed(&beam(&rails, &holes));
    }
}
