//! Side by side: the open setup and those kept beside it, figure by figure, with how their curves are drawn on the strips.

use egui::{Color32, Grid, RichText, ScrollArea, Sense, Shape, Stroke, Ui, Vec2, WidgetInfo, WidgetType, pos2};
use egui_plot::LineStyle;
use rearend::compare::Comparison;
use rearend::figures::CAUTION;
use shop::{Bench, Command, MOST_BESIDE, demo};

use crate::actions::{Act, Action};
use crate::theme::{Inks, strong};

/// What the table is for, where it is empty.
const FOR: &str = "Nothing is kept beside this setup yet. Put a copy of it beside, then move its mounts, or hang it another way: the table shows the figures of both, with the best of each marked, and the strips draw both curves. Up to five can stand beside the open one, from files and demo trucks too.";

/// How the curves of a setup are drawn: a line style that can be told apart without its colour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Drawn {
    pub(crate) colour: Color32,
    pub(crate) style: LineStyle,
    pub(crate) width: f32,
    /// The style in words.
    pub(crate) words: &'static str,
}

/// How the setup at a place is drawn; the open one is at the first.
pub(crate) fn drawn(ui: &Ui, place: usize) -> Drawn {
    let (style, words) = match place {
        0 => (LineStyle::Solid, "solid line"),
        1 => (LineStyle::Dashed { length: 14.0 }, "long dashes"),
        2 => (LineStyle::Dotted { spacing: 5.0 }, "close dots"),
        3 => (LineStyle::Dashed { length: 5.0 }, "short dashes"),
        4 => (LineStyle::Dotted { spacing: 11.0 }, "wide dots"),
        _ => (LineStyle::Dashed { length: 26.0 }, "very long dashes"),
    };
    Drawn {
        colour: beside_ink(ui, place),
        style,
        // A dot is drawn twice as wide as a dash.
        width: match style {
            LineStyle::Solid => 2.2,
            LineStyle::Dotted { .. } => 1.0,
            LineStyle::Dashed { .. } => 1.5,
        },
        words,
    }
}

/// The colour of the setup at a place, the open one at the first: from the Okabe-Ito palette, some a shade off
/// to stand out from the paper and from the limits.
#[must_use]
pub fn beside_ink(ui: &Ui, place: usize) -> Color32 {
    let rgb = |[r, g, b]: [u8; 3]| Color32::from_rgb(r, g, b);
    match (place, ui.visuals().dark_mode) {
        (0, _) => Inks::of(ui).ink,
        (1, true) => rgb([86, 180, 233]),
        (1, false) => rgb([0, 114, 178]),
        (2, true) => rgb([240, 228, 66]),
        (2, false) => rgb([138, 118, 0]),
        (3, true) => rgb([204, 121, 167]),
        (3, false) => rgb([178, 92, 140]),
        (4, true) => rgb([0, 178, 130]),
        (4, false) => rgb([0, 122, 89]),
        (_, true) => rgb([240, 128, 64]),
        (_, false) => rgb([213, 94, 0]),
    }
}

/// Draws the table over the whole of `ui`, the open setup first.
pub fn beside_ui(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    ui.label(strong("Side by side", 16.0));
    let mut acts = bring_buttons(ui, bench);
    ui.separator();
    if bench.beside().documents().is_empty() {
        ui.label(RichText::new(FOR).color(Inks::of(ui).soft));
        return acts;
    }
    let comparison = bench.comparison();
    ScrollArea::both()
        .id_salt("side by side")
        .auto_shrink(false)
        .show(ui, |ui| {
            let grid = Grid::new("side by side, table")
                .striped(true)
                .min_col_width(96.0)
                .max_col_width(170.0)
                .spacing([14.0, 6.0]);
            grid.show(ui, |ui| {
                acts.extend(heads(ui, bench, &comparison.names));
                figures(ui, bench, &comparison);
            });
            ui.separator();
            let soft = Inks::of(ui).soft;
            for told in comparison.notes().iter().map(String::as_str).chain([CAUTION]) {
                ui.add(egui::Label::new(RichText::new(told).size(12.0).color(soft)).wrap());
            }
        });
    acts
}

