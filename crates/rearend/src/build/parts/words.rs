//! What to buy, in a table.

use super::{KERF_M, Shopping, bolt_length_m, bolt_needed_m};
use crate::build::cut::CutList;
use crate::build::mounts::Place;
use crate::build::words::{NOTHING, counted, size, tube};
use crate::build::{Job, Section, Table};
use crate::setup::{SpringKind, Springs};
use crate::tape::{Dimension, Units};

pub(in crate::build) fn section(job: &Job, list: &CutList, places: &[Place], plate_count: usize) -> Section {
    let shopping = Shopping::of(job.setup, list, places);
    let mut table = Table::with(&["Part", "Size", ">Number or length", "Remarks"]);
    table.rows.extend(joints(job, &shopping));
    table.rows.extend(bolts(job, &shopping));
    table.rows.extend(shopping.tubes.iter().map(|order| {
        row(
            "Tube",
            &tube(job.units, order.tube_m, order.wall_m),
            &job.units.length(rounded_up_m(job.units, order.length_m)),
            &counted(order.pieces, "piece", "pieces"),
        )
    }));
    table.rows.extend(plates(job, plate_count));
    table
        .rows
        .extend(job.setup.springs.iter().map(|springs| spring(job.units, springs)));
    Section {
        title: "Parts to buy".to_owned(),
        text: vec![format!(
            "Tube is the sum of the sawn lengths with {} for each cut; take what the next stock length gives.",
            size(job.units, KERF_M)
        )],
        table: Some(table),
        notes: notes(job, &shopping),
        steps: Vec::new(),
    }
}

fn row(part: &str, size: &str, number: &str, remarks: &str) -> Vec<String> {
    [part, size, number, remarks].map(str::to_owned).to_vec()
}

fn joints(job: &Job, shopping: &Shopping) -> Vec<Vec<String>> {
    let steel = &job.setup.steel;
    let bolt = size(job.units, steel.bolt_m);
    let (eye, thread) = (
        format!("eye {} outside", size(job.units, steel.bush_eye_m)),
        format!("{bolt} thread"),
    );
    let hands = [("right-hand", shopping.right_hand), ("left-hand", shopping.left_hand)];
    let insert = insert_remark(job, shopping);
    let threaded = [
        ("Rod end", &bolt, "for the bolt's size"),
        ("Threaded insert", &thread, insert.as_str()),
        ("Jam nut", &thread, NOTHING),
    ];
    let bushes = [
        ("Rubber bush with its eye", shopping.rubber),
        ("Polyurethane bush with its eye", shopping.polyurethane),
    ];
    let mut rows = Vec::new();
    for (part, size, remarks) in threaded {
        for (hand, count) in hands.into_iter().filter(|(_, count)| *count > 0) {
            rows.push(row(&format!("{part}, {hand}"), size, &count.to_string(), remarks));
        }
    }
    for (part, count) in bushes.into_iter().filter(|(_, count)| *count > 0) {
        rows.push(row(part, &eye, &count.to_string(), "with a sleeve for the bolt"));
    }
    rows
}

/// What an insert has to be outside: as it is described, else as thick as the bores of the tubes are wide.
fn insert_remark(job: &Job, shopping: &Shopping) -> String {
    let units = job.units;
    if let Some(shank_m) = job.setup.steel.rod_end.insert_shank_m {
        return format!("shank of {} outside", size(units, shank_m));
    }
    let mut bores: Vec<_> = shopping.bores_m.iter().map(|bore_m| units.length(*bore_m)).collect();
    bores.dedup();
    match bores.as_slice() {
        [] => "to fit inside its tube".to_owned(),
        [one] => format!("to fit a bore of {one}"),
        [first @ .., last] => format!("to fit its tube's bore: {} or {last}", first.join(", ")),
    }
}

fn bolts(job: &Job, shopping: &Shopping) -> Option<Vec<String>> {
    let (steel, units) = (&job.setup.steel, job.units);
    let length = units.length(bolt_length_m(steel, units));
    (shopping.bolts > 0).then(|| {
        row(
            "Bolt, washers and lock nut",
            &format!("{} × {length}", size(units, steel.bolt_m)),
            &shopping.bolts.to_string(),
            "plain shank through both plates",
        )
    })
}

fn plates(job: &Job, count: usize) -> Option<Vec<String>> {
    let plate = size(job.units, job.setup.steel.plate_m);
    (count > 0).then(|| {
        row(
            "Plates of brackets",
            &format!("plate of {plate}"),
            &count.to_string(),
            "cut from the templates, see Brackets",
        )
    })
}

/// The next step of the tape: what is too short cannot be sawn.
fn rounded_up_m(units: Units, length_m: f64) -> f64 {
    let step_m = units.step_m();
    (length_m / step_m - 1e-6).ceil() * step_m
}

fn spring(units: Units, springs: &Springs) -> Vec<String> {
    let length = |m: f64| units.length(m);
    match &springs.kind {
        SpringKind::Coilover(coil) => row(
            "Coilover",
            &format!(
                "{} collapsed, {} extended",
                length(coil.collapsed_m),
                length(coil.extended_m)
            ),
            "2",
            &format!(
                "spring of {}, {} free",
                Dimension::Rate.words(units, coil.rate_n_per_m),
                length(coil.free_length_m)
            ),
        ),
        SpringKind::Air(air) => row(
            "Air spring",
            &format!(
                "{} across, {} to {} high",
                length(air.bag_m),
                length(air.shortest_m),
                length(air.longest_m)
            ),
            "2",
            &format!("no more than {}", Dimension::Pressure.words(units, air.most_pa)),
        ),
    }
}

fn notes(job: &Job, shopping: &Shopping) -> Vec<String> {
    let (steel, units) = (&job.setup.steel, job.units);
    let mut notes = vec![format!(
        "Bolts: {} between the plates, two plates, a washer of a fifth and a lock nut of one diameter of the bolt make {}; rounded up to the next {}. Measure the joint with its spacers before buying.",
        size(units, steel.gap_m),
        units.movement(bolt_needed_m(steel)),
        if units == Units::Millimetres {
            "10 mm"
        } else {
            "half inch"
        }
    )];
    if job.setup.watt.is_some() {
        notes.push("The bolt of a Watt's pivot runs through the crank and its spacers: measure them, it is longer than the others.".to_owned());
    }
    if shopping.left_hand > 0 {
        notes.push(
            "A bar with a left-hand and a right-hand rod end is made longer or shorter by turning it, bolted in."
                .to_owned(),
        );
    }
    if job.setup.watt.is_some() {
        notes.push("The Watt's crank takes a bush in its pivot, to suit the bolt.".to_owned());
    }
    notes
}
