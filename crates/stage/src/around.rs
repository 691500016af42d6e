//! What stands still around the axle: transmission tail, carrier bearing, body, and whatever has to be kept clear of.

use bevy::light::NotShadowCaster;
use bevy::math::Affine3A;
use bevy::prelude::*;
use rearend::clearance::{Hand, Solid as Named};
use rearend::setup::{Body, Driveline, KeepClear, KeepClearShape, Rails, Setup};

use crate::convert;
use crate::fittings::{Fittings, mesh};
use crate::links::place;
use crate::paint::{Paint, Paints};
use crate::shaft::{BEARING_M, output_direction};
use crate::shape::{self, BEARING_REACH_M, BodySide, Solid, TAIL_MOUNT_DROP_M, TAIL_MOUNT_M};
use crate::truck::Known;

/// A piece of what stands around the axle.
#[derive(Component)]
pub(crate) struct AroundPiece;

/// A line or sheet of the body, which can be hidden.
#[derive(Component)]
pub(crate) struct BodyPart;

/// What it was built for.
#[derive(Clone, PartialEq)]
pub(crate) struct AroundDimensions {
    frame: Entity,
    rails: Rails,
    tyre_m: f64,
    ride_m: f64,
    driveline: Option<Driveline>,
    body: Option<Body>,
    keep_clear: Vec<KeepClear>,
}

impl AroundDimensions {
    pub(crate) fn of(setup: &Setup, frame: Entity) -> Self {
        Self {
            frame,
            rails: setup.rails.clone(),
            tyre_m: setup.wheels.loaded_radius_m,
            ride_m: setup.travel.ride_m,
            driveline: setup.driveline.clone(),
            body: setup.body.clone(),
            keep_clear: setup.keep_clear.clone(),
        }
    }
}

/// Spawns what stands around the axle, all in frame coordinates.
pub(crate) struct Builder<'a, 'w, 's> {
    pub setup: &'a Setup,
    pub frame: Entity,
    pub commands: &'a mut Commands<'w, 's>,
    pub fittings: &'a mut Fittings,
    pub meshes: &'a mut Assets<Mesh>,
    pub paints: &'a Paints,
}

