//! What is bolted and welded to the rails: rivets, notch plates and crossmembers.

use super::rails::{Crossmember, Rails, lift_z, underside_z};
use super::{Axis, Solid, arc, basis, bevelled, bolt_head, circle, cuboid, extrude, lathe, sweep, tube};
use bevy::math::{Affine3A, Vec2, Vec3};
use std::f32::consts::PI;

/// A rivet head of `radius` on the plane Z = 0.
fn rivet(radius: f32) -> Solid {
    let profile =
        [(0.55, 0.0), (0.4, 0.6), (0.0, 1.0), (-0.15, 1.0), (-0.15, 0.0)].map(|(up, out)| Vec2::new(up, out) * radius);
    lathe(&profile, 8, Axis::Z)
}

/// Rivets along the web of the left rail, in pairs where crossmembers and hangers would be.
pub(super) fn fittings(rails: &Rails) -> Solid {
    let head = rivet(0.009_f32.min(rails.height * 0.08));
    let web = rails.spacing * 0.5;
    let clear = rails.notch.map_or(0.0, |notch| notch.half_length + rails.height * 0.5);
    let count = ((rails.front_x - rails.rear_x) / 0.38).min(40.0) as usize;
    let mut all = Solid::default();
    for number in 0..count {
        let x = rails.rear_x + 0.195 + number as f32 * 0.38;
        for (along, up) in [(-0.022, 0.24), (0.022, 0.24), (-0.022, 0.76), (0.022, 0.76)] {
            let at = Vec3::new(x + along, web, lift_z(rails, x + along) + rails.height * up);
            if at.x.abs() > clear && at.x < rails.front_x - 0.02 {
                all.merge(&head.transformed(basis(at, Vec3::X, Vec3::Y)));
            }
        }
    }
    all
}

/// The arched reinforcement round the notch of the left rail: a plate on the web and a strap under the cut.
pub(super) fn notch_plate(rails: &Rails) -> Solid {
    let Some(notch) = rails.notch else {
        return Solid::default();
    };
    let reach = notch.half_length + rails.height * 0.42;
    let thick = rails.wall * 0.9;
    let steps = 28;
    let at = |step: usize| notch.half_length * (2.0 * step as f32 / steps as f32 - 1.0);
    let below: Vec<Vec2> = (0..=steps)
        .map(|step| Vec2::new(at(step), underside_z(rails, at(step))))
        .collect();
    let edge = |x: f32, up: f32| Vec2::new(x, lift_z(rails, x) + rails.height * up);
    let mut outline = vec![edge(-reach, 0.02)];
    outline.extend(below.iter().copied());
    outline.extend([
        edge(reach, 0.02),
        edge(reach, 0.35),
        edge(reach - rails.height * 0.5, 0.93),
    ]);
    outline.extend([edge(-reach + rails.height * 0.5, 0.93), edge(-reach, 0.35)]);
    let web = rails.spacing * 0.5 + thick * 0.5;
    let lie = basis(Vec3::new(0.0, web, 0.0), Vec3::X, -Vec3::Y);
    let head = bolt_head(0.014_f32.min(rails.height * 0.12));
    let spots = [(0.15, 0.18), (0.17, 0.38), (0.56, 0.78), (0.95, 0.78)];
    let heads = [-1.0, 1.0]
        .into_iter()
        .flat_map(|side| spots.map(|(share, up)| edge(side * (reach - rails.height * share), up)));
    let bolts = head.repeated(heads.map(|p| basis(Vec3::new(p.x, web + thick * 0.5, p.y), Vec3::X, Vec3::Y)));
    let plate = extrude(&outline, &[], thick, thick * 0.25).transformed(lie);
    Solid::merged(&[plate, strap(rails, &below), bolts])
}

/// The flat bar bent into the cut.
fn strap(rails: &Rails, below: &[Vec2]) -> Solid {
    let (wide, thick) = (rails.flange_width * 1.02, rails.wall * 0.6);
    let middle = rails.spacing * 0.5 - rails.flange_width * 0.5 + rails.wall * 0.4;
    let p = Vec2::new;
    let section = [
        p(-wide * 0.5, -thick),
        p(wide * 0.5, -thick),
        p(wide * 0.5, thick),
        p(-wide * 0.5, thick),
    ];
    let path: Vec<Vec3> = below.iter().map(|p| Vec3::new(p.x, middle, p.y)).collect();
    sweep(&section, &path, Vec3::Z)
}

