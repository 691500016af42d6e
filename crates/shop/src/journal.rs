//! The journal: what the bench has become after every finished step, on disk at once, so that a crash takes nothing with it.
//!
//! One file a running program, a line of JSON a state, the last one last. It is locked while the program lives: one that can be locked has
//! been left behind. A line that was being written when the program died is not a line.

use std::fs::{self, File, OpenOptions};
use std::io::{BufRead, BufReader, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use rearend::file;
use rearend::setup::Setup;
use serde_json::{Value, json};

use crate::disk::{DiskError, Stamp};
use crate::document::Document;

/// Beyond this a journal begins anew with what is there now: a step is a few kilobytes.
const LARGEST_BYTES: u64 = 32_000_000;

/// What journals end in.
const EXTENSION: &str = "journal";

/// One state of the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// What led to it.
    pub step: String,
    /// The file that it was opened from or saved to.
    pub path: Option<PathBuf>,
    /// That file as it was when it was read or saved last.
    pub stamp: Option<Stamp>,
    /// True where that file holds it, or there is nothing to lose.
    pub saved: bool,
    /// The setup.
    pub setup: Setup,
}

/// The journal of this program.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    file: File,
    bytes: u64,
    largest_bytes: u64,
    last: Option<(u64, bool, Option<PathBuf>)>,
}

impl Journal {
    /// Begins a journal in a folder, which is made where it is not there.
    ///
    /// # Errors
    /// When the disk does not allow it.
    pub fn begin(folder: &Path) -> Result<Self, DiskError> {
        let failed = |source| failed(folder, source);
        fs::create_dir_all(folder).map_err(failed)?;
        let (file, new) = locked_file(folder).map_err(failed)?;
        // Only now that it is locked does it get the name by which others would look into it.
        let path = new.with_extension(EXTENSION);
        fs::rename(&new, &path).map_err(failed)?;
        Ok(Self {
            path,
            file,
            bytes: 0,
            largest_bytes: LARGEST_BYTES,
            last: None,
        })
    }

    /// The same that begins anew beyond this many bytes.
    #[must_use]
    pub fn no_longer_than(self, largest_bytes: u64) -> Self {
        Self { largest_bytes, ..self }
    }

    /// Writes down what a document has become, if it has finished a step since it was last asked. True where something was written.
    ///
    /// # Errors
    /// When the disk does not allow it: what is on the bench is there all the same.
    pub fn follow(&mut self, document: &Document) -> Result<bool, DiskError> {
        let saved = !document.is_unsaved();
        let now = (document.finished(), saved, document.path.clone());
        if document.in_step() || self.last.as_ref() == Some(&now) {
            return Ok(false);
        }
        // Told once, tried again at the next step.
        self.last = Some(now);
        let line = line(&Entry {
            step: document.last_did().to_owned(),
            path: document.path.clone(),
            stamp: document.stamp(),
            saved,
            setup: document.setup().clone(),
        });
        let written = if self.bytes > self.largest_bytes {
            self.begin_anew(line.as_bytes())
        } else {
            self.append(line.as_bytes())
        };
        written.map_err(|source| failed(&self.path, source))?;
        Ok(true)
    }

    /// What could only half be written is taken away again: the next line would be lost with it.
    fn append(&mut self, line: &[u8]) -> std::io::Result<()> {
        if let Err(error) = self.file.write_all(line) {
            let _ = self.file.set_len(self.bytes);
            let _ = self.file.seek(SeekFrom::Start(self.bytes));
            return Err(error);
        }
        self.bytes += line.len() as u64;
        Ok(())
    }

    /// A new file takes the place of the old one when it holds what there is now, and not before.
    fn begin_anew(&mut self, line: &[u8]) -> std::io::Result<()> {
        let (mut file, new) = locked_file(self.path.parent().unwrap_or(Path::new(".")))?;
        let written = file.write_all(line).and_then(|()| fs::rename(&new, &self.path));
        if written.is_err() {
            let _ = fs::remove_file(&new);
            return written;
        }
        self.file = file;
        self.bytes = line.len() as u64;
        Ok(())
    }

