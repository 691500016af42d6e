//! Asks for a file: a path to type, and what there is in its folder to choose from.

use std::path::{Path, PathBuf};

use egui::{Button, Id, Key, ScrollArea, Ui};
use rearend::findings::Grade;
use shop::disk::Listing;

use crate::actions::Act;
use crate::theme::{Inks, strong};

/// What a path is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PathPurpose {
    /// A setup to open.
    Open,
    /// A setup to put beside the open one.
    OpenBeside,
    /// Where to save the setup.
    SaveAs,
    /// Where to save the picture.
    Picture,
    /// Where to save a picture of three heights.
    PictureOfHeights,
    /// Where to save a picture of all that lies side by side.
    PictureBeside,
    /// Where to save the build sheet.
    Sheet,
    /// The folder to write brackets to.
    Brackets,
    /// Where to save the travel as a table.
    TravelTable,
    /// Where to save the table of setups side by side.
    CompareTable,
}

impl PathPurpose {
    fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a setup",
            Self::OpenBeside => "Open a setup beside this one",
            Self::SaveAs => "Save the setup as",
            Self::Picture => "Save a picture as",
            Self::PictureOfHeights => "Save a picture of three heights as",
            Self::PictureBeside => "Save a picture of all side by side as",
            Self::Sheet => "Save the build sheet as",
            Self::Brackets => "Write brackets to a folder",
            Self::TravelTable => "Save the travel as a table",
            Self::CompareTable => "Save the figures side by side as a table",
        }
    }

    /// What its files end with.
    #[must_use]
    pub fn extension(self) -> &'static str {
        match self {
            Self::Open | Self::OpenBeside | Self::SaveAs => "ron",
            Self::Picture | Self::PictureOfHeights | Self::PictureBeside => "png",
            Self::Sheet => "pdf",
            Self::TravelTable | Self::CompareTable => "csv",
            // A folder, in which files with this end are listed.
            Self::Brackets => "dxf",
        }
    }

    /// True for what has to be there already.
    #[must_use]
    pub fn opens(self) -> bool {
        matches!(self, Self::Open | Self::OpenBeside)
    }

    fn verb(self) -> &'static str {
        match self {
            Self::Open | Self::OpenBeside => "Open",
            Self::Brackets => "Write",
            _ => "Save",
        }
    }
}

/// A question for a path.
#[derive(Clone, Debug, PartialEq)]
pub struct PathQuestion {
    /// What for.
    pub purpose: PathPurpose,
    /// What is typed so far.
    pub text: String,
    /// Whether the system has a file dialog to offer.
    pub can_browse: bool,
    /// What was wrong with what was typed before.
    pub complaint: Option<String>,
    /// What there is in the folder of what is typed.
    pub listing: Listing,
}

impl PathQuestion {
    /// A question with nothing wrong yet, and nothing listed.
    #[must_use]
    pub fn new(purpose: PathPurpose, text: String) -> Self {
        Self {
            purpose,
            text,
            can_browse: false,
            complaint: None,
            listing: Listing::default(),
        }
    }

    /// Lists what there is in the folder of what is typed, once it is another that can be read.
    pub fn list(&mut self) {
        let folder = self.folder();
        if folder != self.listing.folder && folder.is_dir() {
            self.listing = Listing::of(&folder, self.purpose.extension());
        }
    }

    /// The folder that what is typed so far is in.
    fn folder(&self) -> PathBuf {
        let typed = self.text.trim();
        if typed.ends_with(std::path::is_separator) {
            PathBuf::from(typed)
        } else {
            Path::new(typed).parent().map(Path::to_path_buf).unwrap_or_default()
        }
    }
}

/// Draws the question.
pub(crate) fn path_ui(ui: &mut Ui, question: &mut PathQuestion, acts: &mut Vec<Act>) {
    let purpose = question.purpose;
    ui.label(strong(purpose.title(), 17.0));
    let label = ui.label(match purpose {
        PathPurpose::Brackets => "Folder; it is made where there is none:",
        _ => "File, with its folder:",
    });
    let edit = ui
        .add(
            egui::TextEdit::singleline(&mut question.text)
                .desired_width(f32::INFINITY)
                .id(Id::new("path box")),
        )
        .labelled_by(label.id);
    let entered = edit.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
    if has_just_opened(ui) || (entered && question.text.trim().is_empty()) {
        edit.request_focus();
        crate::field::select_all(ui, edit.id, question.text.chars().count());
    }
    let chosen = listing_ui(ui, question);
    let is_typed = !question.text.trim().is_empty();
    ui.horizontal(|ui| {
        let go = ui.add_enabled(is_typed, Button::new(purpose.verb())).clicked();
        if (go || entered || chosen) && is_typed {
            acts.push(Act::Path(purpose, PathBuf::from(question.text.trim())));
        }
        if question.can_browse && ui.button("Browse…").clicked() {
            acts.push(Act::Browse(purpose));
        }
        if ui.button("Cancel").clicked() {
            acts.push(Act::CloseDialog);
        }
    });
    if let Some(complaint) = &question.complaint {
        let (mark, colour) = Inks::grade(ui, Grade::WontWork);
        ui.label(egui::RichText::new(format!("{mark} {complaint}")).color(colour));
    }
}

/// Folders to go into and files to take. A click writes the path into the box; true for a second one, which takes the file.
fn listing_ui(ui: &mut Ui, question: &mut PathQuestion) -> bool {
    let listing = question.listing.clone();
    let above = listing.folder.parent().filter(|above| !above.as_os_str().is_empty());
    if above.is_none() && listing.folders.is_empty() && listing.files.is_empty() {
        return false;
    }
    let mut is_taken = false;
    let saved_as = (!question.purpose.opens() && !question.text.ends_with(std::path::is_separator))
        .then(|| {
            Path::new(question.text.trim())
                .file_name()
                .map(std::ffi::OsStr::to_os_string)
        })
        .flatten();
    ScrollArea::vertical()
        .max_height(190.0)
        .min_scrolled_height(190.0)
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            let mut row = |text: String, goes_to: &Path, is_folder: bool| {
                let selected = !is_folder && Path::new(question.text.trim()) == goes_to;
                let button = ui.add(Button::selectable(selected, text).frame_when_inactive(false));
                if button.clicked() {
                    question.complaint = None;
                    // What is to be saved keeps its name; otherwise the path ends with a separator, for a name to be typed behind it.
                    let path = match (is_folder, saved_as.as_deref()) {
                        (true, name) => goes_to.join(name.unwrap_or_default()),
                        (false, _) => goes_to.to_owned(),
                    };
                    question.text = path.display().to_string();
                }
                is_taken |= !is_folder && button.double_clicked();
            };
            if let Some(above) = above {
                row("up one folder".to_owned(), above, true);
            }
            for name in &listing.folders {
                row(format!("{name}/"), &listing.folder.join(name), true);
            }
            for name in &listing.files {
                row(name.clone(), &listing.folder.join(name), false);
            }
        });
    is_taken
}

/// True in the first pass of a dialog: it was not there in the pass before.
fn has_just_opened(ui: &Ui) -> bool {
    let seen = Id::new("path dialog seen");
    let now = ui.ctx().cumulative_pass_nr();
    let last = ui.data_mut(|d| d.get_temp_mut_or_insert_with(seen, || None::<u64>).replace(now));
    last.is_none_or(|last| now > last + 1)
}
