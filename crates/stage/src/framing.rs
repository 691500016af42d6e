//! What has to be in a picture, and the view that holds all of it.

use bevy::math::UVec2;
use nalgebra::{Point2, Point3, Vector2};
use rearend::placed::Placed;
use rearend::rail_line;
use rearend::setup::Setup;
use rearend::tape::Units;
use rearend::travel::Row;

use crate::picture::Measure;
use crate::scene::Shown;
use crate::view::{Pane, Standard, View, subject, world_from_frame};

/// Points of a tyre's edge that are looked at.
const ROUND: u8 = 16;

/// The part of a picture's side that stays empty on either side of the truck.
const MARGIN: f64 = 0.04;

/// Turns of coming nearer and shifting; perspective makes each of them change the other a little.
const TURNS: usize = 12;

/// Points on the outside of everything that is drawn of a truck at a pose, world coordinates.
#[must_use]
pub fn landmarks(setup: &Setup, row: &Row, with_body: bool) -> Vec<Point3<f64>> {
    let world = world_from_frame(setup, row);
    let mut points = tyres(setup, row);
    points.extend(rails(setup));
    if let Some(driveline) = &setup.driveline {
        points.push(driveline.output);
    }
    if with_body {
        points.extend(body(setup));
    }
    let mut points: Vec<_> = points.into_iter().map(|point| world * point).collect();
    // The ground under the tyres.
    points.retain(|point| point.iter().all(|v| v.is_finite()));
    points
}

fn tyres(setup: &Setup, row: &Row) -> Vec<Point3<f64>> {
    let placed = Placed::at(&row.at);
    let (radius_m, half_m) = (setup.wheels.tyre_m / 2.0, setup.wheels.tyre_width_m / 2.0);
    let round = |i: u8| (std::f64::consts::TAU * f64::from(i) / f64::from(ROUND)).sin_cos();
    let edge = |y: f64| {
        (0..ROUND).map(move |i| {
            let (sin, cos) = round(i);
            Point3::new(radius_m * cos, y, radius_m * sin)
        })
    };
    let middle = setup.track_m() / 2.0;
    let sides = [middle + half_m, middle - half_m, -middle + half_m, -middle - half_m];
    sides.into_iter().flat_map(edge).map(|p| placed.to_frame(p)).collect()
}

fn rails(setup: &Setup) -> Vec<Point3<f64>> {
    let rails = &setup.rails;
    let half_m = rails.spacing_m / 2.0;
    let stations = rail_line::stations_m(rails);
    let at = |x: f64| {
        let heights = [rail_line::underside_z_m(rails, x), rail_line::top_z_m(rails, x)];
        heights.map(|z| [half_m, -half_m].map(|y| Point3::new(x, y, z)))
    };
    stations.into_iter().flat_map(at).flatten().collect()
}

/// Ends of the bed's edges and tops of the wheel openings.
fn body(setup: &Setup) -> Vec<Point3<f64>> {
    /// How far before the opening the bed's edge is drawn.
    const BED_AHEAD_M: f64 = 0.25;
    let Some(body) = &setup.body else {
        return Vec::new();
    };
    let half_m = body.lip_to_lip_m / 2.0;
    let top_m = body
        .bed_floor_z_m
        .map_or(body.lip_z_m, |floor_m| floor_m.max(body.lip_z_m));
    let ends = [
        setup.rails.rear_x_m.min(body.opening_x_m - body.opening_m / 2.0),
        body.opening_x_m + body.opening_m / 2.0 + BED_AHEAD_M,
    ];
    let sides = [body.lips_left_m + half_m, body.lips_left_m - half_m];
    ends.into_iter()
        .flat_map(|x| sides.map(|y| [body.lip_z_m, top_m].map(|z| Point3::new(x, y, z))))
        .flatten()
        .collect()
}

/// A standard view that holds all of these points, as large as a pane of this size lets it.
#[must_use]
pub fn framing(which: Standard, setup: &Setup, points: &[Point3<f64>], pane: Vector2<f64>) -> View {
    let (focus, span_m) = subject(setup);
    let mut view = View::standard(which, focus, span_m, pane);
    let here = Pane {
        corner: Point2::origin(),
        size: pane,
    };
    for _ in 0..TURNS {
        let Some((low, high)) = seen(&view, points, &here) else {
            return view;
        };
        let size = high - low;
        let room = pane * (1.0 - 2.0 * MARGIN);
        let off = (pane / 2.0 - nalgebra::center(&low, &high).coords) / pane.y.max(1.0);
        view.pan(off);
        view.zoom((room.x / size.x.max(1.0)).min(room.y / size.y.max(1.0)));
    }
    view
}

