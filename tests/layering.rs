//! The invariants of the architecture, read off `cargo tree` and off the sources.

#![expect(
    clippy::expect_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

#[path = "layering/dependencies.rs"]
mod dependencies;
#[path = "layering/sources.rs"]
mod sources;
