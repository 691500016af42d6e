//! Brackets that hold a bar's end on the axle's tube.

use super::bracket::place;
use super::{
    Anchor, Plates, Solid, arc, basis, circle, cuboid, cylinder, extrude, frame_bracket, held, hull, hull_of_circles,
    sweep,
};
use bevy::math::{Vec2, Vec3};

/// A bracket on an axle tube, in the axle frame: two plates across Y, saddled on the tube of `tube_radius` about the
/// Y axis, that reach to the bolt at `mount`, whatever its direction. Where `bolt_axis` is nearer to X or Z than to Y
/// the plates stand across it instead, on a pad on the side of the tube that faces the mount.
#[must_use]
pub fn axle_bracket(mount: Vec3, bolt_axis: Vec3, tube_radius: f32, plates: &Plates) -> Solid {
    let plates = plates.sane();
    let mount = place(mount);
    let tube = held(tube_radius, 0.005, 0.5);
    let away = Vec2::new(mount.x, mount.z);
    if bolt_axis.try_normalize().is_some_and(|axis| axis.y.abs() < 0.7) {
        let normal = Vec3::new(away.x, 0.0, away.y).normalize_or(Vec3::Z);
        let centre = normal * tube * 0.75 + Vec3::Y * mount.y;
        let size = Vec2::new((plates.gap + plates.thickness * 2.0).max(tube * 1.8), tube * 1.5);
        return frame_bracket(
            mount,
            &Anchor {
                centre,
                normal,
                along: Vec3::Y,
                size,
            },
            bolt_axis,
            &plates,
        );
    }
    let distance = away.length();
    let toward = away.normalize_or(Vec2::Y);
    let frame = basis(Vec3::Y * mount.y, Vec3::new(toward.x, 0.0, toward.y), -Vec3::Y);
    let (outline, hole) = saddle_outline(&plates, tube, distance);
    let plate = extrude(&outline, &[hole], plates.thickness, plates.thickness * 0.16);
    let mut all = Solid::default();
    for out in plates.middles() {
        all.merge(&plate.translated(Vec3::Z * out));
        all.merge(&bead(tube, SADDLE, out, plates.thickness * 0.45));
    }
    all.merge(&gusset(&plates, tube, distance));
    all.transformed(frame)
}

/// How far a saddle reaches round the tube to either side, radians.
const SADDLE: f32 = 1.25;

/// The outline of an axle bracket's plate and its bolt hole; the tube is at the origin and the bolt on +X.
fn saddle_outline(plates: &Plates, tube: f32, distance: f32) -> (Vec<Vec2>, Vec<Vec2>) {
    let grip = tube * 0.985;
    let boss = plates.boss();
    let bolt = circle(Vec2::new(distance, 0.0), plates.bolt * 0.51, 14);
    if distance < tube + plates.bolt * 0.7 {
        // The bolt lies in the tube or touches it: a collar round the tube, taking in the bolt where it can.
        let collar = hull_of_circles(&[(Vec2::ZERO, tube * 1.3), (Vec2::new(distance, 0.0), boss)]);
        return (collar, circle(Vec2::ZERO, grip, 40));
    }
    let heel = grip + boss * 0.42;
    let wing = |side: f32| Vec2::from_angle(side * SADDLE) * heel;
    let mut points = circle(Vec2::new(distance, 0.0), boss, 28);
    points.extend(
        [-1.0, 1.0]
            .into_iter()
            .flat_map(|side| [wing(side), wing(side * 0.8), Vec2::from_angle(side * SADDLE) * grip]),
    );
    let belt = hull(&points);
    let saddle = arc(Vec2::ZERO, grip, SADDLE, -SADDLE, 15);
    let starts = |here: usize| belt[here].distance(saddle[0]) < 1e-5;
    let count = belt.len();
    match (0..count).find(|here| starts(*here)) {
        Some(start) if belt[(start + 1) % count].distance(saddle[14]) < 1e-5 => {
            let rest = (1..count).map(|step| belt[(start + step) % count]);
            (saddle.iter().copied().chain(rest.skip(1)).collect(), bolt)
        }
        _ => (belt, bolt),
    }
}

/// A weld bead along a saddle, about the tube at the origin, at Z = `z`.
fn bead(tube: f32, half: f32, z: f32, radius: f32) -> Solid {
    let path: Vec<Vec3> = arc(Vec2::ZERO, tube, -half, half, 10)
        .into_iter()
        .map(|p| p.extend(z))
        .collect();
    let section: Vec<Vec2> = circle(Vec2::ZERO, radius, 5)
        .into_iter()
        .map(|p| p * Vec2::new(1.0, 2.4))
        .collect();
    sweep(&section, &path, Vec3::Z)
}

/// The web that ties the two plates together between tube and bolt.
fn gusset(plates: &Plates, tube: f32, distance: f32) -> Solid {
    let (from, to) = (tube * 0.95, distance - plates.boss() * 1.55);
    if to - from < plates.thickness * 1.5 {
        return Solid::default();
    }
    let wide = plates.gap + plates.thickness * 0.5;
    let thick = plates.thickness;
    let plate = cuboid(Vec3::new(to - from, thick, wide), thick * 0.15).translated(Vec3::X * (from + to) * 0.5);
    let rung = plates.gap * 0.5;
    let brace = cylinder(Vec3::new(to, 0.0, -rung), Vec3::new(to, 0.0, rung), thick * 0.9, 16);
    Solid::merged(&[plate, brace])
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    const PLATES: Plates = Plates {
        gap: 0.044,
        thickness: 0.006,
        bolt: 0.016,
    };

    #[test]
    fn an_axle_bracket_reaches_from_tube_to_bolt() {
        for turn in 0..12 {
            let away = Vec2::from_angle(turn as f32 * 0.6) * 0.11;
            let bracket = axle_bracket(Vec3::new(away.x, 0.4, away.y), Vec3::Y, 0.038, &PLATES);
            check::closed(&bracket);
            let (low, high) = bracket.bounds();
            assert!((low.y + high.y - 0.8).abs() < 1e-3);
            let far = bracket
                .positions
                .iter()
                .map(|p| Vec3::from_array(*p).with_y(0.0).length())
                .fold(0.0, f32::max);
            assert!((far - 0.11 - PLATES.boss()).abs() < 1e-3);
        }
    }

    #[test]
    fn an_axle_bracket_grows_away_from_the_tube_without_gaps() {
        for step in 0..60 {
            let bracket = axle_bracket(Vec3::new(step as f32 * 0.005, 0.4, 0.0), Vec3::Y, 0.038, &PLATES);
            check::sound(&bracket);
            assert!(bracket.volume() > 0.0, "{step}");
        }
    }

    #[test]
    fn any_mount_gives_a_sane_bracket() {
        let axes = [Vec3::X, Vec3::Y, Vec3::Z, Vec3::ZERO, Vec3::new(0.3, 0.8, 0.5)];
        for mount in [
            Vec3::ZERO,
            Vec3::new(0.01, 0.4, 0.01),
            Vec3::new(5.0, -3.0, 2.0),
            Vec3::splat(1e30),
        ] {
            for axis in axes {
                let bracket = axle_bracket(mount, axis, 0.038, &PLATES);
                check::sound(&bracket);
                assert!(!bracket.is_empty());
            }
        }
    }
}
