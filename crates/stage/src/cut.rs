//! Brackets on the stage as they will be cut: the plates of the templates, where they stand.

use bevy::math::Affine3A;
use bevy::prelude::*;
use rearend::brackets::{self, Bracket, Hole, Outline, Plate, Segment, Stand};
use rearend::clearance::Solid as Named;
use rearend::mechanism::RearEnd;
use rearend::setup::{Carrier, Mount, Setup};
use rearend::tape::Units;

use crate::convert;
use crate::fittings::mesh;
use crate::links::{Piece, place};
use crate::paint::Paint;
use crate::shape::{Solid, circle, extrude};

/// A round edge is drawn by straight ones that leave it by no more.
const BOW_M: f64 = 0.3e-3;

/// Corners of a round hole.
const HOLE_CORNERS: usize = 14;

/// The brackets that can be drawn of the setup that is shown, with a mesh for each plate.
#[derive(Default)]
pub(crate) struct Cut {
    made_for: Option<Setup>,
    brackets: Vec<Bracket>,
    meshes: Vec<(Plate, Handle<Mesh>)>,
}

impl Cut {
    /// Draws the brackets anew where the setup is another. A plate that has stayed the same keeps its mesh.
    pub(crate) fn follow(&mut self, setup: &Setup, rear_end: &RearEnd, meshes: &mut Assets<Mesh>) {
        if self.made_for.as_ref() == Some(setup) {
            return;
        }
        let drawn = brackets::of_compiled(setup, rear_end, Units::Millimetres);
        self.brackets = drawn.into_iter().flatten().collect();
        let old = std::mem::take(&mut self.meshes);
        for plate in self.brackets.iter().flat_map(|bracket| &bracket.plates) {
            let kept = old.iter().find(|(other, _)| is_cut_alike(plate, other));
            let handle = kept.map_or_else(|| meshes.add(mesh(&solid(plate))), |(_, handle)| handle.clone());
            self.meshes.push((plate.clone(), handle));
        }
        self.made_for = Some(setup.clone());
    }

    /// True where a mount has a bracket that can be cut.
    pub(crate) fn holds(&self, mount: Mount) -> bool {
        self.brackets.iter().any(|bracket| bracket.mounts.contains(&mount))
    }

    /// True where the coilovers have one on this carrier.
    pub(crate) fn holds_coilovers(&self, on: Carrier) -> bool {
        let is_on = |plate: &Plate| plate.stands.iter().any(|stand| stand.carrier == on);
        let mut theirs = self.brackets.iter().filter(|bracket| bracket.mounts.is_empty());
        theirs.any(|bracket| bracket.plates.iter().any(is_on))
    }

    /// How far along its bolt the middle of what a crank turns in stands from the crank's own.
    pub(crate) fn off_pivot(&self, pivot: Vec3, axis: Vec3) -> f32 {
        let cage = self.brackets.iter().find(|b| b.mounts.contains(&Mount::WattPivot));
        let sides = cage
            .iter()
            .flat_map(|b| &b.plates)
            .filter(|plate| !plate.holes.is_empty());
        let off = sides
            .flat_map(|plate| &plate.stands)
            .map(|stand| (convert::point(stand.origin) - pivot).dot(axis));
        let (sum, count) = off.fold((0.0, 0.0), |(sum, count), off| (sum + off, count + 1.0));
        if count > 0.0 { sum / count } else { 0.0 }
    }

    /// Every plate where it stands; those of a Watt's crank are carried along by `crank`, and those of a bracket that is lit light up.
    pub(crate) fn pieces(&self, crank: Affine3A, lit: &[Named]) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut meshes = self.meshes.iter();
        for bracket in &self.brackets {
            let turns = bracket.mounts.contains(&Mount::WattLeftArm);
            for plate in &bracket.plates {
                let Some((_, mesh)) = meshes.next() else { break };
                pieces.extend(plate.stands.iter().enumerate().map(|(i, stand)| {
                    let at = standing(stand);
                    let is_lit = !lit.is_empty() && bracket.solid(plate, i).is_some_and(|own| lit.contains(&own));
                    let paint = if turns { Paint::Sideways } else { Paint::Bracket };
                    Piece {
                        mesh: mesh.clone(),
                        paint: if is_lit { paint.lit() } else { paint },
                        at: place(if turns { crank * at } else { at }),
                        on_axle: stand.carrier == Carrier::Axle,
                    }
                }));
            }
        }
        pieces
    }
}

