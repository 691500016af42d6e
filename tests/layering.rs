//! The invariants of the architecture, read off `cargo tree` and off the sources.

#[path = "layering/dependencies.rs"]
mod dependencies;
#[path = "layering/sources.rs"]
mod sources;
