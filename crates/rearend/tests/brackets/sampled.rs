//! Plates as a cloud of points, each tried against steel by inequalities of this file: nothing of it is shared with what refuses plates.

use nalgebra::{Point2, Point3, Vector3};
use rearend::brackets::{Bracket, Plate, Segment, Stand};
use rearend::rail_line::{crossmember_m, top_z_m, underside_z_m};
use rearend::setup::{Carrier, Section, Setup};

use crate::outline::flattened;

/// From a point to the next in the plane of a plate.
const GRID_M: f64 = 0.004;

/// Nothing nearer to a plate's surface is tried.
const SKIN_M: f64 = 6e-4;

/// A figure with its distances.
struct Figure(Vec<Point2<f64>>);

impl Figure {
    fn of(plate: &Plate) -> Self {
        Self(flattened(&plate.outline))
    }

    fn edges(&self) -> impl Iterator<Item = (Point2<f64>, Point2<f64>)> {
        self.0.iter().copied().zip(self.0.iter().copied().cycle().skip(1))
    }

    /// How far inside a point is; negative outside.
    fn inside_m(&self, p: Point2<f64>) -> f64 {
        let mut is_in = false;
        let mut near = f64::INFINITY;
        for (a, b) in self.edges() {
            if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y) {
                is_in = !is_in;
            }
            let along = b - a;
            let share = ((p - a).dot(&along) / along.norm_squared().max(1e-18)).clamp(0.0, 1.0);
            near = near.min((p - (a + along * share)).norm());
        }
        if is_in { near } else { -near }
    }

    /// Points of a grid inside.
    fn grid(&self) -> Vec<Point2<f64>> {
        let low = self.0.iter().fold(Point2::new(f64::MAX, f64::MAX), |a, b| a.inf(b));
        let high = self.0.iter().fold(Point2::new(f64::MIN, f64::MIN), |a, b| a.sup(b));
        let line = |from: f64, to: f64| {
            std::iter::successors(Some(from + SKIN_M), |v| Some(v + GRID_M)).take_while(move |v| *v < to)
        };
        let all = line(low.x, high.x).flat_map(|x| line(low.y, high.y).map(move |y| Point2::new(x, y)));
        all.filter(|p| self.inside_m(*p) > SKIN_M).collect()
    }
}

fn out(stand: &Stand) -> Vector3<f64> {
    stand.x.cross(&stand.y)
}

/// Points of a plate as it stands: in its middle plane and close to either face.
fn points(plate: &Plate) -> Vec<Point3<f64>> {
    let flat = Figure::of(plate).grid();
    let off = plate.thickness_m / 2.0 - SKIN_M;
    let layers = |stand: &Stand| {
        let stand = *stand;
        let flat = &flat;
        [-off, 0.0, off]
            .into_iter()
            .flat_map(move |m| flat.iter().map(move |p| stand.place(*p) + out(&stand) * m))
    };
    plate.stands.iter().flat_map(layers).collect()
}

/// What of its carrier's steel a bracket is welded to, by the notes on its plates.
fn is_own(bracket: &Bracket, what: &str, is_saddled: bool) -> bool {
    let notes: Vec<_> = bracket.plates.iter().flat_map(|p| &p.notes).collect();
    let says = |words: &str| notes.iter().any(|n| n.contains(words));
    let whole = says("rail's outside") || says("rail's inner side");
    match what {
        "bottom" => whole || says("rail's underside"),
        "top" => whole || says("rail's top"),
        "outer" => whole || says("rail's web between"),
        "inner" => whole,
        _ => is_saddled && says("Saddle cut for the crossmember"),
    }
}

/// What a bracket's points lie in, of the steel that carries it and that it is not welded to: deeper than nothing, where that is made larger
/// by so much.
pub fn in_steel(setup: &Setup, bracket: &Bracket, larger_m: f64) -> Option<String> {
    for plate in &bracket.plates {
        // The crank turns in its bracket.
        if bracket.name == "Watt's crank" {
            return None;
        }
        let is_saddled = plate
            .outline
            .segments
            .iter()
            .any(|s| matches!(s, Segment::Arc { clockwise: true, .. }));
        let carrier = plate.stands[0].carrier;
        for p in points(plate) {
            let found = match carrier {
                Carrier::Frame => in_frame(setup, p, larger_m)
                    .into_iter()
                    .find(|what| !is_own(bracket, what, is_saddled)),
                Carrier::Axle => in_axle(setup, p, larger_m, is_saddled),
            };
            if let Some(what) = found {
                return Some(format!("{} in {what} at {p}", plate.name));
            }
        }
    }
    None
}

