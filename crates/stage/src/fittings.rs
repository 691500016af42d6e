//! Meshes that many parts share: ends, tubes, bolts, brackets. Made once, kept while they are in use.

use std::collections::HashMap;

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use crate::shape::{self, Anchor, Plates, Solid};

/// More meshes than any truck needs at once; beyond it, what a long drag left behind is let go.
const MOST_KEPT: usize = 400;

/// What a mesh was made for, lengths in micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Key {
    Fixed(Fitting, [i32; 3]),
    Bracket(BracketKind, [i32; 13]),
    Crank([i32; 9]),
    Made(&'static str, [i32; 3]),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum BracketKind {
    Frame,
    Axle,
    Shelf,
    Seat,
}

/// A shared piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Fitting {
    Tube,
    Insert,
    RodBody,
    RodBall,
    RodNut,
    EyeSleeve,
    EyeRubber,
    EyeInner,
    Bolt,
}

/// The kept meshes.
#[derive(Resource, Default)]
pub(crate) struct Fittings {
    kept: HashMap<Key, Handle<Mesh>>,
}

/// Length of a rod end's shank, or of an eye's stub, from its bolt to where the bung begins.
pub(crate) const SHANK_M: f32 = 0.062;
/// Length of the bung's collar.
pub(crate) const BUNG_M: f32 = 0.018;
/// Width of a bushed eye.
const EYE_WIDTH_M: f32 = 0.052;
const PLATE_M: f32 = 0.006;

/// Bolt that suits a tube.
pub(crate) fn bolt_for(tube_radius: f32) -> f32 {
    if tube_radius > 0.017 { 0.016 } else { 0.014 }
}

/// The plates that a bar's end sits between.
pub(crate) fn plates_for(tube_radius: f32, bushed: bool) -> Plates {
    let bolt = bolt_for(tube_radius);
    let gap = if bushed {
        EYE_WIDTH_M
    } else {
        shape::rod_end_width(bolt)
    };
    Plates {
        gap: gap + 0.001,
        thickness: PLATE_M,
        bolt,
    }
}

impl Fittings {
    /// A shared piece for a tube of this radius.
    pub(crate) fn piece(
        &mut self,
        fitting: Fitting,
        tube_radius: f32,
        bushed: bool,
        meshes: &mut Assets<Mesh>,
    ) -> Handle<Mesh> {
        let key = Key::Fixed(fitting, [micro(tube_radius), i32::from(bushed), 0]);
        self.kept(key, meshes, || make(fitting, tube_radius, bushed))
    }

    /// A bracket on the frame.
    pub(crate) fn frame_bracket(
        &mut self,
        mount: Vec3,
        anchor: &Anchor,
        bolt: Vec3,
        plates: &Plates,
        meshes: &mut Assets<Mesh>,
    ) -> Handle<Mesh> {
        let key = Key::Bracket(
            BracketKind::Frame,
            bracket_key(mount, bolt, anchor.centre, anchor.normal, plates.gap),
        );
        self.kept(key, meshes, || shape::frame_bracket(mount, anchor, bolt, plates))
    }

    /// A bracket on the axle tube.
    pub(crate) fn axle_bracket(
        &mut self,
        mount: Vec3,
        bolt: Vec3,
        tube_radius: f32,
        plates: &Plates,
        meshes: &mut Assets<Mesh>,
    ) -> Handle<Mesh> {
        let key = Key::Bracket(
            BracketKind::Axle,
            bracket_key(mount, bolt, Vec3::splat(tube_radius), Vec3::ZERO, plates.gap),
        );
        self.kept(key, meshes, || shape::axle_bracket(mount, bolt, tube_radius, plates))
    }

    /// A shelf on the frame for an air spring's plate.
    pub(crate) fn shelf(
        &mut self,
        mount: Vec3,
        anchor: &Anchor,
        plate: f32,
        meshes: &mut Assets<Mesh>,
    ) -> Handle<Mesh> {
        let key = bracket_key(mount, Vec3::ZERO, anchor.centre, anchor.normal, plate);
        self.kept(Key::Bracket(BracketKind::Shelf, key), meshes, || {
            shape::frame_shelf(mount, anchor, plate)
        })
    }