/// What brings another setup beside the open one.
fn bring_buttons(ui: &mut Ui, bench: &Bench) -> Vec<Act> {
    let (beside, mut acts) = (bench.beside(), Vec::new());
    let full = format!("{MOST_BESIDE} are beside it: take one away first");
    ui.horizontal_wrapped(|ui| {
        let room = beside.has_room();
        let copy = ui.add_enabled(room, egui::Button::new("Put a copy beside"));
        let tip = "Keep the open setup as it is now beside it, and go on working on it";
        if copy.on_hover_text(tip).on_disabled_hover_text(&full).clicked() {
            acts.push(Act::Do(Command::PutBeside));
        }
        let file = ui.add_enabled(room, egui::Button::new(Action::OpenBeside.text()));
        if file
            .on_hover_text(Action::OpenBeside.tip())
            .on_disabled_hover_text(&full)
            .clicked()
        {
            acts.push(Act::Choose(Action::OpenBeside));
        }
        ui.add_enabled_ui(room, |ui| {
            ui.menu_button("Put a demo beside", |ui| {
                for (which, demo) in demo::ALL.iter().enumerate() {
                    if ui.button(demo.title).clicked() {
                        acts.push(Act::Do(Command::PutDemoBeside(which)));
                        ui.close();
                    }
                }
            });
        });
        if let Some(taken) = beside.taken_away() {
            let text = format!("Put back {}", taken.setup().name);
            let back = ui.add_enabled(room, egui::Button::new(text));
            if back.on_disabled_hover_text(&full).clicked() {
                acts.push(Act::Do(Command::PutBack));
            }
        }
    });
    acts
}

/// The setups' names with their lines, and what can be done with each.
fn heads(ui: &mut Ui, bench: &Bench, names: &[String]) -> Vec<Act> {
    let mut acts = Vec::new();
    ui.label("");
    for (place, name) in names.iter().enumerate() {
        ui.vertical(|ui| {
            sample(ui, name, drawn(ui, place));
            ui.add(egui::Label::new(strong(name, 13.0)).wrap());
            match place.checked_sub(1) {
                None => drop(ui.label(RichText::new("open on the bench").color(Inks::of(ui).soft))),
                Some(which) => acts.extend(head_buttons(ui, bench, which, name)),
            }
        });
    }
    ui.end_row();
    acts
}

fn head_buttons(ui: &mut Ui, bench: &Bench, which: usize, name: &str) -> Vec<Act> {
    let mut acts = Vec::new();
    let mut button = |ui: &mut Ui, text: &str, tip: &str, command: Command| {
        let button = ui.button(text).on_hover_text(tip);
        button.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, format!("{text}: {name}")));
        if button.clicked() {
            acts.push(Act::Do(command));
        }
    };
    let swap = "Work on this one; the open setup takes its place here, with all its steps";
    button(ui, "Onto the bench", swap, Command::SwapWith(which));
    let away = "Take it out of the table; it can be put back";
    button(ui, "Take away", away, Command::TakeAway(which));
    let is_unsaved = bench
        .beside()
        .documents()
        .get(which)
        .is_some_and(shop::Document::is_unsaved);
    if is_unsaved {
        let told = ui.label(RichText::new("in no file yet").size(12.0).color(Inks::of(ui).soft));
        told.on_hover_text("To save it, put it onto the bench and save it there");
    }
    acts
}

/// A piece of the line that the strips draw for a setup.
fn sample(ui: &mut Ui, name: &str, drawn: Drawn) {
    let (area, response) = ui.allocate_exact_size(Vec2::new(90.0, 12.0), Sense::hover());
    let line = [pos2(area.left(), area.center().y), pos2(area.right(), area.center().y)];
    let painter = ui.painter_at(area);
    let stroke = Stroke::new(drawn.width, drawn.colour);
    // As the plots draw them.
    match drawn.style {
        LineStyle::Solid => drop(painter.line_segment(line, stroke)),
        LineStyle::Dashed { length } => {
            let gap = length * (std::f32::consts::GOLDEN_RATIO - 1.0);
            painter.extend(Shape::dashed_line(&line, stroke, length, gap));
        }
        LineStyle::Dotted { spacing } => {
            painter.extend(Shape::dotted_line(&line, drawn.colour, spacing, drawn.width));
        }
    }
    let said = format!("{name} is drawn as {}", drawn.words);
    response.widget_info(|| WidgetInfo::labeled(WidgetType::Image, true, &said));
    response.on_hover_text(drawn.words);
}

fn figures(ui: &mut Ui, bench: &Bench, comparison: &Comparison) {
    for line in comparison.cells(bench.units()) {
        ui.label(line.label);
        for ((words, is_best), name) in line.cells.into_iter().zip(&comparison.names) {
            let text = if is_best {
                strong(format!("{words}, best"), 13.0)
            } else {
                RichText::new(words)
            };
            let said = format!("{}, {name}: {}", line.label, text.text());
            let cell = ui.add(egui::Label::new(text).wrap());
            cell.widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, &said));
        }
        ui.end_row();
    }
}
