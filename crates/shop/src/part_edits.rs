//! What parts are called and made of, and what is written about the setup.

use nalgebra::Vector3;
use rearend::mechanism::Part;
use rearend::setup::{Bar, BarEnd, BarId, Ends, Joint, JointKind, Role, Setup};

use crate::change::ChangeError;

/// Letters of a name: as many as a list has room for.
const MOST_NAME: usize = 60;

/// Letters of a note: some pages.
const MOST_NOTE: usize = 10_000;

const INCH_M: f64 = 0.0254;

/// The thinnest and the thickest tube that anybody calls a bar or an arm, to a hair.
const TUBES_M: std::ops::RangeInclusive<f64> = (INCH_M / 16.0 - 1e-9)..=(8.0 * INCH_M + 1e-9);

/// The thinnest wall of a tube, to a hair.
const THINNEST_M: f64 = INCH_M / 64.0 - 1e-5;

/// How much higher a copy stands, so that both can be seen and taken hold of.
const COPY_UP_M: f64 = 0.05;

/// A name as it is kept: without blanks around it.
///
/// # Errors
/// When nobody could read it in a list.
pub fn usable_name(text: &str) -> Result<String, ChangeError> {
    let name = text.trim();
    let letters = name.chars().count();
    if letters == 0 || name.chars().any(char::is_control) {
        return refuse("a name is expected");
    }
    if letters > MOST_NAME {
        return Err(ChangeError::Unusable(format!(
            "the name is {letters} letters long; up to {MOST_NAME} are expected"
        )));
    }
    Ok(name.to_owned())
}

/// A name for this part, which no other part has: findings tell parts apart by their names.
///
/// # Errors
/// When it cannot be read in a list, or is taken.
pub fn usable_part_name(setup: &Setup, part: Part, text: &str) -> Result<String, ChangeError> {
    let name = usable_name(text)?;
    let bars = setup.bars.iter().enumerate();
    let is_bar = |i: usize| matches!(part, Part::Bar(id, _) if id.0 == i);
    let arms = setup.arms.iter().enumerate();
    let is_arm = |i: usize| matches!(part, Part::Arm(id, _) if id.0 == i);
    let taken = bars.filter(|(i, _)| !is_bar(*i)).any(|(_, b)| b.name == name)
        || arms.filter(|(i, _)| !is_arm(*i)).any(|(_, a)| a.name == name);
    if taken {
        return Err(ChangeError::Unusable(format!(
            "another part is called {name}; a name of its own is expected"
        )));
    }
    Ok(name)
}

/// An outside diameter of a tube, m.
///
/// # Errors
/// When no bar is that thin or thick.
pub fn usable_tube_m(tube_m: f64) -> Result<f64, ChangeError> {
    if TUBES_M.contains(&tube_m) {
        Ok(tube_m)
    } else {
        refuse("a tube from 1/16 in (1.6 mm) to 8 in (203.2 mm) across is expected")
    }
}

/// A wall of a tube of this outside diameter, m.
///
/// # Errors
/// When no tube has one that thin, or it leaves no bore.
pub fn usable_wall_m(wall_m: f64, tube_m: f64) -> Result<f64, ChangeError> {
    if wall_m >= THINNEST_M && 2.0 * wall_m < tube_m {
        Ok(wall_m)
    } else {
        refuse("a wall from 1/64 in (0.4 mm) to less than half the tube is expected")
    }
}

/// A note on the setup.
///
/// # Errors
/// When it is longer than a file should hold.
pub fn usable_note(text: &str) -> Result<String, ChangeError> {
    let letters = text.chars().count();
    if letters > MOST_NOTE {
        return Err(ChangeError::Unusable(format!(
            "the note is {letters} letters long; up to {MOST_NOTE} are kept"
        )));
    }
    Ok(text.to_owned())
}

fn refuse<T>(sentence: &str) -> Result<T, ChangeError> {
    Err(ChangeError::Unusable(sentence.to_owned()))
}

/// What a change of role is called.
pub(crate) fn role_step(setup: &Setup, bar: BarId, role: Role) -> String {
    format!(
        "make the {} {}",
        setup.bar(bar).map_or("bar", |b| &b.name),
        role.a_bar()
    )
}

/// Another name for a bar or an arm.
///
/// # Errors
/// When it is of no use, or the part has no name of its own.
pub(crate) fn rename(setup: &mut Setup, part: Part, name: &str) -> Result<(), ChangeError> {
    let name = usable_part_name(setup, part, name)?;
    match part {
        Part::Bar(id, _) => bar(setup, id)?.name = name,
        Part::Arm(id, _) => setup.arms.get_mut(id.0).ok_or(ChangeError::NoSuchPart)?.name = name,
        Part::WattLeft | Part::WattRight => return refuse("a Watt's linkage has no name of its own"),
    }
    Ok(())
}

