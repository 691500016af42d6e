//! What the whole-project tests share.

pub mod mechanisms;

use std::path::{Path, PathBuf};

/// The top of the checkout.
#[must_use]
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .map_or_else(PathBuf::new, Path::to_path_buf)
}