pub(super) fn crossmember_of(rails: &Rails, x: f32, kind: Crossmember) -> Solid {
    let (low, high) = (
        underside_z(rails, x) + rails.wall,
        lift_z(rails, x) + rails.height - rails.wall,
    );
    let (middle, tall) = ((low + high) * 0.5, (high - low).max(0.01));
    let half = rails.spacing * 0.5 - rails.wall;
    // Where the rail climbs, the pad lies along it, and the rail is less high square to it.
    let climb = (lift_z(rails, x + 0.01) - lift_z(rails, x - 0.01)) / 0.02;
    let lean = Affine3A::from_rotation_y(-climb.atan());
    let flat = tall * climb.atan().cos();
    let r = (tall * 0.30).min(0.05);
    let pad = cuboid(Vec3::new(tall * 1.1, 0.008, (flat * 0.86).max(r * 2.0)), 0.0015);
    let bolts = end_bolts(tall, flat);
    let body = match kind {
        Crossmember::Tube => tube(Vec3::Y * -half, Vec3::Y * half, r, r * 0.86, 24),
        Crossmember::Hat => hat(flat * 0.84, half).transformed(lean),
        Crossmember::Ends => Solid::default(),
    };
    let end = Solid::merged(&[
        pad.translated(Vec3::Y * (half - 0.004)),
        bolts.translated(Vec3::Y * (half - 0.008)),
    ])
    .transformed(lean);
    Solid::merged(&[body, end.mirrored_y(), end]).transformed(Affine3A::from_translation(Vec3::new(x, 0.0, middle)))
}

fn end_bolts(tall: f32, flat: f32) -> Solid {
    let head = bolt_head(0.012_f32.min(tall * 0.14)).transformed(basis(Vec3::ZERO, Vec3::X, -Vec3::Y));
    let spots = [(-1.0, -1.0), (-1.0, 1.0), (1.0, -1.0), (1.0, 1.0)];
    let maps = spots.map(|(x, z)| Affine3A::from_translation(Vec3::new(x * tall * 0.45, 0.0, z * flat * 0.32)));
    head.repeated(maps)
}

/// A hat section along Y between -`half` and `half`, `tall` high about Z = 0, with holes in its crown.
fn hat(tall: f32, half: f32) -> Solid {
    let (wide, wall, lip) = (tall * 0.5, (tall * 0.045).max(0.002), tall * 0.3);
    let (top, bottom) = (tall * 0.5, -tall * 0.5);
    let p = Vec2::new;
    let right = [
        p(wide + lip, bottom),
        p(wide + lip, bottom + wall),
        p(wide + wall, bottom + wall),
        p(wide * 0.86 + wall, top),
    ];
    let inner = [p(wide * 0.86, top - wall), p(wide, bottom)];
    let flip = |q: &Vec2| Vec2::new(-q.x, q.y);
    let mut outline: Vec<Vec2> = right.to_vec();
    outline.extend(right.iter().rev().map(flip));
    outline.extend(inner.iter().rev().map(flip));
    outline.extend(inner);
    let round = bevelled(&outline, true, wall * 0.8);
    let section = extrude(&round, &[], half * 2.0, 0.0);
    let hole = lathe(&washer(tall * 0.13, wall * 0.6), 14, Axis::Z).translated(Vec3::Z * top);
    let rims = [-0.6, -0.3, 0.0, 0.3, 0.6].map(|share| hole.translated(Vec3::Y * half * share));
    Solid::merged(&[
        section.transformed(basis(Vec3::ZERO, Vec3::X, -Vec3::Y)),
        Solid::merged(&rims),
    ])
}

/// The pressed rim of a lightening hole.
fn washer(radius: f32, lift: f32) -> Vec<Vec2> {
    let mut ring = arc(Vec2::new(0.0, radius), lift, 0.0, PI, 5);
    ring.extend(circle(Vec2::new(0.0, radius), lift, 4).into_iter().skip(3));
    ring
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::super::{RailSection, crossmember};
    use super::*;

    #[test]
    fn crossmembers_reach_from_web_to_web() {
        let rails = Rails {
            spacing: 0.86,
            height: 0.15,
            flange_width: 0.065,
            wall: 0.006,
            section: RailSection::Channel,
            front_x: 1.0,
            rear_x: -1.0,
            kick: None,
            notch: None,
        };
        for kind in [Crossmember::Tube, Crossmember::Hat] {
            let member = crossmember(&rails, 0.5, kind);
            check::closed(&member);
            let (low, high) = member.bounds();
            assert!((low.y + 0.424).abs() < 1e-4 && (high.y - 0.424).abs() < 1e-4);
            assert!(low.z > 0.0 && high.z < 0.15);
        }
    }
}
