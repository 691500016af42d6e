//! The setups that are kept beside the open one, to compare it with.
//!
//! Each is a document of its own, with its file, its history and its answers, which are computed when it comes and not again. A swap puts one
//! of them onto the bench as it is and what was there in its place: neither loses a step, its file, or what is not saved of it yet. What is
//! taken away can be put back until something else is taken away. Opening another setup leaves them where they are.

use std::path::PathBuf;

use rearend::compare::{self, Compared, Comparison};
use rearend::setup::Setup;

use crate::bench::{Bench, Notice};
use crate::demo;
use crate::disk;
use crate::document::Document;
use crate::part_edits::usable_name;

/// The most that are kept beside the open one.
pub const MOST_BESIDE: usize = compare::MOST - 1;

/// What is kept beside the open setup.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    documents: Vec<Document>,
    taken_away: Option<Box<Document>>,
}

impl Beside {
    /// The setups, in the order they came.
    #[must_use]
    pub fn documents(&self) -> &[Document] {
        &self.documents
    }

    /// True while another can come.
    #[must_use]
    pub fn has_room(&self) -> bool {
        self.documents.len() < MOST_BESIDE
    }

    /// What was taken away last, and can be put back.
    #[must_use]
    pub fn taken_away(&self) -> Option<&Document> {
        self.taken_away.as_deref()
    }

    /// Those that are in no file as they are: closing the program would lose them.
    pub fn unsaved(&self) -> impl Iterator<Item = &Document> {
        self.documents.iter().filter(|document| document.is_unsaved())
    }
}

impl Bench {
    /// What is kept beside the open setup.
    #[must_use]
    pub fn beside(&self) -> &Beside {
        &self.beside
    }

    /// The open setup and those beside it, in the order of [`Bench::compared_names`], side by side.
    #[must_use]
    pub fn comparison(&self) -> Comparison {
        let of: Vec<Compared> = self.side_by_side().map(compared).collect();
        compare::table(&of)
    }

    /// What the open setup and those beside it are called where they are shown together: no two alike, the open one first.
    #[must_use]
    pub fn compared_names(&self) -> Vec<String> {
        compare::distinct(self.side_by_side().map(|document| document.setup().name.as_str()))
    }

    fn side_by_side(&self) -> impl Iterator<Item = &Document> {
        std::iter::once(self.document()).chain(&self.beside.documents)
    }

    pub(crate) fn put_beside(&mut self) {
        let copy = self.named_copy();
        self.lay_beside(Document::copy(copy));
    }

    pub(crate) fn open_beside(&mut self, path: PathBuf) {
        if !self.has_room_beside() {
            return;
        }
        match disk::load_stamped(&path) {
            Ok((setup, stamp)) => self.lay_beside(Document::read(setup, path, stamp)),
            Err(error) => self.refuse(&error),
        }
    }

    pub(crate) fn put_demo_beside(&mut self, which: usize) {
        let Some(demo) = demo::ALL.get(which) else { return };
        match demo.setup() {
            Ok(setup) => self.lay_beside(Document::new(setup, None)),
            Err(error) => self.refuse(&error),
        }
    }

    pub(crate) fn take_away(&mut self, which: usize) {
        if which < self.beside.documents.len() {
            let document = self.beside.documents.remove(which);
            let name = document.setup().name.clone();
            self.beside.taken_away = Some(Box::new(document));
            self.tell(Notice::Done(format!("{name} is taken away; it can be put back.")));
        }
    }

    pub(crate) fn put_back(&mut self) {
        if self.beside.taken_away.is_some()
            && self.has_room_beside()
            && let Some(document) = self.beside.taken_away.take()
        {
            self.lay_beside(*document);
        }
    }

    pub(crate) fn swap_with(&mut self, which: usize) {
        if which < self.beside.documents.len() {
            let other = self.beside.documents.remove(which);
            let before = self.exchange(other);
            self.beside.documents.insert(which, before);
        }
    }

    fn lay_beside(&mut self, document: Document) {
        if self.has_room_beside() {
            let name = document.setup().name.clone();
            self.beside.documents.push(document);
            self.tell(Notice::Done(format!("{name} is kept beside the open setup.")));
        }
    }

    /// Says so where there is none.
    fn has_room_beside(&mut self) -> bool {
        let has_room = self.beside.has_room();
        if !has_room {
            self.tell_refused("five setups are beside this one, and there is no room for more: take one away first");
        }
        has_room
    }

    /// The open setup as it is, under a name that none of those side by side has.
    fn named_copy(&self) -> Setup {
        let mut copy = self.setup().clone();
        let base = without_number(&copy.name);
        let taken = |name: &str| self.side_by_side().any(|document| document.setup().name == name);
        // One more than there can be names in the way.
        let free = (1..=compare::MOST + 1)
            .map(|n| numbered(base, n))
            .find(|name| !taken(name));
        copy.name = free.unwrap_or_else(|| copy.name.clone());
        copy
    }
}

fn compared(document: &Document) -> Compared<'_> {
    Compared {
        name: &document.setup().name,
        setup: document.setup(),
        answers: document.answers(),
    }
}

const COPY: &str = ", copy ";

/// The name of what a copy is of.
fn without_number(name: &str) -> &str {
    let is_number = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    match name.rsplit_once(COPY) {
        Some((base, number)) if is_number(number) => base,
        _ => name,
    }
}

/// As much of the name as is left room for.
fn numbered(base: &str, number: usize) -> String {
    let mut base = base.to_owned();
    loop {
        let name = format!("{base}{COPY}{number}");
        if base.is_empty() || usable_name(&name).is_ok() {
            return name;
        }
        base.pop();
    }
}
