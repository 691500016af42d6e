//! What lies over the stage: handles of the mounts, which keep their size, the axle's path, the hint; and what the pointer does there.

use egui::{Align2, Color32, FontId, Key, PointerButton, Pos2, Rect, Response, Sense, Stroke, Ui, Vec2, pos2};
use rearend::setup::{Carrier, Mount};

/// A mount as it appears.
#[derive(Clone, Debug)]
pub struct Handle {
    /// Which.
    pub mount: Mount,
    /// Where.
    pub at: Pos2,
    /// Frame mounts are square, axle mounts round.
    pub carrier: Carrier,
    /// Its name and coordinates.
    pub label: String,
    /// Colour of its bar's role.
    pub colour: [u8; 3],
}

/// Something to see and not to take hold of: a centre with its path, a hinge axis, a word at a bar.
#[derive(Clone, Debug, Default)]
pub struct Mark {
    /// A line through the stage.
    pub line: Vec<Pos2>,
    /// A cross.
    pub cross: Option<Pos2>,
    /// What it is, beside the cross or the line's middle.
    pub words: String,
}

/// All that lies over the stage.
pub struct Overlay<'a> {
    /// The mounts, farthest first.
    pub handles: &'a [Handle],
    /// The selected one.
    pub selected: Option<Mount>,
    /// The one being dragged.
    pub dragged: Option<Mount>,
    /// The path of the axle's centre.
    pub path: &'a [Pos2],
    /// Centres, axes, words.
    pub marks: &'a [Mark],
    /// The line at the bottom.
    pub hint: &'a str,
    /// What is seen: the view, and what the path is.
    pub view: &'a str,
}

/// The pointer during a drag.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pointer {
    /// Where it is.
    pub at: Pos2,
    /// Free of the tape's steps.
    pub free: bool,
    /// The axis key held: 0, 1, 2 for X, Y, Z.
    pub axis: Option<usize>,
}

/// What the pointer did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StageAct {
    /// Took hold of a mount.
    Grab(Mount, Pointer),
    /// Drags it.
    Drag(Pointer),
    /// Let go.
    Drop,
    /// Put it back.
    Cancel,
    /// Select a mount or none.
    Select(Option<Mount>),
    /// Turn, in parts of the stage's height.
    Orbit(Vec2),
    /// Slide.
    Pan(Vec2),
    /// Come nearer by this factor.
    Zoom(f32),
    /// Nudge the selected mount: steps forward, left, up as the view has them (right, up on the screen).
    Nudge(Vec2),
}

/// How near the pointer has to come to a handle.
const REACH: f32 = 13.0;

/// Draws the overlay over `area` and reads the pointer.
pub fn stage_overlay_ui(ui: &mut Ui, area: Rect, overlay: &Overlay) -> Vec<StageAct> {
    let response = ui.interact(area, ui.id().with("stage"), Sense::click_and_drag());
    let under = response.hover_pos().and_then(|at| nearest(overlay.handles, at));
    draw_path(ui, area, overlay);
    draw_marks(ui, area, overlay.marks);
    draw_handles(ui, overlay, under);
    draw_words(ui, area, overlay);
    let mut acts = pointer_acts(ui, area, overlay, &response);
    acts.extend(nudges(ui, overlay));
    acts.extend(reachable_handles(ui, overlay));
    acts
}

fn nearest(handles: &[Handle], at: Pos2) -> Option<&Handle> {
    let near = handles.iter().filter(|h| h.at.distance(at) <= REACH);
    near.min_by(|a, b| a.at.distance(at).total_cmp(&b.at.distance(at)))
}

