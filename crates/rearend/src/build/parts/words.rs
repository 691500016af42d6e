//! What to buy, in a table.

use super::{Bolt, KERF_M, Series, Shopping, usual_ball_m, usual_spacer_m};
use crate::brackets::{PIVOT_WASHER_M, crank_spacer_m};
use crate::build::cut::CutList;
use crate::build::mounts::Place;
use crate::build::words::{counted, tube};
use crate::build::{Job, Section, Table};
use crate::setup::{SpringKind, Springs};
use crate::tape::{Dimension, Units};

pub(in crate::build) fn section(job: &Job, list: &CutList, places: &[Place], plate_count: usize) -> Section {
    let shopping = Shopping::of(job.setup, list, places);
    let mut table = Table::with(&["Part", "Size", ">Amount", "Remarks"]);
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
        let length = usual_spacer_m(steel).map_or_else(
            || ", length to suit the ball".to_owned(),
            |spacer_m| format!(", {} long", units.size(spacer_m)),
        );
        rows.push(row(
            "Spacer for a rod end",
            &format!("bore {bolt}{length}"),
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

/// What a bolt is ordered by. One that is no size of the sheet's own units in its own as well.
fn size(units: Units, bolt: &Bolt) -> String {
    let (own, foreign) = match (bolt.series, units) {
        (Series::Inch, Units::Millimetres) => (Units::Sixteenths, true),
        (Series::Metric, Units::Sixteenths | Units::DecimalInches) => (Units::Millimetres, true),
        _ => (units, false),
    };
    let told = |units: Units| format!("{} × {}", units.named_size(bolt.bolt_m), units.size(bolt.length_m));
    if foreign {
        format!("{}, sold as {}", told(units), told(own))
    } else {
        told(units)
    }
}

/// What it clamps, and what of it is plain.
fn remarks(units: Units, bolt: &Bolt) -> String {
    format!(
        "grip {}; {} of plain shank; 1 washer under the head, {} under the nut",
        units.size(bolt.grip_m),
        units.size(bolt.plain_m),
        bolt.washers_at_nut
    )
}

fn bolts(job: &Job, shopping: &Shopping) -> Option<Vec<String>> {
    let bolt = Bolt::through(&job.setup.steel, job.units);
    (shopping.bolts > 0).then(|| {
        row(
            "Bolt, washers and lock nut",
            &size(job.units, &bolt),
            &shopping.bolts.to_string(),
            &remarks(job.units, &bolt),
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
    let bolt = Bolt::of_pivot(steel, units);
    vec![
        row(
            "Bolt of the Watt's pivot, washers and lock nut",
            &size(units, &bolt),
            &shopping.pivot_bolts.to_string(),
            &remarks(units, &bolt),
        ),
        row(
            "Spacer tube of the Watt's pivot",
            &format!("bore {bore}, {} long", units.size(steel.gap_m)),
            &shopping.pivot_bolts.to_string(),
            "between the crank's plates, which turn with it on the bolt",
        ),
        row(
            "Spacer beside the Watt's crank",
            &format!("bore {bore}, {} long", units.size(crank_spacer_m(steel))),
            &shopping.pivot_bolts.to_string(),
            "on its bolt at the near side plate: part of the grip",
        ),
        row(
            "Washer beside the Watt's crank",
            &format!("bore {bore}, {} thick", units.size(PIVOT_WASHER_M)),
            &(2 * shopping.pivot_bolts).to_string(),
            "one on either side of it: part of the grip",
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
    let mut notes = bolt_notes(job, shopping);
    notes.extend(spacer_note(job, shopping));
    let springs = job.setup.springs.as_ref();
    if springs.is_some_and(|springs| matches!(springs.kind, SpringKind::Coilover(_))) {
        notes.push(format!(
            "The brackets of the coilovers are drawn for the same bolt and the same {} between their plates: get sleeves and spacers that make the eyes of yours fit.",
            units.size(steel.gap_m)
        ));
    }
    notes
}

/// How the bolts are reckoned, and what to do where there are none like it.
fn bolt_notes(job: &Job, shopping: &Shopping) -> Vec<String> {
    if shopping.bolts + shopping.pivot_bolts == 0 {
        return Vec::new();
    }
    let (units, bolt) = (job.units, Bolt::through(&job.setup.steel, job.units));
    let (step, standard) = match bolt.series {
        Series::Inch => ("half inch", "ASME B18.2.1"),
        Series::Metric => ("10 mm", "ISO 4014"),
    };
    vec![
        format!(
            "Bolts: grip is both plates and what is clamped between them, without the washers. The length takes in a washer under the head and one under the nut, each a fifth of the bolt's diameter, a lock nut of one and a quarter diameters and a thread that shows, rounded up to the next {step}. More washers under a nut keep it off the end of its thread. Measure the joint with its spacers before buying."
        ),
        format!(
            "The plain shank goes at least half way through the plate at the nut, with the thread that {standard} gives a hex bolt: {} on this one. Of bolts with more thread take the next longer one whose plain shank goes at least through that plate; add washers under the nut and shorten the end. Coarse or fine thread, the nut to match.",
            units.size(bolt.thread_m())
        ),
    ]
}

/// How long the spacers of rod ends are.
fn spacer_note(job: &Job, shopping: &Shopping) -> Option<String> {
    let (steel, units) = (&job.setup.steel, job.units);
    let usual = usual_ball_m(steel.bolt_m).map_or_else(String::new, |ball_m| {
        let too_wide = if ball_m < steel.gap_m {
            ""
        } else {
            ", too wide to go between these plates"
        };
        format!(
            " That of a rod end for this bolt is usually {} wide{too_wide}.",
            units.size(ball_m)
        )
    });
    (shopping.spacers() > 0).then(|| {
        let gap = units.size(steel.gap_m);
        format!("Spacers: half of what the ball leaves of {gap} each; measure yours.{usual}")
    })
}
