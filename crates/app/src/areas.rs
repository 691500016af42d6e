//! The areas of the window: panels around the stage, and what floats over it.

use panels::{Act, Action, MenuView, Overlay};
use stage::Quality;

use crate::desk::{Beside, Card, Desk};
use crate::{marks, measuring};

const HINT: &str =
    "Drag a mount   ·   drag the ride post down to lay it out   ·   Ctrl+N begins your own truck, F2 opens the guide";

const HINT_MEASURING: &str =
    "Click what to measure from, then what to; from behind, the side or above any place will do   ·   D ends measuring";

/// Room for the tape sheet and the strips beside the stage, points.
const WIDE: f32 = 1500.0;

pub fn panels_ui(ui: &mut egui::Ui, desk: &mut Desk, quality: Quality) -> Vec<Act> {
    let mut acts = Vec::new();
    let place = Quality::ALL.iter().position(|q| *q == quality).unwrap_or(0);
    let names = Quality::ALL.map(Quality::label);
    let is_on = |action: Action| desk.is_on(action);
    let view = MenuView {
        is_on: &is_on,
        qualities: &names,
        quality: place,
        recent: desk.recent(),
    };
    egui::Panel::top("menu").show(ui, |ui| acts.extend(panels::menu_ui(ui, &desk.bench, &view)));
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
        egui::Panel::left("tape sheet")
            .resizable(true)
            .default_size(430.0)
            .size_range(400.0..=560.0)
            .show(ui, |ui| {
                acts.extend(match beside {
                    Beside::TapeSheet => panels::tape_sheet_ui(ui, &desk.bench),
                    Beside::Parts => panels::parts_drawer_ui(ui, &desk.bench),
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

/// The stage's overlay, the cards that float on it, and dialogs; true if the pointer did something.
pub fn stage_ui(ui: &mut egui::Ui, desk: &mut Desk, pane: egui::Rect, acts: &mut Vec<Act>) -> bool {
    desk.stage.place(pane, desk.bench.setup());
    let row = desk.shown_row();
    let mut did = Vec::new();
    if let Some(row) = row {
        let handles = desk.stage.handles(&desk.bench, &row);
        let (path, path_words) = if desk.see.path {
            desk.stage.path(&desk.bench, &row)
        } else {
            (Vec::new(), String::new())
        };
        let view = [desk.stage.view_words(), path_words].join("\n");
        let hint = if desk.measuring.is_some() { HINT_MEASURING } else { HINT };
        let mut marks = if desk.see.centres {
            marks::marks(&desk.stage, &desk.bench, &row)
        } else {
            Vec::new()
        };
        let near = desk.lit().near;
        marks.extend(near.and_then(|near| marks::tight_place(&desk.stage, &desk.bench, &row, &near)));
        let spots = desk.measuring.as_ref().map(|m| m.spots(&desk.stage, &desk.bench, &row));
        if let Some(measuring) = &desk.measuring {
            marks.extend(measuring.mark(&desk.stage, &desk.bench, &row));
        } else if desk.see.dimensions {
            marks.extend(measuring::dimensions(&desk.stage, &desk.bench, &row));
        }
        let with: Vec<_> = desk.bench.selection().all().collect();
        let over = Overlay {
            handles: &handles,
            selected: desk.bench.selected(),
            with: &with,
            dragged: desk.stage.dragged(),
            path: &path,
            marks: &marks,
            spots: spots.as_deref(),
            hint,
            view: view.trim_end(),
        };
        let mut stage = ui.new_child(egui::UiBuilder::new().max_rect(pane).id_salt("stage"));
        stage.set_clip_rect(pane);
        did = panels::stage_overlay_ui(&mut stage, pane, &over);
    }
    if ui.input(|i| i.key_pressed(egui::Key::Escape)) && !ui.ctx().text_edit_focused() {
        desk.step_back();
    }
    cards(ui, desk, pane, acts);
    if let Some(mut dialog) = desk.dialog.take() {
        acts.extend(panels::dialog_ui(ui.ctx(), &desk.bench, &mut dialog));
        desk.dialog = Some(dialog);
    }
    let any = !did.is_empty();
    if did
        .iter()
        .any(|act| matches!(act, panels::StageAct::Grab(..) | panels::StageAct::Nudge(_)))
    {
        // Whoever takes hold of something takes hold of the axle as the bars have it.
        desk.swimming = None;
    }
    for act in did {
        match (act, &mut desk.measuring, row) {
            (panels::StageAct::Measure(at), Some(measuring), Some(row)) => {
                measuring.pick(at, &desk.stage, &desk.bench, &row);
            }
            (panels::StageAct::MeasureSpot(place), Some(measuring), Some(row)) => {
                let spots = measuring.spots(&desk.stage, &desk.bench, &row);
                if let Some(spot) = spots.get(place) {
                    measuring.pick_spot(&spot.name);
                }
            }
            (act, ..) => desk.stage.act(act, &mut desk.bench),
        }
    }
    any
}

fn cards(ui: &egui::Ui, desk: &mut Desk, pane: egui::Rect, acts: &mut Vec<Act>) {
    let card = |title: &str, at: egui::Pos2, pivot: egui::Align2| {
        egui::Window::new(title.to_owned())
            // Where another stage begins, so does another place for the card.
            .id(egui::Id::new((title, pane.left().to_bits(), pane.right().to_bits())))
            .title_bar(false)
            .resizable(false)
            .default_width(250.0)
            .max_width(270.0)
            .constrain_to(pane)
            .pivot(pivot)
            .default_pos(at)
    };
    if desk.bench.selected().is_some() && desk.stage.dragged().is_none() {
        let at = pane.right_top() + egui::vec2(-10.0, 10.0);
        card("mount", at, egui::Align2::RIGHT_TOP)
            .show(ui.ctx(), |ui| acts.extend(panels::mount_card_ui(ui, &desk.bench)));
    }
    let Some(open) = desk.card else { return };
    let (name, wide) = match open {
        Card::Truck => ("truck", 270.0),
        Card::AsBuilt => ("as built", 480.0),
    };
    let at = pane.left_top() + egui::vec2(10.0, 46.0);
    let mut closed = false;
    let shown = card(name, at, egui::Align2::LEFT_TOP)
        .default_width(wide)
        .max_width(wide);
    shown.show(ui.ctx(), |ui| {
        match open {
            Card::Truck => acts.extend(panels::truck_card_ui(ui, &desk.bench)),
            Card::AsBuilt => panels::built_card_ui(ui, &desk.bench),
        }
        closed = ui.button("Close").clicked();
    });
    if closed {
        desk.card = None;
    }
}
