//! Which bars there are, and what each ends in.

use nalgebra::Point3;

use super::Cut;
use super::end::{Coped, End, Threaded};
use crate::mechanism::{Part, RearEnd};
use crate::setup::{ArmId, ArmKind, AsBuilt, Bar, BarId, JointKind, Length, Setup, Side, Steel};

/// Two bars as near as this are made alike.
const ALIKE_M: f64 = 5e-5;

/// Something that is made up in the shop: a beam, a ladder, a crank. Only its lengths are given.
#[derive(Clone, Debug, PartialEq)]
pub struct Fabricated {
    /// What it is.
    pub name: String,
    /// True of a Watt's crank.
    pub is_crank: bool,
    /// How many are made alike.
    pub count: usize,
    /// From where to where, and how far that is.
    pub lengths_m: Vec<(&'static str, f64)>,
}

/// What is sawn, and what is made up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CutList {
    /// Bars.
    pub bars: Vec<Cut>,
    /// Arms and the Watt's crank.
    pub fabricated: Vec<Fabricated>,
}

/// The cut list of a setup that compiles; lengths at ride height.
#[must_use]
pub fn cut_list(setup: &Setup, rear_end: &RearEnd) -> CutList {
    let mut list = CutList::default();
    for (i, bar) in setup.bars.iter().enumerate() {
        let cuts = sides(bar.count()).filter_map(|side| bar_cut(setup, rear_end, Part::Bar(BarId(i), side), bar));
        list.bars.extend(alike(cuts.collect(), &bar.name));
    }
    for (i, arm) in setup.arms.iter().enumerate() {
        let lengths_m = arm_lengths_m(setup, rear_end, ArmId(i));
        list.fabricated.push(Fabricated {
            name: arm.name.clone(),
            is_crank: false,
            count: arm.count(),
            lengths_m,
        });
    }
    if let Some(watt) = &setup.watt {
        let links = [Part::WattLeft, Part::WattRight];
        let shape = Shape {
            tube_m: watt.tube_m,
            wall_m: watt.wall_m,
            is_joined: false,
        };
        list.bars
            .extend(links.into_iter().filter_map(|part| cut(setup, rear_end, part, shape)));
        let [left, right] = watt.joints();
        list.fabricated.push(Fabricated {
            name: "Watt's crank".to_owned(),
            is_crank: true,
            count: 1,
            lengths_m: vec![
                ("pivot to the left link's bolt", (left - watt.pivot).norm()),
                ("pivot to the right link's bolt", (right - watt.pivot).norm()),
            ],
        });
    }
    list
}

fn sides(count: usize) -> impl Iterator<Item = Side> {
    [Side::Drawn, Side::Mirrored].into_iter().take(count)
}

/// The two of a mirrored bar as one line, unless an axle that is drawn off straight makes them differ.
fn alike(mut cuts: Vec<Cut>, name: &str) -> Vec<Cut> {
    let [drawn, mirrored] = cuts.as_mut_slice() else {
        return cuts;
    };
    if (drawn.eye_to_eye_m - mirrored.eye_to_eye_m).abs() < ALIKE_M {
        drawn.count = 2;
        name.clone_into(&mut drawn.name);
        cuts.truncate(1);
    }
    cuts
}

/// What the tube of a bar is.
#[derive(Clone, Copy)]
struct Shape {
    tube_m: f64,
    wall_m: f64,
    is_joined: bool,
}

fn bar_cut(setup: &Setup, rear_end: &RearEnd, part: Part, bar: &Bar) -> Option<Cut> {
    let shape = Shape {
        tube_m: bar.tube_m,
        wall_m: bar.wall_m,
        is_joined: bar.joined,
    };
    cut(setup, rear_end, part, shape)
}

fn cut(setup: &Setup, rear_end: &RearEnd, part: Part, shape: Shape) -> Option<Cut> {
    let built = match setup.length(part) {
        Some(Length::AsBuilt(built)) => Some(built),
        _ => None,
    };
    let mut ends = ends(setup, rear_end, part, shape)?;
    if let Some(built) = &built {
        turn_out(&mut ends, &setup.steel, built);
    }
    Some(Cut {
        part,
        name: part.name(setup),
        count: 1,
        eye_to_eye_m: rear_end.length_m(part)?,
        tube_m: shape.tube_m,
        wall_m: shape.wall_m,
        ends,
        built,
    })
}

fn ends(setup: &Setup, rear_end: &RearEnd, part: Part, shape: Shape) -> Option<[End; 2]> {
    let bolts = rear_end.bolts.get(rear_end.link(part)?.0)?;
    let [from, to] = rear_end.ends_in_frame(setup, part, &rear_end.ride)?;
    let along = (to - from).normalize();
    let turn = rear_end.ride.ground_from_platform();
    Some([0, 1].map(|i| {
        let kind = bolts[i].joint.kind;
        if shape.is_joined && i == 1 {
            return End::Joined(kind);
        }
        match kind {
            JointKind::RodEnd => End::Threaded(Threaded::half_in(&setup.steel)),
            JointKind::Rubber | JointKind::Polyurethane => {
                let off_square_rad = along.dot(&bolts[i].in_frame(&turn)).clamp(-1.0, 1.0).asin();
                End::Coped(Coped::of(kind, &setup.steel, shape.tube_m, off_square_rad))
            }
        }
    }))
}

/// A bar that exists was delivered with its rod ends half in, and has been turned since: both ends share it where both turn.
fn turn_out(ends: &mut [End; 2], steel: &Steel, built: &AsBuilt) {
    let by_m = built.turns * built.adjuster.per_turn_m();
    let share = match ends {
        [End::Threaded(_), End::Threaded(_)] if built.adjuster.both_ends => 0.5,
        _ => 1.0,
    };
    let most = if share < 1.0 { 2 } else { 1 };
    let turned = ends.iter_mut().filter_map(|end| match end {
        End::Threaded(end) => Some(end),
        _ => None,
    });
    for end in turned.take(most) {
        *end = end.turned_out(steel, share * by_m);
    }
}

/// From an arm's eye to where it meets the axle; both tubes of a ladder bar.
fn arm_lengths_m(setup: &Setup, rear_end: &RearEnd, id: ArmId) -> Vec<(&'static str, f64)> {
    let part = Part::Arm(id, Side::Drawn);
    let Some(arm) = setup.arm(id) else { return Vec::new() };
    let Some([eye, _]) = rear_end.ends_in_frame(setup, part, &rear_end.ride) else {
        return Vec::new();
    };
    let far_m = |mount: Point3<f64>| (rear_end.ride.to_ground(mount) - eye).norm();
    match arm.kind {
        ArmKind::TruckArm => vec![("eye to where it meets the axle", far_m(arm.mount_in_axle))],
        ArmKind::LadderBar => {
            let [upper, lower] = arm.axle_mounts();
            vec![
                ("eye to its upper bolt on the axle", far_m(upper)),
                ("eye to its lower bolt on the axle", far_m(lower)),
            ]
        }
    }
}
