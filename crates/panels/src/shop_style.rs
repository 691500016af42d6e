//! What a shop puts on the paper that leaves it.

use std::path::PathBuf;

use egui::{TextEdit, Ui};

use crate::actions::Act;
use crate::theme::strong;

/// Name, logo and paper of a shop.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ShopStyle {
    /// Its name; empty for none.
    pub name: String,
    /// A picture file with its logo.
    pub logo: Option<PathBuf>,
    /// True for US letter, false for A4.
    pub letter: bool,
}

/// Draws the question.
pub(crate) fn shop_ui(ui: &mut Ui, style: &mut ShopStyle) -> Vec<Act> {
    let mut acts = Vec::new();
    ui.label(strong("On build sheets and pictures", 17.0));
    let label = ui.label("Name of the shop:");
    ui.add(TextEdit::singleline(&mut style.name).desired_width(f32::INFINITY))
        .labelled_by(label.id);
    let label = ui.label("File with its logo, PNG or JPEG (an SVG only for build sheets):");
    let mut logo = style
        .logo
        .as_ref()
        .map(|path| path.display().to_string())
        .unwrap_or_default();
    ui.add(TextEdit::singleline(&mut logo).desired_width(f32::INFINITY))
        .labelled_by(label.id);
    style.logo = (!logo.trim().is_empty()).then(|| PathBuf::from(logo));
    ui.horizontal(|ui| {
        ui.label("Paper:");
        ui.radio_value(&mut style.letter, false, "A4");
        ui.radio_value(&mut style.letter, true, "Letter");
    });
    ui.horizontal(|ui| {
        if ui.button("Keep").clicked() {
            acts.extend([Act::Shop(style.clone()), Act::CloseDialog]);
        }
        if ui.button("Cancel").clicked() {
            acts.push(Act::CloseDialog);
        }
    });
    acts
}
