//! What the program keeps on disk besides setups: its journal, what others left behind, the files opened last.

use std::path::PathBuf;

use panels::Dialog;
use shop::disk::DiskError;
use shop::journal::{Entry, Journal, Left, left_behind};
use shop::recent::Recent;
use shop::{Bench, Beside, Document};

use crate::look::KeptLook;

/// All of it. Without a folder to keep it in there is none, and the program works all the same.
#[derive(Debug, Default)]
pub struct Keeping {
    journal: Option<Journal>,
    /// Where journals lie.
    journals: Option<PathBuf>,
    /// Journals of unsaved work that lies beside the open setup, and what it was when they were written.
    beside: (Vec<Journal>, Vec<(u64, String)>),
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
            journals: Some(journals),
            beside: (Vec::new(), Vec::new()),
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

    /// Writes down what lies unsaved beside the open setup, whenever something has come, gone or been saved. It does not change while it
    /// lies there.
    pub fn follow_beside(&mut self, beside: &Beside) -> Result<(), DiskError> {
        let Some(folder) = self.journals.clone() else {
            return Ok(());
        };
        let now: Vec<_> = beside
            .unsaved()
            .map(|document| (document.finished(), document.setup().name.clone()))
            .collect();
        if now == self.beside.1 {
            return Ok(());
        }
        // Told once where it fails, tried again when something comes or goes.
        self.beside.1 = now;
        // The old ones end once the new ones are written.
        let mut journals = Vec::new();
        for document in beside.unsaved() {
            let mut journal = Journal::begin(&folder)?;
            journal.follow(document)?;
            journals.push(journal);
        }
        let old = std::mem::replace(&mut self.beside.0, journals);
        old.into_iter().for_each(Journal::end);
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
        std::mem::take(&mut self.beside).0.into_iter().for_each(Journal::end);
    }
}

/// What a left entry becomes on a bench.
pub fn take_up(bench: &mut Bench, entry: &Entry) {
    bench.run(shop::Command::TakeUp(Box::new(entry.clone())));
}
