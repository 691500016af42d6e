//! The small picture that shows where the tape goes: the truck itself in outline, and the tape on it.

use egui::{FontId, Painter, Pos2, Rect, Shape, Stroke, Ui, Vec2, pos2};
use nalgebra::Point3;
use rearend::measure::{Measure, Side, Sketch};
use rearend::setup::Setup;
use rearend::tape::Units;

use crate::theme::{Inks, semi_bold};

/// Draws it over `area`.
pub fn tape_sketch_ui(ui: &Ui, area: Rect, setup: &Setup, measure: &Measure, units: Units) {
    let inks = Inks::of(ui);
    let painter = ui.painter().with_clip_rect(area);
    painter.rect_filled(area, 4.0, inks.paper);
    let ends = ends(setup, &measure.sketch);
    let drawing = Drawing::fitted(side(&measure.sketch), area.shrink(14.0), setup, &ends);
    let outline = Stroke::new(1.2, inks.soft);
    for line in outlines(setup, drawing.side) {
        painter.add(Shape::line(line.into_iter().map(|p| drawing.at(p)).collect(), outline));
    }
    let ink = Stroke::new(2.0, inks.now);
    let words = measure
        .value(setup)
        .map_or_else(String::new, |value| measure.dimension.words(units, value));
    let [a, b] = ends.map(|p| drawing.at(p));
    match measure.sketch {
        Sketch::Tape { .. } => tape(&painter, [a, b], ink),
        Sketch::Protractor { slope_rad, .. } => protractor(&painter, a, slope_rad(setup), ink),
        Sketch::Label { .. } => {
            painter.circle_stroke(a, 7.0, ink);
        }
    }
    // A protractor lies across what it is held to.
    let covered = match measure.sketch {
        Sketch::Protractor { .. } => [a - Vec2::splat(10.0), a + Vec2::splat(10.0)],
        _ => [a, b],
    };
    label(&painter, area, covered, &words, &inks);
}

fn side(sketch: &Sketch) -> Side {
    match sketch {
        Sketch::Tape { side, .. } => *side,
        Sketch::Protractor { .. } => Side::Left,
        Sketch::Label { .. } => Side::Rear,
    }
}

fn ends(setup: &Setup, sketch: &Sketch) -> [Point3<f64>; 2] {
    match sketch {
        Sketch::Tape { ends, .. } => ends(setup),
        Sketch::Protractor { at, .. } | Sketch::Label { at } => [at(setup); 2],
    }
}

/// How the truck is laid onto the screen.
struct Drawing {
    side: Side,
    scale: f32,
    middle: Vec2,
    screen: Pos2,
}

impl Drawing {
    /// So that the outlines and the tape fit into an area.
    fn fitted(side: Side, area: Rect, setup: &Setup, ends: &[Point3<f64>]) -> Self {
        let points = outlines(setup, side).into_iter().flatten().chain(ends.iter().copied());
        let flat: Vec<Vec2> = points
            .map(|p| flat(side, p))
            .filter(|v| v.x.is_finite() && v.y.is_finite())
            .collect();
        let (mut low, mut high) = (Vec2::splat(f32::INFINITY), Vec2::splat(f32::NEG_INFINITY));
        for v in flat {
            (low, high) = (low.min(v), high.max(v));
        }
        let size = (high - low).max(Vec2::splat(0.1));
        let scale = (area.width() / size.x).min(area.height() / size.y);
        Self {
            side,
            scale: if scale.is_finite() { scale } else { 1.0 },
            middle: (low + high) / 2.0,
            screen: area.center(),
        }
    }

    fn at(&self, point: Point3<f64>) -> Pos2 {
        let off = (flat(self.side, point) - self.middle) * self.scale;
        self.screen + Vec2::new(off.x, -off.y)
    }
}

/// To the right and up on the page.
#[expect(clippy::cast_possible_truncation, reason = "pixels")]
fn flat(side: Side, p: Point3<f64>) -> Vec2 {
    let (right, up) = match side {
        Side::Rear => (-p.y, p.z),
        Side::Left => (-p.x, p.z),
        Side::Top => (-p.y, p.x),
    };
    Vec2::new(right as f32, up as f32)
}

type Line = Vec<Point3<f64>>;

fn outlines(setup: &Setup, side: Side) -> Vec<Line> {
    let mut lines = match side {
        Side::Rear => from_behind(setup),
        Side::Left => from_the_left(setup),
        Side::Top => from_above(setup),
    };
    if side != Side::Top {
        let z = -setup.travel.ride_m;
        let reach = if side == Side::Rear {
            setup.track_m() / 2.0 + 0.25
        } else {
            0.6
        };
        lines.push([1.0, -1.0].map(|s| Point3::new(s * reach, s * reach, z)).to_vec());
    }
    lines
}

