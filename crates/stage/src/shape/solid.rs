//! The triangle mesh all shapes are made of.

use bevy::math::{Affine3A, Vec3};

/// A triangle mesh in metres with one normal per vertex.
///
/// Vertices on hard edges are repeated, once per normal. Indices come in threes, counter-clockwise seen from outside.
#[derive(Clone, Default, Debug)]
pub struct Solid {
    /// Vertex positions, metres.
    pub positions: Vec<[f32; 3]>,
    /// Outward unit normals, one per position.
    pub normals: Vec<[f32; 3]>,
    /// Triangle corners, three to a triangle.
    pub indices: Vec<u32>,
}

impl Solid {
    /// The number of triangles.
    #[must_use]
    pub fn triangle_count(&self) -> usize {
        self.indices.len() / 3
    }

    /// Whether there is nothing to draw.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.indices.is_empty()
    }

    /// Adds the triangles of `other` to this one.
    pub fn merge(&mut self, other: &Solid) {
        let base = u32::try_from(self.positions.len()).unwrap_or(u32::MAX);
        self.positions.extend_from_slice(&other.positions);
        self.normals.extend_from_slice(&other.normals);
        self.indices.extend(other.indices.iter().map(|index| index + base));
    }

    /// All of `parts` in one mesh.
    #[must_use]
    pub fn merged(parts: &[Solid]) -> Solid {
        let mut whole = Solid::default();
        for part in parts {
            whole.merge(part);
        }
        whole
    }

    /// The mesh under an affine map. A mirroring map keeps the triangles facing outwards.
    #[must_use]
    pub fn transformed(&self, map: Affine3A) -> Solid {
        let mirrored = map.matrix3.determinant() < 0.0;
        let normal_map = map.matrix3.inverse().transpose();
        let mut moved = self.clone();
        for (position, normal) in moved.positions.iter_mut().zip(&mut moved.normals) {
            let turned = normal_map * Vec3::from_array(*normal);
            *position = map.transform_point3(Vec3::from_array(*position)).to_array();
            *normal = turned.try_normalize().unwrap_or(Vec3::from_array(*normal)).to_array();
        }
        if mirrored {
            moved.indices.chunks_exact_mut(3).for_each(|corner| corner.swap(1, 2));
        }
        moved
    }

    /// The mesh moved by `by`, metres.
    #[must_use]
    pub fn translated(&self, by: Vec3) -> Solid {
        self.transformed(Affine3A::from_translation(by))
    }

    /// The mesh mirrored in the centre plane, left to right.
    #[must_use]
    pub fn mirrored_y(&self) -> Solid {
        self.transformed(Affine3A::from_scale(Vec3::new(1.0, -1.0, 1.0)))
    }

    /// Copies of the mesh under each of `maps`.
    #[must_use]
    pub fn repeated(&self, maps: impl IntoIterator<Item = Affine3A>) -> Solid {
        let mut whole = Solid::default();
        for map in maps {
            whole.merge(&self.transformed(map));
        }
        whole
    }

    /// The three corners of each triangle, metres.
    pub fn triangles(&self) -> impl Iterator<Item = [Vec3; 3]> + '_ {
        let at = |index: u32| Vec3::from_array(self.positions[index as usize]);
        self.indices
            .chunks_exact(3)
            .map(move |corner| [at(corner[0]), at(corner[1]), at(corner[2])])
    }

    /// The least and greatest corner of the bounding box, metres; both zero for an empty mesh.
    #[must_use]
    pub fn bounds(&self) -> (Vec3, Vec3) {
        let points = || self.positions.iter().map(|position| Vec3::from_array(*position));
        let low = points().reduce(Vec3::min).unwrap_or(Vec3::ZERO);
        let high = points().reduce(Vec3::max).unwrap_or(Vec3::ZERO);
        (low, high)
    }

    /// The volume enclosed, cubic metres; positive where triangles face outwards.
    #[must_use]
    pub fn volume(&self) -> f32 {
        self.triangles().map(|[a, b, c]| a.dot(b.cross(c)) / 6.0).sum()
    }
}

/// What every shape's tests ask of a mesh.
#[cfg(test)]
pub(crate) mod check {
    use super::*;
    use std::collections::HashMap;

    /// Indices in range, finite numbers, unit normals that agree with the winding.
    pub(crate) fn sound(solid: &Solid) {
        assert_eq!(solid.positions.len(), solid.normals.len());
        assert_eq!(solid.indices.len() % 3, 0);
        assert!(
            solid
                .indices
                .iter()
                .all(|index| (*index as usize) < solid.positions.len())
        );
        for (position, normal) in solid.positions.iter().zip(&solid.normals) {
            assert!(
                position.iter().all(|number| number.is_finite()),
                "position {position:?}"
            );
            assert!(
                (Vec3::from_array(*normal).length() - 1.0).abs() < 1e-3,
                "normal {normal:?}"
            );
        }
    }

    /// Every edge is walked once each way.
    pub(crate) fn watertight(solid: &Solid) {
        let key = |point: Vec3| (point * 1e5).round().to_array().map(|number| number as i64);
        let mut walks: HashMap<_, i32> = HashMap::new();
        for corners in solid.triangles() {
            for side in 0..3 {
                let (from, to) = (key(corners[side]), key(corners[(side + 1) % 3]));
                if from != to {
                    *walks.entry((from, to)).or_default() += 1;
                    *walks.entry((to, from)).or_default() -= 1;
                }
            }
        }
        let open = walks.values().filter(|count| **count != 0).count();
        assert_eq!(open, 0, "{open} open edges of {}", walks.len());
    }

    /// Sound, watertight and facing outwards.
    pub(crate) fn closed(solid: &Solid) {
        sound(solid);
        watertight(solid);
        assert!(!solid.is_empty());
        assert!(solid.volume() > 0.0, "volume {}", solid.volume());
    }

    /// The bounding box is `low` to `high` within `within` metres.
    pub(crate) fn boxed(solid: &Solid, low: Vec3, high: Vec3, within: f32) {
        let (least, greatest) = solid.bounds();
        assert!((least - low).abs().max_element() <= within, "low {least} wanted {low}");
        assert!(
            (greatest - high).abs().max_element() <= within,
            "high {greatest} wanted {high}"
        );
    }
}

#[cfg(test)]
mod tests {
    use super::super::{cuboid, cylinder};
    use super::*;

    #[test]
    fn mirroring_keeps_faces_outward() {
        let block = cuboid(Vec3::new(0.3, 0.2, 0.1), 0.01).translated(Vec3::new(0.0, 1.0, 0.0));
        let mirrored = block.mirrored_y();
        check::closed(&mirrored);
        assert!((mirrored.volume() - block.volume()).abs() < 1e-6);
        check::boxed(
            &mirrored,
            Vec3::new(-0.15, -1.1, -0.05),
            Vec3::new(0.15, -0.9, 0.05),
            1e-6,
        );
    }

    #[test]
    fn merging_keeps_both() {
        let post = cylinder(Vec3::ZERO, Vec3::Z, 0.1, 24);
        let pair = Solid::merged(&[post.clone(), post.translated(Vec3::X)]);
        check::closed(&pair);
        assert_eq!(pair.triangle_count(), 2 * post.triangle_count());
    }

    #[test]
    fn an_empty_mesh_has_an_empty_box() {
        assert_eq!(Solid::default().bounds(), (Vec3::ZERO, Vec3::ZERO));
        assert!(Solid::default().is_empty());
    }
}