    /// A seat on the axle tube for an air spring's plate.
    pub(crate) fn seat(
        &mut self,
        mount: Vec3,
        tube_radius: f32,
        plate: f32,
        meshes: &mut Assets<Mesh>,
    ) -> Handle<Mesh> {
        let key = bracket_key(mount, Vec3::ZERO, Vec3::splat(tube_radius), Vec3::ZERO, plate);
        self.kept(Key::Bracket(BracketKind::Seat, key), meshes, || {
            shape::axle_seat(mount, tube_radius, plate)
        })
    }

    /// A bell crank about the origin, with two arms.
    pub(crate) fn crank(&mut self, axis: Vec3, arms: [Vec3; 2], meshes: &mut Assets<Mesh>) -> Handle<Mesh> {
        let [a, b] = arms;
        let mut key = [0; 9];
        for (place, value) in key.iter_mut().zip([axis, a, b].into_iter().flat_map(|v| v.to_array())) {
            *place = micro(value);
        }
        self.kept(Key::Crank(key), meshes, || {
            shape::bell_crank(Vec3::ZERO, axis, a, b, 0.012)
        })
    }

    /// Any mesh that is told from others by what it is and three sizes.
    pub(crate) fn made(
        &mut self,
        what: &'static str,
        sizes: [f32; 3],
        meshes: &mut Assets<Mesh>,
        make: impl FnOnce() -> Solid,
    ) -> Handle<Mesh> {
        self.kept(Key::Made(what, sizes.map(micro)), meshes, make)
    }

    fn kept(&mut self, key: Key, meshes: &mut Assets<Mesh>, make: impl FnOnce() -> Solid) -> Handle<Mesh> {
        if self.kept.len() > MOST_KEPT {
            self.kept.clear();
        }
        self.kept
            .entry(key)
            .or_insert_with(|| meshes.add(mesh(&make())))
            .clone()
    }
}

fn make(fitting: Fitting, tube_radius: f32, bushed: bool) -> Solid {
    let bolt = bolt_for(tube_radius);
    let thread = bolt * 0.55;
    let rod = || shape::rod_end(bolt, SHANK_M, thread);
    let eye = || shape::bushed_eye(0.026, EYE_WIDTH_M, bolt, SHANK_M, thread * 1.1);
    match fitting {
        Fitting::Tube => shape::bar_tube(tube_radius),
        Fitting::Insert => shape::bar_insert(tube_radius, thread, BUNG_M),
        Fitting::RodBody => rod().body,
        Fitting::RodBall => rod().ball,
        Fitting::RodNut => rod().nut,
        Fitting::EyeSleeve => eye().sleeve,
        Fitting::EyeRubber => eye().rubber,
        Fitting::EyeInner => eye().inner,
        Fitting::Bolt => shape::bolt(bolt, plates_for(tube_radius, bushed).gap + 2.0 * PLATE_M),
    }
}

fn bracket_key(mount: Vec3, bolt: Vec3, base: Vec3, normal: Vec3, gap: f32) -> [i32; 13] {
    let mut key = [0; 13];
    for (place, value) in key.iter_mut().zip(
        [mount, bolt, base, normal]
            .into_iter()
            .flat_map(|v| v.to_array())
            .chain([gap]),
    ) {
        *place = micro(value);
    }
    key
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "nothing on the stage is 2 km away; a key that saturates only costs a mesh"
)]
fn micro(length: f32) -> i32 {
    (length * 1e6).round() as i32
}

/// A solid as bevy's mesh.
pub(crate) fn mesh(solid: &Solid) -> Mesh {
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, solid.positions.clone())
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, solid.normals.clone())
        .with_inserted_indices(Indices::U32(solid.indices.clone()))
}
