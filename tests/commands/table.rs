//! The travel table as a reader finds it.

/// A table: names of the columns, and rows of what stands in them.
pub struct Table {
    pub columns: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

impl Table {
    pub fn read(text: &str) -> Self {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let fields = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
        Self {
            columns: fields(reader.headers().expect("a header")),
            rows: reader
                .records()
                .map(|r| fields(&r.expect("a row of the header's length")))
                .collect(),
        }
    }

    /// What stands in a column, which may be nothing.
    pub fn cells(&self, name: &str) -> Vec<String> {
        let place = self.columns.iter().position(|c| c == name);
        let place = place.unwrap_or_else(|| panic!("there is no column {name}"));
        self.rows.iter().map(|row| row[place].clone()).collect()
    }

    /// A column of numbers.
    pub fn column(&self, name: &str) -> Vec<f64> {
        let cells = self.cells(name);
        cells.iter().map(|cell| cell.parse().expect("a number")).collect()
    }
}

pub fn assert_all_near(name: &str, values: &[f64], expected: &[f64], tolerance: f64) {
    assert_eq!(values.len(), expected.len(), "{name}");
    for (row, (value, expected)) in values.iter().zip(expected).enumerate() {
        assert!(
            (value - expected).abs() < tolerance,
            "{name} in row {row}: {value}, expected {expected}"
        );
    }
}
