//! The program as it was built.

use std::path::PathBuf;

/// The program that lies beside the running test.
///
/// # Panics
/// When it was not built.
#[must_use]
pub fn path() -> PathBuf {
    let test = std::env::current_exe().expect("a running test has a file");
    let built = test.ancestors().nth(2).expect("tests lie two folders down");
    let program = built.join(format!("axlewright{}", std::env::consts::EXE_SUFFIX));
    assert!(
        program.is_file(),
        "{} is missing: build it with `cargo build --workspace --bin axlewright --examples`, or run `cargo xtask test`",
        program.display()
    );
    program
}
