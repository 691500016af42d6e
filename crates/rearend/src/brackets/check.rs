//! What has to hold of every plate before it is worth cutting.

use super::error::BracketError;
use super::joint::{Joint, Shop};
use super::{Hole, Outline, Plate};

/// Holes leave at least this much of their bolt's diameter between them: common practice of adjustable brackets, an inch from hole to hole
/// for three quarter bolts.
const WEB_IN_BOLTS: f64 = 0.25;

/// No bracket's plate is longer.
const LONGEST_M: f64 = 1.0;

/// A row leaves the plane of its plate by no more.
const OUT_OF_PLANE_M: f64 = 1e-4;

/// What numbers lose on their way.
const ROUNDED_M: f64 = 1e-9;

/// Holes of a row lie across the bolt, and far enough apart.
pub(super) fn row(joint: &Joint, shop: &Shop) -> Result<(), BracketError> {
    let name = || joint.name.clone();
    let is_out = |h: &nalgebra::Point3<f64>| (h - joint.at).dot(&joint.bolt).abs() > OUT_OF_PLANE_M;
    if joint.holes.iter().any(is_out) {
        return Err(BracketError::RowAlongBolt { name: name() });
    }
    let needed_m = shop.steel.hole_m() + WEB_IN_BOLTS * shop.steel.bolt_m;
    let pairs = joint.holes.iter().enumerate().flat_map(|(i, a)| {
        let rest = joint.holes.iter().skip(i + 1);
        rest.map(move |b| (a - b).norm())
    });
    let least_m = pairs.fold(f64::INFINITY, f64::min);
    if least_m < needed_m - ROUNDED_M {
        return Err(BracketError::HolesTooClose {
            name: name(),
            there: shop.says(least_m),
            needed: shop.says(needed_m),
        });
    }
    Ok(())
}

/// No hole is nearer than the edge distance to what the plate stands on. Less than nothing: the hole is inside it.
pub(super) fn clear_of(
    joint: &Joint,
    shop: &Shop,
    what: &str,
    distances_m: impl Iterator<Item = f64>,
) -> Result<(), BracketError> {
    let needed_m = shop.steel.edge_m();
    let there_m = distances_m.fold(f64::INFINITY, f64::min);
    let (name, what, needed) = (joint.name.clone(), what.to_owned(), shop.says(needed_m));
    if there_m < 0.0 {
        return Err(BracketError::Inside { name, what, needed });
    }
    if there_m < needed_m - ROUNDED_M {
        return Err(BracketError::TooNear {
            name,
            what,
            there: shop.says(there_m),
            needed,
            more: shop.says(needed_m - there_m),
        });
    }
    Ok(())
}

/// Every hole keeps the edge distance all round, and the plate is no longer than a bracket's.
pub(super) fn plate(
    joint: &Joint,
    shop: &Shop,
    what: &str,
    outline: &Outline,
    holes: &[Hole],
) -> Result<(), BracketError> {
    let needed_m = shop.steel.edge_m();
    for (i, hole) in holes.iter().enumerate() {
        let there_m = outline.distance_m(hole.at);
        if there_m < needed_m - ROUNDED_M {
            return Err(BracketError::NearEdge {
                name: joint.name.clone(),
                hole: i + 1,
                there: shop.says(there_m),
                needed: shop.says(needed_m),
            });
        }
    }
    length(joint, shop, what, outline)
}

/// The plate is no longer than a bracket's.
pub(super) fn length(joint: &Joint, shop: &Shop, what: &str, outline: &Outline) -> Result<(), BracketError> {
    let [low, high] = outline.bounds();
    let long_m = (high - low).max();
    if long_m > LONGEST_M {
        return Err(BracketError::TooLong {
            name: joint.name.clone(),
            long: shop.says(long_m),
            what: what.to_owned(),
        });
    }
    Ok(())
}

/// The two of a pair keep to their own sides of the truck.
pub(super) fn apart(joint: &Joint, shop: &Shop, plates: &[Plate]) -> Result<(), BracketError> {
    if !joint.on_both_sides {
        return Ok(());
    }
    let side = if joint.at.y < 0.0 { -1.0 } else { 1.0 };
    // Side plates by their thickness and round ends, everything by its corners.
    let along = joint.bolt.y.abs();
    let round_m =
        along * (joint.gap_m / 2.0 + shop.steel.plate_m) + (1.0 - along * along).max(0.0).sqrt() * shop.steel.edge_m();
    let corners = plates.iter().flat_map(|plate| {
        let own = plate.stands.iter().take(plate.stands.len() / joint.count());
        own.flat_map(|stand| plate.outline.pieces().map(|(at, _)| stand.place(at).y * side))
    });
    let at_m = joint.at.y * side;
    let least_m = corners.fold(at_m - round_m, f64::min);
    if least_m < 0.0 {
        return Err(BracketError::Overlap {
            name: joint.name.clone(),
            needed: shop.says(at_m - least_m),
        });
    }
    Ok(())
}
