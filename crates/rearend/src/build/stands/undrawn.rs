//! How the bolts lie whose brackets are not drawn: whoever makes those up wants their angles all the more.

use nalgebra::Vector3;

use super::{Lies, Standing};
use crate::brackets::crank_gap_m;
use crate::mechanism::{Part, RearEnd};
use crate::setup::{ArmId, BarEnd, BarId, Mount, Setup, Side};

/// Angles as near as this are alike, rad.
const ALIKE_RAD: f64 = 1e-3;

/// A mount of a bar, an arm or a Watt's linkage, with its bolt's direction in its carrier's coordinates.
struct Bolted {
    mount: Mount,
    /// What it is called where both sides are alike, and the mount on the other side; none where it has no twin.
    pair: Option<(String, Mount)>,
    bolt: Vector3<f64>,
}

/// Those whose mounts are not among the drawn ones.
pub(super) fn undrawn(setup: &Setup, rear_end: &RearEnd, drawn: &[Mount]) -> Vec<Standing> {
    let mut bolted = bars(setup, rear_end);
    bolted.extend(arms(setup, rear_end));
    bolted.extend(watt(setup, rear_end));
    let missing: Vec<_> = bolted.into_iter().filter(|one| !drawn.contains(&one.mount)).collect();
    let mut standing: Vec<Standing> = Vec::new();
    let mut told: Vec<Mount> = Vec::new();
    for one in &missing {
        if told.contains(&one.mount) {
            continue;
        }
        let twin = one.pair.as_ref().and_then(|(name, mount)| {
            let other = missing.iter().find(|other| other.mount == *mount)?;
            is_mirror(one, other).then_some((name, *mount))
        });
        told.extend(twin.map(|(_, mount)| mount));
        standing.extend(of(setup, one, twin.map(|(name, _)| name.as_str())));
    }
    standing
}

fn is_mirror(one: &Bolted, other: &Bolted) -> bool {
    let mirrored = Vector3::new(other.bolt.x, -other.bolt.y, other.bolt.z);
    one.bolt.cross(&mirrored).norm() < ALIKE_RAD
}

fn of(setup: &Setup, one: &Bolted, pair: Option<&str>) -> Option<Standing> {
    let mount = setup.mount(one.mount)?;
    let bolt = one.bolt.try_normalize(1e-9)?;
    let outward = if pair.is_some() && mount.point.y < 0.0 {
        -1.0
    } else {
        1.0
    };
    Some(Standing {
        name: pair.map_or_else(|| setup.mount_name(one.mount), str::to_owned),
        carrier: mount.carrier,
        at: mount.point,
        both_sides: pair.is_some(),
        lies: Lies::of(bolt, outward),
        clear_m: if one.mount == Mount::WattPivot {
            crank_gap_m(&setup.steel)
        } else {
            setup.steel.gap_m
        },
        foot: None,
    })
}

fn bars(setup: &Setup, rear_end: &RearEnd) -> Vec<Bolted> {
    let mut all = Vec::new();
    for (i, bar) in setup.bars.iter().enumerate() {
        let id = BarId(i);
        for (which, end) in [BarEnd::Frame, BarEnd::Axle].into_iter().enumerate() {
            if bar.joined && end == BarEnd::Axle {
                // Between two bars: it is nobody's own.
                continue;
            }
            let mount = |side| Mount::Bar { bar: id, end, side };
            let name = format!("{}, on the {}", bar.name, end.carrier().name());
            all.extend(sides(bar.mirrored).filter_map(|[side, other]| {
                let link = rear_end.link(Part::Bar(id, side))?;
                Some(Bolted {
                    mount: mount(side),
                    pair: bar.mirrored.then(|| (name.clone(), mount(other))),
                    bolt: rear_end.bolts.get(link.0)?[which].direction,
                })
            }));
        }
    }
    all
}

/// Each side with the other one.
fn sides(mirrored: bool) -> impl Iterator<Item = [Side; 2]> {
    let both = [[Side::Drawn, Side::Mirrored], [Side::Mirrored, Side::Drawn]];
    both.into_iter().take(if mirrored { 2 } else { 1 })
}

/// The eyes of arms on the frame.
fn arms(setup: &Setup, rear_end: &RearEnd) -> Vec<Bolted> {
    let mut all = Vec::new();
    for (i, arm) in setup.arms.iter().enumerate() {
        let (id, end) = (ArmId(i), BarEnd::Frame);
        let mount = |side| Mount::Arm { arm: id, end, side };
        let name = format!("{}, on the {}", arm.name, end.carrier().name());
        all.extend(sides(arm.mirrored).filter_map(|[side, other]| {
            let eye = rear_end.eyes.iter().position(|part| *part == Part::Arm(id, side))?;
            let joint = rear_end.mechanism.joints().get(eye)?;
            Some(Bolted {
                mount: mount(side),
                pair: arm.mirrored.then(|| (name.clone(), mount(other))),
                bolt: joint.directions.column(0).into_owned(),
            })
        }));
    }
    all
}

fn watt(setup: &Setup, rear_end: &RearEnd) -> Vec<Bolted> {
    let Some(watt) = &setup.watt else { return Vec::new() };
    let one = |mount, bolt| Bolted {
        mount,
        pair: None,
        bolt,
    };
    let link = |part, mount| {
        let link = rear_end.link(part)?;
        Some(one(mount, rear_end.bolts.get(link.0)?[0].direction))
    };
    let links = [(Part::WattLeft, Mount::WattLeft), (Part::WattRight, Mount::WattRight)];
    std::iter::once(one(Mount::WattPivot, watt.pivot_axis()))
        .chain(links.into_iter().filter_map(|(part, mount)| link(part, mount)))
        .collect()
}
