//! The gusset between the two side plates of a long bracket.

use nalgebra::{Point2, Unit, Vector3};

use super::hull::rectangle;
use super::joint::{Joint, Shop};
use super::plane::Plane;
use super::sides::{Reach, Sides};
use super::{Plate, marks};

/// Where the nearest hole is farther from the weld than this many edge distances, the side plates want a gusset: common practice.
const LONG_IN_EDGES: f64 = 2.0;

/// An end that leans more than this from square is cut to suit, rad.
const SQUARE_RAD: f64 = 0.05;

/// A bar within this of the gusset's own direction would run into it: cosine of forty-five degrees.
const ALONG_BAR: f64 = 0.7;

/// A plate as wide as the gap, from the weld to short of the joint, in the middle of both side plates. None where the bracket is short, the
/// shop does without, the plates stand aslant, or the bar runs out that way.
pub(super) fn between(joint: &Joint, shop: &Shop, sides: &Sides, what: &str) -> Option<Plate> {
    let Reach {
        foot,
        up,
        far_m,
        lean_rad,
    } = sides.reach?;
    if !shop.steel.gussets || far_m <= LONG_IN_EDGES * shop.steel.edge_m() {
        return None;
    }
    let bar = joint.towards.as_ref().and_then(|(d, _)| d.try_normalize(1e-9));
    if bar.is_some_and(|d| d.dot(&up) < -ALONG_BAR) {
        return None;
    }
    let long_m = far_m - joint.room_m(shop);
    let thick_m = shop.steel.plate_m;
    if long_m < 2.0 * thick_m {
        return None;
    }
    let across = Unit::new_normalize(joint.bolt.into_inner() - up.into_inner() * joint.bolt.dot(&up));
    let plane = Plane::of(foot, across, up);
    let half_m = joint.gap_m / 2.0;
    let outline = rectangle(Point2::new(-half_m, 0.0), Point2::new(half_m, long_m));
    let mut plate = marks::plate(joint, shop, "gusset", outline, vec![plane.stand(joint.carrier)]);
    let hole = if joint.holes.len() > 1 {
        "the hole nearest to it"
    } else {
        "the bolt's hole"
    };
    plate.notes.push(format!(
        "Between the side plates, square to them, on the straight line from the centre of {hole} to the middle of the plates' weld at {what}: weld its long edges to the plates and its end to {what}."
    ));
    plate.notes.push(format!(
        "On that line it ends {} short of the hole's centre, {} from {what}. It lies {} the bolt: the joint turns past its free end.",
        shop.says(far_m - long_m),
        shop.says(long_m),
        beside(&up)
    ));
    if lean_rad > SQUARE_RAD {
        plate.notes.push(format!(
            "It leans {:.0} degrees from square to {what}: bevel its end to suit.",
            lean_rad.to_degrees()
        ));
    }
    Some(plate)
}

/// Which way a gusset lies from its bolt; `up` goes from its weld to the bolt.
fn beside(up: &Vector3<f64>) -> &'static str {
    if up.z.abs() >= up.x.hypot(up.y) {
        if up.z > 0.0 { "below" } else { "above" }
    } else if up.x.abs() >= up.y.abs() {
        if up.x > 0.0 { "behind" } else { "ahead of" }
    } else {
        "beside"
    }
}
