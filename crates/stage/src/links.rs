//! Bars with their ends and brackets, and the Watt's crank, at a pose. Arms, shaft and springs have files of their own.

use bevy::math::Affine3A;
use bevy::prelude::*;
use linkage::{Configuration, LinkId};
use nalgebra::Point3;
use rearend::brackets::{crank_gap_m, crank_spacer_m};
use rearend::clearance::Solid;
use rearend::mechanism::{BoltLine, Part, RearEnd};
use rearend::setup::{BarEnd, Carrier, Ends, Mount, Role, Setup, Side, Watt};

use crate::anchor::{cover_anchor, frame_anchor};
use crate::convert;
use crate::fittings::{Fitting, Fittings, Style};
use crate::paint::Paint;
use crate::shape;

/// Something to draw: a mesh, how it is painted, where, and on what it rides.
pub(crate) struct Piece {
    pub mesh: Handle<Mesh>,
    pub paint: Paint,
    pub at: Transform,
    pub on_axle: bool,
}

/// What is known of one bar at a pose.
pub(crate) struct Drawn {
    /// Frame end and axle end, frame coordinates; of a Watt's link the crank's end last.
    pub ends: [Vec3; 2],
    /// Bolts at both ends, frame coordinates.
    pub bolts: [Vec3; 2],
    pub style: Style,
    pub paint: Paint,
}

/// A mount whose bracket cannot be cut, in the coordinates of what carries it.
pub(crate) struct Held {
    pub on: Carrier,
    pub mount: Vec3,
    pub bolt: Vec3,
}

/// Collects the pieces of all bars.
pub(crate) struct Links<'a> {
    pub setup: &'a Setup,
    pub at: Configuration,
    pub lit: &'a [Solid],
    pub fittings: &'a mut Fittings,
    pub meshes: &'a mut Assets<Mesh>,
}

