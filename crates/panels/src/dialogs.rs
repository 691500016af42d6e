//! Questions that hold everything else up: a path to open or save to, and unsaved work.

use std::path::{Path, PathBuf};

use egui::{Context, Id, Modal, Ui};
use shop::Bench;

use crate::actions::{Act, Action};
use crate::guide::GuidePage;
use crate::path_dialog::{PathPurpose, PathQuestion, path_ui};
use crate::shop_style::{ShopStyle, shop_ui};
use crate::theme::strong;

/// An open dialog.
#[derive(Clone, Debug, PartialEq)]
pub enum Dialog {
    /// Asks for a path.
    Path(PathQuestion),
    /// Asks whether to replace a file.
    Replace {
        /// What for.
        purpose: PathPurpose,
        /// The file.
        path: PathBuf,
    },
    /// Asks what to do with unsaved work.
    Unsaved,
    /// Somebody else has written to the file that is to be saved.
    ChangedOnDisk {
        /// The file.
        path: PathBuf,
    },
    /// A program that died has left work behind.
    LeftBehind {
        /// The setup's name.
        name: String,
        /// The last step that was finished.
        step: String,
        /// The file it was opened from or saved to, if any.
        path: Option<PathBuf>,
    },
    /// Asks what the shop puts on its paper.
    Shop(ShopStyle),
    /// Ways to hang the axle.
    Layouts,
    /// The guide, open at a page.
    Guide(GuidePage),
    /// The list of keys, or the cautions.
    Help(Action),
}

/// Draws a dialog over everything else; `is_on` says which switches of the window are on.
pub fn dialog_ui(ctx: &Context, bench: &Bench, is_on: &dyn Fn(Action) -> bool, dialog: &mut Dialog) -> Vec<Act> {
    let mut acts = Vec::new();
    let modal = Modal::new(Id::new("dialog")).show(ctx, |ui| {
        let wide = match dialog {
            Dialog::Layouts | Dialog::Guide(_) => (ctx.content_rect().width() - 80.0).min(980.0),
            _ => 460.0,
        };
        ui.set_width(wide);
        match dialog {
            Dialog::Path(question) => path_ui(ui, question, &mut acts),
            Dialog::Replace { purpose, path } => replace_ui(ui, *purpose, path, &mut acts),
            Dialog::Unsaved => unsaved_ui(ui, bench, &mut acts),
            Dialog::ChangedOnDisk { path } => changed_ui(ui, path, &mut acts),
            Dialog::LeftBehind { name, step, path } => left_ui(ui, [name, step], path.as_deref(), &mut acts),
            Dialog::Shop(style) => acts.extend(shop_ui(ui, style)),
            Dialog::Layouts => {
                ui.set_height(ctx.content_rect().height() - 110.0);
                ui.horizontal(|ui| {
                    ui.label(strong("How should the axle hang?", 17.0));
                    close(ui, &mut acts);
                });
                acts.extend(crate::layout_chooser::layout_chooser_ui(ui, bench));
            }
            Dialog::Guide(page) => {
                ui.set_height(ctx.content_rect().height() - 110.0);
                ui.horizontal(|ui| {
                    ui.label(strong("Guide", 17.0));
                    close(ui, &mut acts);
                });
                acts.extend(page.show(ui, bench.setup(), is_on));
            }
            Dialog::Help(what) => {
                ui.label(strong(what.text(), 17.0));
                crate::help::help_ui(ui, *what);
                close(ui, &mut acts);
            }
        }
    });
    if acts.is_empty() && modal.should_close() {
        acts.push(Act::CloseDialog);
    }
    acts
}

/// The way out of a dialog that has nothing to ask.
fn close(ui: &mut Ui, acts: &mut Vec<Act>) {
    if ui.button("Close").clicked() {
        acts.push(Act::CloseDialog);
    }
}

fn replace_ui(ui: &mut Ui, purpose: PathPurpose, path: &Path, acts: &mut Vec<Act>) {
    ui.label(strong("Replace the file?", 17.0));
    let what = match purpose {
        PathPurpose::Brackets => "Files in it that have the same names are replaced.",
        _ => "",
    };
    ui.label(format!("{} is already there. {what}", path.display()).trim_end());
    ui.horizontal(|ui| {
        if ui.button("Replace").clicked() {
            acts.push(Act::Path(purpose, path.to_owned()));
        }
        if ui.button("Cancel").clicked() {
            acts.push(Act::CloseDialog);
        }
    });
}

fn unsaved_ui(ui: &mut Ui, bench: &Bench, acts: &mut Vec<Act>) {
    ui.label(strong("Save your work first?", 17.0));
    ui.label(format!("\"{}\" has changes that are not saved.", bench.setup().name));
    let beside: Vec<_> = bench.beside().unsaved().map(|d| d.setup().name.as_str()).collect();
    if !beside.is_empty() {
        ui.label(format!("Not saved either, beside it: {}.", beside.join(", ")));
    }
    ui.horizontal(|ui| {
        if ui.button("Save").clicked() {
            acts.push(Act::Choose(Action::Save));
        }
        if ui.button("Go on without saving").clicked() {
            acts.push(Act::GoOnUnsaved);
        }
        if ui.button("Cancel").clicked() {
            acts.push(Act::CloseDialog);
        }
    });
}

fn changed_ui(ui: &mut Ui, path: &Path, acts: &mut Vec<Act>) {
    ui.label(strong("Save over somebody else's changes?", 17.0));
    let name = path.display();
    ui.label(format!(
        "{name} has been written to by another window or program since it was opened here. Saved over, what was written there is lost."
    ));
    ui.horizontal(|ui| {
        if ui.button("Save somewhere else…").clicked() {
            acts.push(Act::Choose(Action::SaveAs));
        }
        if ui.button("Save over it").clicked() {
            acts.push(Act::SaveOver);
        }
        if ui.button("Cancel").clicked() {
            acts.push(Act::CloseDialog);
        }
    });
}

fn left_ui(ui: &mut Ui, [name, step]: [&str; 2], path: Option<&Path>, acts: &mut Vec<Act>) {
    ui.label(strong("Take up what was left?", 17.0));
    let file = path.map_or_else(|| "never saved to a file".to_owned(), |path| path.display().to_string());
    ui.label(format!(
        "The program ended last time without saving \"{name}\" ({file}). Everything up to the last finished step, \"{step}\", is still there."
    ));
    ui.horizontal(|ui| {
        if ui.button("Take it up again").clicked() {
            acts.push(Act::TakeUp(true));
        }
        if ui.button("Throw it away").clicked() {
            acts.push(Act::TakeUp(false));
        }
        let tip = "It is offered again at the next start";
        if ui.button("Not now").on_hover_text(tip).clicked() {
            acts.push(Act::CloseDialog);
        }
    });
}
