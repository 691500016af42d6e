//! Sketches of the tools: a tape, mounts that move or stay, holes of a bracket, and what is measured.

use egui::Align2;
use rearend::setup::Role;

use super::truck::{AXLE, UNDERSIDE, axle_from_behind, side};
use super::{At, Pencil};

/// An inch of tape with its sixteenths, and where 19 1/4 is.
pub(super) fn tape(p: &Pencil) {
    let (edge, first, step) = (30.0, 14.0, 4.5);
    p.rectangle([2.0, 12.0], [98.0, edge]);
    for sixteenth in 0..=16_u8 {
        let long = match sixteenth {
            0 | 16 => 11.0,
            8 => 8.0,
            4 | 12 => 6.0,
            _ if sixteenth.is_multiple_of(2) => 4.5,
            _ => 3.0,
        };
        let x = first + step * f32::from(sixteenth);
        p.outline(&[[x, edge], [x, edge - long]]);
    }
    for (x, words) in [(first, "19"), (first + 16.0 * step, "20")] {
        p.note([x, 18.0], Align2::CENTER_TOP, words);
    }
    let at = first + 4.0 * step;
    p.mark(&[[at, edge - 6.0], [at, 37.0]]);
    p.name([at, 38.0], Align2::CENTER_BOTTOM, "19 1/4");
    p.note([50.0, 10.0], Align2::CENTER_TOP, "a quarter is four sixteenths");
}

const UPPER: [At; 2] = [[34.0, 28.0], [68.0, 27.0]];
const LOWER: [At; 2] = [[32.0, 14.0], [68.0, 13.0]];

/// Rails, wheel, two bars and the bracket that holds them.
fn two_bars(p: &Pencil) {
    side(p);
    p.outline(&[[29.0, UNDERSIDE], [29.0, 10.0], [37.0, 10.0], [39.0, UNDERSIDE]]);
    p.bar(Role::Lower, LOWER);
    p.bar(Role::Upper, UPPER);
}

pub(super) fn several(p: &Pencil) {
    two_bars(p);
    for [frame, _] in [UPPER, LOWER] {
        p.dot(frame);
        p.arrow([frame[0] - 8.0, frame[1]], [frame[0] - 17.0, frame[1]]);
    }
    p.name([15.0, 21.0], Align2::CENTER_CENTER, "both go along");
}

pub(super) fn lock(p: &Pencil) {
    two_bars(p);
    // A padlock beside the upper mount.
    p.mark(&[[17.0, 24.0], [25.0, 24.0], [25.0, 29.5], [17.0, 29.5], [17.0, 24.0]]);
    p.arc([21.0, 29.5], 2.8, [0.0, 180.0]);
    p.dot(UPPER[0]);
    p.name([15.0, 27.0], Align2::RIGHT_CENTER, "locked");
    let [x, y] = LOWER[0];
    for by in [6.0, -6.0] {
        p.arrow([x - 8.0, y], [x - 8.0, y + by]);
    }
    p.note([x - 11.0, y], Align2::RIGHT_CENTER, "free to move");
}

pub(super) fn holes(p: &Pencil) {
    p.rectangle([0.0, 36.0], [100.0, 42.0]);
    p.note([2.0, 39.0], Align2::LEFT_CENTER, "rail");
    p.rectangle([30.0, 4.0], [44.0, 36.0]);
    let hole = |i: u8| [39.0, 9.0 + 7.0 * f32::from(i)];
    for (i, number) in ["1", "2", "3", "4"].into_iter().enumerate() {
        let at = hole(u8::try_from(i).unwrap_or(0));
        p.circle(at, 1.6);
        p.note([33.5, at[1]], Align2::CENTER_CENTER, number);
    }
    let axle = [94.0, 14.0];
    p.bar(Role::Lower, [hole(1), axle]);
    p.dashed(&[hole(2), axle]);
    p.dot(hole(1));
    p.arrow([51.0, 17.5], [51.0, 22.5]);
    p.name([54.0, 27.0], Align2::LEFT_CENTER, "a drag clicks to the next hole");
    p.measure([25.0, 9.0], [25.0, 16.0]);
    p.note([23.0, 12.5], Align2::RIGHT_CENTER, "hole to hole");
}

pub(super) fn dimensions(p: &Pencil) {
    side(p);
    let mount = [30.0, 25.0];
    p.bar(Role::Lower, [mount, [68.0, 15.0]]);
    p.dashed(&[AXLE, [AXLE[0], 44.0]]);
    p.measure([AXLE[0], UNDERSIDE], [mount[0], UNDERSIDE]);
    p.measure([mount[0], UNDERSIDE], mount);
    p.dot(mount);
    p.name([50.0, UNDERSIDE + 2.2], Align2::CENTER_CENTER, "forward");
    p.name([28.0, 29.5], Align2::RIGHT_CENTER, "down");
    p.note([44.0, 18.5], Align2::RIGHT_CENTER, "eye to eye");
    p.note([72.0, 42.0], Align2::LEFT_CENTER, "axle line");
}

pub(super) fn between(p: &Pencil) {
    axle_from_behind(p);
    let (from, to) = ([50.0, 24.5], [34.0, 38.0]);
    p.dashed(&[from, [to[0], from[1]], to]);
    p.measure(from, to);
    p.dot(from);
    p.dot(to);
    p.name([44.0, 33.0], Align2::LEFT_CENTER, "straight");
    p.note([41.0, 24.0], Align2::CENTER_TOP, "left");
    p.note([28.5, 31.0], Align2::RIGHT_CENTER, "up");
    p.note([52.0, 26.5], Align2::LEFT_CENTER, "first click");
    p.note([36.0, 41.5], Align2::LEFT_CENTER, "second click");
}
