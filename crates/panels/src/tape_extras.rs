//! What of the tape sheet is no single number: the size on the tyre, the springs' holes and chart, things in the way.

use egui::{Grid, RichText, Ui};
use nalgebra::Point3;
use rearend::measure::{self, Measure};
use rearend::setup::{AirPoint, KeepClear, KeepClearShape, SpringKind, Springs};
use rearend::springs::{HoleFigures, compare_holes};
use rearend::tape::{Dimension, Units};
use rearend::tyres::{TyreSize, TyreSizeError};
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::{length_field, measured_field, text_field};
use crate::theme::{Inks, strong};

fn apply(change: Change) -> Act {
    Act::Do(Command::Apply(change))
}

/// A box for the size on the sidewall: three measures at once.
pub fn tyre_size_ui(ui: &mut Ui, bench: &Bench) -> Option<Act> {
    let setup = bench.setup();
    let shown = setup.wheels.size.clone().unwrap_or_default();
    let measured = Measure::by_key("tyre").is_some_and(|m| m.is_taken(setup));
    // A size that does not tell the diameter goes with the one that the tape told.
    let read = |text: &str| match TyreSize::read(text) {
        Err(TyreSizeError::NoDiameter { .. }) if measured => TyreSize::read_measured(text, setup.wheels.tyre_m),
        read => read,
    };
    let read = |text: &str| read(text).map_err(|e| e.to_string());
    let typed = Grid::new("tyre size").num_columns(2).show(ui, |ui| {
        text_field(ui, "tyre size", "Size on the tyre, if you have it", &shown, read)
    });
    typed.inner.map(|size| apply(Change::SetTyre(size)))
}

/// The springs' holes, and the chart of a bag.
pub fn springs_ui(ui: &mut Ui, bench: &Bench) -> Option<Act> {
    let springs = bench.setup().springs.as_ref()?;
    let mut next = springs.clone();
    holes_ui(ui, &mut next, bench);
    if let SpringKind::Air(air) = &mut next.kind {
        chart_ui(ui, &mut air.chart, bench.units());
    }
    (next != *springs).then(|| apply(Change::SetSprings(Box::new(next))))
}

/// Which hole the spring is in, and what comes of each; others can be added and taken away.
fn holes_ui(ui: &mut Ui, springs: &mut Springs, bench: &Bench) {
    let units = bench.units();
    let figures = bench.document().answers().solved.as_ref().map_or_else(
        |_| Vec::new(),
        |solved| compare_holes(bench.setup(), &solved.rear_end, &solved.level),
    );
    ui.label(strong("Holes for the lower mount", 13.0));
    Grid::new("holes").num_columns(5).striped(true).show(ui, |ui| {
        for head in ["height", "at ride", "rate at wheel", "bounce", "set to"] {
            ui.label(RichText::new(head).color(Inks::of(ui).soft).size(12.0));
        }
        ui.end_row();
        for which in 0..springs.holes_in_axle.len() {
            let up = units.length(springs.holes_in_axle[which].z);
            if ui.radio(springs.hole == which, up).clicked() {
                springs.hole = which;
            }
            for cell in figures
                .get(which)
                .map_or_else(Default::default, |f| hole_cells(f, units))
            {
                ui.label(cell);
            }
            ui.end_row();
        }
    });
    ui.horizontal(|ui| {
        if ui.button("Add a hole above").clicked() {
            let last = springs.mount_in_axle().unwrap_or_else(Point3::origin);
            // Half-inch bolts an inch apart: common practice.
            springs.holes_in_axle.push(last + nalgebra::Vector3::z() * 0.0254);
            springs.hole = springs.holes_in_axle.len() - 1;
        }
        let several = springs.holes_in_axle.len() > 1;
        if ui.add_enabled(several, egui::Button::new("Remove this hole")).clicked() {
            springs.holes_in_axle.remove(springs.hole);
            springs.hole = springs.hole.min(springs.holes_in_axle.len() - 1);
        }
    });
}

/// Length at ride height, rate at the wheel, how fast it bounces, and the preload or pressure that carries the corner.
fn hole_cells(figures: &HoleFigures, units: Units) -> [String; 4] {
    let or_none = |words: Option<String>| words.unwrap_or_else(|| "–".to_owned());
    let [_, ride_m, _] = figures.lengths_m;
    let set_to = figures
        .preload_m
        .map(|m| units.length(m))
        .or_else(|| figures.pressure_pa.map(|pa| Dimension::Pressure.words(units, pa)));
    [
        or_none(ride_m.map(|m| units.length(m))),
        or_none(figures.wheel_rate_n_per_m.map(|k| Dimension::Rate.words(units, k))),
        or_none(figures.frequency_hz.map(|hz| format!("{hz:.2} Hz"))),
        or_none(set_to),
    ]
}

