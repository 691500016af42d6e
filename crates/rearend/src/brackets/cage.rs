//! What a crank turns in: two side plates across its pivot's bolt, above and below it or before and behind it, carried by a rib at either end.
//!
//! The arms sweep a circle round the pivot, so nothing but the side plates may stand within it: the ribs, saddled on the tube, lie outside.

use nalgebra::{Point2, Point3, Unit, Vector3};

use super::error::BracketError;
use super::ground::Pipe;
use super::hull::{Disc, around};
use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::sides::both_planes;
use super::{Hole, Outline, Plate, check, marks, saddle};

/// A bolt no farther from square to the tube has side plates that lie along it: to a tenth of a millimetre across their width.
const SQUARE: f64 = 0.002;

/// Between the circle that the crank sweeps and a rib: common practice.
const CLEAR_M: f64 = 0.005;

/// Middle of a rib beside what sits round the tube: it leaves the ribs of a pad that bridges the same, and their welds, their room.
const BESIDE_IN_PLATES: f64 = 3.5;

/// The links' sweep is not looked at.
const PASSED_BY_LINKS: &str = "Stop before the final weld: the links swing past the ribs, and over a long travel may meet them, which is not reckoned here. With the \
    ribs tacked, take the axle from laid out to full lift and look at both links.";

/// True where a crank turns in the joint, its bolt square to the tube.
pub(super) fn suits(joint: &Joint, pipe: &Pipe) -> bool {
    joint.sweep_m > 0.0 && joint.bolt.dot(&pipe.axis).abs() < SQUARE
}

/// Where a joint stands beside a tube: along it from its point, and off its axis along the bolt and square to both, m.
struct Beside {
    along_m: f64,
    bolt_m: f64,
    aside_m: f64,
    /// Square to bolt and tube.
    aside: Vector3<f64>,
}

impl Beside {
    fn of(joint: &Joint, pipe: &Pipe) -> Self {
        let aside = joint.bolt.cross(&pipe.axis).normalize();
        let off = joint.at - pipe.point;
        Self {
            along_m: off.dot(&pipe.axis),
            bolt_m: off.dot(&joint.bolt),
            aside_m: off.dot(&aside),
            aside,
        }
    }
}

/// Two side plates, alike, and two ribs, alike.
///
/// # Errors
/// What keeps them from standing there.
pub(super) fn on_pipe(joint: &Joint, pipe: &Pipe, shop: &Shop) -> Result<Vec<Plate>, BracketError> {
    let beside = Beside::of(joint, pipe);
    is_free(joint, pipe, shop, &beside)?;
    let ends_m = ribs_m(joint, pipe, shop, &beside)?;
    Ok(vec![
        side_plates(joint, pipe, shop, ends_m.map(|m| m - beside.along_m))?,
        ribs(joint, pipe, shop, &beside, ends_m)?,
    ])
}

/// Neither the side plates nor the crank between them reaches the tube.
fn is_free(joint: &Joint, pipe: &Pipe, shop: &Shop, beside: &Beside) -> Result<(), BracketError> {
    let half = |gap_m: f64, aside_m: f64| {
        let out = [
            (beside.bolt_m.abs() - gap_m / 2.0).max(0.0),
            (beside.aside_m.abs() - aside_m).max(0.0),
        ];
        out[0].hypot(out[1]) - pipe.radius_m
    };
    let edge_m = shop.steel.edge_m();
    let plates_m = half(joint.gap_m + 2.0 * shop.steel.plate_m, edge_m);
    let crank_m = half(joint.gap_m, joint.sweep_m);
    let there_m = plates_m.min(crank_m);
    if there_m >= CLEAR_M {
        return Ok(());
    }
    let distance_m = beside.bolt_m.hypot(beside.aside_m) - pipe.radius_m;
    Err(BracketError::TooNear {
        name: joint.name.clone(),
        what: pipe.what.clone(),
        there: shop.says(distance_m.max(0.0)),
        needed: shop.says(distance_m.max(0.0) + CLEAR_M - there_m),
        more: shop.says(CLEAR_M - there_m),
    })
}

/// Where the middles of the two ribs stand along the tube: outside the crank's circle, and beside what sits round the tube.
fn ribs_m(joint: &Joint, pipe: &Pipe, shop: &Shop, beside: &Beside) -> Result<[f64; 2], BracketError> {
    let plate_m = shop.steel.plate_m;
    let out_m = joint.sweep_m + CLEAR_M + plate_m / 2.0;
    let mut ends_m = [beside.along_m - out_m, beside.along_m + out_m];
    if let Some([middle_m, half_m]) = pipe.lump_m {
        let past_m = half_m + BESIDE_IN_PLATES * plate_m;
        let is_in = |m: f64| (m - middle_m).abs() < past_m;
        if is_in(ends_m[0]) {
            ends_m[0] = middle_m - past_m;
        }
        if is_in(ends_m[1]) {
            ends_m[1] = middle_m + past_m;
        }
    }
    let [low, high] = pipe.ends_m;
    if ends_m[0] - plate_m / 2.0 < low || ends_m[1] + plate_m / 2.0 > high {
        return Err(BracketError::OffSteel {
            name: joint.name.clone(),
            what: pipe.what.clone(),
            needed: shop.says(ends_m[1] - ends_m[0] + plate_m),
        });
    }
    Ok(ends_m)
}

