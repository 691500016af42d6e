//! The drive shaft at a pose: its joints, its tube, and how far its splines are out.

use bevy::math::{Affine3A, Quat};
use bevy::prelude::*;
use linkage::Configuration;
use rearend::clearance::Solid as Known;
use rearend::setup::{Driveline, Setup};

use crate::convert::{self, jointed};
use crate::links::{Links, Piece, place};
use crate::paint::Paint;
use crate::shape::{self, SHAFT_END_M, SLEEVE_START_M, SPLINE_NECK_M};

/// From the joint behind a carrier bearing forward to the bearing.
pub(crate) const BEARING_M: f32 = 0.125;
/// Radius of the stub that turns in the bearing.
const STUB_M: f32 = 0.028;
/// The shortest sleeve.
const SLEEVE_M: f32 = 0.07;

/// Direction of the transmission's output, forwards, frame coordinates.
pub(crate) fn output_direction(driveline: &Driveline) -> Vec3 {
    let (up, left) = (driveline.output_nose_up_rad, driveline.output_left_rad);
    let (sin, cos) = (convert::scalar(up).sin(), convert::scalar(up).cos());
    let (aside, ahead) = (convert::scalar(left).sin(), convert::scalar(left).cos());
    Vec3::new(cos * ahead, cos * aside, sin)
}

/// The caps' axis of the yoke of a shaft along `shaft` whose cross has its other caps along `caps`.
fn other_caps(shaft: Vec3, caps: Vec3) -> Vec3 {
    shaft.cross(caps).normalize_or(shaft.any_orthonormal_vector())
}

/// The joint of the rear shaft that stays with the frame: behind the carrier bearing, or else the transmission's.
fn front_joint(driveline: &Driveline) -> Vec3 {
    convert::point(driveline.carrier.unwrap_or(driveline.output))
}

fn pinion_joint(setup: &Setup, at: &Configuration) -> Vec3 {
    convert::frame_from_axle(at).transform_point(convert::point(setup.pinion_joint_in_axle()))
}

impl Links<'_> {
    /// Everything that turns between transmission and pinion, where the setup describes it.
    pub(crate) fn shaft(&mut self, ride: &Configuration, pieces: &mut Vec<Piece>) {
        let setup = self.setup;
        let Some(driveline) = &setup.driveline else { return };
        let (front, rear) = (front_joint(driveline), pinion_joint(setup, &self.at));
        let back = (rear - front).normalize_or(Vec3::NEG_X);
        let pinion_caps = convert::frame_from_axle(&self.at).rotation * Vec3::Y;
        let rear_caps = other_caps(back, pinion_caps);
        self.cross(rear, pinion_caps, rear_caps, pieces);
        let phase = Quat::from_axis_angle(back, convert::scalar(driveline.phase_rad));
        let front_caps = phase * rear_caps;
        let at_ride_m = front.distance(pinion_joint(setup, ride));
        let splines = Splines::of(driveline, at_ride_m);
        let radius = convert::scalar(driveline.tube_m / 2.0);
        self.slip_end(jointed(front, back, front_caps), &splines, pieces);
        self.tube_end(
            jointed(rear, -back, rear_caps),
            radius,
            splines.tube - SHAFT_END_M,
            pieces,
        );
        self.spline(jointed(rear, -back, rear_caps), radius, &splines, pieces);
        let output = convert::point(driveline.output);
        let mut caps = front_caps;
        if driveline.carrier.is_some() {
            caps = self.named(Known::FrontShaft, pieces, |links, pieces| {
                links.coupling_shaft([output, front], front_caps, radius, pieces)
            });
        }
        let out = output_direction(driveline);
        let output_caps = other_caps(out, caps);
        self.cross(output, output_caps, caps, pieces);
        self.yoke(output, -out, output_caps, pieces);
    }

    /// The shaft ahead of the carrier bearing: it turns in place. Returns the caps' axis of its front end.
    fn coupling_shaft(&mut self, [from, to]: [Vec3; 2], caps: Vec3, radius: f32, pieces: &mut Vec<Piece>) -> Vec3 {
        let along = (to - from).normalize_or(Vec3::NEG_X);
        let length = from.distance(to);
        let own = other_caps(along, caps);
        self.cross(to, own, caps, pieces);
        self.yoke(to, along, own, pieces);
        let at = jointed(from, along, own);
        let tube = (length - BEARING_M - 0.045 - SHAFT_END_M).max(0.02);
        self.tube_end(at, radius, tube, pieces);
        let start = SHAFT_END_M + tube;
        let neck = self.made("spline neck", [radius, 0.0, 0.0], || shape::spline_neck(radius));
        push(
            pieces,
            neck,
            Paint::Shaft,
            at * Affine3A::from_translation(Vec3::X * start),
        );
        let stub = (length - 0.05 - start).max(0.02);
        self.rod(at, start, stub, STUB_M, Paint::Steel, pieces);
        own
    }

    /// The end that is welded to the tube, and `length` of tube.
    fn tube_end(&mut self, at: Affine3A, radius: f32, length: f32, pieces: &mut Vec<Piece>) {
        let end = self.made("shaft end", [radius, 0.0, 0.0], || shape::shaft_end(radius));
        push(pieces, end, Paint::Steel, at);
        self.rod(at, SHAFT_END_M, length, radius, Paint::Shaft, pieces);
    }

    fn slip_end(&mut self, at: Affine3A, splines: &Splines, pieces: &mut Vec<Piece>) {
        let sleeve = splines.sleeve;
        let mesh = self.made("slip yoke", [sleeve, 0.0, 0.0], || shape::slip_yoke(sleeve));
        push(pieces, mesh, Paint::Steel, at);
    }

    /// What slides in the sleeve, seen from the rear joint.
    fn spline(&mut self, at: Affine3A, radius: f32, splines: &Splines, pieces: &mut Vec<Piece>) {
        let neck = self.made("spline neck", [radius, 0.0, 0.0], || shape::spline_neck(radius));
        push(
            pieces,
            neck,
            Paint::Shaft,
            at * Affine3A::from_translation(Vec3::X * splines.tube),
        );
        let mesh = self.made("splines", [0.0; 3], shape::splines);
        let start = at * Affine3A::from_translation(Vec3::X * (splines.tube + SPLINE_NECK_M));
        push(
            pieces,
            mesh,
            Paint::Bright,
            start * Affine3A::from_scale(Vec3::new(splines.length, 1.0, 1.0)),
        );
    }

    /// A round piece from `start` along X.
    fn rod(&mut self, at: Affine3A, start: f32, length: f32, radius: f32, paint: Paint, pieces: &mut Vec<Piece>) {
        let mesh = self.made("round", [radius, 0.0, 0.0], || shape::bar_tube(radius));
        let stretch = Affine3A::from_scale(Vec3::new(length.max(1e-3), 1.0, 1.0));
        push(
            pieces,
            mesh,
            paint,
            at * Affine3A::from_translation(Vec3::X * start) * stretch,
        );
    }

    fn cross(&mut self, at: Vec3, one: Vec3, other: Vec3, pieces: &mut Vec<Piece>) {
        let mesh = self.made("joint cross", [0.0; 3], shape::joint_cross);
        push(
            pieces,
            mesh,
            Paint::Bright,
            jointed(at, one.cross(other).normalize_or(Vec3::X), other),
        );
    }

    /// A yoke whose hub is on the far side of `along`.
    fn yoke(&mut self, at: Vec3, along: Vec3, caps: Vec3, pieces: &mut Vec<Piece>) {
        let mesh = self.made("yoke", [0.0; 3], shape::yoke);
        push(pieces, mesh, Paint::Steel, jointed(at, along, along.cross(caps)));
    }
}

