//! The comparison as CSV.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use rearend::compare::{Better, Comparison, Kind, Row, Value};
use rearend::figures::CAUTION;
use sheets::compare_csv;

fn row(label: &'static str, kind: Kind, better: Better, values: Vec<Value>) -> Row {
    Row {
        label,
        kind,
        better,
        values,
    }
}

/// Every line as its fields.
fn fields(comparison: &Comparison) -> Vec<Vec<String>> {
    let bytes = compare_csv(comparison).expect("it can be written");
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(bytes.as_slice());
    let records = reader.records().map(|r| r.expect("every record has as many fields"));
    records.map(|r| r.iter().map(str::to_owned).collect()).collect()
}

/// A quarter inch is 6.35 mm, a twelfth of a half turn 15 degrees, by their definitions.
#[test]
fn figures_are_in_millimetres_degrees_and_percent_with_the_best_named() {
    use Value::{Figure, NotHeld, NotSolved, Of, Reached, Words};
    let twelfth = std::f64::consts::PI / 12.0;
    let comparison = Comparison {
        names: vec!["One, two".to_owned(), "Three".to_owned(), "Four".to_owned()],
        rows: vec![
            row(
                "shift",
                Kind::Sideways,
                Better::Least,
                vec![Figure(-0.00635), Figure(0.00635), NotSolved],
            ),
            row(
                "turn",
                Kind::Nose,
                Better::Least,
                vec![Figure(twelfth), Reached(0.0), NotHeld],
            ),
            row(
                "share",
                Kind::Share,
                Better::Neither,
                vec![Figure(1.25), Figure(-0.0), Words("needs the balance")],
            ),
            row(
                "bar",
                Kind::Bar,
                Better::Neither,
                vec![Of(0.5, "panhard bar".to_owned()), NotHeld, NotHeld],
            ),
        ],
        heights_differ: false,
    };
    let fields = fields(&comparison);
    assert_eq!(fields[0], ["figure", "unit", "One, two", "Three", "Four", "best"]);
    assert_eq!(
        fields[1],
        ["shift", "mm", "-6.35", "6.35", "not solved", "One, two; Three"]
    );
    assert_eq!(fields[2], ["turn", "deg", "15", "0", "not held", "One, two"]);
    assert_eq!(fields[3], ["share", "pct", "125", "0", "needs the balance", ""]);
    assert_eq!(fields[4], ["bar", "mm", "500", "not held", "not held", ""]);
    let last = fields.last().expect("there are lines");
    assert_eq!(last[..2], ["caution", CAUTION]);
    let notes: Vec<&str> = fields[5..]
        .iter()
        .filter(|f| f[0] == "note")
        .map(|f| f[1].as_str())
        .collect();
    assert_eq!(notes, comparison.notes());
    assert!(notes[0].contains("The travel of Three ends early"), "{notes:?}");
}
