//! The open setup with its answers and its history.

use std::path::PathBuf;

use rearend::answers::Answers;
use rearend::setup::Setup;

use crate::change::{Change, ChangeError};
use crate::disk::Stamp;
use crate::journal::Entry;

/// Steps kept for undo; a setup is a few kilobytes.
const MOST_STEPS: usize = 1000;

/// A past or future state, and what leads away from it.
#[derive(Clone, Debug)]
struct Step {
    name: String,
    setup: Setup,
}

/// The open setup. It is valid at all times, and its answers are those of the setup as it is.
#[derive(Clone, Debug)]
pub struct Document {
    setup: Setup,
    answers: Answers,
    /// What its file holds, or what it began as; none where it has never been in a file and would be lost.
    saved: Option<Setup>,
    /// The file as it was when it was read or written last.
    stamp: Option<Stamp>,
    /// Where it was opened from or saved to.
    pub path: Option<PathBuf>,
    undo: Vec<Step>,
    redo: Vec<Step>,
    /// The state before the step in progress (a drag), which many changes make up.
    open_step: Option<Step>,
    revision: u64,
    finished: u64,
    last_did: String,
}

impl Document {
    /// A document that has just been opened.
    #[must_use]
    pub fn new(setup: Setup, path: Option<PathBuf>) -> Self {
        let answers = Answers::of(&setup);
        Self {
            saved: Some(setup.clone()),
            stamp: path.as_deref().and_then(Stamp::of),
            setup,
            answers,
            path: path.map(absolute),
            undo: Vec::new(),
            redo: Vec::new(),
            open_step: None,
            revision: 0,
            finished: 0,
            last_did: "open".to_owned(),
        }
    }

    /// A document whose file was as this stamp says when it was read.
    pub(crate) fn read(setup: Setup, path: PathBuf, stamp: Stamp) -> Self {
        Self {
            stamp: Some(stamp),
            ..Self::new(setup, Some(path))
        }
    }

    /// What another program left behind: its file, if it has one, does not hold it.
    pub(crate) fn taken_up(entry: Entry) -> Self {
        Self {
            stamp: entry.stamp,
            last_did: "take up again".to_owned(),
            ..Self::in_no_file(entry.setup, entry.path)
        }
    }

    /// A copy to try something on.
    pub(crate) fn copy(setup: Setup) -> Self {
        Self {
            last_did: "begin a copy".to_owned(),
            ..Self::in_no_file(setup, None)
        }
    }

    fn in_no_file(setup: Setup, path: Option<PathBuf>) -> Self {
        Self {
            saved: path.as_deref().and_then(|path| crate::disk::load(path).ok()),
            ..Self::new(setup, path)
        }
    }

    /// A document opened in place of another: its revisions go on from there, so that nothing drawn of the old one passes for the new.
    pub(crate) fn following(self, before: &Self) -> Self {
        Self {
            revision: before.revision + 1,
            finished: before.finished + 1,
            ..self
        }
    }

    /// What is described.
    #[must_use]
    pub fn setup(&self) -> &Setup {
        &self.setup
    }

    /// What it answers.
    #[must_use]
    pub fn answers(&self) -> &Answers {
        &self.answers
    }

    /// Grows with every change, so that what is drawn can tell whether it is still true.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// True where something would be lost by closing.
    #[must_use]
    pub fn is_unsaved(&self) -> bool {
        self.saved.as_ref() != Some(&self.setup)
    }

    /// True where somebody else has written to its file since it was read or saved.
    #[must_use]
    pub fn is_changed_on_disk(&self) -> bool {
        let now = self.path.as_deref().and_then(Stamp::of);
        // A file that is gone is not in the way of saving it again.
        now.is_some() && now != self.stamp
    }

    /// Its file as it was when it was read or written last.
    pub(crate) fn stamp(&self) -> Option<Stamp> {
        self.stamp
    }

    /// The setup before the step in progress, while one is.
    pub(crate) fn before_step(&self) -> Option<&Setup> {
        self.open_step.as_ref().map(|step| &step.setup)
    }