fn push(pieces: &mut Vec<Piece>, mesh: Handle<Mesh>, paint: Paint, at: Affine3A) {
    pieces.push(Piece {
        mesh,
        paint,
        at: place(at),
        on_axle: false,
    });
}

/// The splines of a shaft: made at ride height, where they can still slide in and out as the setup says.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Splines {
    /// From the rear joint to the tube's front end.
    tube: f32,
    /// From the neck on: fully in, the sleeve meets the neck; fully out, they leave the sleeve.
    length: f32,
    /// Length of the sleeve that they slide in.
    sleeve: f32,
}

impl Splines {
    fn of(driveline: &Driveline, at_ride_m: f32) -> Self {
        let (inward, outward) = (
            convert::scalar(driveline.slip_in_m),
            convert::scalar(driveline.slip_out_m),
        );
        let most = (at_ride_m * 0.35).max(SLEEVE_M);
        let sleeve = (inward + outward + 0.015).clamp(SLEEVE_M, most);
        let taken = SLEEVE_START_M + sleeve + inward + SPLINE_NECK_M;
        Self {
            tube: (at_ride_m - taken).max(SHAFT_END_M + 0.02),
            length: (inward + outward).max(0.01),
            sleeve,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use nalgebra::Point3;

    fn driveline() -> Driveline {
        Driveline {
            output: Point3::new(1.6, 0.0, 0.1),
            output_nose_up_rad: 0.05,
            output_left_rad: 0.0,
            carrier: None,
            tube_m: 0.076,
            slip_in_m: 0.04,
            slip_out_m: 0.05,
            phase_rad: 0.0,
            speed: None,
        }
    }

    #[test]
    fn at_ride_height_as_much_spline_is_seen_as_can_slide_in() {
        let splines = Splines::of(&driveline(), 1.3);
        let sleeve_ends = 1.3 - SLEEVE_START_M - splines.sleeve;
        let neck_ends = splines.tube + SPLINE_NECK_M;
        assert!((sleeve_ends - neck_ends - 0.04).abs() < 1e-6);
        // Pulled out by what can slide out, the end of the splines is at the sleeve's mouth.
        assert!((neck_ends + splines.length - (sleeve_ends + 0.05)).abs() < 1e-6);
    }

    #[test]
    fn a_short_shaft_still_has_a_tube() {
        let splines = Splines::of(&driveline(), 0.1);
        assert!(splines.tube > SHAFT_END_M && splines.sleeve > 0.0);
    }

    #[test]
    fn caps_are_square_to_their_shaft_and_to_each_other() {
        let shaft = Vec3::new(-1.0, 0.1, -0.05).normalize();
        let caps = other_caps(shaft, Vec3::Y);
        assert!(caps.dot(shaft).abs() < 1e-6 && caps.dot(Vec3::Y).abs() < 1e-6);
        let frame = jointed(Vec3::ZERO, shaft, caps);
        assert!((frame.matrix3.determinant() - 1.0).abs() < 1e-5);
    }

    #[test]
    fn an_output_with_its_nose_up_points_up_forwards() {
        let out = output_direction(&driveline());
        assert!(out.x > 0.99 && (out.z - 0.05_f32.sin()).abs() < 1e-6 && out.y == 0.0);
    }
}