/// A rectangle across the page from one corner to the opposite.
fn rectangle(a: Point3<f64>, b: Point3<f64>, side: Side) -> Line {
    let corner = |first: Point3<f64>, second: Point3<f64>| match side {
        Side::Rear => Point3::new(0.0, first.y, second.z),
        Side::Left => Point3::new(first.x, 0.0, second.z),
        Side::Top => Point3::new(second.x, first.y, 0.0),
    };
    vec![a, corner(a, b), b, corner(b, a), a]
}

fn from_behind(setup: &Setup) -> Vec<Line> {
    let (rails, wheels, axle) = (&setup.rails, &setup.wheels, &setup.axle);
    let z = setup.axle_z_m(setup.travel.ride_m);
    let rise = rails.kick_up.map_or(0.0, |k| k.rise_m);
    let mut lines = Vec::new();
    for s in [1.0, -1.0] {
        let outside = s * rails.spacing_m / 2.0;
        let inside = outside - s * rails.flange_m;
        let rail = |low: f64, high: f64| {
            rectangle(
                Point3::new(0.0, outside, low),
                Point3::new(0.0, inside, high),
                Side::Rear,
            )
        };
        lines.push(rail(rise, rise + rails.height_m));
        lines.push(rail(0.0, rails.height_m));
        let (middle, half) = (s * setup.track_m() / 2.0, wheels.tyre_width_m / 2.0);
        let corner = |side: f64, up: f64| Point3::new(0.0, middle + side * half, z + up);
        lines.push(rectangle(
            corner(1.0, -wheels.loaded_radius_m),
            corner(-1.0, wheels.tyre_m / 2.0),
            Side::Rear,
        ));
    }
    let (half, tube) = (axle.flange_to_flange_m / 2.0, axle.tube_m / 2.0);
    lines.push(rectangle(
        Point3::new(0.0, half, z - tube),
        Point3::new(0.0, -half, z + tube),
        Side::Rear,
    ));
    lines.push(circle(Point3::new(0.0, axle.pinion_offset_m, z), 0.13, Side::Rear));
    if let Some(body) = &setup.body {
        for s in [1.0, -1.0] {
            let y = body.lips_left_m + s * body.lip_to_lip_m / 2.0;
            lines.push(vec![
                Point3::new(0.0, y, body.lip_z_m),
                Point3::new(0.0, y, body.lip_z_m + 0.25),
            ]);
        }
    }
    lines
}

/// The rail's underside and top, by its kick-up.
fn rail_line(setup: &Setup, up: f64) -> Line {
    let rails = &setup.rails;
    let point = |x: f64, z: f64| Point3::new(x, 0.0, z + up);
    let front = rails.front_x_m;
    match rails.kick_up {
        Some(k) => vec![
            point(front, 0.0),
            point(k.start_x_m, 0.0),
            point(k.full_x_m, k.rise_m),
            point(k.level_end_x_m, k.rise_m),
            point(k.end_x_m, 0.0),
            point(rails.rear_x_m.min(k.end_x_m), 0.0),
        ],
        None => vec![point(front, 0.0), point(rails.rear_x_m, 0.0)],
    }
}

fn from_the_left(setup: &Setup) -> Vec<Line> {
    let z = setup.axle_z_m(setup.travel.ride_m);
    let middle = Point3::new(0.0, 0.0, z);
    let mut lines = vec![
        rail_line(setup, 0.0),
        rail_line(setup, setup.rails.height_m),
        circle(middle, setup.wheels.tyre_m / 2.0, Side::Left),
        circle(middle, setup.axle.tube_m / 2.0, Side::Left),
    ];
    let pinion = setup.drawn().to_ground(setup.pinion_joint_in_axle());
    if let Some(driveline) = &setup.driveline {
        let joints = [Some(driveline.output), driveline.carrier, Some(pinion)];
        lines.push(joints.into_iter().flatten().collect());
    }
    lines.push(vec![middle, pinion]);
    lines
}

