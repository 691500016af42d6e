//! The brackets: which plates each mount takes, its bolt and its hole.

use super::mounts::{Holds, Place};
use super::words::{NOTHING, size};
use super::{Job, Section, Table};
use crate::setup::Steel;
use crate::tape::Units;

pub(super) fn section(job: &Job, places: &[Place]) -> Section {
    let mut table = Table::with(&["Bracket", ">Number", "Plates each", "Bolt", "Hole", "Holes"]);
    let listed = places.iter().filter(|place| place.holds != Holds::LadderLower);
    table.rows.extend(listed.map(|place| row(job, place)));
    let steel = &job.setup.steel;
    Section {
        title: "Brackets".to_owned(),
        text: vec![format!(
            "Plate of {}, no edge nearer to the centre of a hole than {}; the two plates of a bracket stand {} apart.",
            size(job.units, steel.plate_m),
            size(job.units, steel.edge_m()),
            size(job.units, steel.gap_m)
        )],
        table: Some(table),
        notes: vec![
            "Tack the two plates with the bolt, the joint and its spacers in place, so that they come out parallel and in line."
                .to_owned(),
        ],
        steps: Vec::new(),
    }
}

fn row(job: &Job, place: &Place) -> Vec<String> {
    let (steel, units) = (&job.setup.steel, job.units);
    let is_ours = !matches!(place.holds, Holds::TruckArm | Holds::Coilover | Holds::AirSpring);
    let to_suit = || NOTHING.to_owned();
    let name = place.name.strip_suffix(", upper bolt").unwrap_or(&place.name);
    vec![
        name.to_owned(),
        place.count().to_string(),
        plates(place.holds, steel, units),
        if is_ours { size(units, steel.bolt_m) } else { to_suit() },
        if is_ours {
            size(units, steel.hole_m())
        } else {
            to_suit()
        },
        holes(place),
    ]
}

fn plates(holds: Holds, steel: &Steel, units: Units) -> String {
    let plate = size(units, steel.plate_m);
    let gusset = if steel.gussets { ", one gusset" } else { "" };
    match holds {
        Holds::Eye => format!("two side plates of {plate}{gusset}"),
        Holds::LadderUpper | Holds::LadderLower => {
            format!("two side plates of {plate} with both holes{gusset}")
        }
        Holds::Pivot => format!("two side plates of {plate}, the crank between them{gusset}"),
        Holds::TruckArm => "welded or clamped under the tube, to suit the arm".to_owned(),
        Holds::Coilover => "two ears, to suit the coilover's eye".to_owned(),
        Holds::AirSpring => "a seat, to suit the air spring's plate".to_owned(),
    }
}

fn holes(place: &Place) -> String {
    match (place.holds, place.hole) {
        (_, Some(hole)) => format!("row of {}, number {} in use", hole.of, hole.number),
        (Holds::LadderUpper, None) => "2".to_owned(),
        (Holds::TruckArm | Holds::AirSpring, None) => NOTHING.to_owned(),
        (_, None) => "1".to_owned(),
    }
}