fn pointer_acts(ui: &Ui, area: Rect, overlay: &Overlay, response: &Response) -> Vec<StageAct> {
    let mut acts = Vec::new();
    let pointer = |at| {
        ui.input(|i| Pointer {
            at,
            free: i.modifiers.shift,
            axis: held_axis(i),
        })
    };
    let pressed_at = ui.input(|i| i.pointer.press_origin());
    if response.drag_started_by(PointerButton::Primary)
        && let Some(handle) = pressed_at.and_then(|at| nearest(overlay.handles, at))
        && let Some(at) = pressed_at
    {
        acts.push(StageAct::Grab(handle.mount, pointer(at)));
    }
    if overlay.dragged.is_some() {
        if ui.input(|i| i.key_pressed(Key::Escape)) {
            acts.push(StageAct::Cancel);
            return acts;
        }
        if let Some(at) = response.interact_pointer_pos() {
            acts.push(StageAct::Drag(pointer(at)));
        }
        if response.drag_stopped() || !ui.input(|i| i.pointer.primary_down()) {
            acts.push(StageAct::Drop);
        }
        return acts;
    }
    if !acts.is_empty() {
        return acts;
    }
    let part = response.drag_delta() / area.height().max(1.0);
    if part != Vec2::ZERO {
        let slides = response.dragged_by(PointerButton::Secondary) || response.dragged_by(PointerButton::Middle);
        acts.push(if slides || ui.input(|i| i.modifiers.shift) {
            StageAct::Pan(part)
        } else {
            StageAct::Orbit(part)
        });
    }
    if response.clicked_by(PointerButton::Primary) {
        acts.push(StageAct::Select(
            response
                .interact_pointer_pos()
                .and_then(|at| nearest(overlay.handles, at))
                .map(|h| h.mount),
        ));
    }
    if response.hovered() {
        let (scroll, pinch) = ui.input(|i| (i.smooth_scroll_delta().y, i.zoom_delta()));
        let factor = pinch * (scroll / 300.0).exp();
        if (factor - 1.0).abs() > 1e-4 {
            acts.push(StageAct::Zoom(factor));
        }
    }
    acts
}

fn held_axis(input: &egui::InputState) -> Option<usize> {
    [Key::X, Key::Y, Key::Z].iter().position(|key| input.key_down(*key))
}

/// Arrow keys move the selected mount while no field or slider has the keyboard.
fn nudges(ui: &Ui, overlay: &Overlay) -> Option<StageAct> {
    let typing = ui.ctx().text_edit_focused();
    if overlay.selected.is_none()
        || overlay.dragged.is_some()
        || typing
        || ui.memory(|m| m.focused().is_some_and(|f| !is_handle(ui, overlay, f)))
    {
        return None;
    }
    let by = ui.input(|i| {
        let count = |key| f32::from(u8::try_from(i.num_presses(key)).unwrap_or(1));
        Vec2::new(
            count(Key::ArrowRight) - count(Key::ArrowLeft),
            count(Key::ArrowUp) - count(Key::ArrowDown),
        )
    });
    (by != Vec2::ZERO).then_some(StageAct::Nudge(by))
}

fn handle_id(ui: &Ui, mount: Mount) -> egui::Id {
    ui.id().with(("handle", mount))
}

fn is_handle(ui: &Ui, overlay: &Overlay, id: egui::Id) -> bool {
    overlay.handles.iter().any(|h| handle_id(ui, h.mount) == id)
}

/// Every handle can be reached by Tab; reaching it selects it.
fn reachable_handles(ui: &mut Ui, overlay: &Overlay) -> Option<StageAct> {
    let mut act = None;
    for handle in overlay.handles {
        let id = handle_id(ui, handle.mount);
        let spot = Rect::from_center_size(handle.at, Vec2::splat(2.0));
        let response = ui.interact(spot, id, Sense::focusable_noninteractive());
        response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, &handle.label));
        if response.has_focus() {
            let arrows = egui::EventFilter {
                vertical_arrows: true,
                horizontal_arrows: true,
                ..Default::default()
            };
            ui.memory_mut(|m| m.set_focus_lock_filter(id, arrows));
        }
        if response.gained_focus() {
            act = Some(StageAct::Select(Some(handle.mount)));
        }
    }
    act
}

fn draw_path(ui: &Ui, area: Rect, overlay: &Overlay) {
    if overlay.path.len() < 2 {
        return;
    }
    let colour = Color32::from_rgb(204, 121, 167);
    let painter = ui.painter().with_clip_rect(area);
    painter.line(overlay.path.to_vec(), Stroke::new(5.0, Color32::from_black_alpha(90)));
    painter.line(overlay.path.to_vec(), Stroke::new(2.5, colour));
}

