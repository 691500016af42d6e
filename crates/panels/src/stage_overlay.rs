//! What lies over the stage: handles of the mounts, which keep their size, the axle's path, the hint; and what the pointer does there.

use egui::{Key, PointerButton, Pos2, Rect, Response, Sense, Ui, Vec2};
use rearend::setup::{Carrier, Mount};

use crate::stage_draw;

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

/// A place with a name that can be measured from.
#[derive(Clone, Debug)]
pub struct Spot {
    /// Where.
    pub at: Pos2,
    /// What it is.
    pub name: String,
    /// True for one that is measured from.
    pub chosen: bool,
}

/// All that lies over the stage.
pub struct Overlay<'a> {
    /// The mounts, farthest first.
    pub handles: &'a [Handle],
    /// The selected one.
    pub selected: Option<Mount>,
    /// Those that go along with it.
    pub with: &'a [Mount],
    /// The one being dragged.
    pub dragged: Option<Mount>,
    /// The path of the axle's centre.
    pub path: &'a [Pos2],
    /// Centres, axes, words.
    pub marks: &'a [Mark],
    /// What can be measured from; none while nothing is measured and mounts can be taken hold of.
    pub spots: Option<&'a [Spot]>,
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
    /// Choose one to go along, or no longer.
    SelectWith(Mount),
    /// Let one lead that the keyboard has reached.
    Lead(Mount),
    /// Measure from here, or to here.
    Measure(Pos2),
    /// Measure from or to a spot, by its place among them.
    MeasureSpot(usize),
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
    stage_draw::path(ui, area, overlay);
    stage_draw::marks(ui, area, overlay.marks, overlay.handles);
    if let Some(spots) = overlay.spots {
        stage_draw::spots(ui, area, spots, ui.input(|i| i.pointer.hover_pos()));
    } else {
        stage_draw::handles(ui, overlay, under);
    }
    stage_draw::words(ui, area, overlay);
    if let Some(spots) = overlay.spots {
        let mut acts = measuring(ui, area, spots, &response);
        acts.extend(looking(ui, area, &response));
        return acts;
    }
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
        // Held still, it moves nothing, and the window may rest.
        let is_new = |now: &Pointer| {
            let last = ui.id().with("last drag");
            ui.data_mut(|data| data.get_temp_mut_or_default::<Option<Pointer>>(last).replace(*now)) != Some(*now)
        };
        if let Some(now) = response.interact_pointer_pos().map(pointer).filter(is_new) {
            acts.push(StageAct::Drag(now));
        }
        if response.drag_stopped() || !ui.input(|i| i.pointer.primary_down()) {
            acts.push(StageAct::Drop);
        }
        return acts;
    }
    if !acts.is_empty() {
        return acts;
    }
    if response.clicked_by(PointerButton::Primary) {
        let clicked = response.interact_pointer_pos();
        let mount = clicked.and_then(|at| nearest(overlay.handles, at)).map(|h| h.mount);
        acts.push(match mount {
            Some(mount) if ui.input(is_shifted) => StageAct::SelectWith(mount),
            mount => StageAct::Select(mount),
        });
    }
    // What began on a mount turns nothing, whatever became of it.
    let on_a_mount = pressed_at.is_some_and(|at| nearest(overlay.handles, at).is_some());
    if on_a_mount && response.dragged_by(PointerButton::Primary) {
        return acts;
    }
    acts.extend(looking(ui, area, response));
    acts
}

/// Whether Shift was held when the button came up, which in a slow frame may be over.
fn is_shifted(input: &egui::InputState) -> bool {
    let released = input.events.iter().rev().find_map(|event| match event {
        egui::Event::PointerButton {
            pressed: false,
            modifiers,
            ..
        } => Some(modifiers.shift),
        _ => None,
    });
    released.unwrap_or(input.modifiers.shift)
}

/// Turning, sliding and coming nearer.
fn looking(ui: &Ui, area: Rect, response: &Response) -> Vec<StageAct> {
    let mut acts = Vec::new();
    let part = response.drag_delta() / area.height().max(1.0);
    if part != Vec2::ZERO {
        let slides = response.dragged_by(PointerButton::Secondary) || response.dragged_by(PointerButton::Middle);
        acts.push(if slides || ui.input(|i| i.modifiers.shift) {
            StageAct::Pan(part)
        } else {
            StageAct::Orbit(part)
        });
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

/// A click measures, beside a spot from there; so does Enter on a spot that the keyboard is on.
fn measuring(ui: &mut Ui, area: Rect, spots: &[Spot], response: &Response) -> Vec<StageAct> {
    let mut acts = Vec::new();
    if response.clicked_by(PointerButton::Primary)
        && let Some(at) = response.interact_pointer_pos().filter(|at| area.contains(*at))
    {
        acts.push(StageAct::Measure(
            stage_draw::nearest_spot(spots, at).map_or(at, |spot| spot.at),
        ));
    }
    for (place, spot) in spots.iter().enumerate() {
        let around = Rect::from_center_size(spot.at, Vec2::splat(18.0));
        let reached = ui.interact(around, ui.id().with(("spot", place)), Sense::click());
        reached.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, &spot.name));
        if reached.clicked() {
            acts.push(StageAct::MeasureSpot(place));
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
            act = Some(StageAct::Lead(handle.mount));
        } else if response.has_focus() && ui.input(|i| i.key_pressed(Key::Enter)) {
            act = Some(StageAct::SelectWith(handle.mount));
        }
    }
    act
}
