//! The cut list in words.

use super::{Cut, CutFault, CutList, End};
use crate::build::words::{NOTHING, both, counted, left_hand, tube};
use crate::build::{Job, Section, Table};
use crate::setup::{JointKind, Steel};
use crate::tape::{Dimension, Units, degrees};

/// An eye that stands off square by less is welded up square.
const SQUARE_RAD: f64 = 0.5 * std::f64::consts::PI / 180.0;

/// `has_crank` where a Watt's crank is cut from its template.
pub(in crate::build) fn section(job: &Job, list: &CutList, has_crank: bool) -> Section {
    Section {
        title: "Cut list".to_owned(),
        text: text(job, list),
        table: Some(table(job, list, has_crank)),
        notes: notes(job, list, has_crank),
        steps: Vec::new(),
    }
}

fn text(job: &Job, list: &CutList) -> Vec<String> {
    let mut text = Vec::new();
    let fatal = job.fatal();
    if fatal > 0 {
        let findings = counted(fatal, "finding says", "findings say");
        text.push(format!(
            "Stop: {findings} that this won't work. Cut nothing before that is put right; see \"What to look at\"."
        ));
    }
    text.push(format!(
        "Eye to eye is from centre of bolt to centre of bolt at ride height. Tubes are sawn to the length under \"cut to\". Lengths are rounded one by one to the {}: where two do not add up by one of those, \"cut to\" is what the saw goes by, and the bar is set to \"eye to eye\" by its rod ends, or on its fixture before an eye is welded on.",
        mark(job.units)
    ));
    if list.bars.iter().any(|cut| cut.threaded().next().is_some()) {
        text.push(rod_ends(&job.setup.steel, job.units));
    }
    if list.bars.iter().any(Cut::is_turned) {
        text.push(left_hand(job.setup));
    }
    if list.bars.iter().any(|cut| cut.coped().next().is_some()) {
        text.push(format!(
            "An end with a bush is coped to its eye, a tube of {} outside that lies across: \"cut to\" is over the longest edges, the length to saw off square before the cope is cut into it.",
            job.units.size(job.setup.steel.bush_eye_m)
        ));
    }
    text.push(
        "Weights are of the sawn tubes alone, steel of 7850 kg/m³: rod ends, inserts, eyes and brackets come on top."
            .to_owned(),
    );
    text
}

/// What a length is rounded to.
fn mark(units: Units) -> &'static str {
    match units {
        Units::Sixteenths => "sixteenth",
        Units::DecimalInches => "hundredth of an inch",
        Units::Millimetres => "tenth of a millimetre",
    }
}

fn rod_ends(steel: &Steel, units: Units) -> String {
    let end = super::Threaded::half_in(steel);
    let rod_end = &steel.rod_end;
    format!(
        "Each rod end is screwed in {}, half of its thread where the insert is deep enough, and takes {} from the eye's centre to the cut end of the tube. The insert has {} of thread from the face of its shoulder, which stands {} out of the tube. Thread left is what stands free between jam nut and eye. It may come out until {} is left in, one diameter of its bolt: common practice.",
        units.length(end.engaged_m),
        units.length(end.to_tube_m),
        units.size(rod_end.insert_depth_m),
        units.size(rod_end.insert_out_m),
        units.named_size(steel.bolt_m)
    )
}

fn table(job: &Job, list: &CutList, has_crank: bool) -> Table {
    let mut table = Table::with(&[
        "Bar",
        ">Number",
        ">Eye to eye",
        ">Cut to",
        "Tube, outside × wall",
        "Ends, frame end first",
        ">Thread left",
        ">Longer by",
        ">Shorter by",
        ">Weight each",
    ]);
    table.rows.extend(list.bars.iter().map(|cut| bar(cut, job.units)));
    for made in &list.fabricated {
        let from = if has_crank && made.is_crank {
            "its template"
        } else {
            "fabricated"
        };
        let row = |(what, length_m): &(&str, f64)| {
            let mut row = vec![
                format!("{}, {what}", made.name),
                made.count.to_string(),
                job.units.length(*length_m),
                from.to_owned(),
            ];
            row.resize(table.columns.len(), NOTHING.to_owned());
            row
        };
        let rows: Vec<_> = made.lengths_m.iter().map(row).collect();
        table.rows.extend(rows);
    }
    table
}

fn bar(cut: &Cut, units: Units) -> Vec<String> {
    let has_tube = cut.centre_m() > 0.0;
    let adjusts = cut.threaded().next().is_some();
    let if_adjusts = |length_m: f64| {
        if adjusts {
            units.length(length_m)
        } else {
            NOTHING.to_owned()
        }
    };
    vec![
        cut.name.clone(),
        cut.count.to_string(),
        units.length(cut.eye_to_eye_m),
        if has_tube {
            units.length(cut.sawn_m())
        } else {
            "no tube".to_owned()
        },
        tube(units, cut.tube_m, cut.wall_m),
        ends(cut),
        thread_left(cut, units),
        if_adjusts(cut.longer_m()),
        if_adjusts(cut.shorter_m()),
        if has_tube {
            Dimension::Mass.words(units, cut.tube_kg())
        } else {
            NOTHING.to_owned()
        },
    ]
}

