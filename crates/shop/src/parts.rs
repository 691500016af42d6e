//! Parts that come, go and change kind.

use nalgebra::Point3;
use rearend::answers::Answers;
use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, Bar, BarEnd, BarId, Joint, Length, Role, Setup};

use crate::change::ChangeError;

/// Adds a bar where there is room for one, to be dragged from there.
pub(crate) fn add_bar(setup: &mut Setup, role: Role) {
    let z_m = setup.axle_z_m(setup.travel.ride_m);
    let half_m = setup.rails.spacing_m / 2.0;
    let (frame, axle) = match role {
        Role::Upper => ([0.5, 0.15, z_m + 0.16], [0.0, 0.15, 0.16]),
        Role::Lower => ([0.6, half_m, z_m - 0.1], [0.0, half_m, -0.1]),
        // Its axle end passes the inside of the rail as the truck lowers.
        Role::Sideways => {
            let inside_m = (half_m - setup.rails.flange_m - 0.04).max(0.1);
            ([-0.2, half_m - 0.08, z_m + 0.05], [-0.2, -inside_m, 0.05])
        }
    };
    let taken = |name: &str| setup.bars.iter().any(|b| b.name == name);
    let plain = role.bar();
    let numbered = (2..100).map(|n| format!("{plain} {n}"));
    let name = std::iter::once(plain.to_owned())
        .chain(numbered)
        .find(|name| !taken(name))
        .unwrap_or_else(|| plain.to_owned());
    setup
        .bars
        .push(Bar::new(&name, role, Point3::from(frame), Point3::from(axle)));
}

/// Takes a part away; a Watt's linkage goes as a whole.
///
/// # Errors
/// When there is no such part.
pub(crate) fn remove(setup: &mut Setup, part: Part) -> Result<(), ChangeError> {
    match part {
        Part::Bar(bar, _) if bar.0 < setup.bars.len() => drop(setup.bars.remove(bar.0)),
        Part::Arm(arm, _) if arm.0 < setup.arms.len() => drop(setup.arms.remove(arm.0)),
        Part::WattLeft | Part::WattRight if setup.watt.is_some() => setup.watt = None,
        _ => return Err(ChangeError::NoSuchMount),
    }
    Ok(())
}

/// Another joint at one end of a bar.
///
/// # Errors
/// When there is no such bar.
pub(crate) fn set_joint(setup: &mut Setup, bar: BarId, end: BarEnd, joint: Joint) -> Result<(), ChangeError> {
    let bar = setup.bars.get_mut(bar.0).ok_or(ChangeError::NoSuchMount)?;
    // What the bar says of both its ends need not be said again.
    let own = (joint != Joint::of(bar.ends.kind())).then_some(joint);
    match end {
        BarEnd::Frame => bar.frame_joint = own,
        BarEnd::Axle => bar.axle_joint = own,
    }
    Ok(())
}

/// Another length, or another way to say it. A bar that goes back to being cut to suit keeps the length it has: the drawing moves to where
/// the axle stands, and with it every other bar that is cut to suit keeps its length too.
///
/// # Errors
/// When the part has no length of its own.
pub(crate) fn set_length(setup: &mut Setup, answers: &Answers, part: Part, length: Length) -> Result<(), ChangeError> {
    let was = setup.length(part).ok_or(ChangeError::NoSuchMount)?;
    if (was, length) == (Length::CutToSuit, Length::CutToSuit) {
        return Ok(());
    }
    if length == Length::CutToSuit
        && let Ok(solved) = &answers.solved
    {
        let ride = &solved.rear_end.ride;
        setup.placement.forward_m = ride.origin_in_ground.x;
        setup.placement.left_m = ride.origin_in_ground.y;
        setup.placement.steer_rad = ride.yaw_rad;
        setup.placement.nose_up_rad = -ride.pitch_rad;
        setup.placement.crank_rad = ride.crank_rad[0];
    }
    setup.set_length(part, length);
    Ok(())
}

/// A part as it is now, taken as built.
#[must_use]
pub fn as_built(answers: &Answers, part: Part) -> Option<AsBuilt> {
    let length_m = answers.solved.as_ref().ok()?.rear_end.length_m(part)?;
    Some(AsBuilt::of_length(length_m))
}
