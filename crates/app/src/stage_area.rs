//! The stage and what lies over it: handles, lines and words, cards, dialogs.

use egui::{Pos2, Rect};
use panels::{Act, Mark, Overlay, StageAct};
use rearend::travel::Row;

use crate::cards::cards_ui;
use crate::desk::{Beside, Desk};
use crate::{marks, measuring};

const HINT: &str =
    "Drag a mount   ·   drag the ride post down to lay it out   ·   Ctrl+N begins your own truck, F2 opens the guide";

const HINT_MEASURING: &str =
    "Click what to measure from, then what to; from behind, the side or above any place will do   ·   D ends measuring";

/// Draws all that lies over the stage; true if the pointer did something there.
pub fn stage_ui(ui: &mut egui::Ui, desk: &mut Desk, pane: Rect, acts: &mut Vec<Act>) -> bool {
    desk.stage.place(pane, desk.bench.setup());
    let row = desk.shown_row();
    let (did, in_hand) = row.map(|row| overlay_ui(ui, desk, pane, &row)).unwrap_or_default();
    if ui.input(|i| i.key_pressed(egui::Key::Escape)) && !ui.ctx().text_edit_focused() {
        desk.step_back();
    }
    cards_ui(ui, desk, pane, &in_hand, acts);
    if let Some(mut dialog) = desk.dialog.take() {
        let is_on = |action| desk.is_on(action);
        acts.extend(panels::dialog_ui(ui.ctx(), &desk.bench, &is_on, &mut dialog));
        if let panels::Dialog::Path(question) = &mut dialog {
            question.list();
        }
        desk.dialog = Some(dialog);
    }
    let any = !did.is_empty();
    let takes_hold = |act: &StageAct| matches!(act, StageAct::Grab(..) | StageAct::Nudge(_));
    if did.iter().any(takes_hold) {
        // Whoever takes hold of something takes hold of the axle as the bars have it.
        desk.swimming = None;
    }
    for act in did {
        carry_out(desk, row.as_ref(), act);
    }
    any
}

/// What the pointer did, and where the selected mounts are.
fn overlay_ui(ui: &mut egui::Ui, desk: &Desk, pane: Rect, row: &Row) -> (Vec<StageAct>, Vec<Pos2>) {
    let handles = desk.stage.handles(&desk.bench, row);
    let (path, path_words) = if desk.see.path {
        desk.stage.path(&desk.bench, row)
    } else {
        (Vec::new(), String::new())
    };
    let view = [desk.stage.view_words(), path_words].join("\n");
    let spots = desk.measuring.as_ref().map(|m| m.spots(&desk.stage, &desk.bench, row));
    let with: Vec<_> = desk.bench.selection().all().collect();
    let over = Overlay {
        handles: &handles,
        selected: desk.bench.selected(),
        with: &with,
        dragged: desk.stage.dragged(),
        path: &path,
        marks: &all_marks(desk, row),
        spots: spots.as_deref(),
        hint: if desk.measuring.is_some() { HINT_MEASURING } else { HINT },
        view: view.trim_end(),
    };
    let mut stage = ui.new_child(egui::UiBuilder::new().max_rect(pane).id_salt("stage"));
    stage.set_clip_rect(pane);
    let did = panels::stage_overlay_ui(&mut stage, pane, &over);
    let in_hand = handles.iter().filter(|h| with.contains(&h.mount)).map(|h| h.at);
    (did, in_hand.collect())
}

fn all_marks(desk: &Desk, row: &Row) -> Vec<Mark> {
    let (pane, bench) = (&desk.stage, &desk.bench);
    let mut all = Vec::new();
    if desk.see.centres {
        all.extend(marks::marks(pane, bench, row));
    }
    if desk.beside == Some(Beside::Others) {
        all.extend(marks::beside(pane, bench, row));
    }
    let near = desk.lit().near;
    all.extend(near.and_then(|near| marks::tight_place(pane, bench, row, &near)));
    if let Some(measuring) = &desk.measuring {
        all.extend(measuring.mark(pane, bench, row));
    } else if desk.see.dimensions {
        all.extend(measuring::dimensions(pane, bench, row));
    }
    all
}

fn carry_out(desk: &mut Desk, row: Option<&Row>, act: StageAct) {
    match (act, &mut desk.measuring, row) {
        (StageAct::Measure(at), Some(measuring), Some(row)) => measuring.pick(at, &desk.stage, &desk.bench, row),
        (StageAct::MeasureSpot(place), Some(measuring), Some(row)) => {
            let spots = measuring.spots(&desk.stage, &desk.bench, row);
            if let Some(spot) = spots.get(place) {
                measuring.pick_spot(&spot.name);
            }
        }
        (act, ..) => desk.stage.act(act, &mut desk.bench),
    }
}
