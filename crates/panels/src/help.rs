//! The list of keys, and the cautions.

use egui::{Align, Layout, Shape, Ui, Vec2};
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
    // Heading and way out of the dialog need room too, in a low window as well.
    let high = (ui.ctx().content_rect().height() - 160.0).clamp(120.0, 460.0);
    egui::ScrollArea::vertical().max_height(high).show(ui, keys_ui);
}

/// Draws what the mouse does and what every key does, as high as that is.
pub(crate) fn keys_ui(ui: &mut Ui) {
    for (place, (what, does)) in MOUSE.into_iter().enumerate() {
        row(ui, place, (what, does), 0.42);
    }
    ui.separator();
    let keys = Action::ALL
        .into_iter()
        .filter_map(|action| Some((action, action.shortcut()?)));
    for (place, (action, shortcut)) in keys.enumerate() {
        let key = ui.ctx().format_shortcut(&shortcut);
        row(ui, place, (&key, action.tip()), 0.25);
    }
}

/// Two texts side by side, each broken within its part of the width; every other row on a ground of its own.
fn row(ui: &mut Ui, place: usize, (what, does): (&str, &str), share: f32) {
    let ground = ui.painter().add(Shape::Noop);
    let room = ui.available_width() - ui.spacing().item_spacing.x;
    let texts = [(share, strong(what, 13.0)), (1.0 - share, does.into())];
    let response = ui.horizontal_top(|ui| {
        for (share, text) in texts {
            let size = Vec2::new(room * share, 0.0);
            ui.allocate_ui_with_layout(size, Layout::top_down(Align::Min), |ui| {
                ui.set_width(room * share);
                ui.add(egui::Label::new(text).wrap());
            });
        }
    });
    if place.is_multiple_of(2) {
        let area = response.response.rect.expand2(Vec2::new(2.0, 1.0));
        let fill = ui.visuals().faint_bg_color;
        ui.painter().set(ground, Shape::rect_filled(area, 2.0, fill));
    }
}
