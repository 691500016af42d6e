//! The panels around the stage.

use panels::{Act, Action, MenuView};
use stage::Quality;

use crate::desk::{Beside, Desk};

/// Room for the tape sheet and the strips beside the stage, points.
const WIDE: f32 = 1500.0;

/// Draws them; what is left of the window is the stage's.
pub fn panels_ui(ui: &mut egui::Ui, desk: &mut Desk, quality: Quality) -> Vec<Act> {
    let mut acts = menu_ui(ui, desk, quality);
    egui::Panel::bottom("findings")
        .resizable(true)
        .default_size(158.0)
        .size_range(70.0..=360.0)
        .show(ui, |ui| {
            acts.extend(panels::findings_ui(ui, &desk.bench, desk.surveyor.progress()));
        });
    egui::Panel::left("ride post")
        .resizable(false)
        .exact_size(136.0)
        .show(ui, |ui| {
            acts.extend(panels::ride_post_ui(ui, &desk.bench, desk.playing.is_some()));
        });
    if let Some(beside) = desk.beside {
        let (name, wide) = match beside {
            Beside::TapeSheet | Beside::Parts => ("tape sheet", 430.0),
            Beside::Others => ("side by side", 570.0),
        };
        egui::Panel::left(name)
            .resizable(true)
            .default_size(wide)
            .size_range(400.0..=900.0)
            .show(ui, |ui| {
                acts.extend(match beside {
                    Beside::TapeSheet => panels::tape_sheet_ui(ui, &desk.bench),
                    Beside::Parts => panels::parts_drawer_ui(ui, &desk.bench),
                    Beside::Others => panels::beside_ui(ui, &desk.bench),
                });
            });
    }
    // With something on both sides too little of the stage would be left.
    if desk.beside.is_none() || ui.ctx().content_rect().width() >= WIDE {
        egui::Panel::right("strips")
            .resizable(true)
            .default_size(352.0)
            .size_range(270.0..=640.0)
            .show(ui, |ui| {
                acts.extend(panels::strips_ui(ui, &desk.bench, &desk.strips));
            });
    }
    acts
}

fn menu_ui(ui: &mut egui::Ui, desk: &Desk, quality: Quality) -> Vec<Act> {
    let place = Quality::ALL.iter().position(|q| *q == quality).unwrap_or(0);
    let names = Quality::ALL.map(Quality::label);
    let is_on = |action: Action| desk.is_on(action);
    let making = desk.making.as_ref().map(crate::making::Making::words);
    let view = MenuView {
        is_on: &is_on,
        qualities: &names,
        quality: place,
        recent: desk.recent(),
        making: making.as_deref(),
    };
    let mut acts = Vec::new();
    egui::Panel::top("menu").show(ui, |ui| acts.extend(panels::menu_ui(ui, &desk.bench, &view)));
    acts
}