fn ends(cut: &Cut) -> String {
    let [frame, other] = cut.ends;
    let is_shared = matches!(other, End::Joined(_));
    if !is_shared && frame.kind() == other.kind() {
        return both(frame.kind()).to_owned();
    }
    let shared = if is_shared { ", shared" } else { "" };
    format!("{}; {}{shared}", frame.kind().name(), other.kind().name())
}

fn thread_left(cut: &Cut, units: Units) -> String {
    let mut left: Vec<_> = cut.threaded().map(|end| units.length(end.left_m)).collect();
    left.dedup();
    match left.as_slice() {
        [] => NOTHING.to_owned(),
        [one] if cut.threaded().count() == 2 => format!("{one} each"),
        all => all.join("; "),
    }
}

fn notes(job: &Job, list: &CutList, has_crank: bool) -> Vec<String> {
    let mut notes = Vec::new();
    for cut in &list.bars {
        let faults = cut.faults(&job.setup.steel);
        notes.extend(faults.iter().map(|fault| fault_words(job, cut, *fault)));
        notes.extend(coped(cut, job.units));
        notes.extend(kit(cut, job.units));
    }
    if list
        .bars
        .iter()
        .any(|cut| cut.ends.iter().any(|end| matches!(end, End::Joined(_))))
    {
        notes.push("The legs of the wishbone are reckoned to the centre of the joint that they share: cut each back to suit the piece that joins them there, which is fabricated.".to_owned());
    }
    let (crank, made): (Vec<_>, Vec<_>) = list.fabricated.iter().partition(|made| has_crank && made.is_crank);
    if !made.is_empty() {
        let names: Vec<_> = made.iter().map(|made| made.name.as_str()).collect();
        notes.push(format!(
            "Fabricated: {}. The lengths are between centres; plate, tube and welds are up to whoever builds them.",
            names.join(", ")
        ));
    }
    if !crank.is_empty() {
        notes.push(
            "The Watt's crank is two plates, cut from the template of its name: its lengths are between centres."
                .to_owned(),
        );
    }
    notes
}

fn fault_words(job: &Job, cut: &Cut, fault: CutFault) -> String {
    let (name, units) = (&cut.name, job.units);
    let steel = &job.setup.steel;
    match fault {
        CutFault::NoTube { ends_m } => format!(
            "Won't work: the {name} is too short for any tube: of its {} eye to eye its ends alone take {}. Take shorter ends, or move a mount.",
            units.length(cut.eye_to_eye_m),
            units.length(ends_m)
        ),
        CutFault::InsertsMeet => format!(
            "Won't work: the inserts of the {name} run into each other inside its {} of tube. Take shorter inserts, or move a mount.",
            units.length(cut.centre_m())
        ),
        CutFault::ShortThread { engaged_m } => format!(
            "Won't work: a rod end of the {name} has only {} of thread in; one diameter of its bolt, {}, is the least. Turn it back in, or take a rod end and an insert with more thread.",
            units.length(engaged_m.max(0.0)),
            units.named_size(steel.bolt_m)
        ),
        CutFault::TooDeep => format!(
            "Won't work: a rod end of the {name} would have to be screwed in farther than its thread or its insert goes. Turn it back out, or take a shorter tube."
        ),
        CutFault::WiderThanEye => format!(
            "Won't work: the tube of the {name} is {} and wider than the {} eye that it is to be coped to. Take a larger eye or a smaller tube.",
            units.length(cut.tube_m),
            units.size(steel.bush_eye_m)
        ),
        CutFault::EyeAlong => format!(
            "Won't work: the bolt through a bush of the {name} lies along the bar, and its eye cannot be welded across the tube. Turn the bolt."
        ),
    }
}

/// What to know to cope a bar.
fn coped(cut: &Cut, units: Units) -> Option<String> {
    let first = cut.coped().next()?;
    let off = cut.ends.iter().zip(["frame", "other"]).filter_map(|(end, which)| {
        let off_rad = end.coped()?.off_square_rad;
        (off_rad > SQUARE_RAD)
            .then(|| format!(" The eye at its {which} end stands {} off square.", degrees(off_rad, 1)))
    });
    let deepest_m = cut.coped().map(super::Coped::depth_m).fold(0.0, f64::max);
    Some(format!(
        "The {}, coped to eyes of {} outside: sawn to {} over its longest edges, {} along its centre line when coped {} deep.{}",
        cut.name,
        units.size(first.eye_m),
        units.length(cut.sawn_m().max(0.0)),
        units.length(cut.centre_m().max(0.0)),
        units.length(deepest_m),
        off.collect::<String>()
    ))
}

/// A bar that exists is not cut.
fn kit(cut: &Cut, units: Units) -> Option<String> {
    let built = cut.built?;
    let turned = if built.turns == 0.0 {
        "and not turned since".to_owned()
    } else {
        let way = if built.turns > 0.0 { "longer" } else { "shorter" };
        format!("and turned {} {way} since", turns(built.turns.abs()))
    };
    let reckoned = if cut.ends.iter().any(|end| end.kind() == JointKind::RodEnd) {
        " Its thread is reckoned from half in as delivered: count what yours has."
    } else {
        ""
    };
    Some(format!(
        "The {} is as built, delivered at {} {turned}: \"cut to\" says what its tube ought to measure.{reckoned}",
        cut.name,
        units.length(built.length_m)
    ))
}

fn turns(turns: f64) -> String {
    let text = format!("{turns:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{text} {}", if text == "1" { "turn" } else { "turns" })
}
