//! Sketches of the whole rear end: from the left with the front at the left, from behind, and from above with the front up.

use egui::Align2;
use rearend::setup::Role;

use super::{At, Pencil};

const GROUND: f32 = 4.0;
pub(super) const AXLE: At = [70.0, 20.0];
/// Where the bars of the side view meet when they are drawn on.
const CENTRE: At = [10.0, 18.0];
pub(super) const UNDERSIDE: f32 = 34.0;
/// Where the wheel touches the ground.
const PATCH: At = [70.0, GROUND];

fn ground(p: &Pencil) {
    p.outline(&[[0.0, GROUND], [100.0, GROUND]]);
}

pub(super) fn side(p: &Pencil) {
    ground(p);
    p.circle(AXLE, 16.0);
    p.circle(AXLE, 2.5);
    p.outline(&[[0.0, UNDERSIDE], [100.0, UNDERSIDE]]);
    p.outline(&[[0.0, UNDERSIDE + 4.0], [100.0, UNDERSIDE + 4.0]]);
    p.note([0.0, UNDERSIDE + 4.8], Align2::LEFT_BOTTOM, "front");
}

/// The frame end of a bar that points from the axle to the centre.
fn towards_centre(axle: At, share: f32) -> At {
    let [dx, dy] = [CENTRE[0] - axle[0], CENTRE[1] - axle[1]];
    [axle[0] + dx * share, axle[1] + dy * share]
}

fn bars(p: &Pencil) -> [At; 2] {
    let (lower, upper) = ([70.0, 14.0], [70.0, 27.0]);
    let ends = [towards_centre(lower, 0.6), towards_centre(upper, 0.55)];
    p.bar(Role::Lower, [ends[0], lower]);
    p.bar(Role::Upper, [ends[1], upper]);
    ends
}

fn bars_to_centre(p: &Pencil) {
    for end in bars(p) {
        p.dashed(&[end, CENTRE]);
    }
    p.dot(CENTRE);
}

/// Wheels, axle and rails.
pub(super) fn axle_from_behind(p: &Pencil) {
    ground(p);
    p.rectangle([10.0, GROUND], [20.0, 35.0]);
    p.rectangle([80.0, GROUND], [90.0, 35.0]);
    p.rectangle([20.0, 18.0], [80.0, 21.0]);
    p.circle([50.0, 19.5], 5.0);
    for left in [30.0, 66.0] {
        p.rectangle([left, 28.0], [left + 4.0, 38.0]);
    }
}

fn behind(p: &Pencil) {
    axle_from_behind(p);
    p.bar(Role::Sideways, [[34.0, 30.0], [72.0, 16.0]]);
}

pub(super) fn shift(p: &Pencil) {
    behind(p);
    p.dashed(&[[50.0, GROUND], [50.0, 45.0]]);
    // The axle's end swings about the frame's: as it rises it goes out, then back.
    p.dot([50.0, 19.5]);
    p.dot([57.0, 33.0]);
    p.dashed(&[[50.0, 19.5], [53.5, 24.0], [56.0, 28.5], [57.0, 33.0]]);
    p.measure([50.0, 41.0], [57.0, 41.0]);
    p.name([59.0, 41.0], Align2::LEFT_CENTER, "axle shift");
}

pub(super) fn pinion(p: &Pencil) {
    side(p);
    bars(p);
    p.circle(AXLE, 5.0);
    p.dashed(&[AXLE, [34.0, 20.0]]);
    p.mark(&[AXLE, [44.0, 24.6]]);
    p.arc(AXLE, 22.0, [180.0, 170.0]);
    p.name([42.0, 27.5], Align2::CENTER_BOTTOM, "nose up");
    p.note([33.0, 20.0], Align2::RIGHT_CENTER, "along the frame");
}

pub(super) fn fore_aft(p: &Pencil) {
    side(p);
    let moved = [63.0, 24.0];
    let ring = |i: u8| {
        let angle = f32::from(i) / 24.0 * std::f32::consts::TAU;
        [moved[0] + 16.0 * angle.cos(), moved[1] + 16.0 * angle.sin()]
    };
    p.dashed(&(0..=24).map(ring).collect::<Vec<_>>());
    p.dashed(&[[70.0, GROUND], [70.0, 44.0]]);
    p.dashed(&[[63.0, 8.0], [63.0, 44.0]]);
    p.measure([63.0, 43.0], [70.0, 43.0]);
    p.name([61.0, 43.0], Align2::RIGHT_CENTER, "forward");
}