fn draw_marks(ui: &Ui, area: Rect, marks: &[Mark]) {
    let painter = ui.painter().with_clip_rect(area);
    let colour = Color32::from_rgb(240, 228, 66);
    let dark = Color32::from_black_alpha(150);
    for mark in marks {
        if mark.line.len() > 1 {
            painter.line(mark.line.clone(), Stroke::new(4.0, dark));
            painter.line(mark.line.clone(), Stroke::new(1.8, colour));
        }
        if let Some(at) = mark.cross {
            for (width, ink) in [(5.0, dark), (2.2, colour)] {
                let arm = 8.0;
                painter.line_segment(
                    [at - Vec2::new(arm, 0.0), at + Vec2::new(arm, 0.0)],
                    Stroke::new(width, ink),
                );
                painter.line_segment(
                    [at - Vec2::new(0.0, arm), at + Vec2::new(0.0, arm)],
                    Stroke::new(width, ink),
                );
            }
        }
        let middle = mark.line.get(mark.line.len() / 2).copied();
        if let Some(at) = mark.cross.or(middle) {
            chip(&painter, at + Vec2::new(10.0, 8.0), Align2::LEFT_TOP, &mark.words, 12.0);
        }
    }
}

fn draw_handles(ui: &Ui, overlay: &Overlay, under: Option<&Handle>) {
    let painter = ui.painter();
    let shown = overlay.dragged.or(under.map(|h| h.mount));
    for handle in overlay.handles {
        let [r, g, b] = handle.colour;
        let selected = overlay.selected == Some(handle.mount);
        let hot = shown == Some(handle.mount);
        let size = if hot || selected { 8.5 } else { 6.5 };
        let edge = Stroke::new(
            if selected { 3.0 } else { 2.0 },
            if selected {
                Color32::from_rgb(240, 228, 66)
            } else {
                Color32::WHITE
            },
        );
        let fill = Color32::from_rgb(r, g, b);
        let halo = Color32::from_black_alpha(120);
        match handle.carrier {
            Carrier::Frame => {
                let square = Rect::from_center_size(handle.at, Vec2::splat(size * 2.0));
                painter.rect_filled(square.expand(2.5), 3.0, halo);
                painter.rect(square, 2.0, fill, edge, egui::StrokeKind::Inside);
            }
            Carrier::Axle => {
                painter.circle_filled(handle.at, size + 2.5, halo);
                painter.circle(handle.at, size, fill, edge);
            }
        }
    }
    if let Some(handle) = overlay.handles.iter().find(|h| shown == Some(h.mount)) {
        chip(
            painter,
            handle.at + Vec2::new(16.0, -14.0),
            Align2::LEFT_BOTTOM,
            &handle.label,
            12.5,
        );
    }
}

fn draw_words(ui: &Ui, area: Rect, overlay: &Overlay) {
    let painter = ui.painter();
    chip(
        painter,
        pos2(area.center().x, area.bottom() - 10.0),
        Align2::CENTER_BOTTOM,
        overlay.hint,
        12.0,
    );
    chip(
        painter,
        pos2(area.left() + 12.0, area.top() + 12.0),
        Align2::LEFT_TOP,
        overlay.view,
        12.0,
    );
}

/// Words on a dark ground, readable over anything.
fn chip(painter: &egui::Painter, at: Pos2, anchor: Align2, text: &str, size: f32) {
    if text.is_empty() {
        return;
    }
    let galley = painter.layout_no_wrap(text.to_owned(), FontId::proportional(size), Color32::WHITE);
    let rect = anchor.anchor_size(at, galley.size() + Vec2::new(14.0, 8.0));
    let rect = rect.translate(stay_inside(rect, painter.clip_rect()));
    painter.rect_filled(rect, 5.0, Color32::from_rgba_unmultiplied(18, 24, 31, 215));
    painter.galley(rect.min + Vec2::new(7.0, 4.0), galley, Color32::WHITE);
}

fn stay_inside(rect: Rect, bounds: Rect) -> Vec2 {
    let into = |low: f32, high: f32, from: f32, to: f32| {
        if low < from {
            from - low
        } else if high > to {
            to - high
        } else {
            0.0
        }
    };
    Vec2::new(
        into(rect.left(), rect.right(), bounds.left(), bounds.right()),
        into(rect.top(), rect.bottom(), bounds.top(), bounds.bottom()),
    )
}