/// Height, load and air of a bag, a line each.
fn chart_ui(ui: &mut Ui, chart: &mut Vec<AirPoint>, units: Units) {
    ui.label(strong("The bag maker's chart, shortest first", 13.0));
    let mut removed = None;
    let several = chart.len() > 2;
    for (line, point) in chart.iter_mut().enumerate() {
        Grid::new(("chart", line)).num_columns(3).show(ui, |ui| {
            for (name, dimension, value) in [
                ("Height", Dimension::Length, &mut point.height_m),
                ("Carries", Dimension::Force, &mut point.load_n),
                ("Holds", Dimension::Volume, &mut point.volume_m3),
            ] {
                let id = ("chart", line, name);
                if let (Some(typed), _) = measured_field(ui, id, name, (dimension, units), *value, |_| {}) {
                    *value = typed;
                }
            }
        });
        if several && ui.small_button(format!("Remove line {}", line + 1)).clicked() {
            removed = Some(line);
        }
    }
    if let Some(line) = removed {
        chart.remove(line);
    }
    if ui.button("Add a line").clicked()
        && let [.., before, last] = chart[..]
    {
        chart.push(AirPoint {
            height_m: last.height_m + (last.height_m - before.height_m),
            load_n: last.load_n,
            volume_m3: last.volume_m3 + (last.volume_m3 - before.volume_m3),
        });
    }
}

/// Boxes and tubes that everything has to keep clear of.
pub fn in_the_way_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let things = &bench.setup().keep_clear;
    let mut next = things.clone();
    egui::CollapsingHeader::new(strong("In the way", 14.0))
        .id_salt("in the way")
        .show(ui, |ui| {
            let note = "Exhaust, tank, brake line: whatever is fixed to the frame and has to stay clear of what moves.";
            let soft = Inks::of(ui).soft;
            ui.add(egui::Label::new(RichText::new(note).color(soft).size(12.0)).wrap());
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
            ui.horizontal(|ui| {
                if ui.button("Add a tube").clicked() {
                    next.push(measure::usual_tube(bench.setup()));
                }
                if ui.button("Add a box").clicked() {
                    next.push(measure::usual_box(bench.setup()));
                }
            });
        });
    let changed = next != *things;
    changed.then(|| apply(Change::SetKeepClear(next))).into_iter().collect()
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
    Grid::new(("thing", which)).num_columns(2).show(ui, |ui| {
        if let Some(name) = text_field(ui, ("thing", which), "What it is", &thing.name, named) {
            thing.name = name;
        }
        match &mut thing.shape {
            KeepClearShape::Box { from, to } => {
                point_ui(ui, (which, "from"), "One corner", from, units);
                point_ui(ui, (which, "to"), "Opposite corner", to, units);
            }
            KeepClearShape::Tube { along, tube_m } => {
                if let Some(typed) = length_field(ui, (which, "tube"), "Outside diameter", *tube_m, units) {
                    *tube_m = typed;
                }
                for (bend, point) in along.iter_mut().enumerate() {
                    point_ui(ui, (which, bend), &format!("Point {}", bend + 1), point, units);
                }
            }
        }
    });
    if let KeepClearShape::Tube { along, .. } = &mut thing.shape {
        bends_ui(ui, along);
    }
}

/// Another bend, or one less.
fn bends_ui(ui: &mut Ui, along: &mut Vec<Point3<f64>>) {
    ui.horizontal(|ui| {
        if ui.small_button("Add a bend").clicked()
            && let Some(last) = along.last()
        {
            along.push(last - nalgebra::Vector3::x() * 0.2);
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

fn point_ui(
    ui: &mut Ui,
    id: impl std::hash::Hash + std::fmt::Debug + Copy,
    name: &str,
    point: &mut Point3<f64>,
    units: Units,
) {
    for (axis, word) in ["forward", "left", "up"].into_iter().enumerate() {
        let label = format!("{name}, {word}");
        if let Some(typed) = length_field(ui, (id, axis), &label, point[axis], units) {
            point[axis] = typed;
        }
    }
}
