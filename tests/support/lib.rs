//! What the whole-project tests share.

#![expect(
    clippy::expect_used,
    reason = "a test may stop at the first thing that is not as it should be"
)]

pub mod mechanisms;
pub mod parallelogram;
pub mod program;

use std::path::{Path, PathBuf};

/// The top of the checkout.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .map_or_else(PathBuf::new, Path::to_path_buf)
}

/// The file of the demo scene with a number.
///
/// # Panics
/// When there is no such scene.
#[must_use]
pub fn demo_scene(number: &str) -> PathBuf {
    let demo = shop::demo::ALL.iter().find(|d| d.file_name.starts_with(number));
    root()
        .join("demo-scenes")
        .join(demo.expect("a demo scene has this number").file_name)
}