/// Nobody sees less of a difference.
const ALIKE_M: f64 = 1e-6;

/// Where a bar pulls the axle along, every plate differs by its last bits.
fn is_cut_alike(a: &Plate, b: &Plate) -> bool {
    let near = |a: nalgebra::Point2<f64>, b: nalgebra::Point2<f64>| (a - b).norm() < ALIKE_M;
    let same = |a: f64, b: f64| (a - b).abs() < ALIKE_M;
    let segment = |(a, b): (&Segment, &Segment)| match (a, b) {
        (Segment::Line { to: a }, Segment::Line { to: b }) => near(*a, *b),
        (
            Segment::Arc { to, centre, clockwise },
            Segment::Arc {
                to: other,
                centre: middle,
                clockwise: way,
            },
        ) => near(*to, *other) && near(*centre, *middle) && clockwise == way,
        _ => false,
    };
    let (outline, other) = (&a.outline, &b.outline);
    let mut segments = outline.segments.iter().zip(&other.segments);
    let mut holes = a.holes.iter().zip(&b.holes);
    same(a.thickness_m, b.thickness_m)
        && near(outline.start, other.start)
        && outline.segments.len() == other.segments.len()
        && a.holes.len() == b.holes.len()
        && segments.all(segment)
        && holes.all(|(a, b)| near(a.at, b.at) && same(a.diameter_m, b.diameter_m))
}

/// A plate is alike from both faces, so it may be turned over rather than mirrored.
fn standing(stand: &Stand) -> Affine3A {
    let (x, y) = (
        convert::vector(stand.x.into_inner()),
        convert::vector(stand.y.into_inner()),
    );
    Affine3A::from_mat3_translation(Mat3::from_cols(x, y, x.cross(y)), convert::point(stand.origin))
}

/// A plate about its middle plane, in its own coordinates.
fn solid(plate: &Plate) -> Solid {
    let holes: Vec<_> = plate.holes.iter().map(hole).collect();
    let thick = convert::scalar(plate.thickness_m);
    extrude(&corners(&plate.outline), &holes, thick, thick * 0.12)
}

fn hole(hole: &Hole) -> Vec<Vec2> {
    let at = convert::flat(hole.at);
    circle(at, convert::scalar(hole.diameter_m / 2.0), HOLE_CORNERS)
}

/// The corners of an outline whose arcs are straightened.
fn corners(outline: &Outline) -> Vec<Vec2> {
    let mut corners = Vec::new();
    for (from, segment) in outline.pieces() {
        corners.push(convert::flat(from));
        if let Segment::Arc { centre, .. } = segment {
            let turn_rad = convert::scalar(segment.turn_rad(from));
            let (middle, out) = (convert::flat(*centre), convert::flat(from) - convert::flat(*centre));
            let steps = steps(turn_rad, out.length());
            let between = (1..steps).map(|step| {
                let turn = Vec2::from_angle(turn_rad * convert::share(step, steps));
                middle + turn.rotate(out)
            });
            corners.extend(between);
        }
    }
    corners
}

