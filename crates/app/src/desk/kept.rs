//! What outlives the window: journal, files opened last, how the user likes it.

use std::path::PathBuf;

use shop::Notice;
use shop::disk::DiskError;

use super::Desk;
use crate::look::Look;

impl Desk {
    /// Writes down whatever step has been finished. True where that has left something to tell.
    pub fn keep(&mut self) -> bool {
        let units = self.bench.units();
        self.keep_look(Look { units, ..self.look() });
        let kept = self.keeping.follow(self.bench.document()).map(|_| ());
        let kept = kept.and_then(|()| self.keeping.follow_beside(self.bench.beside()));
        let has_failed = kept.is_err();
        self.tell_journal(kept);
        has_failed
    }

    pub(super) fn tell_journal(&mut self, kept: Result<(), DiskError>) {
        if let Err(error) = kept {
            self.bench.tell(Notice::Refused(format!(
                "The journal cannot be kept, and a crash would lose what is not saved: {error}. Save often."
            )));
        }
    }

    /// How the user likes the window.
    pub fn look(&self) -> Look {
        self.keeping.look.get()
    }

    /// From now on like this.
    pub fn keep_look(&mut self, look: Look) {
        self.keeping.look.set(look);
    }

    /// The files opened last.
    pub fn recent(&self) -> &[PathBuf] {
        self.keeping.recent()
    }

    /// The program ends as it should.
    pub fn leave(&mut self) {
        self.keeping.end();
    }
}