impl Builder<'_, '_, '_> {
    pub(crate) fn build(&mut self) {
        let setup = self.setup;
        if let Some(driveline) = &setup.driveline {
            self.transmission(driveline);
            if let Some(carrier) = driveline.carrier {
                self.carrier(convert::point(driveline.output), convert::point(carrier));
            }
        }
        if let Some(body) = &setup.body {
            self.body(body);
        }
        for (i, thing) in setup.keep_clear.iter().enumerate() {
            self.keep_clear(Named::KeepClear(i), &thing.shape);
        }
    }

    fn spawn(&mut self, mesh: Handle<Mesh>, paint: Paint, at: Affine3A) -> Entity {
        let piece = (
            AroundPiece,
            Mesh3d(mesh),
            self.paints.get(paint),
            place(at),
            ChildOf(self.frame),
        );
        self.commands.spawn(piece).id()
    }

    fn add(&mut self, solid: &Solid, paint: Paint, at: Affine3A) {
        if !solid.is_empty() {
            let mesh = self.meshes.add(mesh(solid));
            self.spawn(mesh, paint, at);
        }
    }

    /// Something that is only a line or a sheet.
    fn sketch(&mut self, known: Named, solid: &Solid, paint: Paint) -> Option<Entity> {
        if solid.is_empty() {
            return None;
        }
        let mesh = self.meshes.add(mesh(solid));
        let piece = self.spawn(mesh, paint, Affine3A::IDENTITY);
        let known = Known { solid: known, paint };
        self.commands.entity(piece).insert((NotShadowCaster, known));
        Some(piece)
    }

    fn transmission(&mut self, driveline: &Driveline) {
        let output = convert::point(driveline.output);
        let along = output_direction(driveline);
        let at = convert::along(output, output + along, Vec3::Y);
        let tail = self
            .fittings
            .made("transmission", [0.0; 3], self.meshes, shape::transmission_tail);
        let tail = self.spawn(tail, Paint::Housing, at);
        let known = Known {
            solid: Named::Transmission,
            paint: Paint::Housing,
        };
        self.commands.entity(tail).insert(known);
        // The mount stands upright, on a beam that is as low as the rails let it be.
        let seat = at.transform_point3(Vec3::new(TAIL_MOUNT_M, 0.0, -0.078));
        let high = TAIL_MOUNT_DROP_M - 0.078;
        self.add(
            &shape::tail_mount(high),
            Paint::Rubber,
            Affine3A::from_translation(seat),
        );
        self.cross_beam(seat - Vec3::Z * (high + BEAM_HALF_M));
    }

    /// The bearing, ahead of its joint along the coupling shaft, hung from a beam of its own or standing on one.
    fn carrier(&mut self, output: Vec3, joint: Vec3) {
        let along = (output - joint).normalize_or(Vec3::X);
        let middle = joint + along * BEARING_M;
        let rails = convert::rails(self.setup);
        let lift = shape::lift_z(&rails, middle.x);
        let reach = BEARING_REACH_M + BEAM_HALF_M;
        let inside = |z: f32| z > lift + BEAM_HALF_M && z < lift + rails.height - BEAM_HALF_M;
        let below = !inside(middle.z + reach) && (inside(middle.z - reach) || middle.z > lift + rails.height);
        let up = if below { Vec3::NEG_Z } else { Vec3::Z };
        let at = convert::along(middle, middle + along, up.cross(along));
        self.add(&shape::carrier_rubber(), Paint::Rubber, at);
        self.add(&shape::carrier_strap(), Paint::Bracket, at);
        self.cross_beam(middle + up * reach);
    }

    /// A beam between the rails through a point, with plates on the rails' inside.
    fn cross_beam(&mut self, at: Vec3) {
        let rails = convert::rails(self.setup);
        let lift = shape::lift_z(&rails, at.x);
        let web = match rails.section {
            shape::RailSection::Channel => rails.wall,
            shape::RailSection::Box => rails.flange_width,
        };
        let margin = rails.wall * 1.5;
        let (low, high) = (lift + margin - at.z, lift + rails.height - margin - at.z);
        let beam = shape::cross_beam(
            rails.spacing / 2.0 - web,
            low.min(-BEAM_HALF_M * 1.3),
            high.max(BEAM_HALF_M * 1.3),
        );
        let place = Affine3A::from_translation(Vec3::new(at.x, 0.0, at.z));
        self.add(&beam, Paint::Crossmember, place);
    }

    fn body(&mut self, body: &Body) {
        let setup = self.setup;
        let left = convert::scalar(body.lips_left_m);
        let half = convert::scalar(body.lip_to_lip_m / 2.0);
        let tub = body.tub_to_tub_m.map(|m| convert::scalar(m / 2.0));
        let (x, opening) = (convert::scalar(body.opening_x_m), convert::scalar(body.opening_m));
        for (sign, hand) in [(1.0, Hand::Left), (-1.0, Hand::Right)] {
            let side = BodySide {
                lip_y: left + sign * half,
                lip_z: convert::scalar(body.lip_z_m),
                opening_x: x,
                opening,
                tub_y: tub.map(|tub| left + sign * tub),
                floor_z: body.bed_floor_z_m.map(convert::scalar),
                bed: [convert::scalar(setup.rails.rear_x_m), x + opening / 2.0 + BED_AHEAD_M],
                // The body ends where the middle of the wheel is at ride height.
                lowest_z: convert::scalar(setup.axle_z_m(setup.travel.ride_m)),
            };
            let (sheet, edge) = shape::wheel_tub(&side);
            let lines = [
                (Named::Lip(hand), shape::fender_lip(&side), Paint::BodyLine),
                (Named::BedFloor, shape::bed_floor(&side, left), Paint::BodyLine),
                (Named::Tub(hand), edge, Paint::BodyLine),
                (Named::Tub(hand), sheet, Paint::Tub),
            ];
            for (known, solid, paint) in lines {
                if let Some(piece) = self.sketch(known, &solid, paint) {
                    self.commands.entity(piece).insert(BodyPart);
                }
            }
        }
    }

    fn keep_clear(&mut self, known: Named, thing: &KeepClearShape) {
        match thing {
            KeepClearShape::Box { from, to } => {
                let (from, to) = (convert::point(*from), convert::point(*to));
                let block = shape::cuboid(from - to, 0.0).translated((from + to) * 0.5);
                self.sketch(known, &block, Paint::KeepClear);
                self.sketch(known, &shape::box_edges(from, to), Paint::KeepClearLine);
            }
            KeepClearShape::Tube { along, tube_m } => {
                let radius = convert::scalar(tube_m / 2.0);
                let runs: Vec<Vec3> = along.iter().copied().map(convert::point).collect();
                let path = shape::bent(&runs, radius * 3.0);
                self.sketch(known, &shape::pipe(&path, radius, 24), Paint::KeepClear);
                self.sketch(known, &hatching(&path, radius), Paint::KeepClearLine);
            }
        }
    }
}

/// Half the depth of a beam.
const BEAM_HALF_M: f32 = 0.019;
/// How far the bed goes on ahead of the wheel opening.
const BED_AHEAD_M: f32 = 0.25;
/// From one hoop of the hatching to the next, in radii.
const HATCH: f32 = 2.4;

/// Hoops round a tube, leaning, so that it is told from metal.
fn hatching(path: &[Vec3], radius: f32) -> Solid {
    let mut all = Solid::default();
    let mut walked = 0.0;
    for run in path.windows(2) {
        let (along, length) = ((run[1] - run[0]).normalize_or(Vec3::X), run[0].distance(run[1]));
        let step = radius * HATCH;
        let mut next = (walked / step).ceil() * step - walked;
        while next < length && all.triangle_count() < 60_000 {
            all.merge(&hoop(run[0] + along * next, along, radius));
            next += step.max(1e-3);
        }
        walked += length;
    }
    all
}

fn hoop(at: Vec3, along: Vec3, radius: f32) -> Solid {
    let side = along.any_orthonormal_vector();
    let up = along.cross(side);
    let lean = along * radius * 0.55;
    let ring: Vec<Vec3> = (0..=24_u8)
        .map(|step| {
            let (sin, cos) = (f32::from(step) / 24.0 * std::f32::consts::TAU).sin_cos();
            at + (side * cos + up * sin) * (radius * 1.005) + lean * cos
        })
        .collect();
    shape::pipe(&ring, 0.0016, 5)
}
