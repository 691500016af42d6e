//! Loose triangles, and how they become a mesh with hard and soft edges.

use super::Solid;
use bevy::math::Vec3;
use std::collections::HashMap;

/// The greatest angle between two faces, degrees, that is still drawn as one round surface.
pub const SMOOTH: f32 = 38.0;

/// Positions nearer to each other than this are one, metres.
const WELD: f32 = 2e-6;

/// Loose triangles under construction, metres.
#[derive(Clone, Default, Debug)]
pub struct Soup {
    triangles: Vec<[Vec3; 3]>,
}

impl Soup {
    /// Adds one triangle, counter-clockwise seen from outside.
    pub fn tri(&mut self, a: Vec3, b: Vec3, c: Vec3) {
        if a.is_finite() && b.is_finite() && c.is_finite() {
            self.triangles.push([a, b, c]);
        }
    }

    /// Adds a four-sided face, counter-clockwise seen from outside.
    pub fn quad(&mut self, a: Vec3, b: Vec3, c: Vec3, d: Vec3) {
        self.tri(a, b, c);
        self.tri(a, c, d);
    }

    /// Joins two rings of equally many points by a band of faces.
    pub fn bridge(&mut self, near: &[Vec3], far: &[Vec3]) {
        let count = near.len().min(far.len());
        for here in 0..count {
            let next = (here + 1) % count;
            self.quad(near[here], near[next], far[next], far[here]);
        }
    }

    /// Joins two strings of equally many points by a band of faces that is open at its ends.
    pub fn ribbon(&mut self, near: &[Vec3], far: &[Vec3]) {
        for (a, b) in near.windows(2).zip(far.windows(2)) {
            self.quad(a[0], a[1], b[1], b[0]);
        }
    }

    /// Fills a convex ring with a fan about its middle.
    pub fn cap(&mut self, ring: &[Vec3]) {
        if let [a, b, c, d] = *ring {
            return self.quad(a, b, c, d);
        }
        let middle = ring.iter().copied().sum::<Vec3>() / ring.len().max(1) as f32;
        for here in 0..ring.len() {
            self.tri(middle, ring[here], ring[(here + 1) % ring.len()]);
        }
    }

    /// Joins rings one after the other and caps both ends; the rings run counter-clockwise seen from the last one.
    pub fn loft(&mut self, rings: &[Vec<Vec3>]) {
        for pair in rings.windows(2) {
            self.bridge(&pair[0], &pair[1]);
        }
        if let (Some(first), Some(last)) = (rings.first(), rings.last()) {
            self.cap(&first.iter().rev().copied().collect::<Vec<_>>());
            self.cap(last);
        }
    }

    /// Turns all triangles over.
    pub fn flip(&mut self) {
        self.triangles.iter_mut().for_each(|corners| corners.swap(1, 2));
    }

    /// Turns all triangles over if they enclose a negative volume.
    #[must_use]
    pub fn outward(mut self) -> Soup {
        let anchor = self.triangles.first().map_or(Vec3::ZERO, |corners| corners[0]);
        let part = |[a, b, c]: &[Vec3; 3]| (*a - anchor).dot((*b - anchor).cross(*c - anchor));
        if self.triangles.iter().map(part).sum::<f32>() < 0.0 {
            self.flip();
        }
        self
    }

    /// The mesh, with edges sharper than `crease` degrees drawn hard.
    #[must_use]
    pub fn solid(&self, crease: f32) -> Solid {
        let faces: Vec<Face> = self.triangles.iter().filter_map(Face::of).collect();
        let mut around: HashMap<Key, Vec<(usize, f32)>> = HashMap::new();
        for (number, face) in faces.iter().enumerate() {
            for corner in 0..3 {
                around
                    .entry(key(face.corners[corner]))
                    .or_default()
                    .push((number, face.weight(corner)));
            }
        }
        let least = crease.to_radians().cos();
        let mut solid = Solid::default();
        let mut known: HashMap<(Key, Key), u32> = HashMap::new();
        for face in &faces {
            for corner in face.corners {
                let normal = face.blended(&faces, around.get(&key(corner)), least);
                let fresh = solid.positions.len() as u32;
                let index = *known.entry((key(corner), key(normal * 0.01))).or_insert(fresh);
                if index == fresh {
                    solid.positions.push(corner.to_array());
                    solid.normals.push(normal.to_array());
                }
                solid.indices.push(index);
            }
        }
        solid
    }
}

