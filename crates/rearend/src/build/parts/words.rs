//! What to buy, in a table.

use super::{KERF_M, Shopping, bolt_needed_m, pivot_bolt_needed_m, sold_length_m};
use crate::brackets::PIVOT_WASHER_M;
use crate::build::cut::CutList;
use crate::build::mounts::Place;
use crate::build::words::{counted, left_hand, tube};
use crate::build::{Job, Section, Table};
use crate::setup::{SpringKind, Springs, Steel};
use crate::tape::{Dimension, Units};

pub(in crate::build) fn section(job: &Job, list: &CutList, places: &[Place], plate_count: usize) -> Section {
    let shopping = Shopping::of(job.setup, list, places);
    let mut table = Table::with(&["Part", "Size", ">Number or length", "Remarks"]);
    table.rows.extend(joints(job, &shopping));
    table.rows.extend(bolts(job, &shopping));
    table.rows.extend(pivot(job, &shopping));
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
            job.units.length(KERF_M)
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
    let (steel, units) = (&job.setup.steel, job.units);
    let bolt = units.named_size(steel.bolt_m);
    let (eye, thread) = (
        format!("eye {} outside", units.size(steel.bush_eye_m)),
        format!("{bolt} thread"),
    );
    let end = &steel.rod_end;
    let length = |m: f64| units.size(m);
    let shank = format!(
        "{} from eye to end, {} of thread",
        length(end.eye_to_end_m),
        length(end.thread_m)
    );
    let nut = format!("{} thick", length(end.jam_nut_m));
    let hands = [("right-hand", shopping.right_hand), ("left-hand", shopping.left_hand)];
    let insert = format!(
        "{}, thread {} deep",
        insert_remark(job, shopping),
        length(end.insert_depth_m)
    );
    let threaded = [
        ("Rod end", &bolt, &shank),
        ("Threaded insert", &thread, &insert),
        ("Jam nut", &thread, &nut),
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
    let gap = units.size(steel.gap_m);
    if shopping.spacers() > 0 {
        rows.push(row(
            "Spacer for a rod end",
            &format!("bore {bolt}"),
            &shopping.spacers().to_string(),
            &format!("one on either side: with the ball both fill {gap} between the plates"),
        ));
    }
    for (part, count) in bushes.into_iter().filter(|(_, count)| *count > 0) {
        let sleeve = format!("with a sleeve for the bolt, {gap} long");
        rows.push(row(part, &eye, &count.to_string(), &sleeve));
    }
    rows
}

/// What an insert has to be outside: as it is described, else as thick as the bores of the tubes are wide.
fn insert_remark(job: &Job, shopping: &Shopping) -> String {
    let units = job.units;
    if let Some(shank_m) = job.setup.steel.rod_end.insert_shank_m {
        return format!("shank of {} outside", units.size(shank_m));
    }
    let mut bores: Vec<_> = shopping.bores_m.iter().map(|bore_m| units.size(*bore_m)).collect();
    bores.dedup();
    match bores.as_slice() {
        [] => "to fit inside its tube".to_owned(),
        [one] => format!("to fit a bore of {one}"),
        [first @ .., last] => format!("to fit its tube's bore: {} or {last}", first.join(", ")),
    }
}

fn bolt(units: Units, steel: &Steel, needed_m: f64) -> String {
    let length = units.length(sold_length_m(needed_m, units));
    format!("{} × {length}", units.named_size(steel.bolt_m))
}

fn bolts(job: &Job, shopping: &Shopping) -> Option<Vec<String>> {
    let (steel, units) = (&job.setup.steel, job.units);
    (shopping.bolts > 0).then(|| {
        row(
            "Bolt, washers and lock nut",
            &bolt(units, steel, bolt_needed_m(steel)),
            &shopping.bolts.to_string(),
            "plain shank through both plates",
        )
    })
}

/// What the pivot of a Watt's crank takes.
fn pivot(job: &Job, shopping: &Shopping) -> Vec<Vec<String>> {
    let (steel, units) = (&job.setup.steel, job.units);
    if shopping.pivot_bolts == 0 {
        return Vec::new();
    }
    let bore = units.named_size(steel.bolt_m);
    vec![
        row(
            "Bolt of the Watt's pivot, washers and lock nut",
            &bolt(units, steel, pivot_bolt_needed_m(steel)),
            &shopping.pivot_bolts.to_string(),
            "plain shank through bracket and crank",
        ),
        row(
            "Spacer tube of the Watt's pivot",
            &format!("bore {bore} × {}", units.size(steel.gap_m)),
            &shopping.pivot_bolts.to_string(),
            "between the crank's plates, which turn with it on the bolt",
        ),
        row(
            "Washer beside the Watt's crank",
            &format!("bore {bore}, {} thick", units.size(PIVOT_WASHER_M)),
            &(2 * shopping.pivot_bolts).to_string(),
            "one on either side, in its bracket",
        ),
    ]
}

fn plates(job: &Job, count: usize) -> Option<Vec<String>> {
    let plate = job.units.size(job.setup.steel.plate_m);
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
        units.size(steel.gap_m),
        needed(units, bolt_needed_m(steel)),
        if units == Units::Millimetres {
            "10 mm"
        } else {
            "half inch"
        }
    )];
    if shopping.left_hand > 0 {
        notes.push(format!(
            "A bar with a left-hand and a right-hand rod end is made longer or shorter by turning it, bolted in. {}",
            left_hand(job.setup)
        ));
    }
    let springs = job.setup.springs.as_ref();
    if springs.is_some_and(|springs| matches!(springs.kind, SpringKind::Coilover(_))) {
        notes.push(format!(
            "The brackets of the coilovers are drawn for the same bolt and the same {} between their plates: get sleeves and spacers that make the eyes of yours fit.",
            units.size(steel.gap_m)
        ));
    }
    notes
}

/// A length that is needed: to the next sixty-fourth that is enough, or finer than a tape.
fn needed(units: Units, length_m: f64) -> String {
    let finest_m = units.unit_m() / 64.0;
    match units {
        Units::Sixteenths => units.size((length_m / finest_m - 1e-6).ceil() * finest_m),
        Units::DecimalInches | Units::Millimetres => units.movement(length_m),
    }
}
