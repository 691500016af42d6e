//! The list of keys, and the cautions.

use egui::Ui;
use rearend::figures::CAUTION;

use crate::actions::Action;
use crate::theme::strong;

const MOUSE: [(&str, &str); 8] = [
    (
        "Drag a mount",
        "moves it in the plane you look at; everything follows at once",
    ),
    ("X, Y or Z held while dragging", "moves it forward, sideways or up only"),
    ("Shift held while dragging", "frees it from the steps of the tape"),
    ("Esc while dragging", "puts it back"),
    (
        "Drag beside the mounts",
        "turns the truck; right or middle button slides it; the wheel zooms",
    ),
    (
        "Shift and click, or Enter on a mount",
        "chooses a mount to go along: what is chosen moves together",
    ),
    ("Drag the ride post or a strip", "lowers and lifts the truck"),
    (
        "Tab, then arrow keys",
        "reach and move everything without a mouse; arrows nudge the selected mount",
    ),
];

const CAUTIONS: [&str; 4] = [
    "A rear axle that lets go kills people.",
    CAUTION,
    "Support the truck on stands before you go under it. Tack, measure and cycle the axle through its whole travel before final weld.",
    "Where local law asks for it, a licensed engineer or inspector has to check the finished work.",
];

/// Draws the help that an entry asks for.
pub fn help_ui(ui: &mut Ui, what: Action) {
    ui.set_max_width(560.0);
    if what == Action::Cautions {
        for caution in CAUTIONS {
            ui.add(egui::Label::new(caution).wrap());
        }
        return;
    }
    egui::ScrollArea::vertical().max_height(460.0).show(ui, |ui| {
        egui::Grid::new("mouse").num_columns(2).striped(true).show(ui, |ui| {
            for (what, does) in MOUSE {
                ui.label(strong(what, 13.0));
                ui.add(egui::Label::new(does).wrap());
                ui.end_row();
            }
        });
        ui.separator();
        egui::Grid::new("keys").num_columns(2).striped(true).show(ui, |ui| {
            for action in Action::ALL {
                let Some(shortcut) = action.shortcut() else { continue };
                ui.label(strong(ui.ctx().format_shortcut(&shortcut), 13.0));
                ui.label(action.tip());
                ui.end_row();
            }
        });
    });
}