/// The side plates, between the inner faces of the ribs; `ends_m` are the ribs' middles along the tube from the pivot.
fn side_plates(joint: &Joint, pipe: &Pipe, shop: &Shop, ends_m: [f64; 2]) -> Result<Plate, BracketError> {
    let planes = both_planes(joint, shop);
    let middle = Plane::across(joint.at, joint.bolt);
    let along = middle.flat_direction(pipe.axis).normalize();
    let across = nalgebra::Vector2::new(-along.y, along.x) * shop.steel.edge_m();
    let half_m = shop.steel.plate_m / 2.0;
    let [from, to] = [along * (ends_m[0] + half_m), along * (ends_m[1] - half_m)];
    let corners = [from - across, to - across, to + across, from + across];
    let discs = corners.map(|c| Disc::corner(Point2::from(c)));
    let outline = belt(joint, shop, &discs)?;
    let holes = vec![Hole {
        at: Point2::origin(),
        diameter_m: shop.steel.hole_m(),
    }];
    check::plate(joint, shop, &pipe.what, &outline, &holes)?;
    let stands = planes.map(|p| p.stand(joint.carrier)).to_vec();
    let mut plate = marks::plate(joint, shop, "side plate", outline, stands);
    plate.scribes = marks::at_hole(joint, shop, &middle);
    plate.holes = holes;
    plate.notes.clone_from(&joint.notes);
    plate.notes.push(format!(
        "Both side plates stand between the two ribs, {} clear between them: tack them with the pivot's bolt through both and a spacer of that length.",
        shop.says(joint.gap_m)
    ));
    Ok(plate)
}

fn belt(joint: &Joint, shop: &Shop, discs: &[Disc]) -> Result<Outline, BracketError> {
    around(discs).ok_or_else(|| BracketError::NearEdge {
        name: joint.name.clone(),
        hole: 1,
        there: shop.says(0.0),
        needed: shop.says(shop.steel.edge_m()),
    })
}

/// The ribs: saddled on the tube, wide enough to take the ends of both side plates with their welds.
fn ribs(joint: &Joint, pipe: &Pipe, shop: &Shop, beside: &Beside, ends_m: [f64; 2]) -> Result<Plate, BracketError> {
    let axis = Unit::new_normalize(pipe.axis);
    let planes = ends_m.map(|m| Plane::across(pipe.point + pipe.axis * m, axis));
    let plate_m = shop.steel.plate_m;
    let (bolt_m, aside_m) = (joint.gap_m / 2.0 + 2.0 * plate_m, shop.steel.edge_m() + plate_m);
    let at = |b: f64, a: f64| -> Point3<f64> { joint.at + joint.bolt.into_inner() * b + beside.aside * a };
    let corners = [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)];
    let discs = corners.map(|(b, a)| Disc::corner(planes[0].flat(at(b * bolt_m, a * aside_m))));
    let saddled = saddle::outline(joint, shop, pipe, &planes[0], &discs, |_| true)?;
    check::length(joint, shop, &pipe.what, &saddled.outline)?;
    let stands = planes.iter().map(|p| p.stand(joint.carrier)).collect();
    let mut plate = marks::plate(joint, shop, "rib", saddled.outline.clone(), stands);
    plate.scribes.push(saddled.to_centre(shop, pipe));
    plate.scribes.extend(plate_ends(joint, shop, beside, &planes[0]));
    plate.notes.push(saddled.says(shop, pipe));
    let [mut right_m, mut left_m] = ends_m.map(|m| (m - beside.along_m).abs() - plate_m / 2.0);
    if pipe.axis.y < 0.0 {
        std::mem::swap(&mut left_m, &mut right_m);
    }
    plate.notes.push(format!(
        "The inner faces of the two ribs stand {} left and {} right of the pivot; tie each to the tube with a diagonal against pull to the side.",
        shop.says(left_m),
        shop.says(right_m)
    ));
    plate.notes.push(PASSED_BY_LINKS.to_owned());
    Ok(plate)
}

/// Where the middles of the side plates meet a rib.
fn plate_ends(joint: &Joint, shop: &Shop, beside: &Beside, plane: &Plane) -> Vec<super::Scribe> {
    let out_m = f64::midpoint(joint.gap_m, shop.steel.plate_m);
    let edge = |b: f64| {
        let at = |a: f64| plane.flat(joint.at + joint.bolt.into_inner() * b + beside.aside * a);
        super::Scribe {
            from: at(-shop.steel.edge_m()),
            to: at(shop.steel.edge_m()),
            what: "middle of a side plate".to_owned(),
        }
    };
    [-out_m, out_m].map(edge).to_vec()
}
