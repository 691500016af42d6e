//! The cards that float on the stage.

use egui::{Align2, Context, Pos2, Rect, Vec2, vec2};
use panels::Act;

use crate::desk::{Card, Desk};

/// Corners of the stage where the mount's card may lie, in the order they are tried.
const CORNERS: [Align2; 4] = [
    Align2::RIGHT_TOP,
    Align2::RIGHT_BOTTOM,
    Align2::LEFT_BOTTOM,
    Align2::LEFT_TOP,
];

/// As large as the mount's card usually is, before it is known.
const CARD: Vec2 = vec2(270.0, 400.0);

/// Room that a mount in hand keeps from its card.
const AROUND_A_MOUNT: f32 = 24.0;

/// Where a card begins that is never drawn twice at one place: where another stage begins, so does another place for it.
fn card_id(title: &str, pane: Rect, corner: usize) -> egui::Id {
    egui::Id::new((title, pane.left().to_bits(), pane.right().to_bits(), corner))
}

/// The corner where the mount's card covers nothing that is selected; it stays where it is while it covers nothing, or is typed into.
fn free_corner(ctx: &Context, pane: Rect, before: usize, in_hand: &[Pos2]) -> usize {
    let now = ctx.memory(|m| m.area_rect(card_id("mount", pane, before)));
    let size = now.map_or(CARD, |rect| rect.size());
    let nominal = |corner: usize| CORNERS[corner].align_size_within_rect(size, pane.shrink(10.0));
    let covers = |rect: Rect| in_hand.iter().any(|at| rect.expand(AROUND_A_MOUNT).contains(*at));
    if ctx.text_edit_focused() || !covers(now.unwrap_or_else(|| nominal(before))) {
        return before;
    }
    let free = |corner: &usize| !covers(nominal(*corner));
    (0..CORNERS.len()).find(free).unwrap_or(before)
}

/// Draws those that are open; `in_hand` is where the selected mounts are.
pub fn cards_ui(ui: &egui::Ui, desk: &mut Desk, pane: Rect, in_hand: &[Pos2], acts: &mut Vec<Act>) {
    let card = |title: &str, at: Pos2, pivot: Align2, corner: usize| {
        egui::Window::new(title.to_owned())
            .id(card_id(title, pane, corner))
            .title_bar(false)
            .resizable(false)
            .default_width(250.0)
            .max_width(270.0)
            .constrain_to(pane)
            .pivot(pivot)
            .default_pos(at)
    };
    if desk.bench.selected().is_some() && desk.stage.dragged().is_none() {
        desk.card_corner = free_corner(ui.ctx(), pane, desk.card_corner, in_hand);
        let corner = CORNERS[desk.card_corner];
        let at = corner.pos_in_rect(&pane.shrink(10.0));
        card("mount", at, corner, desk.card_corner)
            .show(ui.ctx(), |ui| acts.extend(panels::mount_card_ui(ui, &desk.bench)));
    }
    let Some(open) = desk.card else { return };
    let (name, wide) = match open {
        Card::Truck => ("truck", 270.0),
        Card::AsBuilt => ("as built", 480.0),
    };
    let at = pane.left_top() + vec2(10.0, 46.0);
    let mut closed = false;
    let shown = card(name, at, Align2::LEFT_TOP, 0).default_width(wide).max_width(wide);
    shown.show(ui.ctx(), |ui| {
        match open {
            Card::Truck => acts.extend(panels::truck_card_ui(ui, &desk.bench)),
            Card::AsBuilt => acts.extend(panels::built_card_ui(ui, &desk.bench)),
        }
        closed = ui.button("Close").clicked();
    });
    if closed {
        desk.card = None;
    }
}
