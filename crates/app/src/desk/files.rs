//! Files, and work that is not saved.

use std::path::{Path, PathBuf};

use panels::{Act, Action, Dialog, PathPurpose, PathQuestion};
use shop::{Command, Document, Notice};

use super::{Beside, Desk, Errand, PictureOf};
use crate::making::{Making, Order};
use crate::outputs::{File, write_all};
use crate::{file_dialog, keeping};

/// What was asked for while work was unsaved.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum HeldUp {
    Quit,
    Open(PathBuf),
    Demo(usize),
    New,
    Copy,
    TakeUp,
}

impl Desk {
    pub(super) fn ask_path(&mut self, purpose: PathPurpose) {
        let known = self.bench.document().path.as_deref();
        let extension = purpose.extension();
        let path = match (purpose, known) {
            (PathPurpose::Open | PathPurpose::OpenBeside, _) => self.folder().join(""),
            (PathPurpose::Brackets, _) => self.folder().join(self.file_name("")).join(""),
            (_, Some(path)) => path.with_extension(extension),
            (_, None) => self.folder().join(self.file_name(extension)),
        };
        self.ask(PathQuestion::new(purpose, path.display().to_string()));
    }

    fn ask(&mut self, mut question: PathQuestion) {
        question.can_browse = file_dialog::is_there();
        question.list();
        self.dialog = Some(Dialog::Path(question));
    }

    /// Where files are most likely to be: beside this one, or beside the last one, or where people keep their documents.
    fn folder(&self) -> PathBuf {
        let beside = |path: &Path| path.parent().map(Path::to_path_buf);
        let own = self.bench.document().path.as_deref().and_then(beside);
        let last = || self.recent().first().and_then(|path| beside(path));
        let usual = || {
            dirs::document_dir()
                .filter(|folder| folder.is_dir())
                .or_else(dirs::home_dir)
        };
        own.or_else(last).or_else(usual).unwrap_or_default()
    }

    /// The setup's name as a file's.
    pub(super) fn file_name(&self, extension: &str) -> PathBuf {
        let plain = |c: char| {
            if c.is_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        };
        let stem: String = self.bench.setup().name.chars().map(plain).collect();
        PathBuf::from(stem.trim_matches('-')).with_extension(extension)
    }

    pub(super) fn save(&mut self) {
        match self.bench.document().path.clone() {
            Some(path) => self.save_to(path),
            None => self.ask_path(PathPurpose::SaveAs),
        }
    }

    /// Over what somebody else has written to its own file only when that is agreed to.
    pub(super) fn save_to(&mut self, path: PathBuf) {
        let document = self.bench.document();
        if document.path.as_ref() == Some(&path) && document.is_changed_on_disk() {
            self.dialog = Some(Dialog::ChangedOnDisk { path });
        } else {
            self.write_to(path);
        }
    }

    pub(super) fn write_to(&mut self, path: PathBuf) {
        self.dialog = None;
        self.bench.run(Command::SaveTo(path));
        if self.bench.document().is_unsaved() {
            self.held_up = None;
        } else if self.held_up == Some(HeldUp::Quit) {
            self.unless_unsaved(HeldUp::Quit);
        } else {
            self.go_on();
        }
    }

    /// A path for a purpose; one that would replace a file is asked about first, once.
    pub(super) fn path_given(&mut self, purpose: PathPurpose, path: PathBuf) {
        let path = with_extension(purpose, path);
        let agreed = matches!(&self.dialog, Some(Dialog::Replace { path: asked, .. }) if *asked == path);
        let own = purpose == PathPurpose::SaveAs && self.bench.document().path.as_ref() == Some(&path);
        let is_there = if purpose == PathPurpose::Brackets {
            path.read_dir().is_ok_and(|mut entries| entries.next().is_some())
        } else {
            path.is_file()
        };
        if !purpose.opens() && is_there && !agreed && !own {
            self.dialog = Some(Dialog::Replace { purpose, path });
            return;
        }
        if purpose.opens() && !path.is_file() {
            self.ask(PathQuestion {
                complaint: Some("There is no such file; nothing was opened.".to_owned()),
                ..PathQuestion::new(purpose, path.display().to_string())
            });
            return;
        }
        self.dialog = None;
        match purpose {
            PathPurpose::Open => self.unless_unsaved(HeldUp::Open(path)),
            PathPurpose::OpenBeside => self.bench.run(Command::OpenBeside(path)),
            PathPurpose::SaveAs => self.save_to(path),
            PathPurpose::Picture => self.errands.push(Errand::Picture(PictureOf::Now, Some(path))),
            PathPurpose::PictureOfHeights => self.errands.push(Errand::Picture(PictureOf::Heights, Some(path))),
            PathPurpose::PictureBeside => self.errands.push(Errand::Picture(PictureOf::Others, Some(path))),
            PathPurpose::Sheet | PathPurpose::Brackets | PathPurpose::TravelTable | PathPurpose::CompareTable => {
                self.order(purpose, path);
            }
        }
    }

