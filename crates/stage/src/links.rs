//! Bars with their ends and brackets, and the Watt's crank, at a pose.

use bevy::math::Affine3A;
use bevy::prelude::*;
use linkage::Configuration;
use nalgebra::Point3;
use rearend::mechanism::{Part, RearEnd};
use rearend::setup::{Ends, Role, Setup, Side, Watt};

use crate::convert;
use crate::fittings::{BUNG_M, Fitting, Fittings, SHANK_M, bolt_for, plates_for};
use crate::paint::Paint;
use crate::shape::{self, Anchor};

/// Something to draw: a mesh, how it is painted, where, and on what it rides.
pub(crate) struct Piece {
    pub mesh: Handle<Mesh>,
    pub paint: Paint,
    pub at: Transform,
    pub on_axle: bool,
}

/// What is known of one bar at a pose.
struct Drawn {
    part: Part,
    /// Frame end and axle end, frame coordinates.
    ends: [Vec3; 2],
    /// Bolts at both ends, frame coordinates.
    bolts: [Vec3; 2],
    tube_radius: f32,
    bushed: bool,
    paint: Paint,
}

/// Collects the pieces of all bars.
pub(crate) struct Links<'a> {
    pub setup: &'a Setup,
    pub at: Configuration,
    pub lit: Option<Part>,
    pub fittings: &'a mut Fittings,
    pub meshes: &'a mut Assets<Mesh>,
}

impl Links<'_> {
    /// Every piece of every bar.
    pub(crate) fn pieces(&mut self, rear_end: &RearEnd) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for &part in &rear_end.parts {
            if let Some(drawn) = rear_end
                .ends_in_frame(part, &self.at)
                .and_then(|ends| self.drawn(part, ends))
            {
                self.bar(&drawn, &mut pieces);
                self.brackets(&drawn, &mut pieces);
            }
        }
        if let Some(watt) = &self.setup.watt {
            self.crank(watt, &mut pieces);
        }
        pieces
    }

    fn drawn(&self, part: Part, ends: [Point3<f64>; 2]) -> Option<Drawn> {
        let (tube_m, kind, role) = match part {
            Part::Bar(id, _) => self.setup.bar(id).map(|b| (b.tube_m, b.ends, b.role))?,
            Part::WattLeft | Part::WattRight => self.setup.watt.as_ref().map(|w| (w.tube_m, w.ends, Role::Sideways))?,
        };
        let ends = ends.map(convert::point);
        let bolt = self.bolt(part, role, ends[0] - ends[1]);
        let bolts = match part {
            Part::WattLeft | Part::WattRight => [bolt, self.axle_direction(self.watt_axis())],
            Part::Bar(..) => [bolt, bolt],
        };
        let paint = if self.lit == Some(part) {
            Paint::Lit
        } else {
            Paint::of_role(role)
        };
        Some(Drawn {
            part,
            ends,
            bolts,
            tube_radius: convert::scalar(tube_m / 2.0),
            bushed: kind == Ends::Bushes,
            paint,
        })
    }

    fn watt_axis(&self) -> Vec3 {
        self.setup
            .watt
            .as_ref()
            .map_or(Vec3::X, |w| convert::vector(w.axis_in_axle()))
    }

    fn axle_direction(&self, in_axle: Vec3) -> Vec3 {
        convert::frame_from_axle(&self.at).rotation * in_axle
    }

    /// Bolts lie level and square to the bar in plan; a Watt's links have theirs along the crank's pivot.
    fn bolt(&self, part: Part, role: Role, along: Vec3) -> Vec3 {
        match (part, role) {
            (Part::WattLeft | Part::WattRight, _) => self.watt_axis(),
            (_, Role::Sideways) => Vec3::X,
            _ => Vec3::Z.cross(Vec3::new(along.x, along.y, 0.0)).normalize_or(Vec3::Y),
        }
    }

    fn bar(&mut self, d: &Drawn, pieces: &mut Vec<Piece>) {
        let reach = (SHANK_M + BUNG_M).min((d.ends[1] - d.ends[0]).length() * 0.45);
        let along = (d.ends[1] - d.ends[0]).normalize_or(Vec3::X);
        let (from, to) = (d.ends[0] + along * reach, d.ends[1] - along * reach);
        let stretch = Transform::from_matrix(convert::along(from, to, d.bolts[0]).into());
        let length = (to - from).length();
        self.add(
            Fitting::Tube,
            d,
            d.paint,
            stretch.with_scale(Vec3::new(length, 1.0, 1.0)),
            pieces,
        );
        for (end, other, bolt, start) in [(0, 1, d.bolts[0], from), (1, 0, d.bolts[1], to)] {
            let joint = place(convert::along(d.ends[end], d.ends[other], bolt));
            let bung = place(convert::along(start, d.ends[other], bolt));
            self.add(Fitting::Insert, d, d.paint, bung, pieces);
            let parts: &[(Fitting, Paint)] = if d.bushed {
                &[
                    (Fitting::EyeSleeve, d.paint),
                    (Fitting::EyeRubber, Paint::Rubber),
                    (Fitting::EyeInner, Paint::Bright),
                ]
            } else {
                &[
                    (Fitting::RodBody, Paint::Steel),
                    (Fitting::RodBall, Paint::Bright),
                    (Fitting::RodNut, Paint::Bright),
                ]
            };
            for &(fitting, paint) in parts {
                self.add(fitting, d, paint, joint, pieces);
            }
            self.add(Fitting::Bolt, d, Paint::Bright, joint, pieces);
        }
    }

    fn add(&mut self, fitting: Fitting, d: &Drawn, paint: Paint, at: Transform, pieces: &mut Vec<Piece>) {
        let mesh = self.fittings.piece(fitting, d.tube_radius, d.bushed, self.meshes);
        pieces.push(Piece {
            mesh,
            paint,
            at,
            on_axle: false,
        });
    }

    fn brackets(&mut self, d: &Drawn, pieces: &mut Vec<Piece>) {
        let plates = plates_for(d.tube_radius, d.bushed);
        let rails = convert::rails(self.setup);
        let anchor = frame_anchor(&rails, d.ends[0]);
        let on_frame = self
            .fittings
            .frame_bracket(d.ends[0], &anchor, d.bolts[0], &plates, self.meshes);
        pieces.push(Piece {
            mesh: on_frame,
            paint: Paint::Bracket,
            at: Transform::IDENTITY,
            on_axle: false,
        });
        let Part::Bar(id, side) = d.part else { return };
        let Some(mount) = self.setup.bar(id).map(|b| convert::point(side.of(b.mount_in_axle))) else {
            return;
        };
        // The axle's bracket was drilled as drawn, at ride height, not as the bar leans now.
        let bolt = self.bolt(d.part, self.role(d.part), self.drawn_direction(id, side));
        let tube_radius = convert::scalar(self.setup.axle.tube_m / 2.0);
        let on_axle = self
            .fittings
            .axle_bracket(mount, bolt, tube_radius, &plates, self.meshes);
        pieces.push(Piece {
            mesh: on_axle,
            paint: Paint::Bracket,
            at: Transform::IDENTITY,
            on_axle: true,
        });
    }

    fn role(&self, part: Part) -> Role {
        match part {
            Part::Bar(id, _) => self.setup.bar(id).map_or(Role::Lower, |b| b.role),
            Part::WattLeft | Part::WattRight => Role::Sideways,
        }
    }

    fn drawn_direction(&self, id: rearend::setup::BarId, side: Side) -> Vec3 {
        let along = self.setup.bar(id).map_or(nalgebra::Vector3::x(), |b| {
            side.of(b.mount_in_frame) - side.of(b.mount_in_axle)
        });
        convert::vector(along)
    }

    fn crank(&mut self, watt: &Watt, pieces: &mut Vec<Piece>) {
        let axis = convert::vector(watt.axis_in_axle());
        let pivot = convert::point(watt.pivot_in_axle);
        let turn = Quat::from_axis_angle(axis, convert::scalar(self.at.crank_rad[0]));
        let mesh = self.fittings.crank(axis, convert::vector(watt.left_arm()), self.meshes);
        let at = Transform::from_translation(pivot).with_rotation(turn);
        pieces.push(Piece {
            mesh,
            paint: Paint::Sideways,
            at,
            on_axle: true,
        });
        let plates = shape::Plates {
            gap: 0.016,
            thickness: 0.006,
            bolt: bolt_for(0.02),
        };
        let tube_radius = convert::scalar(self.setup.axle.tube_m / 2.0);
        let bracket = self
            .fittings
            .axle_bracket(pivot, axis, tube_radius, &plates, self.meshes);
        pieces.push(Piece {
            mesh: bracket,
            paint: Paint::Bracket,
            at: Transform::IDENTITY,
            on_axle: true,
        });
    }
}

