//! What the list of steps calls a change: what it does, and to what.

use rearend::mechanism::Part;
use rearend::setup::{AsBuilt, Balance, Length, Limits, Mount, RodEnd, Setup, SpringKind, Springs, Steel, Travel};

use crate::change::Change;
use crate::part_edits;

impl Change {
    /// What undo calls it, told of the setup before it.
    #[must_use]
    pub fn name(&self, setup: &Setup) -> String {
        let bar_name = |bar| setup.bar(bar).map_or("bar", |b| b.name.as_str());
        let plain = |part: Part| part.plain_name(setup);
        match self {
            Self::MoveMount { mount, .. } => format!("move {}", setup.mount_name(*mount)),
            Self::MoveMounts(moves) => moved(setup, moves),
            Self::SetHoles { mount, row } => {
                let verb = if row.is_some() { "set" } else { "leave out" };
                format!("{verb} the bracket holes of the {}", setup.mount_name(*mount))
            }
            Self::SetLocked { mount, locked } => {
                let verb = if *locked { "lock" } else { "unlock" };
                format!("{verb} the {}", setup.mount_name(*mount))
            }
            Self::SetMirrored { bar, mirrored } => {
                let verb = if *mirrored { "mirror" } else { "unlink" };
                format!("{verb} the {}", bar_name(*bar))
            }
            Self::SetLength { part, length } => match length {
                Length::CutToSuit => format!("cut the {} to suit", part.name(setup)),
                Length::AsBuilt(bar) => match setup.length(*part) {
                    Some(Length::AsBuilt(was))
                        if AsBuilt {
                            turns: bar.turns,
                            ..was
                        } == *bar =>
                    {
                        format!("turn the adjuster of the {}", part.name(setup))
                    }
                    _ => format!("set the length of the {}", part.name(setup)),
                },
            },
            Self::TurnAll(_) => "square the axle".to_owned(),
            Self::Hang(layout) => format!("hang it as {}", layout.title().to_lowercase()),
            Self::AddBar(role) => format!("add {}", role.bar()),
            Self::Remove(part) => format!("remove the {}", part.name(setup)),
            Self::Duplicate(bar) => format!("duplicate the {}", bar_name(*bar)),
            Self::RenamePart { part, .. } => format!("rename the {}", plain(*part)),
            Self::SetTube { part, .. } => format!("change the tube of the {}", plain(*part)),
            Self::SetWall { part, .. } => format!("change the wall of the {}", plain(*part)),
            Self::SetRole { bar, role } => part_edits::role_step(setup, *bar, *role),
            Self::SetEnds { part, .. } => format!("change the ends of the {}", plain(*part)),
            Self::SetJoint { bar, end, .. } => {
                format!(
                    "change the joint of the {} on the {}",
                    bar_name(*bar),
                    end.carrier().name()
                )
            }
            Self::SetBalance(balance) => format!("change {}", in_balance(setup.balance, *balance)),
            Self::SetTravel(travel) => format!("change {}", in_travel(&setup.travel, travel)),
            Self::SetLimits(limits) => format!("change {}", in_limits(&setup.limits, limits)),
            Self::Measure(measure, _) => format!("measure {}", measure.name.to_lowercase()),
            Self::Describe(part, there) => {
                let verb = if *there { "say" } else { "leave out" };
                format!("{verb} \"{}\"", part.label().to_lowercase())
            }
            Self::SetTyre(size) => format!("fit {size} tyres"),
            Self::SetSprings(springs) => in_springs(setup.springs.as_ref(), springs),
            Self::SetKeepClear(things) => match things.len().cmp(&setup.keep_clear.len()) {
                std::cmp::Ordering::Less => "take out something to keep clear of".to_owned(),
                std::cmp::Ordering::Equal => "change what to keep clear of".to_owned(),
                std::cmp::Ordering::Greater => "add something to keep clear of".to_owned(),
            },
            Self::SetSteel(steel) => in_steel(&setup.steel, steel),
            Self::Rename(name) => format!("name it \"{}\"", name.trim()),
            Self::SetNote(_) => "change the note".to_owned(),
            Self::Take(remedy) => remedy.label().to_owned(),
        }
    }
}

fn moved<P>(setup: &Setup, moves: &[(Mount, P)]) -> String {
    match moves {
        [(mount, _)] => format!("move {}", setup.mount_name(*mount)),
        _ => format!("move {} mounts", moves.len()),
    }
}

