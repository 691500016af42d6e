//! Setups on disk: nothing is half read, nothing half written.

use std::fs;
use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use rearend::file::{self, FileError, LARGEST_BYTES};
use rearend::setup::Setup;
use thiserror::Error;

/// Why a file could not be read or written.
#[derive(Debug, Error)]
pub enum DiskError {
    /// The text is no setup.
    #[error("the file {} is not a setup that can be opened: {source}", name(.path))]
    Content {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        source: FileError,
    },
    /// The file cannot be read.
    #[error("the file {} cannot be read: {}", .path.display(), plain(.source))]
    Read {
        /// The file.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
    /// The journal cannot be written; the setup is there all the same.
    #[error("{} cannot be written: {}", .path.display(), plain(.source))]
    Journal {
        /// Its file or folder.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
    /// The file cannot be written; what was there before is untouched.
    #[error("the file {} cannot be written: {}. Save it somewhere else; nothing is lost", .path.display(), plain(.source))]
    Write {
        /// The file.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
}

fn name(path: &Path) -> String {
    path.file_name()
        .map_or_else(|| path.display().to_string(), |n| n.to_string_lossy().into_owned())
}

/// The system's reason in plain words.
#[must_use]
pub fn plain(error: &std::io::Error) -> String {
    use std::io::ErrorKind as K;
    match error.kind() {
        K::NotFound => "there is no such file or folder".to_owned(),
        K::PermissionDenied => "you are not allowed to".to_owned(),
        K::StorageFull => "the disk is full".to_owned(),
        K::ReadOnlyFilesystem => "the folder is read-only".to_owned(),
        K::IsADirectory => "it is a folder".to_owned(),
        K::NotADirectory => "part of the path is not a folder".to_owned(),
        K::InvalidData => "it is not text".to_owned(),
        _ => error.to_string(),
    }
}

/// That a file cannot be written, as the system says.
pub(crate) fn writing(path: &Path, source: std::io::Error) -> DiskError {
    DiskError::Write {
        path: path.to_owned(),
        source,
    }
}

/// What a file held when it was looked at: to tell whether somebody else has written to it since.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp(u64);

impl Stamp {
    /// Of a file as it is now; none where there is none, or it cannot be read.
    #[must_use]
    pub fn of(path: &Path) -> Option<Self> {
        let mut bytes = Vec::new();
        let file = fs::File::open(path).ok()?;
        file.take(LARGEST_BYTES + 1).read_to_end(&mut bytes).ok()?;
        Some(Self::of_bytes(&bytes))
    }

    /// The Fowler-Noll-Vo hash, 1a, of 64 bits: the same in every build, because it outlives the program in its journal.
    fn of_bytes(bytes: &[u8]) -> Self {
        let step = |hash: u64, byte: &u8| (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3);
        Self(bytes.iter().fold(0xcbf2_9ce4_8422_2325, step))
    }

    /// As a number, for a file.
    pub(crate) fn number(self) -> u64 {
        self.0
    }

    /// From such a number.
    pub(crate) fn from_number(number: u64) -> Self {
        Self(number)
    }
}

/// What there is to choose from in a folder.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Listing {
    /// The folder.
    pub folder: PathBuf,
    /// Folders in it, by name; hidden ones are left out.
    pub folders: Vec<String>,
    /// Files with the extension asked for, by name.
    pub files: Vec<String>,
}

/// More entries than anybody reads through.
const MOST_LISTED: usize = 500;

impl Listing {
    /// Of a folder; empty where it cannot be read.
    #[must_use]
    pub fn of(folder: &Path, extension: &str) -> Self {
        let mut listing = Self {
            folder: folder.to_owned(),
            ..Self::default()
        };
        let here = if folder.as_os_str().is_empty() {
            Path::new(".")
        } else {
            folder
        };
        let entries = fs::read_dir(here).into_iter().flatten().flatten();
        for entry in entries.take(MOST_LISTED) {
            let name = entry.file_name().to_string_lossy().into_owned();
            if name.starts_with('.') {
                continue;
            }
            // Follows links, as opening would.
            if entry.path().is_dir() {
                listing.folders.push(name);
            } else if entry.path().extension().is_some_and(|e| e == extension) {
                listing.files.push(name);
            }
        }
        listing.folders.sort_by_key(|name| name.to_lowercase());
        listing.files.sort_by_key(|name| name.to_lowercase());
        listing
    }
}

/// Reads a setup.
///
/// # Errors
/// Names the file and what is wrong.
pub fn load(path: &Path) -> Result<Setup, DiskError> {
    load_stamped(path).map(|(setup, _)| setup)
}

/// The same, with the stamp of what was read.
///
/// # Errors
/// As [`load`].
pub(crate) fn load_stamped(path: &Path) -> Result<(Setup, Stamp), DiskError> {
    let read = |source| DiskError::Read {
        path: path.to_owned(),
        source,
    };
    let content = |source| DiskError::Content {
        path: path.to_owned(),
        source,
    };
    let file = fs::File::open(path).map_err(read)?;
    let size = file.metadata().map_err(read)?.len();
    if size > LARGEST_BYTES {
        return Err(content(FileError::TooLarge {
            megabytes: size.div_ceil(1_000_000),
        }));
    }
    // A device has no size and no end.
    let mut text = String::new();
    file.take(LARGEST_BYTES + 1).read_to_string(&mut text).map_err(read)?;
    let setup = file::read(&text).map_err(content)?;
    Ok((setup, Stamp::of_bytes(text.as_bytes())))
}

/// Writes a setup.
///
/// # Errors
/// As [`write`].
pub fn save(path: &Path, setup: &Setup) -> Result<(), DiskError> {
    save_stamped(path, setup).map(|_| ())
}

/// The same, with the stamp of what was written.
///
/// # Errors
/// As [`write`].
pub(crate) fn save_stamped(path: &Path, setup: &Setup) -> Result<Stamp, DiskError> {
    let text = file::write(setup);
    write(path, text.as_bytes())?;
    Ok(Stamp::of_bytes(text.as_bytes()))
}

/// Writes a file in one piece: to a temporary one beside it, which then takes its place.
///
/// # Errors
/// When the folder or disk does not allow it; a file that was there before is untouched.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), DiskError> {
    let failed = |source| writing(path, source);
    if path.is_dir() {
        return Err(failed(std::io::ErrorKind::IsADirectory.into()));
    }
    let folder = path
        .parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or(Path::new("."));
    let mut temporary = tempfile::NamedTempFile::new_in(folder).map_err(failed)?;
    temporary.write_all(bytes).map_err(failed)?;
    keep_permissions(path, temporary.as_file()).map_err(failed)?;
    temporary.as_file().sync_all().map_err(failed)?;
    temporary.persist(path).map_err(|e| failed(e.error))?;
    Ok(())
}

/// A temporary file is for its owner only; the file it becomes is as readable as the one it replaces, or as a new one usually is.
#[cfg(unix)]
fn keep_permissions(path: &Path, temporary: &fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    let mode = fs::metadata(path).map_or(0o644, |m| m.permissions().mode());
    temporary.set_permissions(fs::Permissions::from_mode(mode))
}

#[cfg(not(unix))]
fn keep_permissions(_: &Path, _: &fs::File) -> std::io::Result<()> {
    Ok(())
}
