//! Where things are: the workspace, what is built, the programs of this machine.

use std::env;
use std::path::{Path, PathBuf};

/// The workspace's top folder.
pub fn workspace() -> PathBuf {
    // Read when run, not when built: several checkouts may share one target folder.
    let here = env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| env!("CARGO_MANIFEST_DIR").into(), PathBuf::from);
    here.ancestors()
        .nth(2)
        .map_or_else(|| PathBuf::from("."), Path::to_path_buf)
}

/// The target folder this program was built into, whatever named it: the environment, a configuration file, nothing.
pub fn target() -> Result<PathBuf, String> {
    let this = env::current_exe().map_err(|error| format!("cannot find out where it was built: {error}"))?;
    let folder = this.ancestors().nth(2).ok_or("cannot find out where it was built")?;
    Ok(folder.to_path_buf())
}

/// The built `axlewright`.
pub fn program(release: bool) -> Result<PathBuf, String> {
    let profile = if release { "release" } else { "debug" };
    Ok(target()?
        .join(profile)
        .join(format!("axlewright{}", env::consts::EXE_SUFFIX)))
}

/// Whether a program of this name can be started.
pub fn on_path(program: &str) -> bool {
    let paths = env::var_os("PATH").unwrap_or_default();
    env::split_paths(&paths).any(|folder| folder.join(program).is_file())
}
