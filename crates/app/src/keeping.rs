//! What the program keeps on disk besides setups: its journal, what others left behind, the files opened last.

use std::path::PathBuf;

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
    held: Vec<Left>,
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
            held: Vec::new(),
            recent: Recent::kept_in(folder.join("recent")),
            look: KeptLook::from(folder.join("look")),
        };
        (keeping, trouble)
    }

    /// Writes down what the document has become. False where there is no journal to write it to.
    pub fn follow(&mut self, document: &Document) -> Result<bool, DiskError> {
        if let Some(path) = document.path.as_ref().filter(|_| !document.is_unsaved()) {
            self.recent.add(path);
        }
        match &mut self.journal {
            Some(journal) => journal.follow(document).map(|_| true),
            None => Ok(false),
        }
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

    /// Keeps what was left behind until the program ends: its old journal is the only one there is.
    pub fn hold(&mut self, left: Left) {
        self.held.push(left);
    }

    /// The files opened last.
    pub fn recent(&self) -> &[PathBuf] {
        self.recent.files()
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