/// The one thing that differs, or what to call them together.
fn the_one<'a>(differing: &[(bool, &'a str)], together: &'a str) -> &'a str {
    let mut names = differing.iter().filter(|(differs, _)| *differs).map(|(_, name)| *name);
    match (names.next(), names.next()) {
        (Some(name), None) => name,
        _ => together,
    }
}

fn in_travel(before: &Travel, after: &Travel) -> &'static str {
    let differing = [
        (before.laid_out_m != after.laid_out_m, "the laid-out height"),
        (before.ride_m != after.ride_m, "the ride height"),
        (before.full_lift_m != after.full_lift_m, "the full lift"),
        (
            before.one_wheel_up_rad != after.one_wheel_up_rad,
            "how far one wheel goes up",
        ),
        (before.front != after.front, "what the front does"),
    ];
    the_one(&differing, "the heights")
}

fn in_limits(before: &Limits, after: &Limits) -> &'static str {
    let differing = [
        (before.shift_m != after.shift_m, "the limit of sideways shift"),
        (
            before.pinion_change_rad != after.pinion_change_rad,
            "the limit of pinion change",
        ),
        (before.bind_n != after.bind_n, "the limit of binding force"),
        (before.misfit_m != after.misfit_m, "the limit of misfit"),
        (before.clearance_m != after.clearance_m, "the room wanted"),
    ];
    the_one(&differing, "the limits")
}

fn in_balance(before: Option<Balance>, after: Option<Balance>) -> &'static str {
    let (Some(before), Some(after)) = (before, after) else {
        return "where the weight is";
    };
    let differing = [
        (before.wheelbase_m != after.wheelbase_m, "the wheelbase"),
        (
            before.cg_height_m != after.cg_height_m,
            "the height of the centre of gravity",
        ),
        (
            before.rear_braking != after.rear_braking,
            "the rear wheels' part of the braking",
        ),
    ];
    the_one(&differing, "where the weight is")
}

fn in_steel(before: &Steel, after: &Steel) -> String {
    let differing = [
        (before.plate_m != after.plate_m, "the plate"),
        (before.bolt_m != after.bolt_m, "the bolts"),
        (before.hole_over_m != after.hole_over_m, "the room in the bolts' holes"),
        (before.edge_in_bolts != after.edge_in_bolts, "the edge around the holes"),
        (before.gap_m != after.gap_m, "the gap between the plates"),
        (before.gussets != after.gussets, "the gussets"),
        (before.bush_eye_m != after.bush_eye_m, "the eyes of the bushes"),
    ];
    let rod_end = in_rod_end(&before.rod_end, &after.rod_end);
    let are_plain_as_before = differing.iter().all(|(differs, _)| !differs);
    let differing: Vec<_> = differing.into_iter().chain(rod_end).collect();
    match the_one(&differing, "") {
        "the gussets" if after.gussets => "put in the gussets".to_owned(),
        "the gussets" => "leave out the gussets".to_owned(),
        "" if after.is_usual() => "build with the usual steel".to_owned(),
        "" if are_plain_as_before => "change the rod ends".to_owned(),
        "" => "change what it is built with".to_owned(),
        one => format!("change {one}"),
    }
}

fn in_rod_end(before: &RodEnd, after: &RodEnd) -> [(bool, &'static str); 6] {
    [
        (before.eye_to_end_m != after.eye_to_end_m, "the length of the rod ends"),
        (before.thread_m != after.thread_m, "the thread of the rod ends"),
        (before.jam_nut_m != after.jam_nut_m, "the jam nuts"),
        (
            before.insert_out_m != after.insert_out_m,
            "how far the inserts stand out",
        ),
        (
            before.insert_depth_m != after.insert_depth_m,
            "the depth of the inserts",
        ),
        (
            before.insert_shank_m != after.insert_shank_m,
            "the shank of the inserts",
        ),
    ]
}

fn in_springs(before: Option<&Springs>, after: &Springs) -> String {
    let Some(before) = before else {
        return "say what springs there are".to_owned();
    };
    if before.hole != after.hole {
        return format!("bolt the springs to hole {}", after.hole + 1);
    }
    let kind = |springs: &Springs| match &springs.kind {
        SpringKind::Coilover(_) => "coilovers",
        SpringKind::Air(_) => "air springs",
    };
    if kind(before) != kind(after) {
        return format!("change to {}", kind(after));
    }
    let differing = [
        (
            before.mount_in_frame != after.mount_in_frame,
            "the springs' upper mount",
        ),
        (
            before.holes_in_axle != after.holes_in_axle,
            "the springs' holes on the axle",
        ),
        (before.corner_kg != after.corner_kg, "the weight on a spring"),
    ];
    format!("change {}", the_one(&differing, "the springs"))
}
