//! Bars with their ends and brackets, and the Watt's crank, at a pose. Arms, shaft and springs have files of their own.

use bevy::math::Affine3A;
use bevy::prelude::*;
use linkage::{Configuration, LinkId};
use nalgebra::Point3;
use rearend::clearance::Solid;
use rearend::mechanism::{BoltLine, Part, RearEnd};
use rearend::setup::{BarEnd, Carrier, Ends, Mount, Role, Setup, Side, Watt};

use crate::anchor::{cover_anchor, frame_anchor};
use crate::convert;
use crate::fittings::{BUNG_M, Fitting, Fittings, SHANK_M, bolt_for, plates_for};
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
    pub tube_radius: f32,
    pub bushed: bool,
    pub paint: Paint,
}

/// A mount that a bracket holds, in the coordinates of what carries it.
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
        let mut pieces = Vec::new();
        for (i, &part) in rear_end.parts.iter().enumerate() {
            let ends = rear_end.mechanism.ends_in_ground(LinkId(i), &self.at);
            if let Some(drawn) = self.drawn(part, ends, &rear_end.bolts[i]) {
                self.bar(&drawn, &mut pieces);
                for held in self.held(part, &rear_end.bolts[i]) {
                    self.bracket(&held, drawn.tube_radius, drawn.bushed, &mut pieces);
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
            tube_radius: convert::scalar(tube_m / 2.0),
            bushed: kind != Ends::RodEnds,
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

    /// The mounts of a part that need a bracket: a crank's end needs none, a wishbone's apex one.
    fn held(&self, part: Part, bolts: &[BoltLine; 2]) -> Vec<Held> {
        let held = |mount: Mount, bolt: &BoltLine| {
            self.setup.mount(mount).map(|at| Held {
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

    pub(crate) fn add(&mut self, fitting: Fitting, d: &Drawn, paint: Paint, at: Transform, pieces: &mut Vec<Piece>) {
        let mesh = self.fittings.piece(fitting, d.tube_radius, d.bushed, self.meshes);
        pieces.push(Piece {
            mesh,
            paint,
            at,
            on_axle: false,
        });
    }

    /// A bracket as it was drilled, at ride height, not as the bar leans now.
    pub(crate) fn bracket(&mut self, held: &Held, bar_radius: f32, bushed: bool, pieces: &mut Vec<Piece>) {
        let plates = plates_for(bar_radius, bushed);
        self.plates(held, &plates, pieces);
    }

    fn plates(&mut self, held: &Held, plates: &shape::Plates, pieces: &mut Vec<Piece>) {
        let mesh = match held.on {
            Carrier::Frame => {
                let anchor = frame_anchor(self.setup, held.mount);
                self.fittings
                    .frame_bracket(held.mount, &anchor, held.bolt, plates, self.meshes)
            }
            Carrier::Axle => {
                let tube_radius = convert::scalar(self.setup.axle.tube_m / 2.0);
                if let Some(anchor) = cover_anchor(self.setup, held.mount, held.bolt) {
                    self.fittings
                        .frame_bracket(held.mount, &anchor, held.bolt, plates, self.meshes)
                } else {
                    self.fittings
                        .axle_bracket(held.mount, held.bolt, tube_radius, plates, self.meshes)
                }
            }
        };
        pieces.push(Piece {
            mesh,
            paint: Paint::Bracket,
            at: Transform::IDENTITY,
            on_axle: held.on == Carrier::Axle,
        });
    }

    fn crank(&mut self, watt: &Watt, pieces: &mut Vec<Piece>) {
        let axis = convert::vector(watt.pivot_axis());
        let pivot = convert::point(watt.pivot);
        let turn = Quat::from_axis_angle(axis, convert::scalar(self.at.crank_rad[0]));
        let arms = watt.joints().map(|joint| convert::vector(joint - watt.pivot));
        let mesh = self.fittings.crank(axis, arms, self.meshes);
        let at = Transform::from_translation(pivot).with_rotation(turn);
        pieces.push(Piece {
            mesh,
            paint: Paint::Sideways,
            at,
            on_axle: watt.crank_on == Carrier::Axle,
        });
        let plates = shape::Plates {
            gap: 0.016,
            thickness: 0.006,
            bolt: bolt_for(0.02),
        };
        let held = Held {
            on: watt.crank_on,
            mount: pivot,
            bolt: axis,
        };
        self.plates(&held, &plates, pieces);
    }
}

pub(crate) fn place(at: Affine3A) -> Transform {
    Transform::from_matrix(at.into())
}
