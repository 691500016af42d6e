//! Springs at a pose: coilovers wound to their length, bags bulged to their height.

use bevy::math::Affine3A;
use bevy::prelude::*;
use rearend::clearance::{Hand, Solid};
use rearend::setup::{AirSpring, Carrier, Coilover, SpringKind};

use crate::anchor::{frame_anchor, tab_anchor};
use crate::convert;
use crate::fittings::{Fitting, Style, mesh};
use crate::links::{Drawn, Held, Links, Piece, place};
use crate::paint::Paint;
use crate::shape::{self, AirBag, Coil};

/// From the rod's eye to where the coil presses on its cap.
const CAP_M: f32 = 0.066;
/// From an eye's bolt to where the collar may be at its lowest.
const LOWEST_COLLAR_M: f32 = 0.062;
/// Radius of a damper's rod.
const ROD_M: f32 = 0.0075;
/// Thickness of an air spring's plate.
const PLATE_M: f32 = 0.004;

/// One spring: its upper mount in the frame, its lower one in the axle.
struct Ends {
    upper: Vec3,
    lower: Vec3,
}

impl Links<'_> {
    /// Both springs with what they are bolted to, where the setup describes them.
    pub(crate) fn springs(&mut self, pieces: &mut Vec<Piece>) {
        let setup = self.setup;
        let Some(springs) = &setup.springs else { return };
        let Some(lower) = springs.mount_in_axle() else { return };
        for side in [1.0, -1.0] {
            let mirror = Vec3::new(1.0, side, 1.0);
            let ends = Ends {
                upper: convert::point(springs.mount_in_frame) * mirror,
                lower: convert::point(lower) * mirror,
            };
            // The left one is described, but nothing stops a Y of the other sign.
            let is_left = ends.upper.y >= 0.0;
            let hand = if is_left { Hand::Left } else { Hand::Right };
            self.named(Solid::Spring(hand), pieces, |links, pieces| match &springs.kind {
                SpringKind::Coilover(coilover) => links.coilover(coilover, &ends, pieces),
                SpringKind::Air(air) => links.air_spring(air, &ends, pieces),
            });
        }
    }

    fn coilover(&mut self, coilover: &Coilover, ends: &Ends, pieces: &mut Vec<Piece>) {
        let lower = convert::frame_from_axle(&self.at).transform_point(ends.lower);
        let fit = Fit::of(coilover);
        let at = convert::along(lower, ends.upper, Vec3::Y);
        let length = lower.distance(ends.upper);
        self.damper(&fit, at, length, pieces);
        let outer = fit.coil.outer;
        let cap = length - CAP_M;
        let coil = self.meshes.add(mesh(&fit.coil.pressed(cap - fit.collar)));
        push(pieces, coil, Paint::Spring, shifted(at, fit.collar));
        let collar = self.made("collar", [outer, fit.body, 0.0], || shape::coil_collar(outer, fit.body));
        push(pieces, collar, Paint::Steel, shifted(at, fit.collar));
        let mesh = self.made("coil cap", [outer, 0.0, 0.0], || shape::coil_cap(outer));
        push(pieces, mesh, Paint::Damper, shifted(at, cap));
        // The upper bolt runs along the truck: its tab stands before and behind the eye and leaves the coil its room.
        let flip = convert::along(ends.upper, lower, Vec3::X);
        for at in [at, flip] {
            self.spring_eye(at, pieces);
        }
        self.upper_tab(ends.upper, pieces);
        let held = Held {
            on: Carrier::Axle,
            mount: ends.lower,
            bolt: Vec3::Y,
        };
        if !self.fittings.cut.holds_coilovers(Carrier::Axle) {
            self.sketch(&held, &self.spring_style(), pieces);
        }
    }

    /// An eye without a tube.
    fn spring_style(&self) -> Style {
        Style::of(&self.setup.steel, 0.0, true)
    }

    fn upper_tab(&mut self, mount: Vec3, pieces: &mut Vec<Piece>) {
        if self.fittings.cut.holds_coilovers(Carrier::Frame) {
            return;
        }
        let anchor = tab_anchor(self.setup, mount);
        let plates = self.spring_style().plates();
        let tab = self
            .fittings
            .frame_bracket(mount, &anchor, Vec3::X, &plates, self.meshes);
        push(pieces, tab, Paint::Sketch, Affine3A::IDENTITY);
    }

    /// The body with its thread, the rod, and the rubber that meets the body when it is collapsed.
    fn damper(&mut self, fit: &Fit, at: Affine3A, length: f32, pieces: &mut Vec<Piece>) {
        let mut round = |links: &mut Self, from: f32, to: f32, radius: f32, paint: Paint| {
            let mesh = links.made("round", [radius, 0.0, 0.0], || shape::bar_tube(radius));
            let stretch = Affine3A::from_scale(Vec3::new((to - from).max(1e-3), 1.0, 1.0));
            push(pieces, mesh, paint, shifted(at, from) * stretch);
        };
        let cap = length - CAP_M;
        round(self, 0.024, fit.thread_from, fit.body * 0.96, Paint::Damper);
        round(self, fit.body_end - 0.012, fit.body_end, fit.body * 0.99, Paint::Steel);
        round(self, cap - fit.rod, cap, ROD_M, Paint::Bright);
        round(self, cap - 0.03, cap, fit.body * 0.62, Paint::Rubber);
        let body = fit.body;
        let thread = self.made("damper thread", [body, 0.0, 0.0], || shape::damper_thread(body));
        let long = (fit.body_end - 0.012 - fit.thread_from).max(1e-3);
        let stretch = Affine3A::from_scale(Vec3::new(long, 1.0, 1.0));
        push(pieces, thread, Paint::Steel, shifted(at, fit.thread_from) * stretch);
    }

    fn spring_eye(&mut self, at: Affine3A, pieces: &mut Vec<Piece>) {
        let drawn = Drawn {
            ends: [Vec3::ZERO; 2],
            bolts: [Vec3::Y; 2],
            style: self.spring_style(),
            paint: Paint::Damper,
        };
        for (fitting, paint) in [
            (Fitting::EyeSleeve, Paint::Damper),
            (Fitting::EyeRubber, Paint::Rubber),
            (Fitting::EyeInner, Paint::Bright),
            (Fitting::Bolt, Paint::Bright),
        ] {
            self.add(fitting, &drawn, paint, place(at), pieces);
        }
    }

    fn air_spring(&mut self, air: &AirSpring, ends: &Ends, pieces: &mut Vec<Piece>) {
        let [radius, shortest, longest] = [air.bag_m / 2.0, air.shortest_m, air.longest_m].map(convert::scalar);
        let bag = AirBag::fitting(radius, shortest - 2.0 * PLATE_M, longest - 2.0 * PLATE_M);
        let axle = convert::frame_from_axle(&self.at);
        let lower = axle.compute_affine() * Affine3A::from_translation(ends.lower + Vec3::Z * PLATE_M);
        let upper = Affine3A::from_translation(ends.upper - Vec3::Z * PLATE_M);
        let rubber = self.meshes.add(mesh(&bag.between(lower, upper)));
        push(pieces, rubber, Paint::Rubber, Affine3A::IDENTITY);
        let plate = bag.plate;
        let disc = self.made("bag plate", [plate, 0.0, 0.0], || shape::bag_plate(plate));
        push(pieces, disc.clone(), Paint::Spring, upper);
        push(
            pieces,
            disc,
            Paint::Spring,
            lower * Affine3A::from_rotation_x(std::f32::consts::PI),
        );
        let hoop = self.made("bag hoop", [plate, 0.0, 0.0], || shape::bag_hoop(plate));
        for number in 1..bag.bulges {
            let share = convert::share(number, bag.bulges);
            push(pieces, hoop.clone(), Paint::Spring, between(lower, upper, share));
        }
        self.air_seats(ends, plate, pieces);
    }

    /// The shelf on the frame and the seat on the axle.
    fn air_seats(&mut self, ends: &Ends, plate: f32, pieces: &mut Vec<Piece>) {
        let tube = convert::scalar(self.setup.axle.tube_m / 2.0);
        let anchor = frame_anchor(self.setup, ends.upper);
        let (upper, lower) = (ends.upper, ends.lower);
        let shelf = self.fittings.shelf(upper, &anchor, plate, self.meshes);
        push(pieces, shelf, Paint::Bracket, Affine3A::IDENTITY);
        let seat = self.fittings.seat(lower, tube, plate, self.meshes);
        pieces.push(Piece {
            mesh: seat,
            paint: Paint::Bracket,
            at: Transform::IDENTITY,
            on_axle: true,
        });
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

fn shifted(at: Affine3A, x: f32) -> Affine3A {
    at * Affine3A::from_translation(Vec3::X * x)
}

/// A place on the way from one pose to another that leans a little from it.
fn between(from: Affine3A, to: Affine3A, share: f32) -> Affine3A {
    let (_, turn, place) = from.to_scale_rotation_translation();
    let (_, other, end) = to.to_scale_rotation_translation();
    Affine3A::from_rotation_translation(turn.slerp(other, share), place.lerp(end, share))
}

/// What a coilover is put together from, metres from its lower eye.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Fit {
    coil: Coil,
    /// Radius of the damper's body.
    body: f32,
    /// Where the collar presses the coil.
    collar: f32,
    /// Where the thread begins.
    thread_from: f32,
    /// Where the body ends: collapsed, it meets the cap.
    body_end: f32,
    /// Length of the rod, from the cap: fully extended, it is at its end.
    rod: f32,
}