/// How much wider than high the looks are together, seen from a standard view.
#[must_use]
pub fn shape(which: Standard, looks: &[&Shown]) -> f64 {
    let pane = Vector2::new(1000.0, 1000.0);
    let here = Pane {
        corner: Point2::origin(),
        size: pane,
    };
    let view = common_view(which, looks, UVec2::splat(1000));
    let points: Vec<_> = looks
        .iter()
        .flat_map(|shown| landmarks(&shown.setup, &shown.row, shown.body))
        .collect();
    seen(&view, &points, &here).map_or(1.5, |(low, high)| (high.x - low.x) / (high.y - low.y).max(1.0))
}

/// One standard view for several looks, in which each of them is seen whole and all of them alike.
#[must_use]
pub fn common_view(which: Standard, looks: &[&Shown], tile: UVec2) -> View {
    let points: Vec<_> = looks
        .iter()
        .flat_map(|shown| landmarks(&shown.setup, &shown.row, shown.body))
        .collect();
    let pane = Vector2::new(f64::from(tile.x), f64::from(tile.y));
    match looks.first() {
        Some(first) => framing(which, &first.setup, &points, pane),
        None => View::standard(which, Point3::origin(), 2.0, pane),
    }
}

/// The few measures that a customer asks for, as they are seen from somewhere.
#[must_use]
pub fn measures(which: Standard, setup: &Setup, row: &Row, units: Units) -> Vec<Measure> {
    let world = world_from_frame(setup, row);
    let rails = &setup.rails;
    let half_m = rails.spacing_m / 2.0;
    let outside_m = setup.track_m() / 2.0 + setup.wheels.tyre_width_m / 2.0;
    let measure = |from: Point3<f64>, to: Point3<f64>, what: &str| Measure {
        ends: [from, to],
        words: format!("{} {what}", units.length((to - from).norm())),
    };
    let front_m = rails.front_x_m;
    let under_rail = world * Point3::new(front_m, half_m, rail_line::underside_z_m(rails, front_m));
    let ground = Point3::new(under_rail.x, under_rail.y, 0.0);
    let lift = measure(ground, under_rail, "under the rails");
    let tyres = [outside_m, -outside_m].map(|y| Point3::new(0.0, y, 0.0));
    let over_tyres = measure(tyres[0], tyres[1], "over the tyres");
    let top = |y: f64| world * Point3::new(front_m, y, rail_line::top_z_m(rails, front_m));
    let over_rails = measure(top(half_m), top(-half_m), "over the rails");
    match which {
        Standard::Rear => vec![over_tyres, over_rails, lift],
        Standard::Side => vec![lift],
        Standard::Top => vec![over_tyres, over_rails],
        Standard::Corner => vec![over_tyres, lift],
    }
}

/// The rectangle in which the points appear; `None` where one is behind the eye.
fn seen(view: &View, points: &[Point3<f64>], pane: &Pane) -> Option<(Point2<f64>, Point2<f64>)> {
    let mut bounds: Option<(Point2<f64>, Point2<f64>)> = None;
    for point in points {
        let at = view.project(*point, pane)?;
        bounds = Some(bounds.map_or((at, at), |(low, high)| (low.inf(&at), high.sup(&at))));
    }
    bounds
}

#[cfg(test)]
mod tests {
    use super::*;
    use rearend::mechanism::RearEnd;

    #[test]
    fn every_demo_fills_its_picture_and_no_more() {
        let panes = [(1600.0, 992.0), (800.0, 600.0), (3840.0, 1879.0), (500.0, 900.0)];
        for demo in shop::demo::ALL {
            let setup = demo.setup().expect("a demo reads");
            let row = Row::at_ride(&setup, &RearEnd::compile(&setup).expect("it solves"));
            let points = landmarks(&setup, &row, true);
            for which in Standard::ALL {
                for (x, y) in panes {
                    let pane = Vector2::new(x, y);
                    let view = framing(which, &setup, &points, pane);
                    let here = Pane {
                        corner: Point2::origin(),
                        size: pane,
                    };
                    let (low, high) = seen(&view, &points, &here).expect("before the eye");
                    assert!(
                        low.x > 0.0 && low.y > 0.0 && high.x < x && high.y < y,
                        "{which:?} {low} {high}"
                    );
                    let share = ((high.x - low.x) / x).max((high.y - low.y) / y);
                    assert!(share > 0.88, "{which:?} in {x} x {y} fills {share}");
                }
            }
        }
    }
}
