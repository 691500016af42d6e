//! What the program keeps on disk besides setups: its journal, what others left behind, the files opened last.

use std::path::{Path, PathBuf};

use panels::Dialog;
use shop::disk::DiskError;
use shop::journal::{Entry, Journal, Left, left_behind};
use shop::recent::Recent;
use shop::{Bench, Document};

use crate::look::KeptLook;

/// All of it. Without a folder to keep it in there is none, and the program works all the same.
#[derive(Debug, Default)]
pub struct Keeping {
    journal: Option<Journal>,
    left: Vec<Left>,
    recent: Recent,
    /// How the user likes the window.
    pub look: KeptLook,
}

impl Keeping {
    /// Begins a journal, and looks for what other programs left behind. Says too why there is no journal, where there is none.
    pub fn begin() -> (Self, Option<DiskError>) {
        let Some(folder) = dirs::state_dir().or_else(dirs::data_local_dir) else {
            return (Self::default(), None);
        };
        let folder = folder.join("axlewright");
        let journals = folder.join("journals");
        let left = left_behind(&journals);
        let (journal, trouble) = match Journal::begin(&journals) {
            Ok(journal) => (Some(journal), None),
            Err(error) => (None, Some(error)),
        };
        let keeping = Self {
            journal,
            left,
            recent: Recent::kept_in(folder.join("recent")),
            look: KeptLook::from(folder.join("look")),
        };
        (keeping, trouble)
    }

    /// Writes down what the document has become.
    pub fn follow(&mut self, document: &Document) -> Result<(), DiskError> {
        let Some(journal) = &mut self.journal else {
            return Ok(());
        };
        if journal.follow(document)?
            && !document.is_unsaved()
            && let Some(path) = &document.path
        {
            self.recent.add(path);
        }
        Ok(())
    }

    /// The question about the newest work that was left behind.
    pub fn question(&self) -> Option<Dialog> {
        let last = &self.left.first()?.last;
        Some(Dialog::LeftBehind {
            name: last.setup.name.clone(),
            step: last.step.clone(),
            path: last.path.clone(),
        })
    }

    /// Takes that work out of the list; it is forgotten once it stands in this program's own journal.
    pub fn take(&mut self) -> Option<Left> {
        (!self.left.is_empty()).then(|| self.left.remove(0))
    }

    /// The files opened last that are still there.
    pub fn recent(&self) -> Vec<PathBuf> {
        self.recent.files().map(Path::to_path_buf).collect()
    }

    /// The program ends as it should.
    pub fn end(&mut self) {
        if let Some(journal) = self.journal.take() {
            journal.end();
        }
    }
}

/// What a left entry becomes on a bench.
pub fn take_up(bench: &mut Bench, entry: &Entry) {
    bench.run(shop::Command::TakeUp(Box::new(entry.clone())));
}
