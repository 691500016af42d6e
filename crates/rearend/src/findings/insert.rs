//! What there is to say about inserts that do not fit their tubes.

use super::{Finding, Grade, Kind};
use crate::insert::{FITS_M, Insert, Misfit, misfits};
use crate::mechanism::Part;
use crate::setup::Setup;
use crate::tape::Units;

/// One for every bar whose tube does not take its inserts.
pub(super) fn of(setup: &Setup) -> Vec<Finding> {
    let finding = |insert: Insert| Finding::new(Grade::Check, Kind::Insert(insert)).about(Some(insert.part));
    misfits(setup).into_iter().map(finding).collect()
}

pub(super) fn sentence(setup: &Setup, units: Units, insert: &Insert) -> String {
    let size = |m: f64| size(units, m);
    let bore = if insert.bore_m > 0.0 {
        format!("the tube's bore is {}", size(insert.bore_m))
    } else {
        "the tube has no bore".to_owned()
    };
    let tube = tube_name(setup, insert);
    let other = |inside_m: f64| {
        let outside = size(inside_m + 2.0 * insert.wall_m);
        format!("Choose a tube of {outside} outside with the same wall")
    };
    match insert.misfit {
        Misfit::TooNarrow { least_m } => format!(
            "No insert for a {} thread fits {tube}: it takes {} to slide into, and {bore}. {}, a thinner wall, or a smaller rod end.",
            size(setup.steel.bolt_m),
            size(least_m),
            other(least_m),
        ),
        Misfit::Tight { shank_m } => format!(
            "The insert does not fit {tube}: its shank is {}, and {bore}. {}, or an insert for this bore.",
            size(shank_m),
            other(shank_m),
        ),
        Misfit::Loose { shank_m } => format!(
            "The insert is loose in {tube}: its shank is {}, and {bore}. {}, or an insert for this bore.",
            size(shank_m),
            other(shank_m),
        ),
    }
}

/// As a tape has it where that is as good as what it is, else finer: a tube that is rounded to the sixteenth is another tube.
fn size(units: Units, size_m: f64) -> String {
    let taped = units.length(size_m);
    match units.read(&taped) {
        Ok(read_m) if (read_m - size_m).abs() < FITS_M => taped,
        _ => units.movement(size_m),
    }
}

/// The tube, with the end that has the insert where the other has none.
fn tube_name(setup: &Setup, insert: &Insert) -> String {
    let part = match insert.part {
        Part::WattLeft | Part::WattRight => "Watt's links",
        part => part.plain_name(setup),
    };
    match insert.ends {
        [true, false] => format!("the frame end of the {part}'s tube"),
        [false, true] => format!("the axle end of the {part}'s tube"),
        _ => format!("the tube of the {part}"),
    }
}