fn from_above(setup: &Setup) -> Vec<Line> {
    let (rails, axle, wheels) = (&setup.rails, &setup.axle, &setup.wheels);
    let mut lines = Vec::new();
    let front = rails.front_x_m.min(0.9);
    for s in [1.0, -1.0] {
        let outside = s * rails.spacing_m / 2.0;
        let inside = outside - s * rails.flange_m;
        lines.push(rectangle(
            Point3::new(front, outside, 0.0),
            Point3::new(rails.rear_x_m.max(-0.6), inside, 0.0),
            Side::Top,
        ));
        let (middle, half) = (s * setup.track_m() / 2.0, wheels.tyre_width_m / 2.0);
        lines.push(rectangle(
            Point3::new(wheels.tyre_m / 2.0, middle + half, 0.0),
            Point3::new(-wheels.tyre_m / 2.0, middle - half, 0.0),
            Side::Top,
        ));
    }
    let (half, tube) = (axle.flange_to_flange_m / 2.0, axle.tube_m / 2.0);
    lines.push(rectangle(
        Point3::new(tube, half, 0.0),
        Point3::new(-tube, -half, 0.0),
        Side::Top,
    ));
    let pinion = setup.pinion_joint_in_axle();
    lines.push(vec![Point3::new(0.0, pinion.y, 0.0), pinion]);
    if let Some(driveline) = &setup.driveline {
        let joints = [Some(driveline.output), driveline.carrier, Some(pinion)];
        lines.push(joints.into_iter().flatten().collect());
    }
    lines
}

fn circle(middle: Point3<f64>, radius_m: f64, side: Side) -> Line {
    let at = |i: u32| {
        let (sin, cos) = (f64::from(i) / 36.0 * std::f64::consts::TAU).sin_cos();
        let (across, up) = (radius_m * cos, radius_m * sin);
        match side {
            Side::Rear => middle + nalgebra::Vector3::new(0.0, across, up),
            _ => middle + nalgebra::Vector3::new(across, 0.0, up),
        }
    };
    (0..=36).map(at).collect()
}

/// From end to end, with a stop at either.
fn tape(painter: &Painter, [a, b]: [Pos2; 2], ink: Stroke) {
    let along = b - a;
    if along.length() < 3.0 {
        painter.circle_stroke(a, 6.0, ink);
        return;
    }
    let across = along.rot90().normalized() * 6.0;
    painter.line_segment([a, b], ink);
    for end in [a, b] {
        painter.line_segment([end - across, end + across], ink);
    }
}

/// A level line and the slope against it, front to the left.
#[expect(clippy::cast_possible_truncation, reason = "pixels")]
fn protractor(painter: &Painter, at: Pos2, slope_rad: f64, ink: Stroke) {
    let reach = 62.0;
    // Steeper than it is where it would hardly show.
    let shown = if slope_rad.abs() > 1e-6 {
        slope_rad.abs().max(0.07) * slope_rad.signum()
    } else {
        0.0
    };
    let (sin, cos) = (shown as f32).sin_cos();
    let thin = Stroke::new(1.0, ink.color);
    painter.line_segment([at - Vec2::new(reach, 0.0), at + Vec2::new(reach * 0.4, 0.0)], thin);
    let forward = Vec2::new(-cos, -sin);
    painter.line_segment([at + forward * reach, at - forward * reach * 0.4], ink);
}

/// The value beside the tape, within the picture.
fn label(painter: &Painter, area: Rect, tape: [Pos2; 2], words: &str, inks: &Inks) {
    if words.is_empty() {
        return;
    }
    let font = FontId::new(14.0, semi_bold());
    let galley = painter.layout_no_wrap(words.to_owned(), font, inks.ink);
    let place = beside(area.shrink(2.0), tape, galley.size() + Vec2::splat(6.0));
    painter.rect_filled(place, 3.0, inks.paper.gamma_multiply(0.85));
    painter.galley(place.min + Vec2::splat(3.0), galley, inks.ink);
}

/// Room for words of a size beside a tape: to the right of one that runs up, above one that runs across; on its other side where the
/// picture ends.
fn beside(inside: Rect, [a, b]: [Pos2; 2], size: Vec2) -> Rect {
    let (middle, run) = (a + (b - a) * 0.5, Rect::from_two_pos(a, b));
    let off = Vec2::splat(8.0) + size / 2.0;
    let sides = [
        pos2(run.right() + off.x, middle.y),
        pos2(run.left() - off.x, middle.y),
        pos2(middle.x, run.top() - off.y),
        pos2(middle.x, run.bottom() + off.y),
    ];
    let order = if run.height() > run.width() {
        [0, 1, 2, 3]
    } else {
        [2, 3, 0, 1]
    };
    let within = |at: Pos2| {
        let half = size / 2.0;
        let low = inside.min + half;
        Rect::from_center_size(at.clamp(low, (inside.max - half).max(low)), size)
    };
    let places = order.map(|side| within(sides[side]));
    // Moved into the picture it may lie on the tape; then another side is better.
    let is_clear = |place: &&Rect| !place.intersects(run.expand(1.0));
    *places.iter().find(is_clear).unwrap_or(&places[0])
}
