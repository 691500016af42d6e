//! Sketches of single parts: a bar that does not fit, shaft, springs, and the room around a tyre.

use egui::Align2;
use rearend::setup::Role;

use super::{At, Pencil};

pub(super) fn misfit(p: &Pencil) {
    let (frame, axle, end) = ([15.0, 30.0], [85.0, 16.0], [76.0, 17.8]);
    p.bar(Role::Upper, [frame, end]);
    p.circle(axle, 2.5);
    p.dashed(&[end, axle]);
    p.measure([76.0, 23.0], [85.0, 21.2]);
    p.name([80.0, 25.0], Align2::CENTER_BOTTOM, "misfit");
    p.note([15.0, 35.0], Align2::CENTER_BOTTOM, "mount on the frame");
    p.note([83.0, 11.0], Align2::CENTER_TOP, "mount on the axle");
}

const FRONT: At = [24.0, 32.0];
const REAR: At = [74.0, 18.0];

fn shaft(p: &Pencil) {
    p.rectangle([2.0, 28.0], [14.0, 36.0]);
    p.outline(&[[14.0, 32.0], FRONT, REAR, [88.0, 18.0]]);
    p.circle([93.0, 18.0], 5.0);
    for joint in [FRONT, REAR] {
        p.circle(joint, 1.5);
    }
    p.note([2.0, 37.5], Align2::LEFT_BOTTOM, "transmission");
    p.note([93.0, 11.0], Align2::CENTER_TOP, "axle");
}

pub(super) fn front_joint(p: &Pencil) {
    shaft(p);
    p.dashed(&[FRONT, [56.0, 32.0]]);
    p.arc(FRONT, 24.0, [0.0, -15.6]);
    p.name([51.0, 28.5], Align2::LEFT_CENTER, "front joint");
}

pub(super) fn rear_joint(p: &Pencil) {
    shaft(p);
    p.dashed(&[REAR, [42.0, 18.0]]);
    p.arc(REAR, 24.0, [180.0, 164.4]);
    p.name([46.0, 21.0], Align2::RIGHT_CENTER, "rear joint");
}

fn wave(middle: f32, high: f32, waves: f32) -> Vec<At> {
    let at = |i: u8| {
        let share = f32::from(i) / 64.0;
        let turn = share * waves * std::f32::consts::TAU;
        [14.0 + 76.0 * share, middle + high * turn.sin()]
    };
    (0..=64).map(at).collect()
}

pub(super) fn unevenness(p: &Pencil) {
    p.outline(&[[14.0, 42.0], [14.0, 8.0], [92.0, 8.0]]);
    p.dashed(&[[14.0, 25.0], [90.0, 25.0]]);
    // A joint at an angle speeds up and slows down twice a turn.
    p.mark(&wave(25.0, 8.0, 2.0));
    p.note([88.0, 26.0], Align2::RIGHT_BOTTOM, "transmission");
    p.name([24.0, 35.0], Align2::LEFT_BOTTOM, "pinion");
    p.note([12.0, 42.0], Align2::RIGHT_TOP, "speed");
    p.note([52.0, 7.0], Align2::CENTER_TOP, "one turn");
}

pub(super) fn slip(p: &Pencil) {
    p.rectangle([4.0, 19.0], [50.0, 29.0]);
    p.rectangle([44.0, 21.5], [96.0, 26.5]);
    for x in [62.0, 50.0] {
        p.dashed(&[[x, 16.0], [x, 35.0]]);
    }
    p.measure([50.0, 33.0], [62.0, 33.0]);
    p.name([56.0, 36.0], Align2::CENTER_BOTTOM, "out");
    p.note([27.0, 16.0], Align2::CENTER_TOP, "front half of the shaft");
    p.note([78.0, 16.0], Align2::CENTER_TOP, "rear half");
}

/// Turns of a coil between two heights.
fn coil(p: &Pencil, x: f32, [low, high]: [f32; 2]) {
    let at = |i: u8| {
        let side = if i.is_multiple_of(2) { -5.0 } else { 5.0 };
        [x + side, low + (high - low) * f32::from(i) / 12.0]
    };
    p.outline(&(0..=12).map(at).collect::<Vec<_>>());
}

