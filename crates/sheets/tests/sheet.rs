//! Sheets and templates as the PDFs that are printed, read back with poppler's tools.

#![expect(
    clippy::expect_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

#[path = "sheet/breaks.rs"]
mod breaks;
#[path = "sheet/drawings.rs"]
mod drawings;
#[path = "sheet/heights.rs"]
mod heights;
#[path = "sheet/paper.rs"]
mod paper;
#[path = "sheet/plates.rs"]
mod plates;
#[path = "sheet/support.rs"]
mod support;
