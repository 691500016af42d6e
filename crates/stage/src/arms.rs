//! Truck arms and ladder bars: rigid with the axle, one eye on the frame.

use bevy::prelude::*;
use rearend::mechanism::Part;
use rearend::setup::{Arm, ArmKind, BarEnd, Carrier, Mount, Role};

use crate::convert;
use crate::fittings::{Fitting, Style};
use crate::links::{Drawn, Held, Links, Piece, place};
use crate::paint::Paint;
use crate::shape;

/// From the eye's bolt to where a truck arm's beam begins.
const NOSE_M: f32 = 0.055;
/// Outside radius of the eye's sleeve.
const SLEEVE_M: f32 = 0.026;
/// How far a truck arm's beam runs on behind the axle tube's middle.
const TAIL_M: f32 = 0.085;

impl Links<'_> {
    /// An arm whose eye is at `eye`, frame coordinates.
    pub(crate) fn arm(&mut self, part: Part, eye: Vec3, pieces: &mut Vec<Piece>) {
        let Part::Arm(id, side) = part else { return };
        let Some(arm) = self.setup.arm(id) else { return };
        let arm = arm.clone();
        let at_ride = convert::point(side.of(arm.eye_in_frame));
        let [upper, lower] = arm.axle_mounts().map(|m| convert::point(side.of(m)));
        match arm.kind {
            ArmKind::TruckArm => self.beam(part, &arm, [eye, upper], pieces),
            ArmKind::LadderBar => {
                self.ladder_tube(part, &arm, [eye, upper], pieces);
                self.ladder_tube(part, &arm, [eye, lower], pieces);
            }
        }
        let held = Held {
            on: Carrier::Frame,
            mount: at_ride,
            bolt: Vec3::Y,
        };
        let mount = Mount::Arm {
            arm: id,
            end: BarEnd::Frame,
            side,
        };
        if !self.fittings.cut.holds(mount) {
            self.sketch(&held, &self.eye_style(arm.tube_m), pieces);
        }
    }

    fn eye_style(&self, tube_m: f64) -> Style {
        Style::of(&self.setup.steel, convert::scalar(tube_m / 2.0), true)
    }

    /// One of a ladder bar's tubes, from its eye on the frame to its mount on the axle.
    fn ladder_tube(&mut self, part: Part, arm: &Arm, [eye, mount]: [Vec3; 2], pieces: &mut Vec<Piece>) {
        let end = convert::frame_from_axle(&self.at).transform_point(mount);
        let bolt = Vec3::Z.cross(end - eye).normalize_or(Vec3::Y);
        let drawn = Drawn {
            ends: [eye, end],
            bolts: [bolt, bolt],
            style: self.eye_style(arm.tube_m),
            paint: self.paint(part, Role::Lower),
        };
        self.bar(&drawn, pieces);
        let held = Held {
            on: Carrier::Axle,
            mount,
            bolt: Vec3::Y,
        };
        if !self.holds_on_axle(part) {
            self.sketch(&held, &drawn.style, pieces);
        }
    }

    fn holds_on_axle(&self, part: Part) -> bool {
        let Part::Arm(arm, side) = part else { return false };
        let end = BarEnd::Axle;
        self.fittings.cut.holds(Mount::Arm { arm, end, side })
    }

    /// A truck arm's beam from its eye to beyond the axle tube, and the clamp that holds it there.
    fn beam(&mut self, part: Part, arm: &Arm, [eye, mount]: [Vec3; 2], pieces: &mut Vec<Piece>) {
        let frame_from_axle = convert::frame_from_axle(&self.at);
        let end = frame_from_axle.transform_point(mount);
        let height = convert::scalar(arm.tube_m);
        let paint = self.paint(part, Role::Lower);
        // The beam leans with the axle that it is clamped to.
        let across = frame_from_axle.rotation * Vec3::Y;
        let at = convert::along(eye, end, -across);
        let length = eye.distance(end);
        let stretch = Vec3::new((length - NOSE_M + TAIL_M).max(0.05), 1.0, 1.0);
        let beam = Transform::from_matrix(at.into());
        let start = Transform {
            translation: at.transform_point3(Vec3::X * NOSE_M),
            ..beam
        };
        let mesh = self.made("truck arm", [height, 0.0, 0.0], || shape::truck_arm(height));
        let mut put = |mesh, paint, at, on_axle| {
            pieces.push(Piece {
                mesh,
                paint,
                at,
                on_axle,
            });
        };
        put(mesh, paint, start.with_scale(stretch), false);
        let mesh = self.made("truck arm nose", [height, 0.0, 0.0], || {
            shape::truck_arm_nose(height, SLEEVE_M, NOSE_M)
        });
        put(mesh, paint, beam, false);
        let tube = convert::scalar(self.setup.axle.tube_m / 2.0);
        let clamp = self.made(
            "truck arm clamp",
            [mount.x, mount.y, mount.z + 100.0 * (tube + height)],
            || shape::truck_arm_clamp(mount, tube, height),
        );
        put(clamp, Paint::Bracket, Transform::IDENTITY, true);
        self.beam_eye([eye, end], across, paint, pieces);
    }

    fn beam_eye(&mut self, ends: [Vec3; 2], bolt: Vec3, paint: Paint, pieces: &mut Vec<Piece>) {
        let drawn = Drawn {
            ends,
            bolts: [bolt; 2],
            style: self.eye_style(0.04),
            paint,
        };
        let at = place(convert::along(ends[0], ends[1], bolt));
        for (fitting, paint) in [
            (Fitting::EyeSleeve, paint),
            (Fitting::EyeRubber, Paint::Rubber),
            (Fitting::EyeInner, Paint::Bright),
            (Fitting::Bolt, Paint::Bright),
        ] {
            self.add(fitting, &drawn, paint, at, pieces);
        }
    }
}
