//! The joints of coilovers. Air springs come with their own seats and get none.

use nalgebra::Vector3;

use super::joint::{Joint, Shop};
use crate::setup::{Carrier, Setup, SpringKind};

/// Both ends of the coilovers, alike on both sides: the lower bolt across the truck, the upper one front to back, so that a tab leaves the
/// coil its room. Common practice.
pub(super) fn joints(setup: &Setup, shop: &Shop) -> Vec<Joint> {
    let Some(springs) = setup
        .springs
        .as_ref()
        .filter(|s| matches!(s.kind, SpringKind::Coilover(_)))
    else {
        return Vec::new();
    };
    let Some(lower) = springs.mount_in_axle() else {
        return Vec::new();
    };
    let drawn = setup.drawn();
    let along = springs.mount_in_frame - drawn.to_ground(lower);
    let ends = [
        (
            "coilover, on the frame",
            Carrier::Frame,
            springs.mount_in_frame,
            Vector3::x(),
            -along,
        ),
        (
            "coilover, on the axle",
            Carrier::Axle,
            lower,
            Vector3::y(),
            drawn.ground_from_platform().transpose() * along,
        ),
    ];
    ends.into_iter()
        .filter_map(|(name, carrier, at, bolt, towards)| {
            let mut joint = Joint::new(name.to_owned(), carrier, at, bolt, shop.steel.gap_m)?;
            if carrier == Carrier::Axle {
                joint = joint.in_row(springs.holes_in_axle.iter().copied());
            }
            joint.towards = Some((towards, "coilover at ride height".to_owned()));
            joint.on_both_sides = true;
            Some(joint)
        })
        .collect()
}