    pub(super) fn unless_unsaved(&mut self, wanted: HeldUp) {
        // Leaving loses what lies beside as well: it comes onto the bench, and is asked about in its turn.
        if wanted == HeldUp::Quit && !self.bench.document().is_unsaved() {
            let beside = self.bench.beside().documents();
            if let Some(place) = beside.iter().position(Document::is_unsaved) {
                self.bench.run(Command::SwapWith(place));
            }
        }
        self.held_up = Some(wanted);
        if self.bench.document().is_unsaved() {
            self.dialog = Some(Dialog::Unsaved);
        } else {
            self.go_on();
        }
    }

    pub(super) fn go_on(&mut self) {
        match self.held_up.take() {
            Some(HeldUp::Quit) => self.errands.push(Errand::Quit),
            Some(HeldUp::Open(path)) => self.bench.run(Command::Open(path)),
            Some(HeldUp::Demo(which)) => self.bench.run(Command::OpenDemo(which)),
            Some(HeldUp::New) => self.begin_new(),
            Some(HeldUp::Copy) => self.bench.run(Command::Copy),
            Some(HeldUp::TakeUp) => self.take_up(),
            None => {}
        }
    }

    pub(super) fn begin_new(&mut self) {
        self.bench.run(Command::New);
        self.beside = Some(Beside::TapeSheet);
        self.stage.fit(self.bench.setup());
    }

    /// What was left behind stands in this program's journal before the old one goes.
    pub(super) fn take_up(&mut self) {
        let Some(left) = self.keeping.take() else { return };
        self.dialog = None;
        keeping::take_up(&mut self.bench, &left.last);
        self.stage.fit(self.bench.setup());
        match self.keeping.follow(self.bench.document()) {
            Ok(true) => left.forget(),
            Ok(false) => self.keeping.hold(left),
            Err(error) => {
                self.keeping.hold(left);
                self.tell_journal(Err(error));
            }
        }
    }

    /// The window was asked to close.
    pub fn closing(&mut self) {
        self.put_off.push(Act::Choose(Action::Quit));
    }

    /// One thing at a time is made beside the window.
    fn order(&mut self, purpose: PathPurpose, path: PathBuf) {
        if purpose == PathPurpose::CompareTable {
            return self.write_comparison(&path);
        }
        if self.making.is_some() {
            let wait = "Something is still being made; wait for it, or call it off at the top.";
            self.bench.tell(Notice::Refused(wait.to_owned()));
            return;
        }
        self.errands.push(Errand::Make(Box::new(Order {
            purpose,
            path,
            setup: self.bench.setup().clone(),
            units: self.bench.units(),
            style: self.keeping.look.shop().clone(),
        })));
    }

    fn write_comparison(&mut self, path: &Path) {
        let table = sheets::compare_csv(&self.bench.comparison()).map_err(|error| error.to_string());
        let written = table.and_then(|bytes| write_all(&[File::new(path, bytes)], true));
        self.bench.tell(match written {
            Ok(()) => Notice::Done(format!("The table is in {}.", path.display())),
            Err(sentence) => Notice::Refused(format!("No table: {sentence}.")),
        });
    }

    /// What has come of what was being made, told. True where something has.
    pub fn attend_making(&mut self) -> bool {
        let Some(outcome) = self.making.as_ref().and_then(Making::outcome) else {
            return false;
        };
        self.making = None;
        self.bench.tell(match outcome {
            Ok(sentence) => Notice::Done(sentence),
            Err(sentence) => Notice::Refused(format!("Not made: {sentence}.")),
        });
        true
    }

    /// The outcome of a picture, told.
    pub fn told_picture(&mut self, outcome: Result<Option<PathBuf>, String>) {
        self.bench.tell(match outcome {
            Ok(Some(path)) => Notice::Done(format!("The picture is in {}.", path.display())),
            Ok(None) => Notice::Done("The picture is on the clipboard, to be pasted.".to_owned()),
            Err(sentence) => Notice::Refused(format!("No picture: {sentence}.")),
        });
    }
}

fn with_extension(purpose: PathPurpose, path: PathBuf) -> PathBuf {
    if purpose.opens() || purpose == PathPurpose::Brackets || path.extension().is_some() {
        path
    } else {
        path.with_extension(purpose.extension())
    }
}