    /// Takes the journal away: the program ends as it should, and nothing is left to lose.
    pub fn end(self) {
        let _ = fs::remove_file(&self.path);
    }
}

fn failed(path: &Path, source: std::io::Error) -> DiskError {
    DiskError::Journal {
        path: path.to_owned(),
        source,
    }
}

/// A new file under a name that nobody looks for. Where the file system has no locks there is nothing to tell a living program's journal
/// by; none is ever offered then.
fn locked_file(folder: &Path) -> std::io::Result<(File, PathBuf)> {
    let made = tempfile::Builder::new()
        .prefix("work-")
        .suffix(".new")
        .tempfile_in(folder)?;
    let (file, path) = made.keep().map_err(|e| e.error)?;
    let _ = file.try_lock();
    Ok((file, path))
}

fn line(entry: &Entry) -> String {
    let path = entry.path.as_ref().map(|p| p.to_string_lossy());
    let value = json!({
        "step": entry.step,
        "path": path,
        "stamp": entry.stamp.map(Stamp::number),
        "saved": entry.saved,
        "setup": file::write(&entry.setup),
    });
    format!("{value}\n")
}

/// Every state in a journal, in order. What is no entry is left out: the last line may be torn.
///
/// # Errors
/// When the file cannot be read.
pub fn entries(path: &Path) -> Result<Vec<Entry>, DiskError> {
    let failed = |source| DiskError::Read {
        path: path.to_owned(),
        source,
    };
    let lines = BufReader::new(File::open(path).map_err(failed)?).split(b'\n');
    let mut entries = Vec::new();
    for line in lines {
        entries.extend(entry(&line.map_err(failed)?));
    }
    Ok(entries)
}

fn entry(line: &[u8]) -> Option<Entry> {
    let value: Value = serde_json::from_slice(line).ok()?;
    Some(Entry {
        step: value["step"].as_str()?.to_owned(),
        path: value["path"].as_str().map(PathBuf::from),
        stamp: value["stamp"].as_u64().map(Stamp::from_number),
        saved: value["saved"].as_bool()?,
        setup: file::read(value["setup"].as_str()?).ok()?,
    })
}

/// Work that a program left behind when it died.
#[derive(Debug)]
pub struct Left {
    path: PathBuf,
    /// Held, so that no other program offers it too.
    file: File,
    /// The last state.
    pub last: Entry,
}

impl Left {
    /// Takes it away: it has been taken up again, or is not wanted.
    pub fn forget(self) {
        let _ = fs::remove_file(&self.path);
        drop(self.file);
    }
}

/// What programs that died have left in a folder, newest first; journals that hold nothing to lose are taken away.
#[must_use]
pub fn left_behind(folder: &Path) -> Vec<Left> {
    let Ok(files) = fs::read_dir(folder) else {
        return Vec::new();
    };
    let mut left: Vec<_> = files.flatten().filter_map(|file| orphan(&file.path())).collect();
    left.sort_by_key(|(changed, _)| std::cmp::Reverse(*changed));
    left.into_iter().map(|(_, left)| left).collect()
}

fn orphan(path: &Path) -> Option<(std::time::SystemTime, Left)> {
    if path.extension().is_none_or(|e| e != EXTENSION) {
        return None;
    }
    let file = OpenOptions::new().read(true).append(true).open(path).ok()?;
    file.try_lock().ok()?;
    let metadata = file.metadata().ok()?;
    let last = last_entry(path).ok()?;
    if metadata.len() == 0 || last.as_ref().is_some_and(|last| last.saved) {
        let _ = fs::remove_file(path);
    }
    // What cannot be read stays where it is: somebody may still make something of it.
    let last = last.filter(|last| !last.saved)?;
    let path = path.to_owned();
    Some((metadata.modified().ok()?, Left { path, file, last }))
}

/// The last state alone: a journal may be long.
fn last_entry(path: &Path) -> std::io::Result<Option<Entry>> {
    let bytes = fs::read(path)?;
    Ok(bytes.rsplit(|byte| *byte == b'\n').find_map(entry))
}
