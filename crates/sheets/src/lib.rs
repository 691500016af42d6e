//! What leaves the program on paper and in files. Reads results, computes none.

mod travel_csv;

pub use travel_csv::{CsvError, travel_csv};