    /// Counts the steps that have come to their end, whichever way they went.
    #[must_use]
    pub fn finished(&self) -> u64 {
        self.finished
    }

    /// What the last of them was.
    #[must_use]
    pub fn last_did(&self) -> &str {
        &self.last_did
    }

    /// Called when the setup as it is has reached the disk.
    pub(crate) fn mark_saved(&mut self, path: PathBuf, stamp: Stamp) {
        self.saved = Some(self.setup.clone());
        self.stamp = Some(stamp);
        self.path = Some(absolute(path));
    }

    /// Applies one change, as a step of its own or as part of the open one.
    ///
    /// # Errors
    /// When the result would make no sense; nothing has changed then.
    pub fn apply(&mut self, change: &Change) -> Result<(), ChangeError> {
        let next = change.applied(&self.setup, &self.answers)?;
        if next == self.setup {
            return Ok(());
        }
        let name = change.name(&self.setup);
        let before = self.put(next);
        match &mut self.open_step {
            Some(step) => step.name = name,
            None => self.remember(Step { name, setup: before }),
        }
        Ok(())
    }

    /// Begins a step of many changes.
    pub fn begin_step(&mut self) {
        self.end_step();
        self.open_step = Some(Step {
            name: String::new(),
            setup: self.setup.clone(),
        });
    }

    /// Ends it: what has changed since it began is undone as one.
    pub fn end_step(&mut self) {
        if let Some(step) = self.open_step.take()
            && step.setup != self.setup
        {
            self.remember(step);
        }
    }

    /// Puts everything back to where the step began.
    pub fn cancel_step(&mut self) {
        if let Some(step) = self.open_step.take() {
            self.put(step.setup);
        }
    }

    /// True while a step of many changes is open.
    #[must_use]
    pub fn in_step(&self) -> bool {
        self.open_step.is_some()
    }

    /// What undo would take back.
    #[must_use]
    pub fn undo_name(&self) -> Option<&str> {
        self.undo.last().map(|s| s.name.as_str())
    }

    /// What redo would do again.
    #[must_use]
    pub fn redo_name(&self) -> Option<&str> {
        self.redo.last().map(|s| s.name.as_str())
    }

    /// Every step that undo would take back, the last one first.
    #[must_use]
    pub fn undo_names(&self) -> impl ExactSizeIterator<Item = &str> {
        self.undo.iter().rev().map(|s| s.name.as_str())
    }

    /// Every step that redo would do again, the next one first.
    #[must_use]
    pub fn redo_names(&self) -> impl ExactSizeIterator<Item = &str> {
        self.redo.iter().rev().map(|s| s.name.as_str())
    }

    /// Takes the last step back. False where there is none.
    pub fn undo(&mut self) -> bool {
        self.end_step();
        let Some(step) = self.undo.pop() else { return false };
        let after = self.put(step.setup);
        self.has_finished(format!("undo: {}", step.name));
        self.redo.push(Step {
            name: step.name,
            setup: after,
        });
        true
    }

    /// Does it again. False where there is nothing to do again.
    pub fn redo(&mut self) -> bool {
        self.end_step();
        let Some(step) = self.redo.pop() else { return false };
        let before = self.put(step.setup);
        self.has_finished(format!("redo: {}", step.name));
        self.undo.push(Step {
            name: step.name,
            setup: before,
        });
        true
    }

    fn put(&mut self, setup: Setup) -> Setup {
        self.answers = Answers::of(&setup);
        self.revision += 1;
        std::mem::replace(&mut self.setup, setup)
    }

    fn has_finished(&mut self, did: String) {
        self.finished += 1;
        self.last_did = did;
    }

    fn remember(&mut self, step: Step) {
        self.has_finished(step.name.clone());
        if self.undo.len() == MOST_STEPS {
            self.undo.remove(0);
        }
        self.undo.push(step);
        self.redo.clear();
    }
}

/// A program may be started anywhere, and what it leaves behind taken up from somewhere else.
fn absolute(path: PathBuf) -> PathBuf {
    std::path::absolute(&path).unwrap_or(path)
}