pub(super) fn spring_length(p: &Pencil) {
    coil(p, 46.0, [9.0, 37.0]);
    for y in [5.0, 41.0] {
        p.circle([46.0, y], 2.0);
    }
    p.outline(&[[46.0, 7.0], [46.0, 9.0]]);
    p.outline(&[[46.0, 37.0], [46.0, 39.0]]);
    p.measure([58.0, 5.0], [58.0, 41.0]);
    p.name([61.0, 23.0], Align2::LEFT_CENTER, "spring length");
    p.note([42.0, 41.0], Align2::RIGHT_CENTER, "frame");
    p.note([42.0, 5.0], Align2::RIGHT_CENTER, "axle");
}

pub(super) fn wheel_rate(p: &Pencil) {
    p.outline(&[[18.0, 43.0], [18.0, 7.0], [90.0, 7.0]]);
    let curve = |i: u8| {
        let share = f32::from(i) / 20.0;
        [18.0 + 68.0 * share, 10.0 + 18.0 * share + 12.0 * share * share]
    };
    p.outline(&(0..=20).map(curve).collect::<Vec<_>>());
    let ([x0, y0], [x1, y1]) = (curve(9), curve(14));
    p.mark(&[[x0, y0], [x1, y0], [x1, y1]]);
    p.name([x1 + 2.0, f32::midpoint(y0, y1)], Align2::LEFT_CENTER, "carries more");
    p.name([f32::midpoint(x0, x1), y0 - 1.0], Align2::CENTER_TOP, "rises");
    p.note([16.0, 43.0], Align2::RIGHT_TOP, "load");
    p.note([90.0, 6.0], Align2::RIGHT_TOP, "wheel goes up");
}

pub(super) fn bounce(p: &Pencil) {
    p.dashed(&[[14.0, 24.0], [90.0, 24.0]]);
    p.mark(&wave(24.0, 9.0, 1.5));
    p.measure([14.0, 9.0], [90.0, 9.0]);
    p.note([52.0, 7.5], Align2::CENTER_TOP, "one second");
    p.name([52.0, 39.0], Align2::CENTER_BOTTOM, "up and down 1.5 times: 1.5 Hz");
}

pub(super) fn pressure(p: &Pencil) {
    p.rectangle([26.0, 36.0], [50.0, 39.0]);
    p.rectangle([30.0, 6.0], [46.0, 9.0]);
    for side in [-1.0, 1.0] {
        let at = |i: u8| {
            let share = f32::from(i) / 12.0;
            let out = 8.0 + 4.0 * share + 5.0 * (share * std::f32::consts::PI).sin();
            [38.0 + side * out, 9.0 + 27.0 * share]
        };
        p.outline(&(0..=12).map(at).collect::<Vec<_>>());
    }
    p.outline(&[[52.0, 24.0], [64.0, 24.0]]);
    p.circle([72.0, 24.0], 8.0);
    p.arrow([72.0, 24.0], [76.0, 29.0]);
    p.name([72.0, 13.0], Align2::CENTER_TOP, "air pressure");
    p.note([38.0, 23.0], Align2::CENTER_CENTER, "air");
}

/// A tyre from behind, outside at the left, with lip and rail.
fn tyre(p: &Pencil) {
    p.outline(&[[4.0, 3.0], [96.0, 3.0]]);
    p.rectangle([34.0, 3.0], [52.0, 36.0]);
    p.rectangle([52.0, 17.0], [96.0, 20.0]);
    p.rectangle([62.0, 28.0], [69.0, 42.0]);
    p.outline(&[[26.0, 30.0], [26.0, 40.0], [31.0, 45.0]]);
    p.note([72.0, 35.0], Align2::LEFT_CENTER, "rail");
    p.note([24.0, 40.0], Align2::RIGHT_CENTER, "fender lip");
}

pub(super) fn lip_room(p: &Pencil) {
    tyre(p);
    p.measure([26.0, 32.0], [34.0, 32.0]);
    p.name([22.0, 31.0], Align2::RIGHT_CENTER, "tyre to lip");
}

pub(super) fn inner_room(p: &Pencil) {
    tyre(p);
    p.measure([52.0, 32.0], [62.0, 32.0]);
    p.name([54.0, 24.5], Align2::LEFT_CENTER, "tyre to rail");
}
