//! One description for both sides of the truck, or one a side.

use rearend::setup::{Bar, BarId, HoleRow, Setup, Side};

use crate::change::ChangeError;

/// Lets a bar stand for two, or for one.
///
/// # Errors
/// When there is no such bar.
pub(crate) fn set_mirrored(setup: &mut Setup, id: BarId, mirrored: bool) -> Result<(), ChangeError> {
    let bar = setup.bars.get(id.0).ok_or(ChangeError::NoSuchMount)?;
    match (bar.mirrored, mirrored) {
        (true, false) => unlink(setup, id),
        (false, true) => link(setup, id),
        _ => {}
    }
    Ok(())
}

const SIDES: [&str; 2] = ["left ", "right "];

/// Leaves two bars of their own, so that nothing on the stage jumps.
fn unlink(setup: &mut Setup, id: BarId) {
    let bar = &mut setup.bars[id.0];
    bar.mirrored = false;
    bar.joined = false;
    let mut other = bar.clone();
    let [mine, theirs] = if side(bar) > 0.0 { SIDES } else { [SIDES[1], SIDES[0]] };
    other.name = format!("{theirs}{}", bar.name);
    bar.name = format!("{mine}{}", bar.name);
    other.mount_in_frame.y *= -1.0;
    other.mount_in_axle.y *= -1.0;
    let across = |row: HoleRow| row.on_side(Side::Mirrored);
    other.frame_holes = other.frame_holes.map(across);
    other.axle_holes = other.axle_holes.map(across);
    setup.bars.insert(id.0 + 1, other);
}

/// Makes one bar stand for two; the bar that stood on the other side makes way.
fn link(setup: &mut Setup, id: BarId) {
    let bar = setup.bars[id.0].clone();
    let plain = |name: &str| {
        SIDES
            .iter()
            .find_map(|s| name.strip_prefix(s))
            .unwrap_or(name)
            .to_owned()
    };
    let is_twin = |(i, b): &(usize, &Bar)| {
        *i != id.0
            && !b.mirrored
            && b.role == bar.role
            && side(b) * side(&bar) < 0.0
            && plain(&b.name) == plain(&bar.name)
    };
    let twin = setup.bars.iter().enumerate().find(is_twin).map(|(i, _)| i);
    let linked = &mut setup.bars[id.0];
    linked.mirrored = true;
    linked.name = plain(&bar.name);
    if let Some(twin) = twin {
        setup.bars.remove(twin);
    }
}

/// Positive for a bar left of the middle.
fn side(bar: &Bar) -> f64 {
    bar.mount_in_frame.y + bar.mount_in_axle.y
}
