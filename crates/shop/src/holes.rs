//! Mounts that sit in a row of bracket holes, and mounts that stay where they are.

use nalgebra::{Point3, Vector3};
use rearend::findings::Remedy;
use rearend::mechanism::Part;
use rearend::setup::{HoleRow, Mount, Setup};

use crate::change::ChangeError;

/// A nudge that leads less than this along a row, m, leads across it.
const ACROSS_M: f64 = 1e-9;

/// Where a nudge puts a mount: by the steps, or where it has a row of holes one hole on in the direction of the nudge. `None` where the row
/// ends there, or runs square to the nudge.
pub(crate) fn nudged(row: Option<&HoleRow>, at: Point3<f64>, by: Vector3<f64>) -> Option<Point3<f64>> {
    let Some(row) = row else { return Some(at + by) };
    let along_m = by.try_normalize(0.0)?.dot(&row.step);
    let (hole, _) = row.nearest(at);
    let next = if along_m > ACROSS_M {
        hole.checked_add(1)
    } else if along_m < -ACROSS_M {
        hole.checked_sub(1)
    } else {
        None
    };
    row.holes().nth(next?)
}

/// Gives a mount a row of holes, or takes it away.
///
/// # Errors
/// When there can be none, or none like this.
pub(crate) fn set_row(setup: &mut Setup, mount: Mount, row: Option<HoleRow>) -> Result<(), ChangeError> {
    if !setup.has_bracket(mount) {
        return Err(ChangeError::NoBracket);
    }
    if setup.set_hole_row(mount, row) {
        Ok(())
    } else {
        let (fewest, most) = (HoleRow::FEWEST, HoleRow::MOST);
        Err(ChangeError::Unusable(format!(
            "a row has {fewest} to {most} bracket holes, from 1 mm to 500 mm apart"
        )))
    }
}

/// Locks a mount, or unlocks it.
///
/// # Errors
/// When there is no such mount, or none that can be locked.
pub(crate) fn set_locked(setup: &mut Setup, mount: Mount, is_locked: bool) -> Result<(), ChangeError> {
    if setup.set_locked(mount, is_locked) {
        Ok(())
    } else {
        Err(ChangeError::NoBracket)
    }
}

/// Refuses to move a mount that is locked.
///
/// # Errors
/// When it is.
pub(crate) fn may_move(setup: &Setup, mount: Mount) -> Result<(), ChangeError> {
    if !setup.is_locked(mount) {
        return Ok(());
    }
    // As an adjective: the panhard bar frame mount.
    let name = setup.mount_name(mount).replace(", on the ", " ");
    Err(ChangeError::Locked { name })
}

/// Refuses to take mounts away of which one is locked.
///
/// # Errors
/// When one is.
pub(crate) fn may_go(setup: &Setup, mounts: impl IntoIterator<Item = Mount>) -> Result<(), ChangeError> {
    mounts.into_iter().try_for_each(|mount| may_move(setup, mount))
}

/// The mounts of a part, which go with it: those of both sides, of a Watt's linkage all.
pub(crate) fn mounts_of(setup: &Setup, part: Part) -> Vec<Mount> {
    let goes = |mount: &Mount| match (part, mount) {
        (Part::Bar(bar, _), Mount::Bar { bar: of, .. }) => bar == *of,
        (Part::Arm(arm, _), Mount::Arm { arm: of, .. }) => arm == *of,
        (Part::WattLeft | Part::WattRight, mount) => !matches!(mount, Mount::Bar { .. } | Mount::Arm { .. }),
        _ => false,
    };
    setup.mounts().into_iter().filter(goes).collect()
}

/// Refuses a remedy that moves a mount which is locked.
///
/// # Errors
/// When it is.
pub(crate) fn may_take(setup: &Setup, remedy: Remedy) -> Result<(), ChangeError> {
    remedy.mount().map_or(Ok(()), |mount| may_move(setup, mount))
}

/// Refuses a remedy that leaves a mount in the hole it was in: without a word it would seem that nothing was clicked.
///
/// # Errors
/// When it does.
pub(crate) fn has_helped(before: &Setup, after: &Setup, remedy: Remedy) -> Result<(), ChangeError> {
    let in_row = remedy.mount().is_some_and(|mount| before.hole_row(mount).is_some());
    if in_row && before == after {
        return Err(ChangeError::Unusable(
            "the bracket hole it is in is already the nearest to that; shift the row of holes on its card".to_owned(),
        ));
    }
    Ok(())
}
