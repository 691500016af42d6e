//! What the window shows, as lines of JSON: tests wait for states in it rather than for times, and aim at what they name.

use std::fs::File;
use std::io::Write;
use std::path::Path;

use bevy::input::mouse::MouseButtonInput;
use bevy::prelude::*;
use bevy_egui::{EguiContext, EguiOutput, PrimaryEguiContext};
use egui::accesskit;
use rearend::answers::Solved;
use rearend::travel::Row;
use serde_json::{Value, json};
use shop::Notice;
use stage::picture::Darkroom;

use crate::desk::Desk;

/// The open trace.
#[derive(Resource)]
pub struct Trace {
    file: File,
    last: Value,
    /// How often a mouse button was let go: who clicks can tell when the window has taken it.
    clicks: usize,
}

impl Trace {
    /// Begins a trace.
    pub fn to(path: &Path) -> Result<Self, String> {
        let file = File::create(path).map_err(|e| format!("the trace {} cannot be written: {e}", path.display()))?;
        Ok(Self {
            file,
            last: Value::Null,
            clicks: 0,
        })
    }
}

/// Adds a line if anything of it has changed. A full disk ends the trace, not the work.
pub fn write(
    desk: Res<Desk>,
    darkroom: Res<Darkroom>,
    mut buttons: MessageReader<MouseButtonInput>,
    mut screen: Single<(&mut EguiContext, &EguiOutput), With<PrimaryEguiContext>>,
    mut trace: ResMut<Trace>,
) {
    trace.clicks += buttons.read().filter(|b| !b.state.is_pressed()).count();
    let (context, output) = &mut *screen;
    // What tells a screen reader of the controls tells the trace; from the second frame on.
    context.get_mut().enable_accesskit();
    let mut now = state(&desk, darkroom.is_busy());
    now["clicks"] = json!(trace.clicks);
    now["controls"] = controls(output.platform_output.accesskit_update.as_ref());
    if now != trace.last {
        let _ = writeln!(trace.file, "{now}");
        trace.last = now;
    }
}

fn state(desk: &Desk, picture_busy: bool) -> Value {
    let bench = &desk.bench;
    let stand = bench.stand();
    let rows = bench.document().answers().level_rows();
    let mm = |row: Option<&Row>| row.map(|r| r.shift_m * 1e3);
    let solved = bench.document().answers().solved.as_ref().ok();
    let at_ride = solved.map(|s| Row::at_ride(bench.setup(), &s.rear_end));
    let handles = desk
        .shown_row()
        .map(|row| desk.stage.handles(bench, &row))
        .unwrap_or_default();
    let handles: Vec<_> = handles
        .iter()
        .map(|h| json!({ "mount": bench.setup().mount_name(h.mount), "x": h.at.x, "y": h.at.y }))
        .collect();
    let pane = &desk.stage.pane;
    json!({
        "name": bench.setup().name,
        "unsaved": bench.document().is_unsaved(),
        "undo": bench.document().undo_name(),
        "height_mm": stand.height_m * 1e3,
        "roll_deg": stand.roll_rad.to_degrees(),
        "shift_laid_out_mm": mm(rows.first()),
        "shift_full_lift_mm": mm(rows.last()),
        "pinion_change_full_lift_deg": solved.and_then(pinion_change_full_lift_deg),
        "roll_steer_at_ride": at_ride.map(|row| row.first.roll_steer),
        "out_of_square_mm": solved.map(|s| s.stance.out_of_square_m * 1e3),
        "joints_at_ride_deg": at_ride.and_then(|row| row.shaft).map(|s| [s.front_joint_rad, s.rear_joint_rad].map(f64::to_degrees)),
        "lit": desk.lit().solids.iter().map(|s| s.name(bench.setup(), bench.units())).collect::<Vec<_>>(),
        "measured": desk.measuring.as_ref().zip(desk.shown_row()).and_then(|(m, row)| m.words(bench, &row)),
        "surveyed": bench.surveyed().is_some(),
        "findings": bench.findings().iter().map(|f| f.sentence(bench.setup(), bench.units())).collect::<Vec<_>>(),
        "notice": bench.notice().map(|n| match n { Notice::Done(text) | Notice::Refused(text) => text }),
        "dialog": desk.dialog.is_some(),
        "selected": bench.selected().map(|m| bench.setup().mount_name(m)),
        "dragging": desk.stage.dragged().is_some(),
        "picture_busy": picture_busy,
        "pane": [pane.corner.x, pane.corner.y, pane.size.x, pane.size.y],
        "handles": handles,
    })
}

/// Against the pinion's angle at ride height, + nose up.
fn pinion_change_full_lift_deg(solved: &Solved) -> Option<f64> {
    let row = solved.level.rows.last()?;
    Some((row.pinion_to_frame_rad - solved.stance.pinion_rad).to_degrees())
}

/// Everything with a name that can be clicked, menu entries among it, and its middle. What is scrolled out of sight is named too.
fn controls(tree: Option<&accesskit::TreeUpdate>) -> Value {
    let nodes = tree.map_or(&[][..], |tree| &tree.nodes);
    // A box is named by the words beside it.
    let said = |id: &accesskit::NodeId| nodes.iter().find(|(other, _)| other == id)?.1.value();
    let mut named: Vec<_> = nodes
        .iter()
        .filter(|(_, node)| node.supports_action(accesskit::Action::Click) && !node.is_disabled())
        .filter_map(|(_, node)| {
            let place = node.bounds()?;
            let middle = [f64::midpoint(place.x0, place.x1), f64::midpoint(place.y0, place.y1)];
            let beside = || node.labelled_by().first().and_then(said);
            // A sentence that can be clicked is its own name.
            let sentence = || node.value().filter(|_| node.role() == accesskit::Role::Label);
            Some((node.label().or_else(sentence).or_else(beside)?, middle))
        })
        .collect();
    // They come in no order, and another order is no other state.
    named.sort_by(|a, b| {
        a.0.cmp(b.0)
            .then_with(|| a.1[1].total_cmp(&b.1[1]))
            .then_with(|| a.1[0].total_cmp(&b.1[0]))
    });
    named
        .into_iter()
        .map(|(name, [x, y])| json!({ "name": name, "x": x, "y": y }))
        .collect()
}