/// Another tube; the two links of a Watt's linkage share theirs.
///
/// # Errors
/// When no bar is that thin or thick, or there is no such part.
pub(crate) fn set_tube(setup: &mut Setup, part: Part, tube_m: f64) -> Result<(), ChangeError> {
    let tube_m = usable_tube_m(tube_m)?;
    match part {
        Part::Bar(id, _) => bar(setup, id)?.tube_m = tube_m,
        Part::Arm(id, _) => setup.arms.get_mut(id.0).ok_or(ChangeError::NoSuchPart)?.tube_m = tube_m,
        Part::WattLeft | Part::WattRight => setup.watt.as_mut().ok_or(ChangeError::NoSuchPart)?.tube_m = tube_m,
    }
    Ok(())
}

/// Another wall; the two links of a Watt's linkage share theirs.
///
/// # Errors
/// When no tube has such a wall, the part is none that is sawn from tube, or there is no such part.
pub(crate) fn set_wall(setup: &mut Setup, part: Part, wall_m: f64) -> Result<(), ChangeError> {
    let (tube_m, wall) = match part {
        Part::Bar(id, _) => {
            let bar = bar(setup, id)?;
            (bar.tube_m, &mut bar.wall_m)
        }
        Part::Arm(..) => return refuse("the wall of an arm is up to whoever builds it"),
        Part::WattLeft | Part::WattRight => {
            let watt = setup.watt.as_mut().ok_or(ChangeError::NoSuchPart)?;
            (watt.tube_m, &mut watt.wall_m)
        }
    };
    *wall = usable_wall_m(wall_m, tube_m)?;
    Ok(())
}

/// Another thing that a bar is there for.
///
/// # Errors
/// When there is no such bar.
pub(crate) fn set_role(setup: &mut Setup, id: BarId, role: Role) -> Result<(), ChangeError> {
    bar(setup, id)?.role = role;
    Ok(())
}

/// Other ends, both at once. What lies in a bracket stays: the bolts. What was typed of a joint goes with the joint.
///
/// # Errors
/// When there is no such part.
pub(crate) fn set_ends(setup: &mut Setup, part: Part, ends: Ends) -> Result<(), ChangeError> {
    let kind = ends.kind();
    match part {
        Part::Bar(id, _) => {
            let bar = bar(setup, id)?;
            let joints = [BarEnd::Frame, BarEnd::Axle].map(|end| of_kind(bar.joint(end), kind));
            bar.ends = ends;
            // What the bar says of both its ends need not be said again.
            [bar.frame_joint, bar.axle_joint] = joints.map(|joint| (joint != Joint::of(kind)).then_some(joint));
        }
        Part::Arm(id, _) => {
            let arm = setup.arms.get_mut(id.0).ok_or(ChangeError::NoSuchPart)?;
            arm.eye = of_kind(arm.eye, kind);
        }
        Part::WattLeft | Part::WattRight => setup.watt.as_mut().ok_or(ChangeError::NoSuchPart)?.ends = ends,
    }
    Ok(())
}

fn of_kind(joint: Joint, kind: JointKind) -> Joint {
    if joint.kind == kind {
        return joint;
    }
    Joint {
        bolt: joint.bolt,
        ..Joint::of(kind)
    }
}

/// The same bar again, a little higher, its brackets with it; locked it would be where nobody wants it. It comes last, so that every other
/// bar keeps its place.
///
/// # Errors
/// When there is no such bar.
pub(crate) fn duplicate(setup: &mut Setup, id: BarId) -> Result<(), ChangeError> {
    let original = setup.bar(id).ok_or(ChangeError::NoSuchPart)?;
    let up = Vector3::z() * COPY_UP_M;
    let copy = Bar {
        name: copy_name(setup, &original.name),
        mount_in_frame: original.mount_in_frame + up,
        mount_in_axle: original.mount_in_axle + up,
        frame_holes: original.frame_holes.map(|row| row.moved(up)),
        axle_holes: original.axle_holes.map(|row| row.moved(up)),
        frame_locked: false,
        axle_locked: false,
        ..original.clone()
    };
    setup.bars.push(copy);
    Ok(())
}

/// "lower bar copy", or with a number behind it where that is taken; a copy's copy is one more of the same.
fn copy_name(setup: &Setup, name: &str) -> String {
    let first = match name.rsplit_once(" copy") {
        Some((plain, number)) if number.chars().all(|c| c.is_ascii_digit() || c == ' ') => plain,
        _ => name,
    };
    let first = format!("{first} copy");
    let names = setup
        .bars
        .iter()
        .map(|b| &b.name)
        .chain(setup.arms.iter().map(|a| &a.name));
    let is_free = |name: &String| names.clone().all(|n| n != name);
    let numbered = (2..100).map(|n| format!("{first} {n}"));
    std::iter::once(first.clone())
        .chain(numbered)
        .find(is_free)
        .unwrap_or(first)
}

fn bar(setup: &mut Setup, id: BarId) -> Result<&mut Bar, ChangeError> {
    setup.bars.get_mut(id.0).ok_or(ChangeError::NoSuchPart)
}