/// A point of the plan, turned about the middle of the axle.
fn turned(middle: At, at: At, deg: f32) -> At {
    let (sin, cos) = deg.to_radians().sin_cos();
    let [x, y] = at;
    [middle[0] + x * cos - y * sin, middle[1] + x * sin + y * cos]
}

/// Axle and wheels from above, turned, with the way it heads.
fn plan(p: &Pencil, middle: At, half: f32, deg: f32) {
    let at = |x: f32, y: f32| turned(middle, [x, y], deg);
    p.outline(&[at(-half, 0.0), at(half, 0.0)]);
    for x in [-half, half] {
        let [wide, long] = [half * 0.12, half * 0.42];
        p.outline(&[
            at(x - wide, -long),
            at(x + wide, -long),
            at(x + wide, long),
            at(x - wide, long),
            at(x - wide, -long),
        ]);
    }
    p.dashed(&[[middle[0], middle[1] - 6.0], [middle[0], middle[1] + 20.0]]);
    p.arrow(middle, at(0.0, 20.0));
}

pub(super) fn steer(p: &Pencil) {
    for left in [38.0, 58.0] {
        p.rectangle([left, 2.0], [left + 4.0, 44.0]);
    }
    plan(p, [50.0, 20.0], 30.0, 9.0);
    p.name([46.5, 43.5], Align2::CENTER_CENTER, "left");
    p.note([66.0, 44.0], Align2::LEFT_CENTER, "from above, front up");
}

pub(super) fn roll_steer(p: &Pencil) {
    p.outline(&[[2.0, GROUND], [44.0, GROUND]]);
    let [left, right] = [[8.0, 23.0], [38.0, 15.0]];
    p.outline(&[left, right]);
    for [x, y] in [left, right] {
        p.outline(&[[x + 2.0, y + 10.0], [x - 2.0, y - 11.0]]);
    }
    p.arrow([3.0, 8.0], [3.0, 18.0]);
    p.note([23.0, 43.0], Align2::CENTER_CENTER, "it leans");
    plan(p, [74.0, 18.0], 20.0, 8.0);
    p.name([74.0, 43.0], Align2::CENTER_CENTER, "and steers");
}

pub(super) fn anti_squat(p: &Pencil) {
    side(p);
    bars_to_centre(p);
    p.mark(&[PATCH, [4.0, 19.4]]);
    p.dashed(&[PATCH, [4.0, 28.0], [36.0, 28.0]]);
    p.circle([36.0, 28.0], 1.5);
    p.note([39.0, 28.0], Align2::LEFT_CENTER, "weight");
    p.note([4.0, 28.8], Align2::LEFT_BOTTOM, "100 %");
    p.name([18.0, 12.0], Align2::CENTER_CENTER, "these links");
}

pub(super) fn anti_lift(p: &Pencil) {
    side(p);
    bars_to_centre(p);
    p.mark(&[PATCH, CENTRE]);
    p.arrow([72.0, 6.5], [92.0, 6.5]);
    p.name([93.0, 10.0], Align2::CENTER_BOTTOM, "braking");
    p.arrow([93.0, 30.0], [93.0, 20.0]);
    p.note([99.0, 31.0], Align2::RIGHT_BOTTOM, "held down");
}

pub(super) fn centre_ahead(p: &Pencil) {
    side(p);
    bars_to_centre(p);
    p.dashed(&[AXLE, [70.0, 6.0]]);
    p.dashed(&[CENTRE, [10.0, 6.0]]);
    p.measure([10.0, 8.0], [70.0, 8.0]);
    p.name([40.0, 9.0], Align2::CENTER_BOTTOM, "centre ahead");
}

pub(super) fn centre_height(p: &Pencil) {
    side(p);
    bars_to_centre(p);
    p.measure([10.0, UNDERSIDE], CENTRE);
    p.name([12.5, 27.0], Align2::LEFT_CENTER, "below the rails' underside");
}

pub(super) fn roll_centre(p: &Pencil) {
    behind(p);
    p.dashed(&[[50.0, GROUND], [50.0, 45.0]]);
    // Where the bar from (34, 30) to (72, 16) is in the middle of the truck.
    let centre = [50.0, 24.1];
    p.dot(centre);
    p.measure([47.0, GROUND], [47.0, 24.1]);
    p.name([45.0, 10.0], Align2::RIGHT_CENTER, "roll centre");
}
