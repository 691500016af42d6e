//! The bracket of the selected mount on its card: the row of holes it is bolted to, and whether it is locked.

use egui::{Ui, WidgetInfo, WidgetType};
use nalgebra::{Point3, Vector3};
use rearend::setup::{HoleRow, Mount};
use rearend::tape::Units;
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::{length_field, text_field};

/// An inch: common practice for brackets with several holes.
const USUAL_PITCH_M: f64 = 0.0254;

/// Holes of a bracket that nothing more is known of.
const USUAL_COUNT: u8 = 4;

/// A row that leaves an axis by less than this, as a part of its pitch, runs along it.
const ALONG: f64 = 1e-6;

/// Which way a row runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Direction {
    Up,
    Forward,
    Sideways,
    /// None of these: somebody wrote it by hand.
    Other,
}

impl Direction {
    const TO_CHOOSE: [Self; 3] = [Self::Up, Self::Forward, Self::Sideways];

    /// Which way a step leads. Either way across is sideways: the other side of a mirrored bar runs the other way.
    fn of(step: Vector3<f64>) -> Self {
        let along = step.normalize();
        let is_along = |axis: Vector3<f64>| (along - axis).norm() < ALONG;
        if is_along(Vector3::z()) {
            Self::Up
        } else if is_along(Vector3::x()) {
            Self::Forward
        } else if is_along(Vector3::y()) || is_along(-Vector3::y()) {
            Self::Sideways
        } else {
            Self::Other
        }
    }

    fn words(self) -> &'static str {
        match self {
            Self::Up => "up",
            Self::Forward => "forward",
            Self::Sideways => "sideways",
            Self::Other => "as in the file",
        }
    }

    /// The unit vector, `None` where it has no name.
    fn unit(self) -> Option<Vector3<f64>> {
        match self {
            Self::Up => Some(Vector3::z()),
            Self::Forward => Some(Vector3::x()),
            Self::Sideways => Some(Vector3::y()),
            Self::Other => None,
        }
    }
}

/// Draws the lines; nothing for a mount that has no bracket.
pub(crate) fn bracket_lines(ui: &mut Ui, bench: &Bench, mount: Mount) -> Vec<Act> {
    let setup = bench.setup();
    let Some(at) = setup.mount(mount).filter(|_| setup.has_bracket(mount)) else {
        return Vec::new();
    };
    let (before, mut locked) = (setup.hole_row(mount), setup.is_locked(mount));
    let mut changes = Vec::new();
    let mut row = before;
    ui.horizontal(|ui| {
        let mut has_row = row.is_some();
        let tip = "It is bolted to one of a row of holes, and goes from hole to hole";
        if ui.checkbox(&mut has_row, "Bracket holes").on_hover_text(tip).changed() {
            row = has_row.then(|| usual_row(at.point));
        }
        let tip = "Drags, arrow keys, boxes and remedies leave it where it is";
        if ui.checkbox(&mut locked, "locked").on_hover_text(tip).changed() {
            changes.push(Change::SetLocked { mount, locked });
        }
    });
    if let Some(shown) = before
        && row.is_some()
    {
        row = Some(row_fields(ui, (mount, bench.units()), shown, at.point));
        let to = ui
            .add_enabled_ui(!locked, |ui| hole_buttons(ui, &shown, at.point))
            .inner;
        changes.extend(to.map(|to| Change::MoveMount { mount, to }));
    }
    if row != before {
        changes.push(Change::SetHoles { mount, row });
    }
    changes.into_iter().map(|c| Act::Do(Command::Apply(c))).collect()
}

/// A row upwards with the mount in the hole nearest to its middle.
fn usual_row(at: Point3<f64>) -> HoleRow {
    let row = HoleRow {
        first: at,
        step: Vector3::z() * USUAL_PITCH_M,
        count: USUAL_COUNT,
    };
    holding(row, usize::from(USUAL_COUNT - 1) / 2, at)
}

/// The row shifted so that a hole, or the last where it has none such, is at the mount: what is bolted stays.
fn holding(row: HoleRow, hole: usize, at: Point3<f64>) -> HoleRow {
    let last = row.count.saturating_sub(1);
    let hole = u8::try_from(hole).map_or(last, |hole| hole.min(last));
    HoleRow {
        first: at - row.step * f64::from(hole),
        ..row
    }
}

/// Pitch, direction and count. The mount stays in the hole it is in.
fn row_fields(ui: &mut Ui, (mount, units): (Mount, Units), row: HoleRow, at: Point3<f64>) -> HoleRow {
    let mut next = row;
    let pitch_m = row.step.norm();
    egui::Grid::new("bracket holes").num_columns(2).show(ui, |ui| {
        if let Some(typed_m) = length_field(ui, (mount, "pitch"), "Hole to hole", pitch_m, units) {
            next.step = row.step * (typed_m / pitch_m);
        }
        let named = ui.label("Holes run");
        let direction = Direction::of(row.step);
        let list = egui::ComboBox::from_id_salt((mount, "direction")).selected_text(direction.words());
        let shown = list.width(110.0).show_ui(ui, |ui| {
            for choice in Direction::TO_CHOOSE {
                if ui.selectable_label(choice == direction, choice.words()).clicked() && choice != direction {
                    next.step = choice.unit().map_or(row.step, |unit| unit * pitch_m);
                }
            }
        });
        shown.response.labelled_by(named.id);
        ui.end_row();
        let count = text_field(ui, (mount, "count"), "How many", &row.count.to_string(), read_count);
        next.count = count.unwrap_or(row.count);
    });
    if next == row {
        return row;
    }
    holding(next, row.nearest(at).0, at)
}

fn read_count(text: &str) -> Result<u8, String> {
    let fits = |n: &u8| (HoleRow::FEWEST..=HoleRow::MOST).contains(n);
    let count = text.trim().parse().ok().filter(fits);
    count.ok_or_else(|| {
        let (fewest, most) = (HoleRow::FEWEST, HoleRow::MOST);
        format!("a whole number from {fewest} to {most} is expected")
    })
}

/// One button a hole; the place of the one that was chosen.
fn hole_buttons(ui: &mut Ui, row: &HoleRow, at: Point3<f64>) -> Option<Point3<f64>> {
    let now = row.hole_at(at);
    let mut chosen = None;
    ui.horizontal_wrapped(|ui| {
        ui.label("In hole");
        for (i, centre) in row.holes().enumerate() {
            let is_in = now == Some(i);
            let button = ui.radio(is_in, format!("{}", i + 1));
            // A number alone says little to somebody who hears it.
            let heard = || {
                WidgetInfo::selected(
                    WidgetType::RadioButton,
                    ui.is_enabled(),
                    is_in,
                    format!("hole {}", i + 1),
                )
            };
            button.widget_info(heard);
            if button.clicked() && !is_in {
                chosen = Some(centre);
            }
        }
    });
    chosen
}