fn place(at: Affine3A) -> Transform {
    Transform::from_matrix(at.into())
}

/// The face of the nearer rail that a bracket for this mount is welded to: the outer one for mounts outside, the inner one for mounts
/// inside, the underside for mounts below it.
fn frame_anchor(rails: &shape::Rails, mount: Vec3) -> Anchor {
    let side = if mount.y < 0.0 { -1.0 } else { 1.0 };
    let outer = rails.spacing / 2.0;
    let inner = outer - rails.flange_width;
    let lift = shape::lift_z(rails, mount.x);
    let middle = lift + rails.height / 2.0;
    let reach = mount.y.abs();
    let flat = convert::size(0.13, rails.height * 0.7);
    let on_face = |y: f32, outward: f32| Anchor {
        centre: Vec3::new(
            mount.x,
            side * y,
            mount.z.clamp(middle - rails.height * 0.3, middle + rails.height * 0.3),
        ),
        normal: Vec3::Y * side * outward,
        along: Vec3::X,
        size: flat,
    };
    if reach > outer {
        on_face(outer, 1.0)
    } else if reach < inner {
        on_face(inner, -1.0)
    } else {
        let under = Vec3::new(
            mount.x,
            side * f32::midpoint(outer, inner),
            shape::underside_z(rails, mount.x),
        );
        Anchor {
            centre: under,
            normal: Vec3::NEG_Z,
            along: Vec3::X,
            size: convert::size(0.13, rails.flange_width * 0.9),
        }
    }
}
