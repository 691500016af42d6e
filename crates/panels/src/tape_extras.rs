//! What of the tape sheet is no single number: the size on the tyre, the springs' holes and chart, things in the way.

mod in_the_way;

use egui::{Grid, RichText, Ui};
use nalgebra::Point3;
use rearend::measure::{Measure, Range};
use rearend::setup::{AirPoint, SpringKind, Springs};
use rearend::springs::{HoleFigures, compare_holes};
use rearend::tape::{Dimension, Units};
use rearend::tyres::{TyreSize, TyreSizeError};
use shop::{Bench, Change, Command};

use crate::actions::Act;
use crate::field::{Takes, cells_head, cells_line, text_line};
use crate::theme::{Inks, strong};

pub use in_the_way::in_the_way_ui;

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
    let typed = text_line(ui, "tyre size", "Size on the tyre, if you have it", &shown, read);
    typed.map(|size| apply(Change::SetTyre(size)))
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
    Grid::new("holes")
        .num_columns(5)
        .spacing([8.0, 4.0])
        .striped(true)
        .show(ui, |ui| {
            for head in ["height", "at ride", "wheel rate", "bounce", "set to"] {
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
    let columns = [
        ("Height", Dimension::Length),
        ("Carries", Dimension::Force),
        ("Holds", Dimension::Volume),
    ];
    cells_head(ui, &columns.map(|(name, d)| format!("{name}, {}", d.symbol(units))));
    for (line, point) in chart.iter_mut().enumerate() {
        let name = format!("Line {}", line + 1);
        let [height, load, volume] = columns.map(|(head, dimension)| {
            let takes = Takes {
                dimension,
                units,
                ways: None,
                range: Range::usual(dimension),
            };
            (format!("{name}, {}", head.to_lowercase()), takes)
        });
        let mut cells = [
            (height.0, height.1, &mut point.height_m),
            (load.0, load.1, &mut point.load_n),
            (volume.0, volume.1, &mut point.volume_m3),
        ];
        cells_line(ui, ("chart", line), &name, &mut cells);
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