impl Fit {
    fn of(coilover: &Coilover) -> Self {
        let [collapsed, extended, free, preload, coil] = [
            coilover.collapsed_m,
            coilover.extended_m,
            coilover.free_length_m,
            coilover.preload_m,
            coilover.coil_m,
        ]
        .map(convert::scalar);
        let put_on = free - preload;
        let shortest = put_on - (extended - collapsed);
        let coil = Coil::with_rate(coil / 2.0, convert::scalar(coilover.rate_n_per_m), shortest);
        let body_end = (collapsed - CAP_M - 0.004).max(LOWEST_COLLAR_M + 0.02);
        let collar = (extended - CAP_M - put_on).clamp(LOWEST_COLLAR_M, body_end);
        Self {
            coil,
            body: (coil.inner() * 0.84).clamp(0.012, 0.032),
            collar,
            thread_from: (collar - 0.06).clamp(0.03, body_end - 0.02),
            body_end,
            rod: (extended - collapsed) + 0.012,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const COILOVER: Coilover = Coilover {
        collapsed_m: 0.30,
        extended_m: 0.45,
        rate_n_per_m: 40e3,
        free_length_m: 0.25,
        preload_m: 0.01,
        coil_m: 0.095,
    };

    #[test]
    fn the_coil_is_as_long_as_preload_leaves_it_when_the_damper_is_extended() {
        let fit = Fit::of(&COILOVER);
        assert!((0.45 - CAP_M - fit.collar - 0.24).abs() < 1e-6);
        assert!(fit.body < fit.coil.inner());
    }

    #[test]
    fn the_rod_reaches_into_the_body_between_collapsed_and_extended() {
        let fit = Fit::of(&COILOVER);
        for length in [0.30, 0.38, 0.45] {
            let (cap, end) = (length - CAP_M, length - CAP_M - fit.rod);
            assert!(end < fit.body_end && cap >= fit.body_end, "{length}");
        }
    }

    #[test]
    fn a_coil_too_long_for_its_damper_still_has_a_place() {
        let fit = Fit::of(&Coilover {
            free_length_m: 0.6,
            ..COILOVER
        });
        assert!(fit.collar >= LOWEST_COLLAR_M && fit.collar <= fit.body_end);
    }
}