/// How many straight edges make an arc.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "the number is held between one and sixty-four first"
)]
fn steps(turn_rad: f32, radius: f32) -> usize {
    let bow = (convert::scalar(BOW_M) / radius.max(1e-4)).clamp(1e-3, 1.0);
    let step_rad = 2.0 * (1.0 - bow).acos();
    (turn_rad.abs() / step_rad).ceil().clamp(1.0, 64.0) as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shape::check;

    fn demos() -> impl Iterator<Item = (Setup, RearEnd)> {
        shop::demo::ALL.into_iter().map(|demo| {
            let setup = demo.setup().expect("a demo reads");
            let rear_end = RearEnd::compile(&setup).expect("it compiles");
            (setup, rear_end)
        })
    }

    fn followed(cut: &mut Cut, setup: &Setup, meshes: &mut Assets<Mesh>) {
        let rear_end = RearEnd::compile(setup).expect("it compiles");
        cut.follow(setup, &rear_end, meshes);
    }

    /// Broken edges and straightened arcs take a hundredth or two.
    #[test]
    fn every_plate_is_closed_and_weighs_what_is_cut() {
        for (setup, rear_end) in demos() {
            for bracket in brackets::of_compiled(&setup, &rear_end, Units::Millimetres)
                .into_iter()
                .flatten()
            {
                for plate in &bracket.plates {
                    let drawn = solid(plate);
                    check::closed(&drawn);
                    let holes = plate
                        .holes
                        .iter()
                        .map(|h| h.diameter_m.powi(2) * std::f64::consts::FRAC_PI_4);
                    let area_m2 = plate.outline.area_m2() - holes.sum::<f64>();
                    let wanted = convert::scalar(area_m2 * plate.thickness_m);
                    assert!(
                        (drawn.volume() / wanted - 1.0).abs() < 0.03,
                        "{}: {}",
                        plate.name,
                        drawn.volume() / wanted
                    );
                }
            }
        }
    }

    #[test]
    fn side_plates_stand_on_either_side_of_their_mount() {
        for (setup, rear_end) in demos() {
            for bracket in brackets::of_compiled(&setup, &rear_end, Units::Millimetres)
                .into_iter()
                .flatten()
            {
                let [Mount::Bar { .. }] = bracket.mounts[..] else {
                    continue;
                };
                let at = setup.mount(bracket.mounts[0]).expect("it is there").point;
                let drilled = bracket.plates.iter().filter(|plate| !plate.holes.is_empty());
                let holes: Vec<_> = drilled
                    .flat_map(|plate| &plate.stands)
                    .map(|stand| standing(stand).transform_point3(Vec3::ZERO))
                    .collect();
                let [one, other] = holes[..] else {
                    panic!("{}: {holes:?}", bracket.name)
                };
                assert!(
                    one.midpoint(other).distance(convert::point(at)) < 1e-5,
                    "{}",
                    bracket.name
                );
                let apart = convert::scalar(setup.steel.gap_m + setup.steel.plate_m);
                assert!((one.distance(other) - apart).abs() < 1e-5, "{}", bracket.name);
            }
        }
    }

    #[test]
    fn a_plate_that_stays_the_same_keeps_its_mesh_and_others_let_theirs_go() {
        let (mut cut, mut meshes) = (Cut::default(), Assets::<Mesh>::default());
        let (mut setup, _) = demos().next().expect("there is one");
        followed(&mut cut, &setup, &mut meshes);
        let before = cut.meshes.clone();
        let panhard = setup
            .bars
            .iter()
            .position(|bar| bar.name == "panhard bar")
            .expect("it has one");
        setup.bars[panhard].mount_in_frame.z += 0.01;
        followed(&mut cut, &setup, &mut meshes);
        assert_eq!(cut.meshes.len(), before.len());
        // Plates that are alike share one.
        let was = |mesh: &Handle<Mesh>| before.iter().any(|(_, old)| old == mesh);
        for (plate, mesh) in &cut.meshes {
            if plate.name.starts_with("panhard bar, on the frame") {
                assert!(!was(mesh), "{}", plate.name);
            } else if !plate.name.starts_with("panhard bar") {
                assert!(was(mesh), "{}", plate.name);
            }
        }
    }

    #[test]
    fn what_cannot_be_cut_is_not_held() {
        let (mut cut, mut meshes) = (Cut::default(), Assets::<Mesh>::default());
        let (mut setup, _) = demos().next().expect("there is one");
        let panhard = setup
            .bars
            .iter()
            .position(|bar| bar.name == "panhard bar")
            .expect("it has one");
        let mount = Mount::Bar {
            bar: rearend::setup::BarId(panhard),
            end: rearend::setup::BarEnd::Frame,
            side: rearend::setup::Side::Drawn,
        };
        followed(&mut cut, &setup, &mut meshes);
        assert!(cut.holds(mount) && cut.holds_coilovers(Carrier::Frame) && cut.holds_coilovers(Carrier::Axle));
        // Nearer to the rail than its plates' edge.
        setup.bars[panhard].mount_in_frame.y += 0.02;
        followed(&mut cut, &setup, &mut meshes);
        assert!(!cut.holds(mount));
    }
}