fn in_frame(setup: &Setup, p: Point3<f64>, larger_m: f64) -> Vec<&'static str> {
    let mut all = Vec::new();
    let rails = &setup.rails;
    let within = |v: f64, low: f64, high: f64| v > low - larger_m && v < high + larger_m;
    let (low, top) = (underside_z_m(rails, p.x), top_z_m(rails, p.x));
    let (y, outer, wall) = (p.y.abs(), rails.spacing_m / 2.0, rails.wall_m);
    let inner = outer - rails.flange_m;
    if within(p.x, rails.rear_x_m, rails.front_x_m) && within(y, inner, outer) && within(p.z, low, top) && top > low {
        let is_between = within(p.z, low + wall, top - wall);
        let walls = [
            ("bottom", within(p.z, low, low + wall)),
            ("top", within(p.z, top - wall, top)),
            ("outer", is_between && within(y, outer - wall, outer)),
            (
                "inner",
                is_between && rails.section == Section::Box && within(y, inner, inner + wall),
            ),
        ];
        all.extend(walls.into_iter().filter(|(_, is_in)| *is_in).map(|(what, _)| what));
    }
    for x_m in &rails.crossmembers_x_m {
        let (bends, radius_m) = crossmember_m(rails, *x_m);
        if bends
            .windows(2)
            .any(|run| beside_m(p, run[0], run[1]).is_some_and(|m| m < radius_m + larger_m))
        {
            all.push("crossmember");
        }
    }
    all
}

/// From a segment to a point beside it.
fn beside_m(p: Point3<f64>, a: Point3<f64>, b: Point3<f64>) -> Option<f64> {
    let along = b - a;
    let share = (p - a).dot(&along) / along.norm_squared();
    (0.0..=1.0).contains(&share).then(|| (p - (a + along * share)).norm())
}

/// The tube; and the centre section as it is drawn for a tube of three inches: a disc of 0.1 m, carried along the pinion's line from 0.12 m
/// behind the tube's axis to 0.02 m before it, and everything within 0.03 m of that; and the pinion's housing, 0.055 m round.
fn in_axle(setup: &Setup, p: Point3<f64>, larger_m: f64, is_saddled: bool) -> Option<&'static str> {
    let axle = &setup.axle;
    let is_in_tube = p.x.hypot(p.z) < axle.tube_m / 2.0 + larger_m;
    if is_in_tube && !is_saddled && p.y.abs() < axle.flange_to_flange_m / 2.0 {
        return Some("tube");
    }
    let scale = axle.tube_m / 0.0762;
    let (sin, cos) = axle.pinion_angle_rad.sin_cos();
    let ahead = Vector3::new(cos, 0.0, sin);
    let middle = Point3::new(0.0, axle.pinion_offset_m, 0.0);
    let along = (p - middle).dot(&ahead);
    let round = ((p - middle) - ahead * along).norm();
    let past = (along - 0.02 * scale).max(-0.12 * scale - along).max(0.0);
    if past.hypot((round - 0.1 * scale).max(0.0)) < 0.03 * scale + larger_m {
        return Some("centre section");
    }
    let end = setup.pinion_joint_in_axle() - ahead * (0.05 * scale);
    let is_in = beside_m(p, middle, end).is_some_and(|m| m < 0.055 * scale + larger_m);
    is_in.then_some("centre section")
}

/// Which of other brackets on the same carrier a bracket's points lie in, where those are made larger by so much.
pub fn in_others(bracket: &Bracket, others: &[&Bracket], larger_m: f64) -> Option<String> {
    let is_other = |b: &&&Bracket| {
        let is_same = b.mounts.iter().any(|m| bracket.mounts.contains(m)) || b.name == bracket.name;
        !is_same && b.name != "Watt's crank" && bracket.name != "Watt's crank"
    };
    let cloud: Vec<_> = bracket
        .plates
        .iter()
        .flat_map(|p| points(p).into_iter().map(move |at| (p, at)))
        .collect();
    for other in others.iter().filter(is_other) {
        for plate in &other.plates {
            let figure = Figure::of(plate);
            let [low, high] = plate.bounds();
            for stand in &plate.stands {
                for (own, p) in &cloud {
                    let from = p - stand.origin;
                    let seen = Point2::new(from.dot(&stand.x), from.dot(&stand.y));
                    let is_near = own.stands[0].carrier == stand.carrier
                        && from.dot(&out(stand)).abs() < plate.thickness_m / 2.0 + larger_m
                        && seen.x > low.x - larger_m
                        && seen.x < high.x + larger_m
                        && seen.y > low.y - larger_m
                        && seen.y < high.y + larger_m;
                    if is_near && figure.inside_m(seen) > -larger_m {
                        return Some(format!("{} in {} at {p}", own.name, plate.name));
                    }
                }
            }
        }
    }
    None
}
