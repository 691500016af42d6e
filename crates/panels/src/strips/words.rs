//! The strips in words.

use egui::Ui;
use rearend::tape::Units;
use rearend::travel::Row;
use shop::{Bench, Document};

use crate::beside_table::drawn;
use crate::quantity::Quantity;

/// The strip in words, for those who cannot see it, and for tests: the open setup, then those beside it.
pub(super) fn description(ui: &Ui, bench: &Bench, quantity: Quantity) -> String {
    let open = ends(bench.document(), quantity, bench.units());
    let names = bench.compared_names().into_iter().enumerate().skip(1);
    let beside = bench
        .beside()
        .documents()
        .iter()
        .zip(names)
        .map(|(document, (place, name))| {
            let ends = ends(document, quantity, bench.units());
            format!("; {name}, {}, {ends}", drawn(ui, place).words)
        });
    format!("{}: {open}{}", quantity.title(), beside.collect::<String>())
}

/// What a setup's curve shows at both ends of its travel.
fn ends(document: &Document, quantity: Quantity, units: Units) -> String {
    let rows = document.answers().level_rows();
    let travel = &document.setup().travel;
    let words = |row: &Row, height_m: f64| {
        let reached = (row.height_m - height_m).abs() < 1e-6;
        if reached {
            quantity.words(row, units)
        } else {
            "not reached".to_owned()
        }
    };
    match (rows.first(), rows.last()) {
        (Some(low), Some(high)) => {
            format!(
                "laid out {}, full lift {}",
                words(low, travel.laid_out_m),
                words(high, travel.full_lift_m)
            )
        }
        _ => "not solved".to_owned(),
    }
}