type Key = [i32; 3];

fn key(point: Vec3) -> Key {
    (point / WELD).round().to_array().map(|number| number as i32)
}

/// A triangle with its normal; the normal is zero where the corners lie in one line.
struct Face {
    corners: [Vec3; 3],
    normal: Vec3,
    area: f32,
}

impl Face {
    /// The face of three corners, unless two of them are one point.
    fn of(corners: &[Vec3; 3]) -> Option<Face> {
        let [a, b, c] = *corners;
        let (ka, kb, kc) = (key(a), key(b), key(c));
        if ka == kb || kb == kc || kc == ka {
            return None;
        }
        let cross = ((b - a) * 1e3).cross((c - a) * 1e3);
        Some(Face {
            corners: *corners,
            normal: cross.normalize_or_zero(),
            area: cross.length(),
        })
    }

    /// How much this face counts in the normal at one of its corners.
    fn weight(&self, corner: usize) -> f32 {
        let here = self.corners[corner];
        let (to_next, to_last) = (
            self.corners[(corner + 1) % 3] - here,
            self.corners[(corner + 2) % 3] - here,
        );
        let angle = to_next
            .normalize_or_zero()
            .dot(to_last.normalize_or_zero())
            .clamp(-1.0, 1.0)
            .acos();
        angle * self.area.sqrt()
    }

    /// The normal at a corner, shared with those faces that turn away less than the crease.
    fn blended(&self, faces: &[Face], around: Option<&Vec<(usize, f32)>>, least: f32) -> Vec3 {
        let near = around.map(Vec::as_slice).unwrap_or_default();
        let flat = self.normal == Vec3::ZERO;
        let shared = near
            .iter()
            .filter(|(other, _)| flat || faces[*other].normal.dot(self.normal) > least);
        let sum: Vec3 = shared.map(|(other, weight)| faces[*other].normal * *weight).sum();
        sum.try_normalize().or(self.normal.try_normalize()).unwrap_or(Vec3::Z)
    }
}

#[cfg(test)]
mod tests {
    use super::super::solid::check;
    use super::*;

    fn block() -> Soup {
        let ring = |z: f32| {
            vec![
                Vec3::new(0.0, 0.0, z),
                Vec3::new(1.0, 0.0, z),
                Vec3::new(1.0, 1.0, z),
                Vec3::new(0.0, 1.0, z),
            ]
        };
        let mut soup = Soup::default();
        soup.loft(&[ring(0.0), ring(1.0)]);
        soup
    }

    #[test]
    fn a_block_has_hard_edges() {
        let solid = block().solid(SMOOTH);
        check::closed(&solid);
        assert!((solid.volume() - 1.0).abs() < 1e-5);
        assert_eq!(solid.positions.len(), 6 * 4);
    }

    #[test]
    fn a_block_inside_out_is_turned() {
        let mut soup = block();
        soup.flip();
        check::closed(&soup.outward().solid(SMOOTH));
    }

    #[test]
    fn bad_triangles_do_no_harm() {
        let mut soup = block();
        soup.tri(Vec3::NAN, Vec3::X, Vec3::Y);
        soup.tri(Vec3::X, Vec3::X, Vec3::Y);
        soup.tri(Vec3::ZERO, Vec3::X * 0.4, Vec3::X);
        check::sound(&soup.solid(SMOOTH));
    }
}
