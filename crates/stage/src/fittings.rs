//! Meshes that many parts share: ends, tubes, bolts, brackets. Made once, kept while they are in use.

use std::collections::HashMap;

use bevy::asset::RenderAssetUsages;
use bevy::mesh::{Indices, PrimitiveTopology};
use bevy::prelude::*;

use rearend::build::cut::Threaded;
use rearend::setup::Steel;

use crate::convert;
use crate::cut::Cut;
use crate::shape::{self, Anchor, Plates, Solid};

/// More meshes than any truck needs at once; beyond it, what a long drag left behind is let go.
const MOST_KEPT: usize = 400;

/// What a mesh was made for, lengths in micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Key {
    Fixed(Fitting, [i32; 8]),
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
    Coped,
    RodBody,
    RodBall,
    RodNut,
    EyeSleeve,
    EyeRubber,
    EyeInner,
    Bolt,
    Spacer,
}

/// The kept meshes.
#[derive(Resource, Default)]
pub(crate) struct Fittings {
    kept: HashMap<Key, Handle<Mesh>>,
    /// Brackets as they will be cut.
    pub(crate) cut: Cut,
}

/// A joint at the end of a bar, an arm or a coilover, as the shop's steel makes it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Style {
    pub tube_radius: f32,
    pub bushed: bool,
    /// Diameter of the bolt, clear width between the plates of its bracket, and their thickness.
    pub bolt: f32,
    pub gap: f32,
    pub plate: f32,
    /// From the eye's bolt to the cut end of the tube, and how much of that the insert is.
    to_tube: f32,
    insert: f32,
    /// Outside radius of a bush's eye.
    pub eye: f32,
}

impl Style {
    pub(crate) fn of(steel: &Steel, tube_radius: f32, bushed: bool) -> Self {
        let eye = convert::scalar(steel.bush_eye_m / 2.0);
        let to_tube = if bushed {
            eye + COPE_M
        } else {
            convert::scalar(Threaded::half_in(steel).to_tube_m)
        };
        Self {
            tube_radius,
            bushed,
            bolt: convert::scalar(steel.bolt_m),
            gap: convert::scalar(steel.gap_m),
            plate: convert::scalar(steel.plate_m),
            to_tube,
            insert: convert::scalar(steel.rod_end.insert_out_m),
            eye,
        }
    }

    /// From the eye's bolt to where the plain tube begins.
    pub(crate) fn to_tube(self) -> f32 {
        self.to_tube
    }

    /// The plates that it sits between.
    pub(crate) fn plates(&self) -> Plates {
        Plates {
            gap: self.gap,
            thickness: self.plate,
            bolt: self.bolt,
        }
    }

    /// The same in a bracket that is so wide between its plates.
    pub(crate) fn as_wide_as(&self, gap_m: f64) -> Self {
        Self {
            gap: convert::scalar(gap_m),
            ..*self
        }
    }

    fn key(&self) -> [i32; 8] {
        let bushed = if self.bushed { 1.0 } else { 0.0 };
        let sizes = [
            self.tube_radius,
            self.bolt,
            self.gap,
            self.plate,
            self.to_tube,
            self.insert,
            self.eye,
            bushed,
        ];
        sizes.map(micro)
    }
}

/// How far beyond a bush's eye a tube's coped end is drawn by itself.
const COPE_M: f32 = 0.006;
/// How far a coilover's eye reaches, from its bolt.
const SPRING_STUB_M: f32 = 0.062;

impl Fittings {
    /// A shared piece of such a joint.
    pub(crate) fn piece(&mut self, fitting: Fitting, style: &Style, meshes: &mut Assets<Mesh>) -> Handle<Mesh> {
        self.kept(Key::Fixed(fitting, style.key()), meshes, || make(fitting, style))
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

fn make(fitting: Fitting, style: &Style) -> Solid {
    let bolt = style.bolt;
    let thread = bolt * 0.5;
    let rod = || shape::rod_end(bolt, style.gap, style.to_tube - style.insert, thread);
    // A bar's tube is welded to its eye; a coilover, which has no tube, hangs on a stub.
    let stub = if style.tube_radius > 0.0 { 0.0 } else { SPRING_STUB_M };
    let eye = || shape::bushed_eye(style.eye, style.gap - EYE_PLAY_M, bolt, stub, thread);
    match fitting {
        Fitting::Tube => shape::bar_tube(style.tube_radius),
        Fitting::Insert => shape::bar_insert(style.tube_radius, thread, style.insert),
        Fitting::Coped => shape::coped_end(style.tube_radius, style.eye, style.to_tube),
        Fitting::RodBody => rod().body,
        Fitting::RodBall => rod().ball,
        Fitting::RodNut => rod().nut,
        Fitting::EyeSleeve => eye().sleeve,
        Fitting::EyeRubber => eye().rubber,
        Fitting::EyeInner => eye().inner,
        Fitting::Bolt => shape::bolt(bolt, style.gap + 2.0 * style.plate),
        Fitting::Spacer => shape::spacer(bolt, style.gap),
    }
}

/// How much narrower a bush is than its bracket, so that their faces don't flicker.
const EYE_PLAY_M: f32 = 0.0005;

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
