//! The crank of a Watt's linkage, and the joints that its linkage hangs on.

use nalgebra::{Point2, Vector3};

use super::error::BracketError;
use super::hull::around;
use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::sides::{both_planes, rounds};
use super::{Bracket, Hole, Scribe, check, marks};
use crate::setup::{Mount, Steel, Watt};

/// Thickness of the washer on either side of the crank in its bracket, m: a sixteenth of an inch.
pub const PIVOT_WASHER_M: f64 = 0.001_6;

/// The caps of a crank's cage lie so far round from its arms, away from the links: the heads at the arms' ends swing past on both sides. Sixty
/// degrees.
const OFF_ARMS_RAD: f64 = std::f64::consts::FRAC_PI_3;

/// Clear width of the bracket that a crank's pivot bolt goes through, m: the crank's two plates, the room between them, a washer on either
/// side, and on the side of the heads a spacer as long as [`crank_spacer_m`].
#[must_use]
pub fn crank_gap_m(steel: &Steel) -> f64 {
    crank_half_m(steel) * 2.0 + 2.0 * PIVOT_WASHER_M + crank_spacer_m(steel)
}

/// The spacer beside a crank in diameters of its bolt: three washers, a lock nut and the thread that shows take 2.02.
const SPACER_IN_BOLTS: f64 = 2.25;

/// Ahead of the near side plate two washers, a lock nut and the thread that shows take 1.82 diameters of the bolt.
const NUT_ROOM_IN_BOLTS: f64 = 2.0;

/// Length of the spacer on the pivot's bolt between the crank's washer and the near side plate, m: past that plate swing the nuts of the bolts
/// through the crank's ends, which go in from the other side, where nothing is in their way.
#[must_use]
pub fn crank_spacer_m(steel: &Steel) -> f64 {
    SPACER_IN_BOLTS * steel.bolt_m
}

/// From the middle of a crank to what may come no nearer on the side of the near side plate, m: to the plate's far face, and the pivot's nut.
pub(crate) fn crank_room_m(steel: &Steel) -> f64 {
    crank_half_m(steel) + PIVOT_WASHER_M + crank_spacer_m(steel) + steel.plate_m + NUT_ROOM_IN_BOLTS * steel.bolt_m
}

/// Half of what a crank is thick over both plates, m.
pub(super) fn crank_half_m(steel: &Steel) -> f64 {
    steel.gap_m / 2.0 + steel.plate_m
}

/// From the pivot to where the caps of its cage lie, its carrier's coordinates: off the crank's line on the side where the left link is not.
/// `link` runs from the crank to the left link's other end.
pub(super) fn open_way(watt: &Watt, link: Vector3<f64>) -> Vector3<f64> {
    let arm = (watt.joints()[0] - watt.pivot)
        .try_normalize(1e-9)
        .unwrap_or_else(Vector3::z);
    let across = watt.pivot_axis().cross(&arm);
    let away = if across.dot(&link) > 0.0 { -across } else { across };
    arm * OFF_ARMS_RAD.cos() + away * OFF_ARMS_RAD.sin()
}

pub(super) fn pivot_gap_m(shop: &Shop) -> f64 {
    crank_gap_m(shop.steel)
}

/// How far the crank's plates reach from the pivot, m.
pub(super) fn sweep_m(watt: &Watt, shop: &Shop) -> f64 {
    let arms = watt.joints().map(|joint| (joint - watt.pivot).norm());
    arms[0].max(arms[1]) + shop.steel.edge_m()
}

/// The crank: two plates with the pivot's hole and one for each link, as drawn.
///
/// # Errors
/// Where its holes are too near to each other.
pub(super) fn crank(watt: &Watt, shop: &Shop) -> Result<Bracket, BracketError> {
    let name = "Watt's crank".to_owned();
    let carrier = watt.crank_on;
    let joint = Joint::new(name.clone(), carrier, watt.pivot, watt.pivot_axis(), shop.steel.gap_m);
    let joint = joint.ok_or_else(|| BracketError::Bolt {
        name: name.clone(),
        what: format!("the {}", carrier.name()),
    })?;
    let [left, right] = watt.joints();
    let joint = joint.in_row([watt.pivot, left, right]);
    check::row(&joint, shop)?;
    let middle = Plane::across(joint.at, joint.bolt);
    let holes: Vec<_> = joint
        .holes
        .iter()
        .map(|at| Hole {
            at: middle.flat(*at),
            diameter_m: shop.steel.hole_m(),
        })
        .collect();
    let outline = around(&rounds(&holes, shop.steel.edge_m())).ok_or_else(|| BracketError::HolesTooClose {
        name: name.clone(),
        there: shop.says(0.0),
        needed: shop.says(shop.steel.hole_m()),
    })?;
    check::plate(&joint, shop, "the pivot", &outline, &holes)?;
    let stands = both_planes(&joint, shop).map(|p| p.stand(carrier)).to_vec();
    let mut plate = marks::plate(&joint, shop, "plate", outline, stands);
    plate.scribes = arms(&holes);
    plate.scribes.extend(marks::at_hole(&joint, shop, &middle));
    plate.holes = holes;
    plate.notes = vec![
        format!(
            "At the pivot a spacer tube {} long keeps both plates apart, and the crank turns with it on the bolt, a washer on either side: there is no \
             bush. The links go between the plates.",
            shop.says(joint.gap_m)
        ),
        format!(
            "{} arm: left link. The bolts through both arms go in from the side of the far side plate, past its edges; their nuts are on the side of \
             the near one. Saw off what stands out of a nut by more than two threads.",
            left_arm(watt)
        ),
    ];
    Ok(Bracket {
        name,
        mounts: vec![Mount::WattLeftArm, Mount::WattRightArm],
        plates: vec![plate],
    })
}

/// Which arm the left link is on, as the crank is drawn.
fn left_arm(watt: &Watt) -> &'static str {
    const LEVEL_M: f64 = 1e-6;
    let up_m = (watt.joints()[0] - watt.pivot).z;
    if up_m > LEVEL_M {
        "Upper"
    } else if up_m < -LEVEL_M {
        "Lower"
    } else {
        "Forward"
    }
}

/// From the pivot to either joint.
fn arms(holes: &[Hole]) -> Vec<Scribe> {
    let ends = holes.iter().skip(1).map(|h| h.at);
    let words = ["to the left link's joint", "to the right link's joint"];
    let mark = |(to, what): (Point2<f64>, &str)| Scribe {
        from: Point2::origin(),
        to,
        what: what.to_owned(),
    };
    ends.zip(words).map(mark).collect()
}

/// The links' joints on the other body: the bolt lies along the pivot's. `links` are both links from there to the crank, in the
/// coordinates of what carries the mounts.
pub(super) fn ends(watt: &Watt, shop: &Shop, axis: Vector3<f64>, links: [Vector3<f64>; 2]) -> Vec<Option<Joint>> {
    let carrier = watt.links_to();
    let ends = [
        ("left", watt.left, watt.left_holes, Mount::WattLeft),
        ("right", watt.right, watt.right_holes, Mount::WattRight),
    ];
    ends.into_iter()
        .zip(links)
        .map(|((side, at, row, mount), link)| {
            let name = format!("Watt's {side} link, on the {}", carrier.name());
            let mut joint = Joint::new(name, carrier, at, axis, shop.steel.gap_m)?;
            if let Some(row) = row {
                joint = joint.in_row(row.holes());
            }
            joint.mounts = vec![mount];
            joint.towards = Some((link, "link at ride height".to_owned()));
            Some(joint)
        })
        .collect()
}