impl Links<'_> {
    /// Every piece of every bar and arm.
    pub(crate) fn pieces(&mut self, rear_end: &RearEnd) -> Vec<Piece> {
        let setup = self.setup;
        self.fittings.cut.follow(setup, rear_end, self.meshes);
        let mut pieces = self.fittings.cut.pieces(self.crank_turn(), self.lit);
        for (i, &part) in rear_end.parts.iter().enumerate() {
            let ends = rear_end.mechanism.ends_in_ground(LinkId(i), &self.at);
            if let Some(drawn) = self.drawn(part, ends, &rear_end.bolts[i]) {
                self.bar(&drawn, &mut pieces);
                for held in self.uncut(part, &rear_end.bolts[i]) {
                    self.sketch(&held, &drawn.style, &mut pieces);
                }
            }
        }
        for &part in &rear_end.eyes {
            if let Some(ends) = rear_end.ends_in_frame(self.setup, part, &self.at) {
                self.arm(part, convert::point(ends[0]), &mut pieces);
            }
        }
        if let Some(watt) = &self.setup.watt {
            self.named(Solid::Crank, &mut pieces, |links, pieces| links.crank(watt, pieces));
        }
        self.named(Solid::Shaft, &mut pieces, |links, pieces| {
            links.shaft(&rear_end.ride, pieces);
        });
        self.springs(&mut pieces);
        pieces
    }

    /// What is drawn is one thing, and lights up as one.
    pub(crate) fn named<T>(
        &mut self,
        solid: Solid,
        pieces: &mut Vec<Piece>,
        draw: impl FnOnce(&mut Self, &mut Vec<Piece>) -> T,
    ) -> T {
        let from = pieces.len();
        let drawn = draw(self, pieces);
        if self.lit.contains(&solid) {
            for piece in &mut pieces[from..] {
                piece.paint = piece.paint.lit();
            }
        }
        drawn
    }

    /// A mesh that is made once and kept, by what it is and its sizes.
    pub(crate) fn made(
        &mut self,
        what: &'static str,
        sizes: [f32; 3],
        make: impl FnOnce() -> shape::Solid,
    ) -> Handle<Mesh> {
        self.fittings.made(what, sizes, self.meshes, make)
    }

    fn drawn(&self, part: Part, ends: [Point3<f64>; 2], bolts: &[BoltLine; 2]) -> Option<Drawn> {
        let (tube_m, kind, role) = match part {
            Part::Bar(id, _) => self.setup.bar(id).map(|b| (b.tube_m, b.ends, b.role))?,
            Part::WattLeft | Part::WattRight => self.setup.watt.as_ref().map(|w| (w.tube_m, w.ends, Role::Sideways))?,
            Part::Arm(..) => return None,
        };
        let turn = self.at.ground_from_platform();
        Some(Drawn {
            ends: ends.map(convert::point),
            bolts: [0, 1].map(|i| convert::vector(bolts[i].in_frame(&turn))),
            style: Style::of(&self.setup.steel, convert::scalar(tube_m / 2.0), kind != Ends::RodEnds),
            paint: self.paint(part, role),
        })
    }

    pub(crate) fn paint(&self, part: Part, role: Role) -> Paint {
        if self.lit.contains(&Solid::Part(part)) {
            Paint::Lit
        } else {
            Paint::of_role(role)
        }
    }

    /// The mounts of a part whose bracket cannot be cut. A crank's end needs none, a wishbone's apex one.
    fn uncut(&self, part: Part, bolts: &[BoltLine; 2]) -> Vec<Held> {
        let held = |mount: Mount, bolt: &BoltLine| {
            let drawn = self.setup.mount(mount).filter(|_| !self.fittings.cut.holds(mount));
            drawn.map(|at| Held {
                on: at.carrier,
                mount: convert::point(at.point),
                bolt: convert::vector(bolt.direction),
            })
        };
        let mounts = match part {
            Part::Bar(bar, side) => {
                let shared = side == Side::Mirrored && self.setup.bar(bar).is_some_and(|b| b.joined);
                let axle = (!shared).then_some(BarEnd::Axle);
                [Some(BarEnd::Frame), axle].map(|end| end.map(|end| Mount::Bar { bar, end, side }))
            }
            Part::WattLeft => [Some(Mount::WattLeft), None],
            Part::WattRight => [Some(Mount::WattRight), None],
            Part::Arm(..) => [None, None],
        };
        let both = mounts.into_iter().zip(bolts);
        both.filter_map(|(mount, bolt)| held(mount?, bolt)).collect()
    }

    pub(crate) fn bar(&mut self, d: &Drawn, pieces: &mut Vec<Piece>) {
        let reach = d.style.to_tube().min((d.ends[1] - d.ends[0]).length() * 0.45);
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
            let parts: &[(Fitting, Paint)] = if d.style.bushed {
                &[
                    (Fitting::Coped, d.paint),
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
            if !d.style.bushed {
                self.add(Fitting::Insert, d, d.paint, bung, pieces);
            }
            self.add(Fitting::Bolt, d, Paint::Bright, joint, pieces);
        }
    }

    pub(crate) fn add(&mut self, fitting: Fitting, d: &Drawn, paint: Paint, at: Transform, pieces: &mut Vec<Piece>) {
        let mesh = self.fittings.piece(fitting, &d.style, self.meshes);
        pieces.push(Piece {
            mesh,
            paint,
            at,
            on_axle: false,
        });
    }

    /// A bracket that no plates can be cut for, roughly where it would be, at ride height, not as the bar leans now.
    pub(crate) fn sketch(&mut self, held: &Held, style: &Style, pieces: &mut Vec<Piece>) {
        let plates = &style.plates();
        let anchor = match held.on {
            Carrier::Frame => Some(frame_anchor(self.setup, held.mount)),
            Carrier::Axle => cover_anchor(self.setup, held.mount, held.bolt),
        };
        let mesh = if let Some(anchor) = anchor {
            self.fittings
                .frame_bracket(held.mount, &anchor, held.bolt, plates, self.meshes)
        } else {
            let tube_radius = convert::scalar(self.setup.axle.tube_m / 2.0);
            self.fittings
                .axle_bracket(held.mount, held.bolt, tube_radius, plates, self.meshes)
        };
        pieces.push(Piece {
            mesh,
            paint: Paint::Sketch,
            at: Transform::IDENTITY,
            on_axle: held.on == Carrier::Axle,
        });
    }

    /// Where a Watt's crank has turned to, coordinates of its carrier; nowhere without one.
    fn crank_turn(&self) -> Affine3A {
        let Some(watt) = &self.setup.watt else {
            return Affine3A::IDENTITY;
        };
        let pivot = convert::point(watt.pivot);
        let turn = Quat::from_axis_angle(
            convert::vector(watt.pivot_axis()),
            convert::scalar(self.at.crank_rad[0]),
        );
        Affine3A::from_translation(pivot) * Affine3A::from_quat(turn) * Affine3A::from_translation(-pivot)
    }

    /// The pivot's bolt with the spacer that the crank turns on; crank and bracket too where they cannot be cut.
    fn crank(&mut self, watt: &Watt, pieces: &mut Vec<Piece>) {
        let axis = convert::vector(watt.pivot_axis());
        let pivot = convert::point(watt.pivot);
        let on_axle = watt.crank_on == Carrier::Axle;
        let style = Style::of(&self.setup.steel, 0.0, true);
        if !self.fittings.cut.holds(Mount::WattLeftArm) {
            let arms = watt.joints().map(|joint| convert::vector(joint - watt.pivot));
            let mesh = self.fittings.crank(axis, arms, self.meshes);
            let at = place(self.crank_turn() * Affine3A::from_translation(pivot));
            pieces.push(Piece {
                mesh,
                paint: Paint::Sideways,
                at,
                on_axle,
            });
        }
        let steel = &self.setup.steel;
        let wide = style.as_wide_as(crank_gap_m(steel));
        let beside = style.as_wide_as(crank_spacer_m(steel));
        if !self.fittings.cut.holds(Mount::WattPivot) {
            let held = Held {
                on: watt.crank_on,
                mount: pivot,
                bolt: axis,
            };
            self.sketch(&held, &wide, pieces);
        }
        // Its bracket stands to one side of it, by the spacer that lies there.
        let off = self.fittings.cut.off_pivot(pivot, axis);
        let spacer = off.signum() * (wide.gap / 2.0 + off.abs() - beside.gap / 2.0);
        let at = |off: f32| {
            let at = pivot + axis * off;
            place(convert::along(at, at + axis.any_orthonormal_vector(), axis))
        };
        let on_bolt = [
            (Fitting::Spacer, &style, at(0.0)),
            (Fitting::Spacer, &beside, at(spacer)),
            (Fitting::Bolt, &wide, at(off)),
        ];
        for (fitting, style, at) in on_bolt {
            let mesh = self.fittings.piece(fitting, style, self.meshes);
            pieces.push(Piece {
                mesh,
                paint: Paint::Bright,
                at,
                on_axle,
            });
        }
    }
}

pub(crate) fn place(at: Affine3A) -> Transform {
    Transform::from_matrix(at.into())
}
