//! What there is to say about tubes that fill the room between the plates of their own brackets.

use super::{Finding, Grade, Kind};
use crate::mechanism::Part;
use crate::setup::{Bar, BarEnd, BarId, JointKind, Setup, Side};
use crate::tape::Units;

/// Least room beside a coped tube: its weld stands proud, and the bar leans in its bush. Common practice, m.
const BESIDE_M: f64 = 1.5e-3;

/// What a size loses by being written down in tenths of a millimetre, m.
const WRITTEN_M: f64 = 1e-4;

/// One for every bar on bushes whose tube is too wide: it begins at its eye, which the round ends of the plates reach past.
pub(super) fn of(setup: &Setup) -> Vec<Finding> {
    let steel = &setup.steel;
    if steel.edge_m() <= steel.bush_eye_m / 2.0 {
        return Vec::new();
    }
    let bars = setup.bars.iter().enumerate();
    let wide = bars.filter(|(_, bar)| is_coped(bar) && bar.tube_m > most_m(setup) + WRITTEN_M);
    wide.map(|(i, _)| {
        let part = Part::Bar(BarId(i), Side::Drawn);
        Finding::new(Grade::Check, Kind::Wide(part)).about(Some(part))
    })
    .collect()
}

/// The legs of a wishbone meet in a piece of their own.
fn is_coped(bar: &Bar) -> bool {
    let on_bush = |end| bar.joint(end).kind != JointKind::RodEnd;
    on_bush(BarEnd::Frame) || on_bush(BarEnd::Axle) && !bar.joined
}

fn most_m(setup: &Setup) -> f64 {
    setup.steel.gap_m - 2.0 * BESIDE_M
}

pub(super) fn sentence(setup: &Setup, units: Units, part: Part) -> String {
    let tube_m = match part {
        Part::Bar(id, _) => setup.bar(id).map_or(0.0, |bar| bar.tube_m),
        _ => 0.0,
    };
    let step_m = units.step_m();
    let most_m = ((most_m(setup) + WRITTEN_M) / step_m).floor() * step_m;
    format!(
        "The tube of the {} is {} wide and its brackets leave {} between their plates: it rubs on them beside its eyes. Choose a tube of {} at most, \
         or more room between the plates.",
        part.plain_name(setup),
        units.length(tube_m),
        units.length(setup.steel.gap_m),
        units.length(most_m)
    )
}
