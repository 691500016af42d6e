//! The axle's tube as something to weld to.

use nalgebra::{Point3, Vector3};

use super::error::BracketError;
use super::ground::Pipe;
use super::joint::{Joint, Shop};
use super::steel::Member;
use crate::setup::Axle;

/// Half the width of a centre section over the tube's diameter: as it is drawn, common practice.
pub(crate) const LUMP_IN_TUBES: f64 = 0.13 / 0.0762;

/// The axle's tube beside a joint.
///
/// # Errors
/// Where the tube is no longer there, or the joint lies in it.
pub(super) fn ground(joint: &Joint, axle: &Axle, shop: &Shop) -> Result<Pipe, BracketError> {
    let half_m = axle.flange_to_flange_m / 2.0;
    let what = || "the axle tube".to_owned();
    if joint.at.y.abs() + joint.gap_m / 2.0 + shop.steel.plate_m > half_m {
        return Err(BracketError::OffSteel {
            name: joint.name.clone(),
            what: what(),
            needed: shop.says(joint.gap_m + 2.0 * shop.steel.plate_m),
        });
    }
    let lump_half_m = LUMP_IN_TUBES * axle.tube_m;
    let is_over = (joint.at.y - axle.pinion_offset_m).abs() < lump_half_m;
    let over = "Over the centre section there is no bare tube: carry this bracket on a bridge of the same tube, or fit the plates to the \
                housing before they are cut.";
    Ok(Pipe {
        what: what(),
        point: Point3::origin(),
        axis: Vector3::y(),
        ends_m: [-half_m, half_m],
        radius_m: axle.tube_m / 2.0,
        member: Member::Tube,
        lump_m: Some([axle.pinion_offset_m, lump_half_m]),
        notes: is_over.then(|| over.to_owned()).into_iter().collect(),
    })
}
