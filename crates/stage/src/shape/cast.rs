//! Cast shapes: bodies that flow into one another with fillets, drawn from a distance field.

use super::Solid;
use bevy::math::{IVec3, Vec2, Vec3};
use std::collections::HashMap;

/// The distance from `at` to a round body along X whose radius goes from `near` at X = `from` to `far` at X = `to`.
#[must_use]
pub fn cone_x(at: Vec3, from: f32, to: f32, near: f32, far: f32) -> f32 {
    let half = ((to - from) * 0.5).max(1e-4);
    let share = ((at.x - from) / (half * 2.0)).clamp(0.0, 1.0);
    let slope = (far - near) / (half * 2.0);
    let side = (Vec2::new(at.y, at.z).length() - (near + (far - near) * share)) / (1.0 + slope * slope).sqrt();
    let end = (at.x - (from + to) * 0.5).abs() - half;
    side.max(end).min(0.0) + Vec2::new(side.max(0.0), end.max(0.0)).length()
}

/// Two bodies joined by a fillet of about `fillet` metres.
#[must_use]
pub fn blend(a: f32, b: f32, fillet: f32) -> f32 {
    let near = (fillet - (a - b).abs()).max(0.0) / fillet.max(1e-5);
    a.min(b) - near * near * fillet * 0.25
}

/// The surface where `field` is zero inside the box from `low` to `high`, in cells of `cell` metres. The field is
/// negative inside the body and about a distance near its surface; the box must hold all of the body.
pub fn cast(field: impl Fn(Vec3) -> f32, low: Vec3, high: Vec3, cell: f32) -> Solid {
    let size = ((high - low) / cell)
        .ceil()
        .clamp(Vec3::ONE, Vec3::splat(120.0))
        .as_ivec3()
        + IVec3::ONE;
    let at = |here: IVec3| low + here.as_vec3() * cell;
    let index = |here: IVec3| ((here.z * size.y + here.y) * size.x + here.x) as usize;
    let samples = sampled(size, |here| field(at(here)));
    let mut corners: HashMap<IVec3, u32> = HashMap::new();
    let mut solid = Solid::default();
    for here in cells(size - IVec3::ONE) {
        let values = CORNERS.map(|corner| samples[index(here + corner)]);
        if let Some(offset) = crossing(&values) {
            corners.insert(here, solid.positions.len() as u32);
            let (point, normal) = settled(&field, at(here) + offset * cell, cell);
            solid.positions.push(point.to_array());
            solid.normals.push(normal.to_array());
        }
    }
    for here in cells(size - IVec3::ONE) {
        for axis in 0..3 {
            let (a, b) = (samples[index(here)], samples[index(here + AXES[axis])]);
            if (a < 0.0) != (b < 0.0) {
                face(&mut solid.indices, &corners, here, axis, a < 0.0);
            }
        }
    }
    solid
}

const AXES: [IVec3; 3] = [IVec3::X, IVec3::Y, IVec3::Z];

const CORNERS: [IVec3; 8] = [
    IVec3::new(0, 0, 0),
    IVec3::new(1, 0, 0),
    IVec3::new(0, 1, 0),
    IVec3::new(1, 1, 0),
    IVec3::new(0, 0, 1),
    IVec3::new(1, 0, 1),
    IVec3::new(0, 1, 1),
    IVec3::new(1, 1, 1),
];

fn cells(size: IVec3) -> impl Iterator<Item = IVec3> {
    (0..size.z).flat_map(move |z| (0..size.y).flat_map(move |y| (0..size.x).map(move |x| IVec3::new(x, y, z))))
}

/// The field at every grid point; the faces of the box count as outside, so the surface is always closed.
fn sampled(size: IVec3, field: impl Fn(IVec3) -> f32) -> Vec<f32> {
    let edge = |here: IVec3| here.min_element() == 0 || (size - here).min_element() == 1;
    cells(size)
        .map(|here| if edge(here) { field(here).max(1e-4) } else { field(here) })
        .collect()
}

/// The middle of the points where the surface cuts a cell's edges, as shares of the cell.
fn crossing(values: &[f32; 8]) -> Option<Vec3> {
    let mut sum = Vec3::ZERO;
    let mut count = 0.0;
    for first in 0..8_usize {
        for bit in [1, 2, 4] {
            let second = first | bit;
            let (a, b) = (values[first], values[second]);
            if second != first && (a < 0.0) != (b < 0.0) {
                sum += CORNERS[first].as_vec3().lerp(CORNERS[second].as_vec3(), a / (a - b));
                count += 1.0;
            }
        }
    }
    (count > 0.0).then(|| sum / count)
}

/// The point drawn onto the surface, and the normal there.
fn settled(field: &impl Fn(Vec3) -> f32, from: Vec3, cell: f32) -> (Vec3, Vec3) {
    let step = cell * 0.2;
    let slope = |p: Vec3| {
        let along = |axis: Vec3| field(p + axis * step) - field(p - axis * step);
        Vec3::new(along(Vec3::X), along(Vec3::Y), along(Vec3::Z)) / (step * 2.0)
    };
    let steep = slope(from);
    let pull = steep * (field(from) / steep.length_squared().max(0.05));
    let point = from - pull.clamp_length_max(cell * 0.4);
    (point, slope(point).try_normalize().unwrap_or(Vec3::Z))
}

/// The face across the grid edge that leaves `here` along an axis.
fn face(indices: &mut Vec<u32>, corners: &HashMap<IVec3, u32>, here: IVec3, axis: usize, leaving: bool) {
    let (side, up) = (AXES[(axis + 1) % 3], AXES[(axis + 2) % 3]);
    let around = [here - side - up, here - up, here, here - side].map(|cell| corners.get(&cell).copied());
    if let [Some(a), Some(b), Some(c), Some(d)] = around {
        indices.extend(if leaving {
            [a, b, c, a, c, d]
        } else {
            [a, c, b, a, d, c]
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    #[test]
    fn a_ball_is_closed_and_round() {
        let ball = cast(|p| p.length() - 0.1, Vec3::splat(-0.15), Vec3::splat(0.15), 0.01);
        check::closed(&ball);
        check::boxed(&ball, Vec3::splat(-0.1), Vec3::splat(0.1), 2e-3);
        let wanted = 4.0 / 3.0 * std::f32::consts::PI * 0.001;
        assert!((ball.volume() - wanted).abs() < wanted * 0.03);
    }

    #[test]
    fn a_body_beyond_the_box_is_cut_off() {
        check::closed(&cast(|p| p.z - 0.05, Vec3::splat(-0.1), Vec3::splat(0.1), 0.02));
    }
}
