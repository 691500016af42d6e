//! The files that were opened or saved last.

use std::fs;
use std::path::{Path, PathBuf};

use crate::disk;

/// Files that are kept in mind.
pub const MOST: usize = 8;

/// The files, the last one first. Lost or unreadable lists are empty ones: nothing hangs on them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Recent {
    list: Option<PathBuf>,
    files: Vec<PathBuf>,
}

impl Recent {
    /// The list kept in a file, a path a line.
    #[must_use]
    pub fn kept_in(list: PathBuf) -> Self {
        let text = fs::read_to_string(&list).unwrap_or_default();
        let files = text.lines().map(PathBuf::from).filter(|path| path.is_file());
        Self {
            files: files.take(MOST).collect(),
            list: Some(list),
        }
    }

    /// The files. Those that had gone when the list was read are left out; a disk is not asked every time, it may be far away.
    #[must_use]
    pub fn files(&self) -> &[PathBuf] {
        &self.files
    }

    /// Puts a file first. A list that cannot be written is of no matter.
    pub fn add(&mut self, path: &Path) {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        if self.files.first() == Some(&path) {
            return;
        }
        self.files.retain(|other| *other != path);
        self.files.insert(0, path);
        self.files.truncate(MOST);
        let lines = self.files.iter().map(|f| f.to_string_lossy() + "\n");
        if let Some(list) = &self.list {
            let _ = list.parent().map(fs::create_dir_all);
            let _ = disk::write(list, lines.collect::<String>().as_bytes());
        }
    }
}
