//! Setups side by side as CSV: a row a figure, a column a setup, and which of them is best.

use rearend::compare::{Comparison, Kind, Row, Value};
use rearend::figures::CAUTION;
use rearend::tape::Units;
use thiserror::Error;

/// The comparison could not be written.
#[derive(Debug, Error)]
#[error("the comparison cannot be written: {0}")]
pub struct CompareError(String);

/// What a row's figures are in, and how many of these the SI unit is.
fn unit(kind: Kind) -> (&'static str, f64) {
    match kind {
        Kind::Sideways | Kind::Movement | Kind::Height | Kind::Room | Kind::Bar | Kind::WheelUp => ("mm", 1e3),
        Kind::Nose | Kind::Heading => ("deg", 180.0 / std::f64::consts::PI),
        Kind::Share => ("pct", 100.0),
        Kind::SteerPerRoll => ("deg per deg", 1.0),
        Kind::Count => ("", 1.0),
    }
}

/// The comparison as the bytes of a CSV file: `figure`, `unit`, a column a setup, `best`. Signs are those of the travel table: shift and
/// heading + left, pinion + nose up, steer per roll + towards oversteer, room less than nothing where things run into each other. Where
/// there is no figure a word stands for it. `best` names the setups whose figure is best as it reads in millimetres, `; ` between several.
/// What has to be known to read it follows in rows that begin with `note`, and the caution is the last row.
///
/// # Errors
/// When memory does not suffice.
pub fn compare_csv(of: &Comparison) -> Result<Vec<u8>, CompareError> {
    let failed = |e: csv::Error| CompareError(e.to_string());
    let mut table = csv::Writer::from_writer(Vec::new());
    let names = of.names.iter().map(String::as_str);
    let head = ["figure", "unit"].into_iter().chain(names).chain(["best"]);
    table.write_record(head).map_err(failed)?;
    for row in &of.rows {
        table.write_record(record(of, row)).map_err(failed)?;
    }
    let notes = of.notes().into_iter().map(|note| ("note", note));
    for (what, words) in notes.chain([("caution", CAUTION.to_owned())]) {
        let empty = std::iter::repeat_n("", of.names.len() + 1);
        let said = [what, &words].into_iter().chain(empty);
        table.write_record(said).map_err(failed)?;
    }
    table.into_inner().map_err(|e| CompareError(e.to_string()))
}

fn record(of: &Comparison, row: &Row) -> Vec<String> {
    let (unit, per_si) = unit(row.kind);
    let figures = (0..row.values.len()).map(|which| match &row.values[which] {
        Value::Figure(f) | Value::Reached(f) | Value::Of(f, _) => plain(f * per_si),
        _ => row.words(which, Units::Millimetres),
    });
    let best = row.best(Units::Millimetres).into_iter().zip(&of.names);
    let best: Vec<&str> = best
        .filter(|(is_best, _)| *is_best)
        .map(|(_, name)| name.as_str())
        .collect();
    let head = [row.label.to_owned(), unit.to_owned()];
    head.into_iter().chain(figures).chain([best.join("; ")]).collect()
}

/// Six decimals, and never "-0".
fn plain(value: f64) -> String {
    format!("{}", (value * 1e6).round() / 1e6 + 0.0)
}
