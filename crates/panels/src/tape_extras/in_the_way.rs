//! Boxes and tubes that everything has to keep clear of.

use egui::{RichText, Ui};
use nalgebra::Point3;
use rearend::measure::{self, Range};
use rearend::setup::{KeepClear, KeepClearShape};
use rearend::tape::{Dimension, Units, Ways};
use shop::{Bench, Change};

use super::apply;
use crate::actions::Act;
use crate::field::{Takes, cells_head, cells_line, measured_line, text_line};
use crate::theme::{Inks, strong};

/// Draws the section; now and then it is opened or closed.
pub fn in_the_way_ui(ui: &mut Ui, bench: &Bench, opened: Option<bool>) -> Vec<Act> {
    let things = &bench.setup().keep_clear;
    let mut next = things.clone();
    egui::CollapsingHeader::new(strong("In the way", 14.0))
        .id_salt("in the way")
        .open(opened)
        .show(ui, |ui| {
            let note = "Exhaust, tank, brake line: whatever is fixed to the frame and has to stay clear of what moves.";
            note_ui(ui, note);
            let mut removed = None;
            for (which, thing) in next.iter_mut().enumerate() {
                thing_ui(ui, which, thing, bench.units());
                if ui.small_button(format!("Remove the {}", thing.name)).clicked() {
                    removed = Some(which);
                }
                ui.separator();
            }
            if let Some(which) = removed {
                next.remove(which);
            }
            add_ui(ui, bench, &mut next);
        });
    let changed = next != *things;
    changed.then(|| apply(Change::SetKeepClear(next))).into_iter().collect()
}

fn note_ui(ui: &mut Ui, note: &str) {
    let soft = Inks::of(ui).soft;
    ui.add(egui::Label::new(RichText::new(note).color(soft).size(12.0)).wrap());
}

/// One thing more. The exhaust is proposed as long as there is no tube.
fn add_ui(ui: &mut Ui, bench: &Bench, things: &mut Vec<KeepClear>) {
    let setup = bench.setup();
    let is_tube = |thing: &KeepClear| matches!(thing.shape, KeepClearShape::Tube { .. });
    ui.horizontal_wrapped(|ui| {
        if !setup.keep_clear.iter().any(is_tube) {
            let tip = "A two and a half inch tube along the inside of the right rail; move it to where yours is";
            let button = ui.button("Add the usual exhaust over the axle").on_hover_text(tip);
            if button.clicked() {
                things.push(measure::usual_tube(setup));
            }
        }
        if ui.button("Add a tube").clicked() {
            things.push(measure::straight_tube(setup));
        }
        if ui.button("Add a box").clicked() {
            things.push(measure::usual_box(setup));
        }
    });
}

fn thing_ui(ui: &mut Ui, which: usize, thing: &mut KeepClear, units: Units) {
    let named = |text: &str| {
        let text = text.trim();
        if text.is_empty() {
            Err("a name is expected, such as exhaust".to_owned())
        } else {
            Ok(text.to_owned())
        }
    };
    if let Some(name) = text_line(ui, ("thing", which), "What it is", &thing.name, named) {
        thing.name = name;
    }
    match &mut thing.shape {
        KeepClearShape::Box { from, to } => {
            note_ui(ui, "Two corners that lie opposite, front to back, side to side and up:");
            points_head(ui, units);
            point_line(ui, (which, 0), ["Corner 1", "One corner"], from, units);
            point_line(ui, (which, 1), ["Corner 2", "Opposite corner"], to, units);
        }
        KeepClearShape::Tube { along, tube_m } => {
            let takes = Takes {
                dimension: Dimension::Length,
                units,
                ways: None,
                range: Range::SIZE,
            };
            let id = (which, "tube");
            if let (Some(typed), _) = measured_line(ui, id, "Outside diameter", takes, *tube_m, |_| {}) {
                *tube_m = typed;
            }
            note_ui(
                ui,
                "The middle of the tube, from end to end; it runs straight from point to point:",
            );
            points_head(ui, units);
            for (bend, point) in along.iter_mut().enumerate() {
                let name = format!("Point {}", bend + 1);
                point_line(ui, (which, bend), [&name, &name], point, units);
            }
            bends_ui(ui, along);
        }
    }
}

/// Another bend, or one less.
fn bends_ui(ui: &mut Ui, along: &mut Vec<Point3<f64>>) {
    ui.horizontal(|ui| {
        if ui.small_button("Add a bend").clicked()
            && let Some(last) = along.last()
        {
            // Eight inches further back.
            along.push(last - nalgebra::Vector3::x() * 0.2032);
        }
        let several = along.len() > 2;
        if ui
            .add_enabled(several, egui::Button::new("Remove the last bend").small())
            .clicked()
        {
            along.pop();
        }
    });
}

/// What the three numbers of a point are.
fn points_head(ui: &mut Ui, units: Units) {
    let heads = ["Ahead of the axle", "Left of the middle", "Above the rails' underside"];
    cells_head(ui, &heads.map(|head| format!("{head}, {}", units.symbol())));
}

/// A point: its name as shown and as heard, and where it is in the frame.
fn point_line(
    ui: &mut Ui,
    (which, place): (usize, usize),
    [shown, heard]: [&str; 2],
    point: &mut Point3<f64>,
    units: Units,
) {
    let takes = Ways::OF_AXES.map(|ways| Takes {
        dimension: Dimension::Length,
        units,
        ways: Some(ways),
        range: Range::COORDINATE,
    });
    let [x, y, z] = &mut point.coords.data.0[0];
    let mut cells = [
        (format!("{heard}, forward"), takes[0], x),
        (format!("{heard}, left"), takes[1], y),
        (format!("{heard}, up"), takes[2], z),
    ];
    cells_line(ui, ("thing", which, place), shown, &mut cells);
}
