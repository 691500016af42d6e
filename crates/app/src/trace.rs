//! What the window shows, as lines of JSON: tests wait for states in it rather than for times, and aim at what they name.

use std::fs::File;
use std::io::Write;
use std::path::Path;

use bevy::prelude::*;
use serde_json::{Value, json};
use shop::Notice;
use stage::picture::Darkroom;

use crate::desk::Desk;

/// The open trace.
#[derive(Resource)]
pub struct Trace {
    file: File,
    last: Value,
}

impl Trace {
    /// Begins a trace.
    pub fn to(path: &Path) -> Result<Self, String> {
        let file = File::create(path).map_err(|e| format!("the trace {} cannot be written: {e}", path.display()))?;
        Ok(Self {
            file,
            last: Value::Null,
        })
    }
}

/// Adds a line if anything of it has changed. A full disk ends the trace, not the work.
pub fn write(desk: Res<Desk>, darkroom: Res<Darkroom>, mut trace: ResMut<Trace>) {
    let now = state(&desk, darkroom.is_busy());
    if now != trace.last {
        let _ = writeln!(trace.file, "{now}");
        trace.last = now;
    }
}

fn state(desk: &Desk, picture_busy: bool) -> Value {
    let bench = &desk.bench;
    let stand = bench.stand();
    let rows = bench.document().answers().level_rows();
    let mm = |row: Option<&rearend::travel::Row>| row.map(|r| r.shift_m * 1e3);
    let handles = bench
        .shown()
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
        "out_of_square_mm": bench.document().answers().solved.as_ref().ok().map(|s| s.stance.out_of_square_m * 1e3),
        "findings": bench.document().answers().findings.iter().map(|f| f.sentence(bench.setup(), bench.units())).collect::<Vec<_>>(),
        "notice": bench.notice().map(|n| match n { Notice::Done(text) | Notice::Refused(text) => text }),
        "dialog": desk.dialog.is_some(),
        "selected": bench.selected().map(|m| bench.setup().mount_name(m)),
        "dragging": desk.stage.dragged().is_some(),
        "picture_busy": picture_busy,
        "pane": [pane.corner.x, pane.corner.y, pane.size.x, pane.size.y],
        "handles": handles,
    })
}
